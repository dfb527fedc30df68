// The form for a horse, and what is asked before something is deleted for good.

import * as core from '../../core/core';
import type { Book, Contact, Exam, Horse, ID } from '../../core/types';
import { say } from '../../core/words';
import { daysBetween, localField, rfc3339 } from '../../text/dates';
import { heading } from '../../text/names';
import { dialable } from '../../text/numbers';
import { drop } from '../../store/barn';
import * as store from '../../store/store';
import { type Child, fill, h, link, para } from '../../ui/dom';
import { choiceField, field, type FieldFault, showFaults } from '../../ui/form';
import { go } from '../../ui/route';
import { show } from '../../ui/screen';

/** @param unnamed the exam of a call that somebody is in the middle of: there it goes on. */
export function horseForm(book: Book, given: Horse | undefined, unnamed?: ID): void {
  const horse: Horse = { ...(given ?? { id: crypto.randomUUID(), name: '', type: '' }) };
  let contacts: Contact[] = (horse.contacts?.length ? horse.contacts : [{ name: '' }]).map(c => ({ ...c }));
  let born = horse.born ? (horse.bornYearOnly ? horse.born.slice(0, 4) : horse.born) : '';
  const back = (): void => (unnamed ? go('unnamed', unnamed) : given ? go('horse', given.id) : go());
  const text = (id: 'name' | 'breed' | 'markings' | 'notes' | 'stands' | 'handling' | 'due', hint = false, long = false): HTMLElement => field({
    id, label: say('page.horse.' + id), long, hint: hint ? say(`page.horse.${id}.hint`) : undefined, value: horse[id], input: v => { horse[id] = v; },
  });
  const moments: Record<'bornAt' | 'foaledAt', string> = {
    bornAt: horse.bornAt ? localField(horse.bornAt) : '', foaledAt: horse.foaledAt ? localField(horse.foaledAt) : '',
  };
  const moment = (id: 'bornAt' | 'foaledAt'): HTMLElement => field({
    id, label: say('page.horse.' + id), hint: say(`page.horse.${id}.hint`), type: 'datetime-local', value: moments[id], input: v => { moments[id] = v; },
  });
  const inFoal = h('div');
  const foal = (): void => {
    inFoal.replaceChildren(...(horse.sex === 'mare' ? [choiceField({
      id: 'inFoal', legend: say('page.horse.foal'), many: true, quiet: true, chosen: horse.inFoal ? ['yes'] : [],
      options: [{ value: 'yes', label: say('page.horse.inFoal') }], change: v => { horse.inFoal = v.length > 0; foal(); },
    }), ...(horse.inFoal ? [text('due', true)] : []), moment('foaledAt')] : []));
  };
  foal();
  const reply = (id: 'insured' | 'referral'): HTMLElement => choiceField({
    id, legend: say('page.horse.' + id), tiles: true, chosen: [horse[id] ?? ''],
    options: ['yes', 'no', ''].map(r => ({ value: r, label: say('page.horse.reply.' + (r || 'unknown')) })), change: ([r]) => { horse[id] = r; },
  });
  // The first hours of a foal are counted from its birth: the hour is asked while it matters.
  const birth = h('div');
  const hour = (): void => {
    const day = bornOf(born.trim());
    const days = day?.born && !day.bornYearOnly ? daysBetween(new Date(day.born + 'T12:00'), new Date()) : NaN;
    const wanted = days >= 0 && days <= 7;
    if (wanted !== birth.childElementCount > 0) fill(birth, wanted && moment('bornAt'));
  };
  hour();

  const save = async (): Promise<void> => {
    const list: FieldFault[] = [];
    if (!horse.name.trim()) list.push({ field: 'name', sentence: say('page.fault.name') });
    if (!horse.type) list.push({ field: 'type', sentence: say('page.fault.type') });
    const b = bornOf(born.trim());
    if (!b) list.push({ field: 'born', sentence: say('page.fault.born') });
    const typed = (id: 'bornAt' | 'foaledAt', asked: boolean): string | undefined => {
      if (!asked || moments[id] === '') return undefined;
      const d = new Date(moments[id]);
      if (!Number.isNaN(d.getTime()) && d.getTime() <= Date.now()) return rfc3339(d);
      list.push({ field: id, sentence: say('page.fault.moment') });
      return undefined;
    };
    // The hour stays with its day also when nobody is asked for it any more.
    const bornAt = birth.childElementCount ? typed('bornAt', true) : b?.born === given?.born ? given?.bornAt : undefined;
    const foaledAt = typed('foaledAt', horse.sex === 'mare');
    contacts.forEach((c, i) => {
      if (c.phone?.trim() && dialable(c.phone).length !== 1) list.push({ field: i ? 'phone-' + i : 'phone', sentence: say('page.fault.number-vet') });
    });
    showFaults(list);
    if (list.length || !b) return;
    const clean: Horse = { id: horse.id, name: horse.name.trim(), type: horse.type };
    if (horse.sex) clean.sex = horse.sex;
    Object.assign(clean, b);
    for (const key of ['breed', 'markings', 'notes', 'stands', 'handling'] as const) if (horse[key]?.trim()) clean[key] = horse[key]!.trim();
    if (horse.inFoal && horse.sex === 'mare') clean.inFoal = true;
    if (clean.inFoal && horse.due?.trim()) {
      const due = bornOf(horse.due.trim());
      if (!due?.born || due.bornYearOnly) return showFaults([{ field: 'due', sentence: say('page.fault.due') }]);
      clean.due = due.born;
    }
    for (const key of ['insured', 'referral'] as const) if (horse[key]) clean[key] = horse[key];
    if (bornAt) clean.bornAt = bornAt;
    if (foaledAt) clean.foaledAt = foaledAt;
    if (given?.newUsual) clean.newUsual = given.newUsual;
    const named = contacts.map(c => {
      const [name, phone, role] = [c.name, c.phone, c.role].map(t => (t ?? '').trim());
      return { name: name || phone!, ...(phone ? { phone } : {}), ...(role ? { role } : {}) };
    }).filter(c => c.name);
    if (named.length) clean.contacts = named;
    try {
      const wrong = (await core.call<{ faults: { path: string; sentence: string }[] }>('check', { horse: clean })).faults;
      showFaults(wrong.map(f => ({ field: fieldOf(f.path), sentence: f.sentence })));
      if (wrong.length) return;
    } catch (e) {
      if (e instanceof core.Refused) return showFaults(e.faults.map(f => ({ field: 'name', sentence: f.sentence })));
    }
    if (await store.putHorse(clean)) go(unnamed ? 'unnamed' : 'horse', unnamed ?? clean.id);
  };

  // Whom to call, in order: the veterinarian first, then whoever else must know.
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
    choiceField({
      id: 'type', legend: say('page.horse.type'), chosen: [horse.type], tiles: true,
      options: book.types.map(t => ({ value: t, label: say('type.' + t) })), change: ([t]) => { horse.type = t!; },
    }),
    choiceField({
      id: 'sex', legend: say('page.horse.sex'), chosen: horse.sex ? [horse.sex] : [], tiles: true,
      options: book.sexes.map(s => ({ value: s, label: say('sex.' + s) })), change: ([s]) => { horse.sex = s; foal(); },
    }),
    inFoal,
    field({ id: 'born', label: say('page.horse.born'), hint: say('page.horse.born.hint'), value: born, short: true, input: v => { born = v; hour(); } }), birth,
    text('breed'), text('markings', true), text('handling', true), reply('insured'), reply('referral'), text('notes', true, true), text('stands', true, true),
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

/** Asks before something is taken away. */
export function dropScreen(title: string, how: string, head: string, back: () => void, sure: () => Promise<boolean>): void {
  show({
    title, head, body: [para(how)],
    bar: [{ label: say('page.keep'), go: back, main: true }, { label: say('page.drop'), go: async () => { if (await sure()) go(); } }],
  });
}

export const dropHorse = (horse: Horse): void => dropScreen(say('page.horse.drop', { name: horse.name }), say('page.horse.drop.how'), heading(horse, say('page.drop')),
  () => go('horse', horse.id, 'edit'), () => drop([horse.id]));

export const dropDraft = (exam: Exam, horse: Horse): void => dropScreen(say('page.draft.drop.title', { name: horse.name }), say('page.draft.drop.how'), heading(horse, say('page.drop')),
  () => go(), () => drop([exam.id]));
