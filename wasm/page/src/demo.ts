// The demo barn: invented animals, marked as such by their ids, taken out in one tap.

import { daysBetween, rfc3339 } from './clock';
import { load } from './load';
import * as store from './store';
import type { Exam, Horse } from './types';
import { lang, messages } from './words';

declare const DEMO_URL: string;

interface Demo { horses: Horse[]; exams: Exam[] }

const mark = 'demo-';

export const isDemo = (h: Horse): boolean => h.id.startsWith(mark);
export const demoIDs = (hs: Horse[]): string[] => hs.filter(isDemo).map(h => h.id);

/** Has the demo barn on its way before it is wanted. */
export function hurryDemo(): void {
  if (!DEMO_URL.startsWith('#')) fetch(DEMO_URL).catch(() => undefined);
}

/** Puts the demo barn in, once, with its last exam yesterday: a foal must stay a foal. */
export async function putDemo(now: Date): Promise<void> {
  const prefs = await store.prefs();
  if (prefs.demo || (await store.horses()).length > 0) return;
  const file = await load<Demo>(DEMO_URL).then(inWords).catch(() => undefined);
  if (!file) return;
  const last = Math.max(...file.exams.map(e => Date.parse(e.at.slice(0, 19))));
  const days = daysBetween(new Date(last), now) - 1;
  const horses = file.horses.map(h => (h.born && !h.bornYearOnly ? { ...h, born: shiftDay(h.born, days) } : h));
  const exams = file.exams.map(e => ({ ...e, at: shift(e.at, days) }));
  if (await store.putAll(horses, exams)) await store.putPrefs({ demo: 'in' });
}

/** The demo barn was written in English; its texts are said in the language of the page. */
async function inWords(file: Demo): Promise<Demo> {
  const [english, own] = [await messages('en'), await messages(lang)];
  const said = new Map(Object.entries(english).filter(([key]) => key.startsWith('page.demo.text.')).map(([key, text]) => [text, own[key]]));
  return JSON.parse(JSON.stringify(file), (_, value: unknown) => (typeof value === 'string' ? said.get(value) ?? value : value)) as Demo;
}

/** The same hour of the clock in this zone, so many days later. */
function shift(at: string, days: number): string {
  const d = new Date(at.slice(0, 19));
  d.setDate(d.getDate() + days);
  return rfc3339(d);
}

const shiftDay = (day: string, days: number): string => shift(day + 'T12:00:00', days).slice(0, 10);
