// A clinic's file, made or changed in a form. What is wrong with it the core says, by the same check as the command's, at each field.

import * as core from '../../core/core';
import type { Book, Sign } from '../../core/types';
import { lang, languages, say } from '../../core/words';
import { gradeName, signName, unitName } from '../../text/names';
import { pack, type PackFault, readPack } from '../../store/pack';
import { units } from '../../store/preferences';
import { type Child, fill, h, link, para } from '../../ui/dom';
import { choiceField, field, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { fileName, saveButtons } from '../../ui/share';
import { chosenText } from '../report/open';

type Entry = Record<string, unknown>;
type Lists = 'ranges' | 'thresholds' | 'questions';

/** The file as the form holds it. */
interface Made extends Entry { clinic: { name: string; numbers: Entry[]; page?: string } & Entry }

const members = ['kind', 'format', 'clinic', 'langs', 'units', 'ranges', 'thresholds', 'questions', 'ask'];
const fresh = (): Made => ({ kind: 'whorl-pack', format: 1, clinic: { name: '', numbers: [{ phone: '', hours: '' }] }, langs: [lang] });

/** The id of the field in which the value of a place in the file stands. */
const at = (...path: (string | number)[]): string => 'f-' + path.join('-');
const isObject = (x: unknown): x is Entry => typeof x === 'object' && x !== null && !Array.isArray(x);
const objects = (x: unknown): Entry[] => (Array.isArray(x) ? x.filter(isObject) : []);
const texts = (x: unknown): string[] => (Array.isArray(x) ? x.filter((y): y is string => typeof y === 'string') : []);
const textOf = (x: unknown): string => (typeof x === 'string' || typeof x === 'number' ? String(x) : '');

/** What the form can hold of a file; whatever else is in it is left out. */
function readMade(parsed: unknown): Made {
  const file = isObject(parsed) ? parsed : {};
  const clinic = isObject(file['clinic']) ? file['clinic'] : {};
  const numbers = objects(clinic['numbers']);
  const page = textOf(clinic['page']);
  const out: Made = {
    kind: 'whorl-pack', format: 1,
    clinic: { name: textOf(clinic['name']), numbers: (numbers.length ? numbers : [{}]).map(n => ({ phone: textOf(n['phone']), hours: textOf(n['hours']) })), ...(page ? { page } : {}) },
  };
  for (const key of ['langs', 'units', 'ask']) if (file[key] !== undefined) out[key] = texts(file[key]);
  const taken: Record<Lists, string[]> = {
    ranges: ['sign', 'low', 'high', 'unit', 'setBy'], thresholds: ['id', 'sign', 'urgency', 'above', 'below', 'unit', 'setBy'], questions: ['id', 'lang', 'text', 'answer', 'at'],
  };
  for (const [list, names] of Object.entries(taken)) {
    const entries = objects(file[list]).map(e => {
      const entry: Entry = {};
      for (const name of names) if (textOf(e[name]) !== '') entry[name] = textOf(e[name]);
      for (const name of ['types', 'stages', 'grades']) if (list !== 'questions' && Array.isArray(e[name])) entry[name] = texts(e[name]);
      return entry;
    });
    if (entries.length) out[list] = entries;
  }
  return out;
}

const listOf = (file: Made, name: string): Entry[] => (file[name] as Entry[] | undefined) ?? [];

/** The file in its text, without what nobody filled in. */
function textOfFile(file: Made): string {
  const bare = (x: unknown): unknown => {
    if (Array.isArray(x)) return x.map(bare);
    if (!isObject(x)) return typeof x === 'string' ? x.trim() : x;
    return Object.fromEntries(Object.entries(x).filter(([key, v]) => v !== undefined && !(Array.isArray(v) && v.length === 0)
      && !(v === '' && ['page', 'low', 'high', 'above', 'below', 'answer', 'at', 'unit'].includes(key))).map(([key, v]) => [key, bare(v)]));
  };
  const out = bare(file) as Entry;
  return JSON.stringify(Object.fromEntries(members.filter(m => out[m] !== undefined).map(m => [m, out[m]])), null, 2) + '\n';
}

/** Which units a sign can be given in. */
const unitsOf = (sign: Sign | undefined): string[] =>
  (sign?.unit ? Object.values(units).find(list => list.includes(sign.unit!)) ?? [sign.unit] : []);

function select(id: string, label: string, options: [string, string][], value: string, change: (value: string) => void): HTMLElement {
  const box = h('select', { id, change: () => change(box.value) }, options.map(([v, name]) => h('option', { value: v, selected: v === value }, name)));
  return h('div', { class: 'field' }, h('label', { for: id }, label), box);
}

export async function clinicFileScreen(book: Book, given?: Made, faults: PackFault[] = []): Promise<void> {
  const file = given ?? (pack() ? readMade(pack()) : fresh());
  const again = (): void => { const y = window.scrollY; void clinicFileScreen(book, file).then(() => window.scrollTo(0, y)); };
  const signOf = (id: unknown): Sign | undefined => book.signs.find(s => s.id === id);
  const named = (list: Sign[]): [string, string][] => list.map(s => [s.id, signName(s.id)] as [string, string]).sort((a, b) => a[1].localeCompare(b[1], lang));
  const measured = book.signs.filter(s => s.unit);
  const said = h('p', { class: 'result', role: 'status' });

  /** Shows each fault at its field, or at the nearest around it. */
  const point = (list: PackFault[]): void => showFaults(list.slice(0, 20).map(f => {
    let id = at(...f.path.split('/').slice(1));
    while (!document.getElementById(id) && id.includes('-')) id = id.slice(0, id.lastIndexOf('-'));
    const found = document.getElementById(id);
    found?.closest('details')?.setAttribute('open', '');
    // A unit that may have been meant is called here as its field calls it.
    const sentence = Object.values(units).flat().reduce((text, u) => text.replace(`: ${u}.`, `: ${unitName(u)}.`), f.sentence);
    return { field: found ? id : at('clinic', 'name'), sentence };
  }));
  const check = async (): Promise<string | undefined> => {
    const text = textOfFile(file);
    try {
      const got = await readPack(text);
      point(got.faults);
      fill(said, got.pack ? say('page.made.in-order') : '');
      return got.pack && text;
    } catch (e) {
      showFaults([{ field: at('clinic', 'name'), sentence: e instanceof core.Refused ? e.message : say('page.nocore.how') }]);
      return undefined;
    }
  };
  const open = async (chosen: File | undefined): Promise<void> => {
    if (!chosen) return;
    try {
      const text = await chosenText(chosen);
      const got = await readPack(text);
      // What is no file at all has nothing to be filled in.
      let parsed: unknown;
      try { parsed = JSON.parse(text.replace(/^\ufeff/, '')); } catch { /* the core has said where */ }
      const wrong = got.faults.map(f => ({ ...f, sentence: say('page.made.line', { line: f.line, sentence: f.sentence }) }));
      await clinicFileScreen(book, parsed === undefined ? file : readMade(parsed), wrong);
    } catch (e) {
      showFaults([{ field: 'made-open', sentence: e instanceof core.Refused ? e.message : say('page.nocore.how') }]);
    }
  };

  const own = (entry: Entry, key: string, path: (string | number)[], label: string, more: { hint?: string; mode?: string; type?: string; long?: boolean } = {}): HTMLElement =>
    field({ id: at(...path, key), label, value: textOf(entry[key]), ...more, input: v => { entry[key] = v; } });
  const number = (entry: Entry, key: string, path: (string | number)[], label: string): HTMLElement => field({
    id: at(...path, key), label, value: textOf(entry[key]), mode: 'decimal', short: true,
    input: v => { if (v.trim()) entry[key] = v.trim().replace(/^(\d+),(\d+)$/, '$1.$2'); else delete entry[key]; },
  });
  const signField = (entry: Entry, key: string, path: (string | number)[], label: string, list: Sign[], none: string): HTMLElement =>
    select(at(...path, key), label, [['', none], ...named(list)], textOf(entry[key]), v => {
      entry[key] = v;
      delete entry['grades'];
      const [unit] = unitsOf(signOf(v));
      if (key === 'sign' && unit) entry['unit'] = unit;
      else if (key === 'sign') for (const k of ['unit', 'above', 'below']) delete entry[k];
      again();
    });
  const unitField = (entry: Entry, path: (string | number)[]): Child => {
    const list = unitsOf(signOf(entry['sign']));
    return list.length > 0 && select(at(...path, 'unit'), say('page.made.unit'), list.map(u => [u, unitName(u)]), textOf(entry['unit']), v => { entry['unit'] = v; });
  };
  const forWhom = (entry: Entry, path: (string | number)[]): Child => h('details', {}, h('summary', {}, say('page.made.whom')),
    choiceField({ id: at(...path, 'types'), legend: say('page.made.types'), many: true, tiles: true, chosen: texts(entry['types']),
      options: book.types.map(t => ({ value: t, label: say('type.' + t) })), change: v => { entry['types'] = v; } }),
    choiceField({ id: at(...path, 'stages'), legend: say('page.made.stages'), many: true, tiles: true, chosen: texts(entry['stages']),
      options: book.stages.map(s => ({ value: s, label: say('stage.' + s) })), change: v => { entry['stages'] = v; } }));
  /** Entries one below the other, each with a way to take it out, and one to add another. */
  const entries = (list: Entry[], id: string, heading: string, one: (entry: Entry, i: number) => Child, add: () => Entry, put: (list: Entry[]) => void): Child => [
    h('h2', {}, heading),
    list.map((entry, i) => h('fieldset', { class: 'choice given', id: at(id, i), tabindex: -1 }, h('legend', {}, say('page.made.nth', { n: i + 1 })), one(entry, i),
      link(say('page.made.drop'), () => { put(list.filter(x => x !== entry)); again(); }, { 'aria-label': `${say('page.made.drop')}: ${heading}, ${i + 1}` }))),
    h('p', {}, link(say('page.made.add'), () => { put([...list, add()]); again(); }, { id: 'add-' + id, 'aria-label': `${say('page.made.add')}: ${heading}` })),
  ];

  const range = (r: Entry, i: number): Child => [
    signField(r, 'sign', ['ranges', i], say('page.made.sign'), measured, say('page.made.choose')),
    number(r, 'low', ['ranges', i], say('page.made.low')), number(r, 'high', ['ranges', i], say('page.made.high')), unitField(r, ['ranges', i]),
    forWhom(r, ['ranges', i]), own(r, 'setBy', ['ranges', i], say('page.made.setBy'), { hint: say('page.made.setBy.hint') }),
  ];
  const rule = (t: Entry, i: number): Child => {
    const sign = signOf(t['sign']);
    const path = ['thresholds', i];
    return [
      signField(t, 'sign', path, say('page.made.sign'), book.signs, say('page.made.choose')),
      sign?.unit && [number(t, 'above', path, say('page.made.above')), number(t, 'below', path, say('page.made.below')), unitField(t, path)],
      sign?.grades && choiceField({ id: at(...path, 'grades'), legend: say('page.made.grades'), many: true, chosen: texts(t['grades']),
        options: sign.grades.map(g => ({ value: g.id, label: gradeName(sign.id, g.id) })), change: v => { t['grades'] = v; } }),
      choiceField({ id: at(...path, 'urgency'), legend: say('page.made.urgency'), tiles: true, chosen: [textOf(t['urgency'])],
        options: ['now', 'soon'].map(u => ({ value: u, label: say('urgency.' + u) })), change: ([u]) => { t['urgency'] = u; } }),
      forWhom(t, path), own(t, 'setBy', path, say('page.made.setBy'), { hint: say('page.made.setBy.hint') }),
    ];
  };
  const question = (q: Entry, i: number): Child => {
    const path = ['questions', i];
    return [
      own(q, 'text', path, say('page.made.text'), { hint: say('page.made.text.hint'), long: true }),
      select(at(...path, 'lang'), say('page.made.lang'), languages.map(l => [l.id, l.name]), textOf(q['lang']), v => { q['lang'] = v; }),
      select(at(...path, 'answer'), say('page.made.answer'), [['', say('page.made.answer.words')], ['yes-no', say('page.made.answer.yes-no')], ['number', say('page.made.answer.number')]],
        textOf(q['answer']), v => { q['answer'] = v; }),
      signField(q, 'at', path, say('page.made.at'), book.signs, say('page.made.at.story')),
      own(q, 'id', path, say('page.made.id'), { hint: say('page.made.id.hint') }),
    ];
  };
  const nextId = (list: Entry[], begin: string): string => {
    let n = 1;
    while (list.some(x => x['id'] === begin + n)) n++;
    return begin + n;
  };
  const put = (name: Lists) => (list: Entry[]): void => { file[name] = list; };
  const { clinic } = file;
  const input = h('input', { type: 'file', id: 'made-open', accept: '.json,application/json', change: () => void open(input.files?.[0]) });
  show({
    title: say('page.made.title'), head: say('page.files.title'), whereGo: () => go('files'),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      para(say('page.made.how'), 'how'), said,
      h('div', { class: 'field' }, h('label', { for: 'made-open' }, say('page.made.open')), h('span', { class: 'note' }, say('page.made.open.hint')), input),
      own(clinic, 'name', ['clinic'], say('page.made.name')),
      own(clinic, 'page', ['clinic'], say('page.made.page'), { hint: say('page.made.page.hint'), type: 'url' }),
      entries(clinic.numbers, 'clinic-numbers', say('page.made.numbers'), (n, i) => [
        own(n, 'phone', ['clinic', 'numbers', i], say('page.made.phone'), { type: 'tel' }),
        own(n, 'hours', ['clinic', 'numbers', i], say('page.made.hours'), { hint: say('page.made.hours.hint') }),
      ], () => ({ phone: '', hours: '' }), list => { clinic.numbers = list; }),
      choiceField({ id: at('langs'), legend: say('page.made.langs'), many: true, tiles: true, chosen: texts(file['langs']),
        options: languages.map(l => ({ value: l.id, label: l.name, lang: l.id })), change: v => { file['langs'] = v; } }),
      choiceField({ id: at('units'), legend: say('page.made.units'), many: true, tiles: true, chosen: texts(file['units']),
        options: Object.values(units).flat().map(u => ({ value: u, label: unitName(u) })), change: v => { file['units'] = v; } }),
      entries(listOf(file, 'ranges'), 'ranges', say('page.made.ranges'), range, () => ({ sign: '', setBy: '' }), put('ranges')),
      entries(listOf(file, 'thresholds'), 'thresholds', say('page.made.thresholds'), rule,
        () => ({ id: nextId(listOf(file, 'thresholds'), 'clinic-'), sign: '', urgency: 'now', setBy: '' }), put('thresholds')),
      entries(listOf(file, 'questions'), 'questions', say('page.made.questions'), question,
        () => ({ id: nextId(listOf(file, 'questions'), 'q'), lang, text: '' }), put('questions')),
      h('details', {}, h('summary', {}, say('page.made.ask')), choiceField({ id: at('ask'), legend: say('page.made.ask'), quiet: true, many: true, close: true, chosen: texts(file['ask']),
        options: named(book.signs).map(([value, label]) => ({ value, label })), change: v => { file['ask'] = v; } })),
      saveButtons(say('page.made.file'), 'made', async () => {
        const text = await check();
        return text === undefined ? undefined : { name: fileName('clinic') + '.json', type: 'application/json', text };
      }),
      para(say('page.made.then'), 'how'),
    ],
    bar: [{ label: say('page.back'), go: () => go('files') }, { label: say('page.made.check'), go: () => void check(), main: true }],
  });
  if (faults.length) point(faults);
}
