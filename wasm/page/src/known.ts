// How well each horse is known, as the barn and the lessons show it.

import { rfc3339 } from './clock';
import * as core from './core';
import * as store from './store';
import type { Exam, Horse, Known } from './types';

declare const VERSION: string;

/** What the list shows of a horse; kept, since it costs a barn of years whole seconds and changes with an exam only. */
export type Seen = Pick<Known, 'exams' | 'whorl' | 'due' | 'stage'>;

/** One horse after the other, and the screen in between. */
let turn: Promise<unknown> = Promise.resolve();

export async function knownOf(horse: Horse, exams: Exam[]): Promise<Seen | undefined> {
  try {
    const finished = exams.filter(e => e.horse === horse.id && e.status === 'finished');
    const now = rfc3339(new Date());
    // With the months what is known of a horse gets old by itself.
    const mark = hash(VERSION + now.slice(0, 7) + JSON.stringify([horse, finished]));
    const kept = await store.note<Seen & { mark: string }>('known:' + horse.id);
    if (kept?.mark === mark && kept.due) return kept;
    const mine = turn.then(() => new Promise(free => setTimeout(free)))
      .then(() => core.call<Known>('known', { horse, exams: finished, at: now }));
    turn = mine.catch(() => undefined);
    const { exams: n, whorl, due, stage } = await mine;
    await store.putNote('known:' + horse.id, { mark, exams: n, whorl, due, stage });
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
