// The three readings that are always in view, the use of the supply, and the
// rest under More.

import type { EstimateRow, WindowsRow } from "../api";
import { server } from "../api";
import type { AreaReading, Design, OffTarget, XY } from "../design";
import { atMostEvery, byID, h, Rows, setAttr, setText } from "../dom";
import type { Ref } from "../model";
import type { Board } from "../state";

const rankWords = { good: "good", fair: "fair", poor: "poor" } as const;

export class Readings {
  readonly #board: Board;
  readonly #evenness = h("span", { class: "big" });
  readonly #evenRank = h("span", { class: "rank-word", hidden: true });
  readonly #evenLabel = h("dd", { class: "hint" });
  readonly #rate = h("dd");
  readonly #driest = h("button", { type: "button", class: "plain driest" });
  readonly #flow = h("dd");
  readonly #more = h("details", { class: "more" });
  readonly #moreList = h("dl", { class: "facts" });
  readonly #areas: Rows<AreaReading>;
  readonly #off: Rows<OffTarget>;
  readonly #offBlock: HTMLElement;
  readonly #estimate = h("div", { class: "estimate" });
  #estimatedRev = -1;
  #driestAt: XY | undefined;

  constructor(board: Board, onSupply: () => void) {
    this.#board = board;
    const body = h("tbody");
    this.#areas = new Rows(body, (a) => a.id, areaRow);
    const off = h("ul", { class: "off" });
    this.#off = new Rows(
      off,
      (o) => o.id,
      () => this.#offRow(),
    );
    this.#offBlock = h("div", {}, h("h3", {}, "Water off its target"), off);
    this.#driest.addEventListener("click", () => {
      if (this.#driestAt) board.lookAt({ at: this.#driestAt });
    });
    const away = h("p", { class: "away" }, "Not computed: the server is away. These are the last figures.");
    byID("readings").append(
      h("h2", { class: "unseen" }, "Readings"),
      away,
      this.#three(onSupply),
      this.#moreBlock(body),
    );
    board.subscribe(
      "design",
      atMostEvery(80, () => this.#render()), // figures that change faster cannot be read
    );
    board.subscribe("saved", () => this.#estimateIfOpen());
  }

  #three(onSupply: () => void): HTMLElement {
    const supply = h("button", { type: "button", class: "plain", onclick: onSupply }, "Supply");
    return h(
      "dl",
      { class: "three" },
      h(
        "div",
        { class: "evenness" },
        h("dt", {}, "Evenness"),
        h("dd", {}, this.#evenness, this.#evenRank),
        this.#evenLabel,
      ),
      h("div", { class: "rate" }, h("dt", {}, "Rate"), this.#rate),
      h("div", { class: "dry" }, h("dt", {}, "Driest place"), h("dd", {}, this.#driest)),
      h("div", { class: "flow" }, h("dt", {}, supply), this.#flow),
    );
  }

  #moreBlock(body: HTMLElement): HTMLElement {
    const head = ["Area", "Even", "Mean rate", "With lip"].map((t) => h("th", { scope: "col" }, t));
    this.#more.append(
      h("summary", {}, "More"),
      h("p", { class: "hint" }, "Layout uniformity in calm air with ideal nozzles: the field is less even."),
      this.#estimate,
      h("table", {}, h("thead", {}, h("tr", {}, ...head)), body),
      this.#moreList,
      this.#offBlock,
    );
    this.#more.addEventListener("toggle", () => this.#estimateIfOpen());
    return this.#more;
  }

  #render(): void {
    const d = this.#board.design;
    if (!d) return;
    const { evenness, rate, driest, flow } = d.readings;
    setText(this.#evenness, evenness.text || "–");
    setText(this.#evenRank, evenness.rank ? rankWords[evenness.rank] : "");
    this.#evenRank.hidden = !evenness.rank;
    setAttr(this.#evenRank, "data-rank", evenness.rank ?? null);
    setText(this.#evenLabel, evenness.label ?? "");
    setText(this.#rate, rate.text || "–");
    setText(this.#driest, driest.text || "–");
    this.#driest.disabled = !driest.at;
    this.#driestAt = driest.at;
    setText(this.#flow, flow.text || "–");
    setAttr(this.#flow, "data-rank", flow.rank ?? null);
    if (this.#more.open) this.#renderMore(d);
  }

  #renderMore(d: Design): void {
    this.#areas.show(d.areas ?? []);
    this.#off.show(d.off_target ?? []);
    this.#offBlock.hidden = (d.off_target ?? []).length === 0;
    const said = Array.from(this.#moreList.children, (e) => e.textContent).join("\n");
    const want = (d.more ?? []).map((m) => `${m.label}\n${m.text}`).join("\n");
    if (said === want) return;
    this.#moreList.replaceChildren(
      ...(d.more ?? []).flatMap((m) => [h("dt", {}, m.label), h("dd", {}, m.text)]),
    );
  }

  #offRow(): { el: Element; update(o: OffTarget): void } {
    let now: OffTarget | null = null;
    const go = (): void => {
      const heads = (now?.heads ?? []).map((id): Ref => `heads/${id}`);
      this.#board.select(heads);
      this.#board.lookAt({ about: heads });
    };
    const words = h("span");
    const button = h("button", { type: "button", class: "small", onclick: go }, "Show heads");
    const el = h("li", {}, words, " ", button);
    return {
      el,
      update: (o) => {
        now = o;
        setText(words, o.text || `${o.name}: ${o.gpm}, ${o.share}`);
        setAttr(el, "data-rank", o.rank);
        button.hidden = o.heads.length === 0;
      },
    };
  }

  // The field estimate takes many computations, so it is asked for only while
  // More is open, and once for each stored revision.
  async #estimateIfOpen(): Promise<void> {
    if (!this.#more.open) return;
    if (this.#board.design) this.#renderMore(this.#board.design);
    const { rev } = this.#board;
    if (this.#estimatedRev === rev || this.#board.saved.state !== "yes") return;
    this.#estimatedRev = rev;
    this.#estimate.replaceChildren(
      h("p", { class: "hint", role: "status" }, "Working out the field estimate…"),
    );
    const answer = await server.estimate(this.#board.id);
    if (this.#estimatedRev !== rev) return;
    this.#estimate.replaceChildren(
      ...(answer.ok
        ? [...estimateBlock(answer.value.areas), ...windowsBlock(answer.value.scheduling ?? [])]
        : [h("p", {}, answer.error)]),
    );
  }
}

function areaRow(): { el: Element; update(a: AreaReading): void } {
  const cells = ["evenness", "rate", "with_lip"].map((k) => ({ k, el: h("td") }));
  const name = h("th", { scope: "row" });
  return {
    el: h("tr", {}, name, ...cells.map((c) => c.el)),
    update: (a) => {
      setText(name, a.name);
      for (const { k, el } of cells) setText(el, a[k] ?? "–");
    },
  };
}

function estimateBlock(rows: readonly EstimateRow[]): Node[] {
  if (rows.length === 0) return [];
  const list = rows.map((r) => h("li", {}, h("b", {}, r.name), ` ${r.text}`));
  return [
    h("h3", {}, "Field estimate"),
    h(
      "p",
      { class: "hint" },
      "The same layout when heads stand a few inches off and nozzles differ a little.",
    ),
    h("ul", {}, ...list),
  ];
}

/** Scheduling coefficients: an area a row, a size of window a column. */
function windowsBlock(rows: readonly WindowsRow[]): Node[] {
  const [first] = rows;
  if (!first) return [];
  const head = ["Area", ...first.windows.map((w) => w.share)].map((t) => h("th", { scope: "col" }, t));
  const body = rows.map((r) =>
    h("tr", {}, h("th", { scope: "row" }, r.name), ...r.windows.map((w) => h("td", {}, w.text))),
  );
  return [
    h("h3", {}, "Scheduling coefficient by size of window"),
    h(
      "p",
      { class: "hint" },
      "The mean over the rate of the driest square window of that share of the area.",
    ),
    h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...body)),
  ];
}
