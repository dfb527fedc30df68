// The air after work, for the heat sum: two numbers that may stay empty.

import type { Exam } from '../core/types';
import { say } from '../core/words';
import { unitName } from '../text/names';
import { decimalText, unitTyped } from '../text/numbers';
import { units } from '../store/preferences';
import * as store from '../store/store';
import { fill, h } from '../ui/dom';
import { choiceField, field, type FieldFault } from '../ui/form';

export interface AirTyped { warm: string; humid: string; unit: string }

export function airTyped(exam: Exam): AirTyped {
  const { temperature, humidity } = exam.air ?? {};
  return { warm: temperature?.value ?? '', humid: humidity?.value ?? '', unit: temperature?.unit ?? '' };
}

export function airFields(typed: AirTyped): HTMLElement {
  const unit = h('div');
  // The unit once chosen for a thermometer is the unit of the air, until another is chosen here.
  void store.prefs().then(p => {
    typed.unit ||= p.units?.['air'] ?? p.units?.['temperature'] ?? units['temperature']![0]!;
    fill(unit, choiceField({
      id: 'air-unit', legend: say('page.unit'), tiles: true, chosen: [typed.unit], options: units['temperature']!.map(u => ({ value: u, label: unitName(u) })),
      change: ([u]) => { typed.unit = u!; void store.putPrefs({ units: { ...p.units, air: typed.unit } }); },
    }));
  });
  return h('details', { class: 'more', id: 'air', open: typed.warm + typed.humid !== '' }, h('summary', {}, say('page.air')),
    field({ id: 'air-warm', label: say('page.air.warm'), value: typed.warm, short: true, input: v => { typed.warm = v; } }), unit,
    field({ id: 'air-humid', label: say('page.air.humid'), value: typed.humid, short: true, mode: 'numeric', input: v => { typed.humid = v; } }));
}

/** The air as the record keeps it, and what is wrong with what was typed. */
export function airOf(typed: AirTyped): { list: FieldFault[]; air: Exam['air'] } {
  const list: FieldFault[] = [];
  const air: NonNullable<Exam['air']> = {};
  const number = (text: string, most: number, id: string): string | undefined => {
    if (text.trim() === '') return undefined;
    const value = decimalText(text.replace('%', ''));
    if (value === undefined || Number(value) > most) list.push({ field: id, sentence: say('page.fault.' + id) });
    return value;
  };
  const unit = unitTyped(typed.warm) ?? (typed.unit || 'Cel');
  const warm = number(typed.warm, unit === 'Cel' ? 60 : 140, 'air-warm');
  const humid = number(typed.humid, 100, 'air-humid');
  if (warm !== undefined) air.temperature = { value: warm, unit };
  if (humid !== undefined) air.humidity = { value: humid, unit: '%' };
  return { list, air: warm ?? humid ? air : undefined };
}
