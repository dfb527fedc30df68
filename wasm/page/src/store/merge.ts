// What comes in from another device: merged by the core, so that nothing is dropped and
// the order of exchanges does not matter. And what has not gone out yet.

import * as core from '../core/core';
import type { BarnFile, Conflict, Exam, Horse } from '../core/types';
import { isDemo } from './demo';
import * as store from './store';

/** One text for one content, whatever the order of its members. */
export const canonical = (v: unknown): string => JSON.stringify(v, (_, x: unknown) =>
  x && typeof x === 'object' && !Array.isArray(x) ? Object.fromEntries(Object.entries(x).sort(([a], [b]) => (a < b ? -1 : 1))) : x);

export interface Merged { horses: number; exams: number; conflicts: number }

/**
 * Takes the records of a file in. sent: a card that came with a link lacks what stays on
 * its sender's device, so that a card which is here already counts; and so does what the demo barn
 * brought, which has other days on each device. undefined: it could not be kept.
 */
export async function mergeFile(file: BarnFile, sent = false): Promise<Merged | undefined> {
  const [horses, exams, conflicts] = await Promise.all([store.horses(), store.exams(), store.conflicts()]);
  const horse = new Map(horses.map(x => [x.id, x]));
  const texts = new Map<string, string>([...horses, ...exams].map(x => [x.id, canonical(x)]));
  const differs = (x: Horse | Exam): boolean => texts.get(x.id) !== canonical(x);
  const stays = (x: Horse): boolean => horse.has(x.id) && (sent || isDemo(x));

  // The core is given what differs and what that hangs on: most of a file that comes again is here.
  const b: BarnFile = { kind: 'whorl-barn', format: 1, horses: [], exams: file.exams.filter(x => differs(x) && !(isDemo(x) && texts.has(x.id))), conflicts: file.conflicts };
  b.horses = file.horses.filter(x => differs(x) && !stays(x));
  const about = new Set([...b.horses.map(x => x.id), ...b.exams.map(x => x.id)]);
  for (const c of [...(file.conflicts ?? []), ...conflicts]) about.add((c.horse ?? c.exam)!.id);
  const withHorses = (f: BarnFile, all: Map<string, Horse>): BarnFile => {
    const has = new Set(f.horses.map(x => x.id));
    for (const e of f.exams) {
      const h = all.get(e.horse);
      if (h && !has.has(e.horse)) { f.horses.push(h); has.add(e.horse); }
    }
    return f;
  };
  const theirs = new Map(file.horses.map(x => [x.id, stays(x) ? horse.get(x.id)! : x]));
  for (const c of file.conflicts ?? []) {
    const e = c.exam && file.exams.find(x => x.id === c.exam!.id);
    if (e && !b.exams.includes(e)) b.exams.push(e);
    const h = c.horse && theirs.get(c.horse.id);
    if (h && !b.horses.includes(h)) b.horses.push(h);
  }
  withHorses(b, theirs);
  if (b.horses.length + b.exams.length === 0) return { horses: 0, exams: 0, conflicts: 0 };
  const a = withHorses({
    kind: 'whorl-barn', format: 1, conflicts,
    horses: horses.filter(x => about.has(x.id)), exams: exams.filter(x => about.has(x.id)),
  }, horse);
  if (a.horses.length + a.exams.length === 0 && !file.conflicts?.length) {
    // All of it is new, and was checked when it was read.
    const fresh = b.horses.filter(differs);
    if (!(await store.putAll(fresh, b.exams))) return undefined;
    return { horses: fresh.length, exams: b.exams.length, conflicts: 0 };
  }
  const { file: merged, fresh } = await core.call<{ file: BarnFile; fresh: Conflict[] | null }>('merge', { a, b });
  const newHorses = merged.horses.filter(differs);
  const newExams = merged.exams.filter(differs);
  if (!(await store.putAll(newHorses, newExams, merged.conflicts ?? []))) return undefined;
  return { horses: newHorses.length, exams: newExams.length, conflicts: fresh?.length ?? 0 };
}

/** Everything that is here, as a barn file. */
export async function wholeBarn(): Promise<BarnFile> {
  const [horses, exams, conflicts] = await Promise.all([store.horses(), store.exams(), store.conflicts()]);
  // A horse that was taken out has taken what was in conflict about it with it.
  const here = new Set([...horses.map(h => h.id), ...exams.map(e => e.id)]);
  const kept = conflicts.filter(c => here.has((c.horse ?? c.exam)!.id));
  return { kind: 'whorl-barn', format: 1, horses, exams, ...(kept.length ? { conflicts: kept } : {}) };
}

/** A short mark of a content (FNV-1a, 64 bits in two halves): enough to see that it changed. */
export function markOf(v: unknown): string {
  let [a, b] = [0x811c9dc5, 0xcbf29ce4];
  for (const c of canonical(v)) {
    const n = c.codePointAt(0)!;
    a = Math.imul(a ^ n, 0x01000193);
    b = Math.imul(b ^ (n + 0x9e37), 0x01000193);
  }
  return (a >>> 0).toString(36) + (b >>> 0).toString(36);
}

/** Notes that exams are in a file outside this device. */
export async function markExported(exams: Exam[]): Promise<void> {
  const marks = await store.exportMarks();
  for (const e of exams) marks[e.id] = markOf(e);
  await store.putExportMarks(marks);
}

/** The finished exams that are in no file yet, the demo's apart. */
export async function notExported(): Promise<Exam[]> {
  const [horses, exams, marks] = await Promise.all([store.horses(), store.exams(), store.exportMarks()]);
  const demo = new Set(horses.filter(isDemo).map(h => h.id));
  return exams.filter(e => e.status === 'finished' && !(demo.has(e.horse) && isDemo(e)) && marks[e.id] !== markOf(e));
}
