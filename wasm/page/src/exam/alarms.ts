// Which rules say to call now, asked after each kept answer. The core has the rules; before it is there, the
// answers that are red flags by themselves count.

import * as core from '../core/core';
import { saidNow } from '../store/calls';
import { refreshCalling } from '../ui/screen';
import { withPack } from '../store/pack';
import { flagFor, stageAt } from './lifestage';
import type { Alarming, Book, Call, Exam, Horse, ID, RedFlag } from '../core/types';

/** The red flags among the answers of an exam. Of an animal of unknown age none that is of foals alone: the core knows better. */
export const flagsIn = (book: Book, horse: Horse, exam: Exam): RedFlag[] => book.redFlags.filter(f =>
  flagFor(f, horse, exam.at) && (!f.stages?.length || stageAt(horse, exam.at) !== undefined)
  && (exam.findings ?? []).some(x => x.sign === f.sign && x.chosen?.includes(f.grade)));

/** What the rules say of an exam by itself, whatever else is known. */
export const alarming = async (horse: Horse, exam: Exam): Promise<Alarming> => core.call<Alarming>('alarms', { horse, exam, ...await withPack() });

/** By exam, what comes before the call, as the core said it last. */
const acts = new Map<ID, string[]>();

/** What is to be done before the call, by the answers of the exam. */
export const actsOf = (book: Book, horse: Horse | undefined, exam: Exam, flags: RedFlag[] = horse ? flagsIn(book, horse, exam) : []): string[] =>
  [...new Set([...flags.flatMap(f => f.first ?? []), ...(acts.get(exam.id) ?? [])])];

/** An exam that is being entered. */
interface Entered { book: Book; horse: Horse; exam: Exam; edit(change: (exam: Exam) => Exam): Promise<boolean> }

/** By exam, the newest draft that is still to be asked of. */
const waiting = new Map<ID, Entered>();

/** Asks what the rules say of the exam as it is now, and remembers that they said to call. */
export async function listen(draft: Entered): Promise<void> {
  const { id } = draft.exam;
  if (!draft.exam.call && flagsIn(draft.book, draft.horse, draft.exam).length > 0) await remember(draft, []);
  const asking = waiting.has(id);
  waiting.set(id, draft);
  if (asking) return;
  try {
    for (let more = true; more;) {
      const d = waiting.get(id)!;
      const { findings } = d.exam;
      const got = await alarming(d.horse, d.exam);
      acts.set(id, got.first.map(f => f.id));
      if (got.level === 'now') await remember(d, got.fired.filter(f => f.urgency === 'now').map(f => f.alarm));
      // What was answered meanwhile is asked about too.
      more = waiting.get(id) !== d || d.exam.findings !== findings;
    }
  } catch {
    // Without the core the flags stand alone; the next answer asks again.
  } finally {
    waiting.delete(id);
    refreshCalling();
  }
}

/** By exam, that it was said, as soon as it was: a draft that was read before does not know yet. */
const said = new Map<ID, Call>();
export const callOf = (exam: Exam): Call | undefined => exam.call ?? said.get(exam.id);

/** Remembers that rules said to call now. */
export async function remember(draft: Entered, alarms: string[]): Promise<void> {
  const has = draft.exam.call?.alarms ?? [];
  if (draft.exam.call && alarms.every(a => has.includes(a))) return;
  said.set(draft.exam.id, saidNow(callOf(draft.exam), alarms));
  refreshCalling();
  await draft.edit(exam => ({ ...exam, call: saidNow(exam.call, alarms) }));
}
