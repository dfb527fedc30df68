// What runs the core, in a file of its own: it comes before the screens that nobody needs at first.

import 'wasm_exec';

export { decodeCore, DECODED } from './decode';
