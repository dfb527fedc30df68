// For which animals something is: the stage of life and what goes with it, as package vitals has it.

import type { Exam, Grouped, Horse, RedFlag, Sign } from '../core/types';

/** The day some months or years after another, as the calendar of this place has it. */
const after = (from: Date, years: number, months: number, days: number): number =>
  new Date(from.getFullYear() + years, from.getMonth() + months, from.getDate() + days, from.getHours(), from.getMinutes(), from.getSeconds()).getTime();

/** The stage of life at a time; undefined where the birth is not known. */
export function lifeStageAt(horse: Pick<Horse, 'born' | 'bornAt' | 'bornYearOnly'>, at: string | number): string | undefined {
  if (!horse.born) return undefined;
  const t = new Date(at).getTime();
  let born = new Date(horse.born + 'T00:00');
  // The middle of the year halves the largest error of a year alone.
  if (horse.bornYearOnly) born = new Date(after(born, 0, 6, 0));
  if (horse.bornAt) born = new Date(horse.bornAt);
  const until: [string, number][] = [
    ['newborn', born.getTime() + 86_400_000], ['neonate', after(born, 0, 0, 7)], ['foal', after(born, 0, 6, 0)], ['weanling', after(born, 1, 0, 0)],
    ['yearling', after(born, 2, 0, 0)], ['two-year-old', after(born, 3, 0, 0)], ['adult', after(born, 20, 0, 0)],
  ];
  return until.find(([, end]) => t < end)?.[0] ?? 'senior';
}

/** For how many days after foaling the signs of a mare that foaled are asked. */
const BROOD_DAYS = 30;

export const inState = (exam: Pick<Exam, 'state'>, condition: string): boolean =>
  exam.state.condition === condition || !!exam.state.also?.includes(condition);

function broodmare(horse: Horse, at: string): boolean {
  const since = horse.foaledAt ? Date.parse(at) - Date.parse(horse.foaledAt) : NaN;
  return !!horse.inFoal || since < BROOD_DAYS * 86_400_000 && since >= -3_600_000;
}

/** The mare may still have a foal at foot that sucks. */
export const nursing = (horse: Horse, at: string): boolean =>
  !!horse.foaledAt && Date.parse(at) < after(new Date(horse.foaledAt), 0, 6, 0);

/** A sign is asked of this horse in this exam. */
export function signApplies(sign: Sign, horse: Horse, exam: Exam): boolean {
  const a = sign.applies;
  return !a || (!a.stages?.length || a.stages.includes(lifeStageAt(horse, exam.at) ?? 'adult'))
    && (!a.broodmare || broodmare(horse, exam.at)) && (!a.afterWork || inState(exam, 'after-work'));
}

/** A text is for this animal; an animal of unknown age counts as grown. */
export const textApplies = (g: Grouped | undefined, horse: Horse, at: string): boolean =>
  (!g?.types?.length || g.types.includes(horse.type)) && (!g?.stages?.length || g.stages.includes(lifeStageAt(horse, at) ?? 'adult'));

/** It sucks: whether it nurses is asked in the place of whether it eats. */
export const sucks = (horse: Horse, at: string): boolean => ['newborn', 'neonate', 'foal'].includes(lifeStageAt(horse, at) ?? '');

/** Stages in which no mare foals. */
const TOO_YOUNG = ['newborn', 'neonate', 'foal', 'weanling', 'yearling'];

/** A red flag is offered for an animal; of one that nobody named, or of unknown age or sex, each that may be. */
export function flagApplies(f: RedFlag, horse: Horse | undefined, at: string): boolean {
  if (!horse) return true;
  const stage = lifeStageAt(horse, at);
  return (!f.stages?.length || stage === undefined || f.stages.includes(stage)) && (!f.types?.length || f.types.includes(horse.type))
    && (!f.inFoal || !!horse.inFoal || nursing(horse, at)) && (!f.mares || (!horse.sex || horse.sex === 'mare') && !(stage && TOO_YOUNG.includes(stage)));
}
