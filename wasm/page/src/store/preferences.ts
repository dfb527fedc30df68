// What a person can choose for the whole page, and what holds until then.

import { lang, languages } from '../core/words';
import type { Prefs } from './store';

/** Where degrees Fahrenheit, pounds and inches are the everyday units: the Unicode CLDR names few more (from memory). */
const customary = /-(US|PR)\b/i.test(navigator.language);

/** The units that can be chosen, by what they measure; the first holds until one is chosen. */
export const units: Record<string, string[]> = Object.fromEntries(
  [['temperature', 'Cel', '[degF]'], ['weight', 'kg', '[lb_av]'], ['length', 'cm', '[in_i]']].map(([of, metric, other]) =>
    [of!, customary ? [other!, metric!] : [metric!, other!]]));

/** Which language the reports are in: the one chosen, else the page's. */
export const reportLang = (prefs: Prefs): string =>
  languages.some(l => l.id === prefs.reportLang) ? prefs.reportLang! : lang;
