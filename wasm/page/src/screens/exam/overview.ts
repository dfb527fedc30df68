// The whole exam at a glance: what is done, what is open, and a way to each of it.

import { say } from '../../core/words';
import { findingText, heading } from '../../text/names';
import { type Child, h, link, para } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { wrongInExam } from '../../exam/callstrip';
import type { Draft } from '../../exam/draft';
import { goToPage, isAnswered, isDone, nextOpenPage, pageName, pagesOf } from '../../exam/pages';

export async function overviewScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const pages = pagesOf(draft);
  const rows = await Promise.all(pages.map(async (page, n): Promise<Child> => {
    const done = page.steps.filter(s => isAnswered(draft, s)).length;
    const some = page.steps.some(s => isDone(draft, s));
    let state = say('page.all.of', { n: done, of: page.steps.length });
    if (!some) state = say('page.unchecked');
    else if (!page.group) {
      const said = await Promise.all(draft.findings(page.steps[0]!).map(f => findingText(draft.sign(f.sign), f, draft)));
      state = [...new Set(said)].join(', ');
    }
    return h('li', {}, h('button', { type: 'button', class: 'exam', id: 'stop-' + page.at, click: () => goToPage(draft, n) },
      h('span', { class: 'name' }, pageName(draft, page)),
      h('span', { class: done ? 'note' : 'note value unchecked' }, state)));
  }));
  const next = nextOpenPage(draft);
  show({
    title: say('page.all.title'),
    head: heading(horse, say('depth.' + exam.depth)),
    out: { label: say('page.leave'), go: () => go() },
    body: [
      para(say('page.all.how'), 'how'),
      h('ul', { class: 'exams' }, rows),
      h('p', { class: 'marks' },
        link(say('page.all.list'), () => go('exam', exam.id, 'list'), { id: 'to-list' }),
        link(say('page.check.story'), () => go('exam', exam.id, 'story', 1)),
        link(say('page.all.start'), () => go('exam', exam.id, 'start'))),
    ],
    bar: [
      { label: say('page.all.finish'), go: () => go('exam', exam.id, 'check') },
      ...wrongInExam(draft),
      { label: say('page.draft.on'), go: () => goToPage(draft, next), main: true },
    ],
  });
}
