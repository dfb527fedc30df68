// Why to call, in the words of the rules: for the screens that come later, since the rules are many.

import type { Fired } from '../core/types';
import { hasMessage, say } from '../core/words';
import { dateTimeShort } from '../text/dates';
import { caution, h, para } from '../ui/dom';

/** Why to call: a rule of the clinic's own file has no words here; its warning has them. */
export const alarmText = (id: string): string => (hasMessage('alarm.' + id) ? say('alarm.' + id) : say('page.ring.clinic'));

/** The same of a rule that fired: one that an earlier look saw says when. */
export const firedText = (f: Fired): string => (f.seen ? say('page.ring.held', { at: dateTimeShort(f.seen), what: alarmText(f.alarm) }) : alarmText(f.alarm));

/** The rules to call, as a caution; nothing where none fired. */
export const callCaution = (fired: Fired[]): HTMLElement | false => fired.length > 0 &&
  caution(h('p', {}, h('strong', {}, say('page.ring.now'))), fired.map(a => para(firedText(a))));
