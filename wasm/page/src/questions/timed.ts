// Signs timed by hand (refill, skin tent): hold the pad from letting go until it is back.

import type { Finding } from '../core/types';
import { say, sayFirst } from '../core/words';
import { measured, siteName } from '../text/names';
import { decimalText } from '../text/numbers';
import { type Child, fill, h, link } from '../ui/dom';
import { choiceField, field } from '../ui/form';
import { announce, onLeave } from '../ui/screen';
import type { Question, QuestionContext } from './question';
import { coreErrors } from './rate';
import { undoButtons } from './tappad';

const most = 3;

export function askTimed(place: QuestionContext): Question {
  const { draft, sign, step } = place;
  const now = draft.findings(step).find(f => !f.absent);
  let tries = now?.timed?.centiSeconds ?? [];
  let aloud = now?.timed?.aloud ?? false;
  let site = now?.site ?? step.sites?.[0];
  let typed = aloud && tries.length ? (tries[tries.length - 1]! / 100).toString() : '';

  // What each try, removal or restart has replaced.
  const past: number[][] = [];
  const below = h('p', { class: 'tools' });
  const list = h('ol', { class: 'tries' });
  const result = h('p', { class: 'result', role: 'status' });
  const words = h('span', {});
  const small = h('small', {});
  const pad = h('button', { type: 'button', class: 'pad', id: 'pad' }, words, small);

  const draw = async (): Promise<void> => {
    fill(list, tries.map((c, i) => h('li', {}, h('span', {}, say('page.timed.try', { n: i + 1, seconds: (c / 100).toFixed(1) })), ' ',
      link(say('page.remove'), () => set(tries.filter((_, j) => j !== i)), { 'aria-label': say('page.timed.remove', { n: i + 1 }) }))));
    undoButtons(below, past.length > 0 ? () => { tries = past.pop()!; void save(); } : undefined, tries.length > 0 ? () => set([]) : undefined);
    words.textContent = tries.length >= most ? say('page.timed.enough') : sayFirst([`page.hold.${sign.id}`, 'page.hold']);
    small.textContent = tries.length >= most ? say('page.timed.more') : say(tries.length ? 'page.hold.again' : 'page.hold.hint');
    document.querySelector('.screen')?.classList.toggle('tapping', tries.length > 0);
    const f = draft.findings(step)[0];
    const m = f && !f.absent ? await measured(sign.id, f) : undefined;
    result.textContent = [m?.shown, m?.how].filter(Boolean).join(' – ');
  };
  const save = async (): Promise<void> => {
    const f: Finding = { sign: sign.id, ...(site ? { site } : {}), timed: { centiSeconds: tries, ...(aloud ? { aloud } : {}) } };
    if (tries.length === 0) await draft.clear(step);
    else await draft.put(step, f);
    place.changed();
    await draw();
  };

  const set = (to: number[]): void => {
    past.push(tries);
    tries = to;
    void save();
  };

  let held: number | undefined;
  const down = (at: number): void => {
    held = at;
    pad.classList.add('flip');
    words.textContent = sayFirst([`page.held.${sign.id}`, 'page.held']);
  };
  const up = (at: number): void => {
    if (held === undefined) return;
    const centi = Math.round((at - held) / 10);
    held = undefined;
    pad.classList.remove('flip');
    // Shorter than a tenth of a second is a touch by mistake.
    if (centi < 10) return void draw();
    if (aloud) { tries = []; aloud = false; past.length = 0; }
    set([...tries.slice(tries.length >= most ? 1 : 0), centi]);
    announce(say('page.timed.try', { n: tries.length, seconds: (centi / 100).toFixed(1) }));
  };
  pad.addEventListener('pointerdown', e => {
    if (e.button !== 0 || !e.isPrimary) return;
    pad.setPointerCapture(e.pointerId);
    down(e.timeStamp);
  });
  pad.addEventListener('pointerup', e => up(e.timeStamp));
  // The system took the touch away (a call, a gesture): that is no try.
  pad.addEventListener('pointercancel', () => { held = undefined; pad.classList.remove('flip'); void draw(); });
  pad.addEventListener('contextmenu', e => e.preventDefault());
  pad.addEventListener('keydown', e => {
    if (e.key !== ' ' && e.key !== 'Enter') return;
    e.preventDefault();
    if (!e.repeat && held === undefined) down(e.timeStamp);
  });
  pad.addEventListener('keyup', e => { if (e.key === ' ' || e.key === 'Enter') { e.preventDefault(); up(e.timeStamp); } });
  const lost = (): void => { held = undefined; pad.classList.remove('flip'); };
  window.addEventListener('blur', lost);
  onLeave(() => window.removeEventListener('blur', lost));

  // What it comes to stands first, so that the pad never covers it.
  const body: Child[] = [result, below, list];
  if ((step.sites?.length ?? 0) > 1) {
    body.push(choiceField({
      id: 'site', legend: say('page.site'), tiles: true, chosen: site ? [site] : [],
      options: step.sites!.map(s => ({ value: s, label: siteName(s) })), change: ([s]) => { site = s; if (tries.length) void save(); },
    }));
  }
  const typing = field({
    id: 'value', label: say('page.timed.typed'), hint: say('page.timed.typed.hint'), value: typed, short: true,
    input: v => {
      typed = v;
      const text = decimalText(v);
      if (text === undefined) return;
      aloud = true;
      past.length = 0;
      tries = [Math.round(Number(text) * 100)];
      void save();
    },
  });
  body.push(h('details', { class: 'more', open: typed !== '' }, h('summary', {}, say('page.timed.aloud')), typing));
  void draw();
  return {
    body, pad, kind: 'padded', outside: true, answered: () => draft.findings(step).length > 0,
    check: async () => {
      if (typed.trim() !== '' && decimalText(typed) === undefined) return [{ field: 'value', sentence: say('page.fault.number') }];
      return coreErrors(place, aloud ? 'value' : 'pad');
    },
  };
}
