// Drawing corner by corner: outlines that close, and lines that stay open.

import { type Entry, placeFrom } from "../entry";
import { angleText, areaText, lengthText, placeText } from "../format";
import { directionDeg, distance, middle, type Point } from "../geometry";
import { mends } from "../mend";
import { type Plan, parts, type System } from "../model";
import { nameOf } from "../names";
import { pipeRun } from "../pipedraw";
import { joinSaid, joins } from "../pipenames";
import { areaOf, type Corner, type Fault, faultOf, faultSentence, openFault, place } from "../shape";
import type { Source } from "../snapindex";
import {
  barrier,
  closedOutline,
  continued,
  type GoesOn,
  type Made,
  sleeve,
  wallEndingAt,
  wireRun,
} from "./made";
import type { Aim, Around, Fix, Result, Sketch, SketchLabel, Tool, ToolEvent } from "./tool";

export interface PathState {
  readonly corners: readonly Corner[];
  /** Where the pointer is, while there is one. */
  readonly pointer: Point | null;
  /** The last corner was typed as x, y. */
  readonly typedPlace: boolean;
  /** Closing was tried and this stood in the way. */
  readonly held: Fault | null;
  /** What Escape dropped, for taking up again. */
  readonly dropped: readonly Corner[];
  /** A draft was begun, even if its corners were all taken back: undo then leaves the tool before the plan. */
  readonly begun: boolean;
  /** The wall whose end the first corner is: the line goes on from it. */
  readonly from: GoesOn | null;
}

type Out = Result<PathState>;

interface Sort {
  readonly name: string;
  readonly closes: boolean;
  readonly make: (a: Around, corners: readonly Corner[]) => Made;
  readonly what: string;
  /** Begun at the end of a wall like the one in hand, it is that wall that grows. */
  readonly goesOn?: boolean;
  /** What the next corner is, for the status bar; where absent, what lines and outlines say. */
  readonly hint?: (corners: number, plan: Plan) => string;
  /** What stands at a corner, to be said with its place. */
  readonly at?: (a: Around, p: Point) => string;
  readonly prefers?: (s: Source) => boolean;
  /** With so many corners it is done; where absent, Enter says so. */
  readonly most?: number;
}

const fresh: PathState = {
  corners: [],
  pointer: null,
  typedPlace: false,
  held: null,
  dropped: [],
  begun: false,
  from: null,
};

const last = (s: PathState): Point | null => {
  const c = s.corners.at(-1);
  return c ? place(c) : null;
};

/** Two places nearer than this, in feet, are one: a double click adds one corner. */
const SAME_FT = 1e-6;

