// Which screen an address shows.

import type { Book, Exam, Horse, ID } from './core/types';
import { reloadCallNotes } from './store/calls';
import * as store from './store/store';
import { tellOpened } from './store/tabs';
import type { Child } from './ui/dom';
import { goInstead, route, sentIn } from './ui/route';
import { checkAlarms } from './exam/alarms';
import { Draft } from './exam/draft';
import { finishPartial } from './exam/partial';
import { checkScreen, closedScreen } from './screens/exam/check';
import { groupScreen } from './screens/exam/group';
import { changeStart, newExam } from './screens/exam/start';
import { stepScreen } from './screens/exam/step';
import { wrongScreen } from './screens/report/wrong';
import { barnScreen, type Later } from './screens/horses/barn';

/** The catalogue, so that the form works before the core has arrived. */
declare const BOOK: Book;
declare const VERSION: string;

export const book = BOOK;

/** The screens that come in a file of their own, lazyscreens.ts. They are named here, since that file imports this one. */
export interface LazyScreens extends Later {
  readReportAloud(draft: Draft): Promise<void>;
  reportScreen(draft: Draft): Promise<void>;
  conflictsScreen(): Promise<void>;
  correctScreen(draft: Draft): Promise<void>;
  sourcesScreen(): Promise<void>;
  filesScreen(): Promise<void>;
  clinicFileScreen(book: Book): Promise<void>;
  horseScreen(book: Book, horse: Horse): Promise<void>;
  historyScreen(book: Book, horse: Horse, sign?: string, site?: string): Promise<void>;
  dropDraft(exam: Exam, horse: Horse): void;
  dropHorse(horse: Horse): void;
  horseForm(book: Book, horse: Horse | undefined, unnamed?: ID): void;
  listScreen(draft: Draft): Promise<void>;
  lessonRoute(book: Book, id?: ID, sign?: string, exam?: ID): Promise<void>;
  openScreen(book: Book, part: string): Promise<void>;
  pasteScreen(): void;
  numberScreen(): Promise<void>;
  overviewScreen(draft: Draft): Promise<void>;
  outcomeScreen(book: Book, id: ID, preset?: string): Promise<void>;
  clinicAsks(draft: Draft, signs?: string[]): Child;
  alarmText(id: string): string;
  checkCopy(): Promise<unknown>;
  compareScreen(book: Book, horse: Horse, a?: ID, b?: ID): Promise<void>;
  practiceRoute(book: Book, id?: ID): Promise<void>;
  recoveryRoute(book: Book, id?: ID, what?: string): Promise<void>;
  resultScreen(draft: Draft): Promise<void>;
  callScriptScreen(book: Book, id: ID): Promise<void>;
  sendScreen(draft: Draft): Promise<void>;
  roundScreen(book: Book, next: boolean): Promise<void>;
  quietScreen(): Promise<void>;
  settingsScreen(): Promise<void>;
  storyScreen(draft: Draft, page: number): Promise<void>;
  blankExam(book: Book, depth: string): void;
  stallSheet(horse: Horse): Promise<void>;
  watchRoute(book: Book, first?: ID, what?: string): Promise<void>;
}

let lazyScreens: () => Promise<LazyScreens>;
/** How to have them. */
export const setLazyScreens = (load: () => Promise<LazyScreens>): void => { lazyScreens = load; };

/** The exam on the screen, while it is a draft or was just finished. */
export let openDraft: Draft | undefined;

