// The screens that nobody needs to begin an exam. The builder makes a file of its own of them, which
// comes beside the core.

// What both files need is the whole of the first: it is one file then, not two.
import './app';

export { callAloud, callScreen } from './call';
export { conflictsScreen } from './conflicts';
export { figuresScreen } from './figures';
export { fillKept, filesScreen } from './files';
export { historyScreen } from './history';
export { dropDraft, dropHorse, horseForm } from './horseform';
export { lessonRoute } from './lesson';
export { openScreen, pasteScreen } from './open';
export { numberScreen, outcomeScreen } from './outcome';
export { pairScreen } from './pair';
export { practiseRoute } from './practise';
export { recoveryRoute } from './recovery';
export { resultScreen } from './result';
export { sayScreen } from './say';
export { sendScreen } from './send';
export { blankExam, stallSheet } from './sheets';
export { watchRoute } from './watch';
