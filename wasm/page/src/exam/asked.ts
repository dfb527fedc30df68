// The clinic's own questions: asked where they belong, marked as the clinic's, and kept with what was answered.

import type { ClinicQuestion, PackQuestion } from '../core/types';
import { lang, say } from '../core/words';
import { pack } from '../store/pack';
import { type Child, h, link } from '../ui/dom';
import { choiceField, field } from '../ui/form';
import { go } from '../ui/route';
import type { Draft } from './draft';

/** The questions of the page's language; all where there are none of it. */
function questions(): PackQuestion[] {
  const all = pack()?.questions ?? [];
  const own = all.filter(q => q.lang === lang);
  return own.length ? own : all;
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** A question as the exam holds it, without an answer. */
const heldAs = (q: PackQuestion): ClinicQuestion => ({
  by: oneLine(pack()!.clinic.name), text: oneLine(q.text), ...(q.id ? { id: q.id } : {}), ...(q.answer ? { kind: q.answer } : {}),
});

const same = (a: ClinicQuestion, b: ClinicQuestion): boolean => a.by === b.by && (a.id && b.id ? a.id === b.id : a.text === b.text);

const held = (draft: Draft, q: PackQuestion): ClinicQuestion | undefined => draft.exam.asked?.find(a => same(a, heldAs(q)));

/** Puts entries in the place of those that ask the same. */
const put = (draft: Draft, list: ClinicQuestion[]): Promise<boolean> => draft.edit(exam => ({
  ...exam, asked: [...(exam.asked ?? []).filter(a => !list.some(b => same(a, b))), ...list],
}));

/** What the clinic asks stays within quotation marks: it may hold an order. */
const asks = (q: PackQuestion): string => say('page.asked', { clinic: pack()!.clinic.name, text: oneLine(q.text).replace(/[“”«»"]/g, "'") });

function ask(draft: Draft, q: PackQuestion, i: number): HTMLElement {
  const id = 'asked-' + i;
  const now = held(draft, q);
  const answer = (a: string, kind = q.answer): void => {
    const { kind: _, ...plain } = heldAs(q);
    void put(draft, [{ ...plain, ...(kind ? { kind } : {}), ...(a ? { answer: a } : {}) }]);
  };
  if (q.answer === 'yes-no') {
    return choiceField({
      id, legend: asks(q), tiles: true, chosen: [now?.answer ?? ''],
      options: [{ value: 'yes', label: say('page.asked.yes') }, { value: 'no', label: say('page.asked.no') }, { value: '', label: say('page.asked.none') }],
      change: ([a]) => answer(a ?? ''),
    });
  }
  const number = q.answer === 'number';
  return field({
    id, label: asks(q), value: now?.answer ?? '', long: !number, mode: number ? 'decimal' : undefined,
    // What is no plain number ("about 12") is an answer in words.
    input: v => {
      const plain = v.trim().replace(',', '.');
      if (number && /^\d{1,9}(\.\d{1,4})?$/.test(plain)) answer(plain);
      else answer(v.trim(), number ? undefined : q.answer);
    },
  });
}

/** What the clinic asks at the step of a sign, or of several that are answered together. */
export const askedAt = (draft: Draft, signs: string[]): Child =>
  questions().map((q, i) => q.at !== undefined && signs.includes(q.at) && ask(draft, q, i));

/** What the clinic asks with the story: what belongs to no step, or to none of this exam, or was left open there. */
export const askedInStory = (draft: Draft): Child =>
  questions().map((q, i) => (!q.at || !held(draft, q)?.answer || !draft.steps.some(s => s.sign === q.at && draft.asks(s))) && ask(draft, q, i));

/** What the clinic asks and what was answered, before the exam is finished. What nobody answered is kept as that. */
export function askedBefore(draft: Draft): Child {
  const list = questions();
  if (list.length === 0) return null;
  const open = list.filter(q => !held(draft, q)).map(heldAs);
  if (open.length) void put(draft, open);
  return [
    h('h2', {}, say('page.asked.by', { clinic: pack()!.clinic.name })),
    h('dl', { class: 'answers' }, list.map(q => {
      const a = held(draft, q)?.answer;
      const said = a && q.answer === 'yes-no' ? say(a === 'yes' ? 'page.asked.yes' : 'page.asked.no') : a;
      return h('div', { class: 'checked' }, h('dt', {}, asks(q)),
        h('dd', {}, h('span', { class: said ? 'value raw' : 'value unchecked' }, said || say('page.asked.none'))),
        h('dd', { class: 'change' }, link(say('page.change'), () => go('exam', draft.exam.id, 'story', 2), { 'aria-label': say('page.change.what', { what: oneLine(q.text) }) })));
    })),
  ];
}

/** What the clinic asks on a screen of the exam: at signs, or before it is finished. */
export const clinicAsks = (draft: Draft, signs?: string[]): Child => (signs ? askedAt(draft, signs) : askedBefore(draft));
