// Every word on screen comes from the message file that the Go packages give.

let table: Record<string, string> = {};
export let lang = 'en';
/** For numbers and dates: the person's own variety of the language. */
export let locale = 'en';

export function useWords(messages: Record<string, string>, language: string): void {
  table = messages;
  lang = language;
  locale = navigator.languages.find(l => l.split('-')[0] === language) ?? language;
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
