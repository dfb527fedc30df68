// The same worker with one instance of the core for as long as the platform keeps this one: the
// package for JavaScript holds nothing between calls, and starts anew when the core dies.
import { door, plain, refuse } from './front.mjs';
import { Whorl } from './whorl.js';
import module from './core.wasm';

const whorl = new Whorl(module);
// The limits of answer.go.
const maxBody = 4 << 20;
const maxLasted = 10_000;
const maxDrained = 4 * maxBody;

export default door(async request => {
  const op = new URL(request.url).pathname.slice(1);
  if (request.method === 'GET' && op === 'schema') {
    const { value } = JSON.parse(await whorl.callText('schema', '{}'));
    return new Response(value.text, { headers: { ...plain, 'Content-Type': 'application/schema+json' } });
  }
  if (request.method !== 'POST') {
    return refuse(405, 'method', 'Operations are asked for with POST, the schema with GET.', { Allow: 'POST' });
  }
  let body;
  try {
    body = await read(request);
  } catch (e) {
    if (e === large) return refuse(413, 'too-large', 'The request is over 4 MiB.');
    if (e === slow) return refuse(408, 'too-slow', 'The request took longer than ten seconds to arrive.');
    return refuse(400, 'cut-off', 'The request broke off.');
  }
  let asked;
  try {
    asked = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(body);
  } catch {
    return refuse(422, 'bad-text', 'This text holds broken characters.');
  }
  const text = await whorl.callText(op, asked);
  const code = text.startsWith('{"ok":false') ? JSON.parse(text).faults[0].code : '';
  return new Response(text, { status: { '': 200, 'unknown-op': 404, internal: 500 }[code] ?? 422, headers: plain });
});

const large = new Error('too large');
const slow = new Error('too slow');

/** The body, to its end, its limit or its time. */
async function read(request) {
  if (Number(request.headers.get('Content-Length')) > maxDrained) throw large;
  if (!request.body) return new ArrayBuffer(0);
  const reader = request.body.getReader();
  let timer;
  const late = new Promise((_, no) => { timer = setTimeout(() => no(slow), maxLasted); });
  const parts = [];
  let size = 0;
  try {
    for (;;) {
      const { done, value } = await Promise.race([reader.read(), late]);
      if (done) break;
      // What is over the limit is thrown away, and not answered while the other side still sends.
      if ((size += value.byteLength) > maxDrained) throw large;
      if (size <= maxBody) parts.push(value);
    }
    if (size > maxBody) throw large;
  } catch (e) {
    reader.cancel().catch(() => undefined);
    throw e;
  } finally {
    clearTimeout(timer);
  }
  return new Blob(parts).arrayBuffer();
}
