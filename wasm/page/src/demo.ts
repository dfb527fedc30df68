// The demo barn: invented animals, marked as such by their ids, taken out in one tap.

import { daysBetween, rfc3339 } from './clock';
import { load } from './load';
import * as store from './store';
import type { Exam, Horse } from './types';

declare const DEMO_URL: string;

const mark = 'demo-';

export const isDemo = (h: Horse): boolean => h.id.startsWith(mark);
export const demoIDs = (hs: Horse[]): string[] => hs.filter(isDemo).map(h => h.id);

/** Puts the demo barn in, once, with its last exam yesterday: a foal must stay a foal. */
export async function putDemo(now: Date): Promise<void> {
  const prefs = await store.prefs();
  if (prefs.demo || (await store.horses()).length > 0) return;
  const file = await load<{ horses: Horse[]; exams: Exam[] }>(DEMO_URL).catch(() => undefined);
  if (!file) return;
  const last = Math.max(...file.exams.map(e => Date.parse(e.at.slice(0, 19))));
  const days = daysBetween(new Date(last), now) - 1;
  const horses = file.horses.map(h => (h.born && !h.bornYearOnly ? { ...h, born: shiftDay(h.born, days) } : h));
  const exams = file.exams.map(e => ({ ...e, at: shift(e.at, days) }));
  if (await store.putAll(horses, exams)) await store.putPrefs({ demo: 'in' });
}

/** The same hour of the clock in this zone, so many days later. */
function shift(at: string, days: number): string {
  const d = new Date(at.slice(0, 19));
  d.setDate(d.getDate() + days);
  return rfc3339(d);
}

const shiftDay = (day: string, days: number): string => shift(day + 'T12:00:00', days).slice(0, 10);
