// An exam of only some signs: a recheck, a lesson. It has no label and no story of its own.

import type { Book, Exam, Horse } from '../core/types';
import { say } from '../core/words';
import { numbersOf } from '../store/pack';
import { telOf } from '../text/numbers';
import * as store from '../store/store';
import { handset } from '../ui/icons';
import { go, goInstead } from '../ui/route';
import type { BarItem } from '../ui/screen';
import type { Draft, PartialExam } from './draft';
import { reloadWatches } from './watches';

/** How deep an exam must go to ask these signs; never less deep than asked for. */
export function depthFor(book: Book, signs: string[], least: string): string {
  const asks = (depth: string): boolean => signs.every(s => book.steps[depth + '+held']?.some(x => x.sign === s));
  return book.depths.slice(Math.max(0, book.depths.indexOf(least))).find(asks) ?? book.depths[book.depths.length - 1]!;
}

/** Keeps a new exam of some signs, and goes to its first step. */
export async function beginPartial(exam: Exam, signs: string[], then: (string | number)[], more: Partial<PartialExam> = {}): Promise<void> {
  const partial: PartialExam = { exam: exam.id, signs, then, ...more };
  if (!(await store.putNote('short:' + exam.id, partial)) || !(await store.putExam(exam))) return;
  await reloadWatches();
  go('exam', exam.id, 0);
}

/** The way on from a step of a partial exam. */
export const nextPartialStep = (draft: Draft, index: number): void =>
  go('exam', draft.exam.id, draft.closed ? 'closed' : index + 1 < draft.steps.length ? index + 1 : 'done');

/** The first number to call: the clinic's, or one of the horse's card. */
export function callItem(horse: Horse): BarItem | undefined {
  const to = numbersOf(horse)[0];
  return to && { label: say('page.call.ring.at', { name: to.name }), go: () => undefined, href: telOf(to.phone), main: true, look: 'dial', mark: handset() };
}

/** Finishes a partial exam and goes to where it came from. */
export async function finishPartial(draft: Draft): Promise<void> {
  const to = draft.partial?.then ?? [];
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
