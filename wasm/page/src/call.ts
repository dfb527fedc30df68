// The call: what is told, in the order in which it is told.

import { whenShort } from './clock';
import * as core from './core';
import { announce, h, show, type BarItem } from './dom';
import type { Draft } from './draft';
import { headOf } from './names';
import { recordOf, without } from './result';
import { go } from './route';
import { reportLang } from './settings';
import * as store from './store';
import type { Report } from './types';
import { languages, say } from './words';

export async function callScreen(draft: Draft): Promise<void> {
  const { exam, horse } = draft;
  const language = reportLang(await store.prefs());
  let got: { report: Report; text: string };
  try {
    got = await core.call('report', { ...(await recordOf(draft)), lang: language });
  } catch (e) {
    return without(draft, e);
  }
  const said = h('p', { class: 'result', role: 'status' });
  const text = h('textarea', { class: 'copying', rows: 8, readonly: true, hidden: true, lang: language, 'aria-label': say('page.call.text') });
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(got.text);
      said.textContent = say('page.call.copied');
    } catch {
      // No right to the clipboard: the text is laid out, marked, to be copied by hand.
      text.value = got.text;
      text.hidden = false;
      text.focus();
      text.select();
      said.textContent = say('page.call.byhand');
    }
    announce(said.textContent ?? '');
  };
  const ring = horse.contacts?.find(c => c.phone);
  const bar: BarItem[] = [
    { label: say('page.call.copy'), go: () => void copy(), main: !ring },
    { label: say('page.call.print'), go: () => window.print() },
  ];
  if (ring) bar.push({ label: say('page.call.ring'), go: () => undefined, href: 'tel:' + ring.phone!.replace(/[^+0-9*#]/g, ''), main: true });
  show({
    title: say('page.call.title'),
    head: headOf(horse, whenShort(exam.at)),
    out: { label: say('page.call.back'), go: () => go('exam', exam.id, 'result') },
    kind: 'told call',
    body: [
      languages.length > 1 && h('div', { class: 'ways', role: 'group', 'aria-label': say('page.settings.report') }, languages.map(l => h('button', {
        type: 'button', class: 'way', lang: l.id, id: 'report-' + l.id, 'aria-pressed': String(l.id === language),
        click: async () => {
          await store.putPrefs({ reportLang: l.id });
          void callScreen(draft);
        },
      }, l.name))),
      h('p', { class: 'printed', lang: language }, got.report.title), said, text,
      h('div', { lang: language }, got.report.parts.map(p => {
        const lines = p.lines.map(l => h('p', { class: (l.strong ? 'strong' : '') + (l.blank ? ' blank' : '') },
          l.strong ? h('strong', {}, l.text) : l.text));
        // The whole record is for reading, not for telling: folded on the screen, printed in full.
        return p.id === 'basis'
          ? h('section', { class: 'part-basis' }, h('details', {}, h('summary', {}, h('h2', {}, p.heading)), lines))
          : h('section', {}, h('h2', {}, p.heading), lines);
      })),
    ],
    bar,
  });
}
