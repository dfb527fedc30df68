// The whole exam at a glance: what is done, what is open, and a way to each of it.

import { h, link, para, type Child } from '../../ui/dom';
import { show } from '../../ui/screen';
import type { Draft } from '../../exam/draft';
import { headOf, saidFinding } from '../../text/names';
import { go } from '../../ui/route';
import { answered, dealt, goStop, nameOf, nextOpen, stopsOf } from '../../exam/pages';
import { say } from '../../core/words';

export async function overviewScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const stops = stopsOf(draft);
  const rows = await Promise.all(stops.map(async (stop, n): Promise<Child> => {
    const done = stop.steps.filter(s => answered(draft, s)).length;
    const some = stop.steps.some(s => dealt(draft, s));
    let state = say('page.all.of', { n: done, of: stop.steps.length });
    if (!some) state = say('page.unchecked');
    else if (!stop.group) {
      const said = await Promise.all(draft.findings(stop.steps[0]!).map(f => saidFinding(draft.sign(f.sign), f, draft)));
      state = [...new Set(said)].join(', ');
    }
    return h('li', {}, h('button', { type: 'button', class: 'exam', id: 'stop-' + stop.at, click: () => goStop(draft, n) },
      h('span', { class: 'name' }, nameOf(draft, stop)),
      h('span', { class: done ? 'note' : 'note value unchecked' }, state)));
  }));
  const next = nextOpen(draft);
  show({
    title: say('page.all.title'),
    head: headOf(horse, say('depth.' + exam.depth)),
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
      { label: say('page.draft.on'), go: () => goStop(draft, next), main: true },
    ],
  });
}
