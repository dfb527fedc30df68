// How well each horse is known, as the barn and the lessons show it.

import * as core from '../core/core';
import type { Due, Exam, Horse, Known } from '../core/types';
import { say } from '../core/words';
import { dateTimeShort, rfc3339 } from '../text/dates';
import * as store from '../store/store';

declare const VERSION: string;

/** What the list shows of a horse; kept, since it costs a barn of years whole seconds and changes with an exam only. */
export type Progress = Pick<Known, 'exams' | 'whorl' | 'due' | 'stage'>;

/** One horse after the other, and the screen in between. */
let turn: Promise<unknown> = Promise.resolve();

const finishedOf = (horse: Horse, exams: Exam[]): Exam[] => exams.filter(e => e.horse === horse.id && e.status === 'finished');

/** With the months what is known of a horse gets old by itself. */
const markOf = (horse: Horse, finished: Exam[], now: string): string => hash(VERSION + now.slice(0, 7) + JSON.stringify([horse, finished]));

type Kept = Progress & { horse: string; mark: string };

/** What is kept of all horses. */
export const storedProgress = (): Promise<Kept[]> => store.notesOf<Kept>('known:');

/** What is kept of a horse, if nothing has changed since. */
export const storedProgressOf = (all: Kept[], horse: Horse, exams: Exam[]): Progress | undefined =>
  all.find(k => k.horse === horse.id && k.due && k.mark === markOf(horse, finishedOf(horse, exams), rfc3339(new Date())));

/** What is known of a horse: what is kept, or what the core works out. */
export async function progressOf(horse: Horse, exams: Exam[]): Promise<Progress | undefined> {
  try {
    const kept = storedProgressOf(await storedProgress(), horse, exams);
    if (kept) return kept;
    const [finished, now] = [finishedOf(horse, exams), rfc3339(new Date())];
    const mine = turn.then(() => new Promise(free => setTimeout(free)))
      .then(() => core.call<Known>('known', { horse, exams: finished, at: now }));
    turn = mine.catch(() => undefined);
    const { exams: n, whorl, due, stage } = await mine;
    await store.putNote('known:' + horse.id, { horse: horse.id, mark: markOf(horse, finished, now), exams: n, whorl, due, stage });
    return { exams: n, whorl, due, stage };
  } catch {
    return undefined;
  }
}

/** 53 bits of a text, to tell whether it has changed. */
function hash(text: string): string {
  let a = 0xdeadbeef, b = 0x41c6ce57;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 2654435761);
    b = Math.imul(b ^ c, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return ((2097151 & b) * 4294967296 + (a >>> 0)).toString(36);
}

/** It is due by the clock of now: what is known of a horse is kept for days. */
export const isDue = (due: Due): boolean => !due.at || Date.now() >= Date.parse(due.at);

/** "Due for a practice exam", or when it is. */
export const dueText = (due: Due): string => (isDue(due) || !due.at ? say('page.practise.due') : say('page.practise.at', { at: dayOf(due.at) }));

const dayOf = (at: string): string => dateTimeShort(at).replace(/,? *\d{1,2}[:.]\d\d.*$/, '');
