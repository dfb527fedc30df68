// The script that the page loads.

import { loadLazyMessages } from './core/words';
import { boot } from './app';

void boot(async () => (await Promise.all([import('./lazyscreens'), loadLazyMessages()]))[0]);
