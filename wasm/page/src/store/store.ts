// What the device keeps. One finding, one write, flushed before the promise resolves.

import type { Exam, Horse, ID } from '../core/types';
import { type Change, readBackup, writeBackup } from './backup';

const NAME = 'whorl-barn-book';
const VERSION = 1;

export interface Prefs {
  /** The language of the page, and of reports where that is another, once chosen. */
  lang?: string;
  reportLang?: string;
  /** The unit of temperature, of weight and of lengths, once chosen. */
  units?: Record<string, string>;
  device?: string;
  label?: string;
  by?: string;
  callback?: string;
  /** The way of counting last used, by sign. */
  ways?: Record<string, string>;
  /** The demo barn was put in, or taken out, once. */
  demo?: 'in' | 'out';
  persistAsked?: boolean;
  /** Whom to call: the numbers of the clinic's file, which only the core can read, and one that was typed in. */
  clinic?: Callable[];
  vet?: string;
  /** How the exam was last done: page by page, or as a list on one page. */
  flow?: 'group' | 'list';
  /** What the last round asked of each horse. */
  round?: string;
}

/** Somebody to call. */
export interface Callable { name: string; phone: string; hours?: string }

let db: IDBDatabase | undefined;
/** The request that opened it; while the store is being made, it holds the transaction of that. */
let opening: IDBOpenDBRequest | undefined;

/** Reported once for each failed write, with the browser's name of the error. */
export let onWriteError: (name: string) => void = () => {};
export const setWriteErrorHandler = (to: (name: string) => void): void => { onWriteError = to; };

export async function open(): Promise<void> {
  db = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = opening = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      const d = request.result;
      d.createObjectStore('horses', { keyPath: 'id' });
      d.createObjectStore('exams', { keyPath: 'id' }).createIndex('horse', 'horse');
      d.createObjectStore('notes');
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new DOMException('', 'BlockedError'));
  });
  // Another tab with a newer page must be able to upgrade; the next use opens again.
  db.onversionchange = () => { db?.close(); db = undefined; };
  db.onclose = () => { db = undefined; };
}

// A page that is left lets go of the store; what it is writing still comes through, and if it comes back, the next use opens again.
// Where it did not, Chromium often gave the store to nobody any more: who loaded the page twice in a row on a first visit waited for ever.
window.addEventListener('pagehide', () => {
  opening?.transaction?.abort();
  db?.close();
  db = undefined;
});

/** Takes the copy back, if there is one, into a store that is new or was thrown away: not even the page's own choices are in it. */
export async function restoreBackup(): Promise<boolean> {
  const records = await readBackup();
  if (records.length === 0) return false;
  await run(['horses', 'exams', 'notes'], 'readwrite', t => {
    for (const [store, key, value] of records) t.objectStore(store).put(value, store === 'notes' ? key : undefined);
  });
  return true;
}

let forbidden = false;
/** Where nothing may be kept, what is asked for is not there: a link that somebody sent opens all the same. */
export const readNothing = (): void => { forbidden = true; };

export async function run<T>(stores: string[], mode: IDBTransactionMode, work: (t: IDBTransaction) => IDBRequest<T> | void): Promise<T> {
  if (forbidden && mode === 'readonly') return undefined as T;
  if (!db) await open();
  return new Promise<T>((resolve, reject) => {
    const t = db!.transaction(stores, mode, { durability: 'strict' });
    let request: IDBRequest<T> | void;
    t.oncomplete = () => resolve(request ? request.result : (undefined as T));
    // A quota error reaches onabort only.
    t.onabort = () => reject(t.error ?? new DOMException('', 'AbortError'));
    try {
      request = work(t);
    } catch (e) {
      // A store that refuses at once must not keep the half that it took.
      t.abort();
      reject(e);
    }
  });
}

/** How long a write may take before the screen says that it is not kept; it may still come through. */
const PATIENCE = 4000;

/** What could not be kept yet: exams by their id, and whatever else under ''. */
const unkept = new Set<string>();

/** Something was written here since the page was opened, the demo barn apart. */
export let written = false;

/** One transaction that writes, and what it changes: the same goes into the copy. */
export interface Writing {
  t: IDBTransaction;
  put(store: string, value: unknown, key?: string): void;
  drop(store: string, key: string): void;
}

export async function write(stores: string[], work: (w: Writing) => void, what = '', wait = true, patience = PATIENCE): Promise<boolean> {
  let waited: ReturnType<typeof setTimeout> | undefined;
  const changes: Change[] = [];
  try {
    await Promise.race([
      run(stores, 'readwrite', t => work({
        t,
        put: (store, value, key) => { t.objectStore(store).put(value, key); changes.push([store, key ?? (value as { id: ID }).id, value]); },
        drop: (store, key) => { t.objectStore(store).delete(key); changes.push([store, key, undefined]); },
      })),
      new Promise<never>((_, reject) => { waited = setTimeout(() => reject(new DOMException('', 'TimeoutError')), patience); }),
    ]);
  } catch (e) {
    unkept.add(what);
    onWriteError(e instanceof DOMException ? e.name : String(e));
    return false;
  } finally {
    clearTimeout(waited);
  }
  const copying = writeBackup(changes);
  if (wait) {
    written = true;
    await copying;
  }
  unkept.delete(what);
  // A write that came through does not vouch for another exam's that did not.
  if (what !== '') unkept.delete('');
  if (unkept.size === 0) onWriteError('');
  return true;
}

