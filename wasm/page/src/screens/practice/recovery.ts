// Recovery after work: several horses at once, a clock for each, counts by taps. Every count
// is an exam of its own, so that nothing of it can be lost; the clocks are of the wall.

import * as core from '../../core/core';
import type { Book, Exam, Horse, ID, Recovering } from '../../core/types';
import { say } from '../../core/words';
import { clockText, dateTime, rfc3339 } from '../../text/dates';
import { heading } from '../../text/names';
import { decimalText, wholeNumber } from '../../text/numbers';
import * as store from '../../store/store';
import { caution, type Child, fill, h, link, para, svgElement } from '../../ui/dom';
import { choiceField, field, showFaults } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { onLeave, show } from '../../ui/screen';
import { stayAwake } from '../../ui/wakelock';
import { alarmsOf } from '../../exam/alarms';
import { callCaution } from '../../exam/alarmtext';
import { sinceMinutes } from '../../exam/draft';
import { beginPartial } from '../../exam/partial';

/** A trot in hand under way. */
export interface Trotting { before: ID; def: string; out: string; clock: string; started?: number; seconds?: number }
interface Runner { horse: ID; ended?: number; effort?: string; trot?: Trotting }
/** What runs on this device. Closed: put away, and there to go on with. */
interface Session { begun: number; runners: Runner[]; closed?: boolean }

const session = (): Promise<Session | undefined> => store.note<Session>('recovery');
const putSession = (s: Session): Promise<boolean> => store.putNote('recovery', s);
async function edit(id: ID, change: Partial<Runner>): Promise<void> {
  const s = await session();
  if (s) await putSession({ ...s, runners: s.runners.map(r => (r.horse === id ? { ...r, ...change } : r)) });
}

export async function recoveryRoute(book: Book, what: string | undefined, id: string | undefined): Promise<void> {
  const s = await session();
  if (!s || s.closed || what === 'horses') return choose(s);
  const runner = s.runners.find(r => r.horse === id);
  const horse = runner && (await store.horse(runner.horse));
  if (!runner || !horse) return board(s);
  if (what === 'trot') return trotScreen(book, horse, runner);
  return one(horse, runner);
}

async function choose(s: Session | undefined): Promise<void> {
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  let chosen = s && !s.closed ? s.runners.map(r => r.horse) : [];
  const begin = async (): Promise<void> => {
    showFaults(chosen.length ? [] : [{ field: 'who', sentence: say('page.fault.who') }]);
    if (!chosen.length) return;
    const old = s && !s.closed ? s.runners : [];
    const runners = chosen.map(horse => old.find(r => r.horse === horse) ?? { horse });
    if (await putSession({ begun: s && !s.closed ? s.begun : Date.now(), runners })) goInstead('recovery', 'board');
  };
  show({
    title: say('page.recovery.who'),
    head: say('page.recovery'),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      para(say('page.recovery.how'), 'how'),
      s?.closed && h('p', {}, link(say('page.recovery.again'), async () => { if (await putSession({ ...s, closed: false })) goInstead('recovery', 'board'); }, { id: 'again' })),
      choiceField({ id: 'who', legend: say('page.recovery.who'), quiet: true, many: true, options: horses.map(x => ({ value: x.id, label: x.name })), chosen, change: v => { chosen = v; } }),
    ],
    bar: [{ label: say('page.back'), go: () => history.back() }, { label: say('page.begin'), go: () => void begin(), main: true }],
  });
}

/** The finished counts of a bout, oldest first, and the one that is being entered. */
function countsOf(exams: Exam[], r: Runner): { done: Exam[]; open: Exam | undefined } {
  const mine = r.ended === undefined ? [] : exams.filter(e => e.state.condition === 'after-work' && e.state.ended !== undefined && Math.abs(Date.parse(e.state.ended) - r.ended!) < 1000);
  return { done: mine.filter(e => e.status === 'finished'), open: mine.find(e => e.status === 'draft') };
}

