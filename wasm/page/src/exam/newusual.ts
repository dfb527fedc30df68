// "Is this the new usual?": the question under a sign of the result, its answer, and taking it back.

import type { Compared, NewUsual } from '../core/types';
import { say } from '../core/words';
import { dateTime, rfc3339 } from '../text/dates';
import * as store from '../store/store';
import { type Child, h, link, para } from '../ui/dom';
import { announce } from '../ui/screen';
import type { Draft } from './draft';

/** The site belongs to the answer only where each site has a usual of its own. */
const siteOf = (draft: Draft, x: Compared): string | undefined => draft.sign(x.sign)?.perSite ? x.site : undefined;

/** Asked of this sign, or answered since this exam: it stands open, among what differs. */
export const isNewUsualAsked = (draft: Draft, x: Compared): boolean => !!x.question || (draft.horse.newUsual ?? []).some(u =>
  u.sign === x.sign && u.site === siteOf(draft, x) && !u.back && Date.parse(u.said) >= Date.parse(draft.exam.at));

/** What stands under the sentences of a sign; `again` draws the result anew. */
export function newUsualQuestion(draft: Draft, x: Compared, again: () => void): Child {
  const keep = async (list: NewUsual[]): Promise<void> => {
    const horse = { ...draft.horse, newUsual: list };
    if (!(await store.putHorse(horse))) return;
    draft.horse = horse;
    again();
  };
  const site = siteOf(draft, x);
  const answers = draft.horse.newUsual ?? [];
  const mine = answers.filter(u => u.sign === x.sign && u.site === site && !u.back);
  // What the comparison rests on: the answer that holds, or one given after this exam.
  const stands = mine.find(u => !u.not && u.from === x.basis?.since)
    ?? mine.find(u => u.not && Date.parse(u.said) >= Date.parse(draft.exam.at));
  if (x.question) {
    const answer = async (not: boolean): Promise<void> => {
      const { by } = await store.prefs();
      const from = x.question!.from;
      // A clock set back must not say it before it began.
      const said = rfc3339(new Date(Math.max(Date.now(), Date.parse(from))));
      await keep([...answers, { sign: x.sign, ...(site ? { site } : {}), from, said, ...(by ? { by } : {}), ...(not ? { not } : {}) }]);
      announce(say(not ? 'page.usual.was.no' : 'page.usual.was.yes', { day: dateTime(said) }));
    };
    return h('div', { class: 'asked', role: 'group', 'aria-label': say('page.usual.ask') },
      para(say('page.usual.how', { name: draft.horse.name })),
      h('p', {}, h('button', { type: 'button', click: () => void answer(false) }, say('page.usual.yes')),
        h('button', { type: 'button', click: () => void answer(true) }, say('page.usual.no'))));
  }
  if (!stands) return false;
  return h('p', { class: 'asked' }, say(stands.not ? 'page.usual.was.no' : 'page.usual.was.yes', { day: dateTime(stands.said) }), ' ',
    link(say('page.usual.back'), () => void keep(answers.map(u => u === stands ? { ...u, back: true } : u))));
}
