// Every word on screen comes from the message file that the Go packages give.

import { load } from './load';

/** By language: where is what the page says, what only the core says, and its own name for itself. */
declare const MESSAGES: Record<string, { url: string; core: string; name: string }>;
/** The keys of what the page says, and where those are of what only the core says. */
declare const KEYS: string;
declare const CORE_KEYS_URL: string;

let table: Record<string, string> = {};
export let lang = 'en';
/** For numbers and dates: the person's own variety of the language. */
export let locale = 'en';

/** The languages that have a file, each with its own name for itself. */
export const languages = Object.entries(MESSAGES).map(([id, m]) => ({ id, name: m.name }));

const loaded: Record<string, Promise<Record<string, string>>> = {};

/** Keys as the builder packs them: how many parts a key shares with the one before, and the rest of it. */
function unpackKeys(packed: string): string[] {
  let parts: string[] = [];
  return packed.split('\n').map(line => (parts = [...parts.slice(0, Number(line[0])), ...line.slice(1).split('.')]).join('.'));
}

const byKey = (packed: string, texts: string[]): Record<string, string> =>
  Object.fromEntries(unpackKeys(packed).map((key, i) => [key, texts[i]!]));

/** What the page says in a language that has a file, by key. */
const messages = (language: string): Promise<Record<string, string>> =>
  loaded[language] ??= load<string[]>(MESSAGES[language]!.url).then(texts => byKey(KEYS, texts)).catch(e => { delete loaded[language]; throw e; });

const whole: Record<string, Promise<Record<string, string>>> = {};

/** Everything that is said in a language that has a file, by key: what the core takes. */
export const everything = (language: string): Promise<Record<string, string>> => whole[language] ??=
  Promise.all([messages(language), load<string>(CORE_KEYS_URL), load<string[]>(MESSAGES[language]!.core)])
    .then(([own, keys, texts]) => ({ ...own, ...byKey(keys, texts) })).catch(e => { delete whole[language]; throw e; });

/** Speaks a language from now on: the one chosen, or else the first of the browser's that has a file. */
export async function speak(chosen?: string): Promise<void> {
  const asked = [chosen, ...navigator.languages.map(l => l.split('-')[0]!)];
  const language = asked.find(l => l !== undefined && l in MESSAGES) ?? 'en';
  table = await messages(language);
  lang = language;
  locale = localeOf(language);
  document.documentElement.lang = language;
}

/** The browser's own variety of the language, or the language as in the browser's own country. */
function localeOf(language: string): string {
  const own = navigator.languages.find(l => l.startsWith(language + '-'));
  if (own) return own;
  const country = navigator.languages.map(l => /-([A-Z]{2})(-|$)/.exec(l)?.[1]).find(Boolean);
  return country ? `${language}-${country}` : say('page.locale');
}

export const has = (key: string): boolean => key in table;

/** Says a key with its facts. A missing key comes back as itself, so that a gap shows. */
export function say(key: string, facts: Record<string, string | number> = {}): string {
  const text = table[key];
  return text === undefined ? key : fill(text, facts);
}

/** Says the first key that exists. */
export function sayFirst(keys: string[], facts: Record<string, string | number> = {}): string {
  return say(keys.find(has) ?? keys[keys.length - 1]!, facts);
}

/** The fields of whorl.example/vitals/words: {name}, {n:one|many}, {sex:her|his|its}. */
function fill(text: string, facts: Record<string, string | number>): string {
  return text.replace(/\{([a-zA-Z]+)(?::([^}]*))?\}/g, (field, name: string, forms?: string) => {
    const value = facts[name];
    if (value === undefined) return field;
    if (forms === undefined) return String(value);
    const list = forms.split('|');
    if (value === 'mare' || String(value) === '1') return list[0]!;
    if ((value === 'gelding' || value === 'stallion') && list.length === 3) return list[1]!;
    return list[list.length - 1]!;
  });
}

export const list = (items: string[]): string =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(items);
