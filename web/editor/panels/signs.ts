// What the signs of the drawing mean: of every kind on the plan its hatch, line
// or mark beside its name.

import type { Design } from "../design";
import { byID, h } from "../dom";
import { type Barrier, ids, type Kind, type Plan, type Status, type WateringKind } from "../model";
import { kindNames, wateringWords } from "../names";
import { standsApart } from "../pipenet";
import { canMarks } from "../scene/cans";
import { marks } from "../scene/fixtures";
import { Hatches, hatchID, hatchOf } from "../scene/hatches";
import { pressureSigns } from "../scene/heads";
import { objectMarks } from "../scene/objects";
import { jointMarks } from "../scene/pipes";
import { s } from "../scene/svg";
import type { Board } from "../state";
import { statusOf } from "../statuses";
import { allThings } from "../things";

/** One sign: what tells it apart, and what it means. */
export interface Sign {
  readonly key: string;
  readonly text: string;
  readonly draw: () => SVGElement;
}

const barrierNames = { fence: "Fence", wall: "Wall", hedge: "Hedge" } as const;

/** The signs a plan uses, grounds first. */
export function signsOf(p: Plan, design: Design | null = null): Sign[] {
  const out = new Map<string, Sign>();
  const add = (key: string, text: string, draw: Sign["draw"]): void => {
    if (!out.has(key)) out.set(key, { key, text, draw });
  };
  if (p.site?.lot?.length) add("site", "Property line", () => lot());
  for (const a of Object.values(p.areas ?? {}).sort((x, y) => rank(x.kind) - rank(y.kind))) {
    const watering = a.kind === "planting" ? (a.watering ?? "overhead") : "overhead";
    const words = wateringWords[watering];
    const text = words ? `${kindNames[a.kind]}, ${words}` : kindNames[a.kind];
    add(`${a.kind} ${watering}`, text, () => ground(a.kind, watering));
  }
  for (const b of Object.values(p.barriers ?? {})) {
    const kind = (b.kind ?? "fence") as keyof typeof barrierNames;
    add(`barrier ${kind}`, barrierNames[kind], () => barrier(kind));
  }
  for (const q of Object.values(p.pipes ?? {}).sort(
    (x, y) => Number(Boolean(x.zone)) - Number(Boolean(y.zone)),
  ))
    if (q.zone) add("pipe lateral", "Pipe of a zone, in its colour", () => pipe(false));
    else add("pipe main", "Main pipe, beaded", () => pipe(true));
  for (const [id, n] of Object.entries(p.nodes ?? {})) {
    if (standsApart(p, id))
      add(`joint ${n.kind}`, jointNames[n.kind] ?? "Joint of pipes", () => joint(n.kind));
  }
  if (ids(p, "sleeves").length > 0) add("sleeve", "Sleeve under paving", () => laid("sleeve"));
  if (ids(p, "wires").length > 0) add("wire", "Control wire, where no pipe goes", () => laid("wire"));
  if (ids(p, "trees").length > 0) add("tree", "Tree, with its root zone", tree);
  if (ids(p, "keep_dry").length > 0) add("dry", "Keep dry", () => mark("dry", "dry-mark", objectMarks.dry));
  for (const [c, text] of standing) {
    const [collection, id] = c.split("/") as [Parameters<typeof ids>[1], string | undefined];
    if (ids(p, collection).some((i) => id === undefined || i === id)) {
      add(c, text, () =>
        mark(`fixture ${collection}`, "fixture-mark", (marks[c] ?? marks[collection])?.d ?? ""),
      );
    }
  }
  if (ids(p, "elevations").length > 2) {
    add("contour", "Contour line: ground of one level", () => s("path", { class: "contour", d: LINE }));
  }
  if (ids(p, "ties").length > 0) add("tie", "Tie: a measured distance", () => tied());
  if (ids(p, "cans").length > 0) add("can", "Catch can: left what it caught, right what was predicted", can);
  if (ids(p, "notes").length > 0) add("note", "Note", () => mark("note", "note-mark", objectMarks.note));
  const states = new Set(Object.values(design?.heads ?? {}).map((h) => h.state));
  for (const [state, text] of pressures) if (states.has(state)) add(state, text, () => pressed(state));
  const used = new Set(allThings(p).map((r) => statusOf(p, r)));
  if (used.has("existing"))
    add("existing", "Thinner, grey: existing", () => ground("building", "overhead", "existing"));
  if (used.has("remove"))
    add("remove", "Crossed: to be removed", () => ground("building", "overhead", "remove"));
  return [...out.values()];
}

const kinds = Object.keys(kindNames) as Kind[];
const rank = (k: Kind): number => kinds.indexOf(k);

const standing: readonly (readonly [string, string])[] = [
  ["valves", "Valve, with its station"],
  ["supply/connection", "Point of connection"],
  ["supply/backflow_at", "Backflow device"],
  ["controller/at", "Controller"],
  ["controller/outlet_at", "Outlet of the controller"],
  ["sensors", "Sensor"],
  ["boxes", "Splice box"],
  ["elevations", "Spot height"],
];

