// What to say to the vet, in the order in which it is told; what will be asked first; and what to do while waiting. It
// stands from static messages before the core is there, and without a horse; with the core it is the core's report.

import * as core from '../../core/core';
import type { Book, Exam, Finding, Horse, ID, RedFlag, Reported } from '../../core/types';
import { list, say } from '../../core/words';
import { dateTimeShort, rfc3339 } from '../../text/dates';
import { firedText } from '../../exam/alarmtext';
import { findingText, gradeName, heading, horseText, signName } from '../../text/names';
import { callNote, editCall, examOf, isOpen, markTold, recordOnly, tellVet, unmarkTold } from '../../store/calls';
import { allNumbers, callbackOf, numbersOf, phoneText, vetLanguage, withPack } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, fill, h, link, para } from '../../ui/dom';
import { phoneLinks } from '../../ui/phonelinks';
import { go, goInstead, route } from '../../ui/route';
import { announce, show } from '../../ui/screen';
import { actionsBeforeCall, alarmsOf, checkAlarms, reasonsOf, redFlagsOf } from '../../exam/alarms';
import { callText } from '../../exam/callbox';
import { callStrip, worryStrip } from '../../exam/callstrip';
import { Draft } from '../../exam/draft';
import { adviceWhileWaiting, unique } from '../../exam/waiting';
import { answersBox } from './answered';
import { reportSections } from './report';
import { cameWith, recordOf } from './result';
import { storedTicks, tickedFlags, tickedNow } from './wrong';

/** What a vet's office asks first, whatever it is, beside what was told already; and then by problem, in its order. */
const general = ['stands', 'vitals', 'others', 'vaccinated', 'trailer', 'surgery'];
const byProblem: Record<string, string[]> = {
  belly: ['pain', 'rolls', 'manure', 'eats', 'gut', 'changed', 'due', 'belly-before'],
  feet: ['which-feet', 'walks', 'feet-hot', 'last-week', 'nail', 'shod', 'fat'],
  swallow: ['eaten', 'nostrils', 'breath-fast', 'still-eats', 'choked-before', 'teeth', 'sedated', 'temperature'],
  eye: ['which-eye', 'eye-open', 'eye-cloudy', 'tears', 'eye-hurt', 'ointment', 'sees'],
  wound: ['wound-where', 'wound-deep', 'bleeding', 'weight', 'fluid', 'vaccines', 'still-in'],
  nerves: ['walks-falls', 'which-legs', 'tilt', 'fever-before', 'travel', 'bites', 'urine-tail', 'plants'],
  foal: ['born', 'birth', 'hours', 'udder', 'afterbirth', 'navel'],
  heat: ['work', 'temperature-ten', 'rates', 'sweats', 'sense', 'urine', 'cooled'],
  foaling: ['waters', 'shows', 'pushes', 'first-foal', 'stitched'],
};
Object.assign(byProblem, { limb: byProblem.feet, bleeding: byProblem.wound, mare: byProblem.foaling });

const blank = (key: string): HTMLElement => h('p', { class: 'blank', 'data-say': say('page.say.aloud') }, say(key));
const part = (heading: string, ...kids: Child[]): HTMLElement => h('section', {}, h('h2', {}, say(heading)), kids);

