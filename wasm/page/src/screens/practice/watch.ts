// Watch: the telling signs are looked at again until the veterinarian comes, each look an exam.

import * as core from '../../core/core';
import type { Book, Exam, Horse, ID, Watching } from '../../core/types';
import { list, say } from '../../core/words';
import { clockText, dateTimeShort, rfc3339 } from '../../text/dates';
import { heading, signName } from '../../text/names';
import { withPack } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, fill, h, link, para, svgElement } from '../../ui/dom';
import { choiceField, type Option, showFaults } from '../../ui/form';
import { go, goInstead } from '../../ui/route';
import { type BarItem, onLeave, show } from '../../ui/screen';
import { download } from '../../ui/share';
import { canSound, canVibrate, enableSound, soundAlarm, soundReady } from '../../ui/sound';
import { stayAwake } from '../../ui/wakelock';
import { callCaution } from '../../exam/alarmtext';
import { beginPartial, callItem, depthFor } from '../../exam/partial';
import { lateText, putWatch, type Watch, watchOf } from '../../exam/watches';

const everies = [5, 10, 15, 30, 60];

export async function watchRoute(book: Book, first: ID | undefined, what: string | undefined): Promise<void> {
  const exam = first && (await store.exam(first));
  const horse = exam && (await store.horse(exam.horse));
  if (!exam || !horse || exam.status !== 'finished') return goInstead();
  // The series hangs on its first exam, whichever of its exams one comes from.
  if (exam.recheckOf && (await store.exam(exam.recheckOf))) return goInstead('watch', exam.recheckOf);
  const watch = await watchOf(exam.id);
  return !watch || what === 'signs' ? choose(book, horse, exam, watch) : watchScreen(book, horse, exam, watch);
}

async function series(horse: Horse, first: ID): Promise<Watching | undefined> {
  try {
    const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished');
    return await core.call<Watching>('watch', { horse, exams, first, ...await withPack() });
  } catch {
    return undefined;
  }
}

/** Which signs, how often, and whether with sound. */
async function choose(book: Book, horse: Horse, exam: Exam, given: Watch | undefined): Promise<void> {
  const got = await series(horse, exam.id);
  const telling = got?.telling ?? [];
  let signs = given?.signs ?? telling.map(t => t.sign);
  let every = given?.everyMinutes ?? 15;
  let sound = given?.sound ?? false;
  const option = (sign: string): Option => ({
    value: sign, label: signName(sign), note: telling.filter(t => t.sign === sign).map(t => say('page.watch.why.' + t.why))[0],
  });
  // Asked first: what the comparison names, then what was chosen, then what is counted.
  const counted = book.signs.filter(s => ['rate', 'timed', 'temperature'].includes(s.kind)).map(s => s.id);
  const shown = [...new Set([...telling.map(t => t.sign), ...signs, ...(telling.length ? [] : counted)])];
  const rest = book.signs.map(s => s.id).filter(s => !shown.includes(s));
  const both = new Map<string, string[]>([['telling', shown.filter(s => signs.includes(s))], ['others', []]]);
  const pick = (part: string) => (values: string[]): void => { both.set(part, values); signs = [...both.values()].flat(); };
  const save = async (): Promise<void> => {
    const wrong = signs.length === 0;
    showFaults(wrong ? [{ field: 'telling', sentence: say('page.fault.watch') }] : []);
    if (wrong) return;
    const order = book.signs.map(s => s.id).filter(s => signs.includes(s));
    const now = Date.now();
    const next = given && given.ended === undefined && given.everyMinutes === every ? given.next : now + every * 60_000;
    const watch: Watch = { first: exam.id, horse: horse.id, signs: order, everyMinutes: every, next, begun: given?.begun ?? now, sound };
    if (await putWatch(watch)) goInstead('watch', exam.id);
  };
  show({
    title: say('page.watch.choose', { name: horse.name }),
    head: heading(horse, say('page.watch.head')),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      para(say('page.watch.how'), 'how'),
      choiceField({ id: 'telling', legend: say('page.watch.signs'), many: true, options: shown.map(option), chosen: signs, change: pick('telling') }),
      rest.length > 0 && h('details', { class: 'more' }, h('summary', {}, say('page.watch.others')),
        choiceField({ id: 'others', legend: say('page.watch.others'), quiet: true, many: true, options: rest.map(option), chosen: [], change: pick('others') })),
      choiceField({
        id: 'every', legend: say('page.watch.every'), tiles: true, chosen: [String(every)],
        options: everies.map(n => ({ value: String(n), label: say('page.watch.minutes', { n }) })), change: ([n]) => { every = Number(n); },
      }),
      canSound() && choiceField({
        id: 'sound', legend: say('page.watch.alarm'), many: true, chosen: sound ? ['sound'] : [],
        options: [{ value: 'sound', label: say('page.watch.sound'), note: say('page.watch.sound.note') }],
        // The touch that switches it on is the one that a browser wants to hear it.
        change: v => { sound = v.length > 0; if (sound) void enableSound().then(() => soundAlarm(true)); },
      }),
      para(say(canVibrate() ? 'page.watch.vibrates' : 'page.watch.still'), 'how'),
    ],
    bar: [
      { label: say('page.back'), go: () => go(...(given ? ['watch', exam.id] : ['exam', exam.id, 'result'])) },
      { label: say(given ? 'page.save' : 'page.watch.begin'), go: () => void save(), main: true },
    ],
  });
}

