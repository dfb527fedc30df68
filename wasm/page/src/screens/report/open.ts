// An exam that was sent: opened, computed, told, on any copy of the page. Nothing of it is
// kept unless a person says so.

import * as core from '../../core/core';
import type { Book, Compared, Finding, Opened } from '../../core/types';
import { list, say } from '../../core/words';
import { checkWords } from '../../text/checkwords';
import { dateTime, dateTimeShort } from '../../text/dates';
import { absenceName, enteredText, gradeName, heading, horseText, measured, signName, siteName } from '../../text/names';
import { mergeFile } from '../../store/merge';
import { choosePack, chosenByHand, dropPack, pack, vetLanguage, withPack } from '../../store/pack';
import * as store from '../../store/store';
import { caution, type Child, fill, h, link, para, svgElement } from '../../ui/dom';
import { field, showFaults } from '../../ui/form';
import { entryLinks } from '../../ui/phonelinks';
import { go, unescaped } from '../../ui/route';
import { show } from '../../ui/screen';
import { tapStrip } from '../../questions/tappad';
import { answerScreen } from './answer';
import { answeredScreen } from './answered';
import { caseAlarms, caseGiven, caseTable, caseZone, coursesOf } from './case';
import { languageChoice, readAloudScreen } from './readaloud';
import { printedCode, reportSections, urgentOnPaper } from './report';
import { filesOf, pageAddress } from './send';
import { bySource } from './sentences';

/** What is found in a text that was pasted: a whole address, or the part after '#'. */
function fragmentOf(text: string): string {
  const flat = text.replace(/\s+/g, '');
  const after = flat.includes('#') ? flat.slice(flat.indexOf('#') + 1) : flat;
  // Some messengers write the characters of an address as percent signs and digits.
  return unescaped(after);
}

/** A link to be pasted, for a telephone that does not open it by itself. */
export function pasteScreen(trouble?: string): void {
  let text = '';
  const open = (): void => {
    const fragment = fragmentOf(text);
    if (fragment === '') return showFaults([{ field: 'pasted', sentence: say('page.fault.pasted') }]);
    location.hash = '#' + fragment;
  };
  show({
    title: say('page.open.title'), head: say('page.name'),
    body: [
      trouble && caution(para(trouble)),
      field({ id: 'pasted', label: say('page.open.paste'), hint: say('page.open.paste.hint'), long: true, input: v => { text = v; } }),
    ],
    bar: [{ label: say('page.back'), go: () => go() }, { label: say('page.open.open'), go: open, main: true }],
  });
}

let view: 'report' | 'aloud' | 'answer' = 'report';
let shown = '';

