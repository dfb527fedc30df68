// A horse: its own normal, and its exams.

import type { Book, Horse } from '../../core/types';
import { say } from '../../core/words';
import { dateTime } from '../../text/dates';
import { horseText, stateName } from '../../text/names';
import { diedAt, isAtTop, putDied, reloadCallNotes, withToday } from '../../store/calls';
import { isDemo } from '../../store/demo';
import * as store from '../../store/store';
import { fill, h, link, para } from '../../ui/dom';
import { entryLinks } from '../../ui/phonelinks';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { callBox, callLine } from '../../exam/callbox';
import { dueText, progressOf } from '../../exam/progress';
import { unknownText } from '../../exam/unknown';
import { wrongButton } from '../../exam/callstrip';
import { answersBox } from '../report/answered';
import { ticksKept } from '../report/wrong';
import { showKnown } from './barn';
import { undoBox } from './conflicts';
import { usualBox } from './usual';

export async function horseScreen(book: Book, horse: Horse): Promise<void> {
  await ticksKept();
  await reloadCallNotes();
  const gone = diedAt(horse.id);
  const again = (): void => void horseScreen(book, horse);
  const exams = (await store.examsOf(horse.id)).reverse();
  const face = h('span', { class: 'face', 'aria-hidden': 'true' });
  // What the core says comes later, into room that is kept for it: nothing below moves.
  const line = h('p', { class: 'how' });
  const due = h('p', { id: 'known-due' });
  void progressOf(horse, exams).then(known => showKnown(known, face, line, true, k => fill(due, h('strong', {}, dueText(k.due)), ' ', unknownText(k.due), ' ',
    say(horse.born ? 'page.horse.stage' : 'page.horse.stage.unknown', { stage: say('stage.' + k.stage) }))));
  const usual = usualBox(book, horse, exams);
  // What was looked at within half a day can be watched; later a watch would begin with a new exam.
  const recent = exams.find(e => e.status === 'finished' && e.state.condition !== 'after-work' && Date.now() - Date.parse(e.at) < 12 * 3_600_000);
  const rows = exams.map(e => h('li', {}, h('button', {
    type: 'button', class: 'exam',
    click: async () => go('exam', e.id, ...(e.status === 'draft' ? ((await store.place(e.id)) ?? '0').split('/') : ['result'])),
  }, h('span', { class: 'name' }, dateTime(e.at)), h('span', { class: 'note' },
    [say('depth.' + e.depth), say('purpose.' + e.purpose), e.state.condition === 'rest' ? '' : stateName(e.state),
      e.status === 'draft' ? say('page.draft.mark') : e.wellness ? say('wellness.' + e.wellness) : say('page.unlabelled')].filter(Boolean).join(' · '))),
    e.status === 'finished' && h('button', { type: 'button', class: 'other', id: 'report-' + e.id, 'aria-label': say('page.horse.report.of', { when: dateTime(e.at) }), click: () => go('exam', e.id, 'call') }, say('page.horse.report')),
    callLine(book, e, horse, again)));
  // Of each night once, under the newest of its exams.
  const nights = exams.filter((e, i) => exams.findIndex(o => (o.recheckOf ?? o.id) === (e.recheckOf ?? e.id)) === i);
  const answers = (await Promise.all(nights.map(e => answersBox(e, horse, again)))).filter(Boolean);
  show({
    title: horse.name,
    head: say('page.barn'), whereGo: () => go(),
    out: { label: say('page.horse.edit'), go: () => go('horse', horse.id, 'edit') },
    body: [
      undoBox(again),
      exams.map(withToday).filter(isAtTop).map(e => callBox(book, e, horse, again)),
      gone && h('p', { id: 'died' }, say('page.died', { at: dateTime(gone) }), ' ', link(say('page.call.undo'), () => void putDied(horse.id, false).then(again))),
      answers,
      h('div', { class: 'horse' }, face, h('span', { class: 'words' },
        h('span', { class: 'note' }, horseText(horse), isDemo(horse) && h('span', { class: 'demo' }, say('page.demo'))),
        horse.breed && h('span', { class: 'note' }, horse.breed), horse.markings && h('span', { class: 'note' }, horse.markings))),
      !gone && h('div', { id: 'known' }, line, due),
      horse.notes && para(horse.notes),
      usual,
      !gone && h('p', { class: 'marks' }, link(say('page.practise.open'), () => go('practise', horse.id), { id: 'practise' }),
        recent && link(say('page.watch.series', { name: horse.name }), () => go('watch', recent.recheckOf ?? recent.id), { id: 'watch' })),
      h('h2', {}, say('page.horse.exams')),
      rows.length ? h('ul', { class: 'exams' }, rows) : para(say('page.horse.noexams'), 'how'),
      rows.length > 1 && h('p', { class: 'marks' }, link(say('page.pair'), () => go('horse', horse.id, 'pair'), { id: 'pair' })),
      horse.stands && para(say('page.horse.stands.at', { stands: horse.stands })),
      (horse.contacts ?? []).map(c => entryLinks(say('page.call.ring.at', { name: c.name }), { name: c.name, phone: c.phone ?? '', hours: c.role })),
    ],
    bar: gone ? [{ label: say('page.barn'), go: () => go(), main: true }] : [
      wrongButton(horse.id),
      { label: say('page.horse.look', { name: horse.name }), go: () => go('new', horse.id), main: true },
    ],
  });
}
