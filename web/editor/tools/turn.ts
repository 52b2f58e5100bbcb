// Turning what is selected: dragged or typed about a centre, or until one of
// its edges lies along another.

import { angleText, placeText } from "../format";
import { directionDeg, distance, normDeg, type Point, polar, turnDeg } from "../geometry";
import { isFree } from "../layers";
import { indexOf, nearestOnEdge, type SnapEdge } from "../snapindex";
import { boundsOfAll } from "../things";
import { middleOfAll, turnThings, turnToLie } from "../turning";
import type { Aim, Around, Result, Sketch, Tool, ToolEvent } from "./tool";

export interface TurnState {
  /** Null: the middle of what is selected. */
  readonly centre: Point | null;
  readonly pressed: Point | null;
  /** How far the drag has turned it, in degrees. */
  readonly deg: number | null;
  /** The edge that is to lie along another. */
  readonly edge: readonly [Point, Point] | null;
}

type Out = Result<TurnState>;
const fresh: TurnState = { centre: null, pressed: null, deg: null, edge: null };

const NOTHING = "Select what is to be turned first.";

/** Dragged angles go by the degree, with Shift by 15; at a snapped place they are what they are. */
const COARSE = 15;

const centreOf = (s: TurnState, a: Around): Point | null => s.centre ?? middleOfAll(a.plan, a.selection);

function turned(s: TurnState, deg: number, a: Around): Out {
  const centre = centreOf(s, a);
  const refs = [...a.selection];
  if (!centre) return { state: fresh, say: NOTHING, leave: true, preview: null };
  if (!a.kit.keep && !refs.some((r) => isFree(a.plan, r, a.sight))) {
    return { state: s, say: "What is selected is locked. Unlock it first, or keep the originals." };
  }
  const { label, plan, select, notes } = turnThings(a.plan, refs, centre, deg, a.kit.keep, a.sight);
  return {
    state: fresh,
    commit: { label, plan, select },
    say: [`${label}: done.`, ...notes].join(" "),
    leave: true,
  };
}

function dragged(s: TurnState, aim: Aim, a: Around): Out {
  const centre = centreOf(s, a);
  if (!s.pressed || !centre) return { state: s };
  const raw = turnDeg(directionDeg(centre, s.pressed), directionDeg(centre, aim.at));
  const step = aim.shift ? COARSE : 1;
  const exact = aim.alt || (aim.snap !== null && aim.snap.kind !== "grid");
  const deg = exact ? raw : Math.round(raw / step) * step;
  return {
    state: { ...s, deg },
    preview: turnThings(a.plan, [...a.selection], centre, deg, a.kit.keep, a.sight).plan,
  };
}

function edgeUnder(aim: Aim, a: Around, own: boolean): SnapEdge | null {
  const off = (e: SnapEdge) => distance(nearestOnEdge(aim.raw, e), aim.raw);
  const near = indexOf(a.plan)
    .edgesNear(aim.raw, aim.reach * 1.5)
    .filter((e) => a.selection.has(e.ref) === own || !own);
  return near.sort((e, f) => off(e) - off(f))[0] ?? null;
}

/** A click: the centre; or, laying along, first the edge of what is selected, then the one it is to lie along. */
function clicked(s: TurnState, aim: Aim, a: Around): Out {
  if (!a.kit.layAlong) return about(s, aim.at, a);
  const e = edgeUnder(aim, a, s.edge === null);
  if (!e) {
    const what = s.edge ? "an edge for it to lie along" : "an edge of what is selected";
    return { state: s, say: `No edge there. Click ${what}.` };
  }
  if (!s.edge) {
    return {
      state: { ...s, edge: [e.a, e.b] },
      say: "Now click the edge it is to lie along, or type a direction: 0 is level, 90 upright.",
    };
  }
  return turned(s, turnToLie(s.edge, directionDeg(e.a, e.b)), a);
}

/** A typed angle: how far to turn, or with an edge picked the direction it is to have. */
const aimed = (s: TurnState, deg: number): number => (s.edge ? turnToLie(s.edge, normDeg(deg)) : deg);

/** An angle being typed is shown, and waits for Enter. */
function typedTurn(s: TurnState, deg: number, a: Around): Out {
  const centre = centreOf(s, a);
  if (!centre) return { state: s };
  const { plan } = turnThings(a.plan, [...a.selection], centre, aimed(s, deg), a.kit.keep, a.sight);
  return { state: { ...s, deg }, preview: plan };
}

/** Another centre; an angle that is typed already shows about it. */
function about(s: TurnState, at: Point, a: Around): Out {
  const out = s.deg === null ? { state: s } : typedTurn({ ...s, centre: at }, s.deg, a);
  return { ...out, state: { ...s, centre: at }, say: `Turns about ${placeText(at, a.plan.show)}.` };
}

function step(s: TurnState, e: ToolEvent, a: Around): Out {
  switch (e.type) {
    case "hover":
      return { state: s };
    case "press":
      return { state: { ...s, pressed: e.aim.at, deg: null }, preview: null };
    case "drag":
      return dragged(s, e.aim, a);
    case "release": {
      const { deg } = dragged(s, e.aim, a).state;
      const state = { ...s, pressed: null, deg: null };
      return e.moved && deg !== null ? turned(state, deg, a) : clicked(state, e.aim, a);
    }
    case "place":
      return clicked(s, e.aim, a);
    case "begin":
      return about(s, e.at, a);
    case "typed": {
      const { angle } = e.entry.values;
      if (angle === undefined) {
        return e.entry.place
          ? about(s, e.entry.place, a)
          : { state: s, say: "Type an angle such as 90, or the centre as x, y." };
      }
      return turned(s, aimed(s, angle), a);
    }
    case "turn":
      return typedTurn(s, e.deg, a);
    case "finish":
      return s.deg !== null && !s.pressed ? turned(s, aimed(s, s.deg), a) : { state: s, unused: true };
    case "back":
    case "escape":
      return s.edge || s.centre || s.deg !== null
        ? { state: fresh, preview: null, say: "Turns about the middle of what is selected." }
        : { state: fresh, preview: null, leave: true };
    case "abort":
      return { state: { ...s, pressed: null, deg: null }, preview: null };
    default:
      return { state: s, unused: true };
  }
}

/** Where the handle stands: east of what is selected, as far as its middle's distance to the corner. */
function handleAt(s: TurnState, centre: Point, a: Around): Point {
  const b = boundsOfAll(a.plan, a.selection);
  const reach = b ? Math.hypot(b.maxX - b.minX, b.maxY - b.minY) / 2 : 0;
  return polar(centre, s.deg ?? 0, Math.max(reach, 8) * 1.15);
}

function sketch(s: TurnState, a: Around): Sketch {
  const centre = centreOf(s, a);
  if (!centre) return {};
  const handle = handleAt(s, centre, a);
  const text = s.deg === null ? "Drag to turn" : angleText(s.deg);
  const edge = s.edge ? { line: s.edge } : { line: [centre, handle] };
  return { ...edge, dots: [centre, handle], labels: [{ at: handle, text }] };
}

export const turnTool: Tool<TurnState> = {
  name: "turn",
  start: () => fresh,
  step,
  sketch,
  fields: () => ["angle"],
  busy: (s) => s.pressed !== null || s.edge !== null || s.deg !== null,
  hint(s, a) {
    if (a.selection.size === 0) return NOTHING;
    if (a.kit.layAlong) {
      return s.edge
        ? "Click the edge it is to lie along, or type a direction: 0 is level, 90 upright."
        : "Click the edge of what is selected that is to lie along another.";
    }
    return "Drag to turn, type an angle, or click another centre.";
  },
};
