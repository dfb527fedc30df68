// What does not keep the rules must cost nothing else: it is set apart, as its text, with whose it is, and comes back
// where the file comes in. A backup is written whatever is in it.

import * as core from '../core/core';
import type { BarnFile, Conflict, Exam, Fault, Gone, Horse, ID, Unread } from '../core/types';
import type { Change } from './backup';
import type { Barn } from './barn';

/** What was set apart, of which list, and the first thing that is wrong with it. */
interface Apart { of: string; record: Horse | Exam | Conflict | Gone; fault: Fault }

const lists = ['horses', 'exams', 'conflicts', 'gone'] as const;

/** Takes out of a file what the core found fault with; the places of the faults begin with at. */
export function sift(file: BarnFile, refusal: unknown, at: string): { file: BarnFile; out: Apart[] } {
  const out: Apart[] = [];
  const rest = { ...file };
  for (const of of lists) {
    rest[of] = (file[of] as Horse[] | undefined ?? []).filter((record, i) => {
      const fault = refusal instanceof core.Refused && refusal.faults.find(f => (f.path + '/').startsWith(`${at}/${of}/${i}/`));
      if (fault) out.push({ of, record, fault });
      return !fault;
    }) as never;
  }
  return { file: rest, out };
}

export interface Written { text: string; apart: (Unread & { horse?: ID; sentence: string })[] }

/** The text of a barn file, whatever is in it; without the core, or where that has no way to write it, as it is. */
export async function writeWhole(file: BarnFile): Promise<Written> {
  const names = new Map([...file.gone ?? [], ...file.horses].map(x => [x.id, x.name]));
  const apart: Written['apart'] = [];
  for (;;) {
    try {
      return { text: (await core.call<{ text: string }>('write', { file })).text, apart };
    } catch (e) {
      const { file: rest, out } = sift(file, e, '/file');
      if (out.length === 0) return { text: JSON.stringify(file), apart };
      file = { ...rest, unread: [...file.unread ?? []] };
      for (const { of, record, fault } of out) {
        if (of === 'gone') continue;
        const { horse, exam, id } = record as { horse?: Horse | ID; exam?: Exam; id: ID };
        const whose = exam?.horse ?? (horse as Horse | undefined)?.id ?? (horse as ID | undefined) ?? id;
        const u = { of: String(names.get(whose) ?? whose).slice(0, 200), text: JSON.stringify(record) };
        file.unread!.push(u);
        apart.push({ ...u, horse: whose, sentence: fault.sentence });
      }
    }
  }
}

/** Faults with which no screen can deal; the others are of what somebody typed, and are mended where it was typed. */
const unsound = /^(bad-(?!d)|unknown-(?!m)|not-|missing-m|duplicate-m|too-|empty$|number-)/;

/** Looks again at what could not be read: what a screen can deal with becomes a record again, if there is none of its id. */
export async function readAgain(all: Unread[], now: Barn, changes: Change[]): Promise<{ unread: Unread[]; changes: Change[] }> {
  const here = new Map<ID, string>([...now.horses, ...now.exams].map(x => [x.id, JSON.stringify(x)]));
  const horses = new Set(now.horses.map(x => x.id));
  for (const [store, key, value] of changes) {
    here.set(key, JSON.stringify(value));
    if (store === 'horses') horses.add(key);
  }
  const more: Change[] = [];
  const left = new Map(all.map(u => [u.text, u]));
  const conflicts = new Set(now.conflicts.map(c => JSON.stringify(c)));
  for (const store of ['horses', 'exams']) {
    for (const { text } of left.values()) {
      const x = parsed(text);
      if (!x || ('horse' in x) !== (store === 'exams')) continue;
      if (here.get(x.id) === text || conflicts.has(text)) left.delete(text);
      if (typeof x.id !== 'string' || here.has(x.id) || store === 'exams' && !horses.has((x as Exam).horse)) continue;
      const { faults } = await core.call<{ faults: Fault[] }>('check', store === 'horses' ? { horse: x } : { exam: x });
      if (faults.some(f => unsound.test(f.code))) continue;
      more.push([store, x.id, x]);
      here.set(x.id, text);
      if (store === 'horses') horses.add(x.id);
      left.delete(text);
    }
  }
  return { unread: [...left.values()], changes: [...changes, ...more] };
}

function parsed(text: string): Horse | Exam | undefined {
  try {
    const x = JSON.parse(text) as unknown;
    return x && typeof x === 'object' ? x as Horse | Exam : undefined;
  } catch {
    return undefined;
  }
}
