// Screens have addresses (the hash), so that the telephone's own Back works and a reload
// comes back to the same step.

export type Route = string[];

export const route = (): Route => location.hash.replace(/^#\/?/, '').split('/').filter(Boolean).map(unescaped);

/** A percent sign that escapes nothing stands for itself: somebody pasted it. */
export function unescaped(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export const address = (...parts: (string | number)[]): string => '#/' + parts.map(p => encodeURIComponent(String(p))).join('/');

export function go(...parts: (string | number)[]): void {
  const to = address(...parts);
  if (to === location.hash) window.dispatchEvent(new HashChangeEvent('hashchange'));
  else location.hash = to;
}

/** Goes on without leaving the present screen in the history. */
export function goInstead(...parts: (string | number)[]): void {
  const to = address(...parts);
  if (to === location.hash) window.dispatchEvent(new HashChangeEvent('hashchange'));
  else location.replace(to);
}

/** The part of an address that holds an exam; undefined for the page's own addresses. */
export function sentIn(hash: string): string | undefined {
  const part = hash.replace(/^#/, '');
  return part === '' || part.startsWith('/') ? undefined : part;
}
