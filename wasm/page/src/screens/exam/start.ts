// What an exam is for, in what state the horse is, and who holds it.

import type { Book, Exam, Horse, State } from '../../core/types';
import { say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { heading, optional } from '../../text/names';
import { wholeNumber } from '../../text/numbers';
import { callNote, putCallNote } from '../../store/calls';
import * as store from '../../store/store';
import { type Child, fill, h, para } from '../../ui/dom';
import { choiceField, field, type FieldFault, goToFault, showFaults } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { Draft } from '../../exam/draft';
import { goToPage } from '../../exam/pages';
import { airFields, airOf, airTyped, type AirTyped } from '../../questions/air';

/** Begins a new exam of the horse: how deep, and why, which begins it. */
export async function newExam(book: Book, horse: Horse, rest: string[]): Promise<void> {
  const past = await store.examsOf(horse.id);
  const prefs = await store.prefs();
  const exam: Exam = {
    id: crypto.randomUUID(), horse: horse.id, at: '', depth: past[past.length - 1]?.depth ?? 'hands-on',
    purpose: '', state: { condition: '' }, status: 'draft', ...(prefs.by ? { by: prefs.by } : {}), findings: [],
  };
  const [purpose, depth, held] = rest;
  // Where something is wrong nothing is taken from another day.
  const holder = purpose !== 'concern' && past.map(e => e.holder).filter(Boolean).pop();
  if (holder) exam.holder = holder;
  if (depth && book.depths.includes(depth)) exam.depth = depth;
  if (held) exam.holder = held;
  const why = purpose && book.purposes.includes(purpose);
  // Whoever is asked for a purpose has said who holds the horse; another screen that begins with one has not.
  if (why && purpose !== 'learning' && (exam.holder || exam.depth === 'walk-up')) return stateScreen(book, horse, { ...exam, purpose });
  whyScreen(book, horse, exam, why ? [purpose] : book.purposes);
}

// The exam begins now, not when its first page was opened.
async function begin(book: Book, horse: Horse, e: Exam): Promise<void> {
  const exam = { ...e, at: rfc3339(new Date()) };
  if (!(await store.putExam(exam))) return;
  if ((await store.prefs()).flow === 'list') goInstead('exam', exam.id, 'list');
  else goToPage(new Draft(book, horse, exam), 0, true);
}

function whyScreen(book: Book, horse: Horse, exam: Exam, purposes: string[]): void {
  let answered = false;
  // Also who taps what stands there has answered.
  const holding = h('div', { click: (e: Event) => { answered ||= (e.target as HTMLElement).matches('input'); } });
  const hold = (): void => fill(holding, para(optional('page.choice.depth.' + exam.depth), 'note'), exam.depth !== 'walk-up' && choiceField({
    id: 'holder', legend: say('page.start.holder'), tiles: true, chosen: [exam.holder ?? ''],
    options: ['held', 'not-held'].map(v => ({ value: v, label: say('page.holder.' + v) })),
    change: ([v]) => { exam.holder = v; showFaults([]); },
  }));
  hold();
  const choose = async (purpose: string): Promise<void> => {
    if (purpose === 'concern' && !answered && exam.holder) {
      delete exam.holder;
      hold();
    }
    if (exam.depth !== 'walk-up' && !exam.holder) return goToFault([{ field: 'holder', sentence: say('page.fault.holder') }]);
    // A quiet day is all three by its name: the reason, the state, and the handler's own label.
    if (purpose === 'learning') return begin(book, horse, { ...exam, purpose, state: { condition: 'rest' }, wellness: 'well' });
    go('new', horse.id, purpose, exam.depth, ...(exam.depth === 'walk-up' ? [] : [exam.holder!]));
  };
  show({
    title: say('page.start.title', { name: horse.name }),
    head: heading(horse, say('page.start.head')),
    out: { label: say('page.leave.begin'), go: () => go() },
    body: [
      choiceField({
        id: 'depth', legend: say('page.start.depth'), chosen: [exam.depth], tiles: true, close: true,
        options: book.depths.map(d => ({ value: d, label: say('depth.' + d) })),
        change: ([d]) => { exam.depth = d!; hold(); },
      }), holding,
      h('h2', { id: 'purpose' }, say('page.start.why')),
      h('ul', { class: 'exams' }, purposes.map(p => h('li', {}, h('button', { type: 'button', class: 'exam begin', id: 'why-' + p, click: () => void choose(p) },
        h('span', { class: 'name' }, say('page.why.' + p)), optional('page.why.note.' + p) && h('span', { class: 'note' }, optional('page.why.note.' + p)))))),
    ],
    bar: [{ label: say('page.back'), go: () => history.back() }],
  });
}

/** In what state the horse is: at rest begins at once, of the others several may hold, and more is asked of them. */
function stateScreen(book: Book, horse: Horse, exam: Exam): void {
  const typed: Typed = { since: '', air: airTyped(exam), chosen: exam.purpose === 'recovery' ? ['after-work'] : [] };
  const more = h('div');
  const fields = (): void => fill(more, stateFields(exam, typed));
  fields();
  const ready = (): void => {
    const { list, state, air } = stateOf(exam, typed);
    if (typed.chosen.length === 0) list.unshift({ field: 'condition', sentence: say('page.fault.condition') });
    goToFault(list);
    if (list.length === 0) void begin(book, horse, { ...exam, state, ...(air ? { air } : {}) });
  };
  show({
    title: say('page.start.condition'),
    head: heading(horse, say('page.start.head')),
    out: { label: say('page.leave.begin'), go: () => go() },
    body: [
      exam.purpose !== 'recovery' && h('ul', { class: 'exams' }, h('li', {}, h('button', {
        type: 'button', class: 'exam begin', id: 'state-rest', click: () => void begin(book, horse, { ...exam, state: { condition: 'rest' } }),
      }, h('span', { class: 'name' }, say('page.state.rest')), h('span', { class: 'note' }, say('page.state.rest.note'))))),
      choiceField({
        id: 'condition', legend: say('page.state.several'), many: true, chosen: typed.chosen,
        options: book.conditions.filter(c => c !== 'rest').map(c => ({ value: c, label: say('condition.' + c) })),
        change: values => { typed.chosen = values; showFaults([]); fields(); },
      }),
      more,
    ],
    bar: [
      { label: say('page.back'), go: () => go('new', horse.id) },
      { label: say('page.begin'), main: true, go: ready },
    ],
  });
}

/** What was typed, and which conditions were chosen, in the order of a form. */
interface Typed { since: string; air: AirTyped; chosen: string[] }

/** What is asked of the conditions that have more to them. */
const stateFields = (exam: Exam, typed: Typed): Child[] => [
  typed.chosen.includes('after-work') && [
    field({ id: 'since', label: say('page.start.since'), value: typed.since, short: true, mode: 'numeric', input: v => { typed.since = v; } }),
    choiceField({
      id: 'effort', legend: say('page.start.effort'), tiles: true, chosen: exam.state.effort ? [exam.state.effort] : [],
      options: ['easy', 'moderate', 'hard'].map(e => ({ value: e, label: say('effort.' + e) })),
      change: ([e]) => { exam.state.effort = e; },
    }), airFields(typed.air)],
  typed.chosen.includes('medicated') && field({ id: 'with', label: say('page.start.with'), value: exam.state.with ?? '', input: v => { exam.state.with = v; } }),
];

/** The state with what belongs to it, and what is wrong with what was typed. */
function stateOf(exam: Exam, typed: Typed): { list: FieldFault[]; state: State; air: Exam['air'] } {
  const list: FieldFault[] = [];
  const [condition = '', ...also] = typed.chosen;
  const state: State = { condition, ...(also.length ? { also } : {}) };
  const worked = typed.chosen.includes('after-work');
  if (worked) {
    if (typed.since.trim() !== '') {
      const n = wholeNumber(typed.since);
      if (n === undefined || n > 1440) list.push({ field: 'since', sentence: say('page.fault.since') });
      else state.sinceMinutes = n;
    }
    if (exam.state.effort) state.effort = exam.state.effort;
    if (exam.state.ended) state.ended = exam.state.ended;
  }
  if (typed.chosen.includes('medicated') && exam.state.with?.trim()) state.with = exam.state.with.trim();
  // The air is asked after work only; what an exam has of it otherwise stays.
  const { list: wrong, air } = worked ? airOf(typed.air) : { list: [], air: exam.air };
  return { list: [...list, ...wrong], state, air };
}

/** By value what it is called; family is what the keys of its words begin with. */
const labelled = (values: string[], family: string): Record<string, string> => Object.fromEntries(values.map(v => [v, say(family + v)]));

/** Changes how a draft was begun. */
export async function changeStart(draft: Draft): Promise<void> {
  const { horse, book } = draft;
  const exam = { ...draft.exam, state: { ...draft.exam.state } };
  // An exam that began with a tick has a state that nobody has said yet.
  const unsaid = exam.state.condition === 'rest' && !callNote(exam.id).started && !!(await store.note('flags:' + exam.id));
  const typed: Typed = {
    chosen: unsaid ? [] : [exam.state.condition, ...(exam.state.also ?? [])], since: exam.state.sinceMinutes === undefined ? '' : String(exam.state.sinceMinutes), air: airTyped(exam),
  };
  const more = h('div');
  const stateMore = (): void => fill(more, stateFields(exam, typed));
  const named = (id: string, labels: Record<string, string>, chosen: string, change: (v: string) => void): HTMLElement => choiceField({
    id, legend: say('page.start.' + id), chosen: [chosen],
    options: Object.entries(labels).map(([v, label]) => ({ value: v, label, note: optional(`page.choice.${id}.${v}`) })),
    change: ([v]) => change(v ?? ''),
  });
  stateMore();
  const ready = async (): Promise<void> => {
    const { list, state, air } = stateOf(exam, typed);
    if (exam.depth !== 'walk-up' && !exam.holder) list.push({ field: 'holder', sentence: say('page.fault.holder') });
    if (typed.chosen.length === 0) list.push({ field: 'condition', sentence: say('page.fault.condition') });
    goToFault(list);
    if (list.length) return;
    const by = exam.by?.trim();
    if (by) await store.putPrefs({ by });
    const { purpose, depth, holder } = exam;
    // That the horse was well was said by the name of a quiet day.
    const wellness = draft.exam.purpose === 'learning' && purpose === 'concern' ? undefined : draft.exam.wellness;
    if (unsaid) await putCallNote(exam.id, { started: true });
    if (await draft.change({ purpose, depth, holder, state, air, wellness, by: by || undefined })) go('exam', exam.id, 'all');
  };
  show({
    title: say('page.start.title', { name: horse.name }),
    head: heading(horse, say('page.start.head')),
    out: { label: say('page.leave'), go: () => go() },
    body: [
      named('purpose', labelled(book.purposes, 'purpose.'), exam.purpose, v => { exam.purpose = v; }),
      named('depth', labelled(book.depths, 'depth.'), exam.depth, v => { exam.depth = v; }),
      choiceField({
        id: 'condition', legend: say('page.start.condition'), many: true, alone: ['rest'], chosen: typed.chosen,
        options: book.conditions.map(c => ({ value: c, label: say('condition.' + c) })), change: values => { typed.chosen = values; stateMore(); },
      }), more,
      named('holder', labelled(['held', 'not-held'], 'page.holder.'), exam.holder ?? '', v => { exam.holder = v; }),
      field({ id: 'by', label: say('page.start.by'), value: exam.by ?? '', fill: 'name', input: v => { exam.by = v; } }),
    ],
    bar: [{ label: say('page.back'), go: () => go('exam', exam.id, 'all') }, { label: say('page.next'), go: () => void ready(), main: true }],
  });
}
