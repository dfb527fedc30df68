// What to do, and to leave, while waiting for the vet: for the problem and for this animal, before the core is there.

import type { Book, Horse } from '../core/types';
import { lifeStageAt, nursing } from './lifestage';

/** What to do and to leave while waiting: by problem the lines of each class, and which class an animal is of. */
declare const WAITS: { lists: Record<string, string[][]>; of: string; always: string[]; out: Record<string, string[]> };

export const unique = <T>(lists: T[][]): T[] => [...new Set(lists.flat())];

/** The lines for an animal; of one that nobody named, those that harm none. */
export function adviceWhileWaiting(book: Book, problems: string[], horse: Horse | undefined, at: string, acts: string[] = []): string[] {
  const of = (p: string): string[] => {
    const lists = WAITS.lists[p] ?? [];
    if (!horse) return (lists[0] ?? []).filter(id => lists.every(l => l.includes(id)));
    const i = (book.types.indexOf(horse.type) * book.stages.length + book.stages.indexOf(lifeStageAt(horse, at) ?? 'adult')) * 2
      + (horse.inFoal || nursing(horse, at) ? 1 : 0);
    return lists[Number(WAITS.of[i])] ?? [];
  };
  const all = unique([...problems.map(of), WAITS.always]);
  // Of two problems at once, what one makes false or dangerous is not told of the other.
  // Of an animal that nobody named, neither is what a line of any class makes false: "feed away" is not said of it, and "offer feed" not either.
  const any = horse ? [] : problems.flatMap(p => (WAITS.lists[p] ?? []).flat());
  const out = new Set([...acts.map(a => 'act.' + a), ...all, ...any].flatMap(id => WAITS.out[id] ?? []));
  return all.filter(id => !out.has(id));
}
