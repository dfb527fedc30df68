// The only module that knows the core: one function, JSON text in and out.

import { unzip } from './load';
import type { Fault } from './types';
import { allMessages, lang, languages } from './words';

declare const CORE_URL: string;
declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}

/** One instance of the core: its function, and the languages it was given. */
interface Core {
  call(op: string, request: string): string;
  words(lang: string, messages: string): void;
  given: Set<string>;
}

/** The core refused: every fault, with its sentence. */
export class Refused extends Error {
  constructor(readonly faults: Fault[]) { super(faults.map(f => f.sentence).join('\n')); }
}

/** The core could not be had at all. */
export class NoCore extends Error {}

let compiled: Promise<WebAssembly.Module> | undefined;
let running: Promise<Core> | undefined;

let coming: Promise<Response> | undefined;

/** Has the core on its way, on a line that has nothing else to carry, before there is time to compile it. */
export function prefetch(): void {
  if (coming || compiled || CORE_URL.startsWith('#')) return;
  coming = fetch(CORE_URL);
  coming.catch(() => { coming = undefined; });
}

async function compile(): Promise<WebAssembly.Module> {
  prefetch();
  const mine = coming;
  coming = undefined;
  const { decodeCore, DECODED } = await import('./engine');
  // Compiles while it decodes, and decodes while it comes in. The type is told here: a host may send another.
  const compileFolded = (folded: ReadableStream<Uint8Array>): Promise<WebAssembly.Module> =>
    WebAssembly.compileStreaming(new Response(decodeCore(folded), { headers: { 'Content-Type': 'application/wasm' } }));
  if (!mine) return compileFolded(unzip(CORE_URL));
  const answer = await mine;
  if (!answer.ok) throw new NoCore(`${CORE_URL}: ${answer.status}`);
  return answer.headers.has(DECODED) ? WebAssembly.compileStreaming(answer) : compileFolded(answer.body!);
}

async function start(mine: () => Promise<Core> | undefined): Promise<Core> {
  compiled ??= compile().catch(e => { compiled = undefined; throw e; });
  const module = await compiled;
  allMessages(lang).catch(() => undefined); // on their way while it starts: before, the line was the core's
  const go = new Go();
  const instance = await WebAssembly.instantiate(module, go.importObject);
  // The program never ends by itself: if it does, it died, and the next call starts another.
  void go.run(instance).catch(() => undefined).then(() => { if (running === mine()) running = undefined; });
  const { whorlCall: call, whorlWords: words } = globalThis as { whorlCall?: Core['call']; whorlWords?: Core['words'] };
  if (!call || !words) throw new NoCore('no whorlCall');
  // The page asks of the same horse again and again, and nobody else asks.
  call('remember', '{"on":true}');
  performance.mark('core');
  return { call, words, given: new Set() };
}

/** Starts loading; safe to call often. */
export function warm(): Promise<Core> {
  if (running) return running;
  const mine: Promise<Core> = start(() => mine).catch(e => {
    if (running === mine) running = undefined;
    throw e instanceof NoCore ? e : new NoCore(String(e));
  });
  return (running = mine);
}

/** Calls a core that knows the words of a language. */
async function ask(core: Core, op: string, request: string, language: string): Promise<string> {
  const l = languages.some(known => known.id === language) ? language : 'en';
  if (!core.given.has(l)) {
    const all = await allMessages(l).catch(e => { throw new NoCore(String(e)); });
    core.words(l, Object.entries(all).flat().map(s => s + '\0').join(''));
    core.given.add(l);
  }
  return core.call(op, request);
}

/** Calls an op; a core that died is started again once, since the draft lives outside it. */
export async function call<T>(op: string, request: Record<string, unknown> = {}): Promise<T> {
  const asked: Record<string, unknown> = { lang, ...request };
  const language = String(asked.lang);
  const text = JSON.stringify(asked);
  let answer: string;
  const used = warm();
  try {
    answer = await ask(await used, op, text, language);
  } catch (e) {
    if (e instanceof NoCore) throw e;
    // Of several calls that meet a dead core, the first starts another.
    if (running === used) running = undefined;
    answer = await ask(await warm(), op, text, language);
  }
  const got = JSON.parse(answer) as { ok: true; value: T } | { ok: false; faults: Fault[] };
  if (got.ok) return got.value;
  // A core of another version than the page's, which lacks the operation, is as good as none.
  if (got.faults.some(f => f.code === 'unknown-op')) throw new NoCore(op);
  throw new Refused(got.faults);
}
