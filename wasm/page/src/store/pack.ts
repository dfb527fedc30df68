// The clinic's file: beside the page, built into it, or loaded by hand. It adds; the core
// says what it changed.

import * as core from '../core/core';
import type { Exam, Fault, Horse, Pack } from '../core/types';
import { languages, say } from '../core/words';
import { dialable, telOf } from '../text/numbers';
import { reportLang } from './preferences';
import { isDemo } from './demo';
import * as store from './store';

let mine: Pack | undefined;
let loading: Promise<void> | undefined;

/** The clinic's file in use. */
export const pack = (): Pack | undefined => mine;

/** Without the core the file could not be read: whoever asks next tries again. */
let unread = false;
/** A request has gone out with the clinic's file as it was then. */
let answered = false;
let changed = (): void => undefined;

/** What is done when a clinic's file has come in after a screen was made. */
export const setPackChanged = (f: () => void): void => { changed = f; };

/** What goes into a request that a clinic's file adds to. */
export async function withPack(): Promise<{ pack?: Pack }> {
  if (unread) void loadPack();
  await loading;
  answered = true;
  return mine ? { pack: mine } : {};
}

export interface PackFault extends Fault { line: number }

/** Reads the text of a clinic's file; undefined and its faults if it is not in order. */
export async function readPack(text: string): Promise<{ pack?: Pack; faults: PackFault[] }> {
  const got = await core.call<{ pack?: Pack; faults: Fault[] | null; lines: number[] | null }>('pack', { pack: text });
  return { pack: got.pack, faults: (got.faults ?? []).map((f, i) => ({ ...f, line: got.lines?.[i] ?? 1 })) };
}

/** Uses a file that a person chose, from now on; its faults if it is not in order. */
export async function choosePack(text: string): Promise<PackFault[]> {
  const got = await readPack(text);
  if (got.pack) {
    await store.putPack('chosen', text);
    await use(got.pack);
  }
  return got.faults;
}

/** Puts the chosen file away; the one beside the page counts again. */
export async function dropPack(): Promise<void> {
  await store.putPack('chosen', undefined);
  mine = undefined;
  await keepNumbers({ clinic: undefined });
  await loadPack();
}

export const chosenByHand = async (): Promise<boolean> => !!(await store.pack('chosen'));

/** The numbers that this device keeps for itself. */
let kept: Pick<store.Prefs, 'clinic' | 'vet'> = {};

export const useNumbers = ({ clinic, vet }: store.Prefs): void => { kept = { clinic, vet }; };

/** Keeps numbers, so that they are there before the core is. */
export async function keepNumbers(change: Pick<store.Prefs, 'clinic' | 'vet'>): Promise<boolean> {
  kept = { ...kept, ...change };
  return store.putPrefs(change);
}

const clinicNumbers = (p: Pack): store.Callable[] => p.clinic.numbers.map(n => ({ name: p.clinic.name, phone: n.phone, hours: n.hours }));

async function use(p: Pack): Promise<void> {
  mine = p;
  if (JSON.stringify(kept.clinic) !== JSON.stringify(clinicNumbers(p))) await keepNumbers({ clinic: clinicNumbers(p) });
  // The clinic's units are offered first, until a person has chosen.
  const kinds: Record<string, string> = { Cel: 'temperature', '[degF]': 'temperature', kg: 'weight', '[lb_av]': 'weight', cm: 'length', '[in_i]': 'length' };
  const units = { ...(await store.prefs()).units };
  let fresh = false;
  for (const u of p.units ?? []) {
    const kind = kinds[u];
    if (kind && !units[kind]) { units[kind] = u; fresh = true; }
  }
  if (fresh) await store.putPrefs({ units });
}

/** What is beside the page now: its text, '' for nothing, undefined when it cannot be told. */
async function beside(): Promise<string | undefined> {
  const inside = document.getElementById('clinic')?.textContent;
  if (inside) return inside;
  if (!location.protocol.startsWith('http')) return '';
  try {
    const answer = await fetch('clinic.json', { cache: 'no-cache' });
    if (answer.ok) return await answer.text();
    return answer.status === 404 || answer.status === 410 ? '' : undefined;
  } catch {
    return undefined; // no network: what was there the last time counts
  }
}