const pressures = [
  ["starved", "Head with less pressure than its nozzle’s table begins at"],
  ["low", "Head with little pressure"],
  ["high", "Head with too much pressure"],
] as const;

const pressed = (state: "starved" | "low" | "high"): SVGElement =>
  s(
    "g",
    { class: "head", transform: "translate(29 -2)" },
    s("path", { class: `mark-${state}`, d: pressureSigns[state === "high" ? "high" : "low"] }),
  );

const BOX = "M2 2H34V18H2Z";
const LINE = "M2 10H34";

function ground(kind: Kind, watering: WateringKind, status: Status = "new"): SVGElement {
  const sign = hatchOf({ kind, watering });
  const fill = (id: string, name = "hatch"): SVGPathElement => {
    const path = s("path", { class: name, d: BOX });
    path.style.fill = `url(#${id})`;
    return path;
  };
  const g = s("g", { class: "thing" }, s("path", { class: "fill", d: BOX }));
  if (sign) g.append(fill(hatchID(sign, OF)));
  if (status === "remove") g.append(fill(hatchID("remove", OF), "hatch removal"));
  g.append(s("path", { class: "edge", d: BOX }));
  Object.assign(g.dataset, { kind, watering, status });
  return s("g", { class: "areas" }, g);
}

const lot = (): SVGElement => s("g", { class: "lot" }, s("path", { class: "edge", d: LINE }));
const tied = (): SVGElement => s("g", { class: "tie" }, s("path", { class: "tie-line edge", d: LINE }));

function barrier(kind: NonNullable<Barrier["kind"]>): SVGElement {
  const g = s(
    "g",
    { class: "barrier" },
    s("path", { class: "barrier-line", d: LINE }),
    s("path", { class: "barrier-posts", d: LINE }),
  );
  g.dataset.kind = kind;
  return g;
}

const jointNames: Readonly<Record<string, string>> = { drain: "Drain", valve: "Valve in the pipe" };

const joint = (kind: string): SVGElement =>
  mark("joint", "joint-mark", jointMarks[kind] ?? jointMarks.joint ?? "");

const pipe = (main: boolean): SVGElement =>
  s(
    "g",
    { class: main ? "pipe main" : "pipe" },
    s("path", { class: "pipe-line", d: LINE }),
    s("path", { class: "pipe-beads", d: LINE }),
  );

function laid(as: "sleeve" | "wire"): SVGElement {
  const strokes = { sleeve: ["sleeve-wall", "sleeve-bore"], wire: ["wire-line"] }[as];
  return s("g", { class: as }, ...strokes.map((of) => s("path", { class: of, d: LINE })));
}

const tree = (): SVGElement =>
  s(
    "g",
    { class: "tree", transform: "translate(18 10)" },
    s("path", { class: "roots", d: "M9 0A9 9 0 1 1 -9 0A9 9 0 1 1 9 0" }),
    s("path", { class: "tree-mark", d: objectMarks.tree, transform: "scale(.8)" }),
  );

const mark = (group: string, name: string, d: string): SVGElement =>
  s("g", { class: group, transform: "translate(18 10)" }, s("path", { class: name, d }));

const can = (): SVGElement =>
  s(
    "g",
    { class: "can read", transform: "translate(18 10) scale(.8)" },
    s("path", { class: "can-mark", d: canMarks.whole }),
    s("path", { class: "can-line", d: canMarks.middle }),
  );

/** Tells the hatches of this list from those of the board. */
const OF = "sign-";

/** The list beside the legend of the map, opened by a press. */
export class Signs {
  readonly #list = h("ul", { class: "signs-list" });
  readonly #el = h("details", { class: "signs" }, h("summary", {}, "Signs"), this.#list);
  #shown = "";

  constructor(readonly board: Board) {
    const hatches = new Hatches(OF);
    hatches.scale(1);
    const defs = s(
      "svg",
      { class: "scene signs-defs", "aria-hidden": "true", width: 0, height: 0 },
      hatches.el,
    );
    byID("legend").append(this.#el, defs);
    this.#el.addEventListener("toggle", () => this.#show());
    this.#el.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || !this.#el.open) return;
      this.#el.open = false;
      this.#el.querySelector("summary")?.focus();
      e.stopPropagation();
    });
    for (const topic of ["plan", "design"] as const) board.subscribe(topic, () => this.#show());
  }

  #show(): void {
    if (!this.#el.open) return;
    const signs = signsOf(this.board.plan, this.board.away ? null : this.board.design);
    const keys = signs.map((g) => g.key).join("|");
    if (keys === this.#shown) return;
    this.#shown = keys;
    const rows = signs.map((g) => {
      const picture = s(
        "svg",
        { class: "scene sign", viewBox: "0 0 36 20", "aria-hidden": "true" },
        g.draw(),
      );
      return h("li", {}, picture as unknown as HTMLElement, g.text);
    });
    this.#list.replaceChildren(...(rows.length > 0 ? rows : [h("li", {}, "Nothing is drawn yet.")]));
  }
}
