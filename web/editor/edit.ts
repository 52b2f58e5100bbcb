// Changes to a plan, each returning a new plan and leaving the given one as it
// was. What is locked stays where it is.

import { edgeMiddle } from "./arcs";
import { add, type Point } from "./geometry";
import { isFree, type Sight } from "./layers";
import {
  type Area,
  type Change,
  type Collection,
  type Collections,
  clone,
  dropMany,
  find,
  has,
  newID,
  type Plan,
  parts,
  put,
  putMany,
  type Ref,
  ref,
  type Spot,
  takesMore,
  type Vertex,
} from "./model";
import { laid, shiftBy } from "./motions";
import { setPipeLine, withJoints } from "./pipechange";
import { joinedAnew, withNodesOfPipes } from "./pipecopies";
import { standsApart } from "./pipenet";
import { withoutNodes, withoutPipes } from "./pipesgone";
import { withPipesFollowing } from "./pipewhole";
import { bulgeOf, type Corner, edges, place } from "./shape";
import { type Drawn, isClosed, isDrawn, isLockable, isLocked, isPlaced, isStretch, ringsOf } from "./things";

const vertex = ([x, y]: Point, bulge = 0): Vertex => (bulge === 0 ? [x, y] : [x, y, bulge]);

/** Moves things, all but the locked. */
export const moveThings = (p: Plan, refs: Iterable<Ref>, by: Point): Plan =>
  layThings(p, refs, (c, thing) => laid(c, thing, shiftBy(by)));

/** Changes drawn things, all but the locked, each by itself. */
export function layThings(
  p: Plan,
  refs: Iterable<Ref>,
  change: <C extends Drawn>(c: C, thing: Collections[C]) => Collections[C],
): Plan {
  const changed: Change[] = [];
  for (const r of withJoints(p, refs)) {
    const [c, id] = parts(r);
    const thing = isDrawn(c) ? find(p, c, id) : undefined;
    if (!thing || !isDrawn(c) || isLocked(p, r)) continue;
    changed.push({ in: c, id, thing: change(c, thing as Collections[typeof c]) });
  }
  return withPipesFollowing(p, putMany(p, changed));
}

/** Puts a thing that stands at one place somewhere else. */
export function placeThing(p: Plan, r: Ref, at: Point): Plan {
  const [c, id] = parts(r);
  if (!isPlaced(c) || isLocked(p, r)) return p;
  const t = find(p, c, id);
  if (!t) return p;
  const next = put(p, c, id, { ...t, x_ft: at[0], y_ft: at[1] } as Collections[typeof c]);
  return withPipesFollowing(p, next);
}

/** Takes things out, all but the locked, and what of the pipe network then leads nowhere. */
export function deleteThings(p: Plan, refs: Iterable<Ref>): Plan {
  const gone = [...refs].filter((r) => isDrawn(parts(r)[0]) && !isLocked(p, r) && has(p, r));
  const network = (r: Ref): boolean => ["nodes", "pipes"].includes(parts(r)[0]);
  const idsIn = (c: Collection): string[] => gone.flatMap((r) => (parts(r)[0] === c ? [parts(r)[1]] : []));
  const others = dropMany(
    p,
    gone.filter((r) => !network(r)),
  );
  const pipes = withoutPipes(withPipesFollowing(p, others), idsIn("pipes"));
  return withoutNodes(pipes, idsIn("nodes"));
}

/** A thing copied. id: what it was, so that pipes find their nodes and nodes their heads again. */
export interface Copied {
  readonly in: Drawn;
  readonly thing: Collections[Drawn];
  readonly id?: string;
}

/** Things kept for pasting, apart from any plan. */
export interface Clip {
  readonly things: readonly Copied[];
  /** The catalogue rows the heads need. */
  readonly nozzles: Plan["nozzles"];
  readonly bodies: Plan["bodies"];
  /** And those of the pipes. */
  readonly classes?: Plan["pipe_classes"];
}

