// Where beside the pipes their sizes and the figures of their water are written:
// clear of marks, tags, names, other pipes and each other. What is too fast comes
// first, then the longest; what finds no room is left out, and is there from nearer.

import { type Bounds, distance, type Point } from "../geometry";
import { find, ids, type Pipe, type Plan, type System } from "../model";
import { pipeSizeText } from "../pipenames";
import { place } from "../shape";
import { pipeLine } from "../things";
import { type Boxes, boxOf, marksOf, placeNames, type Written } from "./naming";

/** Beside its longest stretch: how far along it, and whether on the other side than is usual. */
export interface Beside {
  readonly along: number;
  readonly far: boolean;
}

/** The figure of a pipe's water, and whether it matters more than others. */
export interface Figure {
  readonly text: string;
  readonly urgent: boolean;
}

export interface PipeWords {
  readonly sizes: ReadonlyMap<string, Beside>;
  readonly figures: ReadonlyMap<string, Beside>;
  /** The names of the areas, which were there first. */
  readonly names: ReadonlyMap<string, Written>;
}

const shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
/** The places tried, the best first: on its own side from the middle out, then on the other. */
const places: readonly Beside[] = [false, true].flatMap((far) => shares.map((along) => ({ along, far })));

/** In pixels: the width of a letter, and of half a line, of the 11 px type; how far off the pipe its middle is. */
const LETTER = 6.2;
const HALF = 4.5;
const OFF = 11;

export type Stretch = readonly [Point, Point];

interface Wanted {
  readonly id: string;
  readonly text: string;
  readonly stretch: Stretch;
  readonly urgent: boolean;
}

export function placePipeWords(plan: Plan, scale: number, figures: ReadonlyMap<string, Figure>): PipeWords {
  const names = placeNames(plan, scale);
  const taken = marksOf(plan, scale);
  for (const name of names.values()) taken.add(boxOf(name.at, name, scale));
  const lines = ids(plan, "pipes").map((id) => ({ id, way: wayOf(plan, id) }));
  for (const { way } of lines) for (const box of under(way, scale)) taken.add(box);
  const sizes: Wanted[] = [];
  const told: Wanted[] = [];
  for (const { id, way } of lines) {
    const stretch = longestOf(way);
    if (!stretch) continue;
    const size = sizeText(find(plan, "pipes", id), plan.show);
    const figure = figures.get(id);
    if (figure) told.push({ id, stretch, ...figure });
    if (size && distance(...stretch) >= LEAST_FT) sizes.push({ id, stretch, text: size, urgent: false });
  }
  return {
    figures: settle(told, figureBoxes, taken, scale),
    sizes: settle(sizes, sizeBoxes, taken, scale),
    names,
  };
}

/** A pipe whose stretches are all shorter, in feet, has no size written beside it: there is no room. */
const LEAST_FT = 5;

/** A size as it is written beside its pipe: 3/4". */
export const sizeText = (q: Pipe | undefined, show: System): string =>
  q?.nominal_in ? pipeSizeText(q.nominal_in, show).replace(" in", '"') : "";

type BoxesOf = (w: Wanted, b: Beside, scale: number) => readonly Bounds[] | null;

function settle(all: Wanted[], boxes: BoxesOf, taken: Boxes, scale: number): ReadonlyMap<string, Beside> {
  const long = (w: Wanted): number => distance(...w.stretch);
  all.sort((a, b) => Number(b.urgent) - Number(a.urgent) || long(b) - long(a) || (a.id < b.id ? -1 : 1));
  const out = new Map<string, Beside>();
  for (const w of all) {
    for (const b of places) {
      const over = boxes(w, b, scale);
      if (!over?.every((box) => taken.free(box))) continue;
      for (const box of over) taken.add(box);
      out.set(w.id, b);
      break;
    }
  }
  return out;
}

