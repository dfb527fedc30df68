// The telephone times a window while a person counts aloud.

import { say, sayFirst } from '../core/words';
import { fill, h } from '../ui/dom';
import { announce, onLeave } from '../ui/screen';
import { stayAwake } from '../ui/wakelock';

export interface Timer {
  face: HTMLElement;
  pad: HTMLElement;
  state: () => 'ready' | 'running' | 'over';
  /** Stops the clock: ready for a window, or as after one. */
  reset: (over?: boolean) => void;
}

/** `pressed` is called before a press begins a window, `changed` after every press and at the end. */
export function timer(seconds: () => number, sign: string, pressed: () => void, changed: () => void): Timer {
  const face = h('p', { class: 'clock', id: 'clock' });
  const label = h('span', {});
  const small = h('small', {});
  const pad = h('button', { type: 'button', class: 'pad', id: 'pad' }, label, small);
  let started: number | undefined;
  let ended = false;
  let frame = 0;

  const draw = (): void => {
    const left = started === undefined ? seconds() : Math.max(0, seconds() - (performance.now() - started) / 1000);
    fill(face, started !== undefined && h('span', { class: 'big' }, String(Math.ceil(left))));
    face.hidden = started === undefined;
    pad.classList.toggle('flip', started !== undefined);
    document.querySelector('.screen')?.classList.toggle('tapping', started !== undefined || ended);
    label.textContent = ended ? say('page.timer.over') : started === undefined ? say('page.timer.start') : sayFirst([`page.timer.${sign}`, 'page.timer.running']);
    small.textContent = ended ? say('page.timer.again') : started === undefined ? say('page.seconds', { n: seconds() }) : say('page.timer.stop');
  };
  const tick = (): void => {
    if (started === undefined) return;
    // The window ends by the difference of times, never by a number of ticks.
    if (performance.now() - started >= seconds() * 1000) {
      started = undefined;
      ended = true;
      frame = 0;
      navigator.vibrate?.(400);
      draw();
      changed();
      announce(say('page.timer.over'));
      document.getElementById('events')?.focus();
      return;
    }
    draw();
    frame = requestAnimationFrame(tick);
  };
  const reset = (over = false): void => { started = undefined; ended = over; cancelAnimationFrame(frame); frame = 0; draw(); };
  const press = (at: number): void => {
    if (started !== undefined) {
      reset();
      return changed();
    }
    pressed();
    ended = false;
    started = at;
    window.scrollTo(0, 0);
    tick();
    changed();
  };
  pad.addEventListener('pointerdown', e => { if (e.button === 0 && e.isPrimary) press(e.timeStamp); });
  pad.addEventListener('keydown', e => {
    if ((e.key === ' ' || e.key === 'Enter') && !e.repeat) { e.preventDefault(); press(e.timeStamp); }
  });
  // A background tab gets no frames: look again when it comes back.
  const look = (): void => tick();
  document.addEventListener('visibilitychange', look);
  onLeave(() => { cancelAnimationFrame(frame); document.removeEventListener('visibilitychange', look); });
  stayAwake();
  draw();
  return { face, pad, state: () => (started !== undefined ? 'running' : ended ? 'over' : 'ready'), reset };
}
