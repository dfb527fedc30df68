// A round: the same short exam of every horse, in the order of their places. What is done, and by whom, is read from the
// exams of the day: nothing else is kept, so that two telephones that exchange their exams agree.

import type { Book, Exam, Horse, ID } from '../../core/types';
import { say } from '../../core/words';
import { clock, isToday, rfc3339 } from '../../text/dates';
import { diedAt, isAtTop, reloadCallNotes } from '../../store/calls';
import * as store from '../../store/store';
import { h, para } from '../../ui/dom';
import { choiceField, field } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { callBoxes } from '../../exam/callbox';
import { wrongButton } from '../../exam/callstrip';
import { Draft } from '../../exam/draft';
import { setRoundExam } from '../../exam/level';
import { goToPage } from '../../exam/pages';
import { beginPartial, depthFor } from '../../exam/partial';

/** What a round asks of each horse, by name; none are the signs seen from outside. */
const kinds: Record<string, string[]> = {
  look: [], temperature: ['rectal-temperature'], numbers: ['rectal-temperature', 'heart-rate', 'respiratory-rate'],
};

/** The horses in the order of their places, those without one last. */
const inOrder = (horses: Horse[]): Horse[] => horses.sort((a, b) =>
  Number(!a.stands) - Number(!b.stands) || (a.stands ?? '').localeCompare(b.stands ?? '', undefined, { numeric: true }) || a.name.localeCompare(b.name));

/** The latest finished exam of today that has what the round asks for. */
function doneToday(exams: Exam[], horse: ID, kind: string): Exam | undefined {
  const has = (e: Exam): boolean => kinds[kind]!.every(s => e.findings?.some(f => f.sign === s && !f.absent));
  const walked = (e: Exam): boolean => kind !== 'look' || !!e.findings?.some(f => f.sign === 'attitude' && !f.absent);
  return exams.filter(e => e.horse === horse && e.status === 'finished' && isToday(e.at) && has(e) && walked(e)).sort((a, b) => Date.parse(b.at) - Date.parse(a.at))[0];
}

async function begin(book: Book, horse: Horse, kind: string): Promise<void> {
  const prefs = await store.prefs();
  const signs = kinds[kind]!;
  const exam: Exam = {
    id: crypto.randomUUID(), horse: horse.id, at: rfc3339(new Date()), depth: depthFor(book, signs, 'walk-up'), purpose: 'learning',
    state: { condition: 'rest' }, wellness: 'well', status: 'draft', findings: [], ...(signs.length ? { holder: 'held' } : {}), ...(prefs.by ? { by: prefs.by } : {}),
  };
  if (signs.length) return beginPartial(exam, signs, ['round']);
  if (!(await store.putExam(exam))) return;
  setRoundExam(exam.id);
  goToPage(new Draft(book, horse, exam), 0);
}

/** The round; with next the next horse begins at once. */
export async function roundScreen(book: Book, next: boolean): Promise<void> {
  const [horses, exams, prefs] = await Promise.all([store.horses(), store.exams(), store.prefs(), reloadCallNotes()]);
  const kind = prefs.round && kinds[prefs.round] ? prefs.round : 'look';
  const rows = inOrder(horses.filter(x => !diedAt(x.id))).map(x => ({ horse: x, done: doneToday(exams, x.id, kind), called: exams.some(e => e.horse === x.id && isAtTop(e)) }));
  const open = rows.filter(r => !r.done);
  const first = open[0];
  if (next && first) {
    goInstead('round');
    return begin(book, first.horse, kind);
  }
  const again = (): void => void roundScreen(book, false);
  const by = field({ id: 'by', label: say('page.start.by'), value: prefs.by ?? '', fill: 'name', input: v => void store.putPrefs({ by: v.trim() }) });
  show({
    title: first ? say('page.round.title') : say('page.round.all'),
    head: say('page.barn'), whereGo: () => go(),
    body: [
      (await callBoxes(book, exams, new Map(horses.map(x => [x.id, x])), again)).open,
      choiceField({
        id: 'round-kind', legend: say('page.round.kind'), chosen: [kind], close: true,
        options: Object.keys(kinds).map(k => ({ value: k, label: say('page.round.' + k) })),
        change: ([k]) => { void store.putPrefs({ round: k }).then(again); },
      }),
      !prefs.by && by,
      para(say('page.round.how'), 'how'),
      h('ul', { class: 'exams' }, rows.map(({ horse, done, called }) => h('li', {}, h('button', {
        type: 'button', class: 'exam', id: 'round-' + horse.id, click: () => (done ? go('exam', done.id, 'result') : void begin(book, horse, kind)),
      }, h('span', { class: 'name' }, horse.name), horse.stands && h('span', { class: 'note' }, horse.stands),
      h('span', { class: 'note' }, called && h('strong', {}, say('page.call.open'), ' '),
        done ? say(done.by ? 'page.round.done.by' : 'page.round.done', { at: clock(done.at), by: done.by ?? '' }) : h('strong', {}, say('page.round.open'))))))),
      prefs.by && by,
    ],
    bar: [
      wrongButton(),
      first ? { label: say('page.round.next', { name: first.horse.name, n: rows.length - open.length + 1, of: rows.length }), go: () => void begin(book, first.horse, kind), main: true }
        : { label: say('page.level.done'), go: () => go(), main: true },
    ],
  });
}
