// Corrects a finished exam: its answers, its time, its horse; or withdraws it. What it was stays in the record, set aside, with when
// and by whom it was changed, so that the versions merge in any order.

import type { Exam } from '../../core/types';
import { say } from '../../core/words';
import { dateTimeShort, localField, rfc3339 } from '../../text/dates';
import { correctedText, heading } from '../../text/names';
import { conflicts } from '../../store/barn';
import { isOpen } from '../../store/calls';
import { correct } from '../../store/settle';
import * as store from '../../store/store';
import { type Child, h, link, para } from '../../ui/dom';
import { choiceField, field, goToFault } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import type { Draft } from '../../exam/draft';
import { examRows } from './conflicts';

export async function correctScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  let by = (await store.prefs()).by ?? '';
  let to = horse.id;
  const was = localField(exam.at);
  let at = was;
  // What another tab changed meanwhile is not written over: the screen is shown anew.
  const change = async (next: (e: Exam) => Exam): Promise<boolean> => {
    const { kept, stale } = await correct(exam, next, { at: rfc3339(new Date()), ...(by.trim() ? { by: by.trim() } : {}) });
    if (stale) goInstead('exam', exam.id, 'result');
    return kept && !stale;
  };
  const save = async (): Promise<void> => {
    const moment = new Date(at);
    if (!(moment.getTime() <= Date.now())) return goToFault([{ field: 'at', sentence: say('page.fault.at') }]);
    const changed = { ...(at === was ? {} : { at: rfc3339(moment) }), ...(to === horse.id ? {} : { horse: to }) };
    if (by.trim()) await store.putPrefs({ by: by.trim() });
    if (Object.keys(changed).length === 0) return go('exam', exam.id, 'result');
    if (await change(e => ({ ...e, ...changed }))) goInstead('exam', exam.id, 'result');
  };
  const reopen = async (): Promise<void> => { if (await change(e => ({ ...e, status: 'draft' }))) goInstead('exam', exam.id, 'all'); };
  const withdraw = async (): Promise<void> => {
    const { id, horse: of, depth, purpose, state } = exam;
    if (await change(e => ({ id, horse: of, at: e.at, depth, purpose, state, status: 'withdrawn' }))) goInstead('horse', of);
  };
  show({
    title: say('page.correct.title'), head: heading(horse, dateTimeShort(exam.at)),
    out: { label: horse.name, go: () => go('horse', horse.id) },
    body: [
      para(say('page.correct.how'), 'how'),
      h('p', {}, h('button', { type: 'button', class: 'all', id: 'answers', click: () => void reopen() }, say('page.correct.answers'))),
      field({ id: 'at', label: say('page.correct.when'), value: at, type: 'datetime-local', input: v => { at = v; } }),
      horses.length > 1 && choiceField({
        id: 'of', legend: say('page.correct.horse'), chosen: [to], close: true, options: horses.map(x => ({ value: x.id, label: x.name })), change: ([id]) => { to = id!; },
      }),
      field({ id: 'by', label: say('page.start.by'), value: by, fill: 'name', input: v => { by = v; } }),
      isOpen(exam) ? [para(say('page.correct.call')), h('p', {}, link(say('page.correct.outcome'), () => go('outcome', exam.id)))]
        : h('p', {}, link(say('page.correct.withdraw'), () => void withdraw(), { id: 'withdraw' })),
      await earlier(exam),
    ],
    bar: [{ label: say('page.back'), go: () => go('exam', exam.id, 'result') }, { label: say('page.correct.save'), go: () => void save(), main: true }],
  });
}

/** What the exam was before, beside what it is, where they differ. */
async function earlier(exam: Exam): Promise<Child> {
  const before = (await conflicts()).flatMap(c => (c.aside && c.exam?.id === exam.id ? [c.exam] : []));
  return Promise.all(before.reverse().map(async b => [
    h('h2', {}, correctedText(b) || say('page.correct.first')),
    h('table', { class: 'versions' },
      h('thead', {}, h('tr', {}, ['what', 'now', 'before'].map(k => h('th', { scope: 'col' }, say('page.correct.' + k))))),
      h('tbody', {}, (await examRows(exam, b)).map(r => h('tr', {}, h('th', { scope: 'row' }, r[0]), h('td', {}, r[1]), h('td', {}, r[2]))))),
  ]));
}
