// Signs that are answered from a list: one answer, several, or one for each site.

import type { Finding } from '../core/types';
import { say } from '../core/words';
import { absenceButton, gradeName, optional, siteName } from '../text/names';
import { type Child, h } from '../ui/dom';
import { choiceField, type Option } from '../ui/form';
import { eachSite } from '../exam/draft';
import type { Question, QuestionContext } from './question';

const reasons = ['could-not', 'unsure'];

export function askChoice(place: QuestionContext): Question {
  const sites = eachSite(place.sign, place.step);
  return {
    body: [sites.length >= 2 && everywhere(place, sites as string[]), sites.map(site => part(place, site))],
    kind: sites.length > 1 ? 'sites' : '',
    answered: () => place.draft.findings(place.step).length > 0,
  };
}

/** One tap for somebody who felt every place and found the same: it says so, fills each and goes on. */
function everywhere(place: QuestionContext, sites: string[]): Child {
  const usual = place.sign.grades?.find(g => g.rank === 0);
  return usual && h('p', {}, h('button', {
    type: 'button', class: 'all', id: (place.id ?? '') + 'everywhere', click: async () => {
      await place.draft.putAll(sites.map(site => ({ step: place.step, site, finding: { sign: place.sign.id, site, chosen: [usual.id] } })));
      place.onward();
    },
  }, say('page.everywhere', { n: sites.length, grade: gradeName(place.sign.id, usual.id) })));
}

function part(place: QuestionContext, site: string | undefined): Child {
  const { draft, sign, step } = place;
  const whole = h('div', { class: 'part' });
  const now = draft.finding(step, site);
  // A sign of one normal says where it was taken: the first site, until another is chosen.
  let taken = site ?? now?.site ?? step.sites?.[0];
  let where = now?.where ?? [];
  let chosen = now?.absent ? [now.absent] : now?.chosen ?? [];

  const save = async (): Promise<void> => {
    const at = taken ? { site: taken } : {};
    const absent = chosen.find(c => reasons.includes(c));
    const finding: Finding = absent
      ? { sign: sign.id, ...at, absent }
      : { sign: sign.id, ...at, chosen, ...(where.length && unusual() ? { where } : {}) };
    if (chosen.length === 0) await draft.clear(step, site);
    else await draft.put(step, finding, site !== undefined);
    place.changed();
  };
  const unusual = (): boolean => chosen.some(c => (sign.grades?.find(g => g.id === c)?.rank ?? 0) > 0);

  const options: Option[] = (sign.grades ?? []).map(g =>
    ({ value: g.id, label: draft.gradeName(sign.id, g.id), note: optional(`grade.${sign.id}.${g.id}.note`) }));
  reasons.forEach((r, i) => options.push({ value: r, label: absenceButton(r), apart: i === 0 }));

  const many = sign.kind === 'choice';
  const id = (place.id ?? 'answer') + (site ? '-' + site : '');
  const whereBox = h('div');
  const showWhere = (): void => {
    whereBox.replaceChildren();
    if (!sign.where?.length || !unusual()) return;
    whereBox.append(choiceField({
      id: id + '-where', legend: say('page.where'), many: true, tiles: true,
      options: sign.where.map(w => ({ value: w, label: siteName(w) })), chosen: where,
      change: values => { where = values; void save(); },
    }));
  };
  whole.append(choiceField({
    id, legend: site ? siteName(site) : draft.signName(sign.id), quiet: !site, many, tiles: site !== undefined || !!place.id,
    options, chosen, alone: [...(sign.grades ?? []).filter(g => g.alone).map(g => g.id), ...reasons],
    change: values => { chosen = values; showWhere(); void save(); },
  }), whereBox);
  if (!site && (step.sites?.length ?? 0) > 1) {
    whole.append(choiceField({
      id: id + '-site', legend: say('page.site'), tiles: true,
      options: step.sites!.map(s => ({ value: s, label: siteName(s) })), chosen: taken ? [taken] : [],
      change: values => { taken = values[0]; void save(); },
    }));
  }
  showWhere();
  return whole;
}
