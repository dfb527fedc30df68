// What is watched on this device, and when it is due. Times are of the clock on the wall,
// so that they hold over a reload, a killed page and hours without the page.

import type { Exam, Horse, ID } from '../core/types';
import { say } from '../core/words';
import { clockText, spanText } from '../text/dates';
import * as store from '../store/store';
import { h } from '../ui/dom';
import { go, route } from '../ui/route';
import { announce, onLeave } from '../ui/screen';
import { soundAlarm } from '../ui/sound';
import type { PartialExam } from './draft';

export interface Watch {
  /** The exam that the rechecks look at again. */
  first: ID;
  horse: ID;
  signs: string[];
  everyMinutes: number;
  /** When the next look is due, and when the watching began and ended; ms of the epoch. */
  next: number;
  begun: number;
  ended?: number;
  /** The newest exam of the series that the next look was reckoned from. */
  last?: ID;
  sound?: boolean;
}

const key = (first: ID): string => 'watch:' + first;

export const watchOf = (first: ID): Promise<Watch | undefined> => store.note(key(first));

export async function putWatch(w: Watch): Promise<boolean> {
  const kept = await store.putNote(key(w.first), w);
  await reloadWatches();
  return kept;
}

/** Those that run, of horses and exams that are there, the next one first. */
export async function running(): Promise<(Watch & { name: string })[]> {
  const [all, horses] = await Promise.all([store.notesOf<Watch>('watch:'), store.horses()]);
  const names = new Map(horses.map((x: Horse) => [x.id, x.name]));
  return all.filter(w => w.ended === undefined && names.has(w.horse)).map(w => ({ ...w, name: names.get(w.horse)! })).sort((a, b) => a.next - b.next);
}

/** Rechecks that are being entered, and the first exam of each: while one looks, the strip need not call. */
let rechecks = new Map<ID, ID>();
let now: (Watch & { name: string })[] = [];

/** Reads anew what runs: after a change, and when another tab may have changed it. */
export async function reloadWatches(): Promise<void> {
  const [run, partials] = await Promise.all([running(), store.notesOf<PartialExam>('short:')]);
  now = run;
  rechecks = new Map(partials.map(s => [s.exam, String(s.then[1])]));
  draw();
}

/** For how long a look has been due. */
export const lateText = (w: Watch, at = Date.now()): string =>
  at - w.next < 60_000 ? say('page.watch.due') : say('page.watch.since', { span: spanText(at - w.next) });

function stripText(w: Watch & { name: string }, at = Date.now()): string {
  const name = w.name;
  if (at < w.next) return say('page.watch.strip.in', { name, time: clockText(w.next - at) });
  return at - w.next < 60_000 ? say('page.watch.strip.due', { name }) : say('page.watch.strip.since', { name, span: spanText(at - w.next) });
}

let box: HTMLElement | undefined;

/** The strip of every screen but the watch's own; null while nothing is watched. */
export function watchStrip(): HTMLElement | null {
  box = undefined;
  const [what, id] = route();
  if (now.length === 0 || what === 'watch' || what === 'exam' && id && rechecks.get(id) === now[0]!.first) return null;
  box = h('button', { type: 'button', class: 'strip-watch', id: 'watching', click: () => go('watch', now[0]!.first) });
  draw();
  return box;
}

function draw(): void {
  const w = now[0];
  if (!box || !w) return;
  const text = stripText(w) + (now.length > 1 ? ' · ' + say('page.watch.more', { n: now.length - 1 }) : '');
  if (box.textContent !== text) box.textContent = text;
  box.classList.toggle('due', Date.now() >= w.next);
}

/** The alarm comes when it is due and then each minute, ten times in all. */
const sounded = new Map<ID, string>();
const times = 10;

function soundDue(): void {
  for (const w of now) {
    const late = Math.floor((Date.now() - w.next) / 60_000);
    const this_ = `${w.next} ${late}`;
    if (late < 0 || late >= times || sounded.get(w.first) === this_) continue;
    // A page that is opened late tells it once, not every minute that was missed.
    sounded.set(w.first, this_);
    soundAlarm(!!w.sound);
    announce(stripText(w));
  }
}

/** Runs as long as the page is open, from what was read last. */
export function startWatching(): void {
  setInterval(() => { draw(); soundDue(); }, 500);
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') void reloadWatches(); });
}

/** On the screen of a count after work: the clock of this horse. */
export function afterWorkStrip(exam: Exam | undefined, name: string): HTMLElement | null {
  if (!exam?.state.ended || exam.status !== 'draft') return null;
  const ended = Date.parse(exam.state.ended);
  const strip = h('p', { class: 'strip-watch', role: 'timer', id: 'after' });
  const tick = (): void => { strip.textContent = say('page.recovery.after', { name, time: clockText(Date.now() - ended) }); };
  tick();
  const timer = setInterval(tick, 500);
  onLeave(() => clearInterval(timer));
  return strip;
}
