// What differs from this horse's own usual.

import * as core from '../../core/core';
import type { Compared, Comparing, Exam, Finding, Horse } from '../../core/types';
import { list, say } from '../../core/words';
import { dateTimeShort } from '../../text/dates';
import { absenceName, correctedText, findingText, gradeName, heading, signName, siteName } from '../../text/names';
import { rememberToday } from '../../store/calls';
import { callbackOf, withPack } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, h, link, para, svgElement } from '../../ui/dom';
import { explanations } from '../../ui/explanation';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { rememberCall } from '../../exam/alarms';
import type { Draft } from '../../exam/draft';
import { isRecent, levelOf, levelParts } from '../../exam/level';
import { isNewUsualAsked, newUsualQuestion } from '../../exam/newusual';
import { bySource } from './sentences';

/** What the core is given: the horse, its finished exams, and the exam itself. */
export async function recordOf(draft: Draft): Promise<{ horse: Horse; exams: Exam[]; exam: Exam }> {
  const exams = (await store.examsOf(draft.horse.id)).filter(e => e.status === 'finished' && e.id !== draft.exam.id);
  const { exam, horse } = draft;
  // Of an exam that is told because something is wrong, where one can be called back is known once it was typed.
  const callback = exam.purpose === 'concern' || exam.call || exam.story ? exam.story?.callback ?? callbackOf(exam, horse, await store.prefs()) : undefined;
  return { horse, exams, exam: callback ? { ...exam, story: { ...exam.story, callback } } : exam };
}

/** The link with which an exam came: what was usual for the horse on its sender's device counts. */
export async function cameWith(exam: Exam): Promise<{ fragment?: string }> {
  const fragment = await store.note<string>('received:' + exam.id);
  return fragment ? { fragment } : {};
}

const unusual = (c: Compared): boolean => ['higher', 'lower', 'differs', 'new'].includes(c.statement);

const keyOf = (c: { sign: string; site?: string }): string => c.site ? `${c.sign}/${c.site}` : c.sign;
const nameOf = (c: { sign: string; site?: string }, perSite: boolean): string =>
  signName(c.sign) + (c.site && perSite ? ', ' + siteName(c.site) : '');

/** What every vet asks for first, and this exam has not: a look from outside asks for none of it. */
function leftOut({ exam }: Draft): string {
  const signs = ['heart-rate', 'rectal-temperature', 'gum-colour', 'gut-sounds'].filter(s => !exam.findings?.some(f => f.sign === s && !f.absent));
  return signs.length ? say('page.level.left', { signs: list(signs.map(s => signName(s).toLocaleLowerCase())) }) : '';
}