export function copyThings(p: Plan, refs: Iterable<Ref>): Clip {
  const things: Copied[] = [];
  const all = withNodesOfPipes(p, refs);
  const keyed = all.some((r) => parts(r)[0] === "pipes");
  for (const r of all) {
    const [c, id] = parts(r);
    const thing = isDrawn(c) ? find(p, c, id) : undefined;
    // Of some things there is only one: the property line, the controller.
    if (thing && isDrawn(c) && takesMore(c))
      things.push({ in: c, thing: clone(thing) as Collections[Drawn], ...(keyed ? { id } : {}) });
  }
  const classes = keyed ? { classes: clone(p.pipe_classes) } : {};
  return { things, nozzles: clone(p.nozzles), bodies: clone(p.bodies), ...classes };
}

/**
 * Puts a copy down, moved by dx, dy feet, and says what it made. Copies of heads
 * lose their tag, which belongs to one head; and lose a zone this plan lacks. No copy
 * is as its original was found or built.
 */
export function pasteThings(p: Plan, clip: Clip, by: Point): [Plan, Ref[]] {
  const [plan, made] = layCopies(p, clip, [(c, thing) => laid(c, thing, shiftBy(by))]);
  return [plan, made.filter(isChosen)];
}

/** Whether a copy is selected after it was made: nodes go with their pipes. */
export const isChosen = (r: Ref): boolean => parts(r)[0] !== "nodes";

/** How a copy differs from what it is a copy of: where it lies, above all. */
export type Laying = <C extends Drawn>(c: C, thing: Collections[C]) => Collections[C];

/** Names new things: by collection, and by number among all that are made at once. */
export type Naming = (p: Plan, c: Collection, n: number) => string;

/** New ids, none given twice. */
export function newIDs(): Naming {
  const given = new Set<string>();
  return (p, c) => {
    for (;;) {
      const id = newID(p, c);
      if (given.has(id)) continue;
      given.add(id);
      return id;
    }
  };
}

/** Puts one copy of a clip down for each laying, and says what it made. */
export function layCopies(
  p: Plan,
  clip: Clip,
  layings: readonly Laying[],
  name: Naming = newIDs(),
): [Plan, Ref[]] {
  const names = new Set(Object.values(p.areas ?? {}).map((a) => a.name));
  const made: Change[] = [];
  let rows = p;
  for (const lay of layings) {
    const own: (Change & { readonly was?: string })[] = [];
    for (const { in: c, thing, id: was } of clip.things) {
      const copy = fresh(p, c, lay(c, clone(thing)), names);
      if (c === "heads") rows = withRows(rows, clip, copy as Collections["heads"]);
      if (c === "pipes") rows = withClass(rows, clip, copy as Collections["pipes"]);
      own.push({ in: c, id: name(p, c, made.length + own.length), thing: copy, was });
    }
    made.push(...joinedAnew(own));
  }
  return [putMany(rows, made), made.map(({ in: c, id }) => ref(c, id))];
}

/** A plan with things laid otherwise, what to call that, what to select, and sentences on what needs a look. */
export interface Moved {
  readonly plan: Plan;
  readonly label: string;
  readonly select: readonly Ref[];
  readonly notes: readonly string[];
}

/**
 * Lays things otherwise: themselves, all but what they or their layer lock; or,
 * with keep, copies of them. free are those it was done to.
 */
export function layOrCopy(
  p: Plan,
  refs: readonly Ref[],
  lay: Laying,
  keep: boolean,
  sight?: Sight,
): Omit<Moved, "label"> & { readonly free: readonly Ref[] } {
  if (keep) {
    const [plan, made] = layCopies(p, copyThings(p, refs), [lay]);
    return { plan, select: made.filter(isChosen), free: refs, notes: [] };
  }
  const free = refs.filter((r) => isFree(p, r, sight));
  const locked = refs.length - free.length;
  const notes = locked > 0 ? [`${locked} locked left alone.`] : [];
  return { plan: layThings(p, free, lay), select: refs, free, notes };
}

