// The exam on its way out: a link, a code, files, paper, the calendar.

import * as core from '../../core/core';
import type { Exam, Horse, Linked, Reported } from '../../core/types';
import { say } from '../../core/words';
import { dateTimeShort, rfc3339 } from '../../text/dates';
import { checkWords } from '../../text/checkwords';
import { heading } from '../../text/names';
import { rememberSent } from '../../store/answers';
import { pack, vetLanguage, withPack } from '../../store/pack';
import { caution, type Child, fill, h, para, svgElement } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { announce, show } from '../../ui/screen';
import { copyText, fileName, type FileToSave, saveButtons } from '../../ui/share';
import type { Draft } from '../../exam/draft';
import { cameWith, noCoreScreen, recordOf } from './result';

let printing = '';

/** Prints the call, once it stands, if it was asked for from here. */
export function printIfAsked(exam: string): void {
  if (printing === exam) setTimeout(() => window.print(), 100);
  printing = '';
}

/** Where links open: the clinic's page, else this one; undefined for a copy without an address. */
export function pageAddress(): string | undefined {
  const clinic = pack()?.clinic.page;
  if (clinic) return clinic;
  if (!location.protocol.startsWith('http')) return undefined;
  return location.origin + location.pathname;
}

/** Shows what went wrong with something that was to go out. */
export function showCoreErrors(e: unknown): void {
  showFaults(e instanceof core.Refused ? e.faults.slice(0, 10).map(f => ({ field: 'title', sentence: `${f.sentence} ${f.path}`.trim() }))
    : [{ field: 'title', sentence: say('page.nocore.how') }]);
}

/** Makes a file of what the core writes; what it refuses is shown. */
export const makeFile = (name: string, type: string, make: () => Promise<string>) => async (): Promise<FileToSave | undefined> => {
  try {
    const text = await make();
    showFaults([]);
    return { name, type, text };
  } catch (e) {
    showCoreErrors(e);
    return undefined;
  }
};

/** What a camera reads of a code behind the page's address. */
export const codeFragment = (code: Linked['code']): string | undefined => code?.text.slice(code.text.indexOf('#') + 1);

export const coreText = async (op: string, request: Record<string, unknown>): Promise<string> => (await core.call<{ text: string }>(op, request)).text;

/** The way in which times stand in file names. */
const dayOf = (at: string): string => at.slice(0, 16).replace(':', '');

/** The files of one exam. */
export function filesOf(horse: Horse, exam: Exam, of: Record<string, unknown>, text: () => Promise<string>): Child {
  const name = (what: string, ext: string): string => fileName(horse.name, dayOf(exam.at), what) + ext;
  return h('div', { class: 'files' },
    saveButtons(say('page.send.fhir'), 'fhir', makeFile(name('fhir', '.json'), 'application/fhir+json', () => coreText('fhir', of))),
    saveButtons(say('page.send.csv'), 'csv', makeFile(name('readings', '.csv'), 'text/csv', () => coreText('sheet', { horse, exams: [exam] }))),
    saveButtons(say('page.send.text'), 'text', makeFile(name('report', '.txt'), 'text/plain', text)));
}

