// "Call your vet now" was said: remembered with the exam until a person says what became of it. An exam of
// which nobody has said yet whose it is waits under a key of its own.

import { rfc3339 } from '../text/dates';
import * as store from './store';
import type { Call, Exam, Horse, ID } from '../core/types';

/** What was seen wrong with an animal that nobody has named yet: its exam has no horse. */
export interface Wrong { exam: Exam; flags: string[] }

const wrongKey = (id: ID): string => 'wrong:' + id;
export const wrongs = (): Promise<Wrong[]> => store.notesOf<Wrong>('wrong:');
export const wrongOf = (id: ID): Promise<Wrong | undefined> => store.note(wrongKey(id));
export const putWrong = (w: Wrong): Promise<boolean> => store.putNote(wrongKey(w.exam.id), w);
export const dropWrong = (id: ID): Promise<boolean> => store.dropNote(wrongKey(id));

/** For how long a call stands at the top of the list: afterwards it is a line of the horse. */
const AT_TOP = 86_400_000;

export const isOpen = (e: Exam): boolean => !!e.call && !e.call.closedAt;
export const isAtTop = (e: Exam): boolean => isOpen(e) && Date.now() - Date.parse(e.call!.saidAt) < AT_TOP;

/** The call with rules that say to call now, first said now if it was not said before. */
export function saidNow(call: Call | undefined, alarms: string[]): Call {
  const all = [...new Set([...(call?.alarms ?? []), ...alarms])].sort().slice(0, 64);
  return { ...(call ?? { saidAt: rfc3339(new Date()) }), ...(all.length ? { alarms: all } : {}) };
}

/** Changes what is remembered of a call, as it is kept. */
export async function editCall(exam: Exam, change: (c: Call) => Call): Promise<boolean> {
  if (!exam.call) return false;
  if (exam.horse) return !!(await store.editExam(exam, kept => ({ ...kept, call: change(kept.call ?? exam.call!) })));
  const w = await wrongOf(exam.id);
  return !!w?.exam.call && putWrong({ ...w, exam: { ...w.exam, call: change(w.exam.call) } });
}

/** A person said that the vet was told; whom, as far as it is known. */
export const told = (whom: string | undefined) => (c: Call): Call => ({ ...c, toldAt: rfc3339(new Date()), ...(whom ? { told: whom } : {}) });
export const untold = ({ toldAt: _, told: __, ...c }: Call): Call => c;
/** A person said what became of it. */
export const closed = (outcome: string) => (c: Call): Call => ({ ...c, closedAt: rfc3339(new Date()), ...(outcome ? { outcome } : {}) });
export const reopened = ({ closedAt: _, outcome: __, ...c }: Call): Call => c;

/** An exam by its id, also one of which nobody has said whose it is. */
export async function examOf(id: ID): Promise<{ exam: Exam; horse?: Horse; flags?: string[] } | undefined> {
  const exam = await store.exam(id);
  if (exam) {
    const horse = await store.horse(exam.horse);
    return horse && { exam, horse };
  }
  return wrongOf(id);
}
