// The script that the page loads.

import { boot } from './app';
import { sayMore } from './words';

void boot(async () => (await Promise.all([import('./later'), sayMore()]))[0]);
