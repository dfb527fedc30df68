// The service worker: one cache for each version, filled whole or not at all.
// It takes over when the person says so, never under an exam.

import { decodeCore, DECODED } from './core/decode';

declare const VERSION: string;
declare const CORE: string;
declare const FILES: string[];

const self_ = self as unknown as ServiceWorkerGlobalScope;
/** Each copy of the page on a host has caches of its own: an address has no blank. */
const mine = `whorl ${self_.registration.scope} `;
const name = mine + VERSION;

self_.addEventListener('install', event => {
  event.waitUntil((async () => {
    const cache = await caches.open(name);
    // A name with a hash is one content for ever, and need not be fetched twice on a slow line. For
    // the others 'reload' goes past the HTTP cache, which may hold the files of an older version.
    await cache.addAll(FILES.map(f => new Request(f, { cache: /-([0-9a-f]{12}|[0-9A-Z]{8})\./.test(f) ? 'default' : 'reload' })));
    // Unfolded once, and not each time that the page starts.
    const core = await cache.match(CORE);
    await cache.put(CORE, new Response(decodeCore(core!.body!), { headers: { 'Content-Type': 'application/wasm', [DECODED]: 'yes' } }));
  })());
});

self_.addEventListener('activate', event => {
  event.waitUntil((async () => {
    for (const key of await caches.keys()) {
      if (key.startsWith(mine) && key !== name) await caches.delete(key);
    }
  })());
});

self_.addEventListener('message', event => {
  if (event.data === 'take-over') void self_.skipWaiting();
  // The way out, should a version ever be bad.
  if (event.data === 'retire') void self_.registration.unregister();
});

self_.addEventListener('fetch', event => {
  if (event.request.method === 'POST' && event.request.url === self_.registration.scope + 'share') return event.respondWith(takeShared(event.request));
  if (event.request.method !== 'GET' || new URL(event.request.url).origin !== self_.location.origin) return;
  event.respondWith((async () => {
    const cache = await caches.open(name);
    if (new URL(event.request.url).pathname.endsWith('/clinic.json')) return clinicFile(event.request, cache);
    return (await cache.match(event.request, { ignoreSearch: true })) ?? fetch(event.request);
  })());
});

/** A clinic changes its file without a new version of the page: what its server has counts, and the copy where that cannot be asked. */
async function clinicFile(request: Request, cache: Cache): Promise<Response> {
  try {
    const fresh = await fetch(request, { cache: 'no-cache' });
    if (fresh.ok) await cache.put(request, fresh.clone());
    if (fresh.status < 500) return fresh;
  } catch {
    // Without a network the copy counts.
  }
  return (await cache.match(request, { ignoreSearch: true })) ?? Response.error();
}

/** What another app shares comes as a form, which never leaves the device: a link is opened, a file laid where the screen of files finds it. */
async function takeShared(request: Request): Promise<Response> {
  const form = await request.formData();
  const link = /#(w1=[^\s#]+)/.exec(`${form.get('url')} ${form.get('text')}`);
  const file = form.get('file');
  if (file instanceof File) await (await caches.open(mine + 'shared')).put('shared', new Response(file, { headers: { 'X-Name': encodeURIComponent(file.name) } }));
  return Response.redirect(link ? './#' + link[1] : './#/files', 303);
}
