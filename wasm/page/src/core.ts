// The only module that knows the core: one function, JSON text in and out.

import 'wasm_exec';
import type { Fault } from './types';
import { lang } from './words';

declare const CORE_URL: string;
declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}

type Call = (op: string, request: string) => string;

/** The core refused: every fault, with its sentence. */
export class Refused extends Error {
  constructor(readonly faults: Fault[]) { super(faults.map(f => f.sentence).join('\n')); }
}

/** The core could not be had at all. */
export class NoCore extends Error {}

let compiled: Promise<WebAssembly.Module> | undefined;
let running: Promise<Call> | undefined;

async function compile(): Promise<WebAssembly.Module> {
  const answer = await fetch(CORE_URL);
  if (!answer.ok) throw new NoCore(`${CORE_URL}: ${answer.status}`);
  // A host that sends another type than application/wasm must not break the page.
  if (answer.headers.get('Content-Type')?.startsWith('application/wasm')) {
    return WebAssembly.compileStreaming(answer);
  }
  return WebAssembly.compile(await answer.arrayBuffer());
}

async function start(mine: () => Promise<Call> | undefined): Promise<Call> {
  compiled ??= compile().catch(e => { compiled = undefined; throw e; });
  const module = await compiled;
  const go = new Go();
  const instance = await WebAssembly.instantiate(module, go.importObject);
  // The program never ends by itself: if it does, it died, and the next call starts another.
  void go.run(instance).catch(() => undefined).then(() => { if (running === mine()) running = undefined; });
  const call = (globalThis as { whorlCall?: Call }).whorlCall;
  if (!call) throw new NoCore('no whorlCall');
  return call;
}

/** Starts loading; safe to call often. */
export function warm(): Promise<Call> {
  if (running) return running;
  const mine: Promise<Call> = start(() => mine).catch(e => {
    if (running === mine) running = undefined;
    throw e instanceof NoCore ? e : new NoCore(String(e));
  });
  return (running = mine);
}

/** Calls an op; a core that died is started again once, since the draft lives outside it. */
export async function call<T>(op: string, request: Record<string, unknown> = {}): Promise<T> {
  const text = JSON.stringify({ lang, ...request });
  let answer: string;
  const used = warm();
  try {
    answer = (await used)(op, text);
  } catch (e) {
    if (e instanceof NoCore) throw e;
    // Of several calls that meet a dead core, the first starts another.
    if (running === used) running = undefined;
    answer = (await warm())(op, text);
  }
  const got = JSON.parse(answer) as { ok: true; value: T } | { ok: false; faults: Fault[] };
  if (got.ok) return got.value;
  // A core of another version than the page's, which lacks the operation, is as good as none.
  if (got.faults.some(f => f.code === 'unknown-op')) throw new NoCore(op);
  throw new Refused(got.faults);
}
