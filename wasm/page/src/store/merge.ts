// What comes in from another device: merged by the core, so that nothing is dropped and
// the order of exchanges does not matter. And what has not gone out yet.

import * as core from '../core/core';
import type { BarnFile, Conflict, Exam, Horse, ID } from '../core/types';
import { readAgain, sift } from './apart';
import type { Change } from './backup';
import { type Barn, barn, canonical, changeBarn } from './barn';
import { isDemo } from './demo';
import { note, putNote } from './store';


/** held: horses of the file that were deleted here, and how many exams of theirs are in it. */
export interface Merged { horses: number; exams: number; conflicts: number; held: Horse[]; heldExams: number }

/**
 * Takes the records of a file in. sent: a card that came with a link lacks what stays on
 * its sender's device, so that a card which is here already counts; and so does what the demo barn
 * brought, which has other days on each device. A horse that was deleted here stays so unless it was sent, or
 * is among back. undefined: it could not be kept.
 */
export async function mergeFile(file: BarnFile, sent = false, back: ID[] = []): Promise<Merged | undefined> {
  let out!: Merged;
  const kept = await changeBarn(async now => {
    const held = file.horses.filter(x => !sent && !back.includes(x.id) && now.gone.some(g => g.id === x.id) && !now.horses.some(h => h.id === x.id));
    const is = new Set(held.map(x => x.id));
    const rest = {
      ...file, horses: file.horses.filter(x => !is.has(x.id)), exams: file.exams.filter(e => !is.has(e.horse)),
      conflicts: file.conflicts?.filter(c => !is.has(c.horse?.id ?? c.exam!.horse)),
    };
    const made = await merged(now, rest, sent);
    out = { ...made.out, held, heldExams: file.exams.length - rest.exams.length };
    return made.changes;
  });
  return kept ? out : undefined;
}

type Made = { out: Omit<Merged, 'held' | 'heldExams'>; changes: Change[] };

const put = (hs: Horse[], es: Exam[]): Change[] => [...hs.map((x): Change => ['horses', x.id, x]), ...es.map((x): Change => ['exams', x.id, x])];
const differ = (a: unknown, b: unknown): boolean => canonical(a) !== canonical(b);

/** What a file changes in the barn as it is now. */
async function merged(now: Barn, file: BarnFile, sent: boolean): Promise<Made> {
  const made = await mergedRecords(now, file, sent);
  const { unread, changes } = await readAgain([...now.unread, ...file.unread ?? []], now, made.changes);
  const has = new Set([...now.horses, ...now.gone].map(x => x.id));
  const gone = [...now.gone, ...(file.gone ?? []).filter(g => !has.has(g.id))];
  if (gone.length > now.gone.length) changes.push(['notes', 'gone', gone]);
  if (differ(unread, now.unread)) changes.push(['notes', 'unread', unread]);
  const unknown = [...new Map([...now.unknown, ...file.unknown ?? []].map(u => [u.at + ' ' + u.json, u])).values()];
  if (unknown.length > now.unknown.length) changes.push(['notes', 'unknown', unknown]);
  return { ...made, changes };
}

/** Conflicts about records that are there. */
const about = (conflicts: Conflict[], all: { id: ID }[]): Conflict[] => {
  const here = new Set(all.map(x => x.id));
  return conflicts.filter(c => here.has((c.horse ?? c.exam)!.id));
};