export async function resultScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  let got: Comparing;
  const came = await cameWith(exam);
  try {
    got = await core.call<Comparing>('compare', { ...await recordOf(draft), ...came, ...await withPack() });
  } catch (e) {
    return noCoreScreen(draft, e);
  }
  const c = got.comparison;
  const signs = c.signs ?? [];
  const differing = signs.filter(unusual);
  const name = (x: { sign: string; site?: string }): string => nameOf(x, !!draft.sign(x.sign)?.perSite || !!draft.sign(x.sign)?.again);

  const why = explanations(() => recordOf(draft));
  const block = async (x: Compared): Promise<HTMLElement> => {
    const [sources, said] = bySource(got.sentences[keyOf(x)]);
    return h('section', { class: 'found' },
      h('h3', {}, h('span', {}, name(x)), h('span', { class: 'n' }, await valueOf(draft, x))),
      svgElement(got.rulers[keyOf(x)]), said.map(s => para(s)),
      newUsualQuestion(draft, x, () => void resultScreen(draft)),
      link(say('page.history.one'), () => go('horse', horse.id, 'history', x.sign, ...(x.site && draft.sign(x.sign).perSite ? [x.site] : [])),
        { 'aria-label': `${say('page.history.one')}: ${name(x)}` }),
      !came.fragment && why(e => e.said[keyOf(x)], say('page.why.of', { what: name(x) })),
      sources.length > 0 && h('details', {}, h('summary', {}, say('page.result.sources')), sources.map(s => para(s))));
  };
  const heard = await levelOf(horse, exam, c.alarms ?? []);
  if (heard.level === 'now' && isRecent(exam)) await rememberCall(draft, heard.fired.filter(f => f.urgency === 'now').map(f => f.alarm));
  if (heard.level === 'soon' && isRecent(exam)) await rememberToday(exam, heard.fired.filter(f => f.urgency === 'soon').map(f => f.alarm));

  const asUsual = signs.filter(x => x.statement === 'as-usual');
  const [asked, usual] = [true, false].map(is => asUsual.filter(x => isNewUsualAsked(draft, x) === is));
  const noted = signs.filter(x => x.statement === 'noted');
  // Signs are counted and listed, each once, with the places where it was not checked.
  const unchecked = [...new Set((c.unchecked ?? []).map(u => u.sign))].map(sign => {
    const mine = c.unchecked!.filter(u => u.sign === sign);
    const sites = draft.sign(sign)?.perSite || draft.sign(sign)?.again ? mine.flatMap(u => u.site ?? []) : [];
    return h('li', {}, [signName(sign), ...(sites.length ? [list(sites.map(siteName))] : [])].join(', '), ' – ', list([...new Set(mine.map(u => absenceName(u.reason)))]));
  });

  const left = leftOut(draft);
  const level = levelParts(draft, heard, [unchecked.length > 0 && say('page.level.none.unchecked', { n: unchecked.length }), left].filter(Boolean).join(' '));
  show({
    title: level.title,
    head: heading(horse, dateTimeShort(exam.at)),
    out: { label: say('page.barn'), go: () => go() },
    kind: 'told level-' + (heard.level || 'none'),
    mark: level.mark,
    calling: heard.level === 'now' ? [] : level.calling,
    body: [
      level.body,
      h('h2', {}, got.heading),
      heard.level !== '' && left !== '' && para(left),
      got.remarks.map(r => para(r, 'how')),
      c.overall.signs > 1 && !came.fragment && why(e => e.exam, say('page.why.of', { what: say('page.why.exam') })),
      differing.length === 0 && para(say('page.result.careful'), 'how'),
      await Promise.all([...differing, ...asked!].map(block)),
      noted.length > 0 && h('h2', {}, say('page.result.noted')),
      await Promise.all(noted.map(block)),
      usual!.length > 0 && h('details', { class: 'more' }, h('summary', {}, say('page.result.usual', { n: usual!.length })), await Promise.all(usual!.map(block))),
      h('p', { class: 'marks' },
        link(say('page.watch.series', { name: horse.name }), () => go('watch', exam.recheckOf ?? exam.id), { id: 'watch' }),
        link(say('page.pair.with'), () => go('horse', horse.id, 'pair', exam.id), { id: 'pair' })),
      h('p', { class: 'marks' }, correctedText(exam), ' ', link(say('page.correct.open'), () => go('exam', exam.id, 'correct'), { id: 'correct' })),
      unchecked.length > 0 && [h('h2', {}, say('page.unchecked')), h('ul', { class: 'unchecked' }, unchecked)],
    ],
    bar: level.bar,
  });
}

async function valueOf(draft: Draft, x: Compared): Promise<string> {
  const f = (draft.exam.findings ?? []).find(y => y.sign === x.sign && !y.absent && (x.site === undefined || y.site === x.site));
  if (f) return findingText(draft.sign(x.sign), f, draft);
  return x.chosen ? list(x.chosen.map(g => gradeName(x.sign, g))) : '';
}

/** Without the core, what was entered still stands here, and is kept. */
export async function noCoreScreen(draft: Draft, e: unknown): Promise<void> {
  const rows: Child[] = [];
  for (const f of draft.exam.findings ?? []) {
    if (!f.absent) rows.push(h('li', {}, nameOf(f, true), ': ', await findingText(draft.sign(f.sign), f as Finding, draft)));
  }
  show({
    title: say('page.nocore.title'),
    head: heading(draft.horse, dateTimeShort(draft.exam.at)),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      e instanceof core.Refused ? e.faults.map(f => para(f.sentence)) : para(say('page.nocore.how')),
      h('ul', {}, rows),
    ],
    bar: [{ label: say('page.tryagain'), go: () => go('exam', draft.exam.id, 'result'), main: true }],
  });
}
