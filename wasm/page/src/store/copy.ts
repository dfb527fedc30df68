// Whether the second copy holds what the store holds: looked at at every start, mended, and said as it is.

import { type Change, isCopied, readBackup, writeBackup } from './backup';
import { type Barn, changeBarn } from './barn';
import { run } from './store';

/** How many records the copy lacks, none where there can be a copy; and what is in it alone. */
export interface Copy { lacks?: number; more: Change[] }

async function everything(): Promise<Change[]> {
  const stores = ['horses', 'exams', 'notes'];
  const parts: [string, IDBRequest<IDBValidKey[]>, IDBRequest<unknown[]>][] = [];
  await run(stores, 'readonly', t => { for (const s of stores) parts.push([s, t.objectStore(s).getAllKeys(), t.objectStore(s).getAll()]); });
  return parts.flatMap(([s, keys, values]) => keys.result.map((key, i): Change => [s, String(key), values.result[i]])).filter(isCopied);
}

const keyOf = ([store, key]: Change): string => store + '/' + key;

/** Compares the two, and copies what is lacking; by then is what is lacking still. */
export async function checkCopy(): Promise<Copy> {
  for (let again = false; ; again = true) {
    const all = await everything();
    const here = new Set(all.map(keyOf));
    const copied = await readBackup();
    const copy = new Map(copied.map(c => [keyOf(c), JSON.stringify(c[2])]));
    const lacks = all.filter(c => copy.get(keyOf(c)) !== JSON.stringify(c[2]));
    const gone = new Set((all.find(c => keyOf(c) === 'notes/gone')?.[2] as Barn['gone'] | undefined)?.map(g => g.id));
    const alone = copied.filter(c => c[0] !== 'notes' && !here.has(keyOf(c)));
    const isGone = (c: Change): boolean => gone.has((c[2] as { horse?: string }).horse ?? c[1]);
    const more = alone.filter(c => !isGone(c));
    // What a person deleted, and a kill kept from leaving the copy, must not come back after a loss.
    lacks.push(...alone.filter(isGone).map(([store, key]): Change => [store, key, undefined]));
    if (lacks.length === 0 || again) return { lacks: copy.size === 0 && all.length > 0 ? undefined : lacks.length, more };
    await writeBackup(lacks);
  }
}

/** Takes back what the copy alone holds. */
export const takeCopy = (): Promise<boolean> => changeBarn(async now => {
  const has = new Set([...now.horses, ...now.exams].map(x => x.id));
  return (await checkCopy()).more.filter(([, id]) => !has.has(id));
});
