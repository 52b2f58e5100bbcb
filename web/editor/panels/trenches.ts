// The tables of what is dug: trenches, crossings with their sleeves, boxes, and how
// valves and sensors are wired. The board shows the same as a layer.

import type { XY } from "../design";
import { between, type Digs, rowsInOrder, type WireOf } from "../digs";
import { atMostEvery, button, byID, h, setAttr, setText } from "../dom";
import { find, type Ref } from "../model";
import { capital } from "../names";
import type { Board } from "../state";
import { showFigures } from "./figures";
import { WiringForm } from "./wiringform";

/** Opens the tables of trenches and goes there. */
export function showTrenches(): void {
  const tab = byID("tab-trenches");
  if (tab.getAttribute("aria-selected") !== "true") tab.click();
  tab.focus();
}

/** A cell: words, or an element. */
type CellOf = string | Node;

/** One row of a table: its key, its cells, and where it is on the board. */
interface Line {
  readonly key: string;
  readonly cells: readonly CellOf[];
  readonly about: readonly Ref[];
  readonly at?: XY;
  /** How the row is called by its button: "Show the trench in Front lawn". */
  readonly name: string;
  readonly faint?: boolean;
}

interface Kept {
  readonly said: string;
  line: Line;
  el: HTMLElement;
}

/** A table that keeps its rows while they say the same. */
class Listed {
  readonly #body = h("tbody");
  readonly #empty: HTMLElement;
  readonly #table: HTMLElement;
  readonly el: HTMLElement;
  readonly #figures: readonly number[];
  #kept = new Map<string, Kept>();

  constructor(
    readonly board: Board,
    title: string,
    columns: readonly string[],
    empty: string,
    figures: readonly number[] = [],
  ) {
    this.#empty = h("p", { class: "hint" }, empty);
    const heads = columns.map((t, i) =>
      h("th", { scope: "col", class: figures.includes(i) ? "figure" : null }, t),
    );
    heads.push(h("th", { scope: "col" }, h("span", { class: "unseen" }, "Show on the board")));
    this.#table = h(
      "table",
      {},
      h("caption", { class: "unseen" }, title),
      h("thead", {}, h("tr", {}, ...heads)),
      this.#body,
    );
    this.el = h("section", {}, h("h3", { class: "unseen" }, title), this.#empty, this.#table);
    this.#figures = figures;
  }

