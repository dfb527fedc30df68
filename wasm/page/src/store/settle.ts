// What a person decides of versions: which of two stands, and what a finished exam is corrected to. The other version stays,
// set aside. What was changed elsewhere since it was shown is left as it is, and shown anew.

import type { Conflict, Exam, Horse } from '../core/types';
import type { Change } from './backup';
import { canonical, changeBarn } from './barn';

/** Lets the version that is here stand, or the other one. */
export const settle = (c: Conflict, here: Horse | Exam, other: boolean): Promise<boolean> => changeBarn(async now => {
  const at = now.conflicts.findIndex(x => canonical(x) === canonical(c));
  const is = c.horse ? now.horses.find(x => x.id === here.id) : now.exams.find(x => x.id === here.id);
  if (at < 0 || canonical(is) !== canonical(here)) return undefined;
  const aside: Conflict = other ? { ...(c.horse ? { horse: here as Horse } : { exam: here as Exam }), aside: true } : { ...c, aside: true };
  const settled: Change = ['notes', 'conflicts', now.conflicts.map((x, i) => (i === at ? aside : x))];
  return other ? [[c.horse ? 'horses' : 'exams', here.id, c.horse ?? c.exam], settled] : [settled];
});

/** Corrects an exam; stale: it is no longer what it was. */
export async function correct(exam: Exam, next: (e: Exam) => Exam, corrected: NonNullable<Exam['corrected']>): Promise<{ kept: boolean; stale: boolean }> {
  let stale = false;
  const kept = await changeBarn(async now => {
    const is = now.exams.find(e => e.id === exam.id);
    stale = !is || canonical(is) !== canonical(exam);
    if (!is || stale) return undefined;
    const before: Conflict = { exam: is, aside: true };
    return [['exams', is.id, { ...next(is), corrected }], ['notes', 'conflicts', [...now.conflicts, before]]];
  });
  return { kept, stale };
}
