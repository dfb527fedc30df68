// Telephone numbers to call in one touch.

import { say } from '../core/words';
import { callable, numbersOf, phoneText, type Whom } from '../store/pack';
import type { Callable } from '../store/store';
import { telOf } from '../text/numbers';
import { h, para } from './dom';

const phoneLink = (label: string, n: Callable): HTMLElement => h('a', { class: 'ring', href: telOf(n.phone) },
  h('span', { class: 'answer' }, label), h('span', { class: 'note' }, [phoneText(n.phone), n.hours].filter(Boolean).join(' · ')));

/** The numbers as large links. */
export const phoneLinks = (horse: Whom): HTMLElement[] => numbersOf(horse).map(n => phoneLink(say('page.call.ring.at', { name: n.name }), n));

/** One entry: a link for each number in it, its text where there is none. */
export function entryLinks(label: string, entry: Callable): HTMLElement[] {
  const all = callable(entry);
  return all.length > 0 ? all.map(n => phoneLink(label, n)) : [para([entry.name, entry.phone, entry.hours].filter(Boolean).join(' · '))];
}
