// The door of the worker: the page and the clinic's file by the platform's own files, which
// cost no start of Go; everything else by an answerer of operations.

const types = {
  html: 'text/html; charset=utf-8', js: 'text/javascript; charset=utf-8', css: 'text/css; charset=utf-8', json: 'application/json',
  wasm: 'application/wasm', webmanifest: 'application/manifest+json', svg: 'image/svg+xml', png: 'image/png',
};

// As wasm/site serves the page: nothing from elsewhere, nothing inline, and nothing leaves.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
  "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** An answer in the form of package api that holds one fault. */
export const refuse = (status, code, sentence, headers = {}) => new Response(
  JSON.stringify({ ok: false, faults: [{ code, path: '', sentence }] }),
  { status, headers: { ...plain, ...headers } });

/** What every answer of an operation says of itself: an exam is nobody else's. */
export const plain = { 'Content-Type': 'application/json', 'Cache-Control': 'no-store', 'X-Content-Type-Options': 'nosniff' };

/** A worker: files of env.ASSETS for GET, where there are any, and answer(request, env, context) for the rest. */
export function door(answer) {
  return {
    async fetch(request, env, context) {
      try {
        const url = new URL(request.url);
        const reads = request.method === 'GET' || request.method === 'HEAD';
        if (reads && url.pathname !== '/schema' && env.ASSETS) return await file(url, request.method, env.ASSETS);
        return await answer(request, env, context);
      } catch {
        return refuse(500, 'internal', 'Whorl itself failed here. Nothing was kept of the request.');
      }
    },
  };
}

async function file(url, method, assets) {
  const path = url.pathname === '/' ? '/index.html' : url.pathname;
  // Names of the folder have no dot in front and an ending; nothing else is looked for.
  const ending = /^(?:\/[a-z0-9_-][A-Za-z0-9._-]*)+\.([a-z]+)$/.exec(path)?.[1];
  const found = types[ending] && await assets.fetch(new Request(new URL(path, url), { method }));
  if (!found?.ok) return refuse(404, 'not-found', 'There is no such file.');
  const headers = new Headers({
    'Content-Type': types[ending], 'Content-Security-Policy': policy, 'X-Content-Type-Options': 'nosniff', 'Referrer-Policy': 'no-referrer',
    // A hash of the content in the name means that it never changes.
    'Cache-Control': /-([0-9a-f]{12}|[0-9A-Z]{8})\.[a-z]+$/.test(path) ? 'public, max-age=31536000, immutable' : 'no-cache',
  });
  return new Response(found.body, { status: 200, headers });
}
