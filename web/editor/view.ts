// The window onto the plan. This is the only file where y is turned over: feet
// run north, pixels run down.

import { type Bounds, inside, type Point } from "./geometry";

/** A place on the screen, in CSS pixels from the board's top left corner. */
export interface Pixel {
  readonly px: number;
  readonly py: number;
}

/** What part of the plan is shown, and how large. */
export interface View {
  /** Pixels a foot. */
  readonly scale: number;
  /** Feet at the left edge. */
  readonly left: number;
  /** Feet at the top edge. */
  readonly top: number;
  /** Size of the board in pixels. */
  readonly width: number;
  readonly height: number;
}

/** 400 px a foot shows half an inch as 17 px: more is of no use on a yard. */
export const MOST_SCALE = 400;
/** 0.02 px a foot puts 10 miles on a screen. */
export const LEAST_SCALE = 0.02;

export const pixel = (px: number, py: number): Pixel => ({ px, py });

export function toPixel(v: View, [x, y]: Point): Pixel {
  return { px: (x - v.left) * v.scale, py: (v.top - y) * v.scale };
}

export function toFeet(v: View, p: Pixel): Point {
  return [v.left + p.px / v.scale, v.top - p.py / v.scale];
}

export const centre = (v: View): Point => toFeet(v, pixel(v.width / 2, v.height / 2));

/** The ground on show. */
export function shown(v: View): Bounds {
  return {
    minX: v.left,
    minY: v.top - v.height / v.scale,
    maxX: v.left + v.width / v.scale,
    maxY: v.top,
  };
}

/** Zooms by a factor about a pixel; the ground under that pixel stays under it. */
export function zoomAt(v: View, at: Pixel, factor: number): View {
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, v.scale * factor));
  const [x, y] = toFeet(v, at);
  return { ...v, scale, left: x - at.px / scale, top: y + at.py / scale };
}

/** Moves the ground by pixels, as a hand on the paper would. */
export function panBy(v: View, dx: number, dy: number): View {
  return { ...v, left: v.left - dx / v.scale, top: v.top + dy / v.scale };
}

/** A view of the same size with the bounds in it and a margin of 7 % all round. */
export function fit(v: View, b: Bounds): View {
  const margin = 0.07;
  const w = Math.max(b.maxX - b.minX, 1);
  const h = Math.max(b.maxY - b.minY, 1);
  const room = 1 - 2 * margin;
  const scale = Math.min(60, (v.width * room) / w, (v.height * room) / h);
  return lookAt({ ...v, scale: Math.max(LEAST_SCALE, scale) }, [
    (b.minX + b.maxX) / 2,
    (b.minY + b.maxY) / 2,
  ]);
}

/** The same scale with a place in the middle. */
export function lookAt(v: View, [x, y]: Point): View {
  return { ...v, left: x - v.width / 2 / v.scale, top: y + v.height / 2 / v.scale };
}

/** The view after the board changed its size; the middle stays. */
export function resize(v: View, width: number, height: number): View {
  return lookAt({ ...v, width, height }, centre(v));
}

/**
 * A view made smaller still shows the whole plan, if it did before: a table opened under it hides
 * nothing. One that was fitted to the plan stays fitted, with its margin for the words at the edge.
 */
export function keepWhole(before: View, after: View, content: Bounds | null): View {
  if (!content) return after;
  const fitted = sameView(before, fit(before, content));
  const hidden = inside(content, shown(before)) && !inside(content, shown(after));
  return fitted || hidden ? fit(after, content) : after;
}

const sameView = (a: View, b: View): boolean =>
  Math.abs(a.scale - b.scale) < 1e-9 && Math.abs(a.left - b.left) < 1e-6 && Math.abs(a.top - b.top) < 1e-6;

/**
 * Keeps the plan within reach: the middle of the view may leave the content by
 * its own size or 100 ft, whichever is more, and no farther; and zooming out
 * stops where the content would be smaller than 60 px.
 */
export function withinReach(v: View, content: Bounds | null): View {
  const b = content ?? { minX: -50, minY: -50, maxX: 50, maxY: 50 };
  const size = Math.max(b.maxX - b.minX, b.maxY - b.minY, 20);
  const scale = Math.max(v.scale, Math.min(MOST_SCALE, 60 / size));
  const reach = Math.max(size, 100);
  const [x, y] = centre(v);
  const cx = Math.min(b.maxX + reach, Math.max(b.minX - reach, x));
  const cy = Math.min(b.maxY + reach, Math.max(b.minY - reach, y));
  if (scale === v.scale && cx === x && cy === y) return v;
  return lookAt({ ...v, scale }, [cx, cy]);
}

/** Whether any of the content can be seen. */
export function sees(v: View, b: Bounds): boolean {
  const s = shown(v);
  return s.minX <= b.maxX && b.minX <= s.maxX && s.minY <= b.maxY && b.minY <= s.maxY;
}

/** The SVG transform that draws feet in this view. */
export function transformOf(v: View): string {
  return `matrix(${v.scale} 0 0 ${-v.scale} ${-v.left * v.scale} ${v.top * v.scale})`;
}
