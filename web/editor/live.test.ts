import assert from "node:assert/strict";
import { test } from "node:test";
import { type Hooks, Live, type MapFrame, parseFrame, type Socket } from "./live";

function message(o: {
  rev: number;
  seq: number;
  x?: number;
  y?: number;
  w?: number;
  h?: number;
  words?: object;
}): ArrayBuffer {
  const told = o.words ?? { rev: o.rev, areas: [{ name: "Größe" }] };
  const words = new TextEncoder().encode(JSON.stringify(told));
  const [w, h] = [o.w ?? 0, o.h ?? 0];
  const out = new ArrayBuffer(24 + words.length + w * h);
  const v = new DataView(out);
  new Uint8Array(out).set([0x45, 0x56, 0x46, 0x31]); // EVF1
  v.setUint32(4, o.rev, true);
  v.setUint32(8, o.seq, true);
  for (const [i, n] of [o.x ?? 0, o.y ?? 0, w, h].entries()) v.setUint16(12 + 2 * i, n, true);
  v.setUint32(20, words.length, true);
  new Uint8Array(out).set(words, 24);
  for (let i = 0; i < w * h; i++) v.setUint8(24 + words.length + i, i % 256);
  return out;
}

test("a frame is read field by field", () => {
  const f = parseFrame(message({ rev: 70000, seq: 17, x: 3, y: 500, w: 4, h: 2 }), null);
  assert.deepEqual([f.rev, f.seq, f.x, f.y, f.w, f.h], [70000, 17, 3, 500, 4, 2]);
  assert.equal(f.design.areas[0]?.name, "Größe");
  assert.deepEqual([...f.cells], [0, 1, 2, 3, 4, 5, 6, 7]);
});

test("what is not a whole frame is refused with its size", () => {
  const good = message({ rev: 1, seq: 1, w: 2, h: 2 });
  assert.throws(() => parseFrame(good.slice(0, 10), null), /10 bytes is too short/);
  assert.throws(() => parseFrame(good.slice(0, -1), null), /its header says/);
  const other = good.slice(0);
  new Uint8Array(other)[0] = 0;
  assert.throws(() => parseFrame(other, null), /not a map frame/);
});

test("a frame tells what changed of the words since the one before; a new connection is told all", () => {
  const { live, lines, frames, timers } = channel();
  const says = (line: Line | undefined, seq: number, words: object) =>
    line?.says(message({ rev: 1, seq, words }));
  const whole = {
    rev: 1,
    heads: { h1: { flow: "1 gpm" }, h2: { flow: "2 gpm" } },
    areas: [{ name: "Lawn", mean: "1" }, { name: "Beds" }],
    gaps: [{ text: "dry" }],
  };
  live.show(1, {});
  lines[0]?.opens();
  says(lines[0], 1, whole);
  says(lines[0], 2, { heads: { h1: null, h2: { flow: "3 gpm" } }, areas: { 0: { mean: "2" } }, gaps: [] });
  const [one, two] = frames.map((f) => f.design);
  assert.deepEqual(two as unknown, {
    rev: 1,
    heads: { h2: { flow: "3 gpm" } },
    areas: [{ name: "Lawn", mean: "2" }, { name: "Beds" }],
    gaps: [],
  });
  assert.deepEqual(one as unknown, whole, "what was told before is left as it was");
  assert.equal(two?.areas[1], one?.areas[1], "what did not change is the same object");
  lines[0]?.close();
  for (const go of timers.splice(0)) go();
  lines[1]?.opens();
  says(lines[1], 3, { rev: 1, heads: {} });
  assert.deepEqual(frames[2]?.design as unknown, { rev: 1, heads: {} });
});

class Line implements Socket {
  binaryType = "";
  readyState = 0;
  sent: { rev: number; seq: number; patch: object }[] = [];
  onopen: Socket["onopen"] = null;
  onclose: Socket["onclose"] = null;
  onmessage: Socket["onmessage"] = null;

