// The screens that nobody needs to begin an exam. The builder makes a file of its own of them, which
// comes beside the core.

// What both files need is the whole of the first: it is one file then, not two.
import './app';
import { takeOpened } from './screens/horses/arrived';
import { addLateStyle } from './ui/latestyle';
import { speakManifest } from './ui/manifest';

export { checkCopy } from './store/copy';
export { drop } from './store/barn';
export { readReportAloud, reportScreen } from './screens/report/report';
export { conflictsScreen } from './screens/horses/conflicts';
export { sourcesScreen } from './screens/horses/sources';
export { clinicFileScreen } from './screens/horses/clinicfile';
export { fillFileNotes, filesScreen } from './screens/horses/files';
export { historyScreen } from './screens/horses/history';
export { horseScreen } from './screens/horses/horse';
export { dropDraft, dropHorse, horseForm } from './screens/horses/horseform';
export { alarmText } from './exam/alarmtext';
export { clinicAsks } from './exam/asked';
export { callBoxes } from './exam/callbox';
export { correctScreen } from './screens/horses/correct';
export { listScreen } from './screens/exam/list';
export { overviewScreen } from './screens/exam/overview';
export { storyScreen } from './screens/exam/story';
export { quietScreen } from './screens/horses/quiet';
export { roundScreen } from './screens/horses/round';
export { settingsScreen } from './screens/horses/settings';
export { lessonRoute } from './screens/practice/lesson';
export { openScreen, pasteScreen } from './screens/report/open';
export { numberScreen, outcomeScreen } from './screens/report/outcome';
export { compareScreen } from './screens/horses/compare';
export { practiceRoute } from './screens/practice/practice';
export { recoveryRoute } from './screens/practice/recovery';
export { resultScreen } from './screens/report/result';
export { callScriptScreen } from './screens/report/callscript';
export { sendScreen } from './screens/report/send';
export { blankExam, stallSheet } from './screens/horses/printsheets';
export { watchRoute } from './screens/practice/watch';

takeOpened();
addLateStyle();
speakManifest();
