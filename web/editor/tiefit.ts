// Laying measured distances over the drawing: which corners may give way, where
// they go, and how well the ties agree before and after.

import { placeThing, setRing } from "./edit";
import { distance, type Point } from "./geometry";
import { find, ids, type Plan, parts, put, type Ref, ref, type Spot } from "./model";
import { bulgeOf, type Corner, place } from "./shape";
import { fitSpans, type Span } from "./taping";
import { allThings, isLocked, ringsOf, spotOf } from "./things";

/** Places nearer than a quarter inch, in feet, are one corner. */
const ONE_FT = 1 / 48;

/** The places ties end at, those of them that may move, and the ties as spans between them. */
export interface Sharing {
  readonly places: readonly Point[];
  readonly mayMove: readonly boolean[];
  readonly spans: readonly Span[];
}

export type Movable = Sharing | { readonly why: string };

/** What can be shared out: ties to corners of what is selected, or to the far ends of selected ties. */
export function movable(p: Plan, selection: ReadonlySet<Ref>): Movable {
  const all = ids(p, "ties");
  if (all.length === 0) return { why: "There are no ties to share out. Set some with By tape." };
  const places: Point[] = [];
  const spans = all.map((id): Span => {
    const t = find(p, "ties", id);
    const [from, to] = [placeOf(t?.from), placeOf(t?.to)];
    return { from: indexIn(places, from), to: indexIn(places, to), length: t?.distance_ft ?? 0 };
  });
  const chosen = chosenPlaces(p, selection, all, spans);
  if (selection.size === 0) return { why: "Select what may give way, or the ties, then share out." };
  const free = freePlaces(p, places);
  const mayMove = places.map((_, i) => chosen(i, places) && free(i));
  const used = spans.filter((s) => mayMove[s.from] || mayMove[s.to]);
  if (used.length === 0) {
    return { why: "No tie ends at a corner of what is selected that is not locked. Select another." };
  }
  return { places, mayMove, spans: used };
}

const placeOf = (s: Spot | undefined): Point => [s?.x_ft ?? 0, s?.y_ft ?? 0];

function indexIn(places: Point[], at: Point): number {
  const known = places.findIndex((q) => distance(q, at) <= ONE_FT);
  return known >= 0 ? known : places.push(at) - 1;
}

/** Whether a place belongs to what is selected. */
function chosenPlaces(
  p: Plan,
  selection: ReadonlySet<Ref>,
  ties: readonly string[],
  spans: readonly Span[],
): (i: number, places: readonly Point[]) => boolean {
  const others = [...selection].filter((r) => parts(r)[0] !== "ties");
  if (others.length === 0) {
    const ends = new Set(
      ties.flatMap((id, k) => (selection.has(ref("ties", id)) ? [(spans[k] as Span).to] : [])),
    );
    return (i) => ends.has(i);
  }
  const corners = others.flatMap((r) => cornersOf(p, r));
  return (i, places) => corners.some((c) => distance(c, places[i] as Point) <= ONE_FT);
}

function cornersOf(p: Plan, r: Ref): Point[] {
  const spot = spotOf(p, r);
  return spot ? [spot] : ringsOf(p, r).flatMap((ring) => ring.map(place));
}

/** Whether a place stands at something, and nothing there is locked. */
function freePlaces(p: Plan, places: readonly Point[]): (i: number) => boolean {
  const found = places.map(() => ({ any: false, locked: false }));
  for (const r of allThings(p)) {
    if (parts(r)[0] === "ties") continue;
    const corners = cornersOf(p, r);
    for (const [i, at] of places.entries()) {
      if (!corners.some((c) => distance(c, at) <= ONE_FT)) continue;
      const f = found[i] as { any: boolean; locked: boolean };
      f.any = true;
      f.locked ||= isLocked(p, r);
    }
  }
  return (i) => (found[i]?.any ?? false) && !found[i]?.locked;
}

/** The plan with the corners, and the ties' own ends, where the tapes agree best. */
export function sharedPlan(p: Plan, s: Sharing): Plan {
  const now = fitSpans(s.places, s.mayMove, s.spans);
  const to = (at: Point): Point | null => {
    const i = s.places.findIndex((q, k) => s.mayMove[k] && distance(q, at) <= ONE_FT);
    return i < 0 ? null : (now[i] as Point);
  };
  let next = p;
  for (const r of allThings(p)) {
    const [c, id] = parts(r);
    if (c === "ties") {
      const t = find(p, "ties", id);
      const [from, end] = [to(placeOf(t?.from)), to(placeOf(t?.to))];
      if (!t || !(from || end)) continue;
      const spot = (q: Point | null, was: Spot): Spot => (q ? { x_ft: q[0], y_ft: q[1] } : was);
      next = put(next, "ties", id, { ...t, from: spot(from, t.from), to: spot(end, t.to) });
      continue;
    }
    const at = spotOf(p, r);
    const moved = at ? to(at) : null;
    if (moved) next = placeThing(next, r, moved);
    for (const [n, ring] of ringsOf(p, r).entries()) {
      const list = ring.map((k): Corner => {
        const q = to(place(k));
        return q ? (bulgeOf(k) === 0 ? q : [q[0], q[1], bulgeOf(k)]) : k;
      });
      if (list.some((k, i) => k !== ring[i])) next = setRing(next, r, n, list);
    }
  }
  return next;
}

/** How well ties agree: the largest difference before and after, and the farthest a corner goes, in feet. */
export interface Agreement {
  readonly ties: number;
  readonly before: number;
  readonly after: number;
  readonly farthest: number;
}

export function agreement(s: Sharing): Agreement {
  const now = fitSpans(s.places, s.mayMove, s.spans);
  const worst = (at: readonly Point[]): number =>
    Math.max(...s.spans.map((t) => Math.abs(t.length - distance(at[t.from] as Point, at[t.to] as Point))));
  return {
    ties: s.spans.length,
    before: worst(s.places),
    after: worst(now),
    farthest: Math.max(...s.places.map((q, i) => distance(q, now[i] as Point))),
  };
}
