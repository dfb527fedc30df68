// Where every number comes from: told by the core, which computes with them; and whose software the page is.

import * as core from '../../core/core';
import { lang, say } from '../../core/words';
import { h, para } from '../../ui/dom';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';

interface Row { what: string; figure?: string; for?: string; mark: string; doubt?: boolean; work?: number; note?: string }
interface Figures { parts: { heading: string; rows: Row[] }[]; works: string[] }

declare const NOTICES_URL: string;

const notices = async (): Promise<string> => NOTICES_URL.startsWith('#')
  ? document.getElementById(NOTICES_URL.slice(1))!.textContent!
  : (await fetch(NOTICES_URL)).text();

export async function sourcesScreen(): Promise<void> {
  const told = await core.call<Figures>('figures').catch(() => undefined);
  const licences = await notices().catch(() => '');
  const row = (r: Row): HTMLElement => h('li', {},
    h('strong', {}, r.what, r.figure && ': ' + r.figure), r.for && h('span', {}, ' · ' + r.for),
    h('p', { class: 'note' }, r.doubt ? h('b', {}, r.mark) : r.mark, r.work && ` [${r.work}]`, r.note && h('span', { lang: 'en' }, ' – ' + r.note)));
  show({
    title: say('page.figures'),
    head: say('page.barn'),
    body: [
      para(say('page.figures.how')),
      lang !== 'en' && para(say('page.figures.note'), 'note'),
      !told && para(say('page.nocore.how')),
      told?.parts.map(p => h('details', {}, h('summary', {}, `${p.heading} (${p.rows.length})`), h('ul', { class: 'figures' }, p.rows.map(row)))),
      told && h('details', {}, h('summary', {}, `${say('page.figures.works')} (${told.works.length})`),
        h('ol', { class: 'figures', lang: 'en' }, told.works.map(w => h('li', {}, w)))),
      licences && h('details', {}, h('summary', {}, say('page.licences')),
        h('div', { lang: 'en', class: 'licences' }, licences.split('\n\n').map(part => para(part)))),
    ],
    bar: [{ label: say('page.back'), go: () => go() }],
  });
}
