import type { Draft } from '../exam/draft';
import type { Child } from '../ui/dom';
import type { Trouble } from '../ui/form';
import type { Prefs } from '../store/store';
import type { Sign, Step } from '../core/types';

/** Where a question is asked. */
export interface Place {
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
export interface Asking {
  body: Child[];
  pad?: HTMLElement;
  kind?: string;
  /** "Could not" and "not sure" stand beside the answer. */
  outside?: boolean;
  answered: () => boolean;
  /** Runs on the way on; what it returns is shown and keeps the screen. */
  check?: () => Promise<Trouble[]>;
}
