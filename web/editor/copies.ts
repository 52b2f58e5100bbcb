// Copies of what is selected, laid out at equal distances: along an edge, in a
// grid, or round a centre. The same function serves the preview and the step.

import { edgeMiddle } from "./arcs";
import { equip } from "./catalog";
import { copyThings, isChosen, type Laying, layCopies, type Naming, newIDs } from "./edit";
import { angleText, lengthText } from "./format";
import { distance, dot, minus, nearestOnSegment, type Point, rotateAbout, unit } from "./geometry";
import { type Read, read, refuse } from "./length";
import { type Area, dropMany, find, type Head, type Plan, parts, type Ref } from "./model";
import { after, type Motion, shiftBy, turnAbout } from "./motions";
import { count, nameOf, namesOf } from "./names";
import { facing } from "./pattern";
import { setIn } from "./setback";
import { LATTICE, pathOf, ringOf, shapeHolds } from "./shape";
import { indexOf, nearestOnEdge, type SnapEdge, shapesOf } from "./snapindex";
import {
  along,
  beside,
  type Lattice,
  latticePlace,
  latticeSpan,
  MOST_COPIES,
  nearestStation,
  ROW_SHARE,
  type Run,
  type RunWish,
  type Station,
  tooMany,
  turnsRound,
} from "./stations";
import { areaAt, type Drawn, isStretch, spotOf } from "./things";
import { fittedAt } from "./tools/made";
import type { Around } from "./tools/tool";
import { byMotion, middleOfAll } from "./turning";

/** The line copies are laid along, and whose edge it is, if anything's. */
export interface Line extends Run {
  readonly of: Ref | null;
  readonly name: string;
}

/**
 * How the arcs of heads lie: fitted to each place as the Head tool sets them,
 * turned with the edge or the round, or as they are.
 */
export type Arcs = "fit" | "turn" | "keep";

export type Way = "edge" | "grid" | "round";

export interface EdgeWish extends Omit<RunWish, "fromEndsFt"> {
  readonly line: Line | null;
  /** From both ends of the line, in feet; null: at an end, as far from the edge it meets as the Head tool stands off it. */
  readonly fromEndsFt: number | null;
  /** In from the line, in feet; null keeps the set-back of the original. */
  readonly inFt: number | null;
}

export interface GridWish {
  /** Rows and columns, the original's among them; null: as many as the area takes. */
  readonly rows: number | null;
  readonly columns: number | null;
  /** Along a row and from row to row, in feet: into the area of the original, or below zero the other way. */
  readonly acrossFt: number;
  readonly upFt: number;
  readonly pattern: "square" | "triangular";
  /** The direction of the rows, in degrees. */
  readonly deg: number;
  /** Leaves out what would fall outside the area; null: if the original stands in planting. */
  readonly inside: boolean | null;
}

export interface RoundWish {
  readonly centre: Point | null;
  /** The original among them. */
  readonly count: number;
  readonly throughDeg: number;
}

export interface CopyWish {
  readonly way: Way;
  readonly arcs: Arcs;
  /** Leaves out what would stand where one of its kind stands already. */
  readonly leaveTaken: boolean;
  readonly edge: EdgeWish;
  readonly grid: GridWish;
  readonly round: RoundWish;
}

export const usualCopies: CopyWish = {
  way: "edge",
  arcs: "fit",
  leaveTaken: true,
  edge: { line: null, by: "count", count: 3, spacingFt: 15, ends: "both", fromEndsFt: null, inFt: null },
  grid: { rows: 2, columns: 3, acrossFt: 15, upFt: 15, pattern: "square", deg: 0, inside: null },
  round: { centre: null, count: 6, throughDeg: 360 },
};

export interface Copied {
  readonly plan: Plan;
  readonly label: string;
  readonly select: readonly Ref[];
  /** What was made, in a sentence with its figures. */
  readonly says: string;
  /** Where the middle of each copy lies. */
  readonly places: readonly Point[];
}

/** What a grip of one thing is held by: its place, or the middle of all. */
export function anchorOf(p: Plan, refs: readonly Ref[]): Point | null {
  const [only] = refs;
  const spot = only && refs.length === 1 ? spotOf(p, only) : null;
  return spot ?? middleOfAll(p, refs);
}