function pathTool(sort: Sort): Tool<PathState> {
  const least = sort.closes ? 3 : 2;

  function addCorner(s: PathState, at: Point, typedPlace = false): Out {
    const before = last(s);
    if (before && distance(before, at) < SAME_FT) {
      return { state: s, say: "That is where the last corner already is." };
    }
    return {
      state: {
        ...s,
        corners: [...s.corners, [at[0], at[1]]],
        typedPlace,
        held: null,
        dropped: [],
        begun: true,
      },
    };
  }

  function finish(s: PathState, a: Around): Out {
    if (s.corners.length === 0) return { state: s, unused: true };
    if (s.corners.length < least) {
      const more = least - s.corners.length;
      return { state: s, say: `${sort.what} needs ${least} corners. Add ${more === 1 ? "one" : more} more.` };
    }
    const made = s.from ? continued(a, s.from, s.corners) : sort.make(a, s.corners);
    if ("step" in made) return { state: fresh, commit: made.step, say: `${made.step.label}: done.` };
    return { state: { ...s, held: sort.closes ? faultOf(s.corners) : openFault(s.corners) }, say: made.why };
  }

  function click(s: PathState, aim: Aim, clicks: number, a: Around): Out {
    const first = s.corners[0];
    const before = last(s);
    if (clicks > 1 && before && distance(before, aim.at) <= Math.max(aim.reach, SAME_FT)) return finish(s, a);
    const onFirst =
      first && distance(place(first), aim.at) <= (aim.snap?.kind === "self" ? SAME_FT : aim.reach / 2);
    if (sort.closes && s.corners.length >= 3 && onFirst) return finish(s, a);
    return addCorner(s, aim.at);
  }

  /** Enter with the crosshair: at the last corner it means done, elsewhere a corner. */
  function placeAt(s: PathState, aim: Aim, a: Around): Out {
    const before = last(s);
    if (before && distance(before, aim.at) < SAME_FT) return finish(s, a);
    const out = click(s, aim, 1, a);
    if (out.commit || out.say) return out;
    return { ...out, say: cornerSaid(out.state, aim.at, a) };
  }

  function cornerSaid(s: PathState, at: Point, a: Around): string {
    const joins = sort.at?.(a, at);
    const where = `Corner ${s.corners.length} at ${placeText(at, a.plan.show)}`;
    return joins ? `${where}: ${joins}.` : `${where}.`;
  }

  function typed(s: PathState, entry: Entry, aim: Aim, a: Around): Out {
    const from = last(s);
    if (!from && !entry.place)
      return { state: s, say: "Set the first corner by a click, Enter, or as x, y." };
    const at = from ? placeFrom(entry, from, aim.at) : (entry.place as Point);
    const first = s.corners[0];
    if (sort.closes && s.corners.length >= 3 && first && distance(place(first), at) < SAME_FT)
      return finish(s, a);
    const out = addCorner(s, at, entry.place !== undefined);
    return out.say ? out : { ...out, say: cornerSaid(out.state, at, a) };
  }

  function back(s: PathState): Out {
    if (s.corners.length > 0) {
      const corners = s.corners.slice(0, -1);
      return { state: { ...s, corners, held: null }, say: `Corner ${s.corners.length} taken out.` };
    }
    if (s.dropped.length > 0) {
      return {
        state: { ...fresh, corners: s.dropped, begun: true },
        say: `${s.dropped.length} corners taken up again.`,
      };
    }
    return { state: fresh, leave: true };
  }

  function backOut(s: PathState): Out {
    if (s.corners.length === 0) return { state: fresh, leave: true };
    const say = `${sort.what} dropped. Undo takes it up again.`;
    return { state: { ...fresh, dropped: s.corners }, say };
  }

  /** With its first corner it is known whether a line goes on from a wall; without any, it does not. */
  function step(s: PathState, e: ToolEvent, a: Around): Out {
    const out = ended(s, plainStep(s, e, a), a);
    const first = out.state.corners[0];
    if (!sort.goesOn || (first && s.corners.length > 0)) return out;
    const from = first ? wallEndingAt(a, place(first)) : null;
    const goes = from ? `Goes on from ${nameOf(a.plan, `barriers/${from.id}`)}.` : "";
    const say = [out.say, goes].filter(Boolean).join(" ");
    return { ...out, state: { ...out.state, from }, ...(say ? { say } : {}) };
  }

  /** With its last corner a line of so many ends by itself. */
  function ended(s: PathState, out: Out, a: Around): Out {
    const full = out.state.corners.length === sort.most && s.corners.length < out.state.corners.length;
    return full ? finish(out.state, a) : out;
  }

  function begin(s: PathState, at: Point): Out {
    if (s.corners.length > 0) return { state: s, say: "Finish or drop the line you began first." };
    return addCorner(s, at);
  }

  function plainStep(s: PathState, e: ToolEvent, a: Around): Out {
    switch (e.type) {
      case "begin":
        return begin(s, e.at);
      case "hover":
      case "press":
      case "drag":
        return { state: { ...s, pointer: e.aim.at } };
      case "release":
        return click({ ...s, pointer: e.aim.at }, e.aim, e.clicks, a);
      case "place":
        return placeAt({ ...s, pointer: e.aim.at }, e.aim, a);
      case "typed":
        return typed(s, e.entry, e.aim, a);
      case "finish":
        return finish(s, a);
      case "back":
        return back(s);
      case "escape":
        return backOut(s);
      default:
        return { state: { ...s, pointer: null } };
    }
  }

  return {
    name: sort.name,
    start: () => fresh,
    step,
    sketch: (s, a) => sketchOf(s, sort, a.plan.show),
    anchor: (s) => {
      const at = last(s);
      if (!at) return null;
      const before = s.corners.at(-2);
      return before ? { at, beforeDeg: directionDeg(place(before), at) } : { at };
    },
    own: (s) => s.corners.map(place),
    prefers: sort.prefers,
    fields: (s) => (s.corners.length === 0 ? ["place"] : ["length", "angle"]),
    placeFirst: (s) => s.corners.length === 0 || s.typedPlace,
    fixes: (s) =>
      s.held && sort.closes ? mends(s.corners).map((m) => ({ title: m.title, draft: m.outline })) : [],
    applyFix: (s, fix: Fix, a) => finish({ ...s, corners: fix.draft, held: null }, a),
    busy: (s) => s.begun || s.dropped.length > 0,
    hint: (s, a) => hintOf(s, sort, a.plan),
  };
}

