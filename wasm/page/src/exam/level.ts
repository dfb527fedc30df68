// How urgent a result is. Three levels and none, which differ in shape, in ground and in words, with or without colour.

import type { Alarming, Exam, Fired, Horse, ID } from '../core/types';
import { list, say } from '../core/words';
import { dateTimeShort, rfc3339 } from '../text/dates';
import { signName } from '../text/names';
import { isOpen } from '../store/calls';
import { isDemo } from '../store/demo';
import { numbersOf, phoneText } from '../store/pack';
import { telOf } from '../text/numbers';
import { type Child, h, para } from '../ui/dom';
import { clockMark, diamond, handset, octagon } from '../ui/icons';
import { go } from '../ui/route';
import type { BarItem } from '../ui/screen';
import { alarmsOf, orderText } from './alarms';
import { firedText } from './alarmtext';
import { callStrip, worryStrip } from './callstrip';
import type { Draft } from './draft';
import { putWatch } from './watches';

/** What was found in an exam of the last day is a call of now; an exam that is only read again is not. */
export const isRecent = (exam: Exam): boolean => !isDemo(exam) && Date.now() - Date.parse(exam.at) < 86_400_000;

const urgencies = ['now', 'soon', 'again'];

/** What the rules say of a finished exam, with the clinic's; and those of the comparison alone, on the horse's own usual and on earlier looks. */
export async function levelOf(horse: Horse, exam: Exam, fired: Fired[]): Promise<Alarming> {
  const heard = await alarmsOf(horse, exam).catch((): Alarming => ({ fired: [], level: '', said: [], waits: [], first: [] }));
  const more = fired.filter(f => !heard.fired.some(x => x.alarm === f.alarm));
  const all = [...heard.fired, ...more];
  return { ...heard, fired: all, said: [...heard.said, ...more.map(firedText)], level: urgencies.find(u => all.some(f => f.urgency === u)) ?? '' };
}

/** Somebody thinks that something is wrong: the exam was begun for that, or its story says so. The core decides the same way. */
const concerned = ({ purpose, wellness, story }: Exam): boolean =>
  purpose === 'concern' || wellness === 'unwell' || !!story?.noticed?.trim() || story?.course === 'worse' || story?.ask === 'come';

/** The exam that was begun by a round: its result leads on to the next horse. */
let roundExam: ID | undefined;
export const setRoundExam = (id: ID): void => { roundExam = id; };

const done = (exam: Exam): BarItem => (exam.id === roundExam
  ? { label: say('page.round.on'), go: () => go('round', 'next'), main: true, id: 'next' }
  : { label: say('page.level.done'), go: () => go(), main: true });

interface Level { title: string; mark: Child; body: Child; bar: BarItem[]; calling?: Child }

/** At most three reasons; the others are one touch away. */
function reasons(all: Fired[], said: string[], urgency: string): Child {
  const texts = all.flatMap((f, i) => (f.urgency === urgency ? [said[i] || firedText(f)] : []));
  const items = (list: string[]): HTMLElement => h('ul', {}, list.map(t => h('li', {}, t)));
  return texts.length > 0 && [items(texts.slice(0, 3)),
    texts.length > 3 && h('details', {}, h('summary', {}, say('page.level.more', { n: texts.length - 3 })), items(texts.slice(3)))];
}

