// The script that the page loads.

import { boot } from './app';
import { sayMore } from './core/words';

void boot(async () => (await Promise.all([import('./later'), sayMore()]))[0]);