/** Uses a text, unless it is not in order; kept: and has it the next time too. */
async function take(text: string, kept = false): Promise<void> {
  try {
    const got = await readPack(text);
    unread = false;
    if (!got.pack) return console.warn('clinic.json', got.faults.map(f => `line ${f.line}: ${f.path} ${f.sentence}`).join('\n'));
    const fresh = JSON.stringify(got.pack) !== JSON.stringify(mine);
    if (kept) await store.putPack('beside', text);
    await use(got.pack);
    if (fresh && answered) changed();
  } catch {
    unread = true; // without the core there is nothing to compare by the clinic's rules
  }
}

/** What the clinic has beside the page by now. A file that is not in order does not put away the one that is in use. */
async function renew(was: string | undefined): Promise<void> {
  const text = await beside();
  if (text === undefined || text === (was ?? '')) return;
  if (text) return take(text, true);
  await store.putPack('beside', undefined);
  mine = undefined;
  await keepNumbers({ clinic: undefined });
  if (answered) changed();
}

/** Loads the clinic's file; safe to call often. Nobody waits long for the network: what comes later is applied when it comes. */
export function loadPack(): Promise<void> {
  return (loading ??= (async () => {
    const chosen = await store.pack('chosen');
    if (chosen) return take(chosen);
    const was = await store.pack('beside');
    if (was) await take(was);
    const now = renew(was);
    if (!was) await Promise.race([now, new Promise(done => setTimeout(done, 3000))]);
  })().finally(() => { loading = undefined; }));
}

/** A number as it is shown: on one line, but where letters are so large that it has no room on one and would break inside a figure. */
export const phoneText = (phone: string): string =>
  parseFloat(getComputedStyle(document.documentElement).fontSize) > 24 ? phone : phone.replace(/ /g, '\u00a0');

/** Whose card says whom to call; of an animal that nobody named, the cards of all. */
export type Whom = Pick<Horse, 'contacts'> | undefined;

/** The cards of all horses but the demo's: of an animal that nobody named, and where its own has no number. */
export const allNumbers = (horses: Horse[]): Whom => ({ contacts: horses.filter(x => !isDemo(x)).flatMap(x => x.contacts ?? []) });

/** What can be dialled of an entry: each number of it by itself, with the whole text beside where there are several. */
export const callable = (n: store.Callable): store.Callable[] => dialable(n.phone).map((phone, _, { length }) =>
  (length > 1 ? { ...n, phone, hours: [n.phone, n.hours].filter(Boolean).join(' · ') } : n));

/** Whom to call: the clinic's numbers with their hours, those on the horse's card, the one typed in. */
export function numbersOf(horse: Whom): store.Callable[] {
  const all = (mine ? clinicNumbers(mine) : kept.clinic ?? []).flatMap(callable);
  const more: store.Callable[] = (horse?.contacts ?? []).filter(c => c.phone).map(c => ({ name: c.name, phone: c.phone!, hours: c.role }));
  if (kept.vet) more.push({ name: say('page.number.vet'), phone: kept.vet });
  for (const n of more.flatMap(callable)) if (!all.some(x => telOf(x.phone) === telOf(n.phone))) all.push(n);
  return all;
}

/** The number to be called back at: the one typed before, or that of the card's contact who bears the name of who checks. */
export const callbackOf = (exam: Exam, horse: Whom, prefs: store.Prefs): string | undefined => {
  const by = (exam.by ?? prefs.by ?? '').trim().toLocaleLowerCase();
  return prefs.callback || (by ? horse?.contacts?.find(c => c.phone && c.name.trim().toLocaleLowerCase() === by)?.phone : undefined);
};

/** The language in which one tells: the one chosen, the clinic's first, the page's. */
export async function vetLanguage(): Promise<string> {
  const prefs = await store.prefs();
  const clinic = mine?.langs?.find(l => languages.some(x => x.id === l));
  return prefs.reportLang === undefined && clinic ? clinic : reportLang(prefs);
}
