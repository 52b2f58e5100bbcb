// What a drawing tool is: a pure function from what the pointer and the
// keyboard did, in feet, to a draft and perhaps one step of the plan. Tools
// know nothing of pixels, elements or the server; snapping and holds have been
// done before they are told.

import type { Catalog } from "../api";
import type { CopyWish } from "../copies";
import type { Design } from "../design";
import type { Entry, Field } from "../entry";
import type { Run, Station } from "../fieldbook";
import type { Point } from "../geometry";
import type { Grip } from "../grips";
import type { Anchor, Held } from "../holds";
import type { Sight } from "../layers";
import type { Axis } from "../mirroring";
import type { Kind, Plan, Ref } from "../model";
import type { Pattern } from "../pattern";
import type { Corner } from "../shape";
import type { Snap } from "../snap";
import type { Source } from "../snapindex";
import type { sleeveLoads, sleeveMethods, wireLays } from "../wiringnames";

/** What a closed outline becomes: an area of a kind, or the property line. */
export type OutlineKind = Kind | "lot";

/** How By tape finds a place: along a line and off it, by tapes from known places, by sides and turns; or it ties two places. */
export type TapeWay = "along" | "tapes" | "sides" | "tie";

/** What the places found by tape become. */
export type TapeMakes =
  | "area"
  | "lot"
  | "barriers"
  | "trees"
  | "keep_dry"
  | "heads"
  | "elevations"
  | "notes"
  | "fixtures"
  | "built";

/** What stands by itself beside planting and heads. */
export type FixtureKind = "valve" | "controller" | "outlet" | "sensor" | "box" | "connection" | "backflow";

/** What two places on the picture under the plan are pointed at for. */
export type PictureDo = "scale" | "check" | "level";

/** What things are drawn with until changed. */
export interface Kit {
  readonly areaKind: OutlineKind;
  /** The next outline is cut out of the area around it. */
  readonly asHole: boolean;
  readonly nozzle: string;
  /** Why this nozzle was taken up for the user, in words; null once one was chosen or used. */
  readonly nozzleWhy: string | null;
  readonly body: string;
  /** Zone new heads go into; "" for none. */
  readonly zone: string;
  /** wall, fence or hedge. */
  readonly barrierKind: string;
  readonly barrierHeightFt: number;
  readonly trunkIn: number;
  readonly rootZoneFt: number;
  readonly keepDryFt: number;
  /** Mirrored or turned, the originals stay and copies are made. */
  readonly keep: boolean;
  /** Turning lays an edge of what is selected along another. */
  readonly layAlong: boolean;
  readonly copies: CopyWish;
  readonly tapeWay: TapeWay;
  readonly tapeMakes: TapeMakes;
  readonly fixture: FixtureKind;
  /** rain, flow or soil. */
  readonly sensorKind: string;
  readonly pictureDo: PictureDo;
  /** Whose water pipes carry: "main", a zone, or "" for what they join. */
  readonly pipeFor: string;
  /** Class of new pipes; "" for none yet. */
  readonly pipeClass: string;
  /** Nominal size of new pipes; 0 for none yet. */
  readonly pipeSizeIn: number;
  /** What new sleeves are for: "" for whatever crosses there. */
  readonly sleeveCarries: keyof typeof sleeveLoads;
  /** Nominal size of new sleeves; 0: by what is in them. */
  readonly sleeveSizeIn: number;
  readonly sleeveMethod: keyof typeof sleeveMethods;
  readonly wireLay: keyof typeof wireLays;
}

/** What a tool may look at. */
export interface Around {
  readonly plan: Plan;
  readonly selection: ReadonlySet<Ref>;
  readonly kit: Kit;
  readonly catalog: Catalog;
  readonly design: Design | null;
  /** What is hidden or locked by its layer; absent: nothing. */
  readonly sight?: Sight;
}

