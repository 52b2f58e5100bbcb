// The numbers beside what is being dragged.

import { arcOf, edgeLength, edgeMiddle } from "../arcs";
import { angleText, lengthText, placeText } from "../format";
import { distance } from "../geometry";
import { type Grip, gripKey, gripsOf } from "../grips";
import { find, type Plan, parts, type Ref } from "../model";
import { headAt, throwOf } from "../pattern";
import { edges, lineEdges } from "../shape";
import { isClosed, ringsOf, spotOf } from "../things";
import type { Grasp } from "./grasp";
import type { Around, SketchLabel } from "./tool";

/** Lengths of the edges being changed, or the numbers of what is in hand. */
export function dragLabels(plan: Plan, g: Grasp, a: Around): SketchLabel[] {
  if (g.what === "things") {
    const [first] = g.refs;
    const at = first ? spotOf(plan, first) : null;
    return at && first
      ? [{ at, text: [placeText(at, plan.show), nearest(first, a)].filter(Boolean).join(" · ") }]
      : [];
  }
  if (g.what === "grip" && g.grip.kind !== "corner" && g.grip.kind !== "middle") {
    const now = gripsOf(plan, g.grip.ref, a.design).find((k) => gripKey(k) === gripKey(g.grip));
    return [{ at: now?.at ?? g.grip.at, text: gripText(plan, g.grip, a) }];
  }
  const { ref, ring, index } = g.what === "edge" ? g.edge : g.grip;
  return edgeLabels(plan, ref, ring, index);
}

/** The lengths of an edge and its neighbours. */
function edgeLabels(plan: Plan, ref: Ref, ring: number, index: number): SketchLabel[] {
  const corners = ringsOf(plan, ref)[ring] ?? [];
  const closed = isClosed(parts(ref)[0]);
  const all = closed ? edges(corners) : lineEdges(corners);
  const wanted = [
    ...new Set([index - 1, index, index + 1].map((i) => (closed ? (i + all.length) % all.length : i))),
  ];
  return wanted.flatMap((i): SketchLabel[] => {
    const e = all[i];
    if (!e) return [];
    const arc = arcOf(e.a, e.b, e.bulge);
    const length = lengthText(edgeLength(e.a, e.b, e.bulge), plan.show);
    const text = arc ? `${length} · radius ${lengthText(arc.radius, plan.show)}` : length;
    return [{ at: edgeMiddle(e.a, e.b, e.bulge), text, along: { a: e.a, b: e.b } }];
  });
}

/** What a handle now stands at, in words. The water's figures are the server's. */
export function gripText(plan: Plan, g: Grip, a: Around): string {
  const show = plan.show;
  const [c, id] = parts(g.ref);
  if (c === "heads") return headText(plan, g, id, a);
  if (g.kind !== "radius") {
    const now = gripsOf(plan, g.ref, a.design).find((k) => gripKey(k) === gripKey(g));
    return placeText(now?.at ?? g.at, show);
  }
  const edge = gripsOf(plan, g.ref, a.design).find((k) => k.kind === "radius");
  const spot = spotOf(plan, g.ref);
  return spot && edge ? `Radius ${lengthText(distance(spot, edge.at), show)}` : "";
}

function headText(plan: Plan, g: Grip, id: string, a: Around): string {
  const h = find(plan, "heads", id);
  if (!h) return "";
  const said = a.design?.heads[id];
  const join = (...words: (string | undefined)[]) => words.filter(Boolean).join(" · ");
  if (g.kind === "body") return join(placeText(headAt(h), plan.show), nearest(g.ref, a));
  const n = find(plan, "nozzles", h.nozzle);
  if (g.kind === "throw")
    return join(`Throw ${lengthText(throwOf(h, n, a.design, id), plan.show)}`, said?.flow);
  if (n?.strip) return `Direction ${angleText(h.start_deg ?? 0)}`;
  const sweep = h.sweep_deg ?? 360;
  const most = n && sweep >= n.arc_most_deg && sweep < 360 && n.arc_most_deg !== n.arc_least_deg;
  const arc = `Arc ${angleText(sweep)} from ${angleText(h.start_deg ?? 0)}`;
  return join(arc, most ? "the most this nozzle takes" : undefined, said?.flow);
}

const nearest = (r: Ref, a: Around): string => {
  const [c, id] = parts(r);
  return c === "heads" ? (a.design?.heads[id]?.nearest ?? "") : "";
};
