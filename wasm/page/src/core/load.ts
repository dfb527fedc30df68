let coming = 0;
let next: (() => void) | undefined;

/** Does something as soon as the line is free: nothing that was asked for here is on its way any more. */
export function whenIdle(then: () => void): void {
  if (coming === 0) then();
  else next = then;
}

/** Gets a part of the page: a file beside it, or in the page as one file, '#…', what stands in it. */
export async function load<T>(url: string): Promise<T> {
  if (url.startsWith('#')) return JSON.parse(within(url)) as T;
  coming++;
  let text: string;
  try {
    const answer = await fetch(url);
    if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
    text = await answer.text();
  } finally {
    if (--coming === 0) {
      next?.();
      next = undefined;
    }
  }
  return JSON.parse(text) as T;
}

/** A part that stands in the page zipped and in base64. */
export function unzip(url: string): ReadableStream<Uint8Array> {
  const bytes = Uint8Array.from(atob(within(url)), c => c.charCodeAt(0));
  return new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
}

const within = (url: string): string => document.getElementById(url.slice(1))!.textContent!;
