// Why to call, in the words of the rules: for the screens that come later, since the rules are many.

import { caution, h, para } from '../ui/dom';
import type { Fired } from '../core/types';
import { has, say } from '../core/words';

/** Why to call: a rule of the clinic's own file has no words here; its warning has them. */
export const alarmSaid = (id: string): string => (has('alarm.' + id) ? say('alarm.' + id) : say('page.ring.clinic'));

/** The rules to call, as a caution; nothing where none fired. */
export const ringCaution = (fired: Fired[]): HTMLElement | false => fired.length > 0 &&
  caution(h('p', {}, h('strong', {}, say('page.ring.now'))), fired.map(a => para(alarmSaid(a.alarm))));
