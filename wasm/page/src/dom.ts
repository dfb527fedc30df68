// Elements, screens and form parts. Nothing here writes HTML text.

import { say } from './words';

export type Child = Node | string | number | false | null | undefined | Child[];
type Value = string | number | boolean | undefined | ((e: never) => void);

export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K, props: Record<string, Value> = {}, ...kids: Child[]
): HTMLElementTagNameMap[K] {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (typeof value === 'function') e.addEventListener(name, value as (e: Event) => void);
    else if (value === true) e.setAttribute(name, '');
    else if (value !== false && value !== undefined) e.setAttribute(name, String(value));
  }
  add(e, kids);
  return e;
}

export function add(to: Element, kids: Child): void {
  for (const kid of Array.isArray(kids) ? kids : [kids]) {
    if (Array.isArray(kid)) add(to, kid);
    // A mark that turns the direction of writing would turn what stands behind it too: a number would read backwards.
    else if (kid !== false && kid !== null && kid !== undefined) to.append(kid instanceof Node ? kid : String(kid).replace(/[\u202a-\u202e\u2066-\u2069]/g, ''));
  }
}

export function fill(to: Element, ...kids: Child[]): void {
  to.replaceChildren();
  add(to, kids);
}

/** A drawing from the core: parsed as XML and taken over only if it is an svg element. */
export function drawing(svg: string | undefined): Node | undefined {
  if (!svg) return undefined;
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.nodeName !== 'svg' || root.querySelector('script, foreignObject, parsererror')) return undefined;
  return document.importNode(root, true);
}

export interface BarItem {
  label: string;
  go: () => void;
  /** The next sensible thing is black. */
  main?: boolean;
  /** The way on, while the next sensible thing stands in the body. */
  pale?: boolean;
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
export function useStrip(f: () => Child): void { strip = f; }

let calling: (() => Child) | undefined;

/** What stands over the bar of every screen of an exam that means to call: at the foot, so that nothing above it moves when it comes. */
export function useCalling(f: () => Child): void { calling = f; }

/** Draws it anew on the screen that stands. */
export function refreshCalling(): void {
  const room = document.getElementById('calling');
  if (room && !room.dataset.own) fill(room, calling?.());
}

let leaving: (() => void)[] = [];
let coming: (() => void)[] = [];

/** Runs when the screen that is being made is left: timers, wake locks, listeners. */
export function whenLeft(f: () => void): void { coming.push(f); }

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
  const look = 'go' + (item.main ? (item.pale ? ' wide' : ' main') : '') + (item.look ? ' ' + item.look : '');
  const id = item.id ?? (item.main && !item.href ? 'go' : undefined);
  if (item.href) return h('a', { class: look, href: item.href, id }, item.mark, h('span', {}, item.label));
  return h('button', { type: 'button', class: look, click: item.go, id }, item.mark, item.mark ? h('span', {}, item.label) : item.label);
}

export const para = (text: string, look = ''): HTMLElement => h('p', look ? { class: look } : {}, text);
export const caution = (...kids: Child[]): HTMLElement => h('div', { class: 'caution' }, kids);
export const link = (label: string, go: () => void, props: Record<string, Value> = {}): HTMLElement =>
  h('button', { type: 'button', class: 'link', click: go, ...props }, label);

export interface Option { value: string; label: string; note?: string; apart?: boolean; lang?: string }

export interface Choosing {
  id: string;
  legend: string;
  /** The legend repeats the title of the screen: heard, not seen. */
  quiet?: boolean;
  many?: boolean;
  /** Short answers side by side. */
  tiles?: boolean;
  /** Rows close together: few, and mostly right already. */
  close?: boolean;
  options: Option[];
  chosen: string[];
  /** Answers that exclude every other one. */
  alone?: string[];
  change: (values: string[]) => void;
}