/** What is told, from what was entered: what was not is a question. */
async function script(book: Book, exam: Exam, horse: Horse | undefined, flags: RedFlag[], rules: string[]): Promise<Child[]> {
  const prefs = await store.prefs();
  const { by, story } = { by: exam.by ?? prefs.by, story: exam.story ?? {} };
  const phone = story.callback ?? callbackOf(exam, horse, prefs);
  const stands = story.stands ?? horse?.stands;
  const ticked = (f: Finding): boolean => flags.some(x => x.sign === f.sign && f.chosen?.includes(x.grade));
  const numbers = (exam.findings ?? []).filter(f => !f.absent && !f.chosen);
  const draft = horse && new Draft(book, horse, exam);
  const besides = (exam.findings ?? []).filter(f => f.chosen && !ticked(f) && f.chosen.some(g => (book.signs.find(s => s.id === f.sign)?.grades?.find(x => x.id === g)?.rank ?? 0) > 0));
  const measured = await Promise.all(numbers.map(async f => `${signName(f.sign)}: ${await findingText(book.signs.find(s => s.id === f.sign)!, f, draft)}.`));
  const given = (story.given ?? []).map(g => [g.what, g.dose, g.at && dateTimeShort(g.at)].filter(Boolean).join(', '));
  if (exam.state.with) given.push(exam.state.with);
  return [
    part('page.say.who',
      by ? para(say('page.say.by', { by })) : blank('page.say.by.ask'),
      phone ? para(say('page.say.phone', { phone: phoneText(phone) })) : blank('page.say.phone.ask'),
      horse ? para(say('page.say.horse', { name: horse.name, about: horseText(horse) })) : blank('page.say.horse.ask'),
      stands ? para(say('page.say.stands', { stands })) : blank('page.say.stands.ask')),
    part('page.say.what', exam.call?.toldAt && callNote(exam.id).again === 'worse' && h('p', {}, h('strong', {}, say('page.say.worse', { at: dateTimeShort(exam.call.toldAt) }))),
      flags.length > 0 && h('p', {}, h('strong', {}, flags.map(f => say('flag.' + f.id)).join('. ') + '.')),
      rules.map(r => h('p', {}, h('strong', {}, r))),
      besides.length > 0 && para(besides.map(f => `${signName(f.sign)}: ${list(f.chosen!.map(g => gradeName(f.sign, g)))}`).join('. ') + '.'),
      measured.map(t => para(t)),
      story.noticed && para(story.noticed),
      story.since ? para(say('page.say.since', { since: dateTimeShort(story.since) })) : !saysWhen(story.noticed) && blank('page.say.since.ask')),
    part('page.say.given', given.length ? given.map(g => para(g + '.')) : blank('page.say.given.ask')),
  ];
}

/** The words themselves say since when. */
const saysWhen = (text = ''): boolean => say('report.since.words').split('|').some(w => ` ${text.toLocaleLowerCase().replace(/[^\p{L}\d]+/gu, ' ')} `.includes(` ${w} `));

/** What the core answers, if it is there by now: nobody waits for it who has to call. */
const soon = <T>(asked: Promise<T>): Promise<T | undefined> =>
  Promise.race([asked.catch(() => undefined), new Promise<undefined>(r => setTimeout(() => r(undefined), 400))]);

const report = async (draft: Draft): Promise<Reported> =>
  core.call<Reported>('report', { ...await recordOf(draft), ...await cameWith(draft.exam), ...await withPack(), lang: await vetLanguage() });

