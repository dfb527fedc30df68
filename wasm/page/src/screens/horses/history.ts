// One sign of the record: a chart, and the same as a table.

import * as core from '../../core/core';
import type { Book, Horse, Told } from '../../core/types';
import { say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { heading, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { type Child, fill, h, link, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { signsSeen, usualLegend, usualList, usualRows } from './usual';

const nameOf = (s: { sign: string; site?: string }): string => signName(s.sign) + (s.site ? ', ' + siteName(s.site) : '');

export async function historyScreen(book: Book, horse: Horse, sign: string | undefined, site: string | undefined): Promise<void> {
  const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished');
  const out = { label: horse.name, go: () => go('horse', horse.id) };
  if (!sign) {
    const seen = signsSeen(book, exams);
    const box = h('div', {}, usualList(horse, seen));
    void usualRows(horse, exams).then(rows => rows && fill(box, [usualList(horse, rows)]));
    return show({
      title: say('page.usual.title', { name: horse.name }), head: say('page.history.head'), out,
      body: [seen.length === 0 ? para(say('page.horse.noexams'), 'how') : [box, usualLegend()]],
      bar: [
        { label: say('page.back'), go: () => go('horse', horse.id) },
        ...(exams.length > 1 ? [{ label: say('page.pair'), go: () => go('horse', horse.id, 'pair'), main: true }] : []),
      ],
    });
  }
  let body: Child[];
  try {
    const got = await core.call<Told>('history', { horse, exams, sign, ...(site ? { site } : {}), at: rfc3339(new Date()) });
    const rows = got.rows ?? [];
    const usual = rows.some(r => r.usual);
    body = [
      got.now && para(got.now),
      h('div', { class: 'chart' }, svgElement(got.chart)),
      got.chart && h('h2', {}, say('page.history.table')),
      h('table', { class: 'record' },
        h('caption', { class: 'heard' }, nameOf({ sign, ...(site ? { site } : {}) })),
        h('thead', {}, h('tr', {}, ['day', 'value', ...(usual ? ['usual'] : [])].map(k => h('th', { scope: 'col' }, say('page.history.' + k))))),
        h('tbody', {}, rows.map(r => h('tr', {},
          h('th', { scope: 'row' }, link(r.day, () => go('exam', r.exam, 'result')), r.mark !== 'quiet' && h('span', { class: 'note' }, r.said)),
          h('td', {}, ['higher', 'lower', 'differs', 'new'].includes(r.statement) ? h('strong', {}, r.value) : r.value,
            ['higher', 'lower', 'differs', 'new'].includes(r.statement) && h('span', { class: 'note' }, say('page.history.' + r.statement))),
          usual && h('td', {}, r.usual || '–'))))),
    ];
  } catch (e) {
    body = [para(e instanceof core.Refused ? e.message : say('page.nocore.how'))];
  }
  show({
    title: nameOf({ sign, ...(site ? { site } : {}) }), head: heading(horse, say('page.history.head')), out, kind: 'told', body,
    bar: [{ label: say('page.back'), go: () => history.back() }, { label: say('page.history.signs'), go: () => go('horse', horse.id, 'history') }],
  });
}
