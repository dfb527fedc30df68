// One sign of the record: a chart, and the same as a table.

import * as core from '../../core/core';
import type { Book, Exam, Horse, Told } from '../../core/types';
import { say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { heading, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { type Child, h, link, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';

interface Seen { sign: string; site?: string; n: number; measured: boolean }

/** The signs of which the record holds something: what is measured first, what there is most of first. */
function seen(book: Book, exams: Exam[]): Seen[] {
  const by = new Map<string, Seen>();
  for (const e of exams) {
    for (const f of e.findings ?? []) {
      const sign = book.signs.find(s => s.id === f.sign);
      if (f.absent || !sign) continue;
      const site = sign.perSite ? f.site : undefined;
      const key = f.sign + '/' + (site ?? '');
      const s = by.get(key) ?? { sign: f.sign, ...(site ? { site } : {}), n: 0, measured: sign.kind !== 'grade' && sign.kind !== 'choice' };
      s.n++;
      by.set(key, s);
    }
  }
  const order = book.signs.map(s => s.id);
  return [...by.values()].sort((a, b) => Number(b.measured) - Number(a.measured) || (a.measured ? b.n - a.n : 0) || order.indexOf(a.sign) - order.indexOf(b.sign));
}

const nameOf = (s: { sign: string; site?: string }): string => signName(s.sign) + (s.site ? ', ' + siteName(s.site) : '');

export async function historyScreen(book: Book, horse: Horse, sign: string | undefined, site: string | undefined): Promise<void> {
  const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished');
  const out = { label: horse.name, go: () => go('horse', horse.id) };
  if (!sign) {
    const rows = seen(book, exams).map(s => h('li', {}, h('button', {
      type: 'button', class: 'exam', click: () => go('horse', horse.id, 'history', s.sign, ...(s.site ? [s.site] : [])),
    }, h('span', { class: 'name' }, nameOf(s)), h('span', { class: 'note' }, say('page.history.times', { n: s.n })))));
    return show({
      title: say('page.history.title', { name: horse.name }), head: say('page.history.head'), out,
      body: [rows.length === 0 && para(say('page.horse.noexams'), 'how'), h('ul', { class: 'exams' }, rows)],
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
