// The report as it is read on the telephone: large, one breath at a time.

import type { Chunk, Reported } from '../../core/types';
import { lang, languages, say } from '../../core/words';
import { pack, vetLanguage } from '../../store/pack';
import * as store from '../../store/store';
import { type Child, fill, h, link, para } from '../../ui/dom';
import { onLeave, show } from '../../ui/screen';

/** The languages, the clinic's first, in its order. */
function inOrder(): typeof languages {
  const clinic = pack()?.langs ?? [];
  return [...clinic.flatMap(id => languages.filter(l => l.id === id)), ...languages.filter(l => !clinic.includes(l.id))];
}

/** Chooses the language of what is told, apart from the page's. Nothing where there is but one. */
export function languageChoice(chosen: string, change: (l: string) => void): Child {
  if (languages.length < 2) return undefined;
  return h('div', { class: 'ways', role: 'group', 'aria-label': say('page.settings.report') }, inOrder().map(l => h('button', {
    type: 'button', class: 'way', lang: l.id, id: 'report-' + l.id, 'aria-pressed': String(l.id === chosen),
    click: async (e: Event) => {
      for (const b of document.querySelectorAll('.way[id^=report-]')) b.setAttribute('aria-pressed', String(b === e.currentTarget));
      await store.putPrefs({ reportLang: l.id });
      change(l.id);
    },
  }, l.name)));
}

/** A voice of this device: one that sends the words elsewhere is none. */
function voiceOf(l: string): SpeechSynthesisVoice | undefined {
  if (!('speechSynthesis' in window)) return undefined;
  return speechSynthesis.getVoices().find(v => v.localService && v.lang.split(/[-_]/)[0] === l);
}

const textOf = (c: Chunk): string => c.pieces.map(p => p.say).join('');
const wordsOf = (c: Chunk): number => (c.blank ? 0 : textOf(c).split(/\s+/).length);

/** Minutes and seconds at the pace of one who writes along: 150 words a minute. */
function pace(chunks: Chunk[]): string {
  const seconds = Math.ceil(chunks.reduce((n, c) => n + wordsOf(c), 0) / 2.5 / 5) * 5;
  return say('page.aloud.pace', { minutes: Math.floor(seconds / 60), seconds: String(seconds % 60).padStart(2, '0') });
}

export interface ReadAloud { head: string; load: (lang: string) => Promise<Reported>; back: () => void; ring?: string }

export async function readAloudScreen(t: ReadAloud): Promise<void> {
  let told = await vetLanguage();
  let chunks = (await t.load(told)).aloud;
  let at = 0;

  const count = h('p', { class: 'count' });
  const heading = h('h2', {});
  const text = h('div', { class: 'breath', id: 'breath', tabindex: -1 });
  const voice = h('p', { class: 'voice' });
  const more = h('div', {});
  const speak = (): void => {
    const v = voiceOf(told);
    const c = chunks[at];
    if (!v || !c || c.blank) return;
    speechSynthesis.cancel();
    const u = new SpeechSynthesisUtterance(textOf(c));
    u.voice = v;
    u.lang = v.lang;
    u.rate = 0.9;
    speechSynthesis.speak(u);
  };
  const voices = (): void => fill(voice, voiceOf(told) && !chunks[at]?.blank && link(say('page.aloud.speak'), speak, { id: 'speak' }));
  const draw = (moved: boolean): void => {
    const c = chunks[at];
    if (!c) return;
    fill(count, say('page.aloud.of', { n: at + 1, of: chunks.length }), at === 0 && ' · ', at === 0 && pace(chunks));
    fill(heading, c.heading);
    text.lang = told;
    heading.lang = told;
    text.className = 'breath' + (c.strong ? ' strong' : '');
    if (c.blank) {
      fill(text, h('p', { class: 'how', lang }, say('page.aloud.blank')), h('ul', {}, c.pieces.map(p => h('li', {}, p.say))));
    } else {
      fill(text, h('p', {}, c.pieces.map(p => (p.figure ? h('b', { title: p.figure }, p.say) : p.say))));
    }
    voices();
    // What can be changed stands at the first breath only: nothing but the words after it.
    fill(more, at === 0 && languageChoice(told, l => void turn(l)));
    if (moved) text.focus({ preventScroll: true });
    window.scrollTo(0, 0);
    const back = document.querySelector<HTMLElement>('.bar .go:not(.main)');
    if (back) back.textContent = at === 0 ? say('page.call.back.to') : say('page.aloud.back');
    const on = document.getElementById('go');
    if (on) on.textContent = at === chunks.length - 1 ? say('page.aloud.done') : say('page.aloud.next');
  };
  const turn = async (l: string): Promise<void> => {
    told = l;
    chunks = (await t.load(l)).aloud;
    at = 0;
    draw(false);
  };
  const step = (by: number): void => {
    if ('speechSynthesis' in window) speechSynthesis.cancel();
    if (at + by < 0 || at + by >= chunks.length) return t.back();
    at += by;
    draw(true);
  };
  // Some browsers name their voices only after a while.
  if ('speechSynthesis' in window) {
    speechSynthesis.addEventListener('voiceschanged', voices);
    onLeave(() => { speechSynthesis.removeEventListener('voiceschanged', voices); speechSynthesis.cancel(); });
  }
  show({
    title: say('page.call.title'), head: t.head, kind: 'told aloud',
    out: { label: say('page.call.back.to'), go: t.back },
    body: [chunks.length === 0 && para(say('page.aloud.nothing')), count, heading, text, voice, more],
    bar: [{ label: say('page.aloud.back'), go: () => step(-1) }, { label: say('page.aloud.next'), go: () => step(1), main: true }],
  });
  draw(false);
}
