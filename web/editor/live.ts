// The live channel: previews go out newest wins, frames of the map come back.

import type { Design } from "./design";
import { type Patch, reworded } from "./merge";

/** One answer of the server: a dirty rectangle of the map, and everything in words. */
export interface MapFrame {
  rev: number;
  seq: number;
  x: number;
  y: number;
  w: number;
  h: number;
  design: Design;
  /** w × h map bytes, the southernmost row first. */
  cells: Uint8Array;
}

const headerBytes = 24;
const magic = 0x31465645; // "EVF1", read little-endian

/**
 * Reads one binary message: 24 bytes little-endian (magic, rev, seq: 32 bits
 * each; x, y, w, h: 16 bits each; length of the JSON: 32 bits, so 24 in all),
 * the JSON, then the cells. It throws on anything else. The JSON says what changed
 * since the words of the frame before; there is none before the first.
 */
export function parseFrame(message: ArrayBuffer, before: Design | null): MapFrame {
  if (message.byteLength < headerBytes)
    throw new Error(`map frame of ${message.byteLength} bytes is too short`);
  const v = new DataView(message);
  if (v.getUint32(0, true) !== magic) throw new Error("not a map frame");
  const [x, y, w, h] = [
    v.getUint16(12, true),
    v.getUint16(14, true),
    v.getUint16(16, true),
    v.getUint16(18, true),
  ];
  const jsonBytes = v.getUint32(20, true);
  const want = headerBytes + jsonBytes + w * h;
  if (message.byteLength !== want)
    throw new Error(`map frame of ${message.byteLength} bytes, its header says ${want}`);
  const words = JSON.parse(new TextDecoder().decode(new Uint8Array(message, headerBytes, jsonBytes)));
  return {
    rev: v.getUint32(4, true),
    seq: v.getUint32(8, true),
    x,
    y,
    w,
    h,
    design: before ? reworded(before, words) : (words as Design),
    cells: new Uint8Array(message, headerBytes + jsonBytes),
  };
}

/** The part of a WebSocket used here; tests give a made-up one. */
export interface Socket {
  binaryType: string;
  readonly readyState: number;
  send(data: string): void;
  close(): void;
  onopen: ((e: Event) => void) | null;
  onclose: ((e: CloseEvent) => void) | null;
  onmessage: ((e: MessageEvent) => void) | null;
}

export interface Hooks {
  frame(f: MapFrame): void;
  /** The stored plan has this revision now. */
  pushed(rev: number): void;
  /** A preview could not be computed; the sentence says why. */
  refused(sentence: string): void;
  opened(): void;
  closed(): void;
}

/** How long a preview may take, in ms, before the channel is taken for dead. */
const patience = 10_000;
const pauses = [250, 500, 1000, 2000, 4000];

interface Preview {
  rev: number;
  patch: Patch;
}

/** What the live map is of: the drawing, or the zones as they run. */
export type LiveAs = "" | "running";

/** Live keeps one preview under way and the newest waiting, and reconnects for ever. */
export class Live {
  #socket: Socket | null = null;
  #seq = 0;
  #underway = 0; // seq of the preview sent and not answered; 0: none
  #waiting: Preview | null = null;
  #last: Preview | null = null;
  #tries = 0;
  #as: LiveAs = "";
  #digs = false;
  #words: Design | null = null; // of the newest frame of this connection
  #watch: ReturnType<typeof setTimeout> | null = null;

  constructor(
    readonly connect: () => Socket,
    readonly hooks: Hooks,
    readonly later: (fn: () => void, ms: number) => ReturnType<typeof setTimeout> = (fn, ms) =>
      setTimeout(fn, ms),
  ) {}

  /** The number of the newest preview sent. */
  get seq(): number {
    return this.#seq;
  }

  open(): void {
    if (this.#socket) return;
    const s = this.connect();
    this.#socket = s;
    this.#words = null;
    s.binaryType = "arraybuffer";
    s.onopen = () => this.#opened();
    s.onclose = () => this.#closed(s);
    s.onmessage = (e) => this.#message(e.data);
  }

  /** Connects at once if the channel is closed: something else heard from the server. */
  hurry(): void {
    if (!this.#socket) this.open();
  }

  show(rev: number, patch: Patch): void {
    this.#waiting = { rev, patch };
    this.#pump();
  }

  /** Asks for the map as the zones run, or as drawn again. */
  showAs(as: LiveAs): void {
    if (as === this.#as) return;
    this.#as = as;
    this.#waiting ??= this.#last;
    this.#pump();
  }

  /** Asks for what is dug with every frame, or no longer. */
  showDigs(on: boolean): void {
    if (on === this.#digs) return;
    this.#digs = on;
    this.#waiting ??= this.#last;
    this.#pump();
  }

  #opened(): void {
    this.#tries = 0;
    this.#underway = 0;
    this.#waiting ??= this.#last; // a new connection knows nothing of the old one's map
    this.hooks.opened();
    this.#pump();
  }

  #closed(s: Socket): void {
    if (this.#socket !== s) return;
    this.#socket = null;
    this.#answered();
    this.hooks.closed();
    const pause = pauses[Math.min(this.#tries++, pauses.length - 1)] as number;
    this.later(() => this.open(), pause);
  }

  #pump(): void {
    const s = this.#socket;
    const next = this.#waiting;
    if (s?.readyState !== 1 || this.#underway !== 0 || !next) return;
    this.#waiting = null;
    this.#last = next;
    this.#underway = ++this.#seq;
    const as = this.#as ? { as: this.#as } : {};
    const digs = this.#digs ? { digs: true } : {};
    s.send(JSON.stringify({ rev: next.rev, seq: this.#seq, patch: next.patch, ...as, ...digs }));
    this.#watch = this.later(() => s.close(), patience);
  }

  #answered(): void {
    if (this.#watch !== null) clearTimeout(this.#watch);
    this.#watch = null;
    this.#underway = 0;
  }

  #message(data: unknown): void {
    if (typeof data === "string") this.#said(JSON.parse(data) as Said);
    else this.#framed(parseFrame(data as ArrayBuffer, this.#words));
  }

  #framed(f: MapFrame): void {
    this.#words = f.design;
    if (f.seq >= this.#underway) this.#answered();
    this.hooks.frame(f);
    this.#pump();
  }

  #said(said: Said): void {
    if (said.error !== undefined) {
      if ((said.seq ?? 0) >= this.#underway) this.#answered();
      this.hooks.refused(said.error);
      this.#pump();
    } else if (said.rev !== undefined) this.hooks.pushed(said.rev);
  }
}

interface Said {
  rev?: number;
  seq?: number;
  error?: string;
  bye?: boolean;
}
