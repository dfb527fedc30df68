// The barn, a horse with its exams, and the form for a horse.

import { ago, when } from './clock';
import * as core from './core';
import { caution, choosing, drawing, faults, field, fill, h, link, para, show, type Child, type Trouble } from './dom';
import { demoIDs, isDemo } from './demo';
import { aboutHorse, headOf } from './names';
import { go, later } from './route';
import { otherLanguages } from './settings';
import * as store from './store';
import { telOf } from './pack';
import { allKept, dueText, isDue, keptOf, knownOf, unknownText, type Seen } from './known';
import type { Book, Contact, Exam, Horse } from './types';
import { setTheme, theme } from './theme';
import { say } from './words';

/** Puts what is known of a horse into the room that is kept for it. */
function showKnown(k: Seen | undefined, face: HTMLElement, line: HTMLElement, more: (k: Seen) => void): void {
  if (!k) return;
  more(k);
  const svg = drawing(k.whorl);
  if (svg) face.replaceChildren(svg);
  line.textContent = say(k.exams ? 'page.barn.known' : 'page.barn.unknown', { n: k.exams });
}

export async function barnScreen(version: string, newer: HTMLElement | undefined): Promise<void> {
  const [horses, exams, known] = await Promise.all([store.horses(), store.exams(), allKept().catch(() => [])]);
  horses.sort((a, b) => a.name.localeCompare(b.name));
  const byID = new Map(horses.map(x => [x.id, x]));
  const drafts = exams.filter(e => e.status === 'draft' && byID.has(e.horse)).sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const resume = async (e: Exam): Promise<void> => go('exam', e.id, ...((await store.place(e.id)) ?? '0').split('/'));

  const demo = horses.some(isDemo);
  const takeOut = async (): Promise<void> => {
    if (await store.dropHorses(demoIDs(horses))) {
      await store.putPrefs({ demo: 'out' });
      void barnScreen(version, newer);
    }
  };
  const filling: { horse: Horse; exams: Exam[]; show: (k: Seen | undefined) => void }[] = [];
  const rows = horses.map(x => {
    const mine = exams.filter(e => e.horse === x.id && e.status === 'finished');
    const last = mine.map(e => e.at).sort((a, b) => Date.parse(a) - Date.parse(b)).pop();
    const face = h('span', { class: 'face', 'aria-hidden': 'true' });
    const room = mine.length ? ' room' : '';
    const line = h('span', { class: 'note' + room }, mine.length ? say('page.barn.exams', { n: mine.length }) : say('page.barn.never'));
    const due = h('span', { class: 'note due-note' + room });
    // A horse that was never examined says so already; its first exam is always due.
    const more = (k: Seen): void => fill(due, [mine.length > 0 && isDue(k.due) ? say('page.practise.due') : '', k.exams ? unknownText(k.due) : '']
      .filter(Boolean).map((t, i) => h(i || !isDue(k.due) ? 'span' : 'strong', {}, t, ' ')));
    filling.push({ horse: x, exams: mine, show: k => showKnown(k, face, line, more) });
    return h('li', {}, h('button', { type: 'button', class: 'horse', click: () => go('horse', x.id) }, face,
      h('span', { class: 'words' }, h('span', { class: 'name' }, x.name, isDemo(x) && h('span', { class: 'demo' }, say('page.demo'))),
        h('span', { class: 'note' }, aboutHorse(x)), line, due,
        last && h('span', { class: 'note' }, say('page.barn.last', { ago: ago(last) })))),
      h('button', { type: 'button', class: 'now', id: 'look-' + x.id, 'aria-label': `${say('page.barn.look')}: ${x.name}`, click: () => go('new', x.id) }, say('page.barn.look')));
  });
  // What is kept of each horse is there at once, so that no row moves under the thumb; what must be worked out comes later.
  const unknown = filling.filter(f => {
    const seen = keptOf(known, f.horse, f.exams);
    f.show(seen);
    return !seen;
  });
  const kept = h('div', { class: 'kept' });
  show({
    title: horses.length ? say('page.barn.title') : say('page.barn.empty'),
    head: say('page.name'),
    beside: otherLanguages(),
    out: { label: say('page.files'), go: () => go('files') },
    body: [
      newer,
      drafts.map((e, i) => h('div', { class: 'draft' },
        h('p', {}, h('strong', {}, say('page.draft', { name: byID.get(e.horse)!.name })), ' ', say('page.draft.begun', { ago: ago(e.at) })),
        h('p', {}, i > 0 && link(say('page.draft.on'), () => void resume(e)), link(say('page.draft.drop'), () => go('drop', e.id))))),
      horses.length === 0 && para(say('page.barn.empty.how')),
      h('ul', { class: 'horses' }, rows),
      demo && caution(para(say('page.demo.note')), link(say('page.demo.out'), () => void takeOut(), { id: 'demo-out' })),
      kept,
      say('page.translation') !== '' && para(say('page.translation'), 'note'),
      horses.length > 0 && h('p', { class: 'marks' }, link(say('page.recovery.open'), () => go('recovery'), { id: 'recovery' })),
      h('p', { class: 'marks' }, link(say('page.settings'), () => go('settings'), { id: 'settings' }),
        link(say(theme() === 'night' ? 'page.theme.to.paper' : 'page.theme.to.night'), () => {
          setTheme(theme() === 'night' ? 'paper' : 'night');
          void barnScreen(version, newer);
        }, { id: 'night' })),
      h('p', { class: 'version' }, say('page.version', { version }), ' · ', say('page.private')),
      h('p', {}, link(say('page.figures'), () => go('figures'))),
    ],
    bar: [
      { label: say('page.horse.add'), go: () => go('horse', 'new'), main: horses.length === 0 },
      ...drafts.slice(0, 1).map(e => ({ label: say('page.draft.on.with', { name: byID.get(e.horse)!.name }), go: () => void resume(e), main: true })),
    ],
  });
  // On a first visit there is nothing to say, and the line is the core's.
  if (!horses.every(isDemo) || !exams.every(isDemo)) void later().then(l => l.fillKept(kept)).catch(() => undefined);
  for (const f of unknown) void knownOf(f.horse, f.exams).then(f.show);
}

