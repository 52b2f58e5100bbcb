// Every thing of the plan as a row, in step with the board.

import { type Commands, tooltip } from "../commands";
import { coordText } from "../corners";
import { atMostEvery, byID, h, setText } from "../dom";
import type { Context, Field } from "../fields";
import { fieldsOf, isPlaced, placed } from "../fields_others";
import { areaText, lengthText } from "../format";
import { ids, type Plan, parts, type Ref } from "../model";
import { capital, count, nameOf, sortKey, thingNames } from "../names";
import { sizeOf } from "../picture";
import { standsApart } from "../pipenet";
import { areaOf, lengthOf } from "../shape";
import type { Board } from "../state";
import { isClosed, isStretch, PICTURE, ringsOf } from "../things";
import { adders, editCorners, type Usual } from "./adding";
import { type Cell, type Column, Grid } from "./grid";
import { removeThings } from "./removing";
import { runningText } from "./waterfacts";

const columns: readonly Column[] = [
  { key: "thing", label: "Thing" },
  { key: "name", label: "Name or tag" },
  { key: "kind", label: "Kind" },
  { key: "x", label: "X", figure: true },
  { key: "y", label: "Y", figure: true },
  { key: "z_ft", label: "Level", figure: true },
  { key: "start_deg", label: "Arc start", figure: true },
  { key: "sweep_deg", label: "Arc", figure: true },
  { key: "throw_ft", label: "Throw", figure: true },
  { key: "nozzle", label: "Nozzle" },
  { key: "body", label: "Body" },
  { key: "zone", label: "Zone" },
  { key: "running", label: "Running" },
  { key: "class", label: "Pipe class" },
  { key: "nominal_in", label: "Pipe size" },
  { key: "watering", label: "Watering" },
  { key: "height_ft", label: "Height", figure: true },
  { key: "trunk_in", label: "Trunk", figure: true },
  { key: "reach", label: "Around", figure: true },
  { key: "distance_ft", label: "Measured", figure: true },
  { key: "catch_ml", label: "Caught", figure: true },
  { key: "corners", label: "Corners and size" },
  { key: "status", label: "Status" },
];

/** The members a column can stand for, first found first. */
const keysOf: Record<string, readonly string[]> = {
  name: ["name", "tag", "text"],
  kind: ["kind", "carries", "lay"],
  x: ["x_ft"],
  y: ["y_ft"],
  reach: ["root_zone_ft", "radius_ft"],
};

/** As many rows as are made without asking; more would make opening the table slow. */
const fewEnough = 1500;

