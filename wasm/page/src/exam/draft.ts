// The exam that is being entered. Every change is written before anything else happens.

import type { Book, Exam, Finding, Horse, ID, Sign, Step } from '../core/types';
import { say } from '../core/words';
import { rfc3339 } from '../text/dates';
import * as store from '../store/store';
import { tellWrote } from '../store/tabs';
import { checkAlarms } from './alarms';
import { gradeName, signName } from '../text/names';
import { signApplies, sucks } from './lifestage';

/** What an exam of only some signs is for: which, and the screen to come to when they are done. */
export interface PartialExam {
  exam: ID;
  signs: string[];
  then: (string | number)[];
  /** The exam is of the moment of its first entry, not of when its page was opened; started is the clock of a trot, in ms. */
  atFirst?: boolean;
  started?: number;
}

/** Whole minutes after work, as the record takes them. */
export const sinceMinutes = (ended: number, now: number): number => Math.min(1440, Math.max(0, Math.floor((now - ended) / 60_000)));

export class Draft {
  constructor(readonly book: Book, public horse: Horse, public exam: Exam, readonly partial?: PartialExam) {}

  static async load(book: Book, id: ID): Promise<Draft | undefined> {
    const exam = await store.exam(id);
    const horse = exam && (await store.horse(exam.horse));
    if (!exam || !horse) return undefined;
    const draft = new Draft(book, horse, (unkept.get(id) ?? []).reduce((e, change) => change(e), exam), await store.note<PartialExam>('short:' + id));
    if (unkept.has(id)) void draft.edit(e => e);
    return draft;
  }

  sign(id: string): Sign {
    return this.book.signs.find(s => s.id === id)!;
  }

  /** What a sign and an answer are called of this animal: a foal nurses. */
  signName(id: string): string { return this.nurses(id) ? say('page.nurses') : signName(id); }
  gradeName(id: string, grade: string): string { return this.nurses(id) ? say('page.nurses.' + grade) : gradeName(id, grade); }
  nurses(id: string): boolean { return id === 'feed' && sucks(this.horse, this.exam.at); }

  /** A grade closed the hands-on steps: the horse is down or thrashing. */
  get closed(): boolean {
    return (this.exam.findings ?? []).some(f =>
      f.chosen?.some(g => this.sign(f.sign)?.grades?.find(x => x.id === g)?.closes));
  }

  get steps(): Step[] { return this.stepsFor(this.exam.holder ?? 'held', this.closed); }

  private stepsFor(holder: string, closed: boolean): Step[] {
    const all = this.book.steps[[this.exam.depth, holder, ...(closed ? ['closed'] : [])].join('+')] ?? [];
    // What was ticked before the exam stays in it, also where nobody entered that the mare is in foal.
    const steps = all.filter(s => signApplies(this.sign(s.sign), this.horse, this.exam) || this.exam.findings?.some(f => ofStep(f, s) && !f.absent));
    // Of a sign that an exam asks at several places in turn, a partial one takes the first.
    return this.partial ? steps.filter((s, i) => this.partial!.signs.includes(s.sign) && steps.findIndex(x => x.sign === s.sign) === i) : steps;
  }

  /** A step is asked: where a wound is, once there is one. An exam of some signs asks each of them. */
  asks(step: Step, findings = this.exam.findings ?? []): boolean {
    return step.sign !== 'wound-place' || !!this.partial
      || findings.some(f => ofStep(f, step) && !f.absent || f.sign === 'wounds' && f.chosen?.some(g => g !== 'none'));
  }

  /** The findings of a step: of its sign, at one of its sites or at none. */
  findings(step: Step): Finding[] {
    return (this.exam.findings ?? []).filter(f => ofStep(f, step));
  }

  finding(step: Step, site?: string): Finding | undefined {
    return this.findings(step).find(f => site === undefined || f.site === site);
  }

  /** Puts the finding in the place of what the step had (at this site, if each has its own). */
  put(step: Step, finding: Finding, perSite = false): Promise<boolean> {
    return this.putAll([{ step, finding, site: perSite ? finding.site : undefined }]);
  }

  /** Puts several at once, all or none; one with a site leaves the step's other sites alone. */
  putAll(list: { step: Step; finding: Finding; site?: string }[]): Promise<boolean> {
    return this.edit(exam => {
      let findings = exam.findings ?? [];
      if (this.partial?.atFirst && findings.length === 0) exam = this.begun(exam, Date.now());
      const minutes = Math.floor((Date.now() - Date.parse(exam.at)) / 60_000);
      for (const { step, finding, site } of list) {
        const entry: Finding = minutes > 0 && minutes <= 1440 ? { ...finding, minutes } : finding;
        findings = [...findings.filter(f => !ofStep(f, step) || (site !== undefined && f.site !== site)), entry];
      }
      return { ...exam, findings: this.inOrder(findings) };
    });
  }

