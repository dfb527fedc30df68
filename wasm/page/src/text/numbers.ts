// A number as a person types it: with a comma or a point, perhaps with its unit behind.

/** The number as plain decimal digits with its places kept, or undefined. */
export function decimalText(typed: string): string | undefined {
  const m = /^([0-9]{1,5})(?:[.,]([0-9]{1,3}))?$/.exec(stripUnit(typed));
  if (!m) return undefined;
  const whole = m[1]!.replace(/^0+(?=[0-9])/, '');
  return m[2] === undefined ? whole : `${whole}.${m[2]}`;
}

export function wholeNumber(typed: string): number | undefined {
  const t = typed.trim();
  return /^[0-9]{1,4}$/.test(t) ? Number(t) : undefined;
}

/** The unit of temperature typed behind the number, if any. */
export function unitTyped(typed: string): string | undefined {
  const m = /(?:°|º|\s)*([cf])\.?\s*$/i.exec(typed);
  return m ? (m[1]!.toLowerCase() === 'c' ? 'Cel' : '[degF]') : undefined;
}

const stripUnit = (typed: string): string =>
  typed.trim().replace(/\s*(?:°|º)?\s*(?:[cf]|kg|lb|lbs|cm|in|s|a minute|por minuto|\/min)?\.?$/i, '').trim();

/**
 * The numbers in a text that a telephone dials, as RFC 3966 writes them: digits, and + before a country's. E.123 puts the digits of a
 * town in brackets; (0) is left out behind a country. No * and no #: those are commands to the telephone (3GPP TS 22.030), not numbers.
 */
export function dialable(text: string): string[] {
  if (/[*#]/.test(text)) return [];
  const parts = text.replace(/\b(?:ext(?:ensi[oó]n)?|int|x)\.?\s*\d+/gi, ';').replace(/(\+\d{1,3}\s*)\(0\)/g, '$1').replace(/\((\d{1,5})\)(?=[\s-]*\d)/g, ' $1 ')
    .split(/[^+\d\s.\u2010-\u2015-]|(?=\+)/)
    // Two long groups without anything between them are two numbers.
    .flatMap(p => (p.match(/\d{6,}/g)?.length! > 1 ? p.split(/\s+/) : [p.trim()]));
  const long = parts.filter(p => /^\+?\d{6,15}$/.test(bare(p)));
  // Beside words a few digits are hours or a box; alone they are a number.
  return long.length > 0 ? long : /^\d{3,5}$/.test(bare(text)) && !/[^\d\s]/.test(text) ? [text.trim()] : [];
}

const bare = (part: string): string => part.replace(/[^+\d]/g, '');
export const telOf = (phone: string): string => 'tel:' + bare(dialable(phone)[0] ?? '');