function hintOf(s: PathState, sort: Sort, plan: Plan): string {
  const n = s.corners.length;
  if (s.held) return "Mend the outline, or move on and close it again.";
  if (sort.hint) return sort.hint(n, plan);
  if (n === 0) return "Click the first corner, or type x, y.";
  const least = sort.closes ? 3 : 2;
  if (n < least) return "Next corner: click, or type a length.";
  return sort.closes
    ? "Next corner, or close: Enter, double-click or the first corner."
    : "Next corner, or Enter to end.";
}

/** The draft with the pointer as its next corner. */
function reaching(s: PathState): readonly Corner[] {
  const at = last(s);
  if (!s.pointer || !at || distance(at, s.pointer) < SAME_FT) return s.corners;
  return [...s.corners, [s.pointer[0], s.pointer[1]]];
}

function sketchOf(s: PathState, sort: Sort, system: System): Sketch {
  const line = reaching(s);
  const dots = s.corners.map(place);
  if (line.length < 2) return { line, dots };
  const fault = s.held ?? openFault(line);
  const at = last(s);
  return {
    line,
    dots,
    closed: sort.closes && line.length > 2 && s.held !== null,
    faulty: fault !== null,
    rubber: at && s.pointer ? [at, s.pointer] : undefined,
    labels: labelsOf(line, sort, system, fault !== null),
    problem: fault ? faultSentence(fault, placeText(fault.at, system)) : undefined,
  };
}

function labelsOf(line: readonly Corner[], sort: Sort, system: System, faulty: boolean): SketchLabel[] {
  const out: SketchLabel[] = [];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [place(line[i - 1] as Corner), place(line[i] as Corner)];
    const newest = i === line.length - 1;
    const text = lengthText(distance(a, b), system);
    out.push({
      at: middle(a, b),
      text: newest ? `${text} < ${angleText(directionDeg(a, b))}` : text,
      along: { a, b },
    });
  }
  if (line.length > 2 && sort.closes) {
    // While it crosses itself the area is not a number.
    const text = faulty ? "Area –" : `Area ${areaText(areaOf(line), system)}`;
    out.push({ at: centreOf(line), text });
  }
  return out;
}

const centreOf = (line: readonly Corner[]): Point => [
  line.reduce((n, c) => n + c[0], 0) / line.length,
  line.reduce((n, c) => n + c[1], 0) / line.length,
];

export const outlineTool = pathTool({
  name: "outline",
  closes: true,
  make: closedOutline,
  what: "An outline",
});
/** A pipe begins and ends at whatever of the network is there, and is joined to all it passes by a corner. */
export const pipeTool = pathTool({
  name: "pipe",
  closes: false,
  make: pipeRun,
  what: "A pipe",
  at: (a, at) => joinSaid(a.plan, at, nameOf),
  prefers: (s) => joins.has(parts(s.ref)[0]),
  hint: (n, plan) =>
    n === 0 && !plan.supply?.connection
      ? "Set the point of connection and the valves first, with Fixture; or begin from a head, or type x, y."
      : n === 0
        ? "Click the connection, a valve, a head or any pipe to begin from, or type x, y."
        : n === 1
          ? "On to a corner, valve, head or pipe: click, or type a length."
          : "On to the next corner, valve, head or pipe; Enter ends.",
});
/** What wire comes to or from, besides trenches. */
const wired: ReadonlySet<string> = new Set(["controller", "sensors", "boxes", "valves", "wires", "pipes"]);

export const wireTool = pathTool({
  name: "wire",
  closes: false,
  make: wireRun,
  what: "A wire run",
  prefers: (s) => wired.has(parts(s.ref)[0]),
  hint: (n, plan) =>
    n > 1
      ? "On to the next corner; Enter ends."
      : n === 1
        ? "On to a pipe, a valve, a splice box or a corner: click, or type a length."
        : plan.controller?.at
          ? "Wire where no pipe goes: click the controller or a sensor, or type x, y."
          : "Set the controller first, with Fixture; or click the first corner, or type x, y.",
});
export const sleeveTool = pathTool({
  name: "sleeve",
  closes: false,
  make: sleeve,
  what: "A sleeve",
  most: 2,
  hint: (n) =>
    n === 0
      ? "Click where the sleeve begins, past the edge of the paving, or type x, y."
      : "Click its other end, past the far edge, or type a length.",
});
export const barrierTool = pathTool({
  name: "barrier",
  closes: false,
  make: barrier,
  what: "A line",
  goesOn: true,
});