  show(lines: readonly Line[]): void {
    this.#empty.hidden = lines.length > 0;
    this.#table.hidden = lines.length === 0;
    const next = new Map<string, Kept>();
    for (const line of lines) {
      const said = line.cells.map((c) => (typeof c === "string" ? c : c.textContent)).join("\u0000");
      const old = this.#kept.get(line.key);
      if (old?.said === said) {
        old.line = line;
        next.set(line.key, old);
        continue;
      }
      const kept: Kept = { said, line, el: h("tr") };
      kept.el = this.#row(kept);
      next.set(line.key, kept);
    }
    const rows = [...next.values()].map((k) => k.el);
    if (rows.length !== this.#body.childElementCount || rows.some((r, i) => this.#body.children[i] !== r))
      this.#body.replaceChildren(...rows);
    this.#kept = next;
  }

  #row(kept: { readonly line: Line }): HTMLElement {
    const cells = kept.line.cells.map((c, i) =>
      i === 0
        ? h("th", { scope: "row", class: this.#figures.includes(0) ? "figure" : null }, c)
        : h("td", { class: this.#figures.includes(i) ? "figure" : null }, c),
    );
    const show = button("Show", "link", () => this.#goTo(kept.line));
    setAttr(show, "aria-label", kept.line.name);
    return h("tr", { class: kept.line.faint ? "faint" : null }, ...cells, h("td", {}, show));
  }

  #goTo({ about, at, name }: Line): void {
    const there = about.filter((r) => find(this.board.plan, ...partsOf(r)) !== undefined);
    this.board.select(there);
    this.board.lookAt({ about: there, ...(at ? { at } : {}), gentle: true });
    this.board.announce(`${name.replace(/^Show /, "")}: shown.`);
  }
}

const partsOf = (r: Ref) => r.split("/", 2) as ["pipes", string];

export class TrenchTables {
  readonly #says = h("p", { class: "trench-says", role: "status" });
  readonly #totals = h("dl", { class: "trench-totals" });
  readonly #parts: ReadonlyMap<string, HTMLElement>;
  readonly #layer: HTMLButtonElement;
  readonly #stretches: Listed;
  readonly #crossings: Listed;
  readonly #boxes: Listed;
  readonly #wire: Listed;
  readonly #splices: Listed;
  readonly #wiring: WiringForm;
  readonly #wireSays = h("p", {});
  readonly #wireWhy = h("p", { class: "hint" });
  readonly #cables = h("ul", {});
  readonly #cautions = h("ul", { class: "hint" });
  readonly #short = h("p", { class: "hint", hidden: true });
  readonly #caution = h("p", { class: "hint" });
  readonly #body: HTMLElement;
  readonly #none = h("p", { class: "hint" }, "Working out what is dug.");

  constructor(readonly board: Board) {
    const table = (...of: ConstructorParameters<typeof Listed> extends [Board, ...infer R] ? R : never) =>
      new Listed(board, ...of);
    this.#stretches = table(
      "Trenches",
      ["No.", "From", "To", "On the way", "Length", "Cover", "Depth", "In it", "Ground"],
      "No trench that is new: draw pipes or wire, or let routes be sought.",
      [0, 4, 5, 6],
    );
    this.#crossings = table(
      "Crossings and sleeves",
      ["Where", "Length", "Holds", "Sleeves", "Cover", "Method"],
      "No pipe or wire passes under paving.",
      [1, 4],
    );
    this.#boxes = table("Boxes", ["Box", "Holds", "Remark"], "No box yet: valves stand nowhere.");
    this.#wire = table(
      "Wire to valves and sensors",
      ["Leads to", "Station", "Length", "Wire", "At the valve", "How it was reckoned"],
      "No valve or sensor is placed yet.",
      [1, 2, 4],
    );
    this.#splices = table("Splices", ["Where", "What is joined"], "Nothing is spliced.");
    this.#wiring = new WiringForm(board);
    this.#layer = button("Show trenches", "small", () => this.#turn());
    const bar = h(
      "p",
      { class: "acts" },
      h("button", { type: "button", class: "small", "data-runs": "pipe.route" }, "Route pipes and wire…"),
      this.#layer,
      h(
        "a",
        { class: "button small", href: `/plans/${encodeURIComponent(board.id)}/sleeves` },
        "Sleeve drawing",
      ),
      button("Depths and figures…", "small", () => void showFigures(board, ["depth", "sleeve", "wire"])),
    );
    const titled = (title: string, ...of: HTMLElement[]): HTMLElement =>
      h("section", {}, h("h3", {}, title), ...of);
    this.#parts = new Map([
      ["Trenches", h("div", {}, this.#totals, this.#stretches.el, this.#short, this.#caution)],
      ["Crossings and sleeves", this.#crossings.el],
      ["Boxes", h("div", {}, this.#boxes.el, titled("Splices", this.#splices.el))],
      [
        "Wire",
        h(
          "div",
          {},
          this.#wiring.el,
          this.#wireSays,
          this.#wireWhy,
          this.#wire.el,
          titled("To be bought", this.#cables),
          titled("Take care", this.#cautions),
        ),
      ],
    ]);
    this.#body = h("div", { class: "trench-body" }, this.#chooser(), ...this.#parts.values());
    byID("trenches").append(
      h("h2", { class: "unseen" }, "Trenches and wire"),
      bar,
      this.#says,
      this.#none,
      this.#body,
    );
    this.#choose("Trenches");
    const soon = atMostEvery(150, () => this.#render());
    for (const topic of ["design", "away", "layers", "digs"] as const) board.subscribe(topic, soon);
    this.#render();
  }

  /** Brings the tables in step when they come to be seen. */
  open(): void {
    this.#render();
  }

  /** Which of the tables is looked at: the drawer has room for one. */
  #chooser(): HTMLElement {
    const one = (title: string, i: number): HTMLElement =>
      h(
        "label",
        { class: "segment" },
        h("input", {
          type: "radio",
          name: "trench-table",
          value: title,
          checked: i === 0,
          onchange: () => this.#choose(title),
        }),
        h("span", {}, title),
      );
    const set = [...this.#parts.keys()].map(one);
    return h("div", { class: "segments", role: "radiogroup", "aria-label": "What is listed" }, ...set);
  }

  #choose(title: string): void {
    for (const [name, el] of this.#parts) el.hidden = name !== title;
  }

  #turn(): void {
    const on = !this.board.layers.shows("trenches");
    this.board.layers.show("trenches", on);
    this.board.announce(`Trenches ${on ? "shown" : "hidden"}.`);
  }

  #render(): void {
    const on = this.board.layers.shows("trenches");
    setText(this.#layer, on ? "Hide trenches" : "Show trenches");
    if (byID("trenches").hidden) return;
    const digs = this.board.away ? undefined : this.board.design?.digs;
    this.#none.hidden = digs !== undefined;
    setText(
      this.#none,
      this.board.away ? "Not computed while the server is away." : "Working out what is dug.",
    );
    this.#body.hidden = digs === undefined;
    setText(this.#says, digs?.says ?? "");
    if (digs) this.#show(digs);
  }

  #show(digs: Digs): void {
    keep(
      this.#totals,
      digs.totals.map(({ label, text }) => h("div", {}, h("dt", {}, `${label} `), h("dd", {}, text))),
    );
    setText(this.#short, digs.short);
    this.#short.hidden = digs.short === "";
    this.#stretches.show(
      rowsInOrder(digs).map(([number, r]) => ({
        key: number,
        cells: [number, r.from, r.to, r.way, r.length, r.cover, r.depth, capital(r.holds), r.ground],
        about: r.about,
        at: between(r.line),
        name: `Show trench ${number} from ${r.from} to ${r.to}`,
      })),
    );
    this.#crossings.show(
      digs.crossings.map((c, i) => ({
        key: String(i),
        cells: [
          c.longest ? `${c.where} (longest)` : c.where,
          c.length,
          capital(c.holds),
          this.#sleeves(c.needs),
          c.cover,
          c.method,
        ],
        about: c.about,
        at: between(c.ends),
        name: `Show the crossing of ${c.where}`,
        faint: !c.new,
      })),
    );
    this.#boxes.show(
      digs.boxes.map((b, i) => ({
        key: String(i),
        cells: [b.words, b.holds, b.new ? "" : "there already"],
        about: b.about,
        at: b.at,
        name: `Show the ${b.words.toLowerCase()}`,
        faint: !b.new,
      })),
    );
    this.#showWire(digs.wire);
    setText(this.#caution, digs.caution);
  }

  #sleeves(needs: Digs["crossings"][number]["needs"]): HTMLElement {
    return h(
      "ul",
      { class: "needs" },
      ...needs.map(({ says, why, sleeve }) => {
        const told = sleeve ? "drawn" : "not drawn yet";
        return h("li", { class: sleeve ? null : "lacks", title: why || null }, `${says}, ${told}`);
      }),
    );
  }

  #showWire(w: Digs["wire"]): void {
    this.#wiring.show(w.gauges);
    this.#wire.show(w.runs.map((r) => wireLine(r, w.sums)));
    this.#splices.show(
      w.splices.map((s, i) => ({
        key: String(i),
        cells: [s.where, s.says],
        about: [],
        at: s.at,
        name: `Show the splices: ${s.where}`,
      })),
    );
    setText(this.#wireSays, w.says);
    setText(this.#wireWhy, w.why);
    keep(
      this.#cables,
      w.cables.map((c) => h("li", { title: c.why || null }, `${c.what}: ${c.length}`)),
    );
    keep(
      this.#cautions,
      w.cautions.map((c) => h("li", {}, c)),
    );
  }
}

/** The sum opens on demand; where the thinnest wire does not do it is open. */
function wireLine(r: WireOf, open: boolean): Line {
  const sum = r.sum
    ? h("details", { open: open && r.new }, h("summary", {}, r.drop ? `loses ${r.drop}` : "The sum"), r.sum)
    : "";
  return {
    key: r.to,
    cells: [
      r.name,
      r.station,
      r.length,
      r.size,
      r.volts,
      r.missing ? h("strong", { class: "lacks" }, r.missing) : sum,
    ],
    about: [r.to.replace(/^zones\//, "valves/") as Ref],
    ...(r.at ? { at: r.at } : {}),
    name: `Show the wire to ${r.name}`,
    faint: !r.new,
  };
}

/** Puts new children in where they say something else. */
function keep(el: HTMLElement, children: readonly HTMLElement[]): void {
  const said = (list: Iterable<Element>): string => Array.from(list, (c) => c.textContent).join("\n");
  if (said(el.children) !== said(children)) el.replaceChildren(...children);
}
