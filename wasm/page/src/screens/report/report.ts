// The report for the vet, in the order in which it is told, and whom to call.

import * as core from '../../core/core';
import type { Linked, Reported } from '../../core/types';
import { say } from '../../core/words';
import { dateTimeShort } from '../../text/dates';
import { heading } from '../../text/names';
import { rememberSent } from '../../store/answers';
import { vetLanguage, withPack } from '../../store/pack';
import { type Child, fill, h, svgElement } from '../../ui/dom';
import { phoneLinks } from '../../ui/phonelinks';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import type { Draft } from '../../exam/draft';
import { answersBox } from './answered';
import { languageChoice, readAloudScreen } from './readaloud';
import { cameWith, noCoreScreen, recordOf } from './result';
import { codeFragment, pageAddress, printIfAsked } from './send';

/** The parts of a report as sections. What is for reading is folded on the screen, printed in full. */
export function reportSections(told: Reported, which: (part: string) => boolean = () => true): Child {
  const lang = told.report.lang;
  return told.report.parts.filter(p => which(p.id)).map(p => {
    const lines = p.lines.map(l => h('p', { class: (l.strong ? 'strong' : '') + (l.blank ? ' blank' : ''), ...(l.blank ? { 'data-say': say('page.say.aloud') } : {}) },
      l.strong ? h('strong', {}, l.text) : l.blank ? l.text.replace(/:$/, '') : l.text));
    return p.id === 'basis'
      ? h('section', { class: 'part-basis', lang }, h('details', {}, h('summary', {}, h('h2', {}, p.heading)), lines))
      : h('section', { lang, class: 'part-' + p.id }, h('h2', {}, p.heading), lines);
  });
}

/** How urgent it is, first on paper: whoever takes the page up reads it before who it is. On the screen it stands where it is told. */
export function urgentOnPaper(told: Reported): Child {
  const part = told.report.parts.find(p => p.id === 'danger');
  return part && h('section', { class: 'paper urgent', lang: told.report.lang }, h('h2', {}, part.heading),
    part.lines.map(l => h('p', {}, l.strong ? h('strong', {}, l.text) : l.text)));
}

/** The code of the exam for the printed page: a camera reads from paper what the page knows. */
export async function printedCode(ask: () => Promise<Pick<Linked, 'code'> | undefined>): Promise<Child> {
  try {
    const code = (await ask())?.code;
    return code && h('div', { class: 'paper code' }, svgElement(code.svg), h('span', {}, say('page.print.code')));
  } catch {
    return undefined; // the report is printed without it
  }
}

export async function reportScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const load = async (l: string): Promise<Reported> => core.call<Reported>('report', { ...await recordOf(draft), ...await cameWith(exam), ...await withPack(), lang: l });
  let got: Reported;
  let told = await vetLanguage();
  try {
    got = await load(told);
  } catch (e) {
    return noCoreScreen(draft, e);
  }
  const body = h('div', { class: 'report' }, reportSections(got));
  const title = h('p', { class: 'printed' }, got.report.title);
  const urgent = h('div', {}, urgentOnPaper(got));
  const code = await printedCode(async () => {
    const page = pageAddress();
    const came = await cameWith(exam);
    const linked = page ? await core.call<Linked>('link', { ...await recordOf(draft), ...came, page }) : undefined;
    if (linked && !came.fragment) await rememberSent(exam.id, [codeFragment(linked.code)]);
    return linked;
  });
  const turn = async (l: string): Promise<void> => {
    told = l;
    got = await load(l);
    fill(body, reportSections(got));
    fill(title, got.report.title);
    fill(urgent, urgentOnPaper(got));
  };
  show({
    title: say('page.call.tell'),
    head: heading(horse, dateTimeShort(exam.at)),
    out: { label: say('page.call.back'), go: () => go('exam', exam.id, 'result') },
    kind: 'told call',
    body: [title, urgent, h('div', { class: 'screened' }, await answersBox(exam, horse, () => void reportScreen(draft)), phoneLinks(horse), languageChoice(told, l => void turn(l))), code, body],
    bar: [
      { label: say('page.call.send'), go: () => go('exam', exam.id, 'send') },
      { label: say('page.call.title'), go: () => go('exam', exam.id, 'aloud'), main: true },
    ],
  });
  printIfAsked(exam.id);
}

export async function readReportAloud(draft: Draft): Promise<void> {
  try {
    await readAloudScreen({
      head: heading(draft.horse, dateTimeShort(draft.exam.at)),
      load: async l => core.call<Reported>('report', { ...await recordOf(draft), ...await cameWith(draft.exam), ...await withPack(), lang: l }),
      back: () => go('exam', draft.exam.id, 'call'),
    });
  } catch (e) {
    return noCoreScreen(draft, e);
  }
}
