// The form of the copies: what is typed here shows on the board at once, water
// and all, and is made by Enter or its button. It stands beside the board, in
// the place of Findings and Selected.

import {
  type Arcs,
  anchorOf,
  type CopyWish,
  copiesOf,
  keepsInside,
  linesNear,
  sameLine,
  type Way,
} from "../copies";
import { byID, h, setText } from "../dom";
import type { Drawing } from "../drawing";
import { parseEntry } from "../entry";
import { type Choice, parseNumber } from "../fields";
import { angleText, lengthText, placeText } from "../format";
import { parseAngle, parseCoordinate, parseLength, type Read, read, refuse } from "../length";
import { parts } from "../model";
import { capital } from "../names";
import { LATTICE } from "../shape";
import type { By, Ends } from "../stations";
import { isPlaced } from "../things";
import { Control } from "./control";

/** As many edges as the list offers: the nearest ones. */
const MOST_LINES = 30;

interface Part {
  readonly control: Control;
  shown(w: CopyWish): boolean;
  value(w: CopyWish): string;
  choices?(w: CopyWish): Choice[];
}

const choices = <T extends string>(of: Readonly<Record<T, string>>): Choice[] =>
  Object.entries<string>(of).map(([value, label]) => ({ value, label }));

const ways: Record<Way, string> = { edge: "Along an edge", grid: "In a grid", round: "Round a centre" };
const bys: Record<By, string> = { count: "Number", spacing: "Exact spacing", even: "Even, at most apart" };
const endings: Record<Ends, string> = {
  both: "At both ends",
  neither: "At neither end",
  first: "Not at the last end",
  last: "Not at the first end",
  half: "Half a space at the ends",
};
const arcWays: Record<Arcs, string> = {
  fit: "Fit each place",
  turn: "Turn with the line",
  keep: "As they are",
};
const patterns = { square: "Squares", triangular: "Triangles" } as const;

export class CopiesForm {
  readonly el = h("form", { class: "copies", "aria-label": "Copies", hidden: true });
  readonly #says = h("p", { class: "copies-says", role: "status" });
  readonly #parts: Part[] = [];
  /** What else comes and goes with the way. */
  readonly #others: { readonly el: HTMLElement; shown(w: CopyWish): boolean }[] = [];
  #open = false;

