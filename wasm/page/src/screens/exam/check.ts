// Check what was entered before finishing. "Not checked" never looks like an answer.

import * as core from '../../core/core';
import type { Fault } from '../../core/types';
import { say } from '../../core/words';
import { absenceName, findingText, heading, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { type Child, h, link, para } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { wrongInExam } from '../../exam/callstrip';
import { type Draft, eachSite } from '../../exam/draft';
import { clinicAsks } from '../../exam/pages';

export async function checkScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const sections = new Map<string, Child[]>();
  for (const [i, step] of draft.steps.entries()) {
    if (!draft.asks(step)) continue;
    const sign = draft.sign(step.sign);
    const rows = sections.get(sign.section) ?? [];
    sections.set(sign.section, rows);
    const parts: Child[] = [];
    for (const site of eachSite(sign, step)) {
      const f = draft.finding(step, site);
      const said = f && !f.absent ? await findingText(sign, f, draft) : '';
      const name = site ? siteName(site) + ': ' : '';
      if (said) parts.push(h('span', { class: 'value' }, name, said));
      else parts.push(h('span', { class: 'value unchecked' }, name, say('page.unchecked'), f?.absent && f.absent !== 'not-tried' ? ` (${absenceName(f.absent)})` : ''));
    }
    const label = signName(sign.id) + (sign.again && step.sites?.length === 1 ? `, ${siteName(step.sites[0]!)}` : '');
    rows.push(h('div', { class: 'checked', id: 'check-' + i },
      h('dt', {}, label), h('dd', {}, parts),
      h('dd', { class: 'change' }, link(say('page.change'), () => go('exam', exam.id, i, 'check'), { 'aria-label': say('page.change.what', { what: label }) }))));
  }

  const finish = async (): Promise<void> => {
    let list: Fault[] = [];
    try {
      list = (await core.call<{ faults: Fault[] }>('check', { horse, exam: draft.exam })).faults;
    } catch (e) {
      if (e instanceof core.Refused) list = e.faults;
      // Without the core the exam is kept as it is and compared later.
    }
    showFaults(list.map(f => ({ field: fieldOf(draft, f.path), sentence: f.sentence })));
    if (list.length || !(await draft.finish())) return;
    void persist();
    goInstead('exam', exam.id, 'result');
  };

  show({
    title: say('page.check.title'),
    head: heading(horse, say('page.check.head')),
    whereGo: () => go('exam', exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    body: [
      choiceField({
        id: 'wellness', legend: say('page.well.title', { name: horse.name }), tiles: true, chosen: exam.wellness ? [exam.wellness] : [],
        options: ['well', 'unwell', 'not-sure'].map(w => ({ value: w, label: say('wellness.' + w) })),
        change: ([wellness]) => { void draft.change({ wellness }); },
      }),
      para(say('page.well.how'), 'note'),
      para(say('page.check.how'), 'how'),
      [...sections].map(([section, rows]) => [h('h2', {}, say('section.' + section)), h('dl', { class: 'answers' }, rows)]),
      h('h2', {}, say('page.check.besides')),
      h('dl', { class: 'answers' },
        besides(say('page.check.start'), [say('purpose.' + exam.purpose), say('condition.' + exam.state.condition)].join(', '), () => go('exam', exam.id, 'start')),
        besides(say('page.check.story'), exam.story ? Object.values(exam.story).filter(v => typeof v === 'string').slice(0, 1).join('') || say('page.check.told') : '', () => go('exam', exam.id, 'story', 1), 'value raw')),
      clinicAsks(draft),
    ],
    bar: [
      { label: say('page.back'), go: () => go('exam', exam.id, 'all') },
      ...wrongInExam(draft),
      { label: say('page.finish'), go: () => void finish(), main: true },
    ],
  });
}

function besides(label: string, value: string, change: () => void, kind = 'value'): HTMLElement {
  return h('div', { class: 'checked' }, h('dt', {}, label),
    h('dd', {}, h('span', { class: value ? kind : 'value unchecked' }, value || say('page.unsaid'))),
    h('dd', { class: 'change' }, link(say('page.change'), change, { 'aria-label': say('page.change.what', { what: label }) })));
}

/** The row of the finding at which a fault points. */
function fieldOf(draft: Draft, path: string): string {
  const m = /^\/exam\/findings\/(\d+)/.exec(path);
  const f = m && draft.exam.findings?.[Number(m[1])];
  const i = f ? draft.steps.findIndex(s => s.sign === f.sign && (!f.site || !s.sites?.length || s.sites.includes(f.site))) : -1;
  return i < 0 ? 'title' : 'check-' + i;
}

/** After the first finished exam the browser is asked to keep what it has. */
async function persist(): Promise<void> {
  const prefs = await store.prefs();
  if (prefs.persistAsked || !navigator.storage?.persist) return;
  await store.putPrefs({ persistAsked: true });
  await navigator.storage.persist().catch(() => false);
}

/** The horse is down or thrashing: nothing more with the hands, straight to the call. */
export function closedScreen(draft: Draft): void {
  const { exam, horse } = draft;
  const call = async (): Promise<void> => {
    if (await draft.finish()) goInstead('exam', exam.id, 'call');
  };
  show({
    title: say('page.closed.title'),
    head: heading(horse, say('page.closed.head')),
    out: { label: say('page.leave'), go: () => go() },
    body: [h('div', { class: 'caution strong' }, para(say('page.closed.now')), para(say('page.closed.then')))],
    bar: [
      { label: say('page.back'), go: () => go('exam', exam.id, 0) },
      { label: say('page.closed.story'), go: () => go('exam', exam.id, 'story', 1) },
      { label: say('page.closed.call'), go: () => void call(), main: true },
    ],
  });
}
