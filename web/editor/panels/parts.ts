// What to buy, by zone and in total; every line opens to what it was counted from.

import type { PartsLine, PartsZone } from "../design";
import { atMostEvery, byID, h, type Row, Rows, setText } from "../dom";
import type { Plan, Ref } from "../model";
import { capital, nameOf, sortKey } from "../names";
import type { Board } from "../state";

interface Block {
  key: string;
  title: string;
  lines: PartsLine[];
}

export class Parts {
  readonly #rows: Rows<Block>;
  readonly #empty = h("p", { class: "hint" }, "Nothing to buy yet. What is drawn as new is counted here.");
  readonly #scope = h("p", { class: "hint parts-scope" });

  constructor(readonly board: Board) {
    const list = h("div", { class: "parts" });
    this.#rows = new Rows(
      list,
      (b) => b.key,
      () => this.#block(),
    );
    const at = `/plans/${encodeURIComponent(board.id)}/files/`;
    const saves = h(
      "p",
      { class: "acts" },
      h("a", { class: "button small", href: `${at}parts.csv`, download: true }, "Save as CSV"),
      h("a", { class: "button small", href: `${at}parts.xlsx`, download: true }, "Save as XLSX"),
    );
    byID("parts").append(h("h2", { class: "unseen" }, "Parts"), saves, this.#scope, this.#empty, list);
    board.subscribe(
      "design",
      atMostEvery(250, () => this.#render()),
    );
    this.#render();
  }

  #render(): void {
    const { zones, total, scope } = this.board.design?.parts ?? { zones: [], total: [], scope: "" };
    setText(this.#scope, scope);
    this.#empty.hidden = (total ?? []).length > 0;
    const blocks: Block[] = (zones ?? []).map((z, i) => ({
      key: `${i}`,
      title: titleOf(z),
      lines: z.lines ?? [],
    }));
    if ((total ?? []).length > 0) blocks.unshift({ key: "total", title: "In total", lines: total });
    this.#rows.show(blocks);
  }

  #block(): Row<Block> {
    const title = h("h3");
    const body = h("tbody");
    const rows = new Rows<PartsLine>(
      body,
      (l, i) => `${i} ${l.item}`,
      () => this.#line(),
    );
    const head = ["Item", "Count", "From"].map((t) => h("th", { scope: "col" }, t));
    const table = h("table", {}, h("thead", {}, h("tr", {}, ...head)), body);
    return {
      el: h("section", { class: "parts-zone" }, title, table),
      update: (b) => {
        setText(title, b.title);
        rows.show(b.lines);
      },
    };
  }

  #line(): Row<PartsLine> {
    let now: PartsLine | null = null;
    const item = h("th", { scope: "row" });
    const count = h("span");
    const sold = h("span", { class: "hint sold" });
    const number = h("td", { class: "figure" }, count, sold);
    const rule = h("p", { class: "hint" });
    const from = h("p", { class: "from" });
    const show = h(
      "button",
      { type: "button", class: "small", onclick: () => now && this.#show(now) },
      "Show on the board",
    );
    const size = h("span");
    const said = h("span", { class: "unseen" });
    const summary = h("summary", {}, size, said);
    const open = h("details", {}, summary, rule, from, show);
    open.addEventListener("toggle", () => now && this.#names(from, open.open ? now : null));
    return {
      el: h("tr", {}, item, number, h("td", {}, open)),
      update: (l) => {
        now = l;
        setText(item, l.item);
        setText(count, `${l.count} ${l.unit === "each" ? "" : l.unit}`.trim());
        setText(sold, l.sold ?? "");
        sold.hidden = !l.sold;
        setText(size, `${things(l).length}`);
        setText(said, ` things that ${l.item} is counted from`);
        setText(rule, capital(l.rule));
        if (open.open) this.#names(from, l);
      },
    };
  }

  #names(el: HTMLElement, l: PartsLine | null): void {
    setText(el, l ? countedFrom(this.board.plan, l).join(", ") : "");
  }

  #show(l: PartsLine): void {
    this.board.select(things(l));
    this.board.lookAt({ about: things(l) });
  }
}

/** What a line was counted from, each once: a joint may take two of a fitting. */
const things = (l: PartsLine): Ref[] => [...new Set(l.from ?? [])];

/** Their names as one looks for them on the plan: head 2-10 after head 2-9, whatever their ids. */
export function countedFrom(p: Plan, l: PartsLine): string[] {
  const keyed = things(l).map((r) => [nameOf(p, r), sortKey(nameOf(p, r))] as const);
  return keyed.sort(([, a], [, b]) => (a < b ? -1 : a > b ? 1 : 0)).map(([name]) => name);
}

const titleOf = (z: PartsZone): string => (z.station ? `Station ${z.station}: ${z.name}` : z.name);
