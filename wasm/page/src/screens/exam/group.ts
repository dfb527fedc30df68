// Signs that are seen together. On a quiet day each line says what it claims, each can be taken out, and one
// tap keeps what is left; where something is wrong nothing is claimed beforehand. Nothing is claimed that no line
// on the screen says.

import type { Finding, Grade, Sign, Step } from '../../core/types';
import { list, locale, say } from '../../core/words';
import { absenceName, findingText, siteName } from '../../text/names';
import { add, type Child, h, link, para } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { callOf } from '../../exam/alarms';
import { wrongInExam } from '../../exam/callstrip';
import { stepCautions } from '../../exam/cautions';
import { type Draft, eachSite } from '../../exam/draft';
import { clinicAsks, type ExamPage, goToPage, pageIndexOf, pageName, pagesOf } from '../../exam/pages';

const lower = (text: string): string => text.slice(0, 1).toLocaleLowerCase(locale) + text.slice(1);

export async function groupScreen(draft: Draft, at: number): Promise<void> {
  const n = pageIndexOf(draft, at);
  const pages = pagesOf(draft);
  const page = pages[n];
  if (!page?.group) return goToPage(draft, n);
  const { horse, exam } = draft;
  // Drawn anew, but not moved: the next line stays under the thumb.
  const again = async (): Promise<void> => {
    const y = window.scrollY;
    await groupScreen(draft, at);
    window.scrollTo(0, y);
  };
  const onward = (): void => (draft.closed ? go('exam', exam.id, 'closed') : goToPage(draft, n + 1));

  const card = claimsBeforehand(draft) ? page.steps.filter(s => together.includes(s.sign) && claim(draft, s)) : [];
  const lines = page.steps.filter(s => !card.includes(s));
  const open = page.steps.filter(step => claimed(draft, page, step) && sitesOpen(draft, step).length > 0);
  const close = async (): Promise<void> => {
    await draft.putAll(open.flatMap(step => asUsual(draft, step)));
    onward();
  };
  const untouched = page.steps.every(step => draft.findings(step).length === 0);
  const cautions = stepCautions(draft, page.steps.map(s => draft.sign(s.sign)));
  const row = async (step: Step): Promise<HTMLElement> => line(draft, page, step, again);
  show({
    title: pageName(draft, page),
    head: `${horse.name} · ${say('page.stop.of', { n: n + 1, of: pages.length })}`,
    whereGo: () => go('exam', exam.id, 'all'),
    out: { label: say('page.leave'), go: () => go() },
    kind: 'group',
    body: [
      cautions,
      para(say(claimsBeforehand(draft) ? 'page.group.how' : 'page.group.how.wrong'), 'how'),
      h('div', { class: 'claims' }, await Promise.all(lines.map(row))),
      card.length > 0 && [h('h2', {}, say('page.group.any')), await anyOf(draft, page, card, again)],
      clinicAsks(draft, page.steps.map(s => s.sign)),
      h('p', { class: 'marks' },
        link(say('page.group.one'), () => go('exam', exam.id, page.at, 'one'), { id: 'one' }),
        open.length > 0 && link(say('page.skip'), onward, { id: 'skip' }),
        open.length > 0 && link(say('page.group.could-not'), async () => {
          await draft.putAll(page.steps.flatMap(step => absentAt(draft, step, 'could-not')));
          onward();
        })),
    ],
    bar: [
      { label: say('page.back'), go: () => (n > 0 ? goToPage(draft, n - 1) : go('exam', exam.id, 'start')) },
      ...wrongInExam(draft),
      // What is ticked is kept by the one way forward; to leave it out is a choice of its own.
      open.length > 0 ? { label: say('page.group.close', { n: open.length }), go: () => void close(), main: true, id: 'close' }
        : { label: say(untouched ? 'page.skip' : 'page.next'), go: onward, main: true },
    ],
  });
}

/** What mostly nobody has to say anything about: on a quiet day one card for all of it. */
const together = ['pain-signs', 'eye', 'gait', 'turn', 'sway', 'swelling', 'wound-place', 'swallowing', 'urine', 'cough', 'lately'];

