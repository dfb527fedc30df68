// What the core says under a sign, by what each sentence is about.

import type { Sentence } from '../../core/types';

/** The sentences on who published which range, which are read when one wants to know (the ruler shows the ranges); and the others. */
export const bySource = (all: Sentence[] = []): [sources: string[], said: string[]] =>
  [true, false].map(is => all.filter(s => (s.kind === 'published') === is).map(s => s.text)) as [string[], string[]];
