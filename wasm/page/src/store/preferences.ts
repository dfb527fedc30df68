// What a person can choose for the whole page, and what holds until then.

import { lang, languages } from '../core/words';
import type { Prefs } from './store';

/** The units that can be chosen, by what they measure; the first holds until one is chosen. */
export const units: Record<string, string[]> = { temperature: ['Cel', '[degF]'], weight: ['kg', '[lb_av]'], length: ['cm', '[in_i]'] };

/** Which language the reports are in: the one chosen, else the page's. */
export const reportLang = (prefs: Prefs): string =>
  languages.some(l => l.id === prefs.reportLang) ? prefs.reportLang! : lang;