async function count(horse: Horse, r: Runner, sign: string, trot?: Trotting): Promise<void> {
  if (r.ended === undefined) return;
  const { open } = countsOf(await store.examsOf(horse.id), r);
  if (open) return go('exam', open.id, ...((await store.place(open.id)) ?? '0').split('/'));
  const prefs = await store.prefs();
  const now = new Date();
  await beginPartial({
    id: crypto.randomUUID(), horse: horse.id, at: rfc3339(now), depth: 'hands-on', purpose: 'recovery', holder: 'held', status: 'draft', findings: [],
    ...(prefs.by ? { by: prefs.by } : {}),
    state: { condition: 'after-work', ended: rfc3339(new Date(r.ended)), sinceMinutes: sinceMinutes(r.ended, now.getTime()), ...(r.effort ? { effort: r.effort } : {}) },
    ...(trot ? { trot: { before: trot.before, outMetres: trot.out, clock: trot.clock } } : {}),
  }, [sign], trot ? ['recovery', 'horse', horse.id] : ['recovery', 'board'], { atFirst: true, started: trot?.started });
}

async function recovering(horse: Horse, exams: Exam[], of: ID | undefined): Promise<Recovering | undefined> {
  try {
    return await core.call<Recovering>('recovery', { horse, exams: exams.filter(e => e.status === 'finished'), ...(of ? { of } : {}) });
  } catch {
    return undefined;
  }
}

async function board(s: Session): Promise<void> {
  const ticks: (() => void)[] = [];
  const rows = await Promise.all(s.runners.map(async (r): Promise<Child> => {
    const horse = await store.horse(r.horse);
    if (!horse) return null;
    const exams = await store.examsOf(horse.id);
    const { done, open } = countsOf(exams, r);
    const face = h('span', { class: 'big', role: 'timer', id: 'clock-' + horse.id });
    if (r.ended !== undefined) ticks.push(() => { face.textContent = clockText(Date.now() - r.ended!); });
    const line = h('p', { class: 'note', id: 'last-' + horse.id }, done.length ? say('page.recovery.counts', { n: done.length }) : say('page.recovery.none'));
    if (done.length) {
      void recovering(horse, exams, done[done.length - 1]!.id).then(got => {
        const last = got?.recovery?.heart?.slice(-1)[0];
        const limit = got?.said?.limits.find(l => l.atMost === 64);
        if (last) fill(line, say('page.recovery.last', { rate: Math.round(last.rate), minutes: Math.floor(last.minutes) }), ' ', limit?.reached[0]);
      });
    }
    const end = async (): Promise<void> => { await edit(horse.id, { ended: Date.now() }); goInstead('recovery', 'board'); };
    return h('section', { class: 'runner', id: 'runner-' + horse.id },
      h('h2', {}, link(horse.name, () => go('recovery', 'horse', horse.id), { id: 'open-' + horse.id })),
      r.ended === undefined
        ? h('button', { type: 'button', class: 'all begin', id: 'end-' + horse.id, click: () => void end() }, say('page.recovery.end'))
        : [h('div', { class: 'clocks' }, face, h('button', { type: 'button', class: 'all begin', id: 'count-' + horse.id, click: () => void count(horse, r, 'heart-rate') },
          say(open ? 'page.recovery.goon' : 'page.recovery.count'))), line]);
  }));
  const tick = (): void => { for (const f of ticks) f(); };
  tick();
  const timer = setInterval(tick, 500);
  onLeave(() => clearInterval(timer));
  stayAwake();
  show({
    title: say('page.recovery'), head: say('page.name'), out: { label: say('page.barn'), go: () => go() }, kind: 'told recovery',
    body: [
      h('details', {}, h('summary', {}, say('page.recovery.rules')), para(say('page.recovery.local')), para(say('recovery.inspection'))),
      rows,
      h('p', { class: 'marks' }, link(say('page.recovery.more'), () => go('recovery', 'horses'), { id: 'more' })),
    ],
    bar: [{ label: say('page.recovery.done'), go: async () => { if (await putSession({ ...s, closed: true })) go(); } }],
  });
}