/** The same names for the same copies as long as they are only shown, so that each preview follows from the last. */
function steadyNames(): Naming {
  const fresh = newIDs();
  const kept: string[] = [];
  return (p, c, n) => {
    const known = kept[n];
    if (known?.startsWith(`${c}/`) && !find(p, c, known.slice(c.length + 1))) {
      return known.slice(c.length + 1);
    }
    const id = fresh(p, c, n);
    kept[n] = `${c}/${id}`;
    return id;
  };
}

const steady = steadyNames();

/** The copies wished for, or the sentence that says why there are none. */
export function copiesOf(a: Around, wish: CopyWish, naming: Naming = steady): Read<Copied> {
  const clip = copyThings(a.plan, a.selection);
  const refs = clip.things.length > 0 ? [...a.selection] : [];
  const anchor = anchorOf(a.plan, refs);
  if (!anchor) return refuse("Select what is to be copied first.");
  const made = laidOut(a, wish, refs, anchor);
  if (!made.ok) return made;
  const fresh = made.value.spots.filter((s) => distance(s.at, anchor) > LATTICE);
  const each = clip.things.length;
  const total = fresh.length * each;
  if (total > MOST_COPIES) return tooMany(total);
  if (total === 0) return refuse("The only place is the original's own. Choose another number or spacing.");
  const fit = wish.arcs === "fit";
  const layings = fresh.map((s) => layingAt(a, s, fit));
  const [all, laid] = layCopies(a.plan, clip, layings, naming);
  const taken = wish.leaveTaken ? takenOf(a.plan, all, laid) : new Set<Ref>();
  const select = laid.filter((r) => !taken.has(r) && isChosen(r));
  if (select.length === 0) {
    return refuse(
      "Every place is taken already. Choose another edge or spacing, or turn “Leave out places already taken” off.",
    );
  }
  const laidDown = taken.size > 0 ? dropMany(all, [...taken]) : all;
  const plan = fit ? withSiblings(a, laidDown, select) : laidDown;
  const whole = fresh.filter((_, i) => laid.slice(i * each, (i + 1) * each).some((r) => !taken.has(r)));
  const own = made.value.spots.length - fresh.length > 0 ? " The original keeps its place among them." : "";
  return read({
    plan,
    select,
    label: `Copy ${namesOf(a.plan, refs)} ${whole.length === 1 ? "once" : `${whole.length} times`} ${made.value.where}`,
    says: `${count(whole.length, "copy", "copies")}${made.value.says}${own}${takenSaid(taken.size)}`,
    places: whole.map((s) => s.at),
  });
}

/** A thing this near to one of its kind, in feet, stands where that stands. */
const TAKEN_FT = 1;

const takenSaid = (n: number): string =>
  n === 0 ? "" : ` ${count(n, "place")} where one stands already ${n === 1 ? "is" : "are"} left out.`;

/** The copies that would stand where one of their kind stood before. */
function takenOf(before: Plan, after: Plan, made: readonly Ref[]): Set<Ref> {
  const index = indexOf(before);
  return new Set(
    made.filter((r) => {
      const at = spotOf(after, r);
      const [c] = parts(r);
      return (
        at &&
        index.pointsNear(at, TAKEN_FT).some((s) => {
          const spot = parts(s.ref)[0] === c ? spotOf(before, s.ref) : null;
          return spot !== null && distance(spot, at) <= TAKEN_FT;
        })
      );
    }),
  );
}

/** Where one copy goes, and how what is copied gets there. */
interface Spot {
  readonly at: Point;
  readonly motion: Motion;
}

interface LaidOut {
  readonly spots: readonly Spot[];
  readonly where: string;
  /** The figures, to follow "7 copies". */
  readonly says: string;
}

function laidOut(a: Around, wish: CopyWish, refs: readonly Ref[], anchor: Point): Read<LaidOut> {
  switch (wish.way) {
    case "edge":
      return alongEdge(a, wish, refs, anchor);
    case "grid":
      return inGrid(a, wish.grid, anchor);
    case "round":
      return round(a, wish, anchor);
  }
}

// Along an edge

/** An original no farther than this from the line stands at it, in feet. */
const AT_LINE_FT = 3;

