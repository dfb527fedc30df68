// The call: what is told, in the order in which it is told, and whom to ring.

import { aloudScreen, choosingLang } from './readaloud';
import { whenShort } from '../../text/dates';
import * as core from '../../core/core';
import { drawing, fill, h, type Child } from '../../ui/dom';
import { show } from '../../ui/screen';
import type { Draft } from '../../exam/draft';
import { headOf } from '../../text/names';
import { ringing } from '../../ui/phonelinks';
import { toldIn, withPack } from '../../store/pack';
import { pageAddress, printIfAsked } from './send';
import { recordOf, without } from './result';
import { go } from '../../ui/route';
import type { Linked, Reported } from '../../core/types';
import { say } from '../../core/words';

/** The parts of a report as sections. What is for reading is folded on the screen, printed in full. */
export function sections(told: Reported): Child {
  const lang = told.report.lang;
  return told.report.parts.map(p => {
    const lines = p.lines.map(l => h('p', { class: (l.strong ? 'strong' : '') + (l.blank ? ' blank' : '') },
      l.strong ? h('strong', {}, l.text) : l.text));
    return p.id === 'basis'
      ? h('section', { class: 'part-basis', lang }, h('details', {}, h('summary', {}, h('h2', {}, p.heading)), lines))
      : h('section', { lang }, h('h2', {}, p.heading), lines);
  });
}

/** The code of the exam for the printed page: a camera reads from paper what the page knows. */
export async function printedCode(ask: () => Promise<Pick<Linked, 'code'> | undefined>): Promise<Child> {
  try {
    const code = (await ask())?.code;
    return code && h('div', { class: 'paper code' }, drawing(code.svg), h('span', {}, say('page.print.code')));
  } catch {
    return undefined; // the report is printed without it
  }
}

export async function callScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const load = async (l: string): Promise<Reported> => core.call<Reported>('report', { ...await recordOf(draft), ...await withPack(), lang: l });
  let got: Reported;
  let told = await toldIn();
  try {
    got = await load(told);
  } catch (e) {
    return without(draft, e);
  }
  const body = h('div', { class: 'report' }, sections(got));
  const title = h('p', { class: 'printed' }, got.report.title);
  const code = await printedCode(async () => {
    const page = pageAddress();
    return page ? core.call<Linked>('link', { ...await recordOf(draft), page }) : undefined;
  });
  const turn = async (l: string): Promise<void> => {
    told = l;
    got = await load(l);
    fill(body, sections(got));
    fill(title, got.report.title);
  };
  show({
    title: say('page.call.tell'),
    head: headOf(horse, whenShort(exam.at)),
    out: { label: say('page.call.back'), go: () => go('exam', exam.id, 'result') },
    kind: 'told call',
    body: [title, h('div', { class: 'screened' }, ringing(horse), choosingLang(told, l => void turn(l))), code, body],
    bar: [
      { label: say('page.call.send'), go: () => go('exam', exam.id, 'send') },
      { label: say('page.call.title'), go: () => go('exam', exam.id, 'aloud'), main: true },
    ],
  });
  printIfAsked(exam.id);
}

export async function callAloud(draft: Draft): Promise<void> {
  try {
    await aloudScreen({
      head: headOf(draft.horse, whenShort(draft.exam.at)),
      load: async l => core.call<Reported>('report', { ...await recordOf(draft), ...await withPack(), lang: l }),
      back: () => go('exam', draft.exam.id, 'call'),
    });
  } catch (e) {
    return without(draft, e);
  }
}
