import type { Sign, Step } from '../core/types';
import type { Prefs } from '../store/store';
import type { Child } from '../ui/dom';
import type { FieldFault } from '../ui/form';
import type { Draft } from '../exam/draft';

/** Where a question is asked. */
export interface QuestionContext {
  draft: Draft;
  step: Step;
  sign: Sign;
  prefs: Prefs;
  /** What the ids begin with, where several questions stand on one screen. */
  id?: string;
  /** The answer changed: the way on reads accordingly. */
  changed: () => void;
  /** Draw the step again. */
  again: () => void | Promise<void>;
  /** Goes where the way on leads. */
  onward: () => void | Promise<void>;
}

/** A question as it is put on the screen. */
export interface Question {
  body: Child[];
  pad?: HTMLElement;
  kind?: string;
  /** "Could not" and "not sure" stand beside the answer. */
  outside?: boolean;
  answered: () => boolean;
  /** Runs on the way on; what it returns is shown and keeps the screen. */
  check?: () => Promise<FieldFault[]>;
}