  constructor(readonly d: Drawing) {
    this.#build();
    byID("readings").after(this.el);
    for (const topic of ["tool", "selection", "steps"] as const)
      d.board.subscribe(topic, () => this.#follow());
    this.el.addEventListener("submit", (e) => {
      e.preventDefault();
      this.#make();
    });
    this.el.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || e.defaultPrevented) return;
      e.preventDefault();
      this.#leave();
    });
  }

  // Fields

  #build(): void {
    const way = this.#choice(
      "Lay them",
      ways,
      (w) => w.way,
      (w, way) => ({ ...w, way }),
    );
    const fields = h(
      "div",
      { class: "pairs" },
      way,
      ...this.#edgeFields(),
      ...this.#gridFields(),
      ...this.#roundFields(),
    );
    const arcs = this.#choice(
      "Arcs of heads",
      arcWays,
      (w) => w.arcs,
      (w, arcs) => ({ ...w, arcs }),
      () => [...this.d.board.selection].some((r) => parts(r)[0] === "heads"),
    );
    const taken = this.#tick(
      "Leave out places already taken",
      (w) => w.leaveTaken,
      (w, leaveTaken) => ({ ...w, leaveTaken }),
      () => [...this.d.board.selection].some((r) => isPlaced(parts(r)[0])),
    );
    fields.append(arcs, taken);
    const make = h("button", { class: "main" }, "Make copies");
    const leave = h("button", { type: "button", onclick: () => this.#leave() }, "Cancel");
    this.el.append(
      h("h2", {}, "Copies"),
      fields,
      h("div", { class: "copies-foot" }, this.#says, h("div", { class: "acts" }, make, leave)),
    );
  }

  #edgeFields(): HTMLElement[] {
    const edge = (w: CopyWish): boolean => w.way === "edge";
    const set = (w: CopyWish, part: Partial<CopyWish["edge"]>): CopyWish => ({
      ...w,
      edge: { ...w.edge, ...part },
    });
    const count = (w: CopyWish) => edge(w) && w.edge.by === "count";
    return [
      this.#lines(edge, set),
      this.#choice(
        "By",
        bys,
        (w) => w.edge.by,
        (w, by) => set(w, { by }),
        edge,
      ),
      this.#text(
        "How many",
        (w) => String(w.edge.count),
        (t, w) => map(whole(t, 1), (count) => set(w, { count })),
        count,
      ),
      this.#text(
        "Spacing",
        (w) => this.#length(w.edge.spacingFt),
        (t, w) => map(this.#read(t), (spacingFt) => set(w, { spacingFt })),
        (w) => edge(w) && w.edge.by !== "count",
      ),
      this.#choice(
        "Ends",
        endings,
        (w) => w.edge.ends,
        (w, ends) => set(w, { ends }),
        edge,
      ),
      this.#text(
        "In from the edge",
        (w) => (w.edge.inFt === null ? "" : this.#length(w.edge.inFt)),
        (t, w) =>
          t.trim() === ""
            ? read(set(w, { inFt: null }))
            : map(this.#coordinate(t), (inFt) => set(w, { inFt })),
        edge,
        "as the original",
      ),
      this.#text(
        "From the ends",
        (w) => (w.edge.fromEndsFt === null ? "" : this.#length(w.edge.fromEndsFt)),
        (t, w) =>
          t.trim() === ""
            ? read(set(w, { fromEndsFt: null }))
            : map(this.#coordinate(t), (v) => set(w, { fromEndsFt: Math.max(0, v) })),
        edge,
        "off the edges",
      ),
    ];
  }

  /** The edges nearest to what is copied, so that one can be chosen without pointing. */
  #lines(shown: Part["shown"], set: (w: CopyWish, part: Partial<CopyWish["edge"]>) => CopyWish): HTMLElement {
    const list = () => {
      const { committed, selection } = this.d.board;
      const at = anchorOf(committed, [...selection]);
      return at ? linesNear(committed, at, MOST_LINES) : [];
    };
    const control = new Control("Edge", "choice", "", (v) => {
      const line = v === "drawn" ? this.d.kit.copies.edge.line : (list()[Number(v)] ?? null);
      this.#put(set(this.d.kit.copies, { line }));
      return null;
    });
    control.el.classList.add("whole"); // an edge's name has the area's in it
    this.#parts.push({
      control,
      shown,
      value: (w) => {
        const at = list().findIndex((l) => sameLine(l, w.edge.line));
        return at >= 0 ? String(at) : w.edge.line ? "drawn" : "";
      },
      choices: (w) => {
        const near = list();
        const own = near.some((l) => sameLine(l, w.edge.line));
        const named = near.map((l, i) => ({ value: String(i), label: capital(l.name) }));
        if (!w.edge.line) return [{ value: "", label: "Pick one on the board" }, ...named];
        return own ? named : [{ value: "drawn", label: capital(w.edge.line.name) }, ...named];
      },
    });
    return control.el;
  }

  #gridFields(): HTMLElement[] {
    const grid = (w: CopyWish): boolean => w.way === "grid";
    const set = (w: CopyWish, part: Partial<CopyWish["grid"]>): CopyWish => ({
      ...w,
      grid: { ...w.grid, ...part },
    });
    const some = (key: "rows" | "columns", label: string) =>
      this.#text(
        label,
        (w) => (w.grid[key] === null ? "" : String(w.grid[key])),
        (t, w) =>
          t.trim() === "" ? read(set(w, { [key]: null })) : map(whole(t, 1), (v) => set(w, { [key]: v })),
        grid,
        "as many as fit",
      );
    const apart = (key: "acrossFt" | "upFt", label: string, shown: Part["shown"]) =>
      this.#text(
        label,
        (w) => this.#length(w.grid[key]),
        (t, w) => map(this.#eitherWay(t), (v) => set(w, { [key]: v })),
        shown,
      );
    const flip = (key: "acrossFt" | "upFt", label: string) => {
      const button = h(
        "button",
        {
          type: "button",
          class: "small",
          onclick: () => {
            const w = this.d.kit.copies;
            this.#put(set(w, { [key]: -w.grid[key] }));
          },
        },
        label,
      );
      return button;
    };
    const flips = h(
      "div",
      { class: "copies-flips" },
      flip("acrossFt", "Flip along the row"),
      flip("upFt", "Flip the rows"),
    );
    this.#others.push({ el: flips, shown: grid });
    return [
      this.#choice(
        "Pattern",
        patterns,
        (w) => w.grid.pattern,
        (w, pattern) => set(w, { pattern }),
        grid,
      ),
      some("rows", "Rows"),
      some("columns", "In a row"),
      apart("acrossFt", "Spacing", grid),
      apart("upFt", "Between rows", (w) => grid(w) && w.grid.pattern === "square"),
      flips,
      this.#text(
        "Direction of rows",
        (w) => angleText(w.grid.deg),
        (t, w) => map(parseAngle(t), (deg) => set(w, { deg })),
        grid,
      ),
      this.#tick(
        "Only inside the area",
        (w) => {
          const { committed, selection } = this.d.board;
          const at = anchorOf(committed, [...selection]);
          return at !== null && keepsInside(committed, w.grid, at);
        },
        (w, inside) => set(w, { inside }),
        (w) => grid(w) && w.grid.rows !== null && w.grid.columns !== null,
      ),
    ];
  }

  #roundFields(): HTMLElement[] {
    const round = (w: CopyWish): boolean => w.way === "round";
    const set = (w: CopyWish, part: Partial<CopyWish["round"]>): CopyWish => ({
      ...w,
      round: { ...w.round, ...part },
    });
    const show = () => this.d.board.plan.show;
    return [
      this.#text(
        "Centre x, y",
        (w) => (w.round.centre ? placeText(w.round.centre, show()) : ""),
        (t, w) => {
          const e = parseEntry([t], { fields: ["place"], system: show(), placeFirst: true });
          if (!e.ok) return e;
          return e.value.place ? read(set(w, { centre: e.value.place })) : refuse("Type the centre as x, y.");
        },
        round,
        "click it on the board",
      ),
      this.#text(
        "In all",
        (w) => String(w.round.count),
        (t, w) => map(whole(t, 2), (count) => set(w, { count })),
        round,
      ),
      this.#text(
        "Through",
        (w) => angleText(w.round.throughDeg),
        (t, w) => map(parseAngle(t), (throughDeg) => set(w, { throughDeg })),
        round,
      ),
    ];
  }

  #choice<T extends string>(
    label: string,
    of: Readonly<Record<T, string>>,
    value: (w: CopyWish) => T,
    set: (w: CopyWish, v: T) => CopyWish,
    shown: Part["shown"] = () => true,
  ): HTMLElement {
    const control = new Control(label, "choice", "", (v) => {
      this.#put(set(this.d.kit.copies, v as T));
      return null;
    });
    this.#parts.push({ control, shown, value, choices: () => choices(of) });
    return control.el;
  }

  #tick(
    label: string,
    value: (w: CopyWish) => boolean,
    set: (w: CopyWish, v: boolean) => CopyWish,
    shown: Part["shown"],
  ): HTMLElement {
    const control = new Control(label, "yes", "", (v) => {
      this.#put(set(this.d.kit.copies, v === "yes"));
      return null;
    });
    this.#parts.push({ control, shown, value: (w) => (value(w) ? "yes" : "") });
    return control.el;
  }

  /** A typed field: taken with every key, so that the board follows. */
  #text(
    label: string,
    value: (w: CopyWish) => string,
    reader: (typed: string, w: CopyWish) => Read<CopyWish>,
    shown: Part["shown"],
    empty = "",
  ): HTMLElement {
    const take = (typed: string): string | null => {
      const got = reader(typed, this.d.kit.copies);
      if (!got.ok) return got.sentence;
      this.#put(got.value);
      return null;
    };
    const control = new Control(label, "text", "", take, empty);
    control.input.addEventListener("input", () => control.complain(take(control.text)));
    this.#parts.push({ control, shown, value });
    return control.el;
  }

  #length(feet: number): string {
    return lengthText(feet, this.d.board.plan.show);
  }

  #read(typed: string): Read<number> {
    return parseLength(typed, this.d.board.plan.show);
  }

  /** A spacing; below zero it goes the other way. */
  #eitherWay(typed: string): Read<number> {
    const v = this.#coordinate(typed);
    if (!v.ok || Math.abs(v.value) > LATTICE) return v;
    return refuse("A spacing must be more than zero. Below zero it goes the other way.");
  }

  #coordinate(typed: string): Read<number> {
    return parseCoordinate(typed, this.d.board.plan.show);
  }

  #put(copies: CopyWish): void {
    this.d.setKit({ copies });
  }

  // What is shown

  #follow(): void {
    const open = this.d.toolName === "copies";
    if (!open && !this.#open) return;
    const opened = open && !this.#open;
    this.#open = open;
    this.el.hidden = !open;
    if (!open) {
      if (this.d.board.drafting) this.d.board.cancel();
      return;
    }
    this.#show();
    if (opened) this.#parts[0]?.control.input.focus();
  }

  #show(): void {
    const w = this.d.kit.copies;
    for (const o of this.#others) o.el.hidden = !o.shown(w);
    for (const p of this.#parts) {
      const shown = p.shown(w);
      p.control.el.hidden = !shown;
      if (!shown || (document.activeElement === p.control.input && p.control.as === "text")) continue;
      p.control.show({ value: p.value(w), mixed: false, choices: p.choices?.(w) ?? [] });
    }
    const made = copiesOf(this.d.around, w);
    setText(this.#says, made.ok ? made.value.says : made.sentence);
    this.#says.toggleAttribute("data-off", !made.ok);
    if (made.ok) this.d.board.preview(made.value.plan);
    else if (this.d.board.drafting) this.d.board.cancel();
  }

  #make(): void {
    const wrong = this.#parts.find((p) => !p.control.el.hidden && p.control.input.matches("[aria-invalid]"));
    if (wrong) {
      wrong.control.input.focus();
      return;
    }
    this.d.tell({ type: "finish" });
    if (this.d.toolName !== "copies") this.d.focus();
  }

  #leave(): void {
    this.d.takeUp("select");
    this.d.focus();
  }
}

const map = <A, B>(got: Read<A>, to: (v: A) => B): Read<B> => (got.ok ? read(to(got.value)) : got);

/** A whole number from least to 2,000,000: too many copies are refused by their own sentence. */
function whole(typed: string, least: number): Read<number> {
  const n = parseNumber(typed, "a whole number", least, 2_000_000);
  if (!n.ok || Number.isInteger(n.value)) return n;
  return refuse(
    `${typed.trim()} is not whole. Type a whole number, such as ${Math.max(least, Math.floor(n.value))}.`,
  );
}