async function mergedRecords(now: Barn, file: BarnFile, sent: boolean): Promise<Made> {
  const conflicts = about(now.conflicts, [...now.horses, ...now.exams]);
  const horse = new Map(now.horses.map(x => [x.id, x]));
  const texts = new Map<string, string>([...now.horses, ...now.exams].map(x => [x.id, canonical(x)]));
  const differs = (x: Horse | Exam): boolean => texts.get(x.id) !== canonical(x);
  const theirs = {
    ...file, exams: file.exams.filter(x => !(isDemo(x) && texts.has(x.id))),
    horses: file.horses.map(x => (sent || isDemo(x)) && horse.get(x.id) || x),
  };

  // The core is given what differs and what that hangs on: most of a file that comes again is here.
  const fresh = put(theirs.horses.filter(differs), theirs.exams.filter(differs));
  const other = file.conflicts ?? [];
  const touched = new Set([...fresh.map(([, id]) => id), ...[...other, ...conflicts].map(c => (c.horse ?? c.exam)!.id)]);
  const part = (f: Pick<BarnFile, 'horses' | 'exams' | 'conflicts'>): BarnFile => {
    const exams = f.exams.filter(x => touched.has(x.id));
    const needed = new Set([...touched, ...exams.map(x => x.horse)]);
    return { kind: 'whorl-barn', format: 1, horses: f.horses.filter(x => needed.has(x.id)), exams, conflicts: f.conflicts };
  };
  let a = part({ ...now, conflicts });
  const b = part(theirs);
  const exams = fresh.filter(([store]) => store === 'exams').length;
  // Nothing, or all of it is new, and was checked when it was read.
  if (other.length === 0 && (fresh.length === 0 || a.horses.length + a.exams.length === 0)) return { out: { horses: fresh.length - exams, exams, conflicts: 0 }, changes: fresh };
  // What is here and does not keep the rules stays as it is: the other version, which stands in for it meanwhile, is in conflict with it.
  const bad = new Set<ID>();
  const beside: Conflict[] = [];
  for (;;) {
    try {
      const { file: both, fresh: found } = await core.call<{ file: BarnFile; fresh: Conflict[] | null }>('merge', { a, b });
      const stood: Conflict[] = [];
      const take = <T extends Horse | Exam>(list: T[], conflict: (x: T) => Conflict): T[] => list.filter(x => {
        if (differs(x) && bad.has(x.id)) stood.push(conflict(x));
        return differs(x) && !bad.has(x.id);
      });
      const [hs, es] = [take(both.horses, horse => ({ horse })), take(both.exams, exam => ({ exam }))];
      const all = new Map([...stood, ...both.conflicts ?? [], ...beside].map(c => [canonical({ ...c, aside: undefined }), c]));
      const versions = [...all.values()];
      // In another order they are the same: a file that brings nothing leaves the change before it to be taken back.
      const changed = differ(versions.map(canonical).sort(), now.conflicts.map(canonical).sort());
      return { out: { horses: hs.length, exams: es.length, conflicts: found?.length ?? 0 }, changes: [...put(hs, es), ...changed ? [['notes', 'conflicts', versions] as Change] : []] };
    } catch (e) {
      const left = sift(a, e, '/a');
      if (left.out.length === 0) throw e;
      for (const { of, record } of left.out) {
        if (of === 'conflicts') beside.push(record as Conflict);
        else bad.add((record as Horse).id);
      }
      a = left.file;
      for (const list of ['horses', 'exams'] as const) a[list] = [...a[list], ...b[list].filter(x => bad.has(x.id) && !a[list].some(y => (y as Horse).id === x.id))] as never;
    }
  }
}

/** Everything that is here, as a barn file. */
export async function wholeBarn(): Promise<BarnFile> {
  const now = await barn();
  const here = new Set(now.horses.map(h => h.id));
  return {
    kind: 'whorl-barn', format: 1, horses: now.horses, exams: now.exams, conflicts: about(now.conflicts, [...now.horses, ...now.exams]),
    gone: now.gone.filter(g => !here.has(g.id)), unread: now.unread, unknown: now.unknown,
  };
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

const exportMarks = async (): Promise<Record<string, string>> => (await note<Record<string, string>>('filed')) ?? {};

/** Notes that exams are in a file outside this device: by the id of each, the mark of its content. */
export async function markExported(exams: Exam[]): Promise<void> {
  const marks = await exportMarks();
  for (const e of exams) marks[e.id] = markOf(e);
  await putNote('filed', marks);
}

/** The exams that are in no file yet, withdrawn ones too, but for drafts and the demo's. */
export async function notExported(): Promise<Exam[]> {
  const [{ horses, exams }, marks] = await Promise.all([barn(), exportMarks()]);
  const demo = new Set(horses.filter(isDemo).map(h => h.id));
  return exams.filter(e => e.status !== 'draft' && !(demo.has(e.horse) && isDemo(e)) && marks[e.id] !== markOf(e));
}
