// The layers of the board: what may be hidden, locked or faded for a while.
// A way of looking, not a part of the plan: it is kept for each plan in this
// browser, makes no step, and nothing listed, counted or exported depends on it.

import type { Shelf } from "./aids";
import { partsOfCan } from "./audits";
import { ids as idsOf, type Plan, parts, type Ref } from "./model";
import { type Drawn, isDrawn, isLocked } from "./things";

export type LayerName =
  | "picture"
  | "ground"
  | "walls"
  | "heads"
  | "water"
  | "contours"
  | "pipes"
  | "wiring"
  | "trenches"
  | "fixtures"
  | "cans"
  | "names"
  | "notes"
  | "grid";

/** A layer: what it is called, what is on it, and what besides hiding makes sense. */
export interface Layer {
  readonly name: LayerName;
  readonly title: string;
  readonly says: string;
  /** Things lie on it that can be moved by mistake. */
  readonly lockable?: boolean;
  /** It can be faded. */
  readonly fades?: boolean;
  /** It is hidden until it is asked for. */
  readonly seldom?: boolean;
}

/** All layers in the order the panel has them: from the ground up. */
export const layers: readonly Layer[] = [
  { name: "picture", title: "Picture", says: "The picture under the drawing" },
  { name: "ground", title: "Ground", says: "Areas and the property line", lockable: true },
  { name: "contours", title: "Contour lines", says: "The ground between the spot heights" },
  { name: "walls", title: "Walls and trees", says: "Also what must be kept dry", lockable: true },
  { name: "heads", title: "Heads", says: "Marks and what they wet", lockable: true },
  { name: "water", title: "Water map", says: "The map and the dry patches", fades: true },
  { name: "pipes", title: "Pipes", says: "Main, laterals and their joints", lockable: true },
  {
    name: "wiring",
    title: "Sleeves and wire",
    says: "Sleeves under paving, runs of control wire",
    lockable: true,
  },
  {
    name: "trenches",
    title: "Trenches",
    says: "What is dug for pipes and wire, its crossings and boxes",
    seldom: true,
  },
  {
    name: "fixtures",
    title: "Fixtures",
    says: "Valves, sensors, controller, boxes, connection, heights, ties",
    lockable: true,
  },
  {
    name: "cans",
    title: "Catch cans",
    says: "Cans of an audit: what each caught, beside what was predicted there",
    lockable: true,
    seldom: true,
  },
  { name: "names", title: "Names", says: "Names of areas, tags of heads" },
  { name: "notes", title: "Notes", says: "Remarks pinned to places", lockable: true },
  { name: "grid", title: "Grid", says: "The lines to draw by" },
];

const seldom = layers.filter((l) => l.seldom).map((l) => l.name);

/** The layer each drawn collection lies on. */
const of: Readonly<Record<Drawn, LayerName>> = {
  underlay: "picture",
  site: "ground",
  areas: "ground",
  barriers: "walls",
  trees: "walls",
  keep_dry: "walls",
  heads: "heads",
  ties: "fixtures",
  sleeves: "wiring",
  wires: "wiring",
  boxes: "fixtures",
  pipes: "pipes",
  nodes: "pipes",
  elevations: "fixtures",
  sensors: "fixtures",
  controller: "fixtures",
  supply: "fixtures",
  valves: "fixtures",
  notes: "notes",
  cans: "cans",
};

/** The layer a thing lies on; null for what is not drawn. */
export function layerOf(r: Ref): LayerName | null {
  const [c] = parts(r);
  return isDrawn(c) ? of[c] : null;
}

export function layerNamed(name: LayerName): Layer {
  const found = layers.find((l) => l.name === name);
  if (!found) throw new Error(`no layer ${name}`);
  return found;
}

/** What pointing and selecting mind: what cannot be seen is not meant, what is locked does not move. */
export interface Sight {
  hides(r: Ref): boolean;
  /** The title of the locked layer a thing lies on; null when it is free. */
  lockedIn(r: Ref): string | null;
  /** The audit whose cans are on the board; null or absent: none. */
  readonly audit?: string | null;
}

/** Whether a thing may be moved, changed by hand and deleted: neither it nor its layer is locked. */
export const isFree = (p: Plan, r: Ref, sight: Sight | undefined): boolean =>
  !isLocked(p, r) && !sight?.lockedIn(r);

/** Whether a sweep over the board takes a thing: it is seen and free. */
export const isTaken = (p: Plan, r: Ref, sight: Sight | undefined): boolean =>
  isFree(p, r, sight) && !sight?.hides(r);

/** What is kept: absent members mean shown (of what is shown seldom: hidden), free and at full strength. */
interface Kept {
  hidden?: LayerName[];
  shown?: LayerName[];
  locked?: LayerName[];
  strength?: Partial<Record<LayerName, number>>;
}

/** The faintest a layer can be made, as a share: fainter would be hidden without saying so. */
export const FAINTEST = 0.1;

