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