/** Puts up the screen of the address. */
export async function showRoute(newer: HTMLElement | undefined): Promise<void> {
  const sent = sentIn(location.hash);
  if (sent !== undefined) return (await lazyScreens()).openScreen(book, sent);
  const [what, id, ...rest] = route();
  openDraft = undefined;
  switch (what) {
    case 'horse': return horseRoute(id, rest);
    case 'new': {
      const horse = id && (await store.horse(id));
      return horse ? newExam(book, horse, rest) : goInstead();
    }
    case 'exam': return examRoute(id ?? '', rest);
    case 'drop': {
      const exam = id && (await store.exam(id));
      const horse = exam && (await store.horse(exam.horse));
      return exam && horse ? (await lazyScreens()).dropDraft(exam, horse) : goInstead();
    }
    case 'watch': return (await lazyScreens()).watchRoute(book, id, rest[0]);
    case 'recovery': return (await lazyScreens()).recoveryRoute(book, id, rest[0]);
    case 'practise': return (await lazyScreens()).practiceRoute(book, id);
    case 'lesson': return (await lazyScreens()).lessonRoute(book, id, rest[0], rest[1]);
    case 'files': return (await lazyScreens()).filesScreen();
    case 'clinic': return (await lazyScreens()).clinicFileScreen(book);
    case 'conflicts': return (await lazyScreens()).conflictsScreen();
    case 'open': return (await lazyScreens()).pasteScreen();
    case 'blank': return (await lazyScreens()).blankExam(book, id ?? 'full');
    case 'wrong': return wrongScreen(book, id);
    case 'unnamed': return wrongScreen(book, undefined, id);
    case 'say': return (await lazyScreens()).callScriptScreen(book, id ?? '');
    case 'outcome': return (await lazyScreens()).outcomeScreen(book, id ?? '', rest[0]);
    case 'number': return (await lazyScreens()).numberScreen();
    case 'figures': return (await lazyScreens()).sourcesScreen();
    case 'round': return (await lazyScreens()).roundScreen(book, id === 'next');
    case 'quiet': return (await lazyScreens()).quietScreen();
    case 'settings': return (await lazyScreens()).settingsScreen();
    default: return barnScreen(book, VERSION, newer, lazyScreens);
  }
}

async function horseRoute(id: string | undefined, [what, a, b]: string[]): Promise<void> {
  if (id === 'new') return (await lazyScreens()).horseForm(book, undefined, what);
  const horse = id && (await store.horse(id));
  if (!horse) return goInstead();
  if (what === 'edit') return (await lazyScreens()).horseForm(book, horse);
  if (what === 'drop') return (await lazyScreens()).dropHorse(horse);
  if (what === 'history') return (await lazyScreens()).historyScreen(book, horse, a, b);
  if (what === 'pair') return (await lazyScreens()).compareScreen(book, horse, a, b);
  if (what === 'stall') return (await lazyScreens()).stallSheet(horse);
  return (await lazyScreens()).horseScreen(book, horse);
}

async function examRoute(id: string, rest: string[]): Promise<void> {
  await reloadCallNotes();
  const draft = await Draft.load(book, id);
  if (!draft) return goInstead();
  openDraft = draft;
  const at = rest[0] ?? '0';
  if (draft.exam.status === 'withdrawn') return goInstead('horse', draft.exam.horse);
  if (draft.exam.status === 'finished') return finishedRoute(draft, at);
  void checkAlarms(draft);
  await store.putPlace(id, rest.join('/'));
  tellOpened(id);
  switch (at) {
    case 'start': return changeStart(draft);
    case 'story': return (await lazyScreens()).storyScreen(draft, Number(rest[1] ?? '1'));
    case 'check': return checkScreen(draft);
    case 'closed': return closedScreen(draft);
    case 'done': return finishPartial(draft);
    case 'all': return (await lazyScreens()).overviewScreen(draft);
    case 'list': return (await lazyScreens()).listScreen(draft);
    case 'g': return groupScreen(draft, Number(rest[1]) || 0);
    default: return stepScreen(draft, Number(at) || 0, rest[1]);
  }
}

async function finishedRoute(draft: Draft, at: string): Promise<void> {
  switch (at) {
    case 'call': return (await lazyScreens()).reportScreen(draft);
    case 'aloud': return (await lazyScreens()).readReportAloud(draft);
    case 'send': return (await lazyScreens()).sendScreen(draft);
    case 'correct': return (await lazyScreens()).correctScreen(draft);
    default: return (await lazyScreens()).resultScreen(draft);
  }
}
