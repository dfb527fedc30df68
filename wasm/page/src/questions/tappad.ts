// The tap pad: the lower half of the screen, the moment of the press itself.

import * as core from '../core/core';
import type { Tapped } from '../core/types';
import { say, sayFirst } from '../core/words';
import { fill, h, link } from '../ui/dom';
import { announce, onLeave } from '../ui/screen';
import { stayAwake } from '../ui/wakelock';

/** Undo and restart, the same for every instrument, shown while there is something to take back. */
export function undoButtons(box: HTMLElement, undo: (() => void) | undefined, restart: (() => void) | undefined): void {
  fill(box,
    undo && link(say('page.pad.undo'), undo, { id: 'undo' }),
    restart && link(say('page.pad.restart'), restart, { id: 'restart' }));
}

export interface Tapping {
  sign: string;
  taps: number[];
  change: (atMs: number[]) => void;
}

export function tapPad(t: Tapping): { body: HTMLElement; pad: HTMLElement } {
  let taps = t.taps;
  let old: number[] = [];
  let first: number | undefined; // event time of taps[0]; undefined: the next tap begins a series

  const figure = h('div', { class: 'figure' });
  const under = h('p', { class: 'under' });
  const strip = h('div', { class: 'strip' });
  const words = h('span', {}, sayFirst(['page.pad.' + t.sign, 'page.pad']));
  // Said before and not after: a shorter series never tells the rhythm of a slow heart.
  const hint = t.sign === 'heart-rate' ? say('page.pad.hint.heart') : say('page.pad.hint');
  const small = h('small', {}, hint);
  const pad = h('button', { type: 'button', class: 'pad', id: 'pad' }, words, small);
  const below = h('p', { class: 'tools' });
  const body = h('div', { class: 'tapped' }, figure, under, strip, below);

  let asked = 0;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  const rate = async (): Promise<void> => {
    const mine = ++asked;
    if (taps.length < 2) return say2(taps.length ? '1' : '', taps.length ? say('page.pad.count', { n: 1 }) : '', '');
    try {
      const got = await core.call<Tapped>('taps', { sign: t.sign, atMs: taps });
      if (mine !== asked) return;
      if (got.measure) say2(got.measure.value.toFixed(0), say('page.aminute'), got.how ?? '');
    } catch (e) {
      if (mine !== asked) return;
      say2(String(taps.length), say('page.pad.count', { n: taps.length }), e instanceof core.Refused ? e.message : '');
    }
  };
  const say2 = (big: string, pm: string, how: string): void => {
    fill(figure, big && h('span', { class: 'big', id: 'rate' }, big), pm && h('span', { class: 'pm' }, pm));
    fill(under, how);
    clearTimeout(quiet);
    // Said once the tapping rests, so that speech does not run behind every beat.
    quiet = setTimeout(() => announce([big, pm, how].join(' ')), 2500);
  };
  onLeave(() => clearTimeout(quiet));

  const draw = (): void => {
    body.classList.toggle('begun', taps.length > 0);
    document.querySelector('.screen')?.classList.toggle('tapping', taps.length > 0);
    small.textContent = taps.length ? say('page.pad.count', { n: taps.length }) : hint;
    fill(strip, tapStrip(taps));
    if (taps.length === 0 && old.length > 0) {
      fill(below, link(say('page.pad.restore'), () => { const kept = old; old = []; first = undefined; set(kept); }, { id: 'restore' }));
    } else {
      const some = taps.length > 0;
      undoButtons(below, some ? () => set(taps.slice(0, -1)) : undefined, some ? () => { old = taps; first = undefined; set([]); } : undefined);
    }
  };
  const set = (to: number[]): void => {
    taps = to;
    t.change(taps);
    draw();
    void rate();
  };

  const beat = (at: number): void => {
    if (first === undefined) {
      if (taps.length > 0) old = taps;
      taps = [];
      first = at;
    }
    const ms = Math.round(at - first);
    if (taps.length > 0 && ms <= taps[taps.length - 1]!) return;
    taps = [...taps, ms];
    // The press is answered before any call into the core.
    pad.classList.toggle('flip');
    small.textContent = say('page.pad.count', { n: taps.length });
    setTimeout(() => { t.change(taps); draw(); void rate(); });
  };
  pad.addEventListener('pointerdown', e => { if (e.button === 0 && e.isPrimary) beat(e.timeStamp); });
  // A held key repeats; only its first press is a beat.
  const key = (e: KeyboardEvent): void => {
    if (e.key !== ' ' && e.key !== 'Enter') return;
    const on = e.target as HTMLElement;
    if (on !== pad && on !== document.body && on.id !== 'title') return;
    e.preventDefault();
    if (!e.repeat) beat(e.timeStamp);
  };
  document.addEventListener('keydown', key);
  onLeave(() => document.removeEventListener('keydown', key));
  stayAwake();
  core.warm().catch(() => undefined);
  queueMicrotask(draw);
  if (taps.length > 0) void rate();
  return { body, pad };
}

/** The last twenty seconds of taps as strokes on a line, or another span in milliseconds. */
export function tapStrip(taps: number[], span = 20_000): SVGElement | null {
  if (taps.length === 0) return null;
  const ns = 'http://www.w3.org/2000/svg';
  const end = taps[taps.length - 1]!;
  const from = Math.max(0, end - span);
  const svg = document.createElementNS(ns, 'svg');
  svg.setAttribute('viewBox', '0 0 328 30');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS(ns, 'path');
  const x = (at: number): string => (6 + ((at - from) / span) * 316).toFixed(1);
  path.setAttribute('d', 'M0 28H328' + taps.filter(at => at >= from).map(at => `M${x(at)} 28V6`).join(''));
  path.setAttribute('stroke', 'currentColor');
  path.setAttribute('stroke-width', '3');
  svg.append(path);
  return svg;
}
