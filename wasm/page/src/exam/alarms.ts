// Which rules say to call now, asked after each kept answer. The core has the rules; before it is there, the
// answers that are red flags by themselves count.

import * as core from '../core/core';
import type { Alarming, Book, Call, Exam, Fired, Horse, ID, RedFlag } from '../core/types';
import { say } from '../core/words';
import { callNote, coverReasons, putCallNote, reopenCall, type Rule, withAlarms } from '../store/calls';
import { withPack } from '../store/pack';
import { examsOf } from '../store/store';
import { listInText } from '../text/names';
import { refreshCallStrip } from '../ui/screen';
import { flagApplies, lifeStageAt } from './lifestage';

/** The red flags among the answers of an exam. Of an animal of unknown age none that is of foals alone: the core knows better. */
export const redFlagsOf = (book: Book, horse: Horse, exam: Exam): RedFlag[] => book.redFlags.filter(f =>
  flagApplies(f, horse, exam.at) && (!f.stages?.length || f.types?.length || lifeStageAt(horse, exam.at) !== undefined)
  && (exam.findings ?? []).some(x => x.sign === f.sign && x.chosen?.includes(f.grade)));

/** What the rules say of an exam by itself; and of a recheck, what the case said before and nobody checked again. */
export const alarmsOf = async (horse: Horse, exam: Exam): Promise<Alarming> => {
  const first = exam.recheckOf;
  const exams = first && (await examsOf(exam.horse)).filter(e => e.id === first || e.recheckOf === first);
  return core.call<Alarming>('alarms', { horse, exam, ...(exams && { exams }), ...await withPack() });
};

/** By exam, what the core said last, and of which answers: what comes before the call; and what to do first and when to look again, where nobody calls yet. */
interface Heard { of: string[]; acts: string[]; order: string }
const heard = new Map<ID, Heard>();

const answersOf = (exam: Exam): string[] => (exam.findings ?? []).map(f => JSON.stringify(f));

/** What the core said, as long as each answer of which it was said still stands: one that is taken back takes the order with it at once. */
function heardOf(exam: Exam): Heard | undefined {
  const was = heard.get(exam.id);
  const now = answersOf(exam);
  return was?.of.every(a => now.includes(a)) ? was : undefined;
}
export const orderOf = (exam: Exam): string => heardOf(exam)?.order ?? '';

/** What is done first, and then: one order. */
export function orderText(got: Alarming): string {
  if (got.level === 'now' || got.first.length === 0) return '';
  const again = got.fired.filter(f => f.urgency === 'again' && f.minutes).sort((a, b) => (a.then === b.then ? a.minutes! - b.minutes! : a.then === 'now' ? -1 : 1))[0];
  return [...got.first.map(f => f.said), got.level === 'soon' ? say('page.ring.soon') : again && say('page.level.again.to.' + (again.then ?? 'soon'), { n: again.minutes! })].filter(Boolean).join(' ');
}

/** What is to be done before the call, by the answers of the exam. */
export const actionsBeforeCall = (book: Book, horse: Horse | undefined, exam: Exam, flags: RedFlag[] = horse ? redFlagsOf(book, horse, exam) : []): string[] =>
  [...new Set([...flags.flatMap(f => f.first ?? []), ...(heardOf(exam)?.acts ?? [])])];

/** An exam that is being entered. */
interface OpenExam { book: Book; horse: Horse; exam: Exam; edit(change: (exam: Exam) => Exam): Promise<boolean> }

/** By exam, the newest draft that is still to be asked of. */
const waiting = new Map<ID, OpenExam>();

/** Asks what the rules say of the exam as it is now, and remembers that they said to call. */
export async function checkAlarms(draft: OpenExam): Promise<void> {
  const { id } = draft.exam;
  const flags = redFlagsOf(draft.book, draft.horse, draft.exam);
  if (!draft.exam.call && flags.length > 0) await rememberCall(draft, []);
  await noteFlags(draft.exam, flags.map(f => f.id));
  await reopenForNew(draft);
  const asking = waiting.has(id);
  waiting.set(id, draft);
  if (asking) return;
  try {
    for (let more = true; more;) {
      const d = waiting.get(id)!;
      const { findings } = d.exam;
      const of = answersOf(d.exam);
      const got = await alarmsOf(d.horse, d.exam);
      heard.set(id, { of, acts: got.first.map(f => f.id), order: orderText(got) });
      const now = urgent(got.fired);
      if (got.level === 'now') await rememberCall(d, now.map(f => f.alarm));
      if (callOf(d.exam)) await noteRules(d, now.map(({ alarm, sign }) => ({ alarm, sign })));
      // What was answered meanwhile is asked about too.
      more = waiting.get(id) !== d || d.exam.findings !== findings;
    }
  } catch {
    // Without the core the flags stand alone; the next answer asks again.
  } finally {
    waiting.delete(id);
    refreshCallStrip();
  }
}

