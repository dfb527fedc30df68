// Two exams of a horse side by side: any two, the earlier on the left.

import * as core from '../../core/core';
import type { Book, Comparing, Exam, Finding, Horse } from '../../core/types';
import { say } from '../../core/words';
import { dateTimeShort } from '../../text/dates';
import { absenceName, findingText, heading, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { type Child, h, para } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { Draft } from '../../exam/draft';

/** Which two? */
export async function compareScreen(book: Book, horse: Horse, a: string | undefined, b: string | undefined): Promise<void> {
  const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished').reverse();
  const [one, two] = [exams.find(e => e.id === a), exams.find(e => e.id === b)];
  if (one && two && one !== two) return sideBySide(book, horse, one, two, exams);
  let chosen = one ? [one.id] : [];
  show({
    title: say('page.pair.which'), head: heading(horse, say('page.pair.head')), out: { label: horse.name, go: () => go('horse', horse.id) },
    body: [choiceField({
      id: 'pair', legend: say('page.pair.which'), quiet: true, many: true, chosen,
      options: exams.map(e => ({ value: e.id, label: dateTimeShort(e.at), note: about(e) })),
      change: v => { chosen = v; showFaults([]); },
    })],
    bar: [
      { label: say('page.back'), go: () => go('horse', horse.id) },
      {
        label: say('page.pair'), main: true, go: () => {
          if (chosen.length === 2) go('horse', horse.id, 'pair', ...chosen);
          else showFaults([{ field: 'pair', sentence: say('page.fault.pair') }]);
        },
      },
    ],
  });
}

const about = (e: Exam): string => [say('depth.' + e.depth), say('purpose.' + e.purpose),
  e.state.condition === 'rest' ? '' : say('condition.' + e.state.condition), e.wellness ? say('wellness.' + e.wellness) : say('page.unlabelled')].filter(Boolean).join(' · ');

async function sideBySide(book: Book, horse: Horse, x: Exam, y: Exam, all: Exam[]): Promise<void> {
  const both = [x, y].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const compared = await Promise.all(both.map(exam => core.call<Comparing>('compare', { horse, exam, exams: all.filter(e => e !== exam) }).catch(() => undefined)));
  const drafts = both.map(e => new Draft(book, horse, e));
  const rows: Child[] = [];
  let section = '';
  for (const sign of book.signs) {
    const sites = [...new Set(both.flatMap(e => (e.findings ?? []).filter(f => f.sign === sign.id && (f.absent !== 'closed-off')).map(f => f.site)))];
    const places = sign.perSite || sign.again ? (sign.sites ?? []).map(s => s.id).filter(s => sites.includes(s)) : sites.length ? [undefined] : [];
    for (const site of places.length || !sites.length ? places : [undefined]) {
      const cells = await Promise.all(both.map(async (e, i) => {
        const f = (e.findings ?? []).find(g => g.sign === sign.id && (site === undefined || g.site === site));
        const c = compared[i]?.comparison.signs?.find(s => s.sign === sign.id && (site === undefined || s.site === site));
        return { f, said: f ? await findingText(sign, f, drafts[i]) : '', unusual: !!c && ['higher', 'lower', 'differs', 'new'].includes(c.statement) ? c.statement : '' };
      }));
      if (cells.every(c => !c.f || c.f.absent)) continue;
      if (sign.section !== section) {
        section = sign.section;
        rows.push(h('tr', { role: 'row' }, h('th', { role: 'rowheader', scope: 'rowgroup', class: 'section' }, say('section.' + section))));
      }
      const same = cells.every(c => c.f && !c.f.absent) && cells[0]!.said === cells[1]!.said;
      rows.push(h('tr', { role: 'row', class: same ? 'same' : 'changed' },
        h('th', { role: 'rowheader', scope: 'row' }, signName(sign.id), site && h('span', { class: 'note' }, siteName(site))),
        cells.map(c => h('td', { role: 'cell' }, cellOf(c.f, c.said, c.unusual)))));
    }
  }
  show({
    title: say('page.pair.title'), head: heading(horse, say('page.pair.head')), out: { label: horse.name, go: () => go('horse', horse.id) }, kind: 'told pair',
    body: [
      compared.some(c => !c) && para(say('page.nocore.how'), 'how'),
      para(say('page.pair.how'), 'how'),
      // The rows are laid out with the sign above its two answers; the roles keep it a table.
      h('table', { class: 'record', role: 'table', 'aria-label': say('page.pair.title') },
        h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, h('th', { role: 'columnheader', scope: 'col', class: 'heard' }, say('page.pair.sign')),
          both.map(e => h('th', { role: 'columnheader', scope: 'col' }, dateTimeShort(e.at), h('span', { class: 'note' }, say('depth.' + e.depth)),
            h('span', { class: 'note' }, e.wellness ? say('wellness.' + e.wellness) : say('page.unlabelled')))))),
        h('tbody', { role: 'rowgroup' }, rows)),
    ],
    bar: [
      { label: say('page.back'), go: () => history.back() },
      { label: say('page.pair.others'), go: () => go('horse', horse.id, 'pair') },
    ],
  });
}

function cellOf(f: Finding | undefined, said: string, unusual: string): Child {
  if (!f || f.absent) return h('span', { class: 'value unchecked' }, f?.absent && f.absent !== 'not-tried' ? absenceName(f.absent) : say('page.unchecked'));
  return unusual ? [h('strong', {}, said), h('span', { class: 'note' }, say('page.history.' + unusual))] : said;
}