  send(data: string): void {
    this.sent.push(JSON.parse(data));
  }

  close(): void {
    this.readyState = 3;
    this.onclose?.(new Event("close") as CloseEvent);
  }

  opens(): void {
    this.readyState = 1;
    this.onopen?.(new Event("open"));
  }

  says(data: unknown): void {
    this.onmessage?.({ data } as MessageEvent);
  }
}

function channel() {
  const lines: Line[] = [];
  const frames: MapFrame[] = [];
  const heard: string[] = [];
  const timers: (() => void)[] = [];
  const hooks: Hooks = {
    frame: (f) => frames.push(f),
    pushed: (rev) => heard.push(`rev ${rev}`),
    refused: (s) => heard.push(s),
    opened: () => heard.push("opened"),
    closed: () => heard.push("closed"),
  };
  const connect = (): Socket => {
    const line = new Line();
    lines.push(line);
    return line;
  };
  const later = (fn: () => void): ReturnType<typeof setTimeout> => {
    timers.push(fn);
    return 0 as unknown as ReturnType<typeof setTimeout>;
  };
  const live = new Live(connect, hooks, later);
  live.open();
  return { live, lines, frames, heard, timers };
}

test("one preview is under way and only the newest waits", () => {
  const { live, lines, frames } = channel();
  const [line] = lines as [Line];
  live.show(1, { n: 0 });
  assert.equal(line.sent.length, 0);
  line.opens();
  for (const n of [1, 2, 3]) live.show(1, { n });
  assert.deepEqual(line.sent, [{ rev: 1, seq: 1, patch: { n: 0 } }]);
  line.says(message({ rev: 1, seq: 1 }));
  assert.deepEqual(line.sent[1], { rev: 1, seq: 2, patch: { n: 3 } });
  line.says(message({ rev: 1, seq: 2 }));
  assert.equal(line.sent.length, 2);
  assert.equal(frames.length, 2);
});

test("a preview that cannot be computed lets the next one go", () => {
  const { live, lines, heard } = channel();
  const [line] = lines as [Line];
  line.opens();
  live.show(1, { n: 1 });
  live.show(1, { n: 2 });
  line.says('{"error":"The outline crosses itself.","seq":1}');
  assert.equal(line.sent.length, 2);
  assert.deepEqual(heard, ["opened", "The outline crosses itself."]);
});

test("a new connection asks again for what is on the board", () => {
  const { live, lines, heard, timers } = channel();
  const [first] = lines as [Line];
  first.opens();
  live.show(4, {});
  first.close();
  timers.at(-1)?.();
  const second = lines[1] as Line;
  second.opens();
  assert.deepEqual(second.sent, [{ rev: 4, seq: 2, patch: {} }]);
  assert.deepEqual(heard, ["opened", "closed", "opened"]);
});

test("a channel that does not answer is closed and opened anew", () => {
  const { live, lines, timers } = channel();
  const [line] = lines as [Line];
  line.opens();
  live.show(1, {});
  timers[0]?.(); // the answer did not come in time
  timers[1]?.();
  assert.equal(lines.length, 2);
});

test("news of a revision is passed on", () => {
  const { lines, heard } = channel();
  lines[0]?.opens();
  lines[0]?.says('{"rev":5}');
  lines[0]?.says('{"bye":true}');
  assert.deepEqual(heard, ["opened", "rev 5"]);
});

test("what is dug is asked for only while it is shown, and at once", () => {
  const { live, lines } = channel();
  const [line] = lines as [Line];
  line.opens();
  live.show(1, {});
  const asked = () => line.sent.map((s) => (s as { digs?: boolean }).digs ?? false);
  assert.deepEqual(asked(), [false]);
  line.says(message({ rev: 1, seq: 1 }));
  live.showDigs(true);
  assert.deepEqual(asked(), [false, true]);
  line.says(message({ rev: 1, seq: 2 }));
  live.showDigs(true);
  live.showDigs(false);
  assert.deepEqual(asked(), [false, true, false]);
});
