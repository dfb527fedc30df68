// Boot: words, catalogue, store; then the screen of the address.

import * as core from './core/core';
import { hurryDemo, putDemo } from './store/demo';
import { caution, fill, h, link, para } from './ui/dom';
import { show, useCalling, useStrip } from './ui/screen';
import { whenFree } from './core/load';
import { loadPack, useNumbers } from './store/pack';
import { go, route } from './ui/route';
import { book, draw, inHand, useLater, type LaterScreens } from './router';
import * as store from './store/store';
import { callStrip } from './exam/callstrip';
import { whenOther } from './store/tabs';
import { setTheme } from './ui/theme';
import { afterStrip, reread, startWatching, watchStrip } from './exam/watches';
import { has, say, speak } from './core/words';

/** The page is one file, which no service worker can keep and none has to. */
declare const ONE_FILE: boolean;

let newer: HTMLElement | undefined;

/** A write that failed stays on the screen until one succeeds: nothing is lost in silence. */
function trouble(name: string): void {
  const box = document.getElementById('trouble')!;
  if (name === '') return fill(box);
  const key = 'page.trouble.' + name;
  fill(box, caution(h('p', {}, h('strong', {}, say('page.trouble')), ' ', say(has(key) ? key : 'page.trouble.other', { name }))));
}

function broken(e: unknown): void {
  const what = e instanceof DOMException ? e.name : e instanceof Error ? e.message : String(e);
  const key = 'page.trouble.' + what;
  show({
    title: say('page.broken'),
    body: [para(say(has(key) ? key : 'page.broken.how')), h('p', { class: 'note' }, what)],
    bar: [{ label: say('page.barn'), go: () => { go(); location.reload(); }, main: true }],
  });
}

async function worker(): Promise<void> {
  if (ONE_FILE || !('serviceWorker' in navigator)) return;
  try {
    const registration = await navigator.serviceWorker.register('sw.js');
    const ready = (): void => {
      if (!registration.waiting || !navigator.serviceWorker.controller) return;
      newer = caution(para(say('page.newer')), link(say('page.newer.take'), () => {
        navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
        registration.waiting?.postMessage('take-over');
      }));
      if (route().length === 0) void draw(newer);
    };
    registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', ready));
    ready();
    // A newer version is looked for at the start screen only, never during an exam.
    window.addEventListener('hashchange', () => { if (route().length === 0) registration.update().catch(() => undefined); });
  } catch {
    // Without a worker the page needs the network to open, and nothing else changes.
  }
}

/** Another tab has the exam of this one. Both keep what is entered; this one says so, and shows it where nothing is being entered. */
async function otherTab(wrote: boolean, again: () => void): Promise<void> {
  const [, id, at] = route();
  const exam = id && (await store.exam(id));
  fill(document.getElementById('tabs')!, caution(para(say(exam && exam.status === 'finished' ? 'page.tabs.finished' : 'page.tabs'))));
  if (wrote && ['g', 'all', 'check'].includes(at ?? '')) again();
}

/** Starts the page; later has the screens that come in a file of their own. */
export async function boot(later: () => Promise<LaterScreens>): Promise<void> {
  useLater(later);
  setTheme();
  // Most people never chose a language: its words come while the store is opened.
  const speaking = speak();
  speaking.catch(() => undefined);
  // Whom no worker serves may be here for the first time: with the words comes the demo barn, and then, while the store is
  // opened and the first screen drawn, the core.
  if (!navigator.serviceWorker?.controller) {
    hurryDemo().catch(() => undefined);
    whenFree(core.hurry);
  }
  store.tellTrouble(trouble);
  let prefs: store.Prefs = {};
  let fault: unknown;
  try {
    await store.open();
    const read = (): Promise<[store.Prefs, void]> => Promise.all([store.prefs(), reread()]);
    [prefs] = await read();
    if (Object.keys(prefs).length === 0 && await store.takeBack()) [prefs] = await read();
  } catch (e) {
    fault = e;
  }
  await speaking.catch(e => { if (!prefs.lang) throw e; });
  if (prefs.lang) await speak(prefs.lang);
  if (fault) return broken(fault);
  try {
    useCalling(() => inHand && callStrip(book, inHand.exam, inHand.horse));
    useNumbers(prefs);
    useStrip(() => [afterStrip(inHand?.exam, inHand?.horse.name ?? ''), watchStrip()]);
    startWatching();
    if (!prefs.demo) await putDemo(new Date());
  } catch (e) {
    return broken(e);
  }
  void loadPack();
  // One screen is made at a time: an earlier one that is slow must not come over a later one.
  let making = false;
  let stale = false;
  const safely = async (): Promise<void> => {
    stale = true;
    if (making) return;
    making = true;
    while (stale) {
      stale = false;
      await draw(newer).catch(broken);
    }
    making = false;
  };
  window.addEventListener('hashchange', () => {
    fill(document.getElementById('tabs')!);
    void safely();
  });
  whenOther(() => (route()[0] === 'exam' ? route()[1] : undefined), w => void otherTab(w, () => void safely()));
  window.addEventListener('unhandledrejection', e => trouble(e.reason instanceof DOMException ? e.reason.name : String(e.reason)));
  window.addEventListener('beforeprint', () => {
    for (const d of document.querySelectorAll<HTMLDetailsElement>('.call details')) d.open = true;
  });
  // The form has line and processor for itself; then come the core, since somebody may be waiting for it, and beside it the other
  // screens: what to say to the vet is among them. The worker takes in every file, and comes last.
  await safely();
  void Promise.allSettled([later(), core.warm()]).then(worker);
}
