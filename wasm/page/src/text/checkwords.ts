// A few words, made from what was sent, by which caller and vet agree on the telephone that they see the same.

/** The spelling words of the ITU Radio Regulations, appendix 14: heard alike in every language. */
const spelling = ('Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa Quebec Romeo Sierra Tango Uniform Victor '
  + 'Whiskey X-ray Yankee Zulu').split(' ');
/** Seven of twenty-six are 32.9 bits: two sendings are alike by chance once in eight thousand million. */
const COUNT = 7;

/** Their first letters, by which they travel; and the words of such letters. */
export const lettersOf = (words: string): string => words.replace(/(\S)\S*\s*/g, '$1');
export const spelled = (letters: string): string => [...letters].map(c => spelling[c.charCodeAt(0) - 65] ?? '').join(' ');

/** The words of a text, of its SHA-256; undefined on an insecure address, where browsers have none. */
export async function checkWords(text: string): Promise<string | undefined> {
  if (!globalThis.crypto?.subtle) return undefined;
  let n = new DataView(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text))).getBigUint64(0);
  const out: string[] = [];
  for (let i = 0; i < COUNT; i++) {
    out.push(spelling[Number(n % 26n)]!);
    n /= 26n;
  }
  return out.join(' ');
}
