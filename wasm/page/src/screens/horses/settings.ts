// What holds for the whole page: its language, the reports', and the units.

import { lang, languages, say, setLanguage } from '../../core/words';
import { unitName } from '../../text/names';
import { reportLang, units } from '../../store/preferences';
import * as store from '../../store/store';
import { h, link, para } from '../../ui/dom';
import { choiceField } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { setTheme, theme, themes } from '../../ui/theme';

export async function settingsScreen(): Promise<void> {
  const prefs = await store.prefs();
  const named = languages.map(l => ({ value: l.id, label: l.name, lang: l.id }));
  show({
    title: say('page.settings'),
    head: say('page.barn'),
    body: [
      choiceField({
        id: 'lang', legend: say('page.settings.lang'), tiles: true, chosen: [lang], options: named,
        change: async ([l]) => {
          await setLanguage(l);
          await store.putPrefs({ lang: l });
          go('settings');
        },
      }),
      say('page.translation') !== '' && para(say('page.translation'), 'how'),
      choiceField({
        id: 'report-lang', legend: say('page.settings.report'), tiles: true, chosen: [reportLang(prefs)], options: named,
        change: ([l]) => void store.putPrefs({ reportLang: l }),
      }),
      choiceField({
        id: 'theme', legend: say('page.settings.theme'), tiles: true, chosen: [theme()],
        options: themes.map(t => ({ value: t, label: say('page.theme.' + t) })), change: ([t]) => setTheme(t),
      }),
      Object.entries(units).map(([what, choices]) => choiceField({
        id: 'unit-' + what, legend: say('page.settings.unit.' + what), tiles: true, chosen: [prefs.units?.[what] ?? choices[0]!],
        options: choices.map(u => ({ value: u, label: unitName(u) })),
        change: async ([u]) => void store.putPrefs({ units: { ...(await store.prefs()).units, [what]: u! } }),
      })),
      h('p', { class: 'how' }, say('page.settings.unit.how')),
      h('p', {}, link(say('page.number.enter'), () => go('number'), { id: 'number' })),
    ],
    bar: [{ label: say('page.back'), go: () => go(), main: true }],
  });
}