export class Objects {
  readonly #grid: Grid;
  readonly #find = h("input", {
    type: "search",
    id: "objects-find",
    autocomplete: "off",
    spellcheck: "false",
  });
  readonly #count = h("span", { class: "hint", role: "status" });
  readonly #all: HTMLButtonElement;
  #everything = false;

  constructor(
    readonly board: Board,
    readonly visible: () => boolean,
    usual: () => Usual,
    commands: Commands,
  ) {
    this.#grid = new Grid("Objects", columns, {
      cell: (r, c) => this.#cell(r, c),
      name: (r) => nameOf(board.plan, r),
      selected: (r) => board.selection.has(r),
      hidden: (r) => board.layers.hides(r),
      select: (r, how) => {
        board.select([r], how);
        board.lookAt({ about: [r], gentle: true });
      },
      remove: (r) => this.#remove(r),
    });
    this.#all = h("button", { type: "button", class: "small", onclick: () => this.#showAll() }, "Show all");
    const search = h("label", { for: "objects-find" }, "Find");
    const bar = h(
      "p",
      { class: "acts" },
      ...adders(board, usual, (r) => this.#added(r)),
      h("span", { class: "labelled" }, search, this.#find),
      this.#count,
      this.#all,
      ...choosers(board, commands),
    );
    byID("objects").append(h("h2", { class: "unseen" }, "Objects"), bar, this.#grid.el);
    this.#find.addEventListener("input", () => this.refresh());
    this.#find.addEventListener("keydown", (e) => this.#found(e));
    const soon = atMostEvery(120, () => this.refresh());
    for (const topic of ["plan", "selection", "catalog", "layers", "design"] as const)
      board.subscribe(topic, soon);
    board.subscribe("selection", () => this.#reveal());
  }

  /** Brings the rows in step and what is selected into view. */
  open(): void {
    this.refresh();
    this.#reveal();
  }

  /** Brings the rows in step, if they can be seen. */
  refresh(): void {
    if (!this.visible()) return;
    const all = refsInOrder(this.board.plan);
    const wanted = this.#find.value.trim().toLowerCase();
    const match = wanted ? all.filter((r) => this.#words(r).includes(wanted)) : all;
    const cut = !this.#everything && match.length > fewEnough;
    this.#all.hidden = !cut;
    setText(
      this.#count,
      wanted ? `${match.length} of ${count(all.length, "thing")}` : count(all.length, "thing"),
    );
    this.#grid.show(cut ? match.slice(0, fewEnough) : match);
  }

  #showAll(): void {
    this.#everything = true;
    this.refresh();
  }

  #words(r: Ref): string {
    return `${thingNames[parts(r)[0]]} ${nameOf(this.board.plan, r)} ${this.#cell(r, "kind").text}`.toLowerCase();
  }

  #found(e: KeyboardEvent): void {
    if (e.key !== "Enter") return;
    const wanted = this.#find.value.trim().toLowerCase();
    const first = refsInOrder(this.board.plan).find((r) => this.#words(r).includes(wanted));
    if (!first) return;
    this.board.select([first]);
    this.board.lookAt({ about: [first] });
  }

  #added(r: Ref): void {
    this.#find.value = "";
    this.board.select([r]);
    this.refresh();
    this.#grid.focus(r);
    this.board.lookAt({ about: [r], gentle: true });
  }

  #reveal(): void {
    const [first] = this.board.selection;
    if (first && this.visible()) this.#grid.reveal(first);
  }

  #remove(r: Ref): void {
    removeThings(this.board, [r]);
  }

  #cell(r: Ref, column: string): Cell {
    const [c, id] = parts(r);
    if (column === "thing") {
      return { text: this.board.layers.hides(r) ? `${thingNames[c]}, hidden` : thingNames[c] };
    }
    if (column === "corners") return this.#corners(r);
    if (column === "running") return { text: runningText(this.board.away ? null : this.board.design, r) };
    const corner = column === "x" || column === "y" ? firstCorner(this.board.plan, r, column) : null;
    if (corner !== null) return { text: corner };
    const cx: Context = { plan: this.board.plan, catalog: this.board.catalog };
    const field = isPlaced(c) ? this.#field(c, id, column, cx) : undefined;
    if (!field) return { text: column === "name" ? capital(nameOf(this.board.plan, r)) : "" };
    const value = field.get(cx, id);
    const choices = (): ReturnType<NonNullable<Field["choices"]>> => field.choices?.(cx, [id]) ?? [];
    const text = field.as === "choice" ? (choices().find((o) => o.value === value)?.label ?? value) : value;
    const take = (typed: string): string | null => this.#take(field, r, typed);
    return {
      text: quiet(column, text),
      edit: { as: field.as === "choice" ? "choice" : "text", value, choices, take },
    };
  }

  #field(c: (typeof placed)[number], id: string, column: string, cx: Context): Field | undefined {
    const keys = keysOf[column] ?? [column];
    return fieldsOf[c].find((f) => keys.includes(f.key) && (f.has?.(cx, id) ?? true));
  }

  #corners(r: Ref): Cell {
    const text = sizeText(this.board.plan, r);
    if (text === "") return { text };
    if (isStretch(parts(r)[0]) || r === PICTURE) return { text };
    const take = (): null => {
      void editCorners(this.board, r);
      return null;
    };
    return { text, edit: { as: "elsewhere", value: "", choices: () => [], take } };
  }

  #take(field: Field, r: Ref, typed: string): string | null {
    const cx = { plan: this.board.committed, catalog: this.board.catalog };
    const next = field.set(cx, [parts(r)[1]], typed);
    if (!next.ok) return next.sentence;
    const label = field.label.replace(/,.*/, "").toLowerCase();
    void this.board.commit(`Set ${label} of ${nameOf(this.board.committed, r)}`, next.value);
    return null;
  }
}

/** Buttons that select many things at once. */
function choosers(board: Board, commands: Commands): HTMLElement[] {
  return (["edit.allheads", "edit.samekind"] as const).map((id) => {
    const c = commands.get(id);
    const onclick = (): void => commands.run(id, (why) => board.show({ kind: "hint", sentence: why }));
    return h("button", { type: "button", class: "small", title: tooltip(c), onclick }, c.title);
  });
}

/** The usual status and watering say nothing, so that the unusual ones stand out. */
const quiet = (column: string, text: string): string =>
  (column === "status" && text === "New") || (column === "watering" && text === "Sprinklers") ? "" : text;

/** The size of a shape: its area, or the length of its line. */
export function sizeText(p: Plan, r: Ref): string {
  const picture = r === PICTURE && p.underlay ? sizeOf(p.underlay) : null;
  if (picture) return picture.map((side) => lengthText(side, p.show)).join(" × ");
  const [outer, ...holes] = ringsOf(p, r);
  if (!outer) return "";
  if (!isClosed(parts(r)[0])) return lengthText(lengthOf(outer), p.show);
  return areaText(areaOf(outer) - holes.reduce((sum, o) => sum + areaOf(o), 0), p.show);
}

/** A shape stands in the list by its first corner; a tie's or a sleeve's is typed, being one of its two ends. */
function firstCorner(p: Plan, r: Ref, axis: "x" | "y"): string | null {
  if (isStretch(parts(r)[0]) || r === PICTURE) return null;
  const first = ringsOf(p, r)[0]?.[0];
  return first ? coordText(first[axis === "x" ? 0 : 1], p.show) : null;
}

/** Every thing on the board, by kind and then by name. */
export function refsInOrder(p: Plan): Ref[] {
  return placed.flatMap((c) => {
    const apart = ids(p, c).filter((id) => c !== "nodes" || standsApart(p, id));
    const refs = apart.map((id): Ref => `${c}/${id}`);
    const keyed = refs.map((r) => ({ r, key: sortKey(nameOf(p, r)) }));
    return keyed.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ r }) => r);
  });
}
