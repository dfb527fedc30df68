// Two versions of one record: shown side by side, chosen by a person, neither dropped.

import type { Conflict, Exam, Finding, Horse } from '../../core/types';
import { list, say } from '../../core/words';
import { dateTime } from '../../text/dates';
import { absenceName, enteredText, gradeName, optional, signName, siteName } from '../../text/names';
import { canonical, conflicts, undo, undoable } from '../../store/barn';
import { settle } from '../../store/settle';
import * as store from '../../store/store';
import { type Child, h, link, para } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';

const idOf = (c: Conflict): string => (c.horse ?? c.exam)!.id;

/** Those that nobody has looked at. */
export const openConflicts = async (): Promise<Conflict[]> => (await conflicts()).filter(c => !c.aside);

/** The last change, and the way to take it back. */
export const undoBox = (again: () => void): Child => undoable() && h('p', {},
  link(say('page.undo'), async () => { if (await undo()) again(); }, { id: 'undo' }));

export async function conflictsScreen(): Promise<void> {
  const open = await openConflicts();
  const blocks: Child[] = [];
  for (const c of open) {
    const here = c.horse ? await store.horse(c.horse.id) : await store.exam(c.exam!.id);
    if (!here) continue;
    const horse = c.horse ?? (await store.horse(c.exam!.horse));
    const choose = async (other: boolean): Promise<void> => {
      if (await settle(c, here, other)) void conflictsScreen();
    };
    const rows = c.horse ? horseRows(here as Horse, c.horse) : await examRows(here as Exam, c.exam!);
    const pick = (label: string, id: string, other: boolean): Child => h('button', { type: 'button', class: 'all', id, click: () => void choose(other) }, label);
    blocks.push(h('section', { class: 'conflict' },
      h('h2', {}, c.horse ? say('page.conflict.horse', { name: c.horse.name }) : say('page.conflict.exam', { name: horse?.name ?? '', when: dateTime(c.exam!.at) })),
      h('table', { class: 'versions' },
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, say('page.conflict.what')), h('th', { scope: 'col' }, say('page.conflict.here')), h('th', { scope: 'col' }, say('page.conflict.other')))),
        h('tbody', {}, rows.map(r => h('tr', {}, h('th', { scope: 'row' }, r[0]), h('td', {}, r[1]), h('td', {}, r[2]))))),
      h('div', { class: 'choices' }, pick(say('page.conflict.keep.here'), `here-${idOf(c)}`, false), pick(say('page.conflict.keep.other'), `other-${idOf(c)}`, true))));
  }
  show({
    title: say('page.conflict.title'), head: say('page.files'),
    out: { label: say('page.files'), go: () => go('files') },
    body: [para(say(blocks.length ? 'page.conflict.how' : 'page.conflict.none'), 'how'), undoBox(() => void conflictsScreen()), blocks],
    bar: [{ label: say('page.back'), go: () => go('files'), main: blocks.length === 0 }],
  });
}

type Row = [string, string, string];

const anyText = (v: unknown): string => (v === undefined ? say('page.unsaid') : typeof v === 'object' ? canonical(v).replace(/["{}[\]]/g, ' ').trim() : String(v));

function horseRows(a: Horse, b: Horse): Row[] {
  const rows: Row[] = [];
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])] as (keyof Horse)[];
  for (const key of keys) {
    if (canonical(a[key]) === canonical(b[key])) continue;
    rows.push([optional('page.horse.' + key) || key, anyText(a[key]), anyText(b[key])]);
  }
  return rows;
}

const keyOf = (f: Finding): string => f.sign + (f.site ? '/' + f.site : '') + (f.minutes ? '+' + f.minutes : '');

function saidOf(f: Finding | undefined): string {
  if (!f) return say('page.unchecked');
  if (f.absent) return absenceName(f.absent);
  const value = f.chosen ? list(f.chosen.map(g => gradeName(f.sign, g))) : enteredText(f);
  return [value, f.where && `(${list(f.where.map(siteName))})`, f.note].filter(Boolean).join(' ');
}

export async function examRows(a: Exam, b: Exam): Promise<Row[]> {
  const rows: Row[] = [];
  const [mine, theirs] = [a, b].map(e => new Map((e.findings ?? []).map(f => [keyOf(f), f])));
  for (const key of new Set([...mine!.keys(), ...theirs!.keys()])) {
    const [x, y] = [mine!.get(key), theirs!.get(key)];
    if (canonical(x) === canonical(y)) continue;
    const f = (x ?? y)!;
    rows.push([signName(f.sign) + (f.site ? ', ' + siteName(f.site) : ''), saidOf(x), saidOf(y)]);
  }
  const plain = (e: Exam): Record<string, unknown> => ({ ...e, findings: undefined });
  const [p, q] = [plain(a), plain(b)];
  for (const key of new Set([...Object.keys(p), ...Object.keys(q)])) {
    if (canonical(p[key]) === canonical(q[key])) continue;
    rows.push([optional('page.conflict.' + key) || key, anyText(p[key]), anyText(q[key])]);
  }
  return rows;
}
