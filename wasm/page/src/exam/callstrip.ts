// The strip of a call: whom to call, in one touch, and what to say, in another. It stands at the foot of
// "something is wrong" and of every screen of an exam that means to call, and never keeps anybody from going on.

import type { Book, Exam, Horse, ID } from '../core/types';
import { say } from '../core/words';
import { dateTimeShort } from '../text/dates';
import { isOpen } from '../store/calls';
import { numbersOf, phoneText, type Whom } from '../store/pack';
import { telOf } from '../text/numbers';
import { type Child, fill, h } from '../ui/dom';
import { handset, octagon } from '../ui/icons';
import { address, go, route } from '../ui/route';
import type { BarItem } from '../ui/screen';
import { actionsBeforeCall, callOf, orderOf, reasonsOf, redFlagsOf, withAlarmWords } from './alarms';

/** The time of a moment of today; the day too for an earlier one. */
const at = (t: string): string => dateTimeShort(t);

/** The number as a link, or the way to enter one. */
export function dial(horse: Whom, head: string, mark: Child): HTMLElement {
  const to = numbersOf(horse)[0];
  return to
    ? h('a', { class: 'dial', href: telOf(to.phone) }, mark, h('span', {}, h('b', {}, head), h('span', { class: 'n' }, phoneText(to.phone))), handset())
    : h('a', { class: 'dial', href: address('number') }, mark, h('span', {}, h('b', {}, head), h('span', {}, say('page.number.none'))));
}

/** "Call your vet now", with what comes before the call; white once the vet was told, until there is something new. */
export function callStrip(book: Book, exam: Exam, horse: Horse | undefined, flags = horse ? redFlagsOf(book, horse, exam) : [], whom: Whom = horse): Child {
  const call = callOf(exam);
  const order = orderOf(exam);
  if (!call || call.closedAt || call.today) return order !== '' && h('section', { class: 'strip-call', id: 'order' }, h('p', { class: 'act' }, order));
  const why = reasonsOf(book, exam, flags);
  const told = call.toldAt && !why.fresh;
  const here = route()[0] === 'say';
  const line = (key: string, what: () => string): HTMLElement => {
    const p = h('p', { class: 'act' });
    withAlarmWords(() => fill(p, say(key, { what: what() })));
    return p;
  };
  return h('section', { class: 'strip-call' + (told ? ' told' : ''), 'aria-label': say('page.ring.now'), id: 'strip' },
    !told && why.fresh && line('page.call.new', why.freshText),
    !told && why.gone && h('div', {}, line('page.call.gone', why.goneText), h('a', { class: 'said', id: 'mistake', href: address('outcome', exam.id, 'mistake') }, say('page.call.mistake'))),
    !told && actionsBeforeCall(book, horse, exam, flags).map(a => h('p', { class: 'act' }, say('act.' + a))),
    h('div', {}, dial(whom, told ? say('page.call.told.at', { at: at(call.toldAt!) }) : say('page.ring.now'), octagon()),
      !here && h('a', { class: 'said', id: 'say', href: address('say', exam.id) }, say('page.say'))));
}

/** The way to "something is wrong", in the bar of every screen from which one looks at horses. */
export const wrongButton = (horse?: ID): BarItem =>
  ({ label: say('page.wrong'), go: () => go('wrong', ...(horse ? [horse] : [])), look: 'wrong', mark: octagon(), id: 'wrong' });

/** The same, small, in the bar of the screens of an exam that does not call yet. */
export const wrongInExam = ({ exam, horse }: { exam: Exam; horse: Horse }): BarItem[] =>
  (isOpen({ ...exam, call: callOf(exam) }) ? [] : [{ ...wrongButton(horse.id), mark: undefined }]);

/** Before anything is ticked: whoever is worried calls. */
export const worryStrip = (horse: Whom, head = say('page.worried')): HTMLElement =>
  h('section', { class: 'strip-call worry', 'aria-label': head }, h('div', {}, dial(horse, head, null)));

