// Arrow keys on what is selected. Presses in quick succession are one step (see
// Board.commit); the handle in hand, if any, is moved instead of the thing.

import { FEET_A_METRE } from "./conversions";
import type { Drawing } from "./drawing";
import { moveEdge, moveThings } from "./edit";
import { placeText } from "./format";
import { add, distance, type Point, polar, times } from "./geometry";
import { nudgeSteps } from "./grid";
import { dragGrip, type Grip, gripKey } from "./grips";
import { isFree } from "./layers";
import { find, type Plan, parts, put } from "./model";
import { namesOf } from "./names";
import { ARC_STEP, ARC_STEP_COARSE, dragEnd, dragStart, setThrow, tableThrow, throwOf } from "./pattern";
import { middleOf, spotOf } from "./things";
import { brokenRing, gripLabel } from "./tools/grasp";
import { gripText } from "./tools/words";

export function nudge(d: Drawing, way: Point, large: boolean): void {
  const grip = d.inHand;
  if (grip && grip.kind !== "body") nudgeGrip(d, grip, way, large);
  else nudgeThings(d, way, large);
}

function nudgeThings(d: Drawing, way: Point, large: boolean): void {
  const base = d.board.committed;
  const refs = [...d.board.selection].filter((r) => isFree(base, r, d.board.layers));
  const [first] = refs;
  if (!first) {
    d.board.announce("What is selected is locked, or its layer is.");
    return;
  }
  const next = moveThings(base, refs, stepOf(base, way, large));
  const at = middleOf(next, first);
  const say = at ? placeText(at, base.show) : undefined;
  d.commit(`Move ${namesOf(base, refs)}`, next, { merge: `nudge ${refs.join(" ")}`, say });
}

function stepOf(p: Plan, way: Point, large: boolean): Point {
  const s = nudgeSteps[p.show];
  return times(way, large ? s.large : s.usual);
}

function nudgeGrip(d: Drawing, g: Grip, way: Point, large: boolean): void {
  const base = d.board.committed;
  const next = movedGrip(base, g, way, large, d);
  if (g.kind === "corner" || g.kind === "middle") {
    if (brokenRing(next, g.ref, g.ring)) {
      d.board.announce("No farther: the outline would cross itself.");
      return;
    }
  }
  const say = gripText(next, g, { ...d.around, plan: next });
  d.commit(gripLabel(base, g), next, { merge: `grip ${gripKey(g)}`, say });
}

/** Arc ends turn by 5 or 15 degrees, left and up anticlockwise; throws and radii grow upwards and to the right. */
export function movedGrip(p: Plan, g: Grip, way: Point, large: boolean, d: Pick<Drawing, "board">): Plan {
  const by = stepOf(p, way, large);
  const design = d.board.design;
  switch (g.kind) {
    case "middle":
      return moveEdge(p, g.ref, g.ring, g.index, by);
    case "start":
    case "end":
      return turned(p, g, (way[1] - way[0]) * (large ? ARC_STEP_COARSE : ARC_STEP));
    case "throw": {
      const [, id] = parts(g.ref);
      const h = find(p, "heads", id);
      if (!h) return p;
      const n = find(p, "nozzles", h.nozzle);
      const step = (way[0] + way[1]) * (p.show === "metric" ? 0.5 * FEET_A_METRE : 1);
      return put(p, "heads", id, setThrow(h, n, tableThrow(n, design, id), throwOf(h, n, design, id) + step));
    }
    case "radius": {
      const spot = spotOf(p, g.ref);
      const r = spot ? distance(spot, g.at) + (way[0] + way[1]) * 0.5 : 0;
      return spot
        ? dragGrip(
            p,
            g,
            { to: polar(spot, 0, Math.max(0.25, r)), exact: true, coarse: false, free: true },
            design,
          )
        : p;
    }
    default:
      return dragGrip(p, g, { to: add(g.at, by), exact: true, coarse: false, free: false }, design);
  }
}

function turned(p: Plan, g: Grip, deg: number): Plan {
  const [, id] = parts(g.ref);
  const h = find(p, "heads", id);
  if (!h) return p;
  const n = find(p, "nozzles", h.nozzle);
  const start = h.start_deg ?? 0;
  const to = g.kind === "start" ? start + deg : start + (h.sweep_deg ?? 360) + deg;
  return put(p, "heads", id, g.kind === "start" ? dragStart(h, n, to) : dragEnd(h, n, to));
}
