// Files: the barn out and in, a horse's table, practice in the calendar, the clinic's file.

import * as core from '../../core/core';
import type { BarnFile, Horse, ID } from '../../core/types';
import { list, say } from '../../core/words';
import { rfc3339 } from '../../text/dates';
import { type Written, writeWhole } from '../../store/apart';
import { fromNewer, unread } from '../../store/barn';
import { checkCopy, type Copy, takeCopy } from '../../store/copy';
import { markExported, mergeFile, notExported, wholeBarn } from '../../store/merge';
import { chosenByHand, dropPack, pack, withPack } from '../../store/pack';
import * as store from '../../store/store';
import { caution, type Child, fill, h, link, para } from '../../ui/dom';
import { choiceField, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';
import { fileName, saveButtons } from '../../ui/share';
import { chosenText, packField, takePack } from '../report/open';
import { coreText, makeFile } from '../report/send';
import { answered, arrived } from './arrived';
import { openConflicts, undoBox } from './conflicts';

const dayOf = (d: Date): string => rfc3339(d).slice(0, 10);

/** How many exams are in no file yet, and what may still be chosen: at the foot of the barn. */
export async function fillFileNotes(box: HTMLElement): Promise<void> {
  const [exams, open] = await Promise.all([notExported(), openConflicts()]);
  const copy = await checkCopy();
  fill(box,
    undoBox(() => go()), copy.more.length > 0 && copyText(copy, () => go()),
    exams.length > 0 && h('p', {}, say('page.files.unfiled', { n: exams.length }), ' ', link(say('page.files.unfiled.go'), () => go('files'), { id: 'to-files' })),
    open.length > 0 && h('p', {}, say('page.files.conflicts', { n: open.length }), ' ', link(say('page.files.conflicts.go'), () => go('conflicts'), { id: 'to-conflicts' })));
}

/** What there is of a second copy, and what it alone holds. */
const copyText = ({ lacks, more }: Copy, again: () => void): Child => [
  para(say(lacks === undefined ? 'page.copy.none' : lacks ? 'page.copy.lacks' : 'page.copy.whole', { n: lacks ?? 0 })),
  more.length > 0 && h('p', {}, say('page.copy.more', { n: more.length }), ' ', link(say('page.copy.take'), async () => { if (await takeCopy()) again(); }, { id: 'take-copy' })),
];

export async function filesScreen(): Promise<void> {
  const horses = (await store.horses()).sort((a, b) => a.name.localeCompare(b.name));
  const said = h('p', { class: 'result', role: 'status' });
  const state = h('div', {});
  let out: BarnFile | undefined;
  let apart: Written['apart'] = [];
  const tell = async (): Promise<void> => {
    const n = (await notExported()).length;
    const open = (await openConflicts()).length;
    const newer = (await fromNewer()).length;
    fill(state, undoBox(() => void filesScreen()), caution(para(say(n ? 'page.files.unfiled' : 'page.files.allfiled', { n })),
      open > 0 && h('p', {}, say('page.files.conflicts', { n: open }), ' ', link(say('page.files.conflicts.go'), () => go('conflicts'), { id: 'to-conflicts' })),
      newer > 0 && para(say('page.files.newer', { n: newer })),
      copyText(await checkCopy(), () => void filesScreen()),
      ...notUnderstood([...apart, ...(await unread()).map(u => ({ ...u, sentence: '' }))])));
  };

  const barn = makeFile(`whorl-barn-${dayOf(new Date())}.json`, 'application/json', async () => {
    out = await wholeBarn();
    const written = await writeWhole(out);
    apart = written.apart;
    return written.text;
  });
  const isOut = async (): Promise<void> => {
    if (!out) return;
    await markExported(out.exams);
    fill(said, say('page.files.out.done', { horses: out.horses.length, exams: out.exams.length }));
    await tell();
  };
  const added = async (file: BarnFile, back?: ID[]): Promise<void> => {
    const taken = await mergeFile(file, false, back);
    showFaults([]);
    if (!taken) return;
    // What is in the file is in a file. What was changed here since is not.
    await markExported(file.exams);
    const { held, heldExams } = taken;
    fill(said, say('page.files.in.done', { horses: taken.horses, exams: taken.exams }), ' ', taken.conflicts > 0 && say('page.files.in.conflicts', { n: taken.conflicts }),
      held.length > 0 && [' ', say('page.files.in.held', { names: list(held.map(x => x.name)), n: heldExams }), ' ',
        link(say('page.copy.take'), () => void added(file, held.map(x => x.id)).catch(refused), { id: 'bring-back' })]);
    await tell();
  };
  const refused = (e: unknown): void => {
    showFaults(e instanceof core.Refused ? e.faults.slice(0, 20).map(f => ({ field: 'file', sentence: `${f.sentence} ${f.path}`.trim() }))
      : [{ field: 'file', sentence: e instanceof core.NoCore ? say('page.nocore.how') : say('page.files.unread') }]);
    fill(said, say('page.files.in.not'));
  };
  const takeFile = (chosen: File): Promise<void> => chosenText(chosen).then(file => core.call<BarnFile>('read', { file })).then(file => added(file)).catch(refused);
  const take = async (input: HTMLInputElement): Promise<void> => {
    const chosen = input.files?.[0];
    if (!chosen) return;
    await takeFile(chosen);
    input.value = '';
  };
  // Nobody but the person says that a file is to be taken in.
  const came = (await arrived()).map(file => {
    const box = caution(para(say('page.files.arrived', { name: file.name })), h('button', { type: 'button', class: 'all', click: async () => {
      answered(file);
      const clinics = /"kind"\s*:\s*"whorl-pack"/.test(await file.slice(0, 4096).text());
      await (clinics ? takePack(file, () => void filesScreen()) : takeFile(file));
      box.remove();
    } }, say('page.files.arrived.take')));
    return box;
  });
  const input = h('input', { type: 'file', id: 'file', accept: '.json,application/json,.txt', change: () => void take(input) });
  await tell();
  await withPack();
  const p = pack();
  show({
    title: say('page.files.title'), head: say('page.barn'),
    out: { label: say('page.barn'), go: () => go() },
    body: [
      para(say('page.files.how'), 'how'), location.protocol === 'file:' && caution(para(say('page.files.disk'))), came, state, said,
      saveButtons(say('page.files.barn'), 'barn', barn, isOut),
      h('div', { class: 'field' }, h('label', { for: 'file' }, say('page.files.in')), h('span', { class: 'note' }, say('page.files.in.hint')), input),
      h('h2', {}, say('page.files.link')),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'all', id: 'paste', click: () => go('open') }, say('page.open.paste'))),
      horses.length > 0 && perHorse(horses),
      h('h2', {}, say('page.print.title')),
      h('div', { class: 'choices' }, ['walk-up', 'hands-on', 'full'].map(d =>
        h('button', { type: 'button', class: 'all', id: 'blank-' + d, click: () => go('blank', d) }, say('page.print.blank', { depth: say('depth.' + d) })))),
      h('h2', {}, say('page.pack.title')),
      para(p ? say('page.pack.in', { clinic: p.clinic.name }) : say('page.pack.none'), 'how'),
      packField(() => void filesScreen()),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'all', id: 'clinic-file', click: () => go('clinic', 'file') }, say('page.made.title'))),
      (await chosenByHand()) && link(say('page.pack.drop'), () => void dropPack().then(filesScreen), { id: 'pack-drop' }),
    ],
    bar: [{ label: say('page.back'), go: () => go(), main: true }],
  });
}

