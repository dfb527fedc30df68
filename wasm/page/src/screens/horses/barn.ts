// The barn, and a horse with its exams.

import type { Book, Exam, Horse } from '../../core/types';
import { lang, languages, say, setLanguage } from '../../core/words';
import { ago, dateTime } from '../../text/dates';
import { horseText, stateName } from '../../text/names';
import { isAtTop, isOpen, reloadCallNotes } from '../../store/calls';
import { demoIDs, isDemo } from '../../store/demo';
import * as store from '../../store/store';
import { caution, fill, h, link, para, svgElement } from '../../ui/dom';
import { entryLinks } from '../../ui/phonelinks';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { setTheme, theme } from '../../ui/theme';
import { callBox, callBoxes, callLine } from '../../exam/callbox';
import { dueText, isDue, type Progress, progressOf, storedProgress, storedProgressOf, unknownText } from '../../exam/progress';
import { wrongButton } from '../../exam/callstrip';
import { ticksKept } from '../report/wrong';

/** The other languages of the page, to change over at once; each is named in its own words. */
const otherLanguages = (): HTMLElement[] => languages.filter(l => l.id !== lang).map(l =>
  link(l.name, async () => {
    await setLanguage(l.id);
    await store.putPrefs({ lang: l.id });
    window.dispatchEvent(new HashChangeEvent('hashchange'));
  }, { lang: l.id, id: 'speak-' + l.id }));

/** Puts what is known of a horse into the room that is kept for it. */
function showKnown(k: Progress | undefined, face: HTMLElement, line: HTMLElement, more: (k: Progress) => void): void {
  if (!k) return;
  more(k);
  const svg = svgElement(k.whorl);
  if (svg) face.replaceChildren(svg);
  line.textContent = say(k.exams ? 'page.barn.known' : 'page.barn.unknown', { n: k.exams });
}

export async function barnScreen(
  book: Book, version: string, newer: HTMLElement | undefined, fillFileNotes: (box: HTMLElement) => Promise<void>,
): Promise<void> {
  await ticksKept();
  const [horses, exams, known] = await Promise.all([store.horses(), store.exams(), storedProgress().catch(() => []), reloadCallNotes()]);
  horses.sort((a, b) => a.name.localeCompare(b.name));
  const byID = new Map(horses.map(x => [x.id, x]));
  // A draft with an open call stands in the box of that call.
  const drafts = exams.filter(e => e.status === 'draft' && byID.has(e.horse) && !isAtTop(e)).sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const resume = async (e: Exam): Promise<void> => go('exam', e.id, ...((await store.place(e.id)) ?? '0').split('/'));

  const again = (): void => void barnScreen(book, version, newer, fillFileNotes);
  const boxes = await callBoxes(book, exams, byID, again);
  const demo = horses.some(isDemo);
  const takeOut = async (): Promise<void> => {
    if (await store.dropHorses(demoIDs(horses))) {
      await store.putPrefs({ demo: 'out' });
      again();
    }
  };
  const filling: { horse: Horse; exams: Exam[]; show: (k: Progress | undefined) => void }[] = [];
  const rows = horses.map(x => {
    const mine = exams.filter(e => e.horse === x.id && e.status === 'finished');
    const last = mine.map(e => e.at).sort((a, b) => Date.parse(a) - Date.parse(b)).pop();
    const face = h('span', { class: 'face', 'aria-hidden': 'true' });
    const room = mine.length ? ' room' : '';
    const line = h('span', { class: 'note' + room }, mine.length ? say('page.barn.exams', { n: mine.length }) : say('page.barn.never'));
    const due = h('span', { class: 'note due-note' + room });
    // A horse that was never examined says so already; its first exam is always due.
    const more = (k: Progress): void => fill(due, [mine.length > 0 && isDue(k.due) ? say('page.practise.due') : '', k.exams ? unknownText(k.due) : '']
      .filter(Boolean).map((t, i) => h(i || !isDue(k.due) ? 'span' : 'strong', {}, t, ' ')));
    filling.push({ horse: x, exams: mine, show: k => showKnown(k, face, line, more) });
    return h('li', {}, h('button', { type: 'button', class: 'horse', click: () => go('horse', x.id) }, face,
      h('span', { class: 'words' }, h('span', { class: 'name' }, x.name, isDemo(x) && h('span', { class: 'demo' }, say('page.demo'))),
        h('span', { class: 'note' }, horseText(x)), line, due,
        last && h('span', { class: 'note' }, say('page.barn.last', { ago: ago(last) })),
        exams.some(e => e.horse === x.id && isOpen(e) && !isAtTop(e)) && h('strong', { class: 'note' }, say('page.call.open')))),
      h('button', { type: 'button', class: 'now', id: 'look-' + x.id, 'aria-label': `${say('page.barn.look')}: ${x.name}`, click: () => go('new', x.id) }, say('page.barn.look')));
  });
  // What is kept of each horse is there at once, so that no row moves under the thumb; what must be worked out comes later.
  const unknown = filling.filter(f => {
    const seen = storedProgressOf(known, f.horse, f.exams);
    f.show(seen);
    return !seen;
  });
  const kept = h('div', { class: 'kept' });
  show({
    title: horses.length ? say('page.barn.title') : say('page.barn.empty'),
    head: say('page.name'),
    beside: otherLanguages(),
    out: { label: say('page.files'), go: () => go('files') },
    body: [
      newer,
      boxes,
      drafts.map((e, i) => h('div', { class: 'draft' },
        h('p', {}, h('strong', {}, say('page.draft', { name: byID.get(e.horse)!.name })), ' ', say('page.draft.begun', { ago: ago(e.at) })),
        h('p', {}, i > 0 ? link(say('page.draft.on'), () => void resume(e))
          : h('button', { type: 'button', class: 'all dark', id: 'go', click: () => void resume(e) }, say('page.draft.on.with', { name: byID.get(e.horse)!.name })), link(say('page.draft.drop'), () => go('drop', e.id))))),
      horses.length === 0 && para(say('page.barn.empty.how')),
      h('ul', { class: 'horses' }, rows),
      horses.length > 0 && h('p', {}, link(say('page.horse.add'), () => go('horse', 'new'), { id: 'add' })),
      demo && caution(para(say('page.demo.note')), link(say('page.demo.out'), () => void takeOut(), { id: 'demo-out' })),
      kept,
      say('page.translation') !== '' && para(say('page.translation'), 'note'),
      horses.length > 0 && h('p', { class: 'marks' }, link(say('page.recovery.open'), () => go('recovery'), { id: 'recovery' })),
      h('p', { class: 'marks' }, link(say('page.settings'), () => go('settings'), { id: 'settings' }),
        link(say(theme() === 'night' ? 'page.theme.to.paper' : 'page.theme.to.night'), () => {
          setTheme(theme() === 'night' ? 'paper' : 'night');
          again();
        }, { id: 'night' })),
      h('p', { class: 'version' }, say('page.version', { version }), ' · ', say('page.private')),
      h('p', {}, link(say('page.figures'), () => go('figures'))),
    ],
    bar: [
      wrongButton(),
      ...(horses.length === 0 ? [{ label: say('page.horse.add'), go: () => go('horse', 'new'), main: true }] : []),
    ],
  });
  // On a first visit there is nothing to say, and the line is the core's.
  if (!horses.every(isDemo) || !exams.every(isDemo)) void fillFileNotes(kept).catch(() => undefined);
  for (const f of unknown) void progressOf(f.horse, f.exams).then(f.show);
}

