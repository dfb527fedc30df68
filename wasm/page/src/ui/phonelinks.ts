// Telephone numbers to call in one touch.

import { say } from '../core/words';
import { numbersOf, phoneText, telOf, type Whom } from '../store/pack';
import { h } from './dom';

/** The numbers as large links. */
export function phoneLinks(horse: Whom): HTMLElement[] {
  return numbersOf(horse).map(n => h('a', { class: 'ring', href: telOf(n.phone) },
    h('span', { class: 'answer' }, say('page.call.ring.at', { name: n.name })), h('span', { class: 'note' }, [phoneText(n.phone), n.hours].filter(Boolean).join(' · '))));
}
