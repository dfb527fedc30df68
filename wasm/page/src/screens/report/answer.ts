// The clinic's way back: what it advises, in its own words, as a link and a code.

import * as core from '../../core/core';
import type { Answer, Linked, Opened } from '../../core/types';
import { say } from '../../core/words';
import { checkWords, lettersOf } from '../../text/checkwords';
import { rfc3339 } from '../../text/dates';
import * as store from '../../store/store';
import { fill, h, para, svgElement } from '../../ui/dom';
import { field, showFaults } from '../../ui/form';
import { announce, show } from '../../ui/screen';
import { copyText } from '../../ui/share';
import { codeFragment } from './send';

/** link.MaxAdvice and link.MaxAgain. */
const MOST = { advice: 500, again: 200 };

/** The fields of an answer that the library found wrong, by the end of the path. */
const FIELDS = ['advice', 'again', 'next', 'by'];

interface Answering { got: Opened; fragment: string; head: string; page: string | undefined; back: () => void }

export async function answerScreen({ got, fragment, head, page, back }: Answering): Promise<void> {
  const words = await checkWords(fragment);
  const { by = '' } = await store.prefs();
  const typed = { advice: '', again: '', next: '', by };
  const made = h('div', { class: 'sending' });
  const said = h('p', { class: 'result', role: 'status' });
  const box = h('textarea', { class: 'copying', rows: 6, readonly: true, hidden: true, 'aria-label': say('page.answer.link') });
  const type = (id: keyof typeof typed) => (v: string): void => { typed[id] = v; fill(made); fill(said); };
  const make = async (): Promise<void> => {
    showFaults([]);
    const answer: Answer = {
      exam: got.exam.id, ...(words ? { words: lettersOf(words) } : {}), at: rfc3339(new Date()), by: typed.by.trim(), advice: typed.advice.trim(),
      ...(typed.again.trim() ? { again: typed.again.trim() } : {}), ...(typed.next ? { next: rfc3339(new Date(typed.next)) } : {}),
    };
    let linked: Linked;
    try {
      linked = await core.call<Linked>('answer', { answer, page: page ?? 'https://whorl.example/' });
    } catch (e) {
      return showFaults(e instanceof core.Refused
        ? e.faults.map(f => ({ field: FIELDS.find(x => f.path.endsWith('/' + x)) ?? 'advice', sentence: f.sentence }))
        : [{ field: 'advice', sentence: say('page.nocore.how') }]);
    }
    const link = page ? linked.link : '#' + linked.fragment;
    const copy = async (): Promise<void> => {
      fill(said, say(await copyText(link, box) ? 'page.call.copied' : 'page.call.byhand'));
      announce(said.textContent ?? '');
    };
    const share = async (): Promise<void> => {
      try {
        await navigator.share({ title: say('page.answer.share', { name: got.horse.name }), url: link });
      } catch (e) {
        if (!(e instanceof DOMException && e.name === 'AbortError')) await copy();
      }
    };
    const check = await checkWords(linked.fragment);
    const drawn = linked.code && page ? await checkWords(codeFragment(linked.code)!) : undefined;
    fill(made,
      h('h2', {}, say('page.answer.link')), para(say('page.answer.link.how'), 'how'), said, box,
      h('div', { class: 'choices' },
        page && 'share' in navigator && h('button', { type: 'button', class: 'all', id: 'share', click: () => void share() }, say('page.send.share')),
        h('button', { type: 'button', class: 'all', id: 'copy', click: () => void copy() }, say('page.send.copy'))),
      check && h('p', { class: 'check' }, say('page.answer.check', { words: check })),
      page && (linked.code ? h('div', { class: 'code' }, svgElement(linked.code.svg), para(say('page.send.code.how')), drawn && h('p', { class: 'check' }, say('page.send.check.code', { words: drawn })))
        : para(say('page.send.nocode'), 'how')));
    made.dataset.link = link;
    made.scrollIntoView({ block: 'start' });
    announce(say('page.answer.made'));
  };
  show({
    title: say('page.answer.title', { name: got.horse.name }), head, kind: 'told answering',
    body: [
      para(say('page.answer.how'), 'how'),
      field({ id: 'advice', label: say('page.answer.advice'), hint: say('page.answer.most', { n: MOST.advice }), long: true, input: type('advice') }),
      field({ id: 'again', label: say('page.answer.again'), hint: say('page.answer.most', { n: MOST.again }), long: true, input: type('again') }),
      field({ id: 'next', label: say('page.answer.next'), type: 'datetime-local', input: type('next') }),
      field({ id: 'by', label: say('page.answer.by'), hint: say('page.answer.by.hint'), value: by, input: type('by') }),
      made,
    ],
    bar: [{ label: say('page.back'), go: back }, { label: say('page.answer.make'), go: () => void make(), main: true }],
  });
}
