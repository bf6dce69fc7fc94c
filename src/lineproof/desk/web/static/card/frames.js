// Entries as frames of codes, shown one after the other and read by another device: logbook/frames.py says how.
import { seal } from "./bytes.js";

const PART = 320, MOST = 9999, LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
const FRAME = /^(LP[FZ]1):([A-Z2-7]{52}):(\d{1,4})\/(\d{1,4}):([A-Z2-7]+)$/;

const text32 = (bytes) => {
  let out = "", held = 0, bits = 0;
  for (const b of bytes) {
    held = (held << 8) | b;
    bits += 8;
    while (bits >= 5) { out += LETTERS[(held >> (bits - 5)) & 31]; bits -= 5; }
    held &= 255;
  }
  return bits ? out + LETTERS[(held << (5 - bits)) & 31] : out;
};
const bytes32 = (text) => {
  const out = [];
  let held = 0, bits = 0;
  for (const letter of text) {
    held = ((held << 5) | LETTERS.indexOf(letter)) & 4095;
    bits += 5;
    if (bits >= 8) { out.push((held >> (bits - 8)) & 255); bits -= 8; }
  }
  return Uint8Array.from(out);
};
const through = async (bytes, stream) => new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
const hashed = async (bytes) => text32(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));

export const framesOf = async (bytes) => {
  const pack = "CompressionStream" in globalThis;
  const packed = pack ? await through(bytes, new CompressionStream("deflate")) : bytes;
  const total = Math.ceil(packed.length / PART), hash = await hashed(bytes);
  if (total > MOST) throw new RangeError("too many frames: save a file instead");
  return Array.from({ length: total }, (_, n) => `${pack ? "LPZ1" : "LPF1"}:${hash}:${n + 1}/${total}:${text32(packed.slice(n * PART, (n + 1) * PART))}`);
};

// What another screen shows, gathered in any order; a frame of another set begins anew.
export class Gathered {
  constructor() { this.key = ""; this.parts = new Map(); this.total = 0; }

  add(text) {
    const found = FRAME.exec(text.trim());
    if (!found) return false;
    const [, kind, hash, index, total, part] = found, key = `${kind}:${hash}:${total}`;
    if (!(Number(index) >= 1 && Number(index) <= Number(total))) return false;
    if (key !== this.key) Object.assign(this, { key, kind, hash, total: Number(total), parts: new Map() });
    this.parts.set(Number(index), part);
    return true;
  }
  get missing() {
    const runs = [];
    for (let n = 1; n <= this.total; n++) {
      if (this.parts.has(n)) continue;
      if (runs.length && runs.at(-1)[1] === n - 1) runs.at(-1)[1] = n; else runs.push([n, n]);
    }
    return runs.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(", ");
  }
  get full() { return this.total > 0 && this.parts.size === this.total; }

  // The entries, each with its seal; or an error if they do not bear the hash of the set.
  async whole() {
    const packed = await new Blob(Array.from({ length: this.total }, (_, n) => bytes32(this.parts.get(n + 1)))).arrayBuffer();
    const bytes = this.kind === "LPF1" ? new Uint8Array(packed) : await through(packed, new DecompressionStream("deflate"));
    if ((await hashed(bytes)) !== this.hash) throw new TypeError("the frames do not bear their hash");
    return { hash: this.hash, bytes };
  }
}

export const linesOf = async (bytes) => {
  const lines = [];
  for (let from = 0, to; from < bytes.length; from = to + 1) {
    to = bytes.indexOf(10, from);
    if (to < 0) to = bytes.length;
    if (to === from) continue;
    const raw = bytes.slice(from, to), told = JSON.parse(new TextDecoder().decode(raw));
    lines.push({ raw, id: told.id, writer: told.writer, sequence: told.sequence, seal: await seal(told.previous, raw) });
  }
  return lines;
};
