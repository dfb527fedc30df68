// Boot: words, catalogue, store; then the screen of the address.

import { barnScreen, horseScreen } from './barn';
import { listen } from './alarms';
import { checkScreen, closedScreen } from './check';
import * as core from './core';
import { hurryDemo, putDemo } from './demo';
import { caution, fill, h, link, para, show, useCalling, useStrip } from './dom';
import { Draft } from './draft';
import { groupScreen } from './group';
import { listScreen } from './list';
import { whenFree } from './load';
import { overviewScreen } from './overview';
import { loadPack, useNumbers } from './pack';
import { go, goInstead, later, route, sentIn } from './route';
import { settingsScreen } from './settings';
import { changeStart, newExam } from './start';
import { stepScreen } from './step';
import { doneScreen } from './short';
import { storyScreen } from './story';
import * as store from './store';
import { callStrip } from './strip';
import { opened, whenOther } from './tabs';
import { setTheme } from './theme';
import type { Book } from './types';
import { afterStrip, reread, startWatching, watchStrip } from './watches';
import { has, say, speak } from './words';
import { opening, wrongScreen } from './wrong';

/** The catalogue, so that the form works before the core has arrived. */
declare const BOOK: Book;
declare const VERSION: string;
/** The page is one file, which no service worker can keep and none has to. */
declare const ONE_FILE: boolean;

const book = BOOK;
let newer: HTMLElement | undefined;
let inHand: Draft | undefined;

async function draw(): Promise<void> {
  const sent = sentIn(location.hash);
  if (sent !== undefined) return (await later()).openScreen(book, sent);
  const [what, id, ...rest] = route();
  inHand = undefined;
  switch (what) {
    case 'horse': return horseRoute(id, rest);
    case 'new': {
      const horse = id && (await store.horse(id));
      return horse ? newExam(book, horse, rest) : goInstead();
    }
    case 'exam': return examRoute(id ?? '', rest);
    case 'drop': {
      const exam = id && (await store.exam(id));
      const horse = exam && (await store.horse(exam.horse));
      return exam && horse ? (await later()).dropDraft(exam, horse) : goInstead();
    }
    case 'watch': return (await later()).watchRoute(book, id, rest[0]);
    case 'recovery': return (await later()).recoveryRoute(book, id, rest[0]);
    case 'practise': return (await later()).practiseRoute(book, id);
    case 'lesson': return (await later()).lessonRoute(book, id, rest[0], rest[1]);
    case 'files': return (await later()).filesScreen();
    case 'conflicts': return (await later()).conflictsScreen();
    case 'open': return (await later()).pasteScreen();
    case 'blank': return (await later()).blankExam(book, id ?? 'full');
    case 'wrong': return wrongScreen(book, id);
    case 'say': return (await later()).sayScreen(book, id ?? '');
    case 'outcome': return (await later()).outcomeScreen(id ?? '');
    case 'number': return (await later()).numberScreen();
    case 'figures': return (await later()).figuresScreen();
    case 'settings': return settingsScreen();
    default: return barnScreen(book, VERSION, newer);
  }
}

async function horseRoute(id: string | undefined, [what, a, b]: string[]): Promise<void> {
  if (id === 'new') return (await later()).horseForm(book, undefined);
  const horse = id && (await store.horse(id));
  if (!horse) return goInstead();
  if (what === 'edit') return (await later()).horseForm(book, horse);
  if (what === 'drop') return (await later()).dropHorse(horse);
  if (what === 'history') return (await later()).historyScreen(book, horse, a, b);
  if (what === 'pair') return (await later()).pairScreen(book, horse, a, b);
  if (what === 'stall') return (await later()).stallSheet(book, horse);
  return horseScreen(book, horse);
}

async function examRoute(id: string, rest: string[]): Promise<void> {
  const draft = await Draft.load(book, id);
  if (!draft) return goInstead();
  inHand = draft;
  opening(draft.horse.id);
  const at = rest[0] ?? '0';
  if (draft.exam.status === 'finished') return finishedRoute(draft, at);
  void listen(draft);
  await store.putPlace(id, rest.join('/'));
  opened(id);
  switch (at) {
    case 'start': return changeStart(draft);
    case 'story': return storyScreen(draft, Number(rest[1] ?? '1'));
    case 'check': return checkScreen(draft);
    case 'closed': return closedScreen(draft);
    case 'done': return doneScreen(draft);
    case 'all': return overviewScreen(draft);
    case 'list': return listScreen(draft);
    case 'g': return groupScreen(draft, Number(rest[1]) || 0);
    default: return stepScreen(draft, Number(at) || 0, rest[1]);
  }
}

async function finishedRoute(draft: Draft, at: string): Promise<void> {
  switch (at) {
    case 'call': return (await later()).callScreen(draft);
    case 'aloud': return (await later()).callAloud(draft);
    case 'send': return (await later()).sendScreen(draft);
    default: return (await later()).resultScreen(draft);
  }
}

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
      if (route().length === 0) void draw();
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

async function boot(): Promise<void> {
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
      await draw().catch(broken);
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

void boot();
