// Fingers, pens and mice told apart: one draws, two move and zoom. Where fingers
// only move the view, a pen draws and the hand beside it does nothing. A pure
// state machine from pointer events in pixels to what is meant by them.

import type { Pixel } from "./view";

export interface PointerIn {
  /** hold: the pointer has been down without moving for as long as a long press takes. */
  readonly type: "down" | "move" | "up" | "cancel" | "hold";
  readonly id: number;
  readonly at: Pixel;
  readonly kind: "mouse" | "touch" | "pen";
  /** 0 the main button, 1 the middle one; only for down. */
  readonly button: number;
  /** Milliseconds on any clock that does not go back. */
  readonly time: number;
  /** Space is held: the main button moves the view. */
  readonly space: boolean;
  /** Fingers move the view and never draw. */
  readonly fingersMove?: boolean;
}

export type Meant =
  /** menu: a long press, which ends the stroke. */
  | {
      readonly do: "hover" | "press" | "drag" | "abort" | "menu";
      readonly at: Pixel;
      readonly coarse: boolean;
    }
  | {
      readonly do: "release";
      readonly at: Pixel;
      readonly coarse: boolean;
      readonly moved: boolean;
      readonly clicks: number;
    }
  | { readonly do: "pan"; readonly dx: number; readonly dy: number }
  | {
      readonly do: "pinch";
      readonly at: Pixel;
      readonly dx: number;
      readonly dy: number;
      readonly factor: number;
    }
  | { readonly do: "settle" };

interface Finger {
  readonly id: number;
  readonly at: Pixel;
}

export interface PointerState {
  readonly mode: "idle" | "stroke" | "pan" | "pinch" | "spent";
  readonly down: readonly Finger[];
  readonly from: Pixel;
  readonly moved: boolean;
  readonly coarse: boolean;
  /** What the stroke is made with. */
  readonly kind: PointerIn["kind"];
  readonly last: { readonly at: Pixel; readonly time: number } | null;
}

const origin: Pixel = { px: 0, py: 0 };
export const resting: PointerState = {
  mode: "idle",
  down: [],
  from: origin,
  moved: false,
  coarse: false,
  kind: "mouse",
  last: null,
};

/** A stroke this short, in pixels, is a click: steadier with a mouse than a finger. */
const STILL_MOUSE = 4;
const STILL_TOUCH = 6;
/** A press this long without moving asks for the menu, in ms. */
export const LONG_MS = 500;
/** Two clicks within this many milliseconds and pixels are a double click; fingers land less surely. */
const QUICK_MS = 400;
const QUICK_PX = 6;
const QUICK_TOUCH_PX = 20;

const apart = (a: Pixel, b: Pixel): number => Math.hypot(a.px - b.px, a.py - b.py);
const mid = (a: Pixel, b: Pixel): Pixel => ({ px: (a.px + b.px) / 2, py: (a.py + b.py) / 2 });

export function pointed(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  switch (e.type) {
    case "down":
      return down(s, e);
    case "move":
      return move(s, e);
    case "up":
      return up(s, e);
    case "cancel":
      return lift(s, e, true);
    case "hold":
      return held(s, e);
  }
}

/** A long press: the stroke is dropped, and the finger does nothing more until it is lifted. */
function held(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  if (s.mode !== "stroke" || s.moved || s.down[0]?.id !== e.id) return [s, []];
  const { coarse, from: at } = s;
  const out: Meant[] = [
    { do: "abort", at, coarse },
    { do: "menu", at, coarse },
  ];
  return [{ ...s, mode: "spent", last: null }, out];
}

