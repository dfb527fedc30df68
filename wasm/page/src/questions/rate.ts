// Signs counted in a minute: tapped, counted aloud, or a rate that somebody read.

import * as core from '../core/core';
import type { Fault, Finding } from '../core/types';
import { say } from '../core/words';
import { deviceName, measured, siteName, unitName } from '../text/names';
import { decimalText, wholeNumber } from '../text/numbers';
import * as store from '../store/store';
import { type Child, h } from '../ui/dom';
import { choiceField, field, type FieldFault } from '../ui/form';
import type { Question, QuestionContext } from './question';
import { tapPad, undoButtons } from './tappad';
import { timer } from './timer';

const ways = ['taps', 'count', 'reading'];
const wayOf = (f: Finding | undefined): string => (f?.taps ? 'taps' : f?.count ? 'count' : f?.reading ? 'reading' : '');

/** What was entered, by exam, step and way, as long as the page is open: a finding holds one way, and who comes back to another finds its entry again. */
const entered = new Map<string, Finding>();
/** What was typed and is no number. */
const texts = new Map<string, string>();
const keyOf = ({ draft, step }: QuestionContext, way: string): string => [draft.exam.id, step.sign, step.depth, ...(step.sites ?? []), way].join(' ');

export function askRate(place: QuestionContext): Question {
  const { draft, sign, step, prefs } = place;
  const now = draft.findings(step).find(f => !f.absent);
  const offered = ways.filter(w => sign.methods.includes(w));
  const used = wayOf(now) || prefs.ways?.[sign.id];
  const way = offered.includes(used ?? '') ? used! : offered[0]!;
  let site = now?.site ?? step.sites?.[0];
  const at = (): { site?: string } => (site ? { site } : {});

  const put = (f: Finding): Promise<boolean> => draft.put(step, { ...f, ...at() });
  const below: Child[] = [];
  if ((step.sites?.length ?? 0) > 1) {
    below.push(choiceField({
      id: 'site', legend: say('page.site'), tiles: true, options: step.sites!.map(s => ({ value: s, label: siteName(s) })),
      chosen: site ? [site] : [],
      change: ([s]) => {
        site = s;
        const f = draft.findings(step)[0];
        if (f) void put(f);
      },
    }));
  }
  const choose = async (w: string): Promise<void> => {
    if (w === shown) return; // drawn again it would lose what is being typed
    await store.putPrefs({ ways: { ...prefs.ways, [sign.id]: w } });
    prefs.ways = { ...prefs.ways, [sign.id]: w };
    // Another way begins anew; what was entered the old way stays until it is replaced, and comes again with its way.
    const f = draft.findings(step).find(x => !x.absent);
    if (f) entered.set(keyOf(place, wayOf(f)), f);
    const before = entered.get(keyOf(place, w));
    if (before) await put(before);
    instead = w;
    place.again();
  };
  const body: Child[] = [h('div', { class: 'ways', role: 'group', 'aria-label': say('page.ways') }, offered.map(w =>
    h('button', { type: 'button', class: 'way', 'aria-pressed': w === showing(way) ? 'true' : 'false', id: 'way-' + w, click: () => void choose(w) },
      say('page.way.' + w))))];
  const shown = showing(way);
  instead = undefined;

  if (shown === 'taps') {
    const { body: tapped, pad } = tapPad({
      sign: sign.id, taps: now?.taps?.atMs ?? [],
      change: async atMs => {
        if (atMs.length === 0) await draft.clear(step);
        else await put({ sign: sign.id, taps: { atMs } });
        place.changed();
      },
    });
    return {
      // The figure stands first, so that the pad never covers it.
      body: [tapped, body, below], pad, kind: 'padded', outside: true, answered: () => draft.findings(step).length > 0,
      check: async () => coreErrors(place, 'pad'),
    };
  }
  const asking = shown === 'count' ? counted(place, body, put, now) : told(place, body, put, now);
  asking.body.push(below);
  return asking;
}

/** A change of way for the drawing that follows. */
let instead: string | undefined;
const showing = (way: string): string => instead ?? way;