function alongEdge(a: Around, wish: CopyWish, refs: readonly Ref[], anchor: Point): Read<LaidOut> {
  const { line } = wish.edge;
  if (!line) return refuse("Pick the edge: click one on the board, or choose it in the list.");
  const fromEndsFt = fromEnds(a.plan, line, wish.edge);
  const spread = along(line, { ...wish.edge, fromEndsFt });
  if (!spread.ok) return spread;
  const { stations, pitchFt, leftFt } = spread.value;
  const way = insideOf(a.plan, line, anchor);
  const off = wish.edge.inFt ?? setBackOf(a, line, refs, anchor, way);
  const foot = nearestStation(line, anchor);
  const from = distance(foot.at, anchor) <= AT_LINE_FT ? foot : (stations[0] as Station);
  const show = a.plan.show;
  const spots = stations.map((s): Spot => {
    const at = beside(s, way * off);
    const shift = shiftBy(minus(at, anchor));
    const turn = s.deg - from.deg;
    const motion = wish.arcs === "turn" && turn !== 0 ? after(shift, turnAbout(at, turn)) : shift;
    return { at, motion };
  });
  const apart = pitchFt > 0 ? `, ${lengthText(pitchFt, show)} apart` : "";
  const inward =
    Math.abs(off) > LATTICE
      ? `, ${lengthText(Math.abs(off), show)} ${off < 0 ? "outside" : "in from"} the line`
      : "";
  const ends = endsSaid(fromEndsFt, show);
  const left = leftFt > LATTICE ? ` ${lengthText(leftFt, show)} is left at the far end.` : "";
  return read({ spots, where: `along ${line.name}`, says: `${apart}${inward}${ends}.${left}` });
}

/** How far from its two ends a run begins and stops: as typed, else off the edges it meets there. */
function fromEnds(p: Plan, line: Line, w: EdgeWish): readonly [number, number] {
  if (w.fromEndsFt !== null) return [w.fromEndsFt, w.fromEndsFt];
  if (!line.of || parts(line.of)[0] !== "areas") return [0, 0];
  const off = (end: Point, stands: boolean): number => {
    const inner = stands ? setIn(p, end) : end;
    return Math.round(distance(nearestStation(line, inner).at, end) * 100) / 100;
  };
  // Where no copy stands at an end, there is nothing to keep off its edge.
  return [
    off(line.a, w.ends === "both" || w.ends === "first"),
    off(line.b, w.ends === "both" || w.ends === "last"),
  ];
}

function endsSaid([one, two]: readonly [number, number], show: Plan["show"]): string {
  const [a, b] = [lengthText(one, show), lengthText(two, show)];
  if (one <= LATTICE && two <= LATTICE) return "";
  if (a === b) return `, ${a} from both ends`;
  return `, ${a} from the first end and ${b} from the other`;
}

/** 1 when the inside of the area, or else the original, lies to the left of the line; -1 to the right. */
function insideOf(p: Plan, line: Line, anchor: Point): 1 | -1 {
  const [c, id] = line.of ? parts(line.of) : [null, ""];
  const area = c === "areas" ? find(p, "areas", id) : undefined;
  if (!area) return leftOff(line, anchor) < -LATTICE ? -1 : 1;
  const mid = nearestStation(line, edgeMiddle(line.a, line.b, line.bulge));
  return shapeHolds(area.outline, area.holes ?? [], beside(mid, 0.05)) ? 1 : -1;
}

/** How far to the left of a line a place lies, in feet; negative to its right. */
function leftOff(line: Line, p: Point): number {
  const foot = nearestStation(line, p);
  return dot(minus(p, foot.at), unit(foot.deg + 90));
}

/** How far in the copies stand: as far as the original, if it stands at this line; else a head as far as one clicked there. */
function setBackOf(a: Around, line: Line, refs: readonly Ref[], anchor: Point, way: 1 | -1): number {
  if (distance(nearestStation(line, anchor).at, anchor) <= AT_LINE_FT) return way * leftOff(line, anchor);
  if (!refs.every((r) => parts(r)[0] === "heads")) return 0;
  const mid = edgeMiddle(line.a, line.b, line.bulge);
  return Math.round(distance(setIn(a.plan, mid), mid) * 100) / 100;
}

// In a grid

/** From row to row: of triangles as their spacing has it, the way that is set. */
const upOf = (g: GridWish): number =>
  g.pattern === "triangular" ? Math.sign(g.upFt) * Math.abs(g.acrossFt) * ROW_SHARE : g.upFt;

/** The area a place lies in, and whether it is planting. */
function groundAt(p: Plan, at: Point): { area: Area | undefined; planting: boolean } {
  const r = areaAt(p, at);
  const area = r ? find(p, "areas", parts(r)[1]) : undefined;
  return { area, planting: area?.kind === "planting" };
}