/** Where the pointer is and what is held with it. */
export interface Aim {
  /** After snapping and holds: the place meant. */
  readonly at: Point;
  /** The pointer itself. */
  readonly raw: Point;
  readonly snap: Snap | null;
  readonly held: Held | null;
  readonly shift: boolean;
  readonly alt: boolean;
  readonly ctrl: boolean;
  /** How near counts as on, in feet: 8 px of a mouse, 18 px of a finger. */
  readonly reach: number;
}

export type ToolEvent =
  | { readonly type: "hover" | "press" | "drag"; readonly aim: Aim }
  /** moved: whether the pointer left the place it was pressed at; clicks: 2 for the second of two quick ones. */
  | { readonly type: "release"; readonly aim: Aim; readonly moved: boolean; readonly clicks: number }
  /** Enter with the crosshair: a click without a pointer. */
  | { readonly type: "place"; readonly aim: Aim }
  | { readonly type: "typed"; readonly entry: Entry; readonly aim: Aim }
  | { readonly type: "text"; readonly text: string }
  /** A draft is to begin at a place, as by a click there. */
  | { readonly type: "begin"; readonly at: Point }
  /** What is measured from or to is to be the other one, or chosen anew. */
  | { readonly type: "swap"; readonly what: "side" | "end" | "base" }
  /** A page of the field book: rows along and off a base, or a run. */
  | { readonly type: "book"; readonly rows: readonly Station[] | Run }
  /** A line to mirror in, given whole; now: at once, else it is shown and waits for Enter. */
  | { readonly type: "axis"; readonly axis: Axis; readonly now: boolean }
  /** An angle being typed, in degrees: shown, and waits for Enter. */
  | { readonly type: "turn"; readonly deg: number }
  /** Enter with nothing aimed at: done. */
  | { readonly type: "finish" }
  /** Backspace or undo while drawing. */
  | { readonly type: "back" }
  | { readonly type: "escape" }
  /** The pointer was taken away, or a second finger came: drop the stroke, keep the draft. */
  | { readonly type: "abort" };

export interface Step {
  readonly label: string;
  readonly plan: Plan;
  readonly select?: readonly Ref[];
  /** What is drawn with from now on. */
  readonly kit?: Partial<Kit>;
}

/** A way out of a draft that cannot be kept as it is. */
export interface Fix {
  readonly title: string;
  readonly draft: readonly Corner[];
  /** What Enter does too: shown first, and in place of Finish. */
  readonly usual?: boolean;
}

export interface Result<S> {
  readonly state: S;
  /** Something to do, once. */
  readonly commit?: Step;
  /** The plan as it would be, during a gesture; null ends it without a step. */
  readonly preview?: Plan | null;
  readonly select?: { readonly refs: readonly Ref[]; readonly how: "set" | "add" | "toggle" };
  readonly say?: string;
  /** Why what was typed cannot be used: said in the box, which stays open. */
  readonly refused?: string;
  /** What is drawn with from now on. */
  readonly kit?: Partial<Kit>;
  /** A handle taken in hand for the arrows and Delete. */
  readonly hold?: Grip;
  /** The tool is done and wants to be put down. */
  readonly leave?: boolean;
  /** The event meant nothing here: whoever sent it may use it otherwise. */
  readonly unused?: boolean;
}

/** A label of the draft, in feet. Edge labels stand beside the edge, the others above the place. */
export interface SketchLabel {
  readonly at: Point;
  readonly text: string;
  readonly along?: { readonly a: Point; readonly b: Point };
}

/** What of a draft is drawn. */
export interface Sketch {
  readonly line?: readonly Corner[];
  readonly closed?: boolean;
  readonly faulty?: boolean;
  /** The last stretch, to the pointer. */
  readonly rubber?: readonly [Point, Point];
  readonly dots?: readonly Point[];
  readonly labels?: readonly SketchLabel[];
  readonly box?: { readonly from: Point; readonly to: Point };
  /** A plan shown in place of the board's, because the server would not take it. */
  readonly plan?: Plan;
  /** A head not yet set. */
  readonly ghost?: { readonly at: Point; readonly pattern: Pattern; readonly text: string };
  /** Lines and circles to measure by. */
  readonly guides?: readonly { readonly a: Point; readonly b: Point }[];
  readonly rings?: readonly { readonly at: Point; readonly radius: number }[];
  /** A sentence about the draft: a fault, or a measure. */
  readonly problem?: string;
  /** A sentence to know, that is no fault. */
  readonly news?: string;
}