export async function openScreen(book: Book, part: string): Promise<void> {
  const fragment = unescaped(part);
  if (/^a\d+[=:]/i.test(fragment)) return answeredScreen(fragment, pasteScreen);
  if (shown !== fragment) { shown = fragment; view = 'report'; }
  await withPack();
  const page = pageAddress();
  const load = async (l: string): Promise<Opened> => core.call<Opened>('open', { fragment, ...await withPack(), ...(page ? { page } : {}), lang: l });
  let told = await vetLanguage();
  let got: Opened;
  try {
    got = await load(told);
  } catch (e) {
    return pasteScreen(e instanceof core.Refused ? e.faults.map(f => f.sentence).join(' ') : say('page.nocore.how'));
  }
  const again = (): void => void openScreen(book, part);
  // On the clock of the place where the horse was seen, as in the report.
  const at = got.exam.at.slice(0, 19);
  const head = heading(got.horse, dateTimeShort(at));
  if (view === 'answer') return answerScreen({ got, fragment, head, page, back: () => { view = 'report'; again(); } });
  if (view === 'aloud') return readAloudScreen({ head, load, back: () => { view = 'report'; again(); } });

  // What is told in the first twenty seconds stands beside the table of all looks; the rest follows.
  const [first, report] = [h('div', { class: 'report' }), h('div', { class: 'report' })];
  const [title, urgent] = [h('p', { class: 'printed' }), h('div')];
  const tell = (): void => {
    fill(first, reportSections(got, p => FIRST.includes(p)));
    fill(report, reportSections(got, p => !FIRST.includes(p) && p !== 'watch'));
    fill(title, got.report.title);
    fill(urgent, urgentOnPaper(got));
  };
  tell();
  const turn = async (l: string): Promise<void> => {
    told = l;
    got = await load(l);
    tell();
  };
  const code = await printedCode(async () => got);
  const warned = got.comparison.warnings ?? [];
  const words = await checkWords(fragment);
  const here = await store.exam(got.exam.id);
  const said = h('p', { class: 'result', role: 'status' });
  const keep = async (): Promise<void> => {
    // Whether its call was made is its sender's to say: here nobody has closed it. What was usual for the horse stays the sender's.
    const { call: _, ...exam } = got.exam;
    const done = await store.putNote('received:' + exam.id, fragment) && await mergeFile({ kind: 'whorl-barn', format: 1, horses: [got.horse], exams: [exam] }, true);
    if (done) fill(said, say(done.conflicts ? 'page.open.kept.conflict' : 'page.open.kept', { name: got.horse.name }));
  };
  show({
    title: say('page.open.from', { name: got.horse.name }),
    head, kind: 'told call opened',
    out: { label: say('page.barn'), go: () => go() },
    body: [
      title, urgent,
      h('div', { class: 'case' },
        h('div', { class: 'case-told' },
          h('div', { class: 'screened' },
            h('p', { class: 'how' }, [horseText(got.horse), dateTime(at), got.exam.by && say('page.open.by', { by: got.exam.by })].filter(Boolean).join(' · ')),
                        got.exam.story?.callback && entryLinks(say('page.open.callback'), { name: '', phone: got.exam.story.callback })),
          h('div', { class: 'screened' }, caseAlarms(got)), first, h('div', { class: 'screened' }, caseGiven(got)),
          h('div', { class: 'screened' }, caseZone(got),
            warned[0]?.key === 'warning.sent' && caution(para(got.remarks[got.remarks.length - warned.length]!)),
            words && h('p', { class: 'check' }, say('page.open.check', { words })),
            caution(para(say(here ? 'page.open.here' : 'page.open.notkept'))),
            languageChoice(told, l => void turn(l)))),
        h('div', { class: 'case-looks' },
          h('h2', {}, say('page.case.title')), caseTable(book, got), para(say('page.case.how'), 'how'),
          got.watched.length > 0 && [h('h2', {}, say('page.open.watched')), h('div', { class: 'curves' }, coursesOf(got).map(w => h('section', { class: 'found' },
            h('h3', {}, named(book, w)), svgElement(w.drawing), w.said.map(s => para(s)))))])),
      code, report,
      h('h2', {}, say('page.open.findings')),
      h('p', { class: 'how' }, say('page.open.findings.how')),
      h('div', { class: 'founds' }, await Promise.all((got.exam.findings ?? []).map(f => foundBlock(book, got, f)))),
      h('div', { class: 'screened' }, await clinicPart(again),
        h('h2', {}, say('page.send.files')),
        filesOf(got.horse, got.exam, { fragment, ...await withPack(), lang: told }, async () => got.text),
        h('p', {}, link(say('page.answer.write'), () => { view = 'answer'; again(); }, { id: 'answer' })),
        h('p', {}, link(say('page.aloud.title'), () => { view = 'aloud'; again(); }, { id: 'aloud' })),
        said, !here && h('button', { type: 'button', class: 'all', id: 'keep', click: () => void keep() }, say('page.open.keep'))),
    ],
    bar: [{ label: say('page.barn'), go: () => go() }, { label: say('page.call.print'), go: () => window.print(), main: true }],
  });
}

const FIRST = ['who', 'what', 'danger'];

const named = (book: Book, c: { sign: string; site?: string }): string => {
  const sign = book.signs.find(s => s.id === c.sign);
  return (sign ? signName(c.sign) : c.sign) + (c.site ? ', ' + siteName(c.site) : '');
};

