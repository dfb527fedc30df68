// Every word on screen comes from the message file that the Go packages give.

import { load } from './load';

/** By language: where is what the first screens say, what the others say, what only the core says, and its own name for itself. */
declare const MESSAGES: Record<string, { url: string; later: string; core: string; name: string }>;
/** The keys of what the first screens say, and where those are of the others and of what only the core says. */
declare const KEYS: string;
declare const LATER_KEYS_URL: string;
declare const CORE_KEYS_URL: string;

let table: Record<string, string> = {};
export let lang = 'en';
/** For numbers and dates: the person's own variety of the language. */
export let locale = 'en';

/** The languages that have a file, each with its own name for itself. */
export const languages = Object.entries(MESSAGES).map(([id, m]) => ({ id, name: m.name }));

type Table = Record<string, string>;
const loaded: Record<string, Promise<Table>> = {};

/** Keys as the builder packs them: how many parts a key shares with the one before, and the rest of it. */
function unpackKeys(packed: string): string[] {
  let parts: string[] = [];
  return packed.split('\n').map(line => (parts = [...parts.slice(0, Number(line[0])), ...line.slice(1).split('.')]).join('.'));
}

const byKey = (packed: string, texts: string[]): Record<string, string> =>
  Object.fromEntries(unpackKeys(packed).map((key, i) => [key, texts[i]!]));

/** Makes something once for each language, and again where it failed. */
const once = (made: Record<string, Promise<Table>>, make: (language: string) => Promise<Table>) => (language: string): Promise<Table> =>
  made[language] ??= make(language).catch(e => { delete made[language]; throw e; });

const packed = (keys: string, url: string): Promise<Table> =>
  Promise.all([load<string>(keys), load<string[]>(url)]).then(([k, texts]) => byKey(k, texts));

/** What the first screens say in a language that has a file, by key. */
const messages = once(loaded, l => load<string[]>(MESSAGES[l]!.url).then(texts => byKey(KEYS, texts)));

/** What the other screens say. */
const others = once({}, l => packed(LATER_KEYS_URL, MESSAGES[l]!.later));

/** Everything that is said in a language that has a file, by key: what the core takes. */
export const allMessages = once({}, l => Promise.all([messages(l), others(l), packed(CORE_KEYS_URL, MESSAGES[l]!.core)])
  .then(all => Object.assign({}, ...all) as Table));

let wanted = false;

/** Has what the other screens say, in this language and in each that is spoken from now on. */
export async function loadLazyMessages(): Promise<void> {
  wanted = true;
  const more = await others(lang);
  if (Object.keys(more)[0]! in table) return;
  table = { ...table, ...more };
}

/** Speaks a language from now on: the one chosen, or else the first of the browser's that has a file. */
export async function setLanguage(chosen?: string): Promise<void> {
  const asked = [chosen, ...navigator.languages.map(l => l.split('-')[0]!)];
  const language = asked.find(l => l !== undefined && l in MESSAGES) ?? 'en';
  table = { ...await messages(language), ...(wanted ? await others(language) : {}) };
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

export const hasMessage = (key: string): boolean => key in table;

/** Says a key with its facts. A missing key comes back as itself, so that a gap shows. */
export function say(key: string, facts: Record<string, string | number> = {}): string {
  const text = table[key];
  return text === undefined ? key : fill(text, facts);
}

/** Says the first key that exists. */
export function sayFirst(keys: string[], facts: Record<string, string | number> = {}): string {
  return say(keys.find(hasMessage) ?? keys[keys.length - 1]!, facts);
}

/** The fields of whorl.example/vitals/words: {name}, {n:one|many}, {sex:her|his|its}. */
function fill(text: string, facts: Record<string, string | number>): string {
  // A value that ends with a full stop, as "9:38 a.m.", ends the sentence too.
  return text.replace(/\{([a-zA-Z]+)(?::([^}]*))?\}(\.?)/g, (field, name: string, forms: string | undefined, stop: string) => {
    const value = facts[name];
    if (value === undefined) return field;
    const said = forms === undefined ? String(value) : form(value, forms.split('|'));
    return said.endsWith('.') ? said : said + stop;
  });
}

function form(value: string | number, forms: string[]): string {
  if (value === 'mare' || String(value) === '1') return forms[0]!;
  if ((value === 'gelding' || value === 'stallion') && forms.length === 3) return forms[1]!;
  return forms[forms.length - 1]!;
}

export const list = (items: string[]): string =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(items);