async function one(horse: Horse, r: Runner): Promise<void> {
  const exams = await store.examsOf(horse.id);
  const { done } = countsOf(exams, r);
  const got = done.length ? await recovering(horse, exams, done[done.length - 1]!.id) : undefined;
  const said = got?.said;
  const alarms = done.length ? (await alarmsOf(horse, done[done.length - 1]!).catch(() => undefined))?.fired.filter(a => a.urgency === 'now') ?? [] : [];
  let ago = '';
  const set = async (): Promise<void> => {
    const n = wholeNumber(ago);
    const wrong = n === undefined || n > 1440;
    showFaults(wrong ? [{ field: 'ago', sentence: say('page.fault.since') }] : []);
    if (wrong) return;
    await edit(horse.id, { ended: Date.now() - n * 60_000 });
    goInstead('recovery', 'horse', horse.id);
  };
  const face = h('span', { class: 'big', role: 'timer' });
  const tick = (): void => { if (r.ended !== undefined) face.textContent = clockText(Date.now() - r.ended); };
  tick();
  const timer = setInterval(tick, 500);
  onLeave(() => clearInterval(timer));
  stayAwake();
  show({
    title: horse.name, head: heading(horse, say('page.recovery')), out: { label: say('page.recovery.board'), go: () => go('recovery', 'board') }, kind: 'told recovery',
    body: [
      callCaution(alarms),
      r.ended !== undefined && h('p', { class: 'due-face' }, face, ' ', say('page.recovery.since')),
      r.ended === undefined && field({ id: 'ago', label: say('page.recovery.ago'), value: '', short: true, mode: 'numeric', input: v => { ago = v; } }),
      r.ended === undefined && h('p', {}, h('button', { type: 'button', class: 'all begin', id: 'set', click: () => void set() }, say('page.recovery.set'))),
      svgElement(got?.curve),
      (said?.own ?? []).map(x => para(x)),
      (said?.trots ?? []).map(x => para(x, 'trot')),
      (said?.limits ?? []).map(l => h('section', { class: 'found' }, h('h3', {}, say('page.recovery.limit', { limit: l.atMost })), l.reached.map(x => para(x)),
        h('details', {}, h('summary', {}, say('page.recovery.criteria', { n: l.criteria.length })), l.criteria.map(x => para(x))))),
      (said?.inversions ?? []).map(x => para(x)),
      said && para(said.note, 'how'),
      done.length > 0 && !got && para(say('page.nocore.how'), 'how'),
      (got?.earlier.length ?? 0) > 0 && h('details', { class: 'more' }, h('summary', {}, say('page.recovery.earlier', { n: got!.earlier.length })),
        got!.earlier.slice().reverse().map(e => para(`${dateTime(e.ended)}${e.effort ? ', ' + say('effort.' + e.effort).toLocaleLowerCase() : ''}: ${e.said.join(' ')}`))),
      choiceField({
        id: 'effort', legend: say('page.start.effort'), tiles: true, chosen: r.effort ? [r.effort] : [],
        options: ['easy', 'moderate', 'hard'].map(e => ({ value: e, label: say('effort.' + e) })), change: async ([effort]) => {
          await edit(horse.id, { effort });
          // The counts of this work say how hard it was, as the record keeps it.
          for (const e of done) await store.putExam({ ...e, state: { ...e.state, effort } });
        },
      }),
      r.ended !== undefined && h('p', { class: 'marks' },
        link(say('page.recovery.breath'), () => void count(horse, r, 'respiratory-rate'), { id: 'breath' }),
        link(say('page.recovery.trot'), () => go('recovery', 'trot', horse.id), { id: 'trot' })),
    ],
    bar: [
      { label: say('page.back'), go: () => go('recovery', 'board') },
      ...(r.ended !== undefined ? [{ label: say('page.recovery.count'), go: () => void count(horse, r, 'heart-rate'), main: true }] : []),
    ],
  });
}

const trotName = (def: string): string => say('page.recovery.trot.def', { definition: say('recovery.trot.' + def) });