/** One finding: what was counted, tapped, timed or read, how, and its ruler. */
async function foundBlock(book: Book, got: Opened, f: Finding): Promise<HTMLElement> {
  if (f.absent) {
    return h('section', { class: 'found unseen' }, h('h3', {}, h('span', {}, named(book, f)), h('span', { class: 'value unchecked' }, absenceName(f.absent))));
  }
  const key = f.site ? `${f.sign}/${f.site}` : f.sign;
  const c: Compared | undefined = got.comparison.signs?.find(x => x.sign === f.sign && x.site === f.site);
  const m = f.chosen ? undefined : await measured(f.sign, f, { horse: got.horse, exam: got.exam });
  const value = f.chosen ? list(f.chosen.map(g => gradeName(f.sign, g))) + (f.where?.length ? ` (${list(f.where.map(siteName))})` : '') : m?.shown ?? enteredText(f);
  const [sources, said] = bySource(got.sentences[key]);
  const raw: Child[] = [];
  if (!f.chosen) raw.push(h('p', { class: 'raw' }, say('page.open.raw', { raw: rawOf(f) }), m?.how && ` · ${m.how}`));
  if (f.taps) raw.push(h('div', { class: 'strip' }, tapStrip(f.taps.atMs, Math.max(20_000, f.taps.atMs[f.taps.atMs.length - 1]! - f.taps.atMs[0]!))));
  return h('section', { class: 'found' },
    h('h3', {}, h('span', {}, named(book, f)), h('span', { class: 'n' }, value)),
    raw, c && svgElement(got.rulers[key]), said.map(s => para(s)),
    sources.length > 0 && h('details', {}, h('summary', {}, say('page.result.sources')), sources.map(s => para(s))), f.note && para(say('page.open.note', { note: f.note })));
}

/** What was entered, to the last tap. */
function rawOf(f: Finding): string {
  if (f.taps) {
    const gaps = f.taps.atMs.slice(1).map((t, i) => ((t - f.taps!.atMs[i]!) / 1000).toFixed(2));
    return say('page.open.raw.taps', { n: f.taps.atMs.length, gaps: gaps.join(' ') });
  }
  if (f.count) return say('page.open.raw.count', { n: f.count.events, seconds: f.count.seconds, start: say('page.count.' + f.count.start) });
  return enteredText(f);
}

/** The clinic's own ranges: which are in use, and another file in their place. */
async function clinicPart(again: () => void): Promise<Child> {
  const byHand = await chosenByHand();
  const p = pack();
  return [
    h('h2', {}, say('page.pack.title')),
    para(p ? say('page.pack.in', { clinic: p.clinic.name }) : say('page.pack.none'), 'how'),
    packField(again),
    byHand && link(say('page.pack.drop'), () => void dropPack().then(again), { id: 'pack-drop' }),
  ];
}

/** The most that the library reads of a document, in MB: what is larger is not even taken into memory. */
declare const MOST: number;

/** The text of a file that a person chose, or a refusal. */
export async function chosenText(file: File): Promise<string> {
  if (file.size > MOST * 2 ** 20) throw new core.Refused([{ code: 'too-large', path: '', sentence: say('fault.too-large', { most: MOST }) }]);
  return file.text();
}

/** Takes a clinic's file; its faults name the line. */
export async function takePack(chosen: File, done: () => void): Promise<void> {
  try {
    const wrong = await choosePack(await chosenText(chosen));
    showFaults(wrong.slice(0, 20).map(f => ({ field: 'pack', sentence: say('page.pack.fault', { line: f.line, path: f.path, sentence: f.sentence }) })));
    if (wrong.length === 0) done();
  } catch (e) {
    showFaults([{ field: 'pack', sentence: e instanceof core.Refused ? e.message : say('page.nocore.how') }]);
  }
}

/** A field for one. */
export function packField(done: () => void): HTMLElement {
  const take = async (input: HTMLInputElement): Promise<void> => {
    const chosen = input.files?.[0];
    if (chosen) await takePack(chosen, done);
    input.value = '';
  };
  const input = h('input', { type: 'file', id: 'pack', accept: '.json,application/json', change: () => void take(input) });
  return h('div', { class: 'field' }, h('label', { for: 'pack' }, say('page.pack.choose')), h('span', { class: 'note' }, say('page.pack.hint')), input);
}
