// "Something is wrong": one screen of red flags to tick. One tick is enough to call; the exam that it begins
// goes on behind it. It needs no core, no number and no horse.

import type { Book, Exam, Finding, Horse, ID, RedFlag } from '../../core/types';
import { say } from '../../core/words';
import { dateTimeShort, rfc3339 } from '../../text/dates';
import { listInText } from '../../text/names';
import { diedAt, dropUnnamed, examOf, isOpen, putUnnamed, reopenCall, type UnnamedExam, unnamedExam, unnamedExams, withAlarms } from '../../store/calls';
import { allNumbers, type Whom } from '../../store/pack';
import * as store from '../../store/store';
import { caution, type Child, fill, h, link, para } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { address, go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { noteFlags, redFlagsOf } from '../../exam/alarms';
import { callStrip, worryStrip } from '../../exam/callstrip';
import { cautionsOf } from '../../exam/cautions';
import { flagApplies, lifeStageAt } from '../../exam/lifestage';
import { depthFor } from '../../exam/partial';

/** For how long what was ticked is found again on coming back, rather than begun anew. */
const SAME = 12 * 3_600_000;

/** What is ticked of an animal, named or not. */
type Ticked = UnnamedExam & { horse?: Horse };

/** What is being ticked: in memory, so that the words to say wait for no store. */
let now: Ticked | undefined;
let writing: Promise<unknown> = Promise.resolve();

/** What is being ticked of this exam, if it is. */
export const tickedNow = (id: ID): Ticked | undefined => (now?.exam.id === id ? now : undefined);

/** What was ticked is kept. */
export const ticksKept = (): Promise<unknown> => writing;

/** An exam as it is kept, with what was ticked last. */
export const storedTicks = (id: ID): ReturnType<typeof examOf> => writing.then(() => examOf(id));

/** The flags that were ticked of an exam. */
export const tickedFlags = async (id: ID): Promise<string[]> => (await store.note<string[]>('flags:' + id)) ?? [];

/** An exam of which nothing was ticked yet. */
async function newTicks(horse: Horse | undefined): Promise<Ticked> {
  const { by } = await store.prefs();
  const exam: Exam = {
    id: crypto.randomUUID(), horse: horse?.id ?? '', at: rfc3339(new Date()), depth: 'walk-up', purpose: 'concern', state: { condition: 'rest' },
    status: 'draft', ...(by ? { by } : {}), findings: [],
  };
  return { exam, flags: [], horse };
}

/** The animal's own exam of the same event, with what is a flag in it by now; or a new one. */
async function ticksOf(book: Book, horse: Horse): Promise<Ticked> {
  const same = (e: Exam): boolean => !e.call?.closedAt && Date.now() - Date.parse(e.call?.saidAt ?? e.at) < SAME;
  const exam = (await store.examsOf(horse.id)).reverse().find(e => e.status === 'draft' && e.purpose === 'concern' && same(e));
  if (!exam) return newTicks(horse);
  const noted = await tickedFlags(exam.id);
  const answered = (f: RedFlag): boolean => !!exam.findings?.some(x => x.sign === f.sign && x.chosen?.includes(f.grade));
  return { exam, horse, flags: [...new Set([...book.redFlags.filter(f => noted.includes(f.id) && answered(f)), ...redFlagsOf(book, horse, exam)])].map(f => f.id) };
}

/** The findings with those of the flags: of a sign with one answer the worst one counts. */
function withFlags(book: Book, exam: Exam, flags: RedFlag[], horse: Horse | undefined): Exam {
  const ranks = (sign: string, grade: string): number => book.signs.find(s => s.id === sign)?.grades?.find(g => g.id === grade)?.rank ?? 0;
  let findings: Finding[] = exam.findings ?? [];
  for (const sign of new Set(book.redFlags.map(f => f.sign))) {
    const mine = book.redFlags.filter(f => f.sign === sign).map(f => f.grade);
    const had = findings.find(f => f.sign === sign);
    const kept = (had?.chosen ?? []).filter(g => !mine.includes(g));
    const ticked = flags.filter(f => f.sign === sign).map(f => f.grade).sort((a, b) => ranks(sign, b) - ranks(sign, a));
    const one = book.signs.find(s => s.id === sign)?.kind === 'grade';
    // An answer beside which no other stands ("none of these") gives way to a flag.
    const rest = ticked.length ? kept.filter(g => ranks(sign, g) > 0) : kept;
    const chosen = one ? [...ticked, ...kept].slice(0, 1) : [...ticked, ...rest];
    if (chosen.join() === (had?.chosen ?? []).join()) continue;
    findings = findings.filter(f => f !== had);
    const minutes = Math.floor((Date.now() - Date.parse(exam.at)) / 60_000);
    if (chosen.length) findings = [...findings, { sign, chosen, ...(minutes > 0 && minutes <= 1440 ? { minutes } : {}) }];
  }
  const order = book.signs.map(s => s.id);
  findings = [...findings].sort((a, b) => order.indexOf(a.sign) - order.indexOf(b.sign));
  // After work is what a flag means; whoever takes it out again has said nothing of work.
  const condition = flags.map(f => f.state).find(Boolean);
  const state = condition ? { ...exam.state, condition } : exam.state.sinceMinutes === undefined && exam.state.condition === 'after-work' ? { condition: 'rest' } : exam.state;
  const depth = depthFor(book, flags.map(f => f.sign), exam.depth);
  return { ...exam, horse: horse?.id ?? '', findings, depth, state };
}

/** Keeps what is ticked: with its horse as an exam, else under a key of its own. The new place is written before the old one goes. */
function keep(w: Ticked): void {
  const { exam, flags } = w;
  const id = exam.id;
  writing = writing.then(async () => {
    if (!exam.call && !exam.findings?.length) {
      // A slip of the finger, taken back before anybody was called: nothing happened.
      await store.dropExam(id);
      return dropUnnamed(id);
    }
    if (!w.horse) return (await putUnnamed({ exam, flags })) && (await noteFlags(exam, flags), await store.exam(id)) && store.dropExam(id);
    // What was seen goes first: it says by itself that somebody is to be called.
    const kept = await store.editExam(exam, x => ({ ...x, horse: exam.horse, depth: exam.depth, state: exam.state, findings: exam.findings, call: exam.call }));
    await store.putNote('flags:' + id, flags);
    await noteFlags(exam, flags);
    return kept && dropUnnamed(id);
  });
}

/** Of the horse of the address; of the exam that nobody has named yet; or, from the list, of an animal of which nothing is ticked yet. */
export async function wrongScreen(book: Book, id?: ID, unnamed?: ID): Promise<void> {
  await writing;
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  const horse = horses.find(x => x.id === id);
  const was = unnamed && (await unnamedExam(unnamed) ?? tickedNow(unnamed));
  if (unnamed && !was) {
    // Somebody has said by now whose it is.
    const exam = await store.exam(unnamed);
    return goInstead('wrong', ...(exam ? [exam.horse] : []));
  }
  draw(book, was || (horse ? await ticksOf(book, horse) : await newTicks(undefined)), horses, !id && await others(book, unnamed));
}

/** The open calls of animals that nobody has named: each can be gone on with. */
async function others(book: Book, but?: ID): Promise<Child> {
  return (await unnamedExams()).filter(u => isOpen(u.exam) && u.exam.id !== but).map(u => caution(
    para(say('page.wrong.open', { at: dateTimeShort(u.exam.call!.saidAt), flags: flagNames(book, u.flags) })),
    link(say('page.draft.on'), () => go('unnamed', u.exam.id), { id: 'on-' + u.exam.id })));
}

const flagNames = (book: Book, ids: string[]): string => listInText(book.redFlags.filter(f => ids.includes(f.id)).map(f => say('flag.' + f.id)));

/** Ticks these flags and no other, and keeps it. */
function setFlags(book: Book, w: Ticked, flags: string[], more = flags.some(f => !w.flags.includes(f))): void {
  w.flags = flags;
  const none = flags.length === 0 && !w.exam.call?.toldAt && !w.exam.call?.alarms?.length;
  const { call, ...rest } = withFlags(book, w.exam, book.redFlags.filter(f => flags.includes(f.id)), w.horse);
  // A call that a person has closed is open again with a new tick.
  w.exam = none ? rest : { ...rest, call: withAlarms(more && call?.closedAt ? reopenCall(call) : call, []) };
  keep(w);
}

/** The address says what is ticked, so that Back and a reload come to it again. */
function putAddress(w: Ticked): void {
  const at = w.horse ? address('wrong', w.horse.id) : w.exam.call ? address('unnamed', w.exam.id) : address('wrong');
  if (at === location.hash) return;
  history.replaceState(null, '', at);
  document.querySelector<HTMLElement>('.screen')!.dataset.at = location.hash;
}

/** What may hurt a person at once, by what is ticked: it stands beside the call, where nobody has to scroll for it. */
const dangers: Record<string, string> = {
  thrashing: 'down-thrashing', belly: 'down-thrashing', down: 'down-quiet', staggers: 'unsteady', 'foal-nursing': 'foal-and-mare', 'foal-dull': 'foal-and-mare',
};

function draw(book: Book, w: Ticked, horses: Horse[], above?: Child): void {
  now = w;
  const at = w.exam.at;
  const whom = (): Whom => w.horse ?? allNumbers(horses);
  // What is of this kind of animal alone stands first.
  const own = (f: RedFlag): number => (w.horse && (f.types?.length || f.inFoal || f.stages?.length && lifeStageAt(w.horse, at)) ? 0 : 1);
  const offered = (): RedFlag[] => book.redFlags.filter(f => flagApplies(f, w.horse, at)).sort((a, b) => own(a) - own(b));
  const ticked = (): RedFlag[] => book.redFlags.filter(f => w.flags.includes(f.id));
  const safety = h('div');
  const room = h('div');
  const drawn = (): void => {
    const flags = ticked();
    fill(room, [...new Set(flags.flatMap(f => dangers[f.id] ?? []))].map(d => h('p', { class: 'danger' }, h('strong', {}, say('caution.' + d)))),
      flags.length ? callStrip(book, w.exam, w.horse, flags, whom()) : worryStrip(whom()));
    fill(safety, flags.length > 0 && cautionsOf(book, w.horse, at, flags.map(f => book.signs.find(s => s.id === f.sign)!)));
    const on = document.getElementById('further')!;
    on.textContent = say(flags.length ? 'page.wrong.further' : 'page.wrong.none');
    on.classList.toggle('main', flags.length === 0);
  };
  const tick = (flags: string[]): void => {
    setFlags(book, w, flags);
    drawn();
    putAddress(w);
  };
  const who = async (horse: Horse | undefined): Promise<void> => {
    await writing;
    const any = w.flags.length > 0;
    let next = horse ? await ticksOf(book, horse) : await newTicks(undefined);
    if (horse && !w.horse && any) {
      // What nobody had named is this animal's from now on, added to its own of the same event. What is not offered of it is not ticked of it either.
      // A call that is closed stays an exam by itself, and closed.
      const { closedAt } = w.exam.call ?? {};
      const flags = [...(closedAt ? [] : next.flags), ...w.flags];
      if (closedAt || !(await store.exam(next.exam.id))) next = { ...w, horse, exam: { ...w.exam, horse: horse.id } };
      setFlags(book, next, book.redFlags.filter(f => flags.includes(f.id) && flagApplies(f, horse, next.exam.at)).map(f => f.id), !closedAt);
      if (next.exam.id !== w.exam.id) void writing.then(() => dropUnnamed(w.exam.id));
    }
    // What was ticked of an animal stays with it.
    draw(book, next, horses, any && w.horse && caution(para(say('page.wrong.stays', { name: w.horse.name, flags: flagNames(book, w.flags) }))));
    putAddress(next);
    document.getElementById('who')?.focus({ preventScroll: true });
  };
  const further = (): void => {
    if (!w.horse) {
      document.querySelector<HTMLDetailsElement>('.who')!.open = true;
      return showFaults([{ field: 'horse', sentence: say('page.fault.animal') }]);
    }
    if (!w.flags.length) return go('new', w.horse.id, 'concern');
    void writing.then(() => go('exam', w.exam.id, 'start'));
  };
  const options = [...horses.filter(x => !diedAt(x.id) || x.id === w.horse?.id).map(x => ({ value: x.id, label: x.name })), { value: '', label: say('page.wrong.later'), apart: true }];
  show({
    title: say('page.wrong.title'),
    head: say('page.barn'), whereGo: () => go(),
    kind: 'wrong-screen',
    calling: [room],
    body: [
      above,
      h('details', { class: 'who' }, h('summary', { id: 'who' }, say('page.wrong.who'), ' ', h('b', {}, w.horse?.name ?? say('page.wrong.later'))),
        choiceField({
          id: 'horse', legend: say('page.wrong.who'), quiet: true, chosen: [w.horse?.id ?? ''], options,
          change: ([x]) => void who(horses.find(y => y.id === x)),
        }),
        h('p', {}, link(say('page.horse.add'), () => go('horse', 'new', ...(w.flags.length ? [w.exam.id] : [])), { id: 'add' }))),
      para(say('page.wrong.how'), 'how'),
      choiceField({
        id: 'flag', legend: say('page.wrong.title'), quiet: true, many: true, tiles: true, chosen: w.flags,
        options: offered().map(f => ({ value: f.id, label: say('flag.' + f.id) })), change: tick,
      }),
      safety,
    ],
    bar: [{ label: say('page.wrong.none'), go: further, id: 'further' }],
  });
  drawn();
}
