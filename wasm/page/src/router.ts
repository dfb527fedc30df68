// Which screen an address shows.

import { barnScreen, horseScreen } from './screens/horses/barn';
import { listen } from './exam/alarms';
import { checkScreen, closedScreen } from './screens/exam/check';
import { Draft } from './exam/draft';
import { groupScreen } from './screens/exam/group';
import { listScreen } from './screens/exam/list';
import { overviewScreen } from './screens/exam/overview';
import { goInstead, route, sentIn } from './ui/route';
import { settingsScreen } from './screens/horses/settings';
import { changeStart, newExam } from './screens/exam/start';
import { stepScreen } from './screens/exam/step';
import { doneScreen } from './exam/partial';
import { storyScreen } from './screens/exam/story';
import * as store from './store/store';
import { opened } from './store/tabs';
import type { Book, Exam, Horse, ID } from './core/types';
import { opening, wrongScreen } from './screens/report/wrong';

/** The catalogue, so that the form works before the core has arrived. */
declare const BOOK: Book;
declare const VERSION: string;

export const book = BOOK;

/** The screens that come in a file of their own, later.ts. They are named here, since that file takes in this one. */
export interface LaterScreens {
  callAloud(draft: Draft): Promise<void>;
  callScreen(draft: Draft): Promise<void>;
  conflictsScreen(): Promise<void>;
  figuresScreen(): Promise<void>;
  fillKept(box: HTMLElement): Promise<void>;
  filesScreen(): Promise<void>;
  historyScreen(book: Book, horse: Horse, sign?: string, site?: string): Promise<void>;
  dropDraft(exam: Exam, horse: Horse): void;
  dropHorse(horse: Horse): void;
  horseForm(book: Book, horse: Horse | undefined): void;
  lessonRoute(book: Book, id?: ID, sign?: string, exam?: ID): Promise<void>;
  openScreen(book: Book, part: string): Promise<void>;
  pasteScreen(): void;
  numberScreen(): void;
  outcomeScreen(id: ID): Promise<void>;
  pairScreen(book: Book, horse: Horse, a?: ID, b?: ID): Promise<void>;
  practiseRoute(book: Book, id?: ID): Promise<void>;
  recoveryRoute(book: Book, id?: ID, what?: string): Promise<void>;
  resultScreen(draft: Draft): Promise<void>;
  sayScreen(book: Book, id: ID): Promise<void>;
  sendScreen(draft: Draft): Promise<void>;
  blankExam(book: Book, depth: string): void;
  stallSheet(book: Book, horse: Horse): Promise<void>;
  watchRoute(book: Book, first?: ID, what?: string): Promise<void>;
}

let later: () => Promise<LaterScreens>;
/** How to have them. */
export const useLater = (load: () => Promise<LaterScreens>): void => { later = load; };

/** The exam on the screen, while it is a draft or was just finished. */
export let inHand: Draft | undefined;

/** Puts up the screen of the address. */
export async function draw(newer: HTMLElement | undefined): Promise<void> {
  const sent = sentIn(location.hash);
  if (sent !== undefined) return (await later()).openScreen(book, sent);
  const [what, id, ...rest] = route();
  inHand = undefined;
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
      return exam && horse ? (await later()).dropDraft(exam, horse) : goInstead();
    }
    case 'watch': return (await later()).watchRoute(book, id, rest[0]);
    case 'recovery': return (await later()).recoveryRoute(book, id, rest[0]);
    case 'practise': return (await later()).practiseRoute(book, id);
    case 'lesson': return (await later()).lessonRoute(book, id, rest[0], rest[1]);
    case 'files': return (await later()).filesScreen();
    case 'conflicts': return (await later()).conflictsScreen();
    case 'open': return (await later()).pasteScreen();
    case 'blank': return (await later()).blankExam(book, id ?? 'full');
    case 'wrong': return wrongScreen(book, id);
    case 'say': return (await later()).sayScreen(book, id ?? '');
    case 'outcome': return (await later()).outcomeScreen(id ?? '');
    case 'number': return (await later()).numberScreen();
    case 'figures': return (await later()).figuresScreen();
    case 'settings': return settingsScreen();
    default: return barnScreen(book, VERSION, newer, async box => (await later()).fillKept(box));
  }
}

async function horseRoute(id: string | undefined, [what, a, b]: string[]): Promise<void> {
  if (id === 'new') return (await later()).horseForm(book, undefined);
  const horse = id && (await store.horse(id));
  if (!horse) return goInstead();
  if (what === 'edit') return (await later()).horseForm(book, horse);
  if (what === 'drop') return (await later()).dropHorse(horse);
  if (what === 'history') return (await later()).historyScreen(book, horse, a, b);
  if (what === 'pair') return (await later()).pairScreen(book, horse, a, b);
  if (what === 'stall') return (await later()).stallSheet(book, horse);
  return horseScreen(book, horse);
}

async function examRoute(id: string, rest: string[]): Promise<void> {
  const draft = await Draft.load(book, id);
  if (!draft) return goInstead();
  inHand = draft;
  opening(draft.horse.id);
  const at = rest[0] ?? '0';
  if (draft.exam.status === 'finished') return finishedRoute(draft, at);
  void listen(draft);
  await store.putPlace(id, rest.join('/'));
  opened(id);
  switch (at) {
    case 'start': return changeStart(draft);
    case 'story': return storyScreen(draft, Number(rest[1] ?? '1'));
    case 'check': return checkScreen(draft);
    case 'closed': return closedScreen(draft);
    case 'done': return doneScreen(draft);
    case 'all': return overviewScreen(draft);
    case 'list': return listScreen(draft);
    case 'g': return groupScreen(draft, Number(rest[1]) || 0);
    default: return stepScreen(draft, Number(at) || 0, rest[1]);
  }
}

async function finishedRoute(draft: Draft, at: string): Promise<void> {
  switch (at) {
    case 'call': return (await later()).callScreen(draft);
    case 'aloud': return (await later()).callAloud(draft);
    case 'send': return (await later()).sendScreen(draft);
    default: return (await later()).resultScreen(draft);
  }
}