/** Answers as full-width rows, each with a square that fills. */
export function choosing(c: Choosing): HTMLElement {
  const chosen = new Set(c.chosen);
  const inputs: HTMLInputElement[] = [];
  const rows = c.options.map((o, i) => {
    const input = h('input', {
      type: c.many ? 'checkbox' : 'radio', name: c.id, value: o.value, id: i === 0 ? c.id : `${c.id}-${o.value}`,
      checked: chosen.has(o.value), change: () => {
        if (!c.many) chosen.clear();
        if (input.checked) {
          const alone = c.alone ?? [];
          for (const other of inputs) {
            if (other !== input && (alone.includes(o.value) || alone.includes(other.value))) {
              other.checked = false;
              chosen.delete(other.value);
            }
          }
          chosen.add(o.value);
        } else chosen.delete(o.value);
        c.change(c.options.map(x => x.value).filter(v => chosen.has(v)));
      },
    });
    inputs.push(input);
    return h('label', { class: 'row' + (o.apart ? ' apart' : '') }, input, h('span', { class: 'box' }),
      h('span', { class: 'words' }, h('span', { class: 'answer', lang: o.lang }, o.label), o.note && h('span', { class: 'note' }, o.note)));
  });
  return h('fieldset', { class: 'choice' + (c.tiles ? ' tiles' : '') + (c.close ? ' close' : '') },
    h('legend', c.quiet ? { class: 'heard' } : {}, c.legend), h('div', { class: 'rows' }, rows));
}

export interface Field {
  id: string;
  label: string;
  hint?: string;
  value?: string;
  type?: string;
  long?: boolean;
  short?: boolean;
  mode?: string;
  fill?: string;
  input: (value: string) => void;
}

export function field(f: Field): HTMLElement {
  const props = {
    id: f.id, autocomplete: f.fill ?? 'off', 'aria-describedby': f.hint ? f.id + '-hint' : undefined,
    class: f.short ? 'short' : undefined,
    input: (e: Event) => f.input((e.target as HTMLInputElement).value),
  };
  const box = f.long ? h('textarea', { ...props, rows: 3 }) : h('input', { ...props, type: f.type ?? 'text', inputmode: f.mode });
  box.value = f.value ?? '';
  return h('div', { class: 'field', id: f.id + '-field' }, h('label', { for: f.id }, f.label),
    f.hint && h('span', { class: 'note', id: f.id + '-hint' }, f.hint), box);
}

export interface Trouble { field: string; sentence: string }

/** Shows faults: a summary that takes the focus, and the same words at each field. */
export function faults(list: Trouble[]): void {
  for (const e of document.querySelectorAll('.fault')) e.remove();
  for (const e of document.querySelectorAll('[aria-invalid]')) e.removeAttribute('aria-invalid');
  const top = document.getElementById('faults')!;
  fill(top);
  if (list.length === 0) return;
  for (const f of list) {
    const at = document.getElementById(f.field);
    if (!at) continue;
    const id = f.field + '-fault';
    at.setAttribute('aria-invalid', 'true');
    at.setAttribute('aria-describedby', [at.getAttribute('aria-describedby')?.replace(id, ''), id].join(' ').trim());
    const words = h('p', { class: 'fault', id }, f.sentence);
    const set = at.closest('fieldset');
    if (set) set.querySelector('legend')?.after(words);
    else at.before(words);
  }
  const summary = h('div', { class: 'summary', role: 'alert', tabindex: -1, 'aria-labelledby': 'faults-title' },
    h('h2', { id: 'faults-title' }, say('page.faults', { n: list.length })),
    h('ul', {}, list.map(f => h('li', {}, link(f.sentence, () => {
      const at = document.getElementById(f.field);
      // The label is brought into view, since the field alone does not say what it asks.
      (at?.closest('fieldset, .field') ?? at)?.scrollIntoView();
      at?.focus({ preventScroll: true });
    })))));
  fill(top, summary);
  if (!document.title.startsWith(say('page.fault.title'))) document.title = say('page.fault.title') + document.title;
  window.scrollTo(0, 0);
  summary.focus();
}

/** A line that a screen reader says and nobody must look for. */
export function announce(text: string): void {
  const live = document.getElementById('live');
  if (live) live.textContent = text;
}