/** A look that was taken since puts the next one off; also one whose end was cut off by a kill. */
async function counted(watch: Watch, exams: Exam[]): Promise<Watch> {
  const last = exams.filter(e => e.recheckOf === watch.first && e.status === 'finished').pop();
  if (!last || last.id === watch.last || watch.ended !== undefined) return watch;
  const taken = Date.parse(last.at) + Math.max(0, ...(last.findings ?? []).map(f => f.minutes ?? 0)) * 60_000;
  const now = { ...watch, last: last.id, next: taken + watch.everyMinutes * 60_000 };
  await putWatch(now);
  return now;
}

async function watchScreen(book: Book, horse: Horse, first: Exam, given: Watch): Promise<void> {
  const exams = await store.examsOf(horse.id);
  const watch = await counted(given, exams);
  const got = await series(horse, first.id);
  const mine = (got?.series ?? []).filter(s => watch.signs.includes(s.sign));
  const open = exams.find(e => e.status === 'draft' && e.recheckOf === first.id);
  const moving = mine.find(s => s.trend === 'rising' || s.trend === 'falling');
  const title = moving ? say('page.watch.' + moving.trend, { sign: signName(moving.sign) }) : say('page.watch.title', { name: horse.name });

  const face = h('p', { class: 'due-face', id: 'due', role: 'timer' });
  const awake = h('p', { class: 'how', id: 'awake' });
  const draw = (): void => {
    if (watch.ended !== undefined) return fill(face, say('page.watch.stopped', { at: dateTimeShort(rfc3339(new Date(watch.ended))) }));
    const late = Date.now() >= watch.next;
    face.classList.toggle('due', late);
    if (late) fill(face, lateText(watch));
    else fill(face, say('page.watch.next'), ' ', h('span', { class: 'big' }, clockText(watch.next - Date.now())));
  };
  draw();
  const tick = setInterval(draw, 500);
  onLeave(() => clearInterval(tick));
  if (watch.ended === undefined) stayAwake(held => { awake.textContent = say(held ? 'page.watch.awake' : 'page.watch.sleeps'); });

  const look = async (): Promise<void> => {
    if (open) return go('exam', open.id, ...((await store.place(open.id)) ?? '0').split('/'));
    const prefs = await store.prefs();
    await beginPartial({
      id: crypto.randomUUID(), horse: horse.id, at: rfc3339(new Date()), depth: depthFor(book, watch.signs, 'walk-up'), purpose: 'recheck',
      state: { condition: first.state.condition === 'after-work' ? 'rest' : first.state.condition, ...(first.state.with ? { with: first.state.with } : {}) },
      status: 'draft', ...(prefs.by ? { by: prefs.by } : {}), holder: first.holder ?? 'held', findings: [], recheckOf: first.id,
    }, watch.signs, ['watch', first.id]);
  };
  const change = async (c: Partial<Watch>): Promise<void> => { if (await putWatch({ ...watch, ...c })) goInstead('watch', first.id); };
  const calendar = async (): Promise<void> => {
    try {
      const minutes = watch.everyMinutes;
      const events = Array.from({ length: Math.min(24, Math.ceil(360 / minutes)) }, (_, i) => ({
        uid: `${first.id.slice(0, 40)}-${i}`, start: rfc3339(new Date(watch.next + i * minutes * 60_000)), minutes: 5,
        summary: say('page.watch.event', { name: horse.name }), description: list(watch.signs.map(signName)), remindMinutes: 0,
      }));
      const { text } = await core.call<{ text: string }>('calendar', { stamp: rfc3339(new Date()), events });
      download({ name: 'whorl-watch.ics', type: 'text/calendar', text });
    } catch {
      awake.textContent = say('page.nocore.how');
    }
  };
  const silent = watch.ended === undefined && !!watch.sound && !soundReady();
  const alarms = got?.alarms ?? [];
  const now = alarms.filter(a => a.urgency === 'now');
  const block = (s: Watching['series'][number]): Child => h('section', { class: 'found' },
    h('h3', {}, signName(s.sign) + (s.site ? ', ' + say('site.' + s.site) : '')), svgElement(s.drawing), s.said.map(x => para(x)));
  const bar: BarItem[] = watch.ended === undefined
    ? [{ label: say('page.watch.stop'), go: () => void change({ ended: Date.now() }) }]
    : [{ label: say('page.watch.on'), go: () => void change({ ended: undefined, next: Date.now() + watch.everyMinutes * 60_000 }) }];
  const callFirst = now.length > 0 && callItem(horse);
  bar.push({ label: say(open ? 'page.watch.goon' : 'page.watch.look'), go: () => void look(), main: !callFirst, id: 'go' });
  if (callFirst) bar.push(callFirst);
  show({
    title, head: heading(horse, say('page.watch.head')), out: { label: say('page.barn'), go: () => go() }, kind: 'told watch',
    body: [
      callCaution(now), face,
      silent && h('p', {}, link(say('page.watch.arm'), () => void enableSound().then(ok => { soundAlarm(true); if (ok) goInstead('watch', first.id); }), { id: 'arm' })),
      awake,
      mine.map(block),
      mine.length === 0 && para(say(got ? 'page.watch.nothing' : 'page.nocore.how'), 'how'),
      h('p', { class: 'tools' },
        watch.ended === undefined && Date.now() >= watch.next && link(say('page.watch.later'), () => void change({ next: Date.now() + 5 * 60_000 })),
        link(say('page.watch.change'), () => go('watch', first.id, 'signs')),
        watch.ended === undefined && link(say('page.watch.calendar'), () => void calendar()),
        link(say('page.watch.first'), () => go('exam', first.id, 'result'))),
    ],
    bar,
  });
}
