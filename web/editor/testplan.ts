// A small yard for the tests of the drawing, and a hand that draws on it as the
// pointer would, without a page.

import { type AidsOn, type AimAsk, aimFor, type Keys } from "./aim";
import type { Catalog, NozzleEntry } from "./api";
import { usualCopies } from "./copies";
import { type Entry, parseEntry } from "./entry";
import type { Point } from "./geometry";
import type { Plan, Ref } from "./model";
import { indexOf } from "./snapindex";
import { type ToolName, takeUp } from "./tools/all";
import type { Aim, Around, Kit, Result, Step, ToolEvent } from "./tools/tool";

export const stream: NozzleEntry = {
  id: "stream-25",
  name: "Stream 25",
  family: "stream",
  generic: true,
  source: "made up for tests",
  arc_least_deg: 90,
  arc_most_deg: 360,
  flow_follows_arc: true,
  trajectory_deg: 20,
  profile: { kind: "linear" },
  turn_down: { usual_share: 0.75, least_share: 0.6, flow_power: 1 },
  best_psi: 40,
  rows: [{ pressure_psi: 40, throw_ft: 25, flow_gpm: 2.7 }],
  thread: "female",
};

export const quarter: NozzleEntry = {
  ...stream,
  id: "spray-q",
  family: "spray",
  arc_least_deg: 90,
  arc_most_deg: 90,
};

const body = {
  id: "body-4",
  name: "4 in body",
  generic: true,
  source: "made up for tests",
  height_in: 4,
  check_valve: false,
  takes: "female",
  inlet_in: 0.5,
};

export const catalog: Catalog = { nozzles: [stream, quarter], bodies: [body] };

const { id: _n, ...streamRow } = stream;
const { id: _b, ...bodyRow } = body;

/** A 60 by 40 lawn with a 10 by 8 house in it, a fence along the north, a tree and two heads. */
export function yard(): Plan {
  return {
    format: "evenfall-plan/1",
    name: "Yard",
    show: "us",
    areas: {
      a1: {
        name: "Lawn",
        kind: "planting",
        outline: [
          [0, 0],
          [60, 0],
          [60, 40],
          [0, 40],
        ],
      },
      a2: {
        name: "House",
        kind: "building",
        outline: [
          [20, 20],
          [30, 20],
          [30, 28],
          [20, 28],
        ],
      },
    },
    barriers: {
      b1: {
        name: "Fence 1",
        kind: "fence",
        line: [
          [0, 44],
          [60, 44],
        ],
        height_ft: 6,
      },
    },
    trees: { t1: { name: "Oak", x_ft: 50, y_ft: 30, trunk_in: 12, root_zone_ft: 8 } },
    heads: {
      h1: {
        tag: "1-1",
        nozzle: "stream-25",
        body: "body-4",
        x_ft: 1,
        y_ft: 1,
        start_deg: 0,
        sweep_deg: 90,
        zone: "z1",
      },
      h2: {
        tag: "1-2",
        nozzle: "stream-25",
        body: "body-4",
        x_ft: 40,
        y_ft: 12,
        start_deg: 0,
        sweep_deg: 360,
        zone: "z1",
      },
    },
    zones: { z1: { name: "Lawn", station: 1 } },
    nozzles: { "stream-25": streamRow },
    bodies: { "body-4": bodyRow },
  };
}

export const empty = (): Plan => ({ format: "evenfall-plan/1", name: "New", show: "us" });

export const kit: Kit = {
  areaKind: "planting",
  asHole: false,
  nozzle: "stream-25",
  nozzleWhy: null,
  body: "body-4",
  zone: "",
  barrierKind: "fence",
  barrierHeightFt: 6,
  trunkIn: 10,
  rootZoneFt: 8,
  keepDryFt: 1.5,
  keep: true,
  layAlong: false,
  copies: usualCopies,
  tapeWay: "along",
  tapeMakes: "area",
  fixture: "valve",
  pictureDo: "scale",
  sensorKind: "rain",
  pipeFor: "",
  pipeClass: "",
  sleeveCarries: "",
  sleeveSizeIn: 0,
  sleeveMethod: "",
  wireLay: "trench",
  pipeSizeIn: 0,
};

const noKeys: Keys = { shift: false, alt: false, ctrl: false };

/** Pixels a foot the hand draws at: 8 px of reach are 0.8 ft. */
const SCALE = 10;

/** Draws with one tool on a plan: what the page does, less the page. */
export class Hand {
  readonly steps: Step[] = [];
  readonly said: string[] = [];
  plan: Plan;
  selection: ReadonlySet<Ref> = new Set();
  preview: Plan | null = null;
  kit: Kit = kit;
  aids: AidsOn = { snap: true, gridSnap: false, ortho: false };
  keys: Keys = noKeys;
  gridStep = 1;
  at: Point = [0, 0];
  #tool;
  #left = false;

