// What was sent from this device, and what clinics answered to it. Both stay on this device.

import type { Answer, Exam, ID } from '../core/types';
import { checkWords, lettersOf } from '../text/checkwords';
import { rfc3339 } from '../text/dates';
import * as store from './store';

/** An answer that a person took in, when, and the check words of its own. */
export interface KeptAnswer extends Answer { takenAt: string; check?: string }

/** Links that are remembered of one exam, and answers. */
const MOST = 40;

const sentOf = (exam: ID): Promise<string[] | undefined> => store.note('sent:' + exam);

/** Remembers the check words of links and codes that were shown of an exam, as their letters: an answer names them. */
export async function rememberSent(exam: ID, fragments: (string | undefined)[]): Promise<void> {
  const kept = await sentOf(exam);
  const letters = (await Promise.all(fragments.map(f => f && checkWords(f)))).flatMap(w => w ? [lettersOf(w)] : []);
  const all = [...new Set([...kept ?? [], ...letters])].slice(-MOST);
  if (all.length !== kept?.length) await store.putNote('sent:' + exam, all);
}

/** The letters of the check words of what was sent of an exam from here; undefined: nothing was. */
export const sentFrom = sentOf;

/** The first exam of a night, by which all its answers are found. */
const rootOf = (e: Exam): ID => e.recheckOf ?? e.id;

/** Every answer to an exam or to another of its rechecks, the newest first. */
export async function answersTo(exam: Exam): Promise<KeptAnswer[]> {
  const night = (await store.examsOf(exam.horse)).filter(e => rootOf(e) === rootOf(exam));
  const all = await Promise.all([...new Set([exam.id, ...night.map(e => e.id)])].map(answersOf));
  return all.flat().sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

export const answersOf = async (exam: ID): Promise<KeptAnswer[]> => (await store.note<KeptAnswer[]>('answers:' + exam)) ?? [];

const said = ({ exam, words, at, by, advice, again, next }: Answer): string => JSON.stringify([exam, words, Date.parse(at), by, advice, again, next && Date.parse(next)]);
export const isSame = (a: Answer, b: Answer): boolean => said(a) === said(b);

/** Keeps an answer beside its exam, of which nothing is changed: neither its call nor a number. */
export async function keepAnswer(answer: Answer, check: string | undefined): Promise<boolean> {
  const all = (await answersOf(answer.exam)).filter(a => !isSame(a, answer));
  return store.putNote('answers:' + answer.exam, [...all, { ...answer, ...(check ? { check } : {}), takenAt: rfc3339(new Date()) }].slice(-MOST));
}

export const dropAnswer = async (answer: Answer): Promise<boolean> =>
  store.putNote('answers:' + answer.exam, (await answersOf(answer.exam)).filter(a => !isSame(a, answer)));