export async function horseScreen(horse: Horse): Promise<void> {
  const exams = (await store.examsOf(horse.id)).reverse();
  const face = h('span', { class: 'face', 'aria-hidden': 'true' });
  // What the core says comes later, into room that is kept for it: nothing below moves.
  const line = h('p', { class: 'how' });
  const due = h('p', { id: 'known-due' });
  void knownOf(horse, exams).then(known => showKnown(known, face, line, k => fill(due, h('strong', {}, dueText(k.due)), ' ', unknownText(k.due), ' ',
    say(horse.born ? 'page.horse.stage' : 'page.horse.stage.unknown', { stage: say('stage.' + k.stage) }))));
  // What was looked at within half a day can be watched; later a watch would begin with a new exam.
  const recent = exams.find(e => e.status === 'finished' && e.state.condition !== 'after-work' && Date.now() - Date.parse(e.at) < 12 * 3_600_000);
  const rows = exams.map(e => h('li', {}, h('button', {
    type: 'button', class: 'exam',
    click: async () => go('exam', e.id, ...(e.status === 'draft' ? ((await store.place(e.id)) ?? '0').split('/') : ['result'])),
  }, h('span', { class: 'name' }, when(e.at)), h('span', { class: 'note' },
    [say('depth.' + e.depth), say('purpose.' + e.purpose), e.state.condition === 'rest' ? '' : say('condition.' + e.state.condition),
      e.status === 'draft' ? say('page.draft.mark') : e.wellness ? say('wellness.' + e.wellness) : say('page.unlabelled')].filter(Boolean).join(' · '))),
    e.status === 'finished' && h('button', { type: 'button', class: 'other', id: 'report-' + e.id, 'aria-label': say('page.horse.report.of', { when: when(e.at) }), click: () => go('exam', e.id, 'call') }, say('page.horse.report'))));
  show({
    title: horse.name,
    head: say('page.barn'),
    out: { label: say('page.horse.edit'), go: () => go('horse', horse.id, 'edit') },
    body: [
      h('div', { class: 'horse' }, face, h('span', { class: 'words' },
        h('span', { class: 'note' }, aboutHorse(horse), isDemo(horse) && h('span', { class: 'demo' }, say('page.demo'))),
        horse.breed && h('span', { class: 'note' }, horse.breed), horse.markings && h('span', { class: 'note' }, horse.markings))),
      h('div', { id: 'known' }, line, due),
      h('p', { class: 'marks' }, link(say('page.practise.open'), () => go('practise', horse.id), { id: 'practise' }),
        recent && link(say('page.watch.series', { name: horse.name }), () => go('watch', recent.recheckOf ?? recent.id), { id: 'watch' })),
      horse.notes && para(horse.notes),
      horse.stands && para(say('page.horse.stands.at', { stands: horse.stands })),
      (horse.contacts ?? []).map(c => (c.phone
        ? h('a', { class: 'ring', href: telOf(c.phone) }, h('span', { class: 'answer' }, say('page.call.ring.at', { name: c.name })), h('span', { class: 'note' }, [c.phone, c.role].filter(Boolean).join(' · ')))
        : para([c.name, c.role].filter(Boolean).join(' · ')))),
      h('h2', {}, say('page.horse.exams')),
      rows.length ? h('ul', { class: 'exams' }, rows) : para(say('page.horse.noexams'), 'how'),
      rows.length > 0 && h('p', { class: 'marks' }, link(say('page.history.of'), () => go('horse', horse.id, 'history'), { id: 'history' }),
        rows.length > 1 && link(say('page.pair'), () => go('horse', horse.id, 'pair'), { id: 'pair' })),
    ],
    bar: [
      { label: say('page.back'), go: () => go() },
      { label: say('page.horse.look', { name: horse.name }), go: () => go('new', horse.id), main: true },
    ],
  });
}