function down(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  if (s.down.length > 0 && s.kind === "pen" && e.kind === "touch") return [s, []]; // the hand that holds the pen
  if (s.down.length > 0 && s.kind === "touch" && e.kind === "pen") return penOver(s, e);
  const fingers = [...s.down.filter((f) => f.id !== e.id), { id: e.id, at: e.at }];
  const coarse = e.kind === "touch";
  if (fingers.length === 2 && coarse) {
    // The second finger: the stroke of the first is dropped, whatever it was.
    const out: Meant[] = s.mode === "stroke" ? [{ do: "abort", at: e.at, coarse }] : [];
    return [{ ...s, mode: "pinch", down: fingers, kind: e.kind }, out];
  }
  if (fingers.length > 1) return [{ ...s, down: fingers }, []];
  const { kind } = e;
  const moves = e.button === 0 && (e.space || (kind === "touch" && e.fingersMove));
  if (e.button === 1 || moves) return [{ ...s, mode: "pan", down: fingers, coarse, kind }, []];
  if (e.button !== 0) return [s, []];
  const next: PointerState = { ...s, mode: "stroke", down: fingers, from: e.at, moved: false, coarse, kind };
  return [next, [{ do: "press", at: e.at, coarse }]];
}

/** The pen comes while a hand lies on the board: what the hand did is dropped. */
function penOver(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  const dropped: Meant[] = s.mode === "stroke" ? [{ do: "abort", at: e.at, coarse: s.coarse }] : [];
  const [next, meant] = down(resting, e);
  return [next, [...dropped, ...meant]];
}

function move(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  const before = s.down.find((f) => f.id === e.id);
  if (!before)
    return s.mode === "idle" ? [s, [{ do: "hover", at: e.at, coarse: e.kind === "touch" }]] : [s, []];
  const fingers = s.down.map((f) => (f.id === e.id ? { id: e.id, at: e.at } : f));
  const next = { ...s, down: fingers };
  switch (s.mode) {
    case "pan":
      return [next, [{ do: "pan", dx: e.at.px - before.at.px, dy: e.at.py - before.at.py }]];
    case "pinch":
      return [next, pinch(s.down, fingers)];
    case "stroke": {
      const moved = s.moved || apart(s.from, e.at) > (s.coarse ? STILL_TOUCH : STILL_MOUSE);
      return [{ ...next, moved }, moved ? [{ do: "drag", at: e.at, coarse: s.coarse }] : []];
    }
    default:
      return [next, []];
  }
}

/** What two fingers did: the ground follows their middle and grows with their distance. */
function pinch(before: readonly Finger[], now: readonly Finger[]): Meant[] {
  const [a, b] = before;
  const [c, d] = now;
  if (!a || !b || !c || !d) return [];
  const [m0, m1] = [mid(a.at, b.at), mid(c.at, d.at)];
  const gap = apart(a.at, b.at);
  const factor = gap > 1 ? apart(c.at, d.at) / gap : 1;
  return [{ do: "pinch", at: m1, dx: m1.px - m0.px, dy: m1.py - m0.py, factor }];
}

function up(s: PointerState, e: PointerIn): [PointerState, Meant[]] {
  if (s.mode !== "stroke" || s.down[0]?.id !== e.id) return lift(s, e, false);
  const quick =
    s.last !== null &&
    e.time - s.last.time <= QUICK_MS &&
    apart(s.last.at, e.at) <= (s.coarse ? QUICK_TOUCH_PX : QUICK_PX);
  const clicks = quick && !s.moved ? 2 : 1;
  const last = clicks === 2 ? null : { at: e.at, time: e.time };
  const out: Meant = { do: "release", at: e.at, coarse: s.coarse, moved: s.moved, clicks };
  return [{ ...s, mode: "idle", down: [], last }, [out]];
}

/** A pointer gone without a click: after a pinch the finger left behind does nothing until it is lifted too. */
function lift(s: PointerState, e: PointerIn, cancelled: boolean): [PointerState, Meant[]] {
  if (!s.down.some((f) => f.id === e.id)) return [s, []];
  const fingers = s.down.filter((f) => f.id !== e.id);
  const out: Meant[] = [];
  if (cancelled && s.mode === "stroke") out.push({ do: "abort", at: e.at, coarse: s.coarse });
  if (s.mode === "pan" || s.mode === "pinch") out.push({ do: "settle" });
  return [{ ...s, mode: fingers.length > 0 ? "spent" : "idle", down: fingers, last: null }, out];
}