/** Whether a grid keeps to the area it begins in: as wished, else if that is planting. */
export const keepsInside = (p: Plan, g: GridWish, anchor: Point): boolean =>
  g.inside ?? groundAt(p, anchor).planting;

/**
 * 1 when a way, in degrees, leads into the area of the original, -1 when the
 * other does: as the arc of a head looks, else where the area reaches farther.
 */
function inward(a: Around, area: Area | undefined, anchor: Point, deg: number): 1 | -1 {
  const [only] = a.selection;
  const [c, id] = only && a.selection.size === 1 ? parts(only) : [null, ""];
  const head = c === "heads" ? find(a.plan, "heads", id) : undefined;
  const sweep = head?.sweep_deg ?? 360;
  const axis = unit(deg);
  const looks = head && sweep < 360 ? dot(unit((head.start_deg ?? 0) + sweep / 2), axis) : 0;
  if (Math.abs(looks) > 0.1) return looks > 0 ? 1 : -1;
  if (!area) return 1;
  const reach = ringOf(area.outline, 0.25).map((p) => dot(minus(p, anchor), axis));
  return Math.max(...reach) + Math.min(...reach) < -LATTICE ? -1 : 1;
}

function inGrid(a: Around, g: GridWish, anchor: Point): Read<LaidOut> {
  const fills = g.rows === null || g.columns === null;
  const keeps = keepsInside(a.plan, g, anchor);
  const ground = groundAt(a.plan, anchor).area;
  const lattice: Lattice = {
    origin: anchor,
    deg: g.deg,
    acrossFt: g.acrossFt * inward(a, ground, anchor, g.deg),
    upFt: upOf(g) * inward(a, ground, anchor, g.deg + 90),
    staggered: g.pattern === "triangular",
  };
  const area = fills || keeps ? ground : undefined;
  if ((fills || keeps) && !area) {
    return refuse(
      "The original lies in no area. Move it into one, or type rows and columns and turn “Only inside the area” off.",
    );
  }
  const span = area && fills ? latticeSpan(lattice, ringOf(area.outline, 0.25)) : null;
  const [c0, c1] = span && g.columns === null ? span.columns : [0, (g.columns ?? 1) - 1];
  const [r0, r1] = span && g.rows === null ? span.rows : [0, (g.rows ?? 1) - 1];
  const cells = (c1 - c0 + 1) * (r1 - r0 + 1);
  // A grid over an area holds more cells than fall inside it, but not a hundred times more.
  if (cells > MOST_COPIES * (area ? 100 : 1) + 1) return tooMany(cells - 1);
  const spots: Spot[] = [];
  const holds = area ? inside(area.outline, area.holes ?? []) : () => true;
  for (let row = r0; row <= r1; row++) {
    for (let column = c0; column <= c1; column++) {
      const at = row === 0 && column === 0 ? anchor : latticePlace(lattice, column, row);
      if (at === anchor || holds(at)) spots.push({ at, motion: shiftBy(minus(at, anchor)) });
    }
  }
  const show = a.plan.show;
  const shape = fills ? "" : `: ${count(r1 - r0 + 1, "row")} of ${c1 - c0 + 1}`;
  const rows =
    g.pattern === "triangular" || Math.abs(g.upFt) !== Math.abs(g.acrossFt)
      ? `, rows ${lengthText(Math.abs(upOf(g)), show)}`
      : "";
  const left = area && !fills ? cells - spots.length : 0;
  const out = left > 0 ? ` ${left} would fall outside and ${left === 1 ? "is" : "are"} left out.` : "";
  const where = g.pattern === "triangular" ? "in a grid of triangles" : "in a grid";
  return read({
    spots,
    where,
    says: `${shape}, ${lengthText(Math.abs(g.acrossFt), show)} apart${rows}.${out}`,
  });
}

/** Whether a place lies in an area; on its edge counts. */
function inside(outline: Parameters<typeof shapeHolds>[0], holes: Parameters<typeof shapeHolds>[1]) {
  const all = [outline, ...holes].map((r) => pathOf([...r, ...r.slice(0, 1)]));
  const onEdge = (p: Point) =>
    all.some((path) =>
      path.some((b, i) => i > 0 && distance(nearestOnSegment(p, path[i - 1] as Point, b), p) <= LATTICE),
    );
  return (p: Point): boolean => shapeHolds(outline, holes, p) || onEdge(p);
}

// Round a centre