export function horseForm(book: Book, given: Horse | undefined): void {
  const horse: Horse = { ...(given ?? { id: crypto.randomUUID(), name: '', type: '' }) };
  let contacts: Contact[] = (horse.contacts?.length ? horse.contacts : [{ name: '' }]).map(c => ({ ...c }));
  let born = horse.born ? (horse.bornYearOnly ? horse.born.slice(0, 4) : horse.born) : '';
  const back = (): void => (given ? go('horse', given.id) : go());
  const text = (id: 'name' | 'breed' | 'markings' | 'notes' | 'stands', hint = false, long = false): HTMLElement => field({
    id, label: say('page.horse.' + id), long, hint: hint ? say(`page.horse.${id}.hint`) : undefined, value: horse[id], input: v => { horse[id] = v; },
  });
  const inFoal = h('div');
  const foal = (): void => {
    inFoal.replaceChildren(...(horse.sex === 'mare' ? [choosing({
      id: 'inFoal', legend: say('page.horse.foal'), many: true, quiet: true, chosen: horse.inFoal ? ['yes'] : [],
      options: [{ value: 'yes', label: say('page.horse.inFoal') }], change: v => { horse.inFoal = v.length > 0; },
    })] : []));
  };
  foal();

  const save = async (): Promise<void> => {
    const list: Trouble[] = [];
    if (!horse.name.trim()) list.push({ field: 'name', sentence: say('page.fault.name') });
    if (!horse.type) list.push({ field: 'type', sentence: say('page.fault.type') });
    const b = bornOf(born.trim());
    if (!b) list.push({ field: 'born', sentence: say('page.fault.born') });
    faults(list);
    if (list.length || !b) return;
    const clean: Horse = { id: horse.id, name: horse.name.trim(), type: horse.type };
    if (horse.sex) clean.sex = horse.sex;
    Object.assign(clean, b);
    for (const key of ['breed', 'markings', 'notes', 'stands'] as const) if (horse[key]?.trim()) clean[key] = horse[key]!.trim();
    if (horse.inFoal && horse.sex === 'mare') clean.inFoal = true;
    if (given?.newUsual) clean.newUsual = given.newUsual;
    const named = contacts.map(c => {
      const [name, phone, role] = [c.name, c.phone, c.role].map(t => (t ?? '').trim());
      return { name: name || phone!, ...(phone ? { phone } : {}), ...(role ? { role } : {}) };
    }).filter(c => c.name);
    if (named.length) clean.contacts = named;
    try {
      const wrong = (await core.call<{ faults: { path: string; sentence: string }[] }>('check', { horse: clean })).faults;
      faults(wrong.map(f => ({ field: fieldOf(f.path), sentence: f.sentence })));
      if (wrong.length) return;
    } catch (e) {
      if (e instanceof core.Refused) return faults(e.faults.map(f => ({ field: 'name', sentence: f.sentence })));
    }
    if (await store.putHorse(clean)) go('horse', clean.id);
  };

  // Whom to ring, in order: the veterinarian first, then whoever else must know.
  const people = h('div');
  const drawPeople = (): void => fill(people, contacts.map((c, i) => h('fieldset', { class: 'contact' },
    h('legend', {}, say('page.horse.contact.n', { n: i + 1 })),
    field({ id: i ? 'contact-' + i : 'contact', label: say(i ? 'page.horse.contact.name' : 'page.horse.vet'), value: c.name, input: v => { c.name = v; } }),
    field({ id: i ? 'phone-' + i : 'phone', label: say('page.horse.phone'), type: 'tel', value: c.phone ?? '', input: v => { c.phone = v; } }),
    field({ id: 'role-' + i, label: say('page.horse.role'), hint: say('page.horse.role.hint'), value: c.role ?? '', input: v => { c.role = v; } }),
    (contacts.length > 1 || c.name) && link(say('page.horse.contact.drop', { n: i + 1 }), () => { contacts = contacts.filter(x => x !== c); if (!contacts.length) contacts = [{ name: '' }]; drawPeople(); }))),
  h('p', {}, link(say('page.horse.contact.add'), () => { contacts.push({ name: '' }); drawPeople(); document.getElementById('contact-' + (contacts.length - 1))?.focus(); }, { id: 'contact-add' })));
  drawPeople();

  const body: Child[] = [
    text('name'),
    choosing({
      id: 'type', legend: say('page.horse.type'), chosen: [horse.type], tiles: true,
      options: book.types.map(t => ({ value: t, label: say('type.' + t) })), change: ([t]) => { horse.type = t!; },
    }),
    choosing({
      id: 'sex', legend: say('page.horse.sex'), chosen: horse.sex ? [horse.sex] : [], tiles: true,
      options: book.sexes.map(s => ({ value: s, label: say('sex.' + s) })), change: ([s]) => { horse.sex = s; foal(); },
    }),
    inFoal,
    field({ id: 'born', label: say('page.horse.born'), hint: say('page.horse.born.hint'), value: born, short: true, input: v => { born = v; } }),
    text('breed'), text('markings', true), text('notes', true, true), text('stands', true, true),
    people,
    given && h('p', {}, link(say('page.horse.drop', { name: given.name }), () => go('horse', given.id, 'drop'))),
  ];
  show({
    title: given ? say('page.horse.editing', { name: given.name }) : say('page.horse.adding'),
    head: say('page.barn'),
    body,
    bar: [{ label: say('page.back'), go: back }, { label: say('page.save'), go: () => void save(), main: true }],
  });
}

