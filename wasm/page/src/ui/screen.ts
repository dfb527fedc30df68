// A screen: its head, its body, its foot, and what happens when it is left.

import { say } from '../core/words';
import { type Child, fill, h } from './dom';

export interface BarItem {
  label: string;
  go: () => void;
  /** The next sensible thing is black. */
  main?: boolean;
  /** Of an only-sometimes thing, such as a link to telephone. */
  href?: string;
  /** What stands before the words. */
  mark?: Child;
  /** "Something is wrong", which stands left, and the number to call, in red. */
  look?: 'wrong' | 'dial';
  id?: string;
}

export interface View {
  title: string;
  /** What stands left in the head: the horse, the barn. */
  head?: string;
  /** Where the left of the head leads: the overview of the exam. */
  whereGo?: () => void;
  /** A way out at the right of the head. */
  out?: { label: string; go: () => void };
  /** Stands before the way out. */
  beside?: Child;
  body: Child[];
  bar?: BarItem[];
  /** A layout of its own: 'pad' has the lower half for the thumb. */
  kind?: string;
  /** Stands before the title: the mark of a level. */
  mark?: Child;
  /** Stands between the body and the bar (the tap pad). */
  pad?: HTMLElement;
  /** Whom to call, over the bar; what the page says by itself, if not given. */
  calling?: Child;
}

let strip: (() => Child) | undefined;

/** What stands under the head of every screen: a watch that runs. It has its room from the
 * start of the screen, so that nothing moves when it changes. */
export function setStrip(f: () => Child): void { strip = f; }

let calling: (() => Child) | undefined;

/** What stands over the bar of every screen of an exam that means to call: at the foot, so that nothing above it moves when it comes. */
export function setCallStrip(f: () => Child): void { calling = f; }

/** Draws it anew on the screen that stands. */
export function refreshCallStrip(): void {
  const room = document.getElementById('calling');
  if (room && room.dataset.own === undefined) fill(room, calling?.());
}

let leaving: (() => void)[] = [];
let coming: (() => void)[] = [];

/** Runs when the screen that is being made is left: timers, wake locks, listeners. */
export function onLeave(f: () => void): void { coming.push(f); }

const app = () => document.getElementById('app')!;

/** Puts a screen up; the title takes the focus, so that a screen reader says where one is. */
export function show(view: View): void {
  for (const f of leaving) f();
  leaving = coming;
  coming = [];
  document.title = `${view.title} – ${say('page.name')}`;
  const title = h('h1', { tabindex: -1, id: 'title' }, view.title);
  const bar = view.bar?.length ? h('nav', { class: 'bar', 'aria-label': say('page.bar') }, view.bar.map(barItem)) : null;
  const screen = h('div', { class: 'screen ' + (view.kind ?? ''), 'data-at': location.hash },
    h('header', { class: 'head' },
      view.whereGo
        ? h('button', { type: 'button', class: 'link where', id: 'where', click: view.whereGo }, view.head ?? say('page.name'))
        : h('span', { class: 'where' }, view.head ?? say('page.name')),
      view.beside, view.out && h('button', { type: 'button', class: 'link', click: view.out.go }, view.out.label)),
    strip?.(),
    h('main', { class: 'body' }, h('div', { id: 'faults' }), view.mark ? h('div', { class: 'marked' }, view.mark, title) : title, view.body),
    h('div', { class: 'foot' }, h('div', { id: 'calling', 'data-own': view.calling !== undefined }, view.calling ?? calling?.()), view.pad, bar));
  fill(app(), screen);
  window.scrollTo(0, 0);
  title.focus({ preventScroll: true });
}

function barItem(item: BarItem): HTMLElement {
  const look = 'go' + (item.main ? ' main' : '') + (item.look ? ' ' + item.look : '');
  const id = item.id ?? (item.main && !item.href ? 'go' : undefined);
  if (item.href) return h('a', { class: look, href: item.href, id }, item.mark, h('span', {}, item.label));
  return h('button', { type: 'button', class: look, click: item.go, id }, item.mark, item.mark ? h('span', {}, item.label) : item.label);
}

/** A line that a screen reader says and nobody must look for. */
export function announce(text: string): void {
  const live = document.getElementById('live');
  if (live) live.textContent = text;
}
