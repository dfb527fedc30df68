// The case on one screen: every sign with what is usual for this horse and what was found at each look, the reasons to call, and what was
// given. Beside each other where the screen is wide, by swiping where it is not.

import type { Book, Compared, Given, Opened, Watched } from '../../core/types';
import { list, locale, say } from '../../core/words';
import { clock } from '../../text/dates';
import { gradeName, signName, siteName, unitName } from '../../text/names';
import { octagon } from '../../ui/icons';
import { type Child, h, para } from '../../ui/dom';
import { alarmText } from '../../exam/alarmtext';

/** A time as on the clock of the place where the horse was seen. */
const there = (at: string): string => at.slice(0, 19);

interface Row { sign: string; site?: string; compared?: Compared; watched?: Watched }

/** What is to be seen at once stands first: what is not usual. */
const UNUSUAL = ['higher', 'lower', 'differs', 'new'];
const isOff = (c: Compared | undefined): boolean => !!c && UNUSUAL.includes(c.statement);

/** One row for each sign that was looked at, the newest time or before it. */
function rowsOf(got: Opened): Row[] {
  const rows: Row[] = (got.comparison.signs ?? []).map(c => ({
    sign: c.sign, site: c.site, compared: c, watched: got.watched.find(w => w.sign === c.sign && (!w.site || w.site === c.site)),
  }));
  const told = new Set(rows.map(r => r.watched));
  for (const watched of got.watched) if (!told.has(watched)) rows.push({ sign: watched.sign, site: watched.site, watched });
  return rows.sort((a, b) => Number(isOff(b.compared)) - Number(isOff(a.compared)));
}

/** The times of all looks, the oldest first. */
const looksOf = (got: Opened): string[] =>
  [...new Map([...got.watched.flatMap(w => [...w.points ?? [], ...w.answers ?? []]).map(p => p.at), got.exam.at].map(at => [Date.parse(at), at])).entries()]
    .sort(([a], [b]) => a - b).map(([, at]) => at);

const answers = (sign: string, chosen: string[]): string => list(chosen.map(g => gradeName(sign, g)));

/** From the unit in which the library computes (°C, kg, cm) to the one that was read. */
const inUnit = (x: number, unit: string | undefined): number =>
  (unit === '[degF]' ? x * 1.8 + 32 : unit === '[lb_av]' ? x / 0.45359237 : unit === '[in_i]' ? x / 2.54 : x);

/** The table: sign, what is usual, each look. */
export function caseTable(book: Book, got: Opened): Child {
  const looks = looksOf(got);
  const cell = (text: string, off = false): HTMLElement => h('td', off ? { class: 'off' } : {}, off ? h('strong', {}, text) : text);
  const row = ({ sign, site, compared: c, watched: w }: Row): HTMLElement => {
    const places = book.signs.find(s => s.id === sign)?.places ?? 0;
    const number = (x: number): string => new Intl.NumberFormat(locale, { minimumFractionDigits: places, maximumFractionDigits: places }).format(x);
    // The courses are in the unit in which the newest value was read, what is compared in the library's own.
    const unit = w?.unit ?? got.exam.findings?.find(f => f.sign === sign && f.reading)?.reading?.unit ?? c?.measure?.unit;
    const as = (x: number): number => (c?.measure && unit !== c.measure.unit ? inUnit(x, unit) : x);
    const own = c?.own && { low: as(c.own.low), high: as(c.own.high) };
    const usual = own ? `${number(own.low)}\u2013${number(own.high)}` : c?.usual?.length ? answers(sign, c.usual) : '\u2013';
    const at = (t: string): HTMLElement => {
      const moment = Date.parse(t);
      if (c && moment === Date.parse(got.exam.at)) return cell(c.measure ? number(as(c.measure.value)) : answers(sign, c.chosen ?? []), isOff(c));
      const point = w?.points?.find(p => Date.parse(p.at) === moment);
      if (point) return cell(number(point.value), !!own && (point.value > own.high || point.value < own.low));
      const answer = w?.answers?.find(a => Date.parse(a.at) === moment);
      return answer ? cell(answers(sign, answer.chosen), !!c?.usual?.length && answer.chosen.some(g => !c.usual!.includes(g))) : cell('\u2013');
    };
    const name = signName(sign) + (site ? ', ' + siteName(site) : '');
    return h('tr', {}, h('th', { scope: 'row' }, isOff(c) ? h('strong', {}, name) : name, unit && unitName(unit) && ` (${unitName(unit)})`), h('td', {}, usual), looks.map(at));
  };
  return h('div', { class: 'swipe', tabindex: 0, role: 'region', 'aria-label': say('page.case.table') },
    h('table', { class: 'looks' },
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, say('page.case.sign')), h('th', { scope: 'col' }, say('page.case.usual')), looks.map(t => h('th', { scope: 'col' }, clock(there(t)))))),
      h('tbody', {}, rowsOf(got).map(row))));
}

/** Why to call, each reason once: as worked out here. The first ones stand open. */
export const caseAlarms = (got: Opened): Child => {
  const now = [...new Set((got.comparison.alarms ?? []).filter(f => f.urgency === 'now').map(f => alarmText(f.alarm)))];
  const items = (some: string[]): HTMLElement => h('ul', {}, some.map(t => h('li', {}, t)));
  return now.length > 0 && h('div', { class: 'case-alarms' }, h('h2', {}, octagon(), say('page.case.alarms')), items(now.slice(0, 3)),
    now.length > 3 && h('details', {}, h('summary', {}, say('page.case.more', { n: now.length - 3 })), items(now.slice(3))));
};

/** The courses, what moves before what does not; answers that stayed are in the table. */
export const coursesOf = (got: Opened): Watched[] => {
  const still = (w: Watched): number => Number(w.trend !== 'rising' && w.trend !== 'falling');
  return got.watched.filter(w => w.points || new Set(w.answers?.map(a => a.chosen.join())).size > 1).sort((a, b) => still(a) - still(b));
};

/** Hours as they are said: "1.5 hr". */
const hours = (ms: number): string => new Intl.NumberFormat(locale, { style: 'unit', unit: 'hour', unitDisplay: 'long', maximumFractionDigits: 1 }).format(Math.round(ms / 360_000) / 10);

/** What was given, and how long before the newest look: what it changes depends on that. */
export function caseGiven(got: Opened): Child {
  const given = got.exam.story?.given ?? [];
  const line = (g: Given): string => {
    const before = g.at ? Date.parse(got.exam.at) - Date.parse(g.at) : -1;
    return [g.what, g.dose, g.at && clock(there(g.at)), before >= 0 && say('page.case.before', { hours: hours(before) })].filter(Boolean).join(', ');
  };
  return given.length > 0 && h('div', { class: 'case-given' }, h('h2', {}, say('page.case.given')), given.map(g => para(line(g))));
}

/** Where the horse has another clock than the reader: one moment has one time, said once. */
export function caseZone(got: Opened): Child {
  const { at } = got.exam;
  const zone = at.endsWith('Z') ? 'UTC' : 'UTC' + at.slice(-6);
  const here = -new Date(at).getTimezoneOffset();
  const [sign, hour, minute] = [at.slice(-6, -5), Number(at.slice(-5, -3)), Number(at.slice(-2))];
  const offset = at.endsWith('Z') ? 0 : (sign === '-' ? -1 : 1) * (hour * 60 + minute);
  return here !== offset && para(say('page.case.zone', { zone, there: clock(there(at)), here: clock(at) }), 'how');
}
