// Setting heads: one click each. The head just set shows its handles, and they
// can be pulled at once, without changing tools.

import { ownThrow } from "../catalog";
import { placeText } from "../format";
import type { Point } from "../geometry";
import { gripAt } from "../grips";
import { parts } from "../model";
import { patternOf } from "../pattern";
import { rowName } from "../rownames";
import { setIn } from "../setback";
import { thingAt } from "../things";
import { gripsShown } from "./grasp";
import { fittedAt, head } from "./made";
import { type SelectState, selectTool } from "./select";
import type { Aim, Around, Result, Sketch, Tool } from "./tool";

export interface HeadState {
  readonly pointer: Point | null;
  /** The select tool's state while a head that stands already is pulled about. */
  readonly pulling: SelectState | null;
  /** The press was on a handle: head to head, the next head belongs just there, so a click sets it. */
  readonly onGrip?: boolean;
}

type Out = Result<HeadState>;
const fresh: HeadState = { pointer: null, pulling: null };

const pulled = (r: Result<SelectState>, onGrip: boolean): Out => {
  const { state, ...rest } = r;
  return { ...rest, state: { pointer: null, pulling: state, onGrip } };
};

/** What of a head a press takes hold of; nothing where a new head is set. */
function holds(aim: Aim, a: Around): "head" | "grip" | null {
  const on = thingAt(a.plan, aim.raw, aim.reach * 0.75, (r) => !a.sight?.hides(r));
  if (on !== null && parts(on)[0] === "heads") return "head";
  const grips = gripsShown(a.plan, a).filter((g) => parts(g.ref)[0] === "heads");
  return gripAt(grips, aim.raw, aim.reach) ? "grip" : null;
}

/** Where a head aimed at a place is set: in from an edge, unless Alt says just there. */
const meant = (aim: Aim, a: Around): Point => (aim.alt ? aim.at : setIn(a.plan, aim.at));

function set(a: Around, at: Point): Out {
  const made = head(a, at);
  if ("why" in made) return { state: fresh, say: made.why };
  return {
    state: { ...fresh, pointer: at },
    commit: made.step,
    say: `Head placed at ${placeText(at, a.plan.show)}.`,
  };
}

function ghost(s: HeadState, a: Around): Sketch {
  const fitted = s.pointer ? fittedAt(a, s.pointer) : null;
  if (!s.pointer || !fitted) return {};
  const { nozzle, startDeg, sweepDeg } = fitted;
  const shape = {
    start_deg: startDeg,
    sweep_deg: sweepDeg,
    x_ft: s.pointer[0],
    y_ft: s.pointer[1],
    nozzle: "",
    body: "",
  };
  return {
    ghost: {
      at: s.pointer,
      pattern: patternOf(shape, nozzle, ownThrow(nozzle)),
      text: rowName(nozzle, a.plan.show),
    },
  };
}

export const headTool: Tool<HeadState> = {
  name: "head",
  start: () => fresh,
  step(s, e, a) {
    if (s.pulling) {
      if (e.type === "drag") return pulled(selectTool.step(s.pulling, e, a), s.onGrip ?? false);
      if (e.type === "release" && s.onGrip && !e.moved) return set(a, meant(e.aim, a));
      const { state, ...rest } = selectTool.step(s.pulling, e, a);
      return { ...rest, state: { pointer: null, pulling: state.draft ? state : null } };
    }
    switch (e.type) {
      case "hover":
      case "drag":
        return { state: { ...s, pointer: meant(e.aim, a) } };
      case "press": {
        const on = holds(e.aim, a);
        if (on) return pulled(selectTool.step(selectTool.start(), e, a), on === "grip");
        return { state: { ...s, pointer: meant(e.aim, a) } };
      }
      case "release":
      case "place":
        return set(a, meant(e.aim, a));
      case "typed":
        return e.entry.place
          ? set(a, e.entry.place)
          : { state: s, say: "Type the place of the head as x, y." };
      case "escape":
      case "back":
        return { state: fresh, leave: true };
      case "finish":
        return { state: s, unused: true };
      default:
        return { state: fresh };
    }
  },
  sketch: (s, a) => (s.pulling ? selectTool.sketch(s.pulling, a) : ghost(s, a)),
  aims: (s) => (s.pulling ? (selectTool.aims?.(s.pulling) ?? true) : true),
  anchor: (s, a) => (s.pulling ? (selectTool.anchor?.(s.pulling, a) ?? null) : null),
  lead: (s) => (s.pulling ? (selectTool.lead?.(s.pulling) ?? null) : null),
  skip: (s) => (s.pulling ? (selectTool.skip?.(s.pulling) ?? null) : null),
  fields: (s, a) => (s.pulling ? (selectTool.fields?.(s.pulling, a) ?? []) : ["place"]),
  placeFirst: (s) => s.pulling === null,
  busy: (s) => s.pulling !== null,
  hint: (s, a) =>
    s.pulling
      ? selectTool.hint(s.pulling, a)
      : [a.kit.nozzleWhy, "Click to set a head, set in from edges; Alt sets it just there."]
          .filter(Boolean)
          .join(" "),
};
