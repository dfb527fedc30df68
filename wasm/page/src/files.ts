// The barn as a file: out, and in again from another telephone.

import * as core from './core';
import { faults, fill, h, para, show } from './dom';
import { go } from './route';
import * as store from './store';
import type { Exam, Horse } from './types';
import { say } from './words';

interface File { kind: string; format: number; horses: Horse[]; exams: Exam[] }

export async function filesScreen(): Promise<void> {
  const [horses, exams] = [await store.horses(), await store.exams()];
  const said = h('p', { class: 'result', role: 'status' });
  const out = async (): Promise<void> => {
    try {
      const { text } = await core.call<{ text: string }>('write', { file: { kind: 'whorl-barn', format: 1, horses, exams } });
      const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
      const a = h('a', { href: url, download: `whorl-barn-${new Date().toISOString().slice(0, 10)}.json` });
      a.click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
      fill(said, say('page.files.out.done', { horses: horses.length, exams: exams.length }));
    } catch (e) {
      faults(e instanceof core.Refused ? e.faults.map(f => ({ field: 'title', sentence: `${f.path} ${f.sentence}` })) : [{ field: 'title', sentence: say('page.nocore.how') }]);
    }
  };
  const take = async (input: HTMLInputElement): Promise<void> => {
    const chosen = input.files?.[0];
    if (!chosen) return;
    try {
      const file = await core.call<File>('read', { file: await chosen.text() });
      const merged = await merge(file);
      fill(said, say('page.files.in.done', merged));
      faults([]);
    } catch (e) {
      faults(e instanceof core.Refused ? e.faults.slice(0, 20).map(f => ({ field: 'file', sentence: `${f.path} ${f.sentence}`.trim() }))
        : [{ field: 'file', sentence: say('page.nocore.how') }]);
    }
    input.value = '';
  };
  const input = h('input', { type: 'file', id: 'file', accept: '.json,application/json', change: () => void take(input) });
  show({
    title: say('page.files.title'), head: say('page.barn'),
    body: [
      para(say('page.files.how')), said,
      h('div', { class: 'field' }, h('label', { for: 'file' }, say('page.files.in')), h('span', { class: 'note' }, say('page.files.in.hint')), input),
    ],
    bar: [{ label: say('page.back'), go: () => go() }, { label: say('page.files.out'), go: () => void out(), main: true }],
  });
}

/** Merges by id; of two versions of a record the same one wins on every device, in any order. */
async function merge(file: File): Promise<{ horses: number; exams: number }> {
  const horses = await newer(file.horses, await store.horses());
  const exams = await newer(file.exams, await store.exams());
  if ((horses.length || exams.length) && !(await store.putAll(horses, exams))) return { horses: 0, exams: 0 };
  return { horses: horses.length, exams: exams.length };
}

async function newer<T extends { id: string; status?: string }>(incoming: T[], here: T[]): Promise<T[]> {
  const have = new Map(here.map(x => [x.id, x]));
  return incoming.filter(x => {
    const mine = have.get(x.id);
    return !mine || wins(x, mine);
  });
}

// A finished exam beats a draft; else the one that says more; else the greater text.
// That is a total order, so a merge does not depend on who sent first.
function wins<T extends { status?: string }>(a: T, b: T): boolean {
  if (a.status !== b.status) return a.status === 'finished';
  const [x, y] = [canonical(a), canonical(b)];
  return x.length !== y.length ? x.length > y.length : x > y;
}

const canonical = (v: unknown): string => JSON.stringify(v, (_, x: unknown) =>
  x && typeof x === 'object' && !Array.isArray(x) ? Object.fromEntries(Object.entries(x).sort(([a], [b]) => (a < b ? -1 : 1))) : x);