function fresh(p: Plan, c: Drawn, thing: Collections[Drawn], names: Set<string>): Collections[Drawn] {
  // What was seen and measured of one thing holds for no other.
  const { locked: _locked, built: _built, state: _state, ...free } = thing as Area & Record<string, unknown>;
  if (c === "areas") {
    const name = freeName(names, free.name);
    names.add(name);
    return { ...free, name };
  }
  if (c === "pipes" || c === "nodes") {
    const { zone, ...rest } = free as unknown as Collections["pipes"];
    return (zone !== undefined && find(p, "zones", zone) ? free : rest) as unknown as Collections[Drawn];
  }
  if (c !== "heads") return free as unknown as Collections[Drawn];
  const { tag: _tag, ...head } = free as unknown as Collections["heads"];
  if (head.zone !== undefined && !find(p, "zones", head.zone)) delete head.zone;
  return head;
}

function withRows(p: Plan, clip: Clip, head: Collections["heads"]): Plan {
  const nozzle = clip.nozzles?.[head.nozzle];
  const body = clip.bodies?.[head.body];
  let next = p;
  if (nozzle && !find(p, "nozzles", head.nozzle)) next = put(next, "nozzles", head.nozzle, clone(nozzle));
  if (body && !find(p, "bodies", head.body)) next = put(next, "bodies", head.body, clone(body));
  return next;
}

function withClass(p: Plan, clip: Clip, pipe: Collections["pipes"]): Plan {
  const id = pipe.class ?? "";
  const row = clip.classes?.[id];
  return row && !find(p, "pipe_classes", id) ? put(p, "pipe_classes", id, clone(row)) : p;
}

/** A name no area (or barrier) has: "Front lawn 2" after "Front lawn". */
export function copyName(p: Plan, name: string, c: "areas" | "barriers" = "areas"): string {
  return freeName(new Set(Object.values(p[c] ?? {}).map((a) => a.name)), name);
}

function freeName(taken: ReadonlySet<string>, name: string): string {
  if (!taken.has(name)) return name;
  const stem = name.replace(/ \d+$/, "");
  let n = 2;
  while (taken.has(`${stem} ${n}`)) n++;
  return `${stem} ${n}`;
}

/** Replaces one ring of an area (0 the outline, n the nth hole), the property line, or the line of anything else. */
export function setRing(p: Plan, r: Ref, ring: number, corners: readonly Corner[]): Plan {
  const [c, id] = parts(r);
  const list = corners.map((k) => vertex(place(k), bulgeOf(k)));
  if (c === "site") return put(p, "site", id, { outline: list });
  if (isStretch(c)) return setStretch(p, c, id, list);
  if (c === "pipes") return setPipeLine(p, id, list);
  if (c === "barriers" || c === "wires") {
    const b = find(p, c, id);
    return b ? put(p, c, id, { ...b, line: list }) : p;
  }
  const a = c === "areas" ? find(p, "areas", id) : undefined;
  if (!a) return p;
  if (ring === 0) return put(p, "areas", id, { ...a, outline: list });
  return put(p, "areas", id, { ...a, holes: (a.holes ?? []).map((h, i) => (i === ring - 1 ? list : h)) });
}

/** A tie or a sleeve has two ends, no more and no fewer. */
function setStretch<C extends "ties" | "sleeves">(
  p: Plan,
  c: C,
  id: string,
  [from, to, more]: readonly Vertex[],
): Plan {
  const t = find(p, c, id);
  if (!t || !from || !to || more) return p;
  const spot = (v: Vertex): Spot => ({ x_ft: v[0], y_ft: v[1] });
  return put(p, c, id, { ...t, from: spot(from), to: spot(to) });
}

/** Takes a hole out. */
export function dropHole(p: Plan, id: string, hole: number): Plan {
  const a = find(p, "areas", id);
  if (!a?.holes) return p;
  const holes = a.holes.filter((_, i) => i !== hole);
  const { holes: _old, ...rest } = a;
  return put(p, "areas", id, holes.length > 0 ? { ...rest, holes } : rest);
}

export function addHole(p: Plan, id: string, outline: readonly Corner[]): Plan {
  const a = find(p, "areas", id);
  if (!a) return p;
  const hole = outline.map((c) => vertex(place(c), bulgeOf(c)));
  return put(p, "areas", id, { ...a, holes: [...(a.holes ?? []), hole] });
}