export class Layers implements Sight {
  #hidden = new Set<LayerName>(seldom);
  #locked = new Set<LayerName>();
  #strength = new Map<LayerName, number>();
  #audit: string | null = null;
  #shelf: Shelf | null = null;
  #key = "";

  /** changed is called after every change. */
  constructor(readonly changed: () => void = () => {}) {}

  /** Takes what was kept for a plan, and keeps every change from now on. */
  keepOn(shelf: Shelf | null, plan: string): void {
    this.#shelf = shelf;
    this.#key = `evenfall-layers-${plan}`;
    const kept = load(shelf, this.#key);
    const shown = known(kept.shown);
    this.#hidden = new Set([...known(kept.hidden), ...seldom.filter((n) => !shown.includes(n))]);
    this.#locked = new Set(known(kept.locked).filter((n) => layerNamed(n).lockable));
    this.#strength = new Map();
    for (const { name, fades } of layers) {
      const s = kept.strength?.[name];
      if (fades && typeof s === "number" && s >= FAINTEST && s <= 1) this.#strength.set(name, s);
    }
    this.changed();
  }

  shows(name: LayerName): boolean {
    return !this.#hidden.has(name);
  }

  isLocked(name: LayerName): boolean {
    return this.#locked.has(name);
  }

  /** How strongly a layer is drawn, from FAINTEST to 1. */
  strength(name: LayerName): number {
    return this.#strength.get(name) ?? 1;
  }

  /** What is hidden that usually is not. */
  get hidden(): readonly LayerName[] {
    return layers.filter((l) => !l.seldom && this.#hidden.has(l.name)).map((l) => l.name);
  }

  show(name: LayerName, on: boolean): void {
    if (on === this.shows(name)) return;
    if (on) this.#hidden.delete(name);
    else this.#hidden.add(name);
    this.#keep();
  }

  lock(name: LayerName, on: boolean): void {
    if (on === this.isLocked(name) || !layerNamed(name).lockable) return;
    if (on) this.#locked.add(name);
    else this.#locked.delete(name);
    this.#keep();
  }

  fade(name: LayerName, strength: number): void {
    if (!Number.isFinite(strength) || !layerNamed(name).fades) return;
    this.#strength.set(name, Math.min(1, Math.max(FAINTEST, strength)));
    this.#keep();
  }

  showAll(): void {
    if (this.hidden.length === 0) return;
    for (const name of this.hidden) this.#hidden.delete(name);
    this.#keep();
  }

  /** The audit whose cans are on the board: of several one, or their cans would lie on each other. */
  get audit(): string | null {
    return this.#audit;
  }

  lookAtAudit(id: string | null): void {
    if (id === this.#audit) return;
    this.#audit = id;
    this.changed();
  }

  hides(r: Ref): boolean {
    const layer = layerOf(r);
    if (layer === "cans" && partsOfCan(parts(r)[1])[0] !== this.#audit) return true;
    return layer !== null && this.#hidden.has(layer);
  }

  lockedIn(r: Ref): string | null {
    const layer = layerOf(r);
    return layer !== null && this.#locked.has(layer) ? layerNamed(layer).title : null;
  }

  #keep(): void {
    const kept: Kept = { hidden: [...this.hidden], locked: [...this.#locked] };
    const shown = seldom.filter((n) => !this.#hidden.has(n));
    if (shown.length > 0) kept.shown = shown;
    if (this.#strength.size > 0) kept.strength = Object.fromEntries(this.#strength);
    try {
      this.#shelf?.setItem(this.#key, JSON.stringify(kept));
    } catch {
      // Storage forbidden or full: the layers then last as long as the page.
    }
    this.changed();
  }
}

const known = (names: unknown): LayerName[] =>
  Array.isArray(names) ? layers.map((l) => l.name).filter((n) => names.includes(n)) : [];

/** What was kept; anything unreadable counts as not kept. */
function load(shelf: Shelf | null, key: string): Kept {
  try {
    const kept = JSON.parse(shelf?.getItem(key) ?? "null") as Kept | null;
    return typeof kept === "object" && kept !== null ? kept : {};
  } catch {
    return {};
  }
}

/** The hidden layers that got something new between two documents. */
export const grown = (before: Plan, now: Plan, sight: Layers): LayerName[] =>
  grownOf(before, now, (layer) => !sight.shows(layer));

/** The locked layers that did. */
export const grownLocked = (before: Plan, now: Plan, sight: Layers): LayerName[] =>
  grownOf(before, now, (layer) => sight.isLocked(layer));

function grownOf(before: Plan, now: Plan, wanted: (layer: LayerName) => boolean): LayerName[] {
  const out = new Set<LayerName>();
  for (const [c, layer] of Object.entries(of) as [Drawn, LayerName][]) {
    if (!wanted(layer)) continue;
    const had = new Set(idsOf(before, c));
    if (idsOf(now, c).some((id) => !had.has(id))) out.add(layer);
  }
  return [...out];
}
