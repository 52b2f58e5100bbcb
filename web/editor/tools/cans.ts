// Catch cans by hand: a click sets the next one of the audit in view, or of a new one
// where the plan has none; on a can that stands there it selects that.

import { auditIDs, auditOf, canNumber, canRef, nextCan, withAudit, withCan } from "../audits";
import { civilDate } from "../findings";
import { placeText } from "../format";
import { distance, type Point } from "../geometry";
import { freshID, ids, type Plan, parts, type Ref, ref } from "../model";
import { areaAt, spotOf } from "../things";
import type { Around, Result, Step, Tool } from "./tool";

interface CansState {
  readonly pointer: Point | null;
}

type Out = Result<CansState>;
const fresh: CansState = { pointer: null };

/** The plan with a new audit of the area around a place, begun today. */
export function newAudit(p: Plan, at: Point | null, today: string): [Plan, string] {
  const id = freshID("q", p.proof?.audits);
  const around = at && areaAt(p, at, (a) => a.kind === "planting");
  const area = around ? { area: parts(around)[1] } : {};
  return [withAudit(p, id, { on: today, ...area }), id];
}

/** The step that sets a can. */
export function setCanAt(p: Plan, audit: string | null, at: Point, today: string): Step {
  const known = audit ?? auditIDs(p).at(-1) ?? null;
  const [plan, id] = known !== null && auditOf(p, known) ? [p, known] : newAudit(p, at, today);
  const r = canRef(id, nextCan(auditOf(plan, id)));
  const next = withCan(plan, parts(r)[1], { x_ft: at[0], y_ft: at[1] });
  return { label: `Set catch can ${canNumber(next, parts(r)[1])}`, plan: next, select: [r] };
}

/** The can in view that stands at a place. */
function canAt(a: Around, at: Point, reach: number): Ref | null {
  let best: { r: Ref; d: number } | null = null;
  for (const id of ids(a.plan, "cans")) {
    const r = ref("cans", id);
    const spot = spotOf(a.plan, r);
    if (!spot || a.sight?.hides(r)) continue;
    const d = distance(spot, at);
    if (d <= reach && (!best || d < best.d)) best = { r, d };
  }
  return best?.r ?? null;
}

function set(a: Around, at: Point): Out {
  const step = setCanAt(a.plan, a.sight?.audit ?? null, at, civilDate(new Date()));
  return { state: fresh, commit: step, say: `${step.label}, at ${placeText(at, a.plan.show)}.` };
}

export const canTool: Tool<CansState> = {
  name: "cans",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "press":
      case "drag":
        return { state: { pointer: e.aim.at } };
      case "release":
      case "place": {
        const there = canAt(a, e.aim.at, e.aim.reach);
        return there ? { state: s, select: { refs: [there], how: "set" } } : set(a, e.aim.at);
      }
      case "typed":
        return e.entry.place ? set(a, e.entry.place) : { state: s, refused: "Type the place as x, y." };
      case "escape":
      case "back":
        return { state: fresh, leave: true };
      case "finish":
        return { state: s, unused: true };
      default:
        return { state: fresh };
    }
  },
  sketch: (s) => (s.pointer ? { dots: [s.pointer] } : {}),
  // A can stands on the ground between things: their corners are not meant.
  aims: () => false,
  fields: () => ["place"],
  placeFirst: () => true,
  busy: () => false,
  hint: () => "Click where the next catch can stands, or type x, y. Select moves cans.",
};
