// What to mind before a sign is looked at.

import type { Book, Grouped, Horse, Sign } from '../core/types';
import { say } from '../core/words';
import { caution, type Child, h, para } from '../ui/dom';
import type { Draft } from './draft';
import { textApplies } from './lifestage';

export const stepCautions = (draft: Draft, signs: Sign[]): Child => cautionsOf(draft.book, draft.horse, draft.exam.at, signs);

/** The cautions of the signs, each once: the first is read, the rest are one touch away. Of an animal that nobody named, those for every one. */
export function cautionsOf(book: Book, horse: Horse | undefined, at: string, signs: Sign[]): Child {
  const holds = (c: Grouped | undefined): boolean => (horse ? textApplies(c, horse, at) : !c?.types?.length && !c?.stages?.length);
  const ids = [...new Set(signs.flatMap(s => s.cautions ?? []))].filter(id => holds(book.cautions.find(c => c.id === id)));
  return ids.length > 0 && caution(para(say('caution.' + ids[0]!)),
    ids.length > 1 && h('details', {}, h('summary', {}, say('page.cautions.more', { n: ids.length - 1 })),
      ids.slice(1).map(c => para(say('caution.' + c)))));
}