export function levelParts(draft: Draft, heard: Alarming, unchecked: string): Level {
  const { book, exam, horse } = draft;
  const { fired, said } = heard;
  const block = (look: string, urgency: string, ...more: Child[]): HTMLElement =>
    h('section', { class: 'level ' + look, id: 'level', 'aria-label': say('page.level.' + urgency) }, reasons(fired, said, urgency), more);
  const to = numbersOf(horse)[0];
  const words: BarItem = { label: say('page.say'), go: () => go('say', exam.id), id: 'say' };
  const dial = (label: string, look?: 'dial'): BarItem => (to
    ? { label: `${label} ${phoneText(to.phone)}`, go: () => undefined, href: telOf(to.phone), main: true, mark: handset(), look }
    : { label: say('page.number.enter'), go: () => go('number'), main: true, look });
  const waits = heard.waits.length > 0 && h('details', { class: 'more', id: 'waits' }, h('summary', {}, say('page.say.wait')),
    h('ul', { class: 'waits' }, heard.waits.map(w => h('li', {}, w.said))));
  // Rules on the horse's own usual are not the same for every horse.
  const rule = fired.some(f => f.urgency === heard.level && !f.alarm.startsWith('own-')) && para(say('page.ring.rule'), 'sub');
  const today = (): Child => fired.some(f => f.urgency === 'soon') && [h('h2', {}, say('page.ring.soon')), reasons(fired, said, 'soon')];
  // Whoever is worried calls, whatever the level; a call that is open stands first.
  const call = (isOpen(exam) && callStrip(book, exam, horse)) || worryStrip(horse);
  switch (heard.level) {
    case 'now':
      return {
        title: say('page.ring.now'), mark: octagon(true),
        body: [block('urgent', 'now', heard.first.map(a => h('p', { class: 'act' }, a.said)), rule), today(), waits],
        bar: [words, dial(say('page.level.call'), 'dial')],
      };
    case 'soon':
      return {
        title: say('page.ring.soon'), mark: diamond(),
        body: [block('soon', 'soon', heard.first.map(a => h('p', { class: 'act' }, a.said)), rule), again(draft, fired, said), waits],
        bar: [words, dial(say('page.level.call.today'))],
      };
    case 'again':
      return {
        title: orderText(heard) || say('page.level.again.title'), calling: call, mark: clockMark(), body: again(draft, fired, said),
        bar: [{ label: say('page.call.tell'), go: () => go('exam', exam.id, 'call'), id: 'tell' }, done(exam)],
      };
    default: {
      // What somebody saw is a reason by itself, whether a rule covers it or not.
      const title = say(concerned(exam) ? 'page.level.none.concern' : 'page.level.none');
      return {
        title, calling: call, mark: null,
        body: h('section', { class: 'level none', id: 'level', 'aria-label': title },
          para(unchecked), h('p', {}, h('strong', {}, say('page.worried')))),
        bar: [{ label: say('page.call.tell'), go: () => go('exam', exam.id, 'call'), id: 'tell' }, done(exam)],
      };
    }
  }
}

/** What is to be checked again, when, and what it means if it is still so: with the button that does it. */
function again(draft: Draft, fired: Fired[], said: string[]): Child {
  const mine = fired.map((f, i) => ({ ...f, said: said[i] || firedText(f) })).filter(f => f.urgency === 'again' && f.minutes);
  if (mine.length === 0) return null;
  const { exam, horse, book } = draft;
  const first = Math.min(...mine.map(f => f.minutes!));
  const due = new Date(Date.parse(exam.at) + first * 60_000);
  const signs = [...new Set(mine.flatMap(f => [f.sign, ...(f.with ?? [])]))].filter(s => book.signs.some(x => x.id === s));
  // A recheck is timed by its exam: the clock runs on this device, over a reload and a kill.
  const begin = async (): Promise<void> => {
    const of = exam.recheckOf ?? exam.id;
    const watch = { first: of, horse: horse.id, signs, everyMinutes: first, next: Math.max(due.getTime(), Date.now()), begun: Date.now() };
    if (await putWatch(watch)) go('watch', of);
  };
  return h('section', { class: 'level again', id: 'level-again', 'aria-label': say('page.level.again') },
    clockMark(),
    h('div', {},
      h('p', {}, h('strong', {}, say('page.level.again.in', { n: first, at: dateTimeShort(rfc3339(due)) }))),
      h('ul', {}, mine.map(f => h('li', {}, f.said, ' ', say('page.level.again.then.' + (f.then ?? 'soon'), { n: f.minutes! })))),
      h('p', { class: 'acts' }, h('button', { type: 'button', id: 'recheck', click: () => void begin() }, say('page.level.recheck', { signs: list(signs.map(s => signName(s).toLocaleLowerCase())) })))));
}
