// What an exam is for, in what state the horse is, and who holds it.

import { rfc3339 } from './clock';
import { choosing, faults, field, h, show, type Trouble } from './dom';
import type { Draft } from './draft';
import { headOf, optional } from './names';
import { wholeNumber } from './number';
import { go, goInstead } from './route';
import * as store from './store';
import type { Book, Exam, Horse, State } from './types';
import { say } from './words';

/** Begins a new exam of the horse. */
export async function newExam(book: Book, horse: Horse): Promise<void> {
  const past = await store.examsOf(horse.id);
  const prefs = await store.prefs();
  const exam: Exam = {
    id: crypto.randomUUID(), horse: horse.id, at: '', depth: past[past.length - 1]?.depth ?? 'hands-on',
    purpose: '', state: { condition: '' }, status: 'draft', ...(prefs.by ? { by: prefs.by } : {}), findings: [],
  };
  startScreen(book, horse, exam, () => go('horse', horse.id), async e => {
    // The exam begins now, not when its first page was opened.
    if (await store.putExam({ ...e, at: rfc3339(new Date()) })) goInstead('exam', e.id, 0);
  });
}

/** Changes how a draft was begun. */
export function changeStart(draft: Draft): void {
  startScreen(draft.book, draft.horse, draft.exam, () => go(), async e => {
    if (await draft.change(e)) go('exam', e.id, 0);
  });
}

function startScreen(book: Book, horse: Horse, given: Exam, back: () => void, begin: (e: Exam) => Promise<void>): void {
  const exam = { ...given, state: { ...given.state } };
  let since = exam.state.sinceMinutes === undefined ? '' : String(exam.state.sinceMinutes);
  const more = h('div');
  const stateMore = (): void => {
    more.replaceChildren();
    if (exam.state.condition === 'after-work') {
      more.append(
        field({ id: 'since', label: say('page.start.since'), value: since, short: true, mode: 'numeric', input: v => { since = v; } }),
        choosing({
          id: 'effort', legend: say('page.start.effort'), tiles: true, chosen: exam.state.effort ? [exam.state.effort] : [],
          options: ['easy', 'moderate', 'hard'].map(e => ({ value: e, label: say('effort.' + e) })),
          change: ([e]) => { exam.state.effort = e; },
        }));
    }
    if (exam.state.condition === 'medicated') {
      more.append(field({
        id: 'with', label: say('page.start.with'), value: exam.state.with ?? '',
        input: v => { exam.state.with = v; },
      }));
    }
  };
  const named = (id: string, values: string[], chosen: string, change: (v: string) => void): HTMLElement => choosing({
    id, legend: say('page.start.' + id), chosen: [chosen],
    options: values.map(v => ({ value: v, label: say(`${id}.${v}`), note: optional(`page.choice.${id}.${v}`) })),
    change: ([v]) => change(v ?? ''),
  });
  stateMore();

  const ready = async (): Promise<void> => {
    const list: Trouble[] = [];
    if (!exam.purpose) list.push({ field: 'purpose', sentence: say('page.fault.purpose') });
    if (!exam.state.condition) list.push({ field: 'condition', sentence: say('page.fault.condition') });
    if (exam.depth !== 'walk-up' && !exam.holder) list.push({ field: 'holder', sentence: say('page.fault.holder') });
    const state: State = { condition: exam.state.condition };
    if (state.condition === 'after-work') {
      if (since.trim() !== '') {
        const n = wholeNumber(since);
        if (n === undefined || n > 1440) list.push({ field: 'since', sentence: say('page.fault.since') });
        else state.sinceMinutes = n;
      }
      if (exam.state.effort) state.effort = exam.state.effort;
    }
    if (state.condition === 'medicated' && exam.state.with?.trim()) state.with = exam.state.with.trim();
    faults(list);
    if (list.length) return;
    const by = exam.by?.trim();
    if (by) await store.putPrefs({ by });
    await begin({ ...exam, state, by: by || undefined });
  };

  show({
    title: say('page.start.title', { name: horse.name }),
    head: headOf(horse, say('page.start.head')),
    out: { label: say('page.leave'), go: () => go() },
    body: [
      named('purpose', book.purposes, exam.purpose, v => { exam.purpose = v; }),
      named('depth', book.depths, exam.depth, v => { exam.depth = v; }),
      named('condition', book.conditions, exam.state.condition, v => { exam.state.condition = v; stateMore(); }), more,
      named('holder', ['held', 'not-held'], exam.holder ?? '', v => { exam.holder = v; }),
      field({ id: 'by', label: say('page.start.by'), value: exam.by ?? '', fill: 'name', input: v => { exam.by = v; } }),
    ],
    bar: [{ label: say('page.back'), go: back }, { label: say('page.begin'), go: () => void ready(), main: true }],
  });
}
