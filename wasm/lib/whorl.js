// The loader: starts the core in a browser, in node or in a worker, and calls it.
// Types and their comments are in whorl.d.ts.

import './wasm_exec.js';

const { Go } = globalThis;

export class Refused extends Error {
  constructor(op, faults) {
    super(faults.map(f => (f.path ? `${f.path}: ` : '') + f.sentence).join('\n'));
    this.name = 'Refused';
    this.op = op;
    this.faults = faults;
  }
}

export class Unavailable extends Error {
  constructor(message, options) {
    super(message, options);
    this.name = 'Unavailable';
  }
}

async function compile(source) {
  if (source instanceof WebAssembly.Module) return source;
  if (source instanceof ArrayBuffer || ArrayBuffer.isView(source)) return WebAssembly.compile(source);
  let answer = source;
  if (typeof source === 'string' || source instanceof URL) {
    const node = globalThis.process?.versions?.node;
    const url = node ? new URL(source, import.meta.url) : source;
    if (node && url.protocol === 'file:') {
      // Its name is put together here, so that no bundler looks for it in a package for browsers.
      const { readFile } = await import(/* webpackIgnore: true */ /* @vite-ignore */ ['node:fs', 'promises'].join('/'));
      return WebAssembly.compile(await readFile(url));
    }
    answer = await fetch(url);
  }
  if (!answer.ok) throw new Unavailable(`${answer.url}: ${answer.status} ${answer.statusText}`);
  // Streaming takes this one type and no other; a host that sends another must not break us.
  if (WebAssembly.compileStreaming && /^application\/wasm\s*(;|$)/i.test(answer.headers.get('Content-Type') ?? '')) {
    return WebAssembly.compileStreaming(answer);
  }
  return WebAssembly.compile(await answer.arrayBuffer());
}

export async function load(source = new URL('./whorl.wasm', import.meta.url)) {
  let module;
  try {
    module = await compile(await source);
  } catch (e) {
    throw e instanceof Unavailable ? e : new Unavailable(`the core did not load: ${e.message}`, { cause: e });
  }
  const whorl = new Whorl(module);
  await whorl.start();
  return whorl;
}

export class Whorl {
  #module;
  #running;

  constructor(module) {
    this.#module = module;
  }

  // One start for all who wait for it; after a death or a failure the next call starts anew.
  start() {
    this.#running ??= this.#begin().catch(e => {
      this.#running = undefined;
      throw e instanceof Unavailable ? e : new Unavailable(`the core did not start: ${e.message}`, { cause: e });
    });
    return this.#running;
  }

  async #begin() {
    const go = new Go();
    const instance = await WebAssembly.instantiate(this.#module, go.importObject);
    const core = { alive: true, call: undefined };
    delete globalThis.whorlCall;
    // The program never ends by itself: if it does, it died.
    go.run(instance).catch(() => undefined).finally(() => { core.alive = false; });
    core.call = globalThis.whorlCall;
    if (!core.call) throw new Unavailable('the core started and gave no call');
    return core;
  }

  async callText(op, request) {
    for (let restarts = 0; ; restarts++) {
      const core = await this.start();
      let cause;
      if (core.alive) {
        try {
          const answer = core.call(String(op), String(request));
          if (typeof answer === 'string') return answer;
        } catch (e) {
          cause = e;
        }
      }
      // Nothing is held between calls, so that a core that died is replaced, once.
      this.#running = undefined;
      if (restarts === 1) throw new Unavailable(`the core died twice in ${op}`, { cause });
    }
  }

  async call(op, request = {}) {
    const answer = JSON.parse(await this.callText(op, JSON.stringify(request)));
    if (!answer.ok) throw new Refused(op, answer.faults);
    return answer.value;
  }
}
