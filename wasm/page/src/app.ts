// Boot: words, catalogue, store; then the screen of the address.

import * as core from './core/core';
import { whenIdle } from './core/load';
import { hasMessage, say, setLanguage } from './core/words';
import { prefetchDemo, putDemo } from './store/demo';
import { loadPack, setPackChanged, useNumbers } from './store/pack';
import { reloadCallNotes } from './store/calls';
import * as store from './store/store';
import { onOtherTab } from './store/tabs';
import { caution, fill, h, link, para } from './ui/dom';
import { go, route, sentIn } from './ui/route';
import { setCallStrip, setStrip, show } from './ui/screen';
import { setTheme } from './ui/theme';
import { setAlarmWords } from './exam/alarms';
import { callStrip } from './exam/callstrip';
import { setClinicAsks } from './exam/pages';
import { afterWorkStrip, reloadWatches, startWatching, watchStrip } from './exam/watches';
import { book, type LazyScreens, openDraft, setLazyScreens, showRoute } from './router';

/** The page is one file, which no service worker can keep and none has to. */
declare const ONE_FILE: boolean;

let newer: HTMLElement | undefined;

/** A write that failed stays on the screen until one succeeds: nothing is lost in silence. */
function showWriteError(name: string): void {
  const box = document.getElementById('trouble')!;
  if (name === '') return fill(box);
  const key = 'page.trouble.' + name;
  fill(box, caution(h('p', {}, h('strong', {}, say('page.trouble')), ' ', say(hasMessage(key) ? key : 'page.trouble.other', { name }))));
}

function showError(e: unknown, how = 'page.broken.how'): void {
  const what = e instanceof DOMException ? e.name : e instanceof Error ? e.message : String(e);
  const key = 'page.trouble.' + what;
  show({
    title: say('page.broken'),
    body: [para(say(hasMessage(key) ? key : how)), h('p', { class: 'note' }, what)],
    bar: [{ label: say('page.barn'), go: () => { go(); location.reload(); }, main: true }],
  });
}

async function registerServiceWorker(): Promise<void> {
  if (ONE_FILE || !('serviceWorker' in navigator)) return;
  try {
    const registration = await navigator.serviceWorker.register('sw.js');
    const ready = (): void => {
      if (!registration.waiting || !navigator.serviceWorker.controller) return;
      newer = caution(para(say('page.newer')), link(say('page.newer.take'), () => {
        navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
        registration.waiting?.postMessage('take-over');
      }));
      if (route().length === 0) void showRoute(newer);
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
async function showOtherTab(wrote: boolean, again: () => void): Promise<void> {
  const [, id, at] = route();
  const exam = id && (await store.exam(id));
  fill(document.getElementById('tabs')!, caution(para(say(exam && exam.status === 'finished' ? 'page.tabs.finished' : 'page.tabs'))));
  if (wrote && ['g', 'all', 'check'].includes(at ?? '')) again();
}

/** Starts the page; load brings the screens that come in a file of their own. */
export async function boot(load: () => Promise<LazyScreens>): Promise<void> {
  setLazyScreens(load);
  setTheme();
  // Most people never chose a language: its words come while the store is opened.
  const speaking = setLanguage();
  speaking.catch(() => undefined);
  // Whom no worker serves may be here for the first time: with the words comes the demo barn, and then, while the store is
  // opened and the first screen drawn, the core.
  if (!navigator.serviceWorker?.controller) {
    prefetchDemo().catch(() => undefined);
    whenIdle(core.prefetch);
  }
  store.setWriteErrorHandler(showWriteError);
  let prefs: store.Prefs = {};
  let fault: unknown;
  try {
    await store.open();
    const read = (): Promise<[store.Prefs, ...unknown[]]> => Promise.all([store.prefs(), reloadWatches(), reloadCallNotes()]);
    [prefs] = await read();
    if (Object.keys(prefs).length === 0 && await store.restoreBackup()) [prefs] = await read();
  } catch (e) {
    fault = e;
  }
  await speaking.catch(e => { if (!prefs.lang) throw e; });
  if (prefs.lang) await setLanguage(prefs.lang);
  if (fault) {
    if (sentIn(location.hash) === undefined) return showError(fault, 'page.nostore');
    store.readNothing();
  }
  try {
    setCallStrip(() => openDraft && callStrip(book, openDraft.exam, openDraft.horse));
    useNumbers(prefs);
    setStrip(() => [afterWorkStrip(openDraft?.exam, openDraft?.horse.name ?? ''), watchStrip()]);
    startWatching();
    if (!fault && !prefs.demo) await putDemo(new Date());
  } catch (e) {
    return showError(e);
  }
  // One screen is made at a time: an earlier one that is slow must not come over a later one.
  let making = false;
  let stale = false;
  const safely = async (): Promise<void> => {
    stale = true;
    if (making) return;
    making = true;
    while (stale) {
      stale = false;
      await showRoute(newer).catch(showError);
    }
    making = false;
  };
  window.addEventListener('hashchange', () => {
    fill(document.getElementById('tabs')!);
    void safely();
  });
  // What is told is told anew with a clinic's file that came late; nobody is disturbed who is entering something.
  setPackChanged(() => {
    const [what, , at] = route();
    if ((sentIn(location.hash) !== undefined || what === 'say' || at === 'result' || at === 'call') && !document.activeElement?.matches('input, textarea')) void safely();
  });
  void loadPack();
  onOtherTab(() => (route()[0] === 'exam' ? route()[1] : undefined), w => void showOtherTab(w, () => void safely()));
  window.addEventListener('unhandledrejection', e => showWriteError(e.reason instanceof DOMException ? e.reason.name : String(e.reason)));
  window.addEventListener('beforeprint', () => {
    for (const d of document.querySelectorAll<HTMLDetailsElement>('.call details')) d.open = true;
  });
  // The form has line and processor for itself; then come the core, since somebody may be waiting for it, and beside it the other
  // screens: what to say to the vet is among them. The worker takes in every file, and comes last.
  await safely();
  const words = load().then(later => {
    setAlarmWords(later.alarmText);
    setClinicAsks(later.clinicAsks);
    later.checkCopy().catch(() => undefined);
  });
  void Promise.allSettled([words, core.warm()]).then(registerServiceWorker);
}