/** What does not keep the rules, by whose it is, and what is wrong: it is in the file, and mended on the horse's own screen. */
function notUnderstood(all: Written['apart']): Child[] {
  return [...new Set(all.map(x => x.of))].map(name => {
    const of = all.filter(x => x.of === name);
    const { horse } = of[0]!;
    return h('p', { class: 'apart' }, say('page.files.apart', { n: of.length, name }), ' ', [...new Set(of.map(x => x.sentence))].join(' '), ' ',
      horse && link(name, () => go('horse', horse)));
  });
}

/** What goes out of one horse: its table, its sheet, practice in the calendar. */
function perHorse(horses: Horse[]): Child {
  let horse = horses[0]!;
  const box = h('div', {});
  const draw = (): void => {
    const name = fileName(horse.name);
    const table = makeFile(name + '-readings.csv', 'text/csv', async () => {
      const exams = (await store.examsOf(horse.id)).filter(e => e.status === 'finished');
      return coreText('sheet', { horse, exams });
    });
    const practice = makeFile(name + '-practice.ics', 'text/calendar', async () => {
      const start = new Date();
      start.setDate(start.getDate() + 1);
      start.setHours(8, 0, 0, 0);
      return coreText('calendar', { stamp: rfc3339(new Date()), events: [{
        uid: `${horse.id}-practice`, start: rfc3339(start), minutes: 15, everyDays: 7, times: 8,
        summary: say('page.calendar.practice.title', { name: horse.name }), description: say('page.calendar.practice.how'), remindMinutes: 0,
      }] });
    });
    fill(box,
      saveButtons(say('page.files.table'), 'table', table), saveButtons(say('page.calendar.practice'), 'practice', practice),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'all', id: 'stall', click: () => go('horse', horse.id, 'stall') }, say('page.print.stall'))));
  };
  draw();
  return [h('h2', {}, say('page.files.horse')), choiceField({
    id: 'which', legend: say('page.files.which'), tiles: true, chosen: [horse.id],
    options: horses.map(x => ({ value: x.id, label: x.name })), change: ([id]) => { horse = horses.find(x => x.id === id) ?? horse; draw(); },
  }), box];
}
