// Signs read off an instrument: temperature, weight (a scale, or girth and length), a score.

import type { Finding } from '../core/types';
import { hasMessage, say, sayFirst } from '../core/words';
import { deviceName, gradeName, measured, optional, signName, unitName } from '../text/names';
import { decimalText, unitTyped } from '../text/numbers';
import { units } from '../store/preferences';
import * as store from '../store/store';
import { type Child, h } from '../ui/dom';
import { choiceField, field, type FieldFault } from '../ui/form';
import type { Question, QuestionContext } from './question';
import { coreErrors } from './rate';

const devices: Record<string, string[]> = {
  temperature: ['digital', 'predictive', 'glass', 'infrared'],
  weight: ['scale', 'weigh-tape', 'told'],
};

export function askReading(place: QuestionContext): Question {
  if (place.sign.kind === 'score') return score(place);
  const { draft, sign, step, prefs } = place;
  const now = draft.findings(step).find(f => !f.absent);
  const offered = ['girth', 'reading'].filter(m => sign.methods.includes(m));
  let way = now?.girth ? 'girth' : now?.reading ? 'reading' : prefs.ways?.[sign.id] ?? offered[0]!;
  if (!offered.includes(way)) way = offered[0]!;

  const body: Child[] = [];
  if (offered.length > 1) {
    body.push(h('div', { class: 'ways', role: 'group', 'aria-label': say('page.ways') }, offered.map(w =>
      h('button', {
        type: 'button', class: 'way', 'aria-pressed': w === way ? 'true' : 'false', id: 'way-' + w,
        click: async () => {
          if (w === way) return;
          // A way that is changed takes the other's entry out, since a finding holds one value.
          await draft.clear(step);
          await store.putPrefs({ ways: { ...prefs.ways, [sign.id]: w } });
          place.again();
        },
      }, sayFirst([`page.way.${w}.${sign.id}`, 'page.way.' + w])))));
  }
  return way === 'girth' ? girth(place, body, now) : reading(place, body, now);
}

/** The only unit in which an animal can have such a temperature; none where both could be. The limits are ours: the catalogue takes none of the other unit there. */
const degreesOf = (v: number): string | undefined => (v >= 80 && v <= 120 ? '[degF]' : v >= 25 && v <= 50 ? 'Cel' : undefined);

function reading(place: QuestionContext, body: Child[], now: Finding | undefined): Question {
  const { draft, sign, step, prefs } = place;
  const choices = units[sign.kind] ?? [sign.unit ?? '1'];
  let typed = now?.reading?.value ?? '';
  let unit = now?.reading?.unit ?? prefs.units?.[sign.kind] ?? choices[0]!;
  let device = now?.reading?.device ?? (sign.kind === 'temperature' ? prefs.device : undefined);
  let label = now?.reading?.label ?? (sign.kind === 'temperature' ? prefs.label : undefined) ?? '';
  const result = h('p', { class: 'result', role: 'status' });
  const site = step.sites?.[0];
  let taken = '';

  const save = async (): Promise<void> => {
    const value = decimalText(typed);
    if (value === undefined) {
      if (typed.trim() === '') await draft.clear(step);
      return place.changed();
    }
    const f: Finding = {
      sign: sign.id, ...(site ? { site } : {}),
      reading: { value, unit, ...(device ? { device } : {}), ...(label.trim() ? { label: label.trim() } : {}) },
    };
    await draft.put(step, f);
    place.changed();
    const m = await measured(sign.id, f, draft);
    result.textContent = [taken, m?.shown, m?.how].filter(Boolean).join(' – ');
  };
  body.push(field({
    id: 'value', label: say('page.value'), hint: optional(`page.value.${sign.kind}`), value: typed, short: true,
    input: v => {
      typed = v;
      const behind = unitTyped(v);
      const meant = behind ?? (sign.kind === 'temperature' ? degreesOf(Number(decimalText(v))) : undefined);
      taken = '';
      if (meant && choices.includes(meant) && meant !== unit) {
        unit = meant;
        document.querySelector<HTMLInputElement>(`input[name=unit][value="${meant}"]`)!.checked = true;
        if (!behind) taken = say('page.value.taken', { unit: unitName(meant) });
      }
      void save();
    },
  }), result);
  if (choices.length > 1) {
    body.push(choiceField({
      id: 'unit', legend: say('page.unit'), tiles: true, chosen: [unit], options: choices.map(u => ({ value: u, label: unitName(u) })),
      change: ([u]) => { unit = u!; void store.putPrefs({ units: { ...prefs.units, [sign.kind]: unit } }); void save(); },
    }));
  }
  const made = devices[sign.kind] ?? [];
  if (made.length) {
    body.push(choiceField({
      id: 'device', legend: say('page.device'), chosen: device ? [device] : [],
      options: made.map(d => ({ value: d, label: deviceName(d), note: optional(`device.${d}.note`) })),
      change: ([d]) => {
        device = d;
        if (sign.kind === 'temperature') void store.putPrefs({ device });
        void save();
      },
    }));
  }
  if (sign.kind === 'temperature') {
    body.push(field({
      id: 'label', label: say('page.label'), hint: say('page.label.hint'), value: label,
      input: v => { label = v; void store.putPrefs({ label }); void save(); },
    }));
  }
  if (typed) void save();
  return {
    body, outside: true, answered: () => typed.trim() !== '' || draft.findings(step).length > 0,
    check: async () => {
      if (typed.trim() === '') return [];
      const list: FieldFault[] = [];
      if (decimalText(typed) === undefined) list.push({ field: 'value', sentence: say('page.fault.number') });
      if (made.length && !device) list.push({ field: 'device', sentence: say('page.fault.device') });
      return list.length ? list : coreErrors(place, 'value');
    },
  };
}