  /** The exam as of now: a limit of minutes is not met by the minute in which a page was opened. */
  private begun(exam: Exam, now: number): Exam {
    const { state, trot } = exam;
    return {
      ...exam, at: rfc3339(new Date(now)),
      state: state.ended ? { ...state, sinceMinutes: sinceMinutes(Date.parse(state.ended), now) } : state,
      ...(trot && this.partial?.started ? { trot: { ...trot, seconds: Math.min(3600, Math.max(0, Math.round((now - this.partial.started) / 1000))) } } : {}),
    };
  }

  clear(step: Step, site?: string): Promise<boolean> {
    return this.edit(exam => ({ ...exam, findings: (exam.findings ?? []).filter(f => !ofStep(f, step) || (site !== undefined && f.site !== site)) }));
  }

  change(change: Partial<Exam>): Promise<boolean> {
    return this.edit(exam => ({ ...exam, ...change }));
  }

  /** Every step without a finding gets the reason; the exam is finished. */
  finish(): Promise<boolean> {
    return this.edit(exam => {
      const open = new Set(this.steps.map(keyOf));
      const findings = [...(exam.findings ?? [])];
      for (const step of this.stepsFor('held', false)) {
        const absent = open.has(keyOf(step)) ? 'not-tried' : 'closed-off';
        const has = findings.filter(f => ofStep(f, step));
        // Nobody has to say where no wound is.
        if (has.length === 0 && !this.asks(step, findings) && findings.some(f => f.sign === 'wounds' && f.chosen)) {
          findings.push({ sign: step.sign, chosen: ['none'] });
          continue;
        }
        for (const site of eachSite(this.sign(step.sign), step)) {
          if (site === undefined ? has.length > 0 : has.some(f => f.site === site)) continue;
          const at = site ?? step.sites?.[0];
          findings.push({ sign: step.sign, ...(at ? { site: at } : {}), absent });
        }
      }
      return { ...exam, findings: this.inOrder(findings), status: 'finished' };
    });
  }

  private inOrder(findings: Finding[]): Finding[] {
    const steps = this.stepsFor('held', false);
    const rank = (f: Finding) => {
      const i = steps.findIndex(s => ofStep(f, s));
      return (i < 0 ? steps.length : i) * 100 + Math.max(0, steps[i]?.sites?.indexOf(f.site ?? '') ?? 0);
    };
    return findings.sort((a, b) => rank(a) - rank(b));
  }

  private pending = 0;

  /**
   * Changes the exam at once, and as it is kept in one transaction: what another tab
   * wrote meanwhile stays, and shows here once the write is through. What could not be kept is
   * tried again with the next change, and by itself after a while.
   */
  async edit(change: Change): Promise<boolean> {
    const { id } = this.exam;
    this.exam = change(this.exam);
    // A rule that says to call now is heard also where the answer cannot be kept.
    queueMicrotask(() => void checkAlarms(this));
    const tried = [...(unkept.get(id) ?? []), change];
    unkept.set(id, tried);
    this.pending++;
    const kept = await store.editExam(this.exam, e => tried.reduce((x, c) => c(x), e));
    this.pending--;
    if (!kept) {
      clearTimeout(again);
      again = setTimeout(() => { if (this.pending === 0 && unkept.has(id)) void this.edit(e => e); }, 5000);
      return false;
    }
    const left = (unkept.get(id) ?? []).filter(c => !tried.includes(c));
    if (left.length) unkept.set(id, left);
    else unkept.delete(id);
    if (this.pending === 0) this.exam = kept;
    tellWrote(id);
    return true;
  }
}

type Change = (exam: Exam) => Exam;

/** By exam, the changes that are not kept yet, in their order. They outlive the screen. */
const unkept = new Map<ID, Change[]>();
let again: ReturnType<typeof setTimeout> | undefined;

/** The sites that are asked one by one; a sign with one normal is asked once. */
export const eachSite = (sign: Sign, step: Step): (string | undefined)[] =>
  sign.perSite && !sign.anySite && step.sites?.length ? step.sites : [undefined];

const keyOf = (s: Step): string => [s.sign, s.depth, ...(s.sites ?? [])].join(' ');

function ofStep(f: Finding, step: Step): boolean {
  return f.sign === step.sign && (f.site === undefined || !step.sites?.length || step.sites.includes(f.site));
}
