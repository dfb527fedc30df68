// "Call your vet now" was said: remembered with the exam until a person says what became of it. An exam of
// which nobody has said yet whose it is waits under a key of its own.

import type { Call, Exam, Finding, Horse, ID } from '../core/types';
import { rfc3339 } from '../text/dates';
import * as store from './store';

/** What was seen wrong with an animal that nobody has named yet: its exam has no horse. */
export interface UnnamedExam { exam: Exam; flags: string[] }

const unnamedKey = (id: ID): string => 'wrong:' + id;
export const unnamedExams = (): Promise<UnnamedExam[]> => store.notesOf<UnnamedExam>('wrong:');
export const unnamedExam = (id: ID): Promise<UnnamedExam | undefined> => store.note(unnamedKey(id));
export const putUnnamed = (w: UnnamedExam): Promise<boolean> => store.putNote(unnamedKey(w.exam.id), w);
export const dropUnnamed = (id: ID): Promise<boolean> => store.dropNote(unnamedKey(id));

/** For how long a call stands at the top of the list: afterwards it is a line of the horse. */
const AT_TOP = 86_400_000;

export const isOpen = (e: Exam): boolean => !!e.call && !e.call.closedAt;
export const isAtTop = (e: Exam): boolean => isOpen(e) && Date.now() - Date.parse(e.call!.saidAt) < AT_TOP;

/** The call with rules that say to call now, first said now if it was not said before. */
export function withAlarms(call: Call | undefined, alarms: string[]): Call {
  const all = [...new Set([...(call?.alarms ?? []), ...alarms])].sort().slice(0, 64);
  return { ...(call ?? { saidAt: rfc3339(new Date()) }), ...(all.length ? { alarms: all } : {}) };
}

/** Changes what is remembered of a call, as it is kept. */
export async function editCall(exam: Exam, change: (c: Call) => Call): Promise<boolean> {
  if (!exam.call) return false;
  if (exam.call.today) return putToday(exam.id, change(exam.call));
  if (exam.horse) return !!(await store.editExam(exam, kept => ({ ...kept, call: change(kept.call ?? exam.call!) })));
  const w = await unnamedExam(exam.id);
  return !!w?.exam.call && putUnnamed({ ...w, exam: { ...w.exam, call: change(w.exam.call) } });
}

/** A person said that the vet was told; whom, as far as it is known. */
export const markTold = (whom: string | undefined) => (c: Call): Call => ({ ...c, toldAt: rfc3339(new Date()), ...(whom ? { told: whom } : {}) });
export const unmarkTold = ({ toldAt: _, told: __, ...c }: Call): Call => c;
/** A person said what became of it. */
export const closeCall = (outcome: string) => (c: Call): Call => ({ ...c, closedAt: rfc3339(new Date()), ...(outcome ? { outcome } : {}) });
export const reopenCall = ({ closedAt: _, outcome: __, ...c }: Call): Call => c;

/** What is remembered of a call beside the record, on this device: every red flag that was its reason once, the rules that the core named last
 *  (none: not asked yet), and of what the vet was told: what the rules say of those findings is asked when the core is there. */
export interface CallNote {
  exam: ID;
  /** What a person said after the telling, and that leaves the call open. */
  again?: 'worse' | 'unreached';
  seen?: string[];
  rules?: Rule[];
  /** How the exam begins was said by hand. */
  started?: boolean;
  told?: { flags: string[]; alarms: string[]; findings?: Finding[] };
}
export interface Rule { alarm: string; sign: string }

let callNotes = new Map<ID, CallNote>();

/** By exam, that "tell your vet today" was said of it. The record has no place for it: it stays on this device. */
let todays = new Map<ID, Call>();
/** The horses that a person said have died, and when that was said: nothing more is asked of them. Nothing of theirs is deleted. */
let died = new Map<ID, string>();

/** Reads anew what is remembered of calls. */
export async function reloadCallNotes(): Promise<void> {
  const [notes, soon, gone] = await Promise.all([store.notesOf<CallNote>('call:'), store.notesOf<{ exam: ID; call: Call }>('today:'), store.notesOf<{ horse: ID; at: string }>('died:')]);
  callNotes = new Map(notes.map(n => [n.exam, n]));
  todays = new Map(soon.map(n => [n.exam, n.call]));
  died = new Map(gone.map(n => [n.horse, n.at]));
}

/** When it was said that the horse has died. */
export const diedAt = (horse: ID): string | undefined => died.get(horse);
export function putDied(horse: ID, is: boolean): Promise<boolean> {
  const at = rfc3339(new Date());
  if (is) died.set(horse, at);
  else died.delete(horse);
  return is ? store.putNote('died:' + horse, { horse, at }) : store.dropNote('died:' + horse);
}

/** An exam with what is remembered of "tell your vet today": for the screen, never for the core or the store. */
export const withToday = (exam: Exam): Exam => (exam.call || !todays.has(exam.id) ? exam : { ...exam, call: todays.get(exam.id)! });

/** The exam as it is in the record. */
export const recordOnly = (exam: Exam): Exam => (exam.call?.today ? { ...exam, call: undefined } : exam);

const putToday = (exam: ID, call: Call): Promise<boolean> => {
  todays.set(exam, call);
  return store.putNote('today:' + exam, { exam, call });
};

/** Remembers that rules said to tell the vet today. */
export const rememberToday = async (exam: Exam, alarms: string[]): Promise<unknown> =>
  exam.call || todays.has(exam.id) || putToday(exam.id, { ...withAlarms(undefined, alarms), today: true });

export const callNote = (id: ID): CallNote => callNotes.get(id) ?? { exam: id };

export function putCallNote(id: ID, change: Partial<CallNote>): Promise<boolean> {
  const note = { ...callNote(id), ...change };
  callNotes.set(id, note);
  return store.putNote('call:' + id, note);
}

/** What stands by now is what the vet was told, or what a person closed. */
export const coverReasons = (exam: Exam, flags: string[]): Promise<boolean> => putCallNote(exam.id, { told: {
  flags, alarms: [...new Set([...(exam.call?.alarms ?? []), ...(callNote(exam.id).rules ?? []).map(r => r.alarm)])], findings: exam.findings ?? [],
}, again: undefined });

/** A person said that the vet was told: of these flags, and of what the rules say of the answers. */
export const tellVet = async (exam: Exam, flags: string[], whom: string | undefined): Promise<boolean> =>
  await coverReasons(exam, flags) && editCall(exam, markTold(whom));

/** An exam by its id, also one of which nobody has said whose it is. */
export async function examOf(id: ID): Promise<{ exam: Exam; horse?: Horse; flags?: string[] } | undefined> {
  const exam = await store.exam(id);
  if (exam) {
    const horse = await store.horse(exam.horse);
    return horse && { exam: withToday(exam), horse };
  }
  return unnamedExam(id);
}
