// Signs that are seen together: each line says what it claims, each can be taken out, and one
// tap keeps what is left. Nothing is claimed that no line on the screen says.

import { add, h, link, para, show, type Child } from './dom';
import { eachSite, type Draft } from './draft';
import { absenceName, gradeName, saidFinding, signName, siteName } from './names';
import { go } from './route';
import { stepCautions } from './step';
import { goStop, nameOf, stopOf, stopsOf } from './stops';
import type { Finding, Grade, Sign, Step } from './types';
import { list, locale, say } from './words';

const lower = (text: string): string => text.slice(0, 1).toLocaleLowerCase(locale) + text.slice(1);

export async function groupScreen(draft: Draft, at: number): Promise<void> {
  const n = stopOf(draft, at);
  const stops = stopsOf(draft);
  const stop = stops[n];
  if (!stop?.group) return goStop(draft, n);
  const { horse, exam } = draft;
  // Drawn anew, but not moved: the next line stays under the thumb.
  const again = async (): Promise<void> => {
    const y = window.scrollY;
    await groupScreen(draft, at);
    window.scrollTo(0, y);
  };
  const onward = (): void => (draft.closed ? go('exam', exam.id, 'closed') : goStop(draft, n + 1));

  const open = stop.steps.filter(step => claim(draft, step) && sitesOpen(draft, step).length > 0);
  const close = async (): Promise<void> => {
    await draft.putAll(open.flatMap(step => {
      const usual = claim(draft, step)!;
      return sitesOpen(draft, step).map(site => ({ step, site, finding: { sign: step.sign, ...(site ? { site } : {}), chosen: [usual.id] } }));
    }));
    onward();
  };
  const untouched = stop.steps.every(step => draft.findings(step).length === 0);
  const cautions = stepCautions(draft, stop.steps.map(s => draft.sign(s.sign)));
  show({
    title: nameOf(draft, stop),
    head: `${horse.name} · ${say('page.stop.of', { n: n + 1, of: stops.length })}`,
    whereGo: () => go('exam', exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    kind: 'group',
    body: [
      cautions,
      para(say('page.group.how'), 'how'),
      h('div', { class: 'claims' }, await Promise.all(stop.steps.map((step, i) => row(draft, step, stop.at + i, again)))),
      open.length > 0 && h('p', {}, h('button', { type: 'button', class: 'all dark', id: 'close', click: () => void close() },
        say('page.group.close', { n: open.length }))),
      h('p', { class: 'marks' },
        link(say('page.group.one'), () => go('exam', exam.id, stop.at, 'one'), { id: 'one' }),
        open.length > 0 && link(say('page.group.could-not'), async () => {
          await draft.putAll(stop.steps.flatMap(step => sitesOpen(draft, step).map(site =>
            ({ step, site, finding: { sign: step.sign, ...(site ? { site } : {}), absent: 'could-not' } }))));
          onward();
        })),
    ],
    bar: [
      { label: say('page.back'), go: () => (n > 0 ? goStop(draft, n - 1) : go('exam', exam.id, 'start')) },
      { label: say(untouched ? 'page.skip' : 'page.next'), go: onward, main: true, pale: open.length > 0 },
    ],
  });
}

const painful = ['rolling', 'pawing', 'watching-flank'];

/**
 * What a line claims: the one usual answer. A sign with several has none to claim. Nothing is claimed in an exam that was
 * begun because something is wrong, or that checks again; nor that what a horse in pain may do is usual here.
 */
function claim(draft: Draft, step: Step): Grade | undefined {
  const { purpose } = draft.exam;
  if (purpose === 'concern' || purpose === 'recheck') return undefined;
  if (step.sign === 'doing-usual' && (draft.exam.findings ?? []).some(f => f.sign === 'doing' && f.chosen?.some(c => painful.includes(c)))) return undefined;
  const usual = draft.sign(step.sign).grades?.filter(g => g.rank === 0) ?? [];
  return usual.length === 1 ? usual[0] : undefined;
}

const sitesOpen = (draft: Draft, step: Step): (string | undefined)[] =>
  eachSite(draft.sign(step.sign), step).filter(site => !draft.finding(step, site));

const places = (sign: Sign, step: Step): string => (sign.perSite && step.sites?.length ? list(step.sites.map(siteName)) : '');

async function row(draft: Draft, step: Step, index: number, again: () => Promise<void>): Promise<HTMLElement> {
  const sign = draft.sign(step.sign);
  const found = draft.findings(step);
  const usual = claim(draft, step);
  const label = say(found.some(f => !f.absent) ? 'page.change' : 'page.group.other');
  const other = h('button', {
    type: 'button', class: 'other', id: 'other-' + sign.id, 'aria-label': `${label}: ${signName(sign.id)}`,
    click: () => go('exam', draft.exam.id, index, 'g'),
  }, label);
  const name = h('span', { class: 'note' }, signName(sign.id), places(sign, step) && h('span', {}, ', ', places(sign, step)));
  const asUsual = (f: Finding): boolean => !f.absent && f.chosen?.length === 1 && f.chosen[0] === usual?.id;

  if (usual && (found.length === 0 || found.every(f => asUsual(f) || f.absent === 'not-tried'))) {
    const out = found.length > 0 && found.every(f => f.absent);
    const input = h('input', {
      type: 'checkbox', id: 'claim-' + sign.id, checked: !out,
      change: async () => {
        // A line that is taken out stays so, also after a pause: it is written down as not looked at.
        if (input.checked) await draft.clear(step);
        else {
          await draft.putAll(eachSite(sign, step).map(site =>
            ({ step, site, finding: { sign: sign.id, ...(site ? { site } : {}), absent: 'not-tried' } })));
        }
        await again();
        document.getElementById('claim-' + sign.id)?.focus({ preventScroll: true });
      },
    });
    return h('div', { class: 'claim' + (found.length && !out ? ' kept' : '') },
      h('label', { class: 'row' }, input, h('span', { class: 'box' }),
        h('span', { class: 'words' }, name,
          out ? h('span', { class: 'value unchecked' }, say('page.unchecked'))
            : [h('span', { class: 'answer' }, gradeName(sign.id, usual.id)), not(draft, sign)])),
      other);
  }
  if (found.length > 0) {
    const parts: Child[] = [];
    for (const f of found) {
      const site = sign.perSite && f.site && found.length > 1 ? siteName(f.site) + ': ' : '';
      parts.push(h('span', { class: f.absent ? 'value unchecked' : 'value' }, site, f.absent ? absenceName(f.absent) : await saidFinding(sign, f, draft)));
    }
    return h('div', { class: 'claim kept' }, h('div', { class: 'row' }, h('span', { class: 'words' }, name, parts)), other);
  }
  // Several answers are usual: which of them, nobody can claim unseen.
  const choices = h('div', { class: 'choices', role: 'group', 'aria-label': signName(sign.id) });
  for (const g of sign.grades ?? []) {
    if (g.rank === 0) {
      add(choices, h('button', {
        type: 'button', class: 'tile', id: `take-${sign.id}-${g.id}`,
        click: async () => { await draft.put(step, { sign: sign.id, chosen: [g.id] }); await again(); },
      }, gradeName(sign.id, g.id)));
    }
  }
  return h('div', { class: 'claim' }, h('div', { class: 'row' }, h('span', { class: 'words' }, name, not(draft, sign), choices)), other);
}

/** The answers that are a reason to ring, so that nobody rules them out unread. */
function not(draft: Draft, sign: Sign): Child {
  const flags = draft.book.flags[sign.id] ?? [];
  return flags.length > 0 && h('span', { class: 'not' }, h('strong', {}, say('page.group.not')), ' ',
    flags.map(g => lower(gradeName(sign.id, g))).join(' · '));
}