const ringOfRef = (p: Plan, r: Ref, ring: number): readonly Corner[] => ringsOf(p, r)[ring] ?? [];

export function moveCorner(p: Plan, r: Ref, ring: number, index: number, to: Point): Plan {
  const corners = ringOfRef(p, r, ring).map((c, i) => (i === index ? vertex(to, bulgeOf(c)) : c));
  return setRing(p, r, ring, corners);
}

/** A new corner on the edge that leaves corner `edge`; an arc is split into two straight edges' ends on it. */
export function addCorner(p: Plan, r: Ref, ring: number, edge: number, at?: Point): Plan {
  const corners = ringOfRef(p, r, ring);
  const e = edges(corners)[edge];
  if (!e) return p;
  const middle = edgeMiddle(e.a, e.b, e.bulge);
  // Half an arc has half the included angle: tan(a/8) from tan(a/4).
  const half = at || e.bulge === 0 ? 0 : Math.tan(Math.atan(e.bulge) / 2);
  const next = corners.flatMap((c, i) =>
    i === edge ? [vertex(place(c), half), vertex(at ?? middle, half)] : [c],
  );
  return setRing(p, r, ring, next);
}

/** Takes a corner out; null when the shape would be left with too few. */
export function removeCorner(p: Plan, r: Ref, ring: number, index: number): Plan | null {
  const corners = ringOfRef(p, r, ring);
  const [c] = parts(r);
  const least = isClosed(c) ? 3 : 2;
  if (corners.length <= least) return null;
  if (c === "pipes" && (index === 0 || index === corners.length - 1)) return null; // its ends are nodes
  return setRing(
    p,
    r,
    ring,
    corners.filter((_, i) => i !== index),
  );
}

/** Moves one edge, with both its ends, by dx, dy feet. */
export function moveEdge(p: Plan, r: Ref, ring: number, edge: number, by: Point): Plan {
  const corners = ringOfRef(p, r, ring);
  const other = (edge + 1) % corners.length;
  const held = heldCorners(p, r, corners.length);
  return setRing(
    p,
    r,
    ring,
    corners.map((c, i) =>
      (i === edge || i === other) && !held.has(i) ? vertex(add(place(c), by), bulgeOf(c)) : c,
    ),
  );
}

/** The ends of a pipe that are at a head, a valve or the supply: moving a stretch of it leaves them. */
function heldCorners(p: Plan, r: Ref, n: number): ReadonlySet<number> {
  const [c, id] = parts(r);
  const q = c === "pipes" ? find(p, "pipes", id) : undefined;
  const ends: [number, string][] = q
    ? [
        [0, q.from],
        [n - 1, q.to],
      ]
    : [];
  return new Set(ends.filter(([, node]) => !standsApart(p, node)).map(([i]) => i));
}

/** Sets the bulge of one edge; 0 makes it straight. */
export function setBulge(p: Plan, r: Ref, ring: number, edge: number, bulge: number): Plan {
  return setRing(
    p,
    r,
    ring,
    ringOfRef(p, r, ring).map((c, i) => (i === edge ? vertex(place(c), bulge) : c)),
  );
}

function withLock<T extends object>(thing: T, locked: boolean): T {
  const { locked: _was, ...rest } = thing as T & { locked?: boolean };
  return (locked ? { ...rest, locked } : rest) as T;
}

/** Locks or frees things that can be locked. */
export function setLocked(p: Plan, refs: Iterable<Ref>, locked: boolean): Plan {
  const changed: Change[] = [];
  let next = p;
  for (const r of refs) {
    const [c, id] = parts(r);
    const t = isLockable(c) ? find(p, c, id) : undefined;
    if (!t || !isLockable(c)) continue;
    const set = <T extends object>(of: T): T => withLock(of, locked);
    if (c === "controller") next = { ...next, controller: set(next.controller ?? {}) };
    else changed.push({ in: c, id, thing: set(t) as Collections[typeof c] });
  }
  return putMany(next, changed);
}
