// Paper: the stall sheet of a horse and the blank sheet of an exam. What is on the screen
// is what is printed, black on white, on A4 or Letter.

import type { Book, Horse, Sign, Step } from '../../core/types';
import { lang, locale, say } from '../../core/words';
import { gradeName, horseText, optional, signName, siteName, unitName } from '../../text/names';
import { progressOf } from '../../exam/progress';
import { numbersOf, pack } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, h, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { usualRows } from './usual';

const paper = (title: string, back: () => void, body: Child[]): void => show({
  title, head: say('page.print.title'), kind: 'told sheetpaper', out: { label: say('page.back'), go: back }, body,
  bar: [{ label: say('page.back'), go: back }, { label: say('page.call.print'), go: () => window.print(), main: true }],
});

/** A horse's own normal, its numbers to call, and a week to be written in by hand. */
export async function stallSheet(horse: Horse): Promise<void> {
  const back = (): void => go('horse', horse.id);
  // Without the core the sheet is useful too: a table for the week and the numbers.
  const exams = await store.examsOf(horse.id);
  const [known, usual] = [await progressOf(horse, exams), await usualRows(horse, exams)];
  const rows = (usual ?? []).filter(r => r.lane && r.usual && r.sign !== 'weight');
  const columns = ['heart-rate', 'respiratory-rate', 'rectal-temperature', 'gum-colour', 'gut-sounds', 'droppings', 'feed'];
  const days = Array.from({ length: 7 }, (_, i) => new Intl.DateTimeFormat(locale, { weekday: 'short' }).format(new Date(Date.UTC(2024, 0, 1 + i, 12))));
  const numbers = numbersOf(horse);
  paper(say('page.stall.title', { name: horse.name }), back, [
    h('div', { class: 'stallhead' }, h('span', { class: 'face', 'aria-hidden': 'true' }, svgElement(known?.whorl)),
      h('div', {}, h('p', {}, horseText(horse)), horse.markings && h('p', {}, horse.markings))),
    h('h2', {}, say('page.stall.normal')),
    rows.length ? [
      h('table', { class: 'sheet' }, h('tbody', {}, rows.map(r => h('tr', {},
        h('th', { scope: 'row' }, r.name), h('td', { class: 'figure-cell' }, r.usual), h('td', {}, say('page.stall.from', { n: r.exams ?? 0 })))))),
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
