// A lesson: one sign, how and where it is taken, and a reading that is kept as a practice exam.

import type { Book, Horse, ID, Sign } from '../../core/types';
import { hasMessage, list, say, sayFirst } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { findingText, heading, optional, signName, siteName } from '../../text/names';
import * as store from '../../store/store';
import { caution, h, link, para } from '../../ui/dom';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';
import { textApplies } from '../../exam/lifestage';
import { beginPartial, depthFor } from '../../exam/partial';
import { dueText, progressOf } from '../../exam/progress';
import { lessonsOf } from './practice';

export async function lessonRoute(book: Book, id: ID | undefined, signID: string | undefined, examID?: ID): Promise<void> {
  const horse = id && (await store.horse(id));
  const sign = book.signs.find(s => s.id === signID);
  if (!horse || !sign) return goInstead();
  return examID ? learned(book, horse, sign, examID) : lesson(book, horse, sign);
}

async function lesson(book: Book, horse: Horse, sign: Sign): Promise<void> {
  const now = rfc3339(new Date());
  const depth = depthFor(book, [sign.id], 'walk-up');
  const step = book.steps[depth + '+held']?.find(s => s.sign === sign.id);
  const cautions = (sign.cautions ?? []).filter(c => textApplies(book.cautions.find(x => x.id === c), horse, now));
  const how = [`sign.${sign.id}.how.${depth}`, `sign.${sign.id}.how`];
  const begin = async (): Promise<void> => {
    const prefs = await store.prefs();
    const exam = crypto.randomUUID();
    await beginPartial({
      id: exam, horse: horse.id, at: rfc3339(new Date()), depth, purpose: 'learning', state: { condition: 'rest' }, wellness: 'well',
      status: 'draft', holder: 'held', findings: [], ...(prefs.by ? { by: prefs.by } : {}),
    }, [sign.id], ['lesson', horse.id, sign.id, exam]);
  };
  const remarks = (sign.remarks ?? []).filter(r => textApplies(r, horse, now)).map(r => optional('remark.' + r.id)).filter(Boolean);
  show({
    title: signName(sign.id),
    head: heading(horse, say('page.lesson')),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      how.some(hasMessage) && para(sayFirst(how), 'how'),
      (step?.sites?.length ?? 0) > 0 && h('p', {}, h('strong', {}, say('page.lesson.where')), ' ', list(step!.sites!.map(siteName))),
      cautions.length > 0 && caution(cautions.map(c => para(say('caution.' + c)))),
      remarks.map(r => para(r)),
      para(say('page.lesson.quiet', { name: horse.name })),
      para(say('page.lesson.not'), 'note'),
    ],
    bar: [
      { label: say('page.back'), go: () => go('practise', horse.id) },
      { label: say('page.lesson.begin'), go: () => void begin(), main: true },
    ],
  });
}

/** What the reading came to, and what it taught. */
async function learned(book: Book, horse: Horse, sign: Sign, examID: ID): Promise<void> {
  const exams = await store.examsOf(horse.id);
  const exam = exams.find(e => e.id === examID);
  const found = (exam?.findings ?? []).filter(f => f.sign === sign.id);
  if (!exam || found.length === 0) return goInstead('practise', horse.id);
  if (exam.status === 'draft') return goInstead('exam', exam.id, 0);
  const values = await Promise.all(found.map(async f => (f.site && sign.perSite ? siteName(f.site) + ': ' : '') + await findingText(sign, f, { horse, exam })));
  const known = await progressOf(horse, exams);
  const all = lessonsOf(book);
  const unknown = new Set(known?.due.unknown ?? []);
  const next = all.find(s => unknown.has(s) && s !== sign.id) ?? all[(all.indexOf(sign.id) + 1) % all.length]!;
  const absent = found.every(f => f.absent);
  show({
    title: absent ? say('page.unchecked') : say('page.lesson.kept'),
    head: heading(horse, say('page.lesson')),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      h('p', { class: 'figure' }, h('strong', {}, `${signName(sign.id)}: ${list(values)}`)),
      known && para(say(known.exams ? 'page.barn.known' : 'page.barn.unknown', { n: known.exams })),
      known && para(dueText(known.due), 'how'),
      h('p', {}, link(say('page.lesson.compare'), () => go('exam', exam.id, 'result'), { id: 'compare' })),
    ],
    bar: [
      { label: say('page.lesson.all'), go: () => go('practise', horse.id) },
      { label: say('page.lesson.next', { sign: signName(next) }), go: () => go('lesson', horse.id, next), main: true },
    ],
  });
}