/** The field of a fault's place: "/horse/contacts/1/phone" is the second telephone. */
function fieldOf(path: string): string {
  const [, , member, n, part] = path.split('/');
  if (member !== 'contacts') return member ?? 'name';
  const id = part === 'phone' ? 'phone' : part === 'role' ? 'role' : 'contact';
  return id === 'role' || n !== '0' ? `${id}-${n}` : id;
}

/** A date of birth or a year alone; {} when nothing was typed, undefined when neither. */
function bornOf(typed: string): Pick<Horse, 'born' | 'bornYearOnly'> | undefined {
  if (typed === '') return {};
  if (/^(19|20|21)\d\d$/.test(typed)) return { born: typed + '-01-01', bornYearOnly: true };
  if (/^\d{4}-\d\d-\d\d$/.test(typed) && !Number.isNaN(Date.parse(typed))) return { born: typed };
  return undefined;
}

/** Asks before something is taken away for good. */
export function dropScreen(title: string, how: string, head: string, back: () => void, drop: () => Promise<boolean>): void {
  show({
    title, head, body: [para(how)],
    bar: [{ label: say('page.keep'), go: back, main: true }, { label: say('page.drop'), go: async () => { if (await drop()) go(); } }],
  });
}

export const dropHorse = (horse: Horse): void => dropScreen(say('page.horse.drop', { name: horse.name }), say('page.horse.drop.how'), headOf(horse, say('page.drop')),
  () => go('horse', horse.id, 'edit'), () => store.dropHorses([horse.id]));

export const dropDraft = (exam: Exam, horse: Horse): void => dropScreen(say('page.draft.drop.title', { name: horse.name }), say('page.draft.drop.how'), headOf(horse, say('page.drop')),
  () => go(), () => store.dropExam(exam.id));
