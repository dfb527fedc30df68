// Decodes the core from the form into which ../../../fold.go folded it, while it comes in.

/** The header by which the service worker tells that it decoded the core when it kept it. */
export const DECODED = 'Whorl-Core-Unfolded';

const CODE = 10, DATA = 11, FIRST_FUNCTION = 0x1000;
/** More than a step reads before it knows how much it needs. */
const AHEAD = 40;
/** No part of a core is larger: a file that says so is damaged. */
const MOST = 1 << 26;

/** Bytes that are made. */
class Output {
  bytes: Uint8Array = new Uint8Array(1 << 17);
  length = 0;
  room(n: number): Uint8Array {
    if (this.length + n > this.bytes.length) {
      const more = new Uint8Array(2 * (this.length + n));
      more.set(this.bytes);
      this.bytes = more;
    }
    return this.bytes;
  }
  add(part: Uint8Array): void {
    this.room(part.length).set(part, this.length);
    this.length += part.length;
  }
  byte(value: number): void {
    this.room(1)[this.length++] = value;
  }
  number(value: number): void {
    for (; value > 0x7f; value >>>= 7) this.byte(value & 0x7f | 0x80);
    this.byte(value);
  }
  /** What was made since the last time; it holds until more is made. */
  take(): Uint8Array {
    const made = this.bytes.subarray(0, this.length);
    this.length = 0;
    return made;
  }
}

// What stands for a call and for a jump, and what they are: see fold.go.
const JUMP = 0xf0, CALL = 0xf1, FAR_CALL = 0xf4;
const PUSH_PLACE = [0x20, 1, 0x41, 8, 0x6b, 0x22, 1, 0x24, 0, 0x20, 1, 0x42];
const CALL_PLACE = [0x37, 3, 0, 0x41, 0, 0x10];
const AFTER_CALL = [0x23, 0, 0x21, 1, 0x0d];
const JUMP_PLACE = [0x21, 0, 0x0c];
/** No call takes more bytes, and nothing grows more. */
const LONGEST = 48;

/** Unfolds the body of one function, whose place in its section is index. What a damaged file makes of it, the browser refuses. */
function decodeFunction(folded: Uint8Array, index: number, out: Output): void {
  const home = FIRST_FUNCTION + index << 16, end = folded.length;
  let to: Uint8Array = out.bytes, room = to.length - LONGEST;
  let at = 0, made = 0, copied = 0;
  const number = (): number => {
    let value = 0;
    for (let shift = 0; shift < 35; shift += 7) {
      const byte = folded[at++];
      value |= (byte & 0x7f) << shift;
      if (!(byte > 0x7f)) break;
    }
    return value >>> 0;
  };
  const step = (): number => {
    const n = number();
    return n >>> 1 ^ -(n & 1);
  };
  const skip = (): void => { while (folded[at++] > 0x7f); };
  const grow = (n: number): void => {
    if (made + n < room) return;
    out.length = made;
    to = out.room(n + LONGEST);
    room = to.length - LONGEST;
  };
  /** Copies what stands before from. */
  const copy = (from: number): void => {
    grow(from - copied);
    while (copied < from) to[made++] = folded[copied++];
  };
  const write = (value: number): void => {
    for (value >>>= 0; value > 0x7f; value >>>= 7) to[made++] = value & 0x7f | 0x80;
    to[made++] = value;
  };
  const writeSigned = (value: number): void => {
    for (value >>>= 0; value > 0x3f; value >>>= 7) to[made++] = value & 0x7f | 0x80;
    to[made++] = value;
  };
  const all = (bytes: number[]): void => { for (const byte of bytes) to[made++] = byte; };

  for (let groups = number(); groups > 0 && at < end; groups--) {
    skip();
    at++;
  }
  // Which place comes next: of each block of the outermost table, its first.
  let first: number[] | undefined, depth = 0, lowest = 0, base = 0, next = 0;
  while (at < end) {
    const start = at, op = folded[at++];
    if (op >= 0x20 && op <= 0x26 || op >= 0x3f && op <= 0x42 || op === 0x10) {
      skip();
    } else if (op >= 0x28 && op <= 0x3e || op === 0x11) {
      skip();
      skip();
    } else if (op >= CALL && op <= FAR_CALL) {
      copy(start);
      next += op === FAR_CALL ? step() : op - CALL;
      all(PUSH_PLACE);
      writeSigned(home + next);
      all(CALL_PLACE);
      for (let n = 1; (to[made++] = folded[at++]) > 0x7f && n < 5; n++); // as it stands: Go writes it signed
      all(AFTER_CALL);
      write(depth - 1);
      copied = at;
    } else if (op === JUMP) {
      copy(start);
      to[made++] = 0x41;
      writeSigned(next + step());
      all(JUMP_PLACE);
      write(depth - 2);
      copied = at;
    } else if (op === 0x0b) { // end
      depth--;
      if (first && depth < lowest) {
        lowest = depth;
        next = Math.max(next, first[base - lowest - 1] ?? 0);
      }
    } else if (op >= 0x02 && op <= 0x04) { // block, loop, if
      skip();
      depth++;
    } else if (op === 0x0c || op === 0x0d) { // br, br_if
      copy(at);
      write(depth - number());
      copied = at;
    } else if (op === 0x0e) { // br_table
      const n = number(), blocks: number[] = [];
      copy(at);
      for (let i = 0, block = 0; i <= n && at < end; i++) {
        block += step();
        grow(1);
        write(block);
        if (i < n) blocks[block] ??= i;
      }
      copied = at;
      if (!first) {
        first = blocks;
        lowest = base = depth;
      }
    } else if (op === 0x43) {
      at += 4;
    } else if (op === 0x44) {
      at += 8;
    } else if (op === 0xfc) {
      const kind = number();
      at += kind === 10 ? 2 : kind === 11 ? 1 : 0;
    }
  }
  copy(end);
  out.length = made;
}

