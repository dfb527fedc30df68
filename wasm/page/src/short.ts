// An exam of only some signs: a recheck, a lesson. It has no label and no story of its own.

import * as core from './core';
import { caution, h, para, show, type BarItem } from './dom';
import type { Draft, Short } from './draft';
import { alarmSaid, headOf } from './names';
import { numbersOf, telOf, withPack } from './pack';
import { go, goInstead } from './route';
import * as store from './store';
import type { Book, Comparing, Exam, Fired, Horse } from './types';
import { reread } from './watches';
import { say } from './words';

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

/** The rules to ring that fire in what was entered so far; none while the core is away. */
export async function ringing(horse: Horse, exam: Exam): Promise<Fired[]> {
  try {
    const got = await core.call<Comparing>('compare', { horse, exam, ...await withPack() });
    return (got.comparison.alarms ?? []).filter(a => a.urgency === 'now');
  } catch {
    return [];
  }
}

/** The way on from a step of a short exam: a rule to ring comes before the next step. */
export async function shortOnward(draft: Draft, index: number): Promise<void> {
  const next = (): void => go('exam', draft.exam.id, index + 1 < draft.steps.length ? index + 1 : 'done');
  if (draft.closed) return go('exam', draft.exam.id, 'closed');
  const step = draft.steps[index];
  const fired = (await ringing(draft.horse, draft.exam)).filter(a => a.sign === step?.sign);
  if (!fired.length || !step || draft.exam.purpose === 'learning') return next();
  ringScreen(draft, fired, next);
}

/** "Ring now", with the telephone, before anything else. */
function ringScreen(draft: Draft, fired: Fired[], next: () => void): void {
  const bar: BarItem[] = [{ label: say('page.short.on'), go: next, main: !ringItem(draft.horse) }];
  const ring = ringItem(draft.horse);
  if (ring) bar.push(ring);
  show({
    title: say('page.ring.now'),
    head: headOf(draft.horse, say('purpose.' + draft.exam.purpose)),
    body: [h('div', { class: 'caution strong' }, fired.map(a => para(alarmSaid(a.alarm)))), para(say('page.ring.rule'), 'how'), para(say('page.short.kept'), 'how')],
    bar,
  });
}

/** The first number to ring: the clinic's, or one of the horse's card. */
export function ringItem(horse: Horse): BarItem | undefined {
  const to = numbersOf(horse)[0];
  return to && { label: say('page.call.ring.at', { name: to.name }), go: () => undefined, href: telOf(to.phone), main: true };
}

/** The rules to ring, as a caution; nothing where none fired. */
export const ringCaution = (fired: Fired[]): HTMLElement | false => fired.length > 0 &&
  caution(h('p', {}, h('strong', {}, say('page.ring.now'))), fired.map(a => para(alarmSaid(a.alarm))));

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
