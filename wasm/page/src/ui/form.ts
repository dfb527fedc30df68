// Parts of a form: choices, fields, and what is wrong with them.

import { say } from '../core/words';
import { fill, h, link } from './dom';

export interface Option { value: string; label: string; note?: string; apart?: boolean; lang?: string }

export interface ChoiceField {
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
export function choiceField(c: ChoiceField): HTMLElement {
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

export interface FieldFault { field: string; sentence: string }

/** Shows faults: a summary that takes the focus, and the same words at each field. */
export function showFaults(list: FieldFault[]): void {
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
    const set = at.closest('.field, fieldset');
    if (set?.matches('fieldset')) set.querySelector('legend')?.after(words);
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

/** Shows faults, and goes to the only one: where the way on did nothing but ask for it. */
export function goToFault(list: FieldFault[]): void {
  showFaults(list);
  if (list.length === 1) document.querySelector<HTMLElement>('.summary button')?.click();
}
