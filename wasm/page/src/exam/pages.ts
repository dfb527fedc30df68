// The way through an exam: what is seen at once is one stop, what is counted is one of its own.

import { type Draft, eachSite } from './draft';
import { signName } from '../text/names';
import { go, goInstead } from '../ui/route';
import type { Sign, Step } from '../core/types';
import { say } from '../core/words';

export interface Stop {
  /** The index of its first step; the stop's address. */
  at: number;
  steps: Step[];
  /** The indices of its steps. */
  indices: number[];
  /** Several signs that are seen together are answered together. */
  group: boolean;
}

const chosen = (s: Sign): boolean => s.kind === 'grade' || s.kind === 'choice';

/** Runs of signs that are chosen from a list, of one section; what is chosen from afar is one stop, before what is counted there. */
export function stopsOf(draft: Draft): Stop[] {
  const out: Stop[] = [];
  let run = '';
  draft.steps.forEach((step, i) => {
    const sign = draft.sign(step.sign);
    const key = chosen(sign) && !draft.short ? (step.depth === 'walk-up' ? step.depth : sign.section) : '';
    const last = key === 'walk-up' ? out.find(s => s.steps[0]!.depth === key && chosen(draft.sign(s.steps[0]!.sign))) : key && key === run ? out[out.length - 1] : undefined;
    if (last) {
      last.steps.push(step);
      last.indices.push(i);
      last.group = true;
    } else out.push({ at: i, steps: [step], indices: [i], group: false });
    run = key;
  });
  return out;
}

/** The number of the stop that a step belongs to; of one that is not there any more the nearest. */
export function stopOf(draft: Draft, step: number): number {
  const stops = stopsOf(draft);
  const n = stops.findIndex(s => s.indices.includes(step));
  return n < 0 ? Math.max(0, stops.length - 1) : n;
}

export const nameOf = (draft: Draft, stop: Stop): string => {
  const sign = draft.sign(stop.steps[0]!.sign);
  if (stop.group) return stop.steps[0]!.depth === 'walk-up' ? say('page.group.walk-up') : say('section.' + sign.section);
  return signName(sign.id) + (sign.again && stop.steps[0]!.sites?.length === 1 ? ', ' + say('site.' + stop.steps[0]!.sites![0]!) : '');
};

/** Every place of the step has a value. */
export const answered = (draft: Draft, step: Step): boolean =>
  eachSite(draft.sign(step.sign), step).every(site => { const f = draft.finding(step, site); return f && !f.absent; });

/** Somebody said of the step what there is to say, be it that it could not be done. */
export const dealt = (draft: Draft, step: Step): boolean =>
  eachSite(draft.sign(step.sign), step).every(site => draft.finding(step, site));

/** The address parts of a stop: a group has a screen of its own unless they are asked one by one. */
const partsOf = (stop: Stop): (string | number)[] => (stop.group ? ['g', stop.at] : [stop.at]);

/** Goes to a stop; after the last come the story, if something is wrong, and the check. */
export const goStop = (draft: Draft, n: number, instead = false): void => {
  const stop = stopsOf(draft)[n];
  const parts = stop ? partsOf(stop) : draft.short ? ['done'] : draft.exam.purpose === 'concern' && !draft.exam.story ? ['story', 1] : ['check'];
  (instead ? goInstead : go)('exam', draft.exam.id, ...parts);
};

/** The first stop of which something is open; all of them are done at the end. */
export const nextOpen = (draft: Draft): number => {
  const stops = stopsOf(draft);
  const n = stops.findIndex(s => s.steps.some(step => !dealt(draft, step)));
  return n < 0 ? stops.length : n;
};
