// Practise: when the next quiet exam is due, what is still unknown, and lessons of one sign each.

import * as core from '../../core/core';
import type { Book, ID, Planned } from '../../core/types';
import { say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { heading, signName } from '../../text/names';
import * as store from '../../store/store';
import { fill, h, link, para } from '../../ui/dom';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { download, fileName } from '../../ui/share';
import { dueText, progressOf } from '../../exam/progress';
import { unknownText } from '../../exam/unknown';

/** What a lesson can be of: every sign that is counted or read, and those that the hands learn. */
export const lessonsOf = (book: Book): string[] => [
  ...book.signs.filter(s => ['rate', 'timed', 'temperature'].includes(s.kind)).map(s => s.id),
  ...['gum-colour', 'gum-moisture', 'digital-pulse', 'gut-sounds'].filter(id => book.signs.some(s => s.id === id)),
];

export async function practiceRoute(book: Book, id: ID | undefined): Promise<void> {
  const horse = id && (await store.horse(id));
  if (!horse) return goInstead();
  const exams = await store.examsOf(horse.id);
  const known = await progressOf(horse, exams);
  const due = known?.due;
  const unknown = new Set(due?.unknown ?? []);
  const said = h('p', { class: 'how', id: 'saved', role: 'status' });
  const plan = h('div');
  let asked = false;
  const work = async (): Promise<void> => {
    if (asked) return;
    asked = true;
    fill(plan, para(say('page.practise.working')));
    // The words are painted before the core takes its seconds.
    await new Promise(r => setTimeout(r, 50));
    try {
      const finished = exams.filter(e => e.status === 'finished');
      const got = await core.call<Planned>('plan', { horse, exams: finished, at: rfc3339(new Date()), next: true });
      fill(plan, got.said.map(s => para(s)), (got.next ?? []).flatMap(n => n.said).map(s => para(s)));
    } catch {
      asked = false;
      fill(plan, para(say('page.nocore.how')));
    }
  };
  const calendar = async (): Promise<void> => {
    try {
      // The hour at which the exams were done so far, or eight in the morning; from tomorrow on at the earliest.
      const last = due?.lastAt ? new Date(due.lastAt) : undefined;
      const tomorrow = new Date();
      tomorrow.setDate(tomorrow.getDate() + 1);
      tomorrow.setHours(last?.getHours() ?? 8, last?.getMinutes() ?? 0, 0, 0);
      const start = new Date(Math.max(tomorrow.getTime(), due?.at ? Date.parse(due.at) : 0));
      const times = Math.max(1, (due?.planned ?? 12) - (due?.exams ?? 0));
      const { text } = await core.call<{ text: string }>('calendar', {
        stamp: rfc3339(new Date()), events: [{
          uid: ('practise-' + horse.id).slice(0, 64), start: rfc3339(start), minutes: 15, everyDays: due?.everyDays ?? 17, times,
          summary: say('page.practise.event', { name: horse.name }), description: say('page.practise.event.how'), remindMinutes: 0,
        }],
      });
      download({ name: fileName('whorl', horse.name) + '.ics', type: 'text/calendar', text });
      fill(said, say('page.practise.calendar.done', { n: times }));
    } catch {
      fill(said, say('page.nocore.how'));
    }
  };
  show({
    title: say('page.practise.title', { name: horse.name }),
    head: heading(horse, say('page.practise')),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      para(say('page.practise.how'), 'how'),
      due && h('p', { id: 'due-line' }, h('strong', {}, dueText(due)), ' ', say('page.practise.done', { n: due.exams, of: due.planned, days: due.everyDays })),
      due && para(unknownText(due, 6)),
      !due && para(say('page.nocore.how'), 'how'),
      h('p', {}, link(say('page.practise.calendar'), () => void calendar(), { id: 'calendar' })), said,
      h('h2', {}, say('page.practise.lessons')),
      h('ul', { class: 'exams' }, lessonsOf(book).map(s => h('li', {}, h('button', { type: 'button', class: 'exam', id: 'lesson-' + s, click: () => go('lesson', horse.id, s) },
        h('span', { class: 'name' }, signName(s)), unknown.has(s) && h('span', { class: 'note' }, say('page.practise.still')))))),
      h('details', { class: 'more', id: 'plan', toggle: () => void work() }, h('summary', {}, say('page.practise.plan')), plan),
    ],
    bar: [
      { label: say('page.back'), go: () => go('horse', horse.id) },
      { label: say('page.practise.whole'), go: () => go('new', horse.id), main: true },
    ],
  });
}