const urgent = (fired: Fired[]): Fired[] => fired.filter(f => f.urgency === 'now');

/** Remembers which flags are a reason to call. What the vet was told on another device, or by an older page, is what is there when it is first seen. */
export async function noteFlags(exam: Exam, flags: string[]): Promise<void> {
  const { seen = [], told } = callNote(exam.id);
  const call = callOf(exam);
  if (!call) return;
  if ((call.toldAt || call.closedAt) && !told) await coverReasons(exam, flags);
  if (flags.some(f => !seen.includes(f))) await putCallNote(exam.id, { seen: [...new Set([...seen, ...flags])] });
}

async function noteRules(d: OpenExam, rules: Rule[]): Promise<void> {
  const { told, rules: before } = callNote(d.exam.id);
  if (told?.findings) {
    const was = urgent((await alarmsOf(d.horse, { ...d.exam, findings: told.findings })).fired);
    await putCallNote(d.exam.id, { told: { flags: told.flags, alarms: [...new Set([...told.alarms, ...was.map(f => f.alarm)])] } });
  }
  if (JSON.stringify(rules) !== JSON.stringify(before)) await putCallNote(d.exam.id, { rules });
  await reopenForNew(d);
}

/** A call that a person has closed is open again with a new reason. */
async function reopenForNew(d: OpenExam): Promise<void> {
  if (d.exam.call?.closedAt && reasonsOf(d.book, d.exam, redFlagsOf(d.book, d.horse, d.exam)).fresh) {
    calls.delete(d.exam.id);
    await d.edit(exam => ({ ...exam, call: exam.call && reopenCall(exam.call) }));
  }
}

/** Why to call: the flags and the rules that stand now; whether some are new since the vet was told, and which; whether none is left, and which there were. */
export interface Reasons { text: () => string; fresh: boolean; freshText: () => string; gone: boolean; goneText: () => string }

export function reasonsOf(book: Book, exam: Exam, flags: RedFlag[]): Reasons {
  const call = callOf(exam);
  const { seen = [], rules, told, again } = callNote(exam.id);
  const known = call?.toldAt || call?.closedAt ? told : undefined;
  const freshFlags = known ? flags.filter(f => !known.flags.includes(f.id)) : [];
  const freshRules = known && !known.findings ? (rules ?? []).filter(r => !known.alarms.includes(r.alarm)) : [];
  const earlier = book.redFlags.filter(f => seen.includes(f.id));
  const ruled = rules ?? (call?.alarms ?? []).map(alarm => ({ alarm, sign: '' }));
  return {
    text: () => reasonText(flags, flags.length && !rules ? [] : ruled),
    fresh: freshFlags.length + freshRules.length > 0 || !!again && !!call?.toldAt,
    freshText: () => [reasonText(freshFlags, freshRules), again && say(again === 'worse' ? 'page.outcome.worse' : 'page.outcome.unreached')].filter(Boolean).join(' '),
    gone: flags.length === 0 && ruled.length === 0, goneText: () => reasonText(earlier, earlier.length ? [] : (call?.alarms ?? []).map(alarm => ({ alarm, sign: '' }))),
  };
}

const reasonText = (flags: RedFlag[], rules: Rule[]): string => [
  flags.length > 0 && listInText(flags.map(f => say('flag.' + f.id))) + '.',
  // A rule on the sign of a flag says the same again.
  ...rules.filter(r => !flags.some(f => f.sign === r.sign)).slice(0, 3).map(r => alarmWords?.(r.alarm)),
].filter(Boolean).join(' ');

let alarmWords: ((id: string) => string) | undefined;
const forWords: (() => void)[] = [];

/** The words of the rules, which come with the later screens. */
export function setAlarmWords(words: (id: string) => string): void {
  alarmWords = words;
  for (const f of forWords.splice(0)) f();
}

/** Says something now, and again once the words of the rules are here. */
export function withAlarmWords(f: () => void): void {
  f();
  if (!alarmWords) forWords.push(f);
}

/** By exam, that it was said, as soon as it was: a draft that was read before does not know yet. */
const calls = new Map<ID, Call>();
export const callOf = (exam: Exam): Call | undefined => exam.call ?? calls.get(exam.id);

/** Remembers that rules said to call now. */
export async function rememberCall(draft: OpenExam, alarms: string[]): Promise<void> {
  const has = draft.exam.call?.alarms ?? [];
  if (draft.exam.call && alarms.every(a => has.includes(a))) return;
  calls.set(draft.exam.id, withAlarms(callOf(draft.exam), alarms));
  refreshCallStrip();
  // Of a horse for which one calls nobody has said yet that it was well: a quiet day only has the name.
  await draft.edit(({ wellness, ...exam }) => ({
    ...exam, ...(wellness && (exam.call || exam.status === 'finished' || wellness !== 'well') ? { wellness } : {}), call: withAlarms(exam.call, alarms),
  }));
}
