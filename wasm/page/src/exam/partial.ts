// An exam of only some signs: a recheck, a lesson. It has no label and no story of its own.

import type { BarItem } from '../ui/screen';
import type { Draft, Short } from './draft';
import { handset } from '../ui/icons';
import { numbersOf, telOf } from '../store/pack';
import { go, goInstead } from '../ui/route';
import * as store from '../store/store';
import type { Book, Exam, Horse } from '../core/types';
import { reread } from './watches';
import { say } from '../core/words';

/** How deep an exam must go to ask these signs; never less deep than asked for. */
export function depthFor(book: Book, signs: string[], least: string): string {
  const asks = (depth: string): boolean => signs.every(s => book.steps[depth + '+held']?.some(x => x.sign === s));
  return book.depths.slice(Math.max(0, book.depths.indexOf(least))).find(asks) ?? book.depths[book.depths.length - 1]!;
}

/** Keeps a new exam of some signs, and goes to its first step. */
export async function beginShort(exam: Exam, signs: string[], then: (string | number)[], more: Partial<Short> = {}): Promise<void> {
  const short: Short = { exam: exam.id, signs, then, ...more };
  if (!(await store.putNote('short:' + exam.id, short)) || !(await store.putExam(exam))) return;
  await reread();
  go('exam', exam.id, 0);
}

/** The way on from a step of a short exam. */
export const shortOnward = (draft: Draft, index: number): void =>
  go('exam', draft.exam.id, draft.closed ? 'closed' : index + 1 < draft.steps.length ? index + 1 : 'done');

/** The first number to ring: the clinic's, or one of the horse's card. */
export function ringItem(horse: Horse): BarItem | undefined {
  const to = numbersOf(horse)[0];
  return to && { label: say('page.call.ring.at', { name: to.name }), go: () => undefined, href: telOf(to.phone), main: true, look: 'dial', mark: handset() };
}

/** Finishes a short exam and goes to where it came from. */
export async function doneScreen(draft: Draft): Promise<void> {
  const to = draft.short?.then ?? [];
  // Nothing was looked at and nothing said about it: that is no exam.
  if (!draft.exam.findings?.length) {
    await store.dropExam(draft.exam.id);
    return goInstead(...to);
  }
  if (await draft.finish()) {
    await store.dropNote('short:' + draft.exam.id);
    goInstead(...to);
  }
}
