// The barn: every horse, what is open, and what is due.

import type { Book, Exam, Horse, ID } from '../../core/types';
import { lang, languages, say, setLanguage } from '../../core/words';
import { ago, dateTimeShort, isToday } from '../../text/dates';
import { diedAt, isAtTop, isOpen, reloadCallNotes, unnamedExams, withToday } from '../../store/calls';
import { demoIDs, isDemo } from '../../store/demo';
import * as store from '../../store/store';
import { caution, type Child, h, link, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { setTheme, theme } from '../../ui/theme';
import { isDue, type Progress, progressOf, storedProgress, storedProgressOf } from '../../exam/progress';
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
export function showKnown(k: Progress | undefined, face: HTMLElement, line: HTMLElement, examined: boolean, more: (k: Progress) => void): void {
  if (!k) return;
  const svg = svgElement(k.whorl);
  if (svg) face.replaceChildren(svg);
  if (examined) line.textContent = say(k.exams ? 'page.barn.known' : 'page.barn.unknown', { n: k.exams });
  more(k);
}

/** What of the other screens the list of horses calls. */
export interface Later {
  fillFileNotes(box: HTMLElement): Promise<void>;
  callBoxes(book: Book, exams: Exam[], horses: Map<ID, Horse>, again: () => void): Promise<{ open: Child[]; closed: Child }>;
  drop(ids: string[]): Promise<boolean>;
}

export async function barnScreen(book: Book, version: string, newer: HTMLElement | undefined, later: () => Promise<Later>): Promise<void> {
  await ticksKept();
  const [horses, exams, known] = await Promise.all([store.horses(), store.exams(), storedProgress().catch(() => []), reloadCallNotes()]);
  const byID = new Map(horses.map(x => [x.id, x]));
  // A draft with an open call stands in the box of that call.
  const drafts = exams.filter(e => e.status === 'draft' && byID.has(e.horse) && !isAtTop(e) && !diedAt(e.horse)).sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const resume = async (e: Exam): Promise<void> => go('exam', e.id, ...((await store.place(e.id)) ?? '0').split('/'));

  const again = (): void => void barnScreen(book, version, newer, later);
  // Where a call is open its box comes with the list, so that no row moves; without its file the row of the horse says so.
  const calls = exams.some(e => isAtTop(withToday(e))) || (await unnamedExams()).length > 0 ? await later().then(l => l.callBoxes(book, exams, byID, again), () => undefined) : undefined;
  const demo = horses.some(isDemo);
  const takeOut = async (): Promise<void> => {
    if (await (await later()).drop(demoIDs(horses))) {
      await store.putPrefs({ demo: 'out' });
      again();
    }
  };
  const filling: { horse: Horse; exams: Exam[]; show: (k: Progress | undefined) => void; seen: Progress | undefined }[] = [];
  const looked = horses.map(x => {
    const mine = exams.filter(e => e.horse === x.id && e.status === 'finished');
    const seen = storedProgressOf(known, x, mine);
    const open = exams.map(withToday).filter(e => e.horse === x.id && isOpen(e));
    const last = mine.map(e => e.at).sort((a, b) => Date.parse(a) - Date.parse(b)).pop();
    const due = mine.length === 0 || !!seen && isDue(seen.due);
    // What matters first: the dead last, one's own before the invented, then calls, what is due, whom nobody saw today.
    return { x, mine, seen, last, open, rank: [!!diedAt(x.id), isDemo(x), !open.length, !due, !!last && isToday(last)].map(Number).join('') + x.name };
  }).sort((a, b) => a.rank.localeCompare(b.rank));
  const rows = looked.map(({ x, mine, seen, last, open }) => {
    const face = h('span', { class: 'face', 'aria-hidden': 'true' });
    const line = h('span', { class: 'note due-note' });
    // A horse that was never examined says so already; its first exam is always due.
    const more = (k: Progress): void => { if (mine.length > 0 && isDue(k.due)) line.textContent = say('page.practise.due'); };
    const gone = diedAt(x.id);
    if (!gone) filling.push({ horse: x, exams: mine, seen, show: k => showKnown(k, face, line, mine.length > 0, more) });
    return h('li', {}, h('button', { type: 'button', class: 'horse', click: () => go('horse', x.id) }, face,
      h('span', { class: 'words' }, h('span', { class: 'name' }, x.name, isDemo(x) && h('span', { class: 'demo' }, say('page.demo'))),
        h('span', { class: 'note' }, gone ? say('page.died', { at: dateTimeShort(gone) }) : last ? say('page.barn.last', { ago: ago(last) }) : say('page.barn.never')), !gone && line,
        open.some(e => !(calls && isAtTop(e))) && h('strong', { class: 'note' }, say('page.call.open')))),
      !gone && h('button', { type: 'button', class: 'now', id: 'look-' + x.id, 'aria-label': `${say('page.barn.look')}: ${x.name}`, click: () => go('new', x.id) }, say('page.barn.look')));
  });
  // What is kept of each horse is there at once; what must be worked out comes into room that is kept for it.
  for (const f of filling) f.show(f.seen);
  const unknown = filling.filter(f => !f.seen);
  const find = (text: string): void => looked.forEach(({ x }, i) => { rows[i]!.hidden = !x.name.toLocaleLowerCase().includes(text.toLocaleLowerCase()); });
  const kept = h('div', { class: 'kept' });
  show({
    title: horses.length ? say('page.barn.title') : say('page.barn.empty'),
    head: say('page.name'),
    beside: otherLanguages(),
    out: { label: say('page.files'), go: () => go('files') },
    body: [
      newer,
      calls?.open,
      drafts.map((e, i) => h('div', { class: 'draft' },
        h('p', {}, h('strong', {}, say('page.draft', { name: byID.get(e.horse)!.name })), ' ', say('page.draft.begun', { ago: ago(e.at) })),
        h('p', {}, i > 0 ? link(say('page.draft.on'), () => void resume(e))
          : h('button', { type: 'button', class: 'all dark', id: 'go', click: () => void resume(e) }, say('page.draft.on.with', { name: byID.get(e.horse)!.name })), link(say('page.draft.drop'), () => go('drop', e.id))))),
      horses.length === 0 && para(say('page.barn.empty.how')),
      horses.length > 7 && h('input', { id: 'find', type: 'search', 'aria-label': say('page.barn.find'), placeholder: say('page.barn.find'), input: (e: Event) => find((e.target as HTMLInputElement).value) }),
      h('ul', { class: 'horses' }, rows),
      horses.length > 0 && h('p', {}, link(say('page.horse.add'), () => go('horse', 'new'), { id: 'add' })),
      demo && caution(para(say('page.demo.note')), link(say('page.demo.out'), () => void takeOut(), { id: 'demo-out' })),
      calls?.closed,
      kept,
      say('page.translation') !== '' && para(say('page.translation'), 'note'),
      horses.length > 0 && h('p', { class: 'marks' }, horses.length > 1 && link(say('page.round.title'), () => go('round'), { id: 'round' }), link(say('page.recovery.open'), () => go('recovery'), { id: 'recovery' })),
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
  if (store.written || horses.length === 0 || !horses.every(isDemo) || !exams.every(isDemo)) void later().then(l => l.fillFileNotes(kept)).catch(() => undefined);
  for (const f of unknown) void progressOf(f.horse, f.exams).then(f.show);
}
