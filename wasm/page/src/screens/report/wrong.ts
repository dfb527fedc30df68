// "Something is wrong": one screen of red flags to tick. One tick is enough to call; the exam that it begins
// goes on behind it. It needs no core, no number and no horse.

import type { Book, Exam, Finding, Horse, ID, RedFlag } from '../../core/types';
import { say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { dropUnnamed, isOpen, putUnnamed, type UnnamedExam, unnamedExams, withAlarms } from '../../store/calls';
import { isDemo } from '../../store/demo';
import type { Whom } from '../../store/pack';
import * as store from '../../store/store';
import { fill, h, link, para } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { octagon } from '../../ui/icons';
import { go } from '../../ui/route';
import { type BarItem, show } from '../../ui/screen';
import { actionsBeforeCall } from '../../exam/alarms';
import { callStrip, worryStrip } from '../../exam/callstrip';
import { cautionsOf } from '../../exam/cautions';
import { flagApplies } from '../../exam/lifestage';
import { depthFor } from '../../exam/partial';

/** The way in, left in the bar of every screen from which one looks at horses. */
export const wrongButton = (horse?: ID): BarItem =>
  ({ label: say('page.wrong'), go: () => go('wrong', ...(horse ? [horse] : [])), look: 'wrong', mark: octagon(), id: 'wrong' });

/** For how long what was ticked is found again on coming back, rather than begun anew. */
const SAME = 12 * 3_600_000;

/** What is being ticked: in memory, so that the words to say wait for no store. */
let now: (UnnamedExam & { horse?: Horse }) | undefined;
let writing: Promise<unknown> = Promise.resolve();

/** What is being ticked of this exam, if it is. */
export const tickedNow = (id: ID): (UnnamedExam & { horse?: Horse }) | undefined => (now?.exam.id === id ? now : undefined);

/** The flags that were ticked of an exam. */
export const tickedFlags = async (id: ID): Promise<string[]> => (await store.note<string[]>('flags:' + id)) ?? [];

/** The horse that was opened last. */
export const rememberHorse = (id: ID): void => void store.putNote('last', id);

const isFresh = (e: Exam): boolean => isOpen(e) && Date.now() - Date.parse(e.call!.saidAt) < SAME;

async function begun(horse: Horse | undefined): Promise<UnnamedExam & { horse?: Horse }> {
  if (horse) {
    const exam = (await store.examsOf(horse.id)).reverse().find(e => e.status === 'draft' && e.purpose === 'concern' && isFresh(e));
    if (exam) return { exam, flags: await tickedFlags(exam.id), horse };
  } else {
    const w = (await unnamedExams()).find(x => isFresh(x.exam));
    if (w) return w;
  }
  const { by } = await store.prefs();
  const exam: Exam = {
    id: crypto.randomUUID(), horse: horse?.id ?? '', at: rfc3339(new Date()), depth: 'walk-up', purpose: 'concern', state: { condition: 'rest' },
    status: 'draft', ...(by ? { by } : {}), findings: [],
  };
  return { exam, flags: [], horse };
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
function keep(w: UnnamedExam & { horse?: Horse }): void {
  const { exam, flags } = w;
  const id = exam.id;
  writing = writing.then(async () => {
    if (!exam.call && !exam.findings?.length) {
      // A slip of the finger, taken back before anybody was called: nothing happened.
      await store.dropExam(id);
      return dropUnnamed(id);
    }
    if (!w.horse) return (await putUnnamed({ exam, flags })) && (await store.exam(id)) && store.dropExam(id);
    // What was seen goes first: it says by itself that somebody is to be called.
    const kept = await store.editExam(exam, x => ({ ...x, horse: exam.horse, depth: exam.depth, state: exam.state, findings: exam.findings, call: exam.call }));
    await store.putNote('flags:' + id, flags);
    return kept && dropUnnamed(id);
  });
}

export async function wrongScreen(book: Book, id?: ID): Promise<void> {
  await writing;
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  // Without a horse in the address it is the one opened last, unless something was ticked of one that nobody has named yet.
  const unnamed = !id && (await unnamedExams()).some(x => isFresh(x.exam));
  const last = id ?? (unnamed ? undefined : await store.note<ID>('last'));
  const w = now = await begun(horses.find(x => x.id === last));
  draw(book, w, horses);
}

function draw(book: Book, w: UnnamedExam & { horse?: Horse }, horses: Horse[]): void {
  const at = w.exam.at;
  const whom = (): Whom => w.horse ?? { contacts: horses.filter(x => !isDemo(x)).flatMap(x => x.contacts ?? []) };
  const offered = (): RedFlag[] => book.redFlags.filter(f => flagApplies(f, w.horse, at));
  const ticked = (): RedFlag[] => book.redFlags.filter(f => w.flags.includes(f.id));
  const safety = h('div');
  const room = h('div');
  const drawn = (): void => {
    const flags = ticked();
    fill(room, flags.length ? callStrip(book, w.exam, w.horse, actionsBeforeCall(book, w.horse, w.exam, flags), whom()) : worryStrip(whom()));
    fill(safety, flags.length > 0 && cautionsOf(book, w.horse, at, flags.map(f => book.signs.find(s => s.id === f.sign)!)));
    const on = document.getElementById('further')!;
    on.textContent = say(flags.length ? 'page.wrong.further' : 'page.wrong.none');
    on.classList.toggle('main', flags.length === 0);
  };
  const tick = (flags: string[]): void => {
    w.flags = flags;
    const none = flags.length === 0 && !w.exam.call?.toldAt;
    const exam = withFlags(book, w.exam, ticked(), w.horse);
    const { call, ...rest } = exam;
    w.exam = none ? rest : { ...rest, call: withAlarms(call, []) };
    keep(w);
    drawn();
  };
  const who = (horse: Horse | undefined): void => {
    w.horse = horse;
    w.exam = { ...w.exam, horse: horse?.id ?? '' };
    // What is not offered of this animal is not ticked of it either.
    w.flags = w.flags.filter(f => offered().some(o => o.id === f));
    if (horse) rememberHorse(horse.id);
    if (w.exam.call || w.exam.findings?.length) tick(w.flags);
    draw(book, w, horses);
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
  const options = [...horses.map(x => ({ value: x.id, label: x.name })), { value: '', label: say('page.wrong.later'), apart: true }];
  show({
    title: say('page.wrong.title'),
    head: say('page.barn'), whereGo: () => go(),
    kind: 'wrong-screen',
    calling: [room],
    body: [
      h('details', { class: 'who' }, h('summary', { id: 'who' }, say('page.wrong.who'), ' ', h('b', {}, w.horse?.name ?? say('page.wrong.later'))),
        choiceField({
          id: 'horse', legend: say('page.wrong.who'), quiet: true, chosen: [w.horse?.id ?? ''], options,
          change: ([x]) => who(horses.find(y => y.id === x)),
        }),
        h('p', {}, link(say('page.horse.add'), () => go('horse', 'new'), { id: 'add' }))),
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
