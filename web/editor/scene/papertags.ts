// Where on paper the tags of heads stand: beside their marks, clear of all
// marks, names and other tags; with a line to the mark where it is crowded; left
// out where there is no room at all. Findings speak of heads by their tags.

import type { Bounds, Point } from "../geometry";
import { find, ids, type Plan } from "../model";
import { headAt } from "../pattern";
import { toPixel, type View } from "../view";
import { markScale } from "./heads";
import { boxOf, marksOf, placeNames } from "./naming";
import { s } from "./svg";

/** A tag in its place, in feet; from: where its line to the mark begins. */
export interface PaperTag {
  readonly id: string;
  readonly text: string;
  readonly middle: Point;
  readonly from?: Point;
}

/** Of a tag, in pixels: the width of a letter and half the height of a line. The type is 8.5 px, 6.4 points. */
const LETTER = 5.2;
const HALF = 4.5;
/** From the middle of a full mark to its rim. */
const MARK = 10;

/** Directions tried beside a mark, the best first: right above, as on the board, then round. */
const beside = [45, 0, 315, 135, 180, 225, 90, 270];
/** How far from its mark a tag may stand with a line, in pixels, and in how many directions. */
const lined = [20, 28, 38, 50];
const ROUND = 16;

/** The tags that find room at a scale in pixels a foot, and how many do not. */
export function placeTags(plan: Plan, scale: number): { placed: PaperTag[]; left: number } {
  const taken = marksOf(plan, scale, false);
  for (const [, name] of placeNames(plan, scale)) taken.add(boxOf(name.at, name, scale));
  const rim = MARK * markScale(scale);
  const placed: PaperTag[] = [];
  let left = 0;
  const tagged = ids(plan, "heads").filter((id) => find(plan, "heads", id)?.tag);
  const put = (id: string, far: boolean): boolean => {
    const h = find(plan, "heads", id);
    if (!h?.tag) return true;
    const at = headAt(h);
    for (const [dx, dy] of far ? farther(rim, h.tag) : near(rim, h.tag)) {
      const box = boxAt(at, h.tag, dx, dy, scale);
      if (!taken.free(box)) continue;
      taken.add(box);
      const middle: Point = [at[0] + dx / scale, at[1] + dy / scale];
      placed.push({ id, text: h.tag, middle, ...(far ? { from: start(at, dx, dy, rim, scale) } : {}) });
      return true;
    }
    return false;
  };
  // Those that have room beside their mark first, so that no line takes it from them.
  for (const id of tagged.filter((id) => !put(id, false))) if (!put(id, true)) left++;
  return { placed, left };
}

type Offset = readonly [dx: number, dy: number];

/** Where the middle of a tag goes for it to touch the mark's rim in a direction. */
function near(rim: number, text: string): Offset[] {
  return beside.map((deg) => off(deg, rim + 1.5, text));
}

function farther(rim: number, text: string): Offset[] {
  return lined.flatMap((d) =>
    Array.from({ length: ROUND }, (_, i) => off(45 + (360 * i) / ROUND, rim + d - MARK, text)),
  );
}

function off(deg: number, gap: number, text: string): Offset {
  const [x, y] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return [x * gap + side(x) * halfWidth(text), y * gap + side(y) * HALF];
}

const side = (v: number): number => (Math.abs(v) < 0.3 ? 0 : Math.sign(v));
const halfWidth = (text: string): number => (text.length * LETTER) / 2;

function boxAt(at: Point, text: string, dx: number, dy: number, scale: number): Bounds {
  const [x, y] = [at[0] * scale + dx, at[1] * scale + dy];
  const half = halfWidth(text);
  return { minX: x - half, maxX: x + half, minY: y - HALF, maxY: y + HALF };
}

function start(at: Point, dx: number, dy: number, rim: number, scale: number): Point {
  const k = rim / Math.hypot(dx, dy) / scale;
  return [at[0] + dx * k, at[1] + dy * k];
}

/** The tags as they are drawn over a picture of this view. */
export function drawTags(tags: readonly PaperTag[], view: View): SVGGElement {
  const el = s("g", { class: "paper-tags", "aria-hidden": "true" });
  for (const t of tags) {
    const { px, py } = toPixel(view, t.middle);
    if (t.from) {
      const a = toPixel(view, t.from);
      const half = Math.min(halfWidth(t.text), Math.abs(px - a.px)) * Math.sign(px - a.px);
      el.append(s("path", { class: "paper-lead", d: `M${a.px} ${a.py}L${px - half} ${py}` }));
    }
    el.append(s("text", { class: "paper-tag", x: px, y: py + 3 }, t.text));
  }
  return el;
}
