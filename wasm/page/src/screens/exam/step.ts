// One step of the exam: the question, how, the caution, the answer.

import type { Draft } from '../../exam/draft';
import type { Asking, Place } from '../../questions/question';
import { askChosen } from '../../questions/choice';
import { askRate } from '../../questions/rate';
import { askTimed } from '../../questions/timed';
import { nearBy, whereOn } from '../../ui/pictures';
import { askReading } from '../../questions/reading';
import { add, h, link, para } from '../../ui/dom';
import { faults } from '../../ui/form';
import { show } from '../../ui/screen';
import { absenceButton, absenceName, optional, signName, siteName } from '../../text/names';
import { go } from '../../ui/route';
import { shortOnward } from '../../exam/partial';
import * as store from '../../store/store';
import { isFor } from '../../exam/lifestage';
import { stepCautions } from '../../exam/cautions';
import { goStop, stopOf, stopsOf } from '../../exam/pages';
import { has, say, sayFirst } from '../../core/words';

/** back is where the answer leads: the group of the step, the check, the list; or 'one' to the next question. */
export async function stepScreen(draft: Draft, index: number, back = ''): Promise<void> {
  const steps = draft.steps;
  const step = steps[Math.min(index, steps.length - 1)];
  if (!step) return go('exam', draft.exam.id, 'check');
  const sign = draft.sign(step.sign);
  const prefs = await store.prefs();

  const stops = stopsOf(draft);
  const n = stopOf(draft, index);
  const stop = stops[n]!;
  /** Which of the stop's questions this is. */
  const nth = stop.indices.indexOf(index);
  const onward = (): void => {
    if (draft.short) return shortOnward(draft, index);
    // A grade that closes the exam takes the rest of the steps away.
    if (draft.closed) go('exam', draft.exam.id, 'closed');
    else if (back === 'check' || back === 'list') go('exam', draft.exam.id, back);
    else if (back === 'g') go('exam', draft.exam.id, 'g', stop.at);
    else if (stop.group && nth + 1 < stop.indices.length) go('exam', draft.exam.id, stop.indices[nth + 1]!, 'one');
    else goStop(draft, n + 1);
  };
  const backward = (): void => {
    if (back === 'check' || back === 'list') go('exam', draft.exam.id, back);
    else if (back === 'g' || (stop.group && nth <= 0)) go('exam', draft.exam.id, 'g', stop.at);
    else if (stop.group) go('exam', draft.exam.id, stop.indices[nth - 1]!, 'one');
    else if (n > 0) goStop(draft, n - 1);
    else if (draft.short) go(...draft.short.then);
    else go('exam', draft.exam.id, 'start');
  };

  let asking: Asking | undefined;
  const marks = h('p', { class: 'marks' });
  const place: Place = {
    draft, step, sign, prefs,
    changed: () => {
      const main = document.getElementById('go');
      if (main) main.textContent = asking?.answered() ? say('page.next') : say('page.skip');
      marked();
    },
    again: () => void stepScreen(draft, index, back),
    onward,
  };

  // "Could not" and "not sure" of a measured sign stand beside the answer, not in its place.
  const marked = (): void => {
    marks.replaceChildren();
    if (!asking?.outside) return;
    const now = draft.findings(step);
    const absent = now.find(f => f.absent)?.absent;
    if (absent) {
      add(marks, [h('strong', {}, say('page.marked', { what: absenceName(absent) })), ' ',
        link(say('page.unmark'), async () => { await draft.clear(step); place.again(); })]);
      return;
    }
    for (const reason of ['could-not', 'unsure']) {
      add(marks, link(absenceButton(reason), async () => {
        await draft.put(step, { sign: sign.id, ...(step.sites?.[0] ? { site: step.sites[0] } : {}), absent: reason });
        onward();
      }));
    }
  };

  const next = async (): Promise<void> => {
    const list = (await asking?.check?.()) ?? [];
    faults(list);
    if (list.length === 0) onward();
  };

  switch (sign.kind) {
    case 'rate': asking = askRate(place); break;
    case 'timed': asking = askTimed(place); break;
    case 'grade':
    case 'choice': asking = askChosen(place); break;
    default: asking = askReading(place);
  }

  const howKeys = [`sign.${sign.id}.how.${step.depth}`, `sign.${sign.id}.how`];
  const [drawnNear, drawn] = [nearBy(sign.id), whereOn(sign.id, step.sites)];
  const intro = h('div', { class: 'intro' },
    // A sign that is asked again says by its place which time it is.
    sign.again && step.sites?.length === 1 && para(say('page.at', { site: siteName(step.sites[0]!) }), 'at'),
    howKeys.some(has) && para(sayFirst(howKeys), 'how'),
    (drawnNear || drawn) && h('details', { class: 'drawn', toggle: (e: Event) => {
      // Over a pad there is little room: what was asked for is brought up to where it can be seen.
      const fold = e.target as HTMLDetailsElement;
      if (fold.open && asking?.pad) fold.scrollIntoView();
    } }, h('summary', {}, say('page.drawn.show')), drawnNear, drawn),
    stepCautions(draft, [sign]));
  const remarks = (sign.remarks ?? []).filter(r => isFor(r, draft.horse, draft.exam.at)).map(r => optional('remark.' + r.id)).filter(Boolean);

  show({
    title: sayFirst([`sign.${sign.id}.ask.${step.depth}`, `sign.${sign.id}.ask`]),
    head: `${draft.horse.name} · ${stop.group ? say('page.step.of', { n: nth + 1, of: stop.steps.length }) : say('page.stop.of', { n: n + 1, of: stops.length })}`,
    whereGo: () => go('exam', draft.exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    kind: 'step ' + (asking.kind ?? ''),
    body: [intro, asking.body, marks,
      remarks.length > 0 && h('details', { class: 'more' }, h('summary', {}, say('page.about', { sign: signName(sign.id) })), remarks.map(r => para(r)))],
    pad: asking.pad,
    bar: [
      { label: say('page.back'), go: backward },
      { label: asking.answered() ? say('page.next') : say('page.skip'), go: () => void next(), main: true },
    ],
  });
  marked();
}
