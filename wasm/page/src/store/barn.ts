// The barn as a whole: read at once, and changed in one transaction that reads what it was made from again. A change that
// was made from what another tab has changed meanwhile is made anew; the last one can be taken back while the page stands.

import type { Conflict, Exam, Gone, Horse, ID, Unknown, Unread } from '../core/types';
import type { Change } from './backup';
import { note, run, write } from './store';

export interface Barn {
  horses: Horse[];
  exams: Exam[];
  /** Other versions of these, from other devices. */
  conflicts: Conflict[];
  /** Horses that were deleted here: their records do not come back with a file unless somebody says so. */
  gone: Gone[];
  /** What came in and does not keep the rules. */
  unread: Unread[];
  /** What a newer version wrote beside the horses and exams, and this one does not understand. */
  unknown: Unknown[];
}

const STORES = ['horses', 'exams', 'notes'];
/** How long a whole barn may take to be written, in ms. */
const PATIENCE = 60_000;

const LISTS = ['conflicts', 'gone', 'unread', 'unknown'];

function reading(t: IDBTransaction, then: (now: Barn) => void): void {
  const all = [...['horses', 'exams'].map(s => t.objectStore(s).getAll()), ...LISTS.map(n => t.objectStore('notes').get(n))];
  // They are answered in their order.
  all.at(-1)!.onsuccess = () => {
    const [horses, exams, conflicts = [], gone = [], unread = [], unknown = []] = all.map(r => r.result as never);
    then({ horses, exams, conflicts, gone, unread, unknown } as never);
  };
}

export async function barn(): Promise<Barn> {
  let now!: Barn;
  await run(STORES, 'readonly', t => reading(t, b => { now = b; }));
  return now;
}

/** One text for one content, whatever the order of its members. */
export const canonical = (v: unknown): string => JSON.stringify(v, (_, x: unknown) =>
  x && typeof x === 'object' && !Array.isArray(x) ? Object.fromEntries(Object.entries(x).sort(([a], [b]) => (a < b ? -1 : 1))) : x);

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** The last change, each record with what was there before. */
let last: [...Change, unknown][] | undefined;
export const undoable = (): boolean => !!last;

/**
 * Changes the barn by what make makes of it as it is, all or nothing; undefined from make: nothing is to be changed.
 * Gives false if it could not be kept.
 */
export async function changeBarn(make: (now: Barn) => Promise<Change[] | undefined>): Promise<boolean> {
  for (;;) {
    const was = await barn();
    const changes = await make(was);
    if (!changes?.length) return true;
    let stale = false;
    const before: [...Change, unknown][] = [];
    const kept = await write(STORES, w => reading(w.t, now => {
      stale = !same(was, now);
      if (stale) return;
      for (const [store, key, value] of changes) {
        const had = w.t.objectStore(store).get(key);
        had.onsuccess = () => {
          if (same(had.result, value)) return;
          before.push([store, key, value, had.result]);
          if (value === undefined) w.drop(store, key);
          else w.put(store, value, store === 'notes' ? key : undefined);
        };
      }
    }), '', true, PATIENCE);
    if (!kept) return false;
    if (stale) continue;
    if (before.length) last = before;
    return true;
  }
}

/** A list as it is, with what was made of it taken back, entry by entry: what another tab did to the others stays. */
function listBack(is: object[] = [], value: object[] = [], had: object[] = []): object[] {
  const [now, made, was] = [is, value, had].map(list => new Map(list.map(x => [canonical({ ...x, aside: undefined }), x]))) as [Map<string, object>, Map<string, object>, Map<string, object>];
  for (const key of [...made.keys(), ...was.keys()]) {
    if (canonical(now.get(key)) !== canonical(made.get(key))) continue;
    if (was.has(key)) now.set(key, was.get(key)!);
    else now.delete(key);
  }
  return [...now.values()];
}

/** Takes the last change back, but for what was changed again since. */
export async function undo(): Promise<boolean> {
  const changes = last ?? [];
  const kept = await write(STORES, w => reading(w.t, now => {
    const here = new Map<string, Horse | Exam>([...now.horses, ...now.exams].map(x => [x.id, x]));
    const mine = changes.filter(([store, key, value]) => store !== 'notes' && canonical(here.get(key)) === canonical(value));
    // A horse that came in and was examined since stays, and so does the horse of what was changed since.
    const goes = new Set(mine.flatMap(([, key,, had]) => (had === undefined ? [key] : [])));
    const needed = new Set(now.exams.flatMap(e => (goes.has(e.id) ? [] : [e.horse])));
    for (const [store, key,, had] of mine.reverse()) {
      if (had !== undefined) w.put(store, had);
      else if (!needed.has(key)) w.drop(store, key);
    }
    for (const [store, key, value, had] of changes) {
      if (store !== 'notes') continue;
      const is = w.t.objectStore(store).get(key);
      is.onsuccess = () => {
        if (LISTS.includes(key)) w.put(store, listBack(is.result, value as object[], had as object[]), key);
        else if (!same(is.result, value)) return;
        else if (had !== undefined) w.put(store, had, key);
        else w.drop(store, key);
      };
    }
  }), '', true, PATIENCE);
  if (kept) last = undefined;
  return kept;
}

/** Deletes horses with their exams, or exams, with what was in conflict about them; a mark of each horse stays. */
export const drop = (ids: ID[]): Promise<boolean> => changeBarn(async now => {
  const out = (x: Horse | Exam): boolean => ids.includes(x.id) || ids.includes((x as Exam).horse);
  const [horses, exams] = [now.horses.filter(out), now.exams.filter(out)];
  const of = (store: string, keys: string[]): Change[] => keys.map(key => [store, key, undefined]);
  const [horseIDs, examIDs] = [horses, exams].map(list => list.map(x => x.id)) as [ID[], ID[]];
  return [
    // The copy is written in this order: a kill in the middle of it leaves no exam there without its horse.
    ...of('exams', examIDs), ...of('horses', horseIDs),
    ...['known:', 'call:', 'flags:', 'place:', 'short:', 'sent:', 'answers:'].flatMap(n => of('notes', [...horseIDs, ...examIDs].map(id => n + id))),
    ['notes', 'conflicts', now.conflicts.filter(c => !out((c.horse ?? c.exam)!))],
    ['notes', 'gone', [...now.gone.filter(g => !horseIDs.includes(g.id)), ...horses.map(({ id, name }) => ({ id, name }))]],
  ];
});

export const conflicts = async (): Promise<Conflict[]> => (await note<Conflict[]>('conflicts')) ?? [];
export const unread = async (): Promise<Unread[]> => (await note<Unread[]>('unread')) ?? [];
export const fromNewer = async (): Promise<Unknown[]> => (await note<Unknown[]>('unknown')) ?? [];