function counted(place: QuestionContext, body: Child[], put: (f: Finding) => Promise<boolean>, now: Finding | undefined): Question {
  const { draft, sign, step } = place;
  let seconds = now?.count?.seconds ?? 30;
  let start = now?.count?.start ?? 'on-beat';
  let typed = now?.count ? String(now.count.events) : '';
  const result = h('p', { class: 'result', role: 'status' });
  const save = async (): Promise<void> => {
    const events = wholeNumber(typed);
    if (events === undefined) return;
    const f: Finding = { sign: sign.id, count: { events, seconds, start } };
    await put(f);
    place.changed();
    const m = await measured(sign.id, f);
    result.textContent = [[m?.shown, m?.how].filter(Boolean).join(' – '), m?.advice].filter(Boolean).join('. ');
  };
  // What a press, or starting again, has replaced: a window that was over, and its number.
  interface Before { over: boolean; typed: string }
  const past: Before[] = [];
  const below = h('p', { class: 'tools' });
  const events = field({
    id: 'events', label: say('page.count.events'), value: typed, mode: 'numeric', short: true,
    input: v => { typed = v; void save(); drawTools(); },
  });
  const back = (to: Before): void => {
    clock.reset(to.over);
    typed = to.typed;
    events.querySelector('input')!.value = typed;
    result.textContent = '';
    if (typed.trim()) void save();
    else void draft.clear(step).then(place.changed);
    drawTools();
  };
  const keep = (): void => { past.push({ over: clock.state() === 'over', typed }); };
  const clock = timer(() => seconds, sign.id, keep, () => drawTools());
  const drawTools = (): void => {
    const fresh = typed === '' && clock.state() === 'ready';
    undoButtons(below, past.length > 0 ? () => back(past.pop()!) : undefined, fresh ? undefined : () => { keep(); back({ over: false, typed: '' }); });
  };
  drawTools();
  // The clock and what was counted stand first, above the pad.
  body.unshift(clock.face, events, below, result);
  const windows = [15, 30, 60];
  const usual = choiceField({
    id: 'seconds', legend: say('page.count.seconds'), tiles: true, chosen: [String(seconds)],
    options: windows.map(s => ({ value: String(s), label: say('page.seconds', { n: s }) })),
    change: ([s]) => { last(Number(s)); other.querySelector('input')!.value = ''; },
  });
  const last = (s: number): void => { seconds = s; clock.reset(); void save(); };
  const other = field({
    id: 'other-seconds', label: say('page.count.other'), mode: 'numeric', short: true, value: windows.includes(seconds) ? '' : String(seconds),
    input: v => {
      const s = wholeNumber(v);
      if (!s) return;
      for (const radio of usual.querySelectorAll('input')) radio.checked = radio.value === String(s);
      last(s);
    },
  });
  body.push(
    usual, other,
    choiceField({
      id: 'start', legend: say('page.count.start'), chosen: [start],
      options: ['on-beat', 'anywhere'].map(s => ({ value: s, label: say('page.count.' + s), note: say(`page.count.${s}.note`) })),
      change: ([s]) => { start = s!; void save(); },
    }));
  if (typed) void save();
  return {
    body, pad: clock.pad, kind: 'padded counting', outside: true,
    answered: () => typed.trim() !== '' || draft.findings(step).length > 0,
    check: async () => {
      if (typed.trim() === '') return [];
      if (wholeNumber(typed) === undefined) return [{ field: 'events', sentence: say('page.fault.whole') }];
      return coreErrors(place, 'events');
    },
  };
}

function told(place: QuestionContext, body: Child[], put: (f: Finding) => Promise<boolean>, now: Finding | undefined): Question {
  const { draft, sign, step } = place;
  let typed = texts.get(keyOf(place, 'reading')) || now?.reading?.value || '';
  let device = now?.reading?.device;
  // A number is kept as it is typed; who told it is asked on the way on.
  const save = async (): Promise<void> => {
    const value = decimalText(typed);
    texts.set(keyOf(place, 'reading'), value === undefined ? typed : '');
    if (value !== undefined) await put({ sign: sign.id, reading: { value, unit: sign.unit ?? '/min', ...(device ? { device } : {}) } });
    else if (!typed.trim() && draft.findings(step)[0]?.reading) await draft.clear(step);
    place.changed();
  };
  body.push(
    field({ id: 'value', label: `${say('page.value')} (${unitName(sign.unit ?? '/min')})`, value: typed, short: true, mode: 'numeric', input: v => { typed = v; void save(); } }),
    choiceField({
      id: 'device', legend: say('page.device.rate'), chosen: device ? [device] : [],
      // Who has counted says for how long: a count of one's own is one.
      options: [...['told', 'monitor'].map(d => ({ value: d, label: deviceName(d) })), ...(sign.methods.includes('count') ? [{ value: 'mine', label: say('page.device.mine') }] : [])],
      change: ([d]) => { if (d === 'mine') return document.getElementById('way-count')?.click(); device = d!; void save(); },
    }));
  return {
    body, outside: true, answered: () => typed.trim() !== '' || draft.findings(step).length > 0,
    check: async () => {
      if (typed.trim() === '') return [];
      if (decimalText(typed) === undefined) return [{ field: 'value', sentence: say('page.fault.number') }];
      if (!device) return [{ field: 'device', sentence: say('page.fault.device') }];
      return coreErrors(place, 'value');
    },
  };
}

/**
 * What the core refuses of the step's finding, at the field that it concerns or else at the
 * given one. Nothing, while the core is away: the whole exam is checked before it is finished.
 */
export async function coreErrors(place: QuestionContext, at: string): Promise<FieldFault[]> {
  const finding = place.draft.findings(place.step).find(f => !f.absent);
  if (!finding) return [];
  const field = (f: Fault): FieldFault => {
    const name = f.path.split('/').pop() ?? '';
    return { field: document.getElementById(name) ? name : at, sentence: f.sentence };
  };
  try {
    const exam = { ...place.draft.exam, findings: [finding] };
    const { faults } = await core.call<{ faults: Fault[] }>('check', { exam });
    if (faults.length) return faults.map(field);
    await core.call('measure', { sign: place.sign.id, finding, horse: place.draft.horse, at: place.draft.exam.at });
    return [];
  } catch (e) {
    return e instanceof core.Refused ? e.faults.map(field) : [];
  }
}