export interface Tool<S> {
  readonly name: string;
  start(): S;
  step(state: S, event: ToolEvent, around: Around): Result<S>;
  sketch(state: S, around: Around): Sketch;
  /** Where lines are held and measured from. */
  anchor?(state: S, around: Around): Anchor | null;
  /** Corners of the draft, to snap to. */
  own?(state: S): readonly Point[];
  /** Whether the pointer is to be snapped now; where absent, always. */
  aims?(state: S): boolean;
  /** Where the crosshair goes after something was typed; where absent, to the anchor. */
  rests?(state: S): Point | null;
  /** From the pointer to the place being moved: dragging keeps the grasp. */
  lead?(state: S): Point | null;
  skip?(state: S): ((s: Source) => boolean) | null;
  /** What is meant before all else near the pointer: of pipes, what they can be joined to. */
  prefers?(s: Source): boolean;
  /** What a typed number would mean now; empty when nothing. */
  fields?(state: S, around: Around): readonly Field[];
  /** Whether a comma pair is a place without doubt. */
  placeFirst?(state: S): boolean;
  /** What copying takes while the tool is in hand. */
  text?(state: S, around: Around): string | null;
  /** Ways out of a fault the draft is held back by. */
  fixes?(state: S, around: Around): readonly Fix[];
  applyFix?(state: S, fix: Fix, around: Around): Result<S>;
  /** Whether there is a draft that back and Escape speak to. */
  busy(state: S): boolean;
  /** Whether something drawn would be missed if the tool were put down for good; where absent, as busy. */
  drawing?(state: S): boolean;
  /** One line for the status bar: what to do next. */
  hint(state: S, around: Around): string;
}

/** A tool in use, with its state shut inside. */
export interface Running {
  readonly name: string;
  readonly busy: boolean;
  readonly drawing: boolean;
  step(event: ToolEvent, around: Around): Omit<Result<unknown>, "state">;
  fix(fix: Fix, around: Around): Omit<Result<unknown>, "state">;
  sketch(around: Around): Sketch;
  anchor(around: Around): Anchor | null;
  own(): readonly Point[];
  aims(): boolean;
  rests(around: Around): Point | null;
  lead(): Point | null;
  skip(): ((s: Source) => boolean) | null;
  prefers(): ((s: Source) => boolean) | null;
  fields(around: Around): readonly Field[];
  placeFirst(): boolean;
  text(around: Around): string | null;
  fixes(around: Around): readonly Fix[];
  hint(around: Around): string;
}

export function run<S>(tool: Tool<S>): Running {
  let state = tool.start();
  const take = (r: Result<S>): Omit<Result<unknown>, "state"> => {
    state = r.state;
    return r;
  };
  return {
    name: tool.name,
    get busy() {
      return tool.busy(state);
    },
    get drawing() {
      return tool.drawing?.(state) ?? tool.busy(state);
    },
    step: (event, around) => take(tool.step(state, event, around)),
    fix: (fix, around) => (tool.applyFix ? take(tool.applyFix(state, fix, around)) : {}),
    sketch: (around) => tool.sketch(state, around),
    anchor: (around) => tool.anchor?.(state, around) ?? null,
    own: () => tool.own?.(state) ?? [],
    aims: () => tool.aims?.(state) ?? true,
    rests: (around) => tool.rests?.(state) ?? tool.anchor?.(state, around)?.at ?? null,
    lead: () => tool.lead?.(state) ?? null,
    skip: () => tool.skip?.(state) ?? null,
    prefers: () => tool.prefers ?? null,
    fields: (around) => tool.fields?.(state, around) ?? [],
    placeFirst: () => tool.placeFirst?.(state) ?? false,
    text: (around) => tool.text?.(state, around) ?? null,
    fixes: (around) => tool.fixes?.(state, around) ?? [],
    hint: (around) => tool.hint(state, around),
  };
}
