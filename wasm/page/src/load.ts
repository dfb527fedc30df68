/** Gets a part of the page: a file beside it, or in the page as one file, '#…', what stands in it. */
export async function load<T>(url: string): Promise<T> {
  if (url.startsWith('#')) return JSON.parse(within(url)) as T;
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  return answer.json() as Promise<T>;
}

/** A part that stands in the page zipped and in base64. */
export function unzip(url: string): ReadableStream<Uint8Array> {
  const bytes = Uint8Array.from(atob(within(url)), c => c.charCodeAt(0));
  return new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
}

const within = (url: string): string => document.getElementById(url.slice(1))!.textContent!;
