// The demo barn: invented animals, marked as such by their ids, taken out in one tap.

import { load } from '../core/load';
import type { Exam, Horse } from '../core/types';
import { say } from '../core/words';
import { daysBetween, rfc3339 } from '../text/dates';
import * as store from './store';

declare const DEMO_URL: string;

interface Demo { horses: Horse[]; exams: Exam[] }

const mark = 'demo-';

/** Of a horse or an exam: the demo barn brought it. */
export const isDemo = (x: Horse | Exam): boolean => x.id.startsWith(mark);
export const demoIDs = (hs: Horse[]): string[] => hs.filter(isDemo).map(h => h.id);

let coming: Promise<Demo> | undefined;

/** Has the demo barn on its way before it is wanted. */
export function prefetchDemo(): Promise<Demo> {
  if (!coming) (coming = load<Demo>(DEMO_URL)).catch(() => { coming = undefined; });
  return coming;
}

/** Puts the demo barn in, once, with its last exam yesterday: a foal must stay a foal. */
export async function putDemo(now: Date): Promise<void> {
  const file = await prefetchDemo().then(inWords).catch(() => undefined);
  if (!file) return;
  const last = Math.max(...file.exams.map(e => Date.parse(e.at.slice(0, 19))));
  const days = daysBetween(new Date(last), now) - 1;
  const horses = file.horses.map(h => (h.born && !h.bornYearOnly ? { ...h, born: shiftDay(h.born, days) } : h));
  await store.putDemo(horses, file.exams.map(e => ({ ...e, at: shift(e.at, days) })));
}

/** The texts of the demo barn are keys: they are said in the language of the page. */
const inWords = (file: Demo): Demo => JSON.parse(JSON.stringify(file), (_, value: unknown) =>
  (typeof value === 'string' && value.startsWith('page.demo.text.') ? say(value) : value)) as Demo;

/** The same hour of the clock in this zone, so many days later. */
function shift(at: string, days: number): string {
  const d = new Date(at.slice(0, 19));
  d.setDate(d.getDate() + days);
  return rfc3339(d);
}

const shiftDay = (day: string, days: number): string => shift(day + 'T12:00:00', days).slice(0, 10);
