// What became of a call, and the number to call where none is known.

import type { Book, ID } from '../../core/types';
import { say } from '../../core/words';
import { heading } from '../../text/names';
import { dialable } from '../../text/numbers';
import { closeCall, coverReasons, editCall, examOf, putCallNote, putDied } from '../../store/calls';
import { allNumbers, keepNumbers } from '../../store/pack';
import * as store from '../../store/store';
import { fill, h, para } from '../../ui/dom';
import { field, showFaults } from '../../ui/form';
import { phoneLinks } from '../../ui/phonelinks';
import { go, goInstead } from '../../ui/route';
import { announce, show } from '../../ui/screen';
import { redFlagsOf } from '../../exam/alarms';
import { callText } from '../../exam/callbox';

/** vitals.MaxNote, and the control characters and half characters that no text of a record has. */
const MOST = 2000;
const BROKEN = /[\0-\x08\x0b-\x1f\x7f-\x9f\p{Cs}]/u;

/** What became of a call, in the person's words. */
export async function outcomeScreen(book: Book, id: ID, preset?: string): Promise<void> {
  const got = await examOf(id);
  if (!got?.exam.call) return goInstead();
  const { exam, horse } = got;
  const known = preset === 'mistake';
  // Whoever came from an exam with it goes back there.
  const back = (): void => (known ? history.back() : horse ? go('horse', horse.id) : go());
  let outcome = known ? say('page.outcome.mistake') : exam.call!.outcome ?? '';
  let died = false;
  const after = h('p', { role: 'status' });
  const box = field({ id: 'outcome', label: say('page.outcome'), hint: say('page.outcome.hint'), long: true, value: outcome, input: v => { outcome = v; showFaults([]); } });
  const presets = ['came', 'advised', 'clinic', 'died', 'mistake'].map(p => h('button', {
    type: 'button', class: 'tile', id: 'outcome-' + p, click: () => {
      outcome = say('page.outcome.' + p);
      died = p === 'died' && !!horse;
      fill(after, died && say('page.outcome.died.how', { name: horse!.name }));
      box.querySelector('textarea')!.value = outcome;
      showFaults([]);
    },
  }, say('page.outcome.' + p)));
  // It goes on: the card is as before the telling, and calls.
  const open = (['worse', 'unreached'] as const).map(again => h('button', {
    type: 'button', class: 'tile', id: 'outcome-' + again, click: async () => {
      if (await putCallNote(exam.id, { again })) go('say', exam.id, ...(again === 'unreached' ? ['unanswered'] : []));
    },
  }, say('page.outcome.' + again)));
  const save = async (): Promise<void> => {
    if (!outcome.trim()) return showFaults([{ field: 'outcome', sentence: say('page.fault.outcome') }]);
    // What the library would refuse is refused here: an exam that holds it could be in no file.
    if ([...outcome.trim()].length > MOST || BROKEN.test(outcome)) return showFaults([{ field: 'outcome', sentence: say('page.fault.text') }]);
    const flags = horse ? redFlagsOf(book, horse, exam).map(f => f.id) : got.flags ?? [];
    if (!(await coverReasons(exam, flags) && await editCall(exam, closeCall(outcome.trim())))) return;
    if (died) await putDied(horse!.id, true);
    back();
    announce(say('page.outcome.done'));
  };
  show({
    title: say('page.outcome'),
    head: heading(horse ?? { name: say('page.wrong.unnamed') }, say('page.call.outcome')),
    body: [
      para(callText(exam)),
      !known && [h('h2', {}, say('page.outcome.open')), h('div', { class: 'choices row-of' }, open)],
      h('h2', {}, say('page.outcome.closed')), h('div', { class: 'choices row-of' }, presets), after, box,
    ],
    bar: [{ label: say('page.back'), go: back }, { label: say('page.save'), go: () => void save(), main: true }],
  });
}

/** The number to call, where none is known; it stays on this device. */
export async function numberScreen(): Promise<void> {
  const others = phoneLinks(allNumbers(await store.horses()));
  let phone = '';
  const save = async (): Promise<void> => {
    if (dialable(phone).length !== 1) return showFaults([{ field: 'vet', sentence: say('page.fault.number-vet') }]);
    if (await keepNumbers({ vet: phone.trim() })) history.back();
  };
  show({
    title: say('page.number.title'), head: say('page.barn'), whereGo: () => go(),
    body: [others.length > 0 && [h('h2', {}, say('page.number.known')), others], para(say('page.number.how'), 'how'), field({ id: 'vet', label: say('page.number'), type: 'tel', fill: 'tel', input: v => { phone = v; } })],
    bar: [{ label: say('page.back'), go: () => history.back() }, { label: say('page.save'), go: () => void save(), main: true }],
  });
}