/** A trot in hand between two counts: by which definition, the clock, and the second count. */
async function trotScreen(book: Book, horse: Horse, r: Runner): Promise<void> {
  const { done } = countsOf(await store.examsOf(horse.id), r);
  const before = done.filter(e => !e.trot && e.findings?.some(f => f.sign === 'heart-rate' && !f.absent)).pop();
  const head = heading(horse, say('page.recovery.trot'));
  const out = { label: say('page.recovery.board'), go: (): void => go('recovery', 'board') };
  if (!before) {
    return show({
      title: say('page.recovery.trot.first'), head, out, body: [para(say('page.recovery.trot.how'), 'how')],
      bar: [{ label: say('page.back'), go: () => go('recovery', 'horse', horse.id) }, { label: say('page.recovery.count'), go: () => void count(horse, r, 'heart-rate'), main: true }],
    });
  }
  const t = r.trot?.before === before.id ? r.trot : undefined;
  const put = async (trot: Trotting | undefined): Promise<void> => { await edit(horse.id, { trot }); goInstead('recovery', 'trot', horse.id); };
  const safe = caution(para(say('page.recovery.trot.caution')));
  if (!t) {
    let def = '';
    let metres = '';
    const own = h('div');
    const begin = async (): Promise<void> => {
      const d = book.trots.find(x => x.id === def);
      const m = d ? String(Math.round(d.outMetres * 10) / 10) : decimalText(metres);
      const wrong = !def ? 'def' : !m || Number(m) < 1 || Number(m) > 500 ? 'metres' : '';
      showFaults(wrong ? [{ field: wrong, sentence: say('page.fault.trot.' + wrong) }] : []);
      if (wrong || !m) return;
      const clock = d?.clock ?? 'trot-start';
      await put({
        before: before.id, def, out: m, clock, ...(d?.seconds ? { seconds: d.seconds } : {}),
        ...(clock === 'first-count' ? { started: Date.parse(before.at) } : {}),
      });
    };
    return show({
      title: say('page.recovery.trot.which'), head, out,
      body: [
        safe, para(say('page.recovery.trot.differ'), 'how'),
        choiceField({
          id: 'def', legend: say('page.recovery.trot.which'), quiet: true, chosen: [],
          options: [...book.trots.map(d => ({ value: d.id, label: trotName(d.id) })), { value: 'own', label: say('page.recovery.trot.own') }],
          change: ([v]) => {
            def = v ?? '';
            fill(own, def === 'own' && field({ id: 'metres', label: say('page.recovery.trot.metres'), value: metres, short: true, mode: 'decimal', input: x => { metres = x; } }));
          },
        }), own,
      ],
      bar: [{ label: say('page.back'), go: () => go('recovery', 'horse', horse.id) }, { label: say('page.next'), go: () => void begin(), main: true }],
    });
  }
  const face = h('p', { class: 'due-face', role: 'timer', id: 'trotting' });
  const tick = (): void => {
    if (t.started === undefined) return fill(face, say(t.clock === 'unknown' ? 'page.recovery.trot.free' : 'page.recovery.trot.ready'));
    const left = t.started + (t.seconds ?? 60) * 1000 - Date.now();
    face.classList.toggle('due', left <= 0);
    if (left > 0) fill(face, say('page.recovery.trot.in'), ' ', h('span', { class: 'big' }, clockText(left + 999)));
    else fill(face, say('page.recovery.trot.now'), ' ', h('span', {}, clockText(-left)));
  };
  tick();
  const timer = setInterval(tick, 250);
  onLeave(() => clearInterval(timer));
  stayAwake();
  const waits = t.started === undefined && t.clock !== 'unknown';
  show({
    title: t.def === 'own' ? say('page.recovery.trot.out', { n: t.out }) : trotName(t.def), head, out, kind: 'told recovery',
    body: [face, safe, h('p', { class: 'marks' }, link(say('page.recovery.trot.other'), () => void put(undefined)))],
    bar: [
      { label: say('page.back'), go: () => go('recovery', 'horse', horse.id) },
      waits ? { label: say('page.recovery.trot.start'), go: () => void put({ ...t, started: Date.now() }), main: true }
        : { label: say('page.recovery.trot.count'), go: () => void count(horse, r, 'heart-rate', t), main: true },
    ],
  });
}
