// A second copy of what is kept. Chromium throws the whole database of a page away when a kill has torn the database's
// log; the cache has files of its own. It is written after the store, and read only where the store is found empty.

/** A record by its store and key; undefined: it was taken out. */
export type Change = [store: string, key: string, value: unknown];

const NAME = 'barn-book';
const address = (store: string, key: string): string => `/${NAME}/${store}/${encodeURIComponent(key)}`;

let copying: Promise<unknown> = Promise.resolve();

/** How long a write waits for its copy, in ms; the start looks whether all of it came through. */
const PATIENCE = 500;
/** So many changes at once, such as a file that comes in, are copied as one. */
const MANY = 50;

/** The demo's exams come from elsewhere, and what was worked out is worked out anew. */
export const isCopied = ([store, key]: Change): boolean => !(store === 'exams' && key.startsWith('demo-')) && !/^(known:|place:|last$)/.test(key);

/** Copies changes, in their order. */
export async function writeBackup(changes: Change[]): Promise<void> {
  const mine = changes.filter(isCopied);
  if (mine.length === 0) return;
  copying = copying.then(async () => {
    const cache = await caches.open(NAME);
    const many = mine.length > MANY;
    const before = many ? await cache.keys() : [];
    if (many) await cache.put(address('all', String(Date.now())), new Response(JSON.stringify(mine)));
    else for (const [store, key, value] of mine) await cache.put(address(store, key), new Response(JSON.stringify(value ?? null)));
    const now = new Set(mine.map(([store, key]) => address(store, key)));
    for (const request of before) if (now.has(new URL(request.url).pathname)) await cache.delete(request);
  }).catch(() => undefined); // A page from a disk has no cache.
  await Promise.race([copying, new Promise(done => setTimeout(done, mine.length > MANY ? 20 * PATIENCE : PATIENCE))]);
}

/** Every record of the copy that can be read: a torn one must not cost the others. What was copied alone is newer than what was copied with others. */
export async function readBackup(): Promise<Change[]> {
  const all = new Map<string, Change>();
  try {
    if (!(await caches.has(NAME))) return [];
    const cache = await caches.open(NAME);
    const parts = await Promise.all((await cache.keys()).map(async request => {
      const [store, key] = new URL(request.url).pathname.split('/').slice(-2) as [string, string];
      return cache.match(request).then(r => r!.json()).then((v: unknown) => (store === 'all' ? v as Change[] : [[store, decodeURIComponent(key), v] as Change]), () => []);
    }));
    for (const change of parts.sort((a, b) => Number(a.length === 1) - Number(b.length === 1)).flat()) all.set(address(change[0], change[1]), change);
  } catch {
    // a page from a disk has no cache
  }
  return [...all.values()].filter(([, , value]) => value !== null);
}