export async function callScriptScreen(book: Book, id: ID): Promise<void> {
  // As it is kept; while that takes long, as it was ticked.
  const now = tickedNow(id);
  const got = await soon(storedTicks(id)) ?? now ?? await examOf(id);
  if (!got) return goInstead();
  const { horse } = got;
  let { exam } = got;
  const ticked = got.flags ?? await tickedFlags(id);
  const draft = horse && new Draft(book, horse, recordOnly(exam));
  const flags = book.redFlags.filter(f => ticked.includes(f.id) || horse && redFlagsOf(book, horse, exam).includes(f));
  // A rule on a number is no flag: of those the core knows.
  const heard = horse && await soon(alarmsOf(horse, recordOnly(exam)));
  const fired = heard?.fired.map((f, i) => ({ ...f, said: heard.said[i] || (f.seen ? firedText(f) : '') })).filter(f => f.urgency !== 'again') ?? [];
  const problems = unique([flags.map(f => f.problem), fired.map(f => f.problem ?? 'other')]);
  const rules = fired.filter(f => f.urgency === 'now' && f.said && !flags.some(x => x.sign === f.sign)).map(f => f.said);
  const whom = horse ?? allNumbers(await store.horses());
  const body = h('div', { class: 'report' }, await script(book, exam, horse, flags, rules));
  const strip = h('div');
  const drawn = (): void => fill(strip, (isOpen(exam) && callStrip(book, exam, horse, flags, whom)) || worryStrip(whom, heard?.level === 'soon' || exam.call?.today ? say('page.ring.soon') : undefined));
  const whole = draft && exam.status === 'finished' ? await soon(report(draft)) : undefined;
  if (whole) fill(body, reportSections(whole));
  const more = h('p', { class: 'screened' }, draft && !whole && link(say('page.say.report'), async () => {
    try {
      fill(body, reportSections(await report(draft)));
      fill(more);
      body.scrollIntoView();
    } catch {
      fill(more, say('page.nocore.how'));
    }
  }, { id: 'whole' }));
  const acts = h('p', { class: 'acts' });
  const told_ = (): void => {
    const vet = numbersOf(whom)[0]?.name;
    fill(acts, exam.call && (exam.call.toldAt && !reasonsOf(book, exam, flags).fresh
      ? [callText(exam), ' ', link(say('page.call.undo'), () => void change(unmarkTold, editCall(exam, unmarkTold), 'page.call.undone'), { id: 'untold' })]
      : h('button', { type: 'button', id: 'told', click: () => void change(markTold(vet), tellVet(exam, flags.map(f => f.id), vet), 'page.call.told.done') }, say('page.call.told'))));
  };
  const change = async (c: Parameters<typeof editCall>[1], changed: Promise<boolean>, done: string): Promise<void> => {
    if (!(await changed)) return;
    exam = { ...exam, call: c(exam.call!) };
    if (now) now.exam = exam;
    told_();
    drawn();
    announce(say(done));
  };
  // Who does not get through needs the next number, not the script.
  const unanswered = h('details', { class: 'more screened', id: 'unanswered', open: route()[2] === 'unanswered' }, h('summary', {}, say('page.unanswered')),
    para(say('page.unanswered.on')), phoneLinks(whom), numbersOf(whom).length < 2 && h('p', {}, link(say(numbersOf(whom).length ? 'page.number.another' : 'page.number.enter'), () => (horse ? go('horse', horse.id, 'edit') : go('number')))),
    para(say('page.unanswered.next')), para(say('page.unanswered.until')));
  const answers = h('div', { class: 'screened' });
  if (horse) void answersBox(exam, horse, () => void callScriptScreen(book, id)).then(box => fill(answers, box));
  const questions = unique([general, ...problems.map(p => byProblem[p] ?? [])]);
  show({
    title: say('page.say'),
    head: heading(horse ?? { name: say('page.wrong.unnamed') }, dateTimeShort(exam.at || rfc3339(new Date()))),
    out: { label: say('page.barn'), go: () => go() },
    kind: 'told call say',
    calling: [strip],
    body: [
      actionsBeforeCall(book, horse, exam, flags).map(a => h('p', { class: 'caution' }, h('strong', {}, say('act.' + a)))),
      unanswered,
      body,
      answers,
      h('p', {}, h('strong', {}, say('page.say.ask'))),
      h('div', { class: 'screened' }, acts),
      problems.length > 0 && part('page.say.wait', h('ul', { class: 'waits' }, adviceWhileWaiting(book, problems, horse, exam.at, actionsBeforeCall(book, horse, exam, flags)).map(w => h('li', {}, say('wait.' + w))))),
      part('page.say.asked', h('ol', { class: 'asked-first' }, questions.map(q => h('li', {}, say('page.q.' + q))))),
      more,
    ],
    bar: [
      { label: say('page.back'), go: () => history.back() },
      horse && exam.status === 'finished'
        ? { label: say('page.call.tell'), go: () => go('exam', id, 'call') }
        : { label: say('page.wrong.further'), go: () => (horse ? go('exam', id, 'start') : go('unnamed', id)) },
    ],
  });
  told_();
  drawn();
  if (draft && exam.status === 'draft') void checkAlarms(draft).then(() => { exam = { ...exam, call: draft.exam.call ?? exam.call }; told_(); drawn(); });
}