export const horses = (): Promise<Horse[]> => run(['horses'], 'readonly', t => t.objectStore('horses').getAll());
export const horse = (id: ID): Promise<Horse | undefined> => run(['horses'], 'readonly', t => t.objectStore('horses').get(id));
/** An exam that was taken back stays in the record only. */
const standing = (all: Exam[]): Exam[] => all.filter(e => e.status !== 'withdrawn');
export const exams = async (): Promise<Exam[]> => standing(await run<Exam[]>(['exams'], 'readonly', t => t.objectStore('exams').getAll()));
export const exam = (id: ID): Promise<Exam | undefined> => run(['exams'], 'readonly', t => t.objectStore('exams').get(id));

export async function examsOf(horseID: ID): Promise<Exam[]> {
  const all = await run<Exam[]>(['exams'], 'readonly', t => t.objectStore('exams').index('horse').getAll(horseID));
  return standing(all).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

export const putHorse = (h: Horse): Promise<boolean> => write(['horses'], w => w.put('horses', h));
/**
 * Changes an exam as it is kept, in one transaction: of two tabs that write, neither undoes
 * what the other wrote. Gives the exam as it is kept then; undefined if it could not be kept.
 * An exam whose horse was deleted meanwhile is not made anew: nobody would find it any more.
 */
export async function editExam(given: Exam, change: (kept: Exam) => Exam, what = given.id): Promise<Exam | undefined> {
  let out = given;
  let gone = false;
  const kept = await write(['exams', 'horses'], w => {
    const now = w.t.objectStore('exams').get(given.id) as IDBRequest<Exam | undefined>;
    const horse = w.t.objectStore('horses').get(given.horse);
    horse.onsuccess = () => {
      gone = !horse.result;
      if (gone) return w.t.abort();
      out = change(now.result ?? given);
      w.put('exams', out);
    };
  }, what);
  if (gone) onWriteError('GoneError');
  return kept ? out : undefined;
}
export const putExam = async (e: Exam): Promise<boolean> => !!(await editExam(e, () => e, ''));
export const dropExam = (id: ID): Promise<boolean> =>
  write(['exams', 'notes'], w => { w.drop('exams', id); w.drop('notes', 'place:' + id); for (const n of ['short:', 'flags:', 'call:']) w.drop('notes', n + id); }, id);

/** Puts the demo barn in, unless there are horses or it was here before: all in one transaction, and so that it is there soon. */
export const putDemo = (hs: Horse[], es: Exam[]): Promise<boolean> => write(['horses', 'exams', 'notes'], w => {
  const [horses, notes] = [w.t.objectStore('horses'), w.t.objectStore('notes')];
  const [any, kept] = [horses.count(), notes.get('prefs') as IDBRequest<Prefs | undefined>];
  kept.onsuccess = () => {
    if (any.result > 0 || kept.result?.demo) return;
    for (const h of hs) w.put('horses', h);
    for (const e of es) w.put('exams', e);
    w.put('notes', { ...kept.result, demo: 'in' }, 'prefs');
  };
}, '', false); // The first screen waits for it, and what is ours can be had again.

export const note = <T>(key: string): Promise<T | undefined> => run(['notes'], 'readonly', t => t.objectStore('notes').get(key));
export const putNote = (key: string, value: unknown): Promise<boolean> => write(['notes'], w => w.put('notes', value, key));

export const dropNote = (key: string): Promise<boolean> => write(['notes'], w => w.drop('notes', key));
/** Every note whose key begins so. */
export const notesOf = <T>(prefix: string): Promise<T[]> =>
  run(['notes'], 'readonly', t => t.objectStore('notes').getAll(IDBKeyRange.bound(prefix, prefix + '\uffff')));

export const prefs = async (): Promise<Prefs> => (await note<Prefs>('prefs')) ?? {};
export async function putPrefs(change: Prefs): Promise<boolean> {
  return putNote('prefs', { ...(await prefs()), ...change });
}

/** The step at which a draft was left. */
export const place = (examID: ID): Promise<string | undefined> => note('place:' + examID);
export const putPlace = (examID: ID, at: string): Promise<boolean> => putNote('place:' + examID, at);

/** The clinic's file: the text that a person chose, or that was beside the page the last time. */
export const pack = (which: 'chosen' | 'beside'): Promise<string | undefined> => note('pack:' + which);
export const putPack = (which: 'chosen' | 'beside', text: string | undefined): Promise<boolean> => putNote('pack:' + which, text);
