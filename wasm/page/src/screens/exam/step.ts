// One step of the exam: the question, how, the caution, the answer.

import { hasMessage, say, sayFirst } from '../../core/words';
import { absenceButton, absenceName, optional, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { add, h, link, para } from '../../ui/dom';
import { showFaults } from '../../ui/form';
import { closeUpPicture, horsePicture } from '../../ui/pictures';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { wrongInExam } from '../../exam/callstrip';
import { stepCautions } from '../../exam/cautions';
import type { Draft } from '../../exam/draft';
import { textApplies } from '../../exam/lifestage';
import { clinicAsks, goToPage, pageIndexOf, pagesOf } from '../../exam/pages';
import { nextPartialStep } from '../../exam/partial';
import { askChoice } from '../../questions/choice';
import type { Question, QuestionContext } from '../../questions/question';
import { askRate } from '../../questions/rate';
import { askReading } from '../../questions/reading';
import { askTimed } from '../../questions/timed';

/** back is where the answer leads: the group of the step, the check, the list; or 'one' to the next question. */
export async function stepScreen(draft: Draft, index: number, back = ''): Promise<void> {
  const steps = draft.steps;
  const step = steps[Math.min(index, steps.length - 1)];
  if (!step) return go('exam', draft.exam.id, 'check');
  const sign = draft.sign(step.sign);
  const prefs = await store.prefs();

  const pages = pagesOf(draft);
  const n = pageIndexOf(draft, index);
  const page = pages[n]!;
  /** Which of the page's questions this is. */
  const nth = page.indices.indexOf(index);
  const onward = (): void => {
    if (draft.partial) return nextPartialStep(draft, index);
    // A grade that closes the exam takes the rest of the steps away.
    if (draft.closed) go('exam', draft.exam.id, 'closed');
    else if (back === 'check' || back === 'list') go('exam', draft.exam.id, back);
    else if (back === 'g') go('exam', draft.exam.id, 'g', page.at);
    else if (page.group && nth + 1 < page.indices.length) go('exam', draft.exam.id, page.indices[nth + 1]!, 'one');
    else goToPage(draft, n + 1);
  };
  const backward = (): void => {
    if (back === 'check' || back === 'list') go('exam', draft.exam.id, back);
    else if (back === 'g' || (page.group && nth <= 0)) go('exam', draft.exam.id, 'g', page.at);
    else if (page.group) go('exam', draft.exam.id, page.indices[nth - 1]!, 'one');
    else if (n > 0) goToPage(draft, n - 1);
    else if (draft.partial) go(...draft.partial.then);
    else go('exam', draft.exam.id, 'start');
  };

  let question: Question | undefined;
  const marks = h('p', { class: 'marks' });
  const place: QuestionContext = {
    draft, step, sign, prefs,
    changed: () => {
      const main = document.getElementById('go');
      if (main) main.textContent = question?.answered() ? say('page.next') : say('page.skip');
      marked();
    },
    again: () => void stepScreen(draft, index, back),
    onward,
  };

  // "Could not" and "not sure" of a measured sign stand beside the answer, not in its place.
  const marked = (): void => {
    marks.replaceChildren();
    if (!question?.outside) return;
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
    const list = (await question?.check?.()) ?? [];
    showFaults(list);
    if (list.length === 0) onward();
  };

  switch (sign.kind) {
    case 'rate': question = askRate(place); break;
    case 'timed': question = askTimed(place); break;
    case 'grade':
    case 'choice': question = askChoice(place); break;
    default: question = askReading(place);
  }

  const howKeys = [`sign.${sign.id}.how.${step.depth}`, `sign.${sign.id}.how`];
  const [drawnNear, drawn] = [closeUpPicture(sign.id), horsePicture(sign.id, step.sites)];
  const intro = h('div', { class: 'intro' },
    // A sign that is asked again says by its place which time it is.
    sign.again && step.sites?.length === 1 && para(say('page.at', { site: siteName(step.sites[0]!) }), 'at'),
    howKeys.some(hasMessage) && para(sayFirst(howKeys), 'how'),
    (drawnNear || drawn) && h('details', { class: 'drawn', toggle: (e: Event) => {
      // Over a pad there is little room: what was asked for is brought up to where it can be seen.
      const fold = e.target as HTMLDetailsElement;
      if (fold.open && question?.pad) fold.scrollIntoView();
    } }, h('summary', {}, say('page.drawn.show')), drawnNear, drawn),
    stepCautions(draft, [sign]));
  const remarks = (sign.remarks ?? []).filter(r => textApplies(r, draft.horse, draft.exam.at)).map(r => optional('remark.' + r.id)).filter(Boolean);

  show({
    title: draft.nurses(sign.id) ? say('page.nurses.ask') : sayFirst([`sign.${sign.id}.ask.${step.depth}`, `sign.${sign.id}.ask`]),
    head: `${draft.horse.name} · ${page.group ? say('page.step.of', { n: nth + 1, of: page.steps.length }) : say('page.stop.of', { n: n + 1, of: pages.length })}`,
    whereGo: () => go('exam', draft.exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    kind: 'step ' + (question.kind ?? ''),
    body: [intro, question.body, marks, clinicAsks(draft, [sign.id]),
      remarks.length > 0 && h('details', { class: 'more' }, h('summary', {}, say('page.about', { sign: signName(sign.id) })), remarks.map(r => para(r)))],
    pad: question.pad,
    bar: [
      { label: say('page.back'), go: backward },
      ...wrongInExam(draft),
      { label: question.answered() ? say('page.next') : say('page.skip'), go: () => void next(), main: true },
    ],
  });
  marked();
}
