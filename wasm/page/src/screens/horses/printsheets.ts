// Paper: the stall sheet of a horse and the blank sheet of an exam. What is on the screen
// is what is printed, black on white, on A4 or Letter.

import * as core from '../../core/core';
import type { Book, Horse, Sign, Step } from '../../core/types';
import { lang, locale, say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { gradeName, horseText, optional, signName, siteName, unitName } from '../../text/names';
import { numbersOf, pack } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, h, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';

interface KnownSign { sign: string; site?: string; exams: number; own: { low: number; mid: number; high: number } }
interface KnownHorse { exams: number; signs?: KnownSign[]; said: string; whorl: string }

const paper = (title: string, back: () => void, body: Child[]): void => show({
  title, head: say('page.print.title'), kind: 'told sheetpaper', out: { label: say('page.back'), go: back }, body,
  bar: [{ label: say('page.back'), go: back }, { label: say('page.call.print'), go: () => window.print(), main: true }],
});

/** Figures as people write them, in the unit in which the handler reads. */
function range(book: Book, k: KnownSign, units: Record<string, string>): string {
  const sign = book.signs.find(s => s.id === k.sign);
  const warm = sign?.kind === 'temperature' && units['temperature'] === '[degF]';
  const places = sign?.kind === 'rate' || sign?.kind === 'weight' ? 0 : 1;
  const said = (x: number): string => (warm ? x * 1.8 + 32 : x).toFixed(places);
  return `${said(k.own.low)}–${said(k.own.high)} ${unitName(warm ? '[degF]' : sign?.unit ?? '1')}`;
}

/** A horse's own normal, its numbers to call, and a week to be written in by hand. */
export async function stallSheet(book: Book, horse: Horse): Promise<void> {
  const back = (): void => go('horse', horse.id);
  let known: KnownHorse | undefined;
  try {
    const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished');
    known = await core.call<KnownHorse>('known', { horse, exams, at: rfc3339(new Date()) });
  } catch {
    // The sheet is useful without: a table for the week and the numbers.
  }
  const units = (await store.prefs()).units ?? {};
  const rows = (known?.signs ?? []).filter(k => k.sign !== 'weight');
  const columns = ['heart-rate', 'respiratory-rate', 'rectal-temperature', 'gum-colour', 'gut-sounds', 'droppings', 'feed'];
  const days = Array.from({ length: 7 }, (_, i) => new Intl.DateTimeFormat(locale, { weekday: 'short' }).format(new Date(Date.UTC(2024, 0, 1 + i, 12))));
  const numbers = numbersOf(horse);
  paper(say('page.stall.title', { name: horse.name }), back, [
    h('div', { class: 'stallhead' }, h('span', { class: 'face', 'aria-hidden': 'true' }, svgElement(known?.whorl)),
      h('div', {}, h('p', {}, horseText(horse)), horse.markings && h('p', {}, horse.markings))),
    h('h2', {}, say('page.stall.normal')),
    rows.length ? [
      h('table', { class: 'sheet' }, h('tbody', {}, rows.map(k => h('tr', {},
        h('th', { scope: 'row' }, signName(k.sign), k.site && `, ${siteName(k.site)}`), h('td', { class: 'figure-cell' }, range(book, k, units)),
        h('td', {}, k.exams ? say('page.stall.from', { n: k.exams }) : say('page.barn.unknown')))))),
      para(say('page.stall.normal.how', { day: new Intl.DateTimeFormat(locale, { dateStyle: 'medium' }).format(new Date()) })),
    ] : para(say('page.stall.none')),
    h('h2', {}, say('page.stall.ring')),
    numbers.length ? numbers.map(n => h('p', { class: 'number' }, h('strong', {}, n.phone), ' ', n.name, n.hours && ` · ${n.hours}`))
      : h('p', { class: 'blank' }, say('page.stall.ring.blank')),
    para(say('page.stall.ring.how')),
    h('h2', {}, say('page.stall.week')),
    h('p', { class: 'screened how' }, say('page.stall.week.printed')),
    h('table', { class: 'sheet week' },
      h('thead', {}, h('tr', {}, h('td', {}), columns.map(c => h('th', { scope: 'col' }, optional(`sign.${c}.short`) || signName(c))), h('th', { scope: 'col' }, say('page.stall.by')))),
      h('tbody', {}, days.map(d => h('tr', {}, h('th', { scope: 'row' }, d), columns.map(() => h('td', {})), h('td', {}))))),
  ]);
}

/** An exam to be done on paper: every sign of a depth with its answers. */
export function blankExam(book: Book, depth: string): void {
  const steps = book.steps[`${depth}+held`] ?? [];
  const box = (label: string): Child => h('span', { class: 'tick' }, '☐ ' + label);
  const line = (label: string): Child => h('span', { class: 'tick' }, '________ ' + label);
  const answers = (sign: Sign): Child => {
    switch (sign.kind) {
      case 'rate': return [line(say('page.blank.counted')), line(say('page.blank.seconds'))];
      case 'timed': return [line(say('unit.s')), line(say('unit.s')), line(say('unit.s'))];
      case 'temperature': return [line('°F / °C'), line(say('page.blank.device'))];
      case 'weight': return [line('kg / lb'), line(say('page.blank.girth')), line(say('page.blank.length'))];
    }
    return sign.grades?.length ? sign.grades.map(g => box(gradeName(sign.id, g.id))) : line(sign.unit ? unitName(sign.unit) : '');
  };
  const row = (step: Step): Child => {
    const sign = book.signs.find(s => s.id === step.sign);
    if (!sign) return undefined;
    const sites = sign.perSite && step.sites?.length ? step.sites : [''];
    return sites.map(site => h('tr', {}, h('th', { scope: 'row' }, signName(sign.id) + (site ? ', ' + siteName(site) : '')), h('td', {}, answers(sign))));
  };
  const ask = (key: string): Child => h('p', { class: 'blank' }, say(key));
  const clinic = pack()?.clinic;
  paper(say('page.blank.title', { depth: say('depth.' + depth) }), () => go('files'), [
    para(say('page.blank.how')),
    h('div', { class: 'two' }, ask('page.blank.horse'), ask('page.blank.when'), ask('page.blank.by'), ask('page.blank.state')),
    clinic && h('p', { class: 'number' }, clinic.numbers.map(n => [h('strong', {}, n.phone), ` ${clinic.name} · ${n.hours} `])),
    h('table', { class: 'sheet exam', lang }, h('tbody', {}, steps.map(row))),
    h('h2', {}, say('page.blank.story')),
    ['noticed', 'since', 'passed', 'intake', 'given', 'changed', 'stands', 'callback'].map(k => ask('page.story.' + k)),
  ]);
}