/** Where something is wrong, is checked again, or means to call, every answer is given by hand. */
const claimsBeforehand = (draft: Draft): boolean => !['concern', 'recheck'].includes(draft.exam.purpose) && !draft.exam.recheckOf && !callOf(draft.exam);

/** What work changes is looked at after it, in whichever exam. */
const changedByWork = ['cooling', 'coat', 'respiratory-effort', 'nostrils'];
const worked = ({ exam: { state } }: Draft): boolean => [state.condition, ...state.also ?? []].includes('after-work');

type Entry = { step: Step; site?: string; finding: Finding };

/** The findings that a line claims, at each place that has none yet. */
const asUsual = (draft: Draft, step: Step): Entry[] => sitesOpen(draft, step).map(site =>
  ({ step, site, finding: { sign: step.sign, ...(site ? { site } : {}), chosen: [claim(draft, step)!.id] } }));
const absentAt = (draft: Draft, step: Step, absent: string, sites = sitesOpen(draft, step)): Entry[] => sites.map(site =>
  ({ step, site, finding: { sign: step.sign, ...(site ? { site } : {}), absent } }));

/** Some answer of the screen is not the usual one. */
const off = (draft: Draft, page: ExamPage): boolean => page.steps.some(s => draft.findings(s).some(f =>
  f.chosen?.some(g => (draft.sign(s.sign).grades?.find(x => x.id === g)?.rank ?? 0) > 0)));

/** A line is claimed beforehand. That what it does is usual for the hour nobody claims of a horse of which something is not. */
const claimed = (draft: Draft, page: ExamPage, step: Step): boolean =>
  claimsBeforehand(draft) && !!claim(draft, step) && !(worked(draft) && changedByWork.includes(step.sign)) && !(step.sign === 'doing-usual' && off(draft, page));

/** What a line claims: the one usual answer. A sign with several has none to claim. */
function claim(draft: Draft, step: Step): Grade | undefined {
  const usual = draft.sign(step.sign).grades?.filter(g => g.rank === 0) ?? [];
  return usual.length === 1 ? usual[0] : undefined;
}

const sitesOpen = (draft: Draft, step: Step): (string | undefined)[] =>
  eachSite(draft.sign(step.sign), step).filter(site => !draft.finding(step, site));

const places = (sign: Sign, step: Step): string => (sign.perSite && step.sites?.length ? list(step.sites.map(siteName)) : '');

async function line(draft: Draft, page: ExamPage, step: Step, again: () => Promise<void>): Promise<HTMLElement> {
  const sign = draft.sign(step.sign);
  const found = draft.findings(step);
  const usual = claim(draft, step);
  const name = h('span', { class: 'note' }, draft.signName(sign.id), places(sign, step) && h('span', {}, ', ', places(sign, step)));
  const other = otherWay(draft, page, step);
  const usually = (f: Finding): boolean => !f.absent && f.chosen?.length === 1 && f.chosen[0] === usual?.id;
  const before = claimed(draft, page, step);

  if (usual && (found.length === 0 || found.every(f => usually(f) || f.absent === 'not-tried'))) {
    const out = found.length > 0 && found.every(f => f.absent);
    const is = found.length ? !out : before;
    const input = h('input', {
      type: 'checkbox', id: 'claim-' + sign.id, checked: is,
      change: async () => {
        // A line that is taken out stays so, also after a pause: it is written down as not looked at.
        if (!before && input.checked) {
          await draft.clear(step);
          await draft.putAll(asUsual(draft, step));
        } else if (!before || input.checked) await draft.clear(step);
        else await draft.putAll(absentAt(draft, step, 'not-tried', eachSite(sign, step)));
        await again();
        document.getElementById('claim-' + sign.id)?.focus({ preventScroll: true });
      },
    });
    return h('div', { class: 'claim' + (found.length && !out ? ' kept' : '') },
      h('label', { class: 'row' }, input, h('span', { class: 'box' }),
        h('span', { class: 'words' }, name,
          out ? h('span', { class: 'value unchecked' }, say('page.unchecked'))
            : [h('span', { class: 'answer' }, draft.gradeName(sign.id, usual.id)), not(draft, sign)])),
      other);
  }
  if (found.length > 0) return h('div', { class: 'claim kept' }, h('div', { class: 'row' }, h('span', { class: 'words' }, name, await answers(draft, sign, found))), other);
  // Several answers are usual: which of them, nobody can claim unseen.
  const choices = h('div', { class: 'choices', role: 'group', 'aria-label': draft.signName(sign.id) });
  for (const g of sign.grades ?? []) {
    if (g.rank === 0) {
      add(choices, h('button', {
        type: 'button', class: 'tile', id: `take-${sign.id}-${g.id}`,
        click: async () => { await draft.put(step, { sign: sign.id, chosen: [g.id] }); await again(); },
      }, draft.gradeName(sign.id, g.id)));
    }
  }
  return h('div', { class: 'claim' }, h('div', { class: 'row' }, h('span', { class: 'words' }, name, not(draft, sign), choices)), other);
}

