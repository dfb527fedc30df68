// "Why?": what stands behind each statement of a result, asked of the core once somebody wants to know.

import * as core from '../core/core';
import { say } from '../core/words';
import { h, para } from './dom';

interface Explained { said: Record<string, string[]>; exam: string[] }

/** Gives a folded "Why?" for each place of a result; the core is asked at the first that is opened. */
export function explanations(record: () => Promise<object>): (of: (x: Explained) => string[] | undefined, label: string) => HTMLElement {
  let asked: Promise<Explained> | undefined;
  return (of, label) => {
    const body = h('div');
    const fold = h('details', { class: 'why' }, h('summary', { 'aria-label': label }, say('page.why')), body);
    fold.addEventListener('toggle', () => {
      if (!fold.open || body.childElementCount > 0) return;
      asked ??= record().then(r => core.call<Explained>('explain', { ...r }));
      asked.then(x => body.replaceChildren(...(of(x) ?? []).map(s => para(s))), () => {
        asked = undefined; // it may be asked again
        body.replaceChildren(para(say('page.nocore.how')));
      });
    });
    return fold;
  };
}
