// Where the names of areas are written: each at the freest of several places
// inside its area, clear of the marks of heads and other things and of the
// names before it; smaller, cut short or left out where there is no room.

import { type Bounds, overlap, type Point } from "../geometry";
import { type Area, find, ids, items, type Plan, ref } from "../model";
import { wateringWords } from "../names";
import { standsApart } from "../pipenet";
import { areaOf, ringHolds, ringOf } from "../shape";
import { statusWords } from "../statuses";
import { placed, spotOf } from "../things";
import { markScale } from "./heads";
import { labelPlaces } from "./label";

/** A name to be written: where, in feet, and what of it. */
export interface Written {
  readonly at: Point;
  readonly text: string;
  readonly small: boolean;
}

/** About the width of a letter and the height of a line, in pixels, in the two sizes. */
const sizes = {
  usual: { letter: 7, up: 10, down: 4 },
  small: { letter: 5.9, up: 8.5, down: 3.5 },
} as const;

/** Names are cut to these many letters before they are left out. */
const CUTS = [12, 7];

/** Pixels a foot below which tags and the words of notes are not shown: see the scene. */
const WORDS_FROM = 5;

interface Form {
  readonly text: string;
  readonly small: boolean;
}

/** The names that find room at a scale, by area. Smaller areas choose first: they have fewer places. */
export function placeNames(plan: Plan, pixelsPerFoot: number): ReadonlyMap<string, Written> {
  const taken = marksOf(plan, pixelsPerFoot);
  const areas = ids(plan, "areas").map((id) => ({ id, area: items(plan, "areas")[id] as Area }));
  const size = new Map(areas.map(({ id, area }) => [id, areaOf(area.outline)]));
  areas.sort((a, b) => (size.get(a.id) ?? 0) - (size.get(b.id) ?? 0) || (a.id < b.id ? -1 : 1));
  const out = new Map<string, Written>();
  for (const { id, area } of areas) {
    const written = placeOne(area, taken, pixelsPerFoot);
    if (written) out.set(id, written);
  }
  return out;
}

function placeOne(area: Area, taken: Boxes, scale: number): Written | null {
  const spots = labelPlaces(area).filter((l) => l.room * scale > sizes.small.down);
  if (spots.length === 0 || area.name.trim() === "") return null;
  const rings = ringsFor(area);
  for (const form of formsOf(area)) {
    for (const { at } of spots) {
      const box = boxOf(at, form, scale);
      if (!taken.free(box) || !within(rings, box, scale)) continue;
      taken.add(box);
      return { at, ...form };
    }
  }
  return null;
}

/**
 * What is written in an area: its name, its watering where it is not the usual,
 * and that it goes. What exists shows by its thin line: on most plans it is most.
 */
export function areaLabel(a: Area): string {
  const watering = a.kind === "planting" ? wateringWords[a.watering ?? "overhead"] : "";
  const status = a.status === "remove" ? statusWords("areas", a.status) : "";
  return [a.name, watering, status].filter((w) => w !== "").join(" · ");
}

/** The label whole, whole but small, without what follows the name, then the name cut short. */
function formsOf(area: Area): Form[] {
  const { name } = area;
  const label = areaLabel(area);
  const cut = CUTS.filter((n) => n < name.length - 1).map((n) => ({
    text: `${name.slice(0, n).trimEnd()}…`,
    small: true,
  }));
  const whole = [label, name].flatMap((text) => [
    { text, small: false },
    { text, small: true },
  ]);
  return [...(label === name ? whole.slice(2) : whole), ...cut];
}

/** The box of a name in pixels of the world, y up. */
export function boxOf(at: Point, form: Form, scale: number): Bounds {
  const { letter, up, down } = form.small ? sizes.small : sizes.usual;
  const half = (form.text.length * letter) / 2 + 2;
  const [x, y] = [at[0] * scale, at[1] * scale];
  return { minX: x - half, maxX: x + half, minY: y - down, maxY: y + up };
}

const kept = new WeakMap<Area, readonly (readonly Point[])[]>();

function ringsFor(area: Area): readonly (readonly Point[])[] {
  const known = kept.get(area);
  if (known) return known;
  const made = [area.outline, ...(area.holes ?? [])].map((r) => ringOf(r, 0.5));
  kept.set(area, made);
  return made;
}

/** Whether a box lies inside the outline and in no hole, by its corners and the middles of its long sides. */
function within([outer = [], ...holes]: readonly (readonly Point[])[], b: Bounds, scale: number): boolean {
  const xs = [b.minX, (b.minX + b.maxX) / 2, b.maxX];
  return [b.minY, b.maxY].every((y) =>
    xs.every((x) => {
      const p: Point = [x / scale, y / scale];
      return ringHolds(outer, p) && !holes.some((h) => ringHolds(h, p));
    }),
  );
}

/** What the marks of a plan cover, in pixels, with the words beside them; those of heads only where asked. */
export function marksOf(plan: Plan, scale: number, tags = true): Boxes {
  const out = new Boxes();
  const k = markScale(scale);
  const words = scale >= WORDS_FROM;
  for (const c of placed) {
    for (const id of ids(plan, c)) {
      // Cans are shown for a while only: names do not move for them.
      if (c === "cans" || (c === "nodes" && !standsApart(plan, id))) continue;
      const at = spotOf(plan, ref(c, id));
      if (!at) continue;
      const [x, y] = [at[0] * scale, at[1] * scale];
      const r = c === "heads" ? 10 * k : 9;
      out.add({ minX: x - r, maxX: x + r, minY: y - r, maxY: y + r });
      const text = words && (tags || c !== "heads") ? besideMark(plan, c, id) : "";
      const up = c === "heads" ? 8 : -4;
      if (text) out.add({ minX: x + r, maxX: x + 13 + text.length * 6.2, minY: y + up, maxY: y + up + 10 });
    }
  }
  return out;
}

function besideMark(plan: Plan, c: (typeof placed)[number], id: string): string {
  if (c === "heads") return find(plan, "heads", id)?.tag ?? "";
  return c === "notes" ? (find(plan, "notes", id)?.text ?? "").slice(0, 40) : "";
}

/** Boxes in buckets, so that only those near are looked at. */
export class Boxes {
  readonly #cells = new Map<string, Bounds[]>();

  add(b: Bounds): void {
    for (const key of keys(b)) {
      const list = this.#cells.get(key);
      if (list) list.push(b);
      else this.#cells.set(key, [b]);
    }
  }

  free(b: Bounds): boolean {
    for (const key of keys(b)) if (this.#cells.get(key)?.some((t) => overlap(t, b))) return false;
    return true;
  }
}

/** Of a bucket, in pixels: about a name. */
const CELL = 64;

function* keys(b: Bounds): Iterable<string> {
  for (let i = Math.floor(b.minX / CELL); i <= Math.floor(b.maxX / CELL); i++) {
    for (let j = Math.floor(b.minY / CELL); j <= Math.floor(b.maxY / CELL); j++) yield `${i},${j}`;
  }
}
