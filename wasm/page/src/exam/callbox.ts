// What is remembered of a call, where horses are listed: that it was said, when, whether the vet was told, and what
// became of it.

import type { Book, Exam, Horse, ID } from '../core/types';
import { say } from '../core/words';
import { dateTimeShort } from '../text/dates';
import { listInText } from '../text/names';
import { editCall, isAtTop, isOpen, putDied, reopenCall, tellVet, type UnnamedExam, unmarkTold, unnamedExams, withToday } from '../store/calls';
import { allNumbers, numbersOf, type Whom } from '../store/pack';
import * as store from '../store/store';
import { type Child, fill, h, link } from '../ui/dom';
import { diamond, octagon } from '../ui/icons';
import { go } from '../ui/route';
import { announce } from '../ui/screen';
import { reasonsOf, redFlagsOf, withAlarmWords } from './alarms';
import { dial } from './callstrip';

/** When it was said and when the vet was told; what became of it. */
export const callText = ({ call }: Exam): string => [
  say(call!.today ? 'page.call.said.today' : 'page.call.said.at', { at: dateTimeShort(call!.saidAt) }), call!.toldAt && say('page.call.told.at', { at: dateTimeShort(call!.toldAt) }).replace(/\.?$/, '.'), call!.outcome,
].filter(Boolean).join(' ');

/** A call of which nobody has said what became of it; of an animal that nobody has named, ticked are its flags. */
export function callBox(book: Book, exam: Exam, horse: Horse | undefined, again: () => void, of: { ticked?: string[]; whom?: Whom } = {}): HTMLElement {
  const call = exam.call!;
  const change = async (changed: Promise<boolean>, done: string): Promise<void> => {
    if (!(await changed)) return;
    again();
    announce(done);
  };
  const flags = horse ? redFlagsOf(book, horse, exam) : book.redFlags.filter(f => of.ticked?.includes(f.id));
  const whom = of.whom ?? horse;
  const why = reasonsOf(book, exam, flags);
  const told = call.toldAt && !why.fresh;
  const reason = h('p');
  withAlarmWords(() => fill(reason, why.gone ? say('page.call.gone', { what: why.goneText() }) : why.text(),
    !told && why.fresh && h('strong', {}, ' ', say('page.call.new', { what: why.freshText() }))));
  const name = horse?.name ?? say('page.wrong.unnamed');
  const named = (label: string): Record<string, string> => ({ 'aria-label': `${label}: ${name}` });
  return h('section', { class: 'called' + (call.today ? ' today' : '') + (told ? ' told' : ''), id: 'called-' + exam.id },
    call.today ? diamond() : octagon(!told),
    h('div', {},
      h('p', {}, h('b', { class: 'name' }, name), callText(exam)),
      reason,
      !why.gone && h('div', { class: 'strip-call' + (told || call.today ? ' told' : '') }, h('div', {}, dial(whom, say('page.level.call'), null))),
      why.gone && h('p', { class: 'acts' }, h('button', { type: 'button', id: 'mistake-' + exam.id, ...named(say('page.call.mistake')), click: () => go('outcome', exam.id, 'mistake') }, say('page.call.mistake'))),
      h('p', { class: 'acts' },
        told
          ? link(say('page.call.undo'), () => void change(editCall(exam, unmarkTold), say('page.call.undone')), { id: 'untold-' + exam.id, ...named(say('page.call.undo')) })
          : h('button', { type: 'button', id: 'told-' + exam.id, ...named(say('page.call.told')), click: () => void change(tellVet(exam, flags.map(f => f.id), numbersOf(whom)[0]?.name), say('page.call.told.done')) }, say('page.call.told')),
        h('button', { type: 'button', id: 'outcome-' + exam.id, ...named(say('page.call.outcome')), click: () => go('outcome', exam.id) }, say('page.call.outcome'))),
      h('p', { class: 'marks' },
        link(say('page.say'), () => go('say', exam.id), { id: 'say-' + exam.id, ...named(say('page.say')) }),
        !why.gone && link(say('page.unanswered'), () => go('say', exam.id, 'unanswered'), { id: 'unanswered-' + exam.id, ...named(say('page.unanswered')) }),
        !horse && link(say('page.wrong.name'), () => go('unnamed', exam.id), { id: 'name-' + exam.id }),
        horse && exam.status === 'draft' && link(say('page.draft.on'), async () => go('exam', exam.id, ...((await store.place(exam.id)) ?? 'start').split('/')), named(say('page.draft.on'))),
        horse && exam.status === 'finished' && link(say('page.call.result'), () => go('exam', exam.id, 'result'), named(say('page.call.result'))))));
}

/** The open calls of the last day, and those of which nobody has said whose they are: at the top of the list. Closed ones of animals that nobody named: at its end. */
export async function callBoxes(book: Book, exams: Exam[], horses: Map<ID, Horse>, again: () => void): Promise<{ open: Child[]; closed: Child }> {
  const newest = (list: UnnamedExam[]): UnnamedExam[] => list.sort((a, b) => Number(!!a.exam.call!.today) - Number(!!b.exam.call!.today) || Date.parse(b.exam.call!.saidAt) - Date.parse(a.exam.call!.saidAt));
  const unnamed = (await unnamedExams()).filter(w => w.exam.call);
  const all = [...exams.map(withToday).filter(e => horses.has(e.horse) && isAtTop(e)).map(exam => ({ exam, flags: [] })), ...unnamed.filter(w => isOpen(w.exam))];
  const closed = newest(unnamed.filter(w => !isOpen(w.exam)));
  return {
    open: newest(all).map(w => callBox(book, w.exam, horses.get(w.exam.horse), again, { ticked: w.flags, ...(w.exam.horse ? {} : { whom: allNumbers([...horses.values()]) }) })),
    closed: closed.length > 0 && h('details', { class: 'more', id: 'calls-unnamed' }, h('summary', {}, say('page.call.unnamed', { n: closed.length })),
      closed.map(w => closedLine(w.exam, again, listInText(book.redFlags.filter(f => w.flags.includes(f.id)).map(f => say('flag.' + f.id)))))),
  };
}

/** The line under an exam whose call is closed, or older than a day. */
export function callLine(book: Book, of: Exam, horse: Horse, again: () => void): Child {
  const exam = withToday(of);
  if (!exam.call || isAtTop(exam)) return null;
  if (isOpen(exam)) return callBox(book, exam, horse, again);
  return closedLine(exam, again);
}

const closedLine = (exam: Exam, again: () => void, what = ''): HTMLElement => {
  const text = [what && what + '.', callText(exam)].filter(Boolean).join(' ');
  return h('p', { class: 'called-line', id: 'call-line-' + exam.id }, exam.call!.today ? diamond() : octagon(), h('span', {}, text, ' ',
    link(say('page.call.undo'), async () => { if (await editCall(exam, reopenCall) && await putDied(exam.horse, false)) { again(); announce(say('page.call.undone')); } }, { 'aria-label': `${say('page.call.undo')}: ${text}` }),
    !exam.horse && [' ', link(say('page.wrong.name'), () => go('unnamed', exam.id), { id: 'name-' + exam.id })]));
};
