// A horse's own normal: sign by sign what is usual, beside the latest findings. They are drawn on a scale on which
// every sign's usual lies in the same place, so that one look finds what does not.

import * as core from '../../core/core';
import type { Book, Exam, Horse } from '../../core/types';
import { say } from '../../core/words';
import { ago, rfc3339 } from '../../text/dates';
import { signName, siteName } from '../../text/names';
import { type Child, fill, h, link, para, svgElement } from '../../ui/dom';
import { go } from '../../ui/route';

/** One line, as the core says it; what it says comes later than the line. */
export interface UsualRow { sign: string; site?: string; name: string; usual?: string; value?: string; at?: string; exams?: number; lane?: string }

/** The signs of which the record holds something: what is measured first, each in the catalogue's order. */
export function signsSeen(book: Book, exams: Exam[]): (UsualRow & { measured: boolean })[] {
  const findings = exams.filter(e => e.status === 'finished').flatMap(e => e.findings ?? []).filter(f => !f.absent);
  const all = book.signs.flatMap(s => (s.perSite ? s.sites ?? [] : [{ id: undefined }]).map(({ id: site }) => ({
    sign: s.id, ...(site ? { site } : {}), name: signName(s.id) + (site ? ', ' + siteName(site) : ''), measured: s.kind !== 'grade' && s.kind !== 'choice',
  })));
  const seen = new Set(findings.map(f => f.sign + '/' + (f.site ?? '')));
  const kept = all.filter(s => seen.has(s.sign + '/' + (s.site ?? '')) || (!s.site && findings.some(f => f.sign === s.sign)));
  return [...kept.filter(s => s.measured), ...kept.filter(s => !s.measured)];
}

/** What the core says of them; nothing if there is no core yet. */
export async function usualRows(horse: Horse, exams: Exam[]): Promise<UsualRow[] | undefined> {
  try {
    const finished = exams.filter(e => e.status === 'finished');
    return (await core.call<{ rows: UsualRow[] }>('normal', { horse, exams: finished, at: rfc3339(new Date()) })).rows;
  } catch {
    return undefined;
  }
}

export const usualList = (horse: Horse, rows: UsualRow[]): HTMLElement => h('ul', { class: 'exams' }, rows.map(r => h('li', {}, h('button', {
  type: 'button', class: 'usual', click: () => go('horse', horse.id, 'history', r.sign, ...(r.site ? [r.site] : [])),
}, h('span', {}, h('span', { class: 'name' }, r.name), h('span', { class: 'note' }, r.usual ? say('page.usual.is', { usual: r.usual }) : r.value ? say('page.usual.none') : '')),
h('span', { class: 'last' }, h('strong', {}, r.value), r.lane !== undefined && h('span', { class: 'lane', 'aria-hidden': 'true' }, svgElement(r.lane)),
  h('span', { class: 'note' }, r.at && ago(r.at)))))));

/** How the lanes are to be read. */
export const usualLegend = (): Child => para(say('page.usual.legend'), 'note');

/** The measured signs on the horse's own screen. The lines stand at once, so that nothing moves when the core has answered. */
export function usualBox(book: Book, horse: Horse, exams: Exam[]): Child {
  const seen = signsSeen(book, exams);
  if (seen.length === 0) return undefined;
  const measured = seen.filter(s => s.measured).map(s => ({ ...s, lane: '' }));
  const box = h('div', { id: 'usual' }, usualList(horse, measured));
  void usualRows(horse, exams).then(rows => rows && fill(box, [usualList(horse, rows.filter(r => r.lane))]));
  return [
    h('h2', {}, say('page.usual.title', { name: horse.name })),
    measured.length > 0 && [box, usualLegend()],
    h('p', { class: 'marks' }, link(say('page.usual.all', { n: seen.length }), () => go('horse', horse.id, 'history'), { id: 'history' })),
  ];
}