export async function horseScreen(book: Book, horse: Horse): Promise<void> {
  await ticksKept();
  const again = (): void => void horseScreen(book, horse);
  const exams = (await store.examsOf(horse.id)).reverse();
  const face = h('span', { class: 'face', 'aria-hidden': 'true' });
  // What the core says comes later, into room that is kept for it: nothing below moves.
  const line = h('p', { class: 'how' });
  const due = h('p', { id: 'known-due' });
  void progressOf(horse, exams).then(known => showKnown(known, face, line, k => fill(due, h('strong', {}, dueText(k.due)), ' ', unknownText(k.due), ' ',
    say(horse.born ? 'page.horse.stage' : 'page.horse.stage.unknown', { stage: say('stage.' + k.stage) }))));
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
  show({
    title: horse.name,
    head: say('page.barn'), whereGo: () => go(),
    out: { label: say('page.horse.edit'), go: () => go('horse', horse.id, 'edit') },
    body: [
      exams.filter(isAtTop).map(e => callBox(book, e, horse, again)),
      h('div', { class: 'horse' }, face, h('span', { class: 'words' },
        h('span', { class: 'note' }, horseText(horse), isDemo(horse) && h('span', { class: 'demo' }, say('page.demo'))),
        horse.breed && h('span', { class: 'note' }, horse.breed), horse.markings && h('span', { class: 'note' }, horse.markings))),
      h('div', { id: 'known' }, line, due),
      h('p', { class: 'marks' }, link(say('page.practise.open'), () => go('practise', horse.id), { id: 'practise' }),
        recent && link(say('page.watch.series', { name: horse.name }), () => go('watch', recent.recheckOf ?? recent.id), { id: 'watch' })),
      horse.notes && para(horse.notes),
      horse.stands && para(say('page.horse.stands.at', { stands: horse.stands })),
      (horse.contacts ?? []).map(c => entryLinks(say('page.call.ring.at', { name: c.name }), { name: c.name, phone: c.phone ?? '', hours: c.role })),
      h('h2', {}, say('page.horse.exams')),
      rows.length ? h('ul', { class: 'exams' }, rows) : para(say('page.horse.noexams'), 'how'),
      rows.length > 0 && h('p', { class: 'marks' }, link(say('page.history.of'), () => go('horse', horse.id, 'history'), { id: 'history' }),
        rows.length > 1 && link(say('page.pair'), () => go('horse', horse.id, 'pair'), { id: 'pair' })),
    ],
    bar: [
      wrongButton(horse.id),
      { label: say('page.horse.look', { name: horse.name }), go: () => go('new', horse.id), main: true },
    ],
  });
}
