// An answer that came back: shown as its writer's, and taken into the exam that was sent from this device once a person says so.

import * as core from '../../core/core';
import type { Answer, Exam, Horse } from '../../core/types';
import { say } from '../../core/words';
import { checkWords, spelled } from '../../text/checkwords';
import { dateTime, rfc3339 } from '../../text/dates';
import { heading } from '../../text/names';
import { dropAnswer, isSame, keepAnswer, type KeptAnswer, answersOf, answersTo, sentFrom } from '../../store/answers';
import * as store from '../../store/store';
import { caution, type Child, h, link, para } from '../../ui/dom';
import { phoneLinks } from '../../ui/phonelinks';
import { go } from '../../ui/route';
import { announce, show } from '../../ui/screen';
import { fileName, saveButtons } from '../../ui/share';
import { coreText, makeFile } from './send';

/** The text of somebody else: its own line, its own direction, never more than text. */
const theirs = (label: string, text: string): Child => [h('h3', {}, label), h('p', { class: 'theirs' }, h('bdi', {}, text))];

/** What a clinic wrote, marked as what it is. */
function answerText(a: Answer, check: string | undefined): Child {
  return [
    h('p', {}, say('page.answered.by'), ' ', h('strong', {}, h('bdi', {}, a.by)), ` · ${dateTime(a.at)}`),
    caution(para(say('page.answered.unchecked')), check && h('p', { class: 'check' }, say('page.answered.check', { words: check }))),
    theirs(say('page.answered.advice'), a.advice),
    a.again && theirs(say('page.answered.again'), a.again),
    a.next && [h('h3', {}, say('page.answered.next')), para(dateTime(a.next))],
  ];
}

/** The next exam of an answer, for the calendar of the telephone. */
const reminder = (a: Answer, horse: Horse): Child => a.next && Date.parse(a.next) > Date.now() && saveButtons(say('page.answered.remind'), 'next',
  makeFile(fileName(horse.name, 'next') + '.ics', 'text/calendar', () => coreText('calendar', {
    stamp: rfc3339(new Date()),
    events: [{ uid: `${a.exam}-answer-${Date.parse(a.at)}`, start: a.next, minutes: 10, summary: say('page.answered.remind.of', { name: horse.name }), description: say('page.calendar.recheck.how'), remindMinutes: 0 }],
  })));

/** The answers to an exam and its night, as they are kept; null where there are none. */
export async function answersBox(exam: Exam, horse: Horse, again: () => void): Promise<Child> {
  const all = await answersTo(exam);
  return all.length > 0 && h('section', { class: 'back-answers', id: 'answers-' + exam.id }, h('h2', {}, say('page.answered.heading', { n: all.length })),
    all.map(a => h('div', { class: 'answer-of' }, answerText(a, a.check), reminder(a, horse),
      h('p', {}, link(say('page.answered.drop'), async () => { if (await dropAnswer(a)) again(); }, { 'aria-label': `${say('page.answered.drop')}: ${dateTime(a.at)}` })))));
}

/** Beside what it answers: whether something newer was seen since, or it is old, or from a clock that is wrong. */
async function doubts(a: Answer, exam: Exam): Promise<string[]> {
  const newer = (await store.examsOf(exam.horse)).filter(e => e.status === 'finished' && Date.parse(e.at) > Date.parse(exam.at)).at(-1);
  const at = Date.parse(a.at);
  const later = (await answersTo(exam)).some((o: KeptAnswer) => Date.parse(o.at) > at);
  return [
    newer && say('page.answered.newer', { at: dateTime(newer.at) }),
    later && say('page.answered.later'),
    Date.now() - at > 86_400_000 && say('page.answered.old', { at: dateTime(a.at) }),
    (at - Date.now() > 600_000 || at < Date.parse(exam.at) - 600_000) && say('page.answered.clock', { at: dateTime(a.at) }),
  ].filter((t): t is string => !!t);
}

const refused = (why: string, horse?: Horse): void => show({
  title: say('page.answered.refused'), head: say('page.name'), kind: 'told',
  body: [caution(para(why)), phoneLinks(horse)],
  bar: [{ label: say('page.barn'), go: () => go(), main: true }],
});

export async function answeredScreen(fragment: string, trouble: (why: string) => void): Promise<void> {
  let a: Answer;
  try {
    ({ answer: a } = await core.call<{ answer: Answer }>('answered', { fragment }));
  } catch (e) {
    return trouble(e instanceof core.Refused ? e.faults.map(f => f.sentence).join(' ') : say('page.nocore.how'));
  }
  const exam = await store.exam(a.exam);
  const horse = exam && await store.horse(exam.horse);
  const sent = exam && await sentFrom(exam.id);
  if (!exam || !horse || !sent) return refused(say('page.answered.unknown'));
  if (sent.length > 0 && a.words && !sent.includes(a.words)) return refused(say('page.answered.other', { words: spelled(a.words) }), horse);
  const check = await checkWords(fragment);
  const twice = (await answersOf(exam.id)).some(o => isSame(o, a));
  const home = (): void => go('horse', horse.id);
  const take = async (): Promise<void> => {
    if (!(await keepAnswer(a, check))) return;
    home();
    announce(say('page.answered.taken'));
  };
  show({
    title: say('page.answered.title', { name: horse.name }), head: heading(horse, dateTime(exam.at)), kind: 'told answered',
    body: [
      para(say('page.answered.of', { at: dateTime(exam.at) })),
      twice && caution(para(say('page.answered.twice'))),
      (await doubts(a, exam)).map(t => caution(para(t))),
      !a.words && sent.length > 0 && caution(para(say('page.answered.nowords'))),
      h('section', { class: 'answer-of' }, answerText(a, check)),
      para(say('page.answered.call'), 'how'),
      phoneLinks(horse),
    ],
    bar: twice ? [{ label: say('page.barn'), go: () => go() }, { label: say('page.answered.see'), go: home, main: true }]
      : [{ label: say('page.answered.leave'), go: home }, { label: say('page.answered.take'), go: () => void take(), main: true }],
  });
}