/** Unfolds the run-time's table of functions where it stands. */
function decodeTable(data: Uint8Array, place: number, functions: number): void {
  const view = new DataView(data.buffer, data.byteOffset + place, data.length - place);
  for (let i = 0, entry = 0, at = 0; i < functions; i++) {
    entry += view.getUint32(8 * i, true);
    at += view.getUint32(8 * i + 4, true);
    view.setUint32(8 * i, entry, true);
    view.setUint32(8 * i + 4, at, true);
    view.setUint32(at >>> 0, entry, true);
  }
}

/** A stream, of which as much is held as the next step needs. */
class Incoming {
  private bytes = new Uint8Array(0);
  private at = 0;
  constructor(private readonly stream: ReadableStreamDefaultReader<Uint8Array>) {}
  get held(): number { return this.bytes.length - this.at; }
  /** Waits until n bytes are there; at the end of the stream there may be fewer. */
  async hold(n: number): Promise<void> {
    if (n > MOST) throw new RangeError('folded core: too long');
    let have = this.held;
    if (have >= n) return;
    const parts: Uint8Array[] = [this.bytes.subarray(this.at)];
    for (let part; have < n && (part = (await this.stream.read()).value); have += part.length) parts.push(part);
    this.bytes = new Uint8Array(have);
    this.at = 0;
    let at = 0;
    for (const part of parts) {
      this.bytes.set(part, at);
      at += part.length;
    }
  }
  /** The next n bytes. */
  take(n: number): Uint8Array {
    if (this.held < n) throw new RangeError('folded core: too short');
    return this.bytes.subarray(this.at, this.at += n);
  }
  number(): number {
    let value = 0;
    for (let shift = 0; shift < 35; shift += 7) {
      const byte = this.take(1)[0];
      value |= (byte & 0x7f) << shift;
      if (byte < 0x80) break;
    }
    return value >>> 0;
  }
}

async function run(from: Incoming, pass: (made: Uint8Array) => void): Promise<void> {
  const out = new Output(), body = new Output();
  await from.hold(AHEAD);
  out.add(from.take(8));
  if (from.number() !== 0 || from.number() === 0 || String.fromCharCode(...from.take(7)) !== '\x06folded') {
    throw new RangeError('not a folded core');
  }
  const place = from.number(), functions = from.number();
  for (;;) {
    await from.hold(AHEAD);
    if (from.held === 0) return;
    const id = from.number(), size = from.number();
    out.byte(id);
    out.number(size);
    if (id === CODE) {
      const bodies = from.number();
      out.number(bodies);
      for (let i = 0; i < bodies; i++) {
        if (from.held < AHEAD) {
          pass(out.take().slice());
          await from.hold(AHEAD);
        }
        const said = from.number(), length = said >>> 1;
        if (from.held < length) await from.hold(length);
        if (said & 1) decodeFunction(from.take(length), i, body);
        else body.add(from.take(length));
        out.number(body.length);
        out.add(body.take());
      }
    } else {
      await from.hold(size);
      const whole = from.take(size);
      if (id === DATA && functions > 0) decodeTable(whole, place, functions);
      out.add(whole);
    }
    pass(out.take().slice());
  }
}

/** The module that was folded. A file that is not what Fold makes is an error of the stream. */
export function decodeCore(folded: ReadableStream<Uint8Array>): ReadableStream<Uint8Array> {
  const from = new Incoming(folded.getReader());
  return new ReadableStream({
    start(to) {
      // Not waited for: what was made can be read at once.
      run(from, made => to.enqueue(made)).then(() => to.close(), e => to.error(e));
    },
  });
}