/** A size is written level: above its pipe, or else below; right of one that is steep, or else left. */
function sizeBoxes({ text, stretch }: Wanted, b: Beside, scale: number): Bounds[] {
  const [x, y] = pixelsAt(stretch, b, scale);
  const w = text.length * LETTER;
  if (isSteep(stretch)) {
    const from = b.far ? x - 7 - w : x + 7;
    return [{ minX: from, maxX: from + w, minY: y - HALF, maxY: y + HALF }];
  }
  const mid = b.far ? y - OFF : y + OFF;
  return [{ minX: x - w / 2, maxX: x + w / 2, minY: mid - HALF, maxY: mid + HALF }];
}

/** A figure goes along its pipe, within its stretch, below it or else above: squares along its line. */
function figureBoxes({ text, stretch }: Wanted, b: Beside, scale: number): Bounds[] | null {
  const w = text.length * LETTER;
  const px = distance(...stretch) * scale;
  if (Math.min(b.along, 1 - b.along) * px < w / 2) return null;
  const [x, y] = pixelsAt(stretch, b, scale);
  const turn = (-turnOf(stretch) * Math.PI) / 180; // up the board y grows
  const [ux, uy] = [Math.cos(turn), Math.sin(turn)];
  const off = b.far ? OFF : -OFF;
  const [mx, my] = [x - uy * off, y + ux * off];
  const count = Math.max(1, Math.ceil(w / (2 * HALF)));
  return Array.from({ length: count }, (_, i): Bounds => {
    const s = count === 1 ? 0 : (i / (count - 1) - 0.5) * (w - 2 * HALF);
    const [cx, cy] = [mx + ux * s, my + uy * s];
    return { minX: cx - HALF, maxX: cx + HALF, minY: cy - HALF, maxY: cy + HALF };
  });
}

/** Whether a figure is no longer than its stretch. */
export const fitsAlong = (text: string, stretch: Stretch, scale: number): boolean =>
  text.length * LETTER <= distance(...stretch) * scale;

function pixelsAt(stretch: Stretch, b: Beside, scale: number): Point {
  const [x, y] = at(stretch, b.along);
  return [x * scale, y * scale];
}

/** The place a share of the way along. */
export const at = ([a, b]: Stretch, share: number): Point => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
];

/** Beside a stretch that goes up the board its size stands to the right, else above it. */
export const isSteep = ([a, b]: Stretch): boolean => Math.abs(b[1] - a[1]) > Math.abs(b[0] - a[0]);

/** The turn, in degrees of the screen, of writing along a stretch: never upside down, upwards where it stands. */
export function turnOf([a, b]: Stretch): number {
  const deg = (-Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
  return deg >= 89.5 ? deg - 180 : deg < -90.5 ? deg + 180 : deg;
}

/** The longest stretch of a way; arcs count as their chords. */
export function longestOf(way: readonly Point[]): Stretch | null {
  let best: Stretch | null = null;
  for (let i = 0; i + 1 < way.length; i++) {
    const next: Stretch = [way[i] as Point, way[i + 1] as Point];
    if (!best || distance(...next) > distance(...best)) best = next;
  }
  return best;
}

const wayOf = (plan: Plan, id: string): Point[] => {
  const q = find(plan, "pipes", id);
  return q ? pipeLine(plan, q).map(place) : [];
};

/** What a drawn pipe covers, as small squares along it. */
function under(way: readonly Point[], scale: number): Bounds[] {
  const half = 3;
  const out: Bounds[] = [];
  for (let i = 0; i + 1 < way.length; i++) {
    const stretch: Stretch = [way[i] as Point, way[i + 1] as Point];
    const count = Math.max(1, Math.ceil((distance(...stretch) * scale) / 6));
    for (let k = 0; k <= count; k++) {
      const [x, y] = at(stretch, k / count).map((v) => v * scale) as [number, number];
      out.push({ minX: x - half, maxX: x + half, minY: y - half, maxY: y + half });
    }
  }
  return out;
}