  constructor(tool: ToolName, plan: Plan) {
    this.plan = plan;
    this.#tool = takeUp(tool);
  }

  get around(): Around {
    return { plan: this.plan, selection: this.selection, kit: this.kit, catalog, design: null };
  }
  get left(): boolean {
    return this.#left;
  }
  get tool() {
    return this.#tool;
  }
  get sketch() {
    return this.#tool.sketch(this.around);
  }

  aim(raw: Point, steady = false): Aim {
    this.at = raw;
    const ask: AimAsk = {
      raw,
      lead: steady ? null : this.#tool.lead(),
      anchor: this.#tool.anchor(this.around),
      own: this.#tool.own(),
      skip: this.#tool.skip(),
      prefers: this.#tool.prefers(),
      index: indexOf(this.plan),
      aids: this.aids,
      gridStep: this.gridStep,
      reach: 8 / SCALE,
      keys: this.keys,
      cycle: 0,
      snaps: this.#tool.aims(),
      steady,
    };
    return aimFor(ask);
  }

  #take(r: Omit<Result<unknown>, "state">): void {
    if (r.say) this.said.push(r.say);
    if (r.select) {
      const next = new Set(r.select.how === "set" ? [] : this.selection);
      for (const ref of r.select.refs) {
        if (r.select.how === "toggle" && next.has(ref)) next.delete(ref);
        else next.add(ref);
      }
      this.selection = next;
    }
    if (r.preview !== undefined) this.preview = r.preview;
    if (r.kit) this.kit = { ...this.kit, ...r.kit };
    if (r.commit) {
      this.steps.push(r.commit);
      if (r.commit.kit) this.kit = { ...this.kit, ...r.commit.kit };
      this.plan = r.commit.plan;
      this.preview = null;
      if (r.commit.select) this.selection = new Set(r.commit.select);
    }
    if (r.leave) this.#left = true;
  }

  hover(p: Point): this {
    this.#take(this.#tool.step({ type: "hover", aim: this.aim(p) }, this.around));
    return this;
  }
  press(p: Point): this {
    this.#take(this.#tool.step({ type: "press", aim: this.aim(p) }, this.around));
    return this;
  }
  drag(p: Point): this {
    this.#take(this.#tool.step({ type: "drag", aim: this.aim(p) }, this.around));
    return this;
  }
  release(p: Point, moved = true, clicks = 1): this {
    this.#take(this.#tool.step({ type: "release", aim: this.aim(p), moved, clicks }, this.around));
    return this;
  }
  click(p: Point, clicks = 1): this {
    return this.hover(p).press(p).release(p, false, clicks);
  }
  /** Presses at one place and lets go at another, with a stop half-way. */
  pull(from: Point, to: Point): this {
    this.press(from);
    this.drag([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
    return this.drag(to).release(to);
  }
  place(p: Point): this {
    this.#take(this.#tool.step({ type: "place", aim: this.aim(p, true) }, this.around));
    return this;
  }
  type(values: Entry["values"], place?: Point): this {
    this.#take(
      this.#tool.step({ type: "typed", entry: { values, place }, aim: this.aim(this.at) }, this.around),
    );
    return this;
  }
  /** Types into the box as on the page; the sentence when it is refused there. */
  write(...texts: string[]): string | null {
    const asked = {
      fields: this.#tool.fields(this.around),
      system: this.plan.show,
      placeFirst: this.#tool.placeFirst(),
    };
    const got = parseEntry(texts, asked);
    if (!got.ok) return got.sentence;
    const r = this.#tool.step({ type: "typed", entry: got.value, aim: this.aim(this.at) }, this.around);
    this.#take(r);
    return r.refused ?? null;
  }
  tell(event: ToolEvent): this {
    this.#take(this.#tool.step(event, this.around));
    return this;
  }
  words(text: string): this {
    this.#take(this.#tool.step({ type: "text", text }, this.around));
    return this;
  }
  do(type: "finish" | "back" | "escape" | "abort"): boolean {
    const r = this.#tool.step({ type }, this.around);
    this.#take(r);
    return !r.unused;
  }
  fix(title: string): this {
    const f = this.#tool.fixes(this.around).find((x) => x.title === title);
    if (!f) throw new Error(`no fix “${title}”: ${this.#tool.fixes(this.around).map((x) => x.title)}`);
    this.#take(this.#tool.fix(f, this.around));
    return this;
  }
}