export async function sendScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const record = await recordOf(draft);
  const came = await cameWith(exam);
  const clinic = await withPack();
  const page = pageAddress();
  const told = await vetLanguage();
  let linked: Linked;
  let report: Reported;
  try {
    // A copy without an address still gives the part after '#', which any copy opens.
    linked = await core.call<Linked>('link', { ...record, ...came, page: page ?? 'https://whorl.example/' });
    report = await core.call<Reported>('report', { ...record, ...came, ...clinic, lang: told });
  } catch (e) {
    return noCoreScreen(draft, e);
  }
  const sent = page ? linked.link : '#' + linked.fragment;
  if (!came.fragment) await rememberSent(exam.id, [linked.fragment, codeFragment(linked.code)]);
  const said = h('p', { class: 'result', role: 'status' });
  const box = h('textarea', { class: 'copying', rows: 6, readonly: true, hidden: true, 'aria-label': say('page.send.link') });
  const put = async (text: string): Promise<void> => {
    const done = await copyText(text, box);
    fill(said, say(done ? 'page.call.copied' : 'page.call.byhand'));
    announce(said.textContent ?? '');
  };
  const share = async (): Promise<void> => {
    try {
      await navigator.share({ title: report.report.title, text: report.report.message, url: sent });
    } catch (e) {
      if (!(e instanceof DOMException && e.name === 'AbortError')) await put(sent);
    }
  };
  const check = async (fragment: string, told: (words: string) => string): Promise<Child> => {
    const words = await checkWords(fragment);
    return words && h('p', { class: 'check' }, told(words));
  };
  const code = h('div', { class: 'code' });
  const showCode = async (): Promise<void> => {
    if (!linked.code || !page) return;
    // Where the code leaves out what the link has, it is another text and has words of its own.
    fill(code, svgElement(linked.code.svg), para(say('page.send.code.how')), await check(codeFragment(linked.code)!, words => say('page.send.check.code', { words })), linked.shorter && para(say('page.send.code.shorter'), 'how'));
    code.scrollIntoView({ block: 'center' });
  };
  show({
    title: say('page.send.title'),
    head: heading(horse, dateTimeShort(exam.at)),
    out: { label: say('page.call.back.to'), go: () => go('exam', exam.id, 'call') },
    kind: 'told sending',
    body: [
      h('h2', {}, say('page.send.link')),
      para(say('page.send.link.how', { name: horse.name }), 'how'),
      page ? null : caution(para(say('page.send.noaddress'))),
      said, box,
      h('div', { class: 'choices' },
        page && 'share' in navigator && h('button', { type: 'button', class: 'all', id: 'share', click: () => void share() }, say('page.send.share')),
        h('button', { type: 'button', class: 'all', id: 'copy', click: () => void put(sent) }, say(page ? 'page.send.copy' : 'page.send.copy.part')),
        page && (linked.code ? h('button', { type: 'button', class: 'all', id: 'code', click: () => void showCode() }, say('page.send.code')) : para(say('page.send.nocode'), 'how'))),
      await check(linked.fragment, words => say('page.send.check', { words })),
      code,
      h('h2', {}, say('page.send.message')),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'all', id: 'copy-message', click: () => void put(report.report.message) }, say('page.send.copy.message')),
        h('button', { type: 'button', class: 'all', id: 'copy-text', click: () => void put(report.text) }, say('page.send.copy.text'))),
      h('h2', {}, say('page.send.files')),
      filesOf(horse, exam, { ...(came.fragment ? came : record), ...clinic, lang: told }, async () => report.text),
      rechecks(horse, exam),
    ],
    bar: [
      { label: say('page.back'), go: () => go('exam', exam.id, 'call') },
      { label: say('page.call.print'), go: () => { printing = exam.id; go('exam', exam.id, 'call'); }, main: true },
    ],
  });
}

/** Rechecks for the calendar of the telephone, which reminds where a page cannot. */
function rechecks(horse: Horse, exam: Exam): Child {
  let every = 30;
  const times = 4;
  const make = async (): Promise<string> => {
    const start = Math.max(Date.now(), Date.parse(exam.at));
    const events = Array.from({ length: times }, (_, i) => ({
      uid: `${exam.id}-recheck-${every}-${i + 1}`, start: rfc3339(new Date(start + (i + 1) * every * 60_000)), minutes: 10,
      summary: say('page.calendar.recheck', { name: horse.name, n: i + 1, of: times }), description: say('page.calendar.recheck.how'), remindMinutes: 0,
    }));
    return coreText('calendar', { stamp: rfc3339(new Date()), events });
  };
  return [
    h('h2', {}, say('page.calendar.title')),
    choiceField({
      id: 'every', legend: say('page.calendar.every', { n: times }), tiles: true, chosen: [String(every)],
      options: [15, 30, 60].map(n => ({ value: String(n), label: say('page.calendar.minutes', { n }) })), change: ([n]) => { every = Number(n); },
    }),
    saveButtons(say('page.calendar.rechecks'), 'rechecks', makeFile(fileName(horse.name, 'rechecks') + '.ics', 'text/calendar', make)),
  ];
}
