// What is still to be learnt of a horse, in words.

import type { Due } from '../core/types';
import { list, say } from '../core/words';
import { signName } from '../text/names';

/** "Still unknown: heart rate, temperature and 5 more". */
export function unknownText(due: Due, most = 2): string {
  const signs = due.unknown ?? [];
  if (signs.length === 0) return '';
  const shown = signs.slice(0, most).map(s => signName(s).toLocaleLowerCase());
  if (signs.length > most) shown.push(say('page.practise.more', { n: signs.length - most }));
  return say('page.practise.unknown', { signs: list(shown) });
}
