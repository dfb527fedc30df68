// What the veterinarian will ask.

import type { Given, Story } from '../../core/types';
import { say } from '../../core/words';
import { localField, rfc3339 } from '../../text/dates';
import { heading } from '../../text/names';
import { callbackOf } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, h, link, para } from '../../ui/dom';
import { choiceField, field, type FieldFault, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { askedInStory } from '../../exam/asked';
import { wrongInExam } from '../../exam/callstrip';
import type { Draft } from '../../exam/draft';

const pages = 3;

export async function storyScreen(draft: Draft, page: number): Promise<void> {
  const { exam, horse } = draft;
  const prefs = await store.prefs();
  const known = callbackOf(exam, horse, prefs);
  let bad: FieldFault[] = [];
  const set = (change: Partial<Story>): void => {
    const story: Record<string, unknown> = { ...draft.exam.story, ...change };
    for (const [key, value] of Object.entries(story)) if (value === undefined || value === '') delete story[key];
    void draft.change({ story: Object.keys(story).length ? (story as Story) : undefined });
  };
  const now = (): Story => draft.exam.story ?? {};
  const text = (key: keyof Story & string, value?: string): HTMLElement => field({
    id: key, label: say('page.story.' + key), hint: say(`page.story.${key}.hint`), long: true, value: value ?? (now()[key] as string | undefined),
    input: v => set({ [key]: v.trim() }),
  });
  const time = (value: string | undefined, id: string, label: string, put: (at: string | undefined) => void): HTMLElement => field({
    id, label, type: 'datetime-local', value: value ? localField(value) : '',
    input: v => {
      const d = new Date(v);
      bad = bad.filter(b => b.field !== id);
      if (v === '') put(undefined);
      else if (Number.isNaN(d.getTime())) bad.push({ field: id, sentence: say('page.fault.time') });
      else put(rfc3339(d));
    },
  });

  const body = (): Child[] => {
    switch (page) {
      case 1: return [
        text('noticed'),
        time(now().since, 'since', say('page.story.since'), since => set({ since })),
        choiceField({
          id: 'course', legend: say('page.story.course'), tiles: true, chosen: [now().course ?? ''],
          options: ['better', 'same', 'worse'].map(c => ({ value: c, label: say('course.' + c) })), change: ([course]) => set({ course }),
        }),
        choiceField({
          id: 'bouts', legend: say('page.story.bouts'), tiles: true,
          chosen: now().bouts === undefined ? [] : [String(now().bouts)],
          options: ['true', 'false'].map(b => ({ value: b, label: say('page.story.bouts.' + b) })), change: ([b]) => set({ bouts: b === 'true' }),
        }),
      ];
      case 2: return [text('passed'), text('intake'), text('changed'), text('history'), askedInStory(draft)];
      default: return [
        given(now().given ?? [], list => set({ given: list.length ? list : undefined }), time),
        text('stands', now().stands ?? horse.stands),
        field({
          id: 'callback', label: say('page.story.callback'), type: 'tel', fill: 'tel', value: now().callback ?? known ?? '',
          input: v => { set({ callback: v.trim() }); void store.putPrefs({ callback: v.trim() }); },
        }),
        choiceField({
          id: 'ask', legend: say('page.story.ask'), chosen: [now().ask ?? ''],
          options: ['come', 'advise', 'ring-back'].map(a => ({ value: a, label: say('ask.' + a) })), change: ([ask]) => set({ ask }),
        }),
      ];
    }
  };
  // What is shown filled in is part of the exam, once the page was seen.
  if (page === pages) {
    const stands = now().stands ?? horse.stands;
    const callback = now().callback ?? known;
    if (stands !== now().stands || callback !== now().callback) set({ stands, callback });
  }
  show({
    title: say('page.story.title.' + page),
    head: heading(horse, say('page.story.head')),
    out: { label: say('page.leave'), go: () => go() },
    body: [para(say('page.story.how'), 'how'), body()],
    bar: [
      { label: say('page.back'), go: () => (page > 1 ? go('exam', exam.id, 'story', page - 1) : go('exam', exam.id, 'all')) },
      ...wrongInExam(draft),
      {
        label: say('page.next'), main: true, go: () => {
          showFaults(bad);
          if (bad.length === 0) go('exam', exam.id, ...(page < pages ? ['story', page + 1] : ['check']));
        },
      },
    ],
  });
}

/** What was given already, as told: what, how much, when, by whom. */
function given(list: Given[], put: (list: Given[]) => void, time: (value: string | undefined, id: string, label: string, put: (at: string | undefined) => void) => HTMLElement): HTMLElement {
  const entries = list.map(g => ({ ...g }));
  const box = h('fieldset', { class: 'choice given' });
  const save = (): void => {
    const kept: Given[] = [];
    for (const g of entries) {
      if (!g.what.trim()) continue;
      kept.push({ what: g.what.trim(), ...(g.dose?.trim() ? { dose: g.dose.trim() } : {}), ...(g.at ? { at: g.at } : {}), ...(g.by?.trim() ? { by: g.by.trim() } : {}) });
    }
    put(kept);
  };
  const draw = (): void => {
    box.replaceChildren(h('legend', {}, say('page.story.given')), ...entries.flatMap((g, i) => [
      field({ id: `what-${i}`, label: say('page.story.given.what'), value: g.what, input: v => { g.what = v; save(); } }),
      field({ id: `dose-${i}`, label: say('page.story.given.dose'), value: g.dose ?? '', input: v => { g.dose = v; save(); } }),
      time(g.at, `at-${i}`, say('page.story.given.at'), at => { g.at = at; save(); }),
      field({ id: `by-${i}`, label: say('page.story.given.by'), value: g.by ?? '', input: v => { g.by = v; save(); } }),
    ]), link(say('page.story.given.add'), () => { entries.push({ what: '' }); draw(); document.getElementById(`what-${entries.length - 1}`)?.focus(); }, { id: 'given-add' }));
  };
  draw();
  return box;
}
