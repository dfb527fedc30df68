// The whole exam on one page, for people who know it: the same findings, no explanations.

import type { Finding } from '../../core/types';
import { say } from '../../core/words';
import { findingText, heading, signName, siteName } from '../../text/names';
import { decimalText, wholeNumber } from '../../text/numbers';
import * as store from '../../store/store';
import { type Child, h, link, para } from '../../ui/dom';
import { choiceField, field, type FieldFault, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { wrongInExam } from '../../exam/callstrip';
import { stepCautions } from '../../exam/cautions';
import type { Draft } from '../../exam/draft';
import { askChoice } from '../../questions/choice';
import type { QuestionContext } from '../../questions/question';
import { score } from '../../questions/reading';

export async function listScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const prefs = await store.prefs();
  if (prefs.flow !== 'list') void store.putPrefs({ flow: 'list' });
  const bad = new Map<string, FieldFault>();
  const again = async (): Promise<void> => {
    const y = window.scrollY;
    await listScreen(draft);
    window.scrollTo(0, y);
  };
  const body: Child[] = [];
  let section = '';
  for (const [i, step] of draft.steps.entries()) {
    const sign = draft.sign(step.sign);
    if (sign.section !== section) {
      section = sign.section;
      const signs = draft.steps.map(s => draft.sign(s.sign)).filter(s => s.section === section);
      body.push(h('h2', {}, say('section.' + section)), stepCautions(draft, signs));
    }
    const place: QuestionContext = {
      draft, step, sign, prefs, id: 'list-' + i, changed: () => undefined,
      again, onward: again,
    };
    const name = signName(sign.id) + (sign.again && step.sites?.length === 1 ? ', ' + siteName(step.sites[0]!) : '');
    let asked: Child;
    if (sign.kind === 'grade' || sign.kind === 'choice') asked = askChoice(place).body;
    else if (sign.kind === 'score') asked = score(place).body;
    else asked = await measuredRow(place, i, bad);
    body.push(h('section', { class: 'listed', id: 'check-' + i }, h('h3', {}, name), asked));
  }
  show({
    title: say('page.list.title'),
    head: heading(horse, say('depth.' + exam.depth)),
    whereGo: () => go('exam', exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    kind: 'list',
    body: [para(say('page.list.how'), 'how'), body],
    bar: [
      { label: say('page.all.steps'), go: async () => { await store.putPrefs({ flow: 'group' }); go('exam', exam.id, 'all'); } },
      ...wrongInExam(draft),
      {
        label: say('page.all.finish'), main: true, go: () => {
          showFaults([...bad.values()]);
          if (bad.size === 0) go('exam', exam.id, draft.closed ? 'closed' : 'check');
        },
      },
    ],
  });
}

/** A measured sign: what it reads, a number to type, and the way to count or time it here. */
async function measuredRow(place: QuestionContext, index: number, bad: Map<string, FieldFault>): Promise<Child> {
  const { draft, sign, step } = place;
  const now = draft.findings(step)[0];
  const said = h('p', { class: 'value' + (now && !now.absent ? '' : ' unchecked') }, now ? await findingText(sign, now, draft) : say('page.unchecked'));
  const at = step.sites?.[0] ? { site: now?.site ?? step.sites[0] } : {};
  const id = place.id + '-value';
  let seconds = now?.count?.seconds ?? 30;
  let typed = now?.count ? String(now.count.events) : now?.timed?.aloud ? (now.timed.centiSeconds[0]! / 100).toString() : '';

  const save = async (): Promise<void> => {
    bad.delete(id);
    if (typed.trim() === '') return;
    const n = sign.kind === 'rate' ? wholeNumber(typed) : decimalText(typed);
    if (n === undefined) {
      bad.set(id, { field: id, sentence: say(sign.kind === 'rate' ? 'page.fault.whole' : 'page.fault.number') });
      return;
    }
    // Nobody said on what the clock was started, so nothing is taken for granted.
    const f: Finding = sign.kind === 'rate'
      ? { sign: sign.id, ...at, count: { events: n as number, seconds, start: 'anywhere' } }
      : { sign: sign.id, ...at, timed: { centiSeconds: [Math.round(Number(n) * 100)], aloud: true } };
    await draft.put(step, f);
    said.className = 'value';
    said.textContent = await findingText(sign, f, draft);
  };
  const way = say(sign.kind === 'rate' ? 'page.list.count' : sign.kind === 'timed' ? 'page.list.time' : 'page.list.enter');
  const there = link(way, () => go('exam', draft.exam.id, index, 'list'), { 'aria-label': `${way}: ${signName(sign.id)}`, id: place.id + '-there' });
  if (sign.kind !== 'rate' && sign.kind !== 'timed') return [said, there];
  return [said,
    field({
      id, label: say(sign.kind === 'rate' ? 'page.list.counted' : 'page.timed.typed'), value: typed, short: true,
      mode: sign.kind === 'rate' ? 'numeric' : undefined, input: v => { typed = v; void save(); },
    }),
    sign.kind === 'rate' && choiceField({
      id: place.id + '-seconds', legend: say('page.count.seconds'), close: true, tiles: true, chosen: [String(seconds)],
      options: [15, 30, 60].map(s => ({ value: String(s), label: say('page.seconds', { n: s }) })),
      change: ([s]) => { seconds = Number(s); void save(); },
    }), there];
}
