// The names of things, from the message file: the one place that knows its keys.

import * as core from '../core/core';
import type { Exam, Finding, Horse, Measured, Sign, State } from '../core/types';
import { hasMessage, lang, list, say, sayFirst } from '../core/words';
import { age, dateTime } from './dates';

export const signName = (id: string): string => say('sign.' + id);
export const siteName = (id: string): string => say('site.' + id);
export const gradeName = (sign: string, grade: string): string => sayFirst([`grade.${sign}.${grade}`, 'grade.' + grade]);
export const deviceName = (id: string): string => say('device.' + id);
export const unitName = (id: string): string => say('unit.' + id);
/** Why there is no value, in a sentence; and on a button. */
export const absenceName = (id: string): string => say('absence.' + id);
export const absenceButton = (id: string): string => say('page.absent.' + id);
/** The conditions of a state, in one text. */
export const stateName = (s: State): string => list([s.condition, ...(s.also ?? [])].filter(Boolean).map((c, i) => (i ? say('condition.' + c).toLocaleLowerCase(lang) : say('condition.' + c))));
const lowerFirst = (text: string): string => text.slice(0, 1).toLocaleLowerCase(lang) + text.slice(1);
/** Phrases that begin with a capital each, as one sentence has them. */
export const listInText = (items: string[]): string => list(items.map((t, i) => (i ? lowerFirst(t) : t)));
export const optional = (key: string): string => (hasMessage(key) ? say(key) : '');

/** Of less than half a year, by the day of birth. */
const isFoal = (h: Horse, now = Date.now()): boolean => !!h.born && !h.bornYearOnly && now - Date.parse(h.born) < 183 * 86_400_000;

export function horseText(h: Horse): string {
  const kind = isFoal(h) ? say('page.horse.foal.' + (h.sex ?? 'unknown')) : h.sex ? say('sex.' + h.sex) : '';
  const type = h.type === 'horse' && kind ? '' : say('type.' + h.type);
  return [type, kind, age(h.born), h.inFoal ? say('page.horse.inFoal') : ''].filter(Boolean)
    .map((word, i) => (i ? word.toLocaleLowerCase(lang) : word)).join(', ');
}

/** Whose finding it is: girth and length come to a weight by the formula of the animal. */
export interface Of { horse: Horse; exam: Exam }

/** How the core says a measured finding; undefined while the core is away or refuses. */
export async function measured(sign: string, finding: Finding, of?: Of): Promise<Measured | undefined> {
  try {
    return await core.call<Measured>('measure', { sign, finding, ...(of ? { horse: of.horse, at: of.exam.at } : {}) });
  } catch {
    return undefined;
  }
}

const measuring = (f: Finding): boolean => !!(f.count || f.taps || f.reading || f.timed || f.girth);

/** A finding as a person reads it. */
export async function findingText(sign: Sign, f: Finding, of?: Of): Promise<string> {
  const where = f.where?.length ? ` (${list(f.where.map(siteName))})` : '';
  if (f.absent) return absenceName(f.absent);
  if (f.chosen?.length) return list(f.chosen.map(g => gradeName(sign.id, g))) + where;
  if (!measuring(f)) return '';
  const m = await measured(sign.id, f, of);
  return m?.shown ?? enteredText(f);
}

/** What was entered, in its own form: what there is to show without the core. */
export function enteredText(f: Finding): string {
  if (f.count) return say('page.entered.count', { n: f.count.events, seconds: f.count.seconds });
  if (f.taps) return say('page.entered.taps', { n: f.taps.atMs.length });
  if (f.timed) return f.timed.centiSeconds.map(c => (c / 100).toFixed(1) + ' s').join(', ');
  if (f.reading) return `${f.reading.value} ${unitName(f.reading.unit)}`;
  if (f.girth) return `${f.girth.girth} × ${f.girth.length} ${unitName(f.girth.unit)}`;
  return '';
}

export const heading = (h: Pick<Horse, 'name'>, what: string): string => `${h.name} · ${what}`;

/** That an exam was corrected, when and by whom. */
export const correctedText = ({ corrected: c }: Exam): string =>
  (c ? say(c.by ? 'page.correct.by' : 'page.correct.at', { at: dateTime(c.at), by: c.by ?? '' }) : '');
