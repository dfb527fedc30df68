// Which rules say to call now, asked after each kept answer. The core has the rules; before it is there, the
// answers that are red flags by themselves count.

import * as core from '../core/core';
import type { Alarming, Book, Call, Exam, Horse, ID, RedFlag } from '../core/types';
import { withAlarms } from '../store/calls';
import { withPack } from '../store/pack';
import { refreshCallStrip } from '../ui/screen';
import { flagApplies, lifeStageAt } from './lifestage';

/** The red flags among the answers of an exam. Of an animal of unknown age none that is of foals alone: the core knows better. */
export const redFlagsOf = (book: Book, horse: Horse, exam: Exam): RedFlag[] => book.redFlags.filter(f =>
  flagApplies(f, horse, exam.at) && (!f.stages?.length || lifeStageAt(horse, exam.at) !== undefined)
  && (exam.findings ?? []).some(x => x.sign === f.sign && x.chosen?.includes(f.grade)));

/** What the rules say of an exam by itself, whatever else is known. */
export const alarmsOf = async (horse: Horse, exam: Exam): Promise<Alarming> => core.call<Alarming>('alarms', { horse, exam, ...await withPack() });

/** By exam, what comes before the call, as the core said it last. */
const acts = new Map<ID, string[]>();

/** What is to be done before the call, by the answers of the exam. */
export const actionsBeforeCall = (book: Book, horse: Horse | undefined, exam: Exam, flags: RedFlag[] = horse ? redFlagsOf(book, horse, exam) : []): string[] =>
  [...new Set([...flags.flatMap(f => f.first ?? []), ...(acts.get(exam.id) ?? [])])];

/** An exam that is being entered. */
interface OpenExam { book: Book; horse: Horse; exam: Exam; edit(change: (exam: Exam) => Exam): Promise<boolean> }

/** By exam, the newest draft that is still to be asked of. */
const waiting = new Map<ID, OpenExam>();

/** Asks what the rules say of the exam as it is now, and remembers that they said to call. */
export async function checkAlarms(draft: OpenExam): Promise<void> {
  const { id } = draft.exam;
  if (!draft.exam.call && redFlagsOf(draft.book, draft.horse, draft.exam).length > 0) await rememberCall(draft, []);
  const asking = waiting.has(id);
  waiting.set(id, draft);
  if (asking) return;
  try {
    for (let more = true; more;) {
      const d = waiting.get(id)!;
      const { findings } = d.exam;
      const got = await alarmsOf(d.horse, d.exam);
      acts.set(id, got.first.map(f => f.id));
      if (got.level === 'now') await rememberCall(d, got.fired.filter(f => f.urgency === 'now').map(f => f.alarm));
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

/** By exam, that it was said, as soon as it was: a draft that was read before does not know yet. */
const calls = new Map<ID, Call>();
export const callOf = (exam: Exam): Call | undefined => exam.call ?? calls.get(exam.id);

/** Remembers that rules said to call now. */
export async function rememberCall(draft: OpenExam, alarms: string[]): Promise<void> {
  const has = draft.exam.call?.alarms ?? [];
  if (draft.exam.call && alarms.every(a => has.includes(a))) return;
  calls.set(draft.exam.id, withAlarms(callOf(draft.exam), alarms));
  refreshCallStrip();
  await draft.edit(exam => ({ ...exam, call: withAlarms(exam.call, alarms) }));
}
