declare module 'wasm_exec';