/** The way to every other answer. */
function otherWay(draft: Draft, page: ExamPage, step: Step): HTMLElement {
  const label = say(draft.findings(step).some(f => !f.absent) ? 'page.change' : 'page.group.other');
  return h('button', {
    type: 'button', class: 'other', id: 'other-' + step.sign, 'aria-label': `${label}: ${draft.signName(step.sign)}`,
    click: () => go('exam', draft.exam.id, page.indices[page.steps.indexOf(step)]!, 'g'),
  }, label);
}

async function answers(draft: Draft, sign: Sign, found: Finding[]): Promise<Child[]> {
  return Promise.all(found.map(async (f): Promise<Child> => {
    const site = sign.perSite && f.site && found.length > 1 ? siteName(f.site) + ': ' : '';
    return h('span', { class: f.absent ? 'value unchecked' : 'value' }, site, f.absent ? absenceName(f.absent) : draft.nurses(sign.id) ? list(f.chosen!.map(g => draft.gradeName(sign.id, g))) : await findingText(sign, f, draft));
  }));
}

/** "Any of these?": each sign with what would be an answer, and one line that says that none was seen. It counts for what it lists. */
async function anyOf(draft: Draft, page: ExamPage, card: Step[], again: () => Promise<void>): Promise<HTMLElement> {
  const rows = await Promise.all(card.map(async step => {
    const sign = draft.sign(step.sign);
    const found = draft.findings(step).filter(f => f.absent !== 'not-tried');
    const what = found.length ? await answers(draft, sign, found)
      : h('span', { class: 'not' }, (sign.grades ?? []).filter(g => g.rank > 0).map(g => lower(draft.gradeName(sign.id, g.id))).join(' · '));
    return h('div', { class: 'claim' + (found.length ? ' kept' : '') },
      h('div', { class: 'row' }, h('span', { class: 'words' }, h('span', { class: 'answer' }, draft.signName(sign.id)), what)), otherWay(draft, page, step));
  }));
  const open = card.filter(s => draft.findings(s).every(f => f.absent === 'not-tried'));
  if (open.length === 0) return h('div', { class: 'claims' }, rows);
  const out = open.some(s => draft.findings(s).length > 0);
  const input = h('input', {
    type: 'checkbox', id: 'claim-any', checked: !out,
    change: async () => {
      if (input.checked) for (const step of open) await draft.clear(step);
      else await draft.putAll(open.flatMap(step => absentAt(draft, step, 'not-tried')));
      await again();
      document.getElementById('claim-any')?.focus({ preventScroll: true });
    },
  });
  const names = open.map(s => lower(draft.signName(s.sign)));
  return h('div', { class: 'claims' }, rows, h('div', { class: 'claim' }, h('label', { class: 'row' }, input, h('span', { class: 'box' }),
    h('span', { class: 'words' }, out ? h('span', { class: 'value unchecked' }, say('page.unchecked')) : h('span', { class: 'answer' }, say('page.group.any.none')),
      h('span', { class: 'not' }, names.join(' · '))))));
}

/** The answers that are a reason to call, so that nobody rules them out unread. */
function not(draft: Draft, sign: Sign): Child {
  const flags = draft.book.flags[sign.id] ?? [];
  return flags.length > 0 && h('span', { class: 'not' }, h('strong', {}, say('page.group.not')), ' ',
    flags.map(g => lower(draft.gradeName(sign.id, g))).join(' · '));
}