function girth(place: QuestionContext, body: Child[], now: Finding | undefined): Question {
  const { draft, sign, step, prefs } = place;
  let round = now?.girth?.girth ?? '';
  let length = now?.girth?.length ?? '';
  let unit = now?.girth?.unit ?? prefs.units?.['length'] ?? units['length']![0]!;
  const result = h('p', { class: 'result', role: 'status' });
  let taken = '';
  const save = async (): Promise<void> => {
    const [g, l] = [decimalText(round), decimalText(length)];
    place.changed();
    if (g === undefined || l === undefined) return;
    // No animal is so many inches around: it was read off a tape in centimetres.
    if (unit === '[in_i]' && Math.max(Number(g), Number(l)) > 120) {
      unit = 'cm';
      taken = say('page.value.taken', { unit: unitName(unit) });
      document.querySelector<HTMLInputElement>('input[name=unit][value=cm]')!.checked = true;
    }
    const f: Finding = { sign: sign.id, girth: { girth: g, length: l, unit } };
    await draft.put(step, f);
    place.changed();
    const m = await measured(sign.id, f, draft);
    result.textContent = [taken, m?.shown, m?.how].filter(Boolean).join(' – ');
  };
  body.push(
    field({ id: 'girth', label: say('page.girth'), hint: say('page.girth.hint'), value: round, short: true, input: v => { round = v; void save(); } }),
    field({ id: 'length', label: say('page.length'), hint: say('page.length.hint'), value: length, short: true, input: v => { length = v; void save(); } }),
    choiceField({
      id: 'unit', legend: say('page.unit'), tiles: true, chosen: [unit], options: units['length']!.map(u => ({ value: u, label: unitName(u) })),
      change: ([u]) => { unit = u!; void store.putPrefs({ units: { ...prefs.units, length: unit } }); void save(); },
    }), result);
  if (round) void save();
  return {
    body, outside: true, answered: () => round.trim() + length.trim() !== '' || draft.findings(step).length > 0,
    check: async () => {
      if (round.trim() + length.trim() === '') return [];
      const list: FieldFault[] = [];
      if (decimalText(round) === undefined) list.push({ field: 'girth', sentence: say('page.fault.number') });
      if (decimalText(length) === undefined) list.push({ field: 'length', sentence: say('page.fault.number') });
      return list.length ? list : coreErrors(place, 'girth');
    },
  };
}

export function score(place: QuestionContext): Question {
  const { draft, sign, step } = place;
  const now = draft.findings(step).find(f => !f.absent);
  const low = Number(sign.span?.low ?? '1');
  const high = Number(sign.span?.high ?? '9');
  const options = [];
  for (let n = low; n <= high; n++) {
    const word = `grade.${sign.id}.${n}`;
    options.push({ value: String(n), label: hasMessage(word) ? `${n} – ${gradeName(sign.id, String(n))}` : String(n) });
  }
  return {
    body: [choiceField({
      id: place.id ?? 'answer', legend: signName(sign.id), quiet: true, tiles: true, close: true, options, chosen: now?.reading ? [now.reading.value] : [],
      change: async ([n]) => {
        await draft.put(step, { sign: sign.id, reading: { value: n!, unit: sign.unit ?? '1' } });
        place.changed();
      },
    })],
    outside: true, answered: () => draft.findings(step).length > 0,
  };
}