function round(a: Around, wish: CopyWish, anchor: Point): Read<LaidOut> {
  const { centre, count: n, throughDeg } = wish.round;
  if (!centre) return refuse("Pick the centre: click it on the board, or type it.");
  if (distance(centre, anchor) <= LATTICE) {
    return refuse("The centre is the original's own place. Pick one beside it.");
  }
  if (n - 1 > MOST_COPIES) return tooMany(n - 1);
  const turns = turnsRound(n, throughDeg);
  const spots = turns.map((deg): Spot => {
    const at = rotateAbout(anchor, centre, deg);
    return { at, motion: wish.arcs === "keep" ? shiftBy(minus(at, anchor)) : turnAbout(centre, deg) };
  });
  const step = turns[1] ?? 0;
  const radius = lengthText(distance(centre, anchor), a.plan.show);
  return read({
    spots,
    where: "round a centre",
    says: `, ${angleText(Math.abs(step))} apart at ${radius} from the centre.`,
  });
}

// Heads

/** Lays each thing at a spot; a head that is to fit its place gets the arc, and perhaps the sibling, the Head tool would give it. */
function layingAt(a: Around, s: Spot, fit: boolean): Laying {
  const lay = byMotion(a.plan, s.motion);
  return <C extends Drawn>(c: C, thing: Parameters<typeof lay<C>>[1]) => {
    const moved = lay(c, thing);
    return c === "heads" && fit ? (fitted(a, moved as Head) as typeof moved) : moved;
  };
}

function fitted(a: Around, h: Head): Head {
  const at: Point = [h.x_ft, h.y_ft];
  if (!facing(a.plan, at)) return h; // off all planting there is nothing to fit to
  const f = fittedAt({ ...a, kit: { ...a.kit, nozzle: h.nozzle } }, at);
  if (!f) return h;
  const turned: Head = { ...h, nozzle: f.nozzle.id, start_deg: f.startDeg };
  return f.sweepDeg > 0 ? { ...turned, sweep_deg: f.sweepDeg } : turned;
}

/** The plan with the rows of the siblings that fitting has chosen. */
function withSiblings(a: Around, p: Plan, made: readonly Ref[]): Plan {
  const nozzles = new Set(made.flatMap((r) => find(p, "heads", parts(r)[1])?.nozzle ?? []));
  let plan = p;
  for (const id of nozzles) plan = equip(plan, a.catalog, id, "");
  return plan;
}

// Lines to choose from

/** A line as it stands in a list: "edge 2 of Front lawn". */
function lineOf(p: Plan, e: SnapEdge): Line {
  const [c, id] = parts(e.ref);
  const rings = c === "areas" ? [find(p, "areas", id)?.outline, ...(find(p, "areas", id)?.holes ?? [])] : [];
  const ring = c === "areas" ? rings[e.ring] : c === "site" ? p.site?.lot : find(p, "barriers", id)?.line;
  const bulge = ring?.[e.index]?.[2] ?? 0;
  const hole = e.ring > 0 ? ` of hole ${e.ring}` : "";
  return { a: e.a, b: e.b, bulge, of: e.ref, name: `edge ${e.index + 1}${hole} of ${nameOf(p, e.ref)}` };
}

/** The edges of areas, walls and the property line nearest to a place. */
export function linesNear(p: Plan, at: Point, most: number): Line[] {
  return shapesOf(p)
    .edges.filter((e) => !isStretch(parts(e.ref)[0]))
    .map((e) => ({ e, off: distance(nearestOnEdge(at, e), at) }))
    .sort((a, b) => a.off - b.off)
    .slice(0, most)
    .map(({ e }) => lineOf(p, e));
}

/** The edge of an area, a wall or the property line under a place, within reach (feet). */
export function lineAt(p: Plan, at: Point, reach: number): Line | null {
  const off = (e: SnapEdge) => distance(nearestOnEdge(at, e), at);
  const near = indexOf(p)
    .edgesNear(at, reach)
    .filter((e) => !isStretch(parts(e.ref)[0]))
    .sort((e, f) => off(e) - off(f))[0];
  return near ? lineOf(p, near) : null;
}

/** A line drawn for the purpose. */
export const drawnLine = (a: Point, b: Point): Line => ({ a, b, bulge: 0, of: null, name: "a line" });

export const sameLine = (a: Line | null, b: Line | null): boolean =>
  a !== null &&
  b !== null &&
  a.of === b.of &&
  a.name === b.name &&
  distance(a.a, b.a) === 0 &&
  distance(a.b, b.b) === 0;
