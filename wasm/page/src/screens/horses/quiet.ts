// A quiet-day exam, from the icon of the page: of which animal?

import { say } from '../../core/words';
import * as store from '../../store/store';
import { h } from '../../ui/dom';
import { go, goInstead } from '../../ui/route';
import { show } from '../../ui/screen';

export async function quietScreen(): Promise<void> {
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  if (horses.length < 2) return goInstead(...(horses[0] ? ['new', horses[0].id, 'learning'] : []));
  show({
    title: say('page.wrong.who'), head: say('page.quiet'),
    body: [h('div', { class: 'choices' }, horses.map(x =>
      h('button', { type: 'button', class: 'all', id: 'quiet-' + x.id, click: () => go('new', x.id, 'learning') }, x.name)))],
    bar: [{ label: say('page.back'), go: () => go() }],
  });
}
