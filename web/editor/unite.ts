// Joining: two areas of a kind that share an edge or overlap, two walls whose
// ends meet. Straight edges are cut where they cross; an arc is kept whole or
// the join is refused.

import type { Changed } from "./cut";
import { distance } from "./geometry";
import { type Area, drop, find, type Outline, type Plan, parts, put, type Ref } from "./model";
import { capital, kindNames, nameOf } from "./names";
import { areaOf, type Corner, faultOf, LATTICE, openFault, place, signedArea, turnedLine } from "./shape";
import { unionOf } from "./union";

/** Joins two areas, or two walls, into the larger. */
export function join(p: Plan, one: Ref, two: Ref): Changed {
  const [c, id] = parts(one);
  const [d, other] = parts(two);
  if (c !== d) return { why: "Two areas can be joined, or two walls; not one of each." };
  return c === "areas" ? joinAreas(p, id, other) : joinBarriers(p, id, other);
}

const named = (p: Plan, a: Ref, b: Ref): string => `${nameOf(p, a)} and ${nameOf(p, b)}`;

function joinAreas(p: Plan, one: string, two: string): Changed {
  const [a, b] = [find(p, "areas", one), find(p, "areas", two)];
  if (!a || !b) return { why: "One of the two is no longer here." };
  const both = named(p, `areas/${one}`, `areas/${two}`);
  if (a.kind !== b.kind) {
    const kinds = `${kindNames[a.kind].toLowerCase()} and ${kindNames[b.kind].toLowerCase()}`;
    return { why: `${capital(both)} are ${kinds}. Only areas of one kind can be joined.` };
  }
  const made = unionOf(a, b);
  if (made === "arc") {
    return {
      why: `${capital(both)} meet on an arc that would have to be cut. Put a corner where they meet, or straighten the edge.`,
    };
  }
  const outer = made.filter((ring) => signedArea(ring) > 0);
  const [outline, more] = outer;
  if (!outline || more) {
    return { why: `${capital(both)} share no edge and do not overlap. Move them together first.` };
  }
  const holes = made.filter((ring) => signedArea(ring) < 0);
  if ([outline, ...holes].some((ring) => faultOf(ring) !== null)) {
    return { why: `Joined, ${both} would touch themselves at a corner. Move one of them a little.` };
  }
  const [kept, gone] = areaOf(a.outline) >= areaOf(b.outline) ? [one, two] : [two, one];
  const { holes: _old, ...rest } = (kept === one ? a : b) as Area;
  const area: Area = holes.length > 0 ? { ...rest, outline, holes } : { ...rest, outline };
  const plan = drop(put(p, "areas", kept, area), "areas", gone);
  return { plan, label: `Join ${both}`, select: [`areas/${kept}`] };
}

function joinBarriers(p: Plan, one: string, two: string): Changed {
  const [a, b] = [find(p, "barriers", one), find(p, "barriers", two)];
  if (!a || !b) return { why: "One of the two is no longer here." };
  const both = named(p, `barriers/${one}`, `barriers/${two}`);
  if ((a.kind ?? "fence") !== (b.kind ?? "fence") || a.height_ft !== b.height_ft) {
    return { why: `${capital(both)} differ in kind or height. Make them alike first.` };
  }
  const line = joinedLine(a.line, b.line);
  if (!line) return { why: `The ends of ${both} do not meet. Move one end onto the other first.` };
  if (openFault(line)) return { why: `Joined, ${both} would cross or close on themselves.` };
  const plan = drop(put(p, "barriers", one, { ...a, line }), "barriers", two);
  return { plan, label: `Join ${both}`, select: [`barriers/${one}`] };
}

/** The two lines as one, from the first of the ways in which their ends meet; the corner they share is there once. */
function joinedLine(a: Outline, b: Outline): Outline | null {
  const meet = (x: Corner | undefined, y: Corner | undefined) =>
    x !== undefined && y !== undefined && distance(place(x), place(y)) <= LATTICE;
  const after = (x: readonly Corner[], y: readonly Corner[]) => [...x.slice(0, -1), ...y] as Outline;
  if (meet(a.at(-1), b[0])) return after(a, b);
  if (meet(a.at(-1), b.at(-1))) return after(a, turnedLine(b));
  if (meet(a[0], b.at(-1))) return after(b, a);
  if (meet(a[0], b[0])) return after(turnedLine(b), a);
  return null;
}
