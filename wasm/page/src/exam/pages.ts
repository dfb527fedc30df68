// The way through an exam: what is seen at once is one page, what is counted is one of its own.

import type { Sign, Step } from '../core/types';
import { say } from '../core/words';
import { signName } from '../text/names';
import type { Child } from '../ui/dom';
import { go, goInstead } from '../ui/route';
import { type Draft, eachSite } from './draft';

export interface ExamPage {
  /** The index of its first step; the page's address. */
  at: number;
  steps: Step[];
  /** The indices of its steps. */
  indices: number[];
  /** Several signs that are seen together are answered together. */
  group: boolean;
}

/** What the clinic asks at a page; it comes with the screens that are loaded after the first. */
export let clinicAsks: (draft: Draft, signs?: string[]) => Child = () => null;
export const setClinicAsks = (f: typeof clinicAsks): void => { clinicAsks = f; };

const chosen = (s: Sign): boolean => s.kind === 'grade' || s.kind === 'choice';

/** Runs of signs that are chosen from a list, of one section; what is chosen from afar is one page, before what is counted there. */
export function pagesOf(draft: Draft): ExamPage[] {
  const out: ExamPage[] = [];
  let run = '';
  draft.steps.forEach((step, i) => {
    if (!draft.asks(step)) return;
    const sign = draft.sign(step.sign);
    const key = chosen(sign) && !draft.partial ? (step.depth === 'walk-up' ? step.depth : sign.section) : '';
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

/** The number of the page that a step belongs to; of one that is not there any more the nearest. */
export function pageIndexOf(draft: Draft, step: number): number {
  const pages = pagesOf(draft);
  const n = pages.findIndex(s => s.indices.includes(step));
  return n < 0 ? Math.max(0, pages.length - 1) : n;
}

export const pageName = (draft: Draft, page: ExamPage): string => {
  const sign = draft.sign(page.steps[0]!.sign);
  if (page.group) return page.steps[0]!.depth === 'walk-up' ? say('page.group.walk-up') : say('section.' + sign.section);
  return signName(sign.id) + (sign.again && page.steps[0]!.sites?.length === 1 ? ', ' + say('site.' + page.steps[0]!.sites![0]!) : '');
};

/** Every place of the step has a value. */
export const isAnswered = (draft: Draft, step: Step): boolean =>
  eachSite(draft.sign(step.sign), step).every(site => { const f = draft.finding(step, site); return f && !f.absent; });

/** Somebody said of the step what there is to say, be it that it could not be done. */
export const isDone = (draft: Draft, step: Step): boolean =>
  eachSite(draft.sign(step.sign), step).every(site => draft.finding(step, site));

/** The address parts of a page: a group has a screen of its own unless they are asked one by one. */
const partsOf = (page: ExamPage): (string | number)[] => (page.group ? ['g', page.at] : [page.at]);

/** Goes to a page; after the last come the story, if something is wrong, and the check. */
export const goToPage = (draft: Draft, n: number, instead = false): void => {
  const page = pagesOf(draft)[n];
  const parts = page ? partsOf(page) : draft.partial ? ['done'] : draft.exam.purpose === 'concern' && !draft.exam.story ? ['story', 1] : ['check'];
  (instead ? goInstead : go)('exam', draft.exam.id, ...parts);
};

/** The first page of which something is open; all of them are done at the end. */
export const nextOpenPage = (draft: Draft): number => {
  const pages = pagesOf(draft);
  const n = pages.findIndex(s => s.steps.some(step => !isDone(draft, step)));
  return n < 0 ? pages.length : n;
};
