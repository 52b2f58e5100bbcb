// The backflow device on the Supply page: the way of the water with it drawn in
// order, its height against the highest outlet, and the kinds to choose from.

import type { BackflowKind, ChainPiece } from "../api";
import type { SupplyReading } from "../design";
import { h, Rows, setAttr, setText } from "../dom";

/** The pieces from street to heads, in order, with arrows between them. */
export function chain(pieces: readonly ChainPiece[], label: string): HTMLElement {
  const items = pieces.map((p) =>
    h(
      "li",
      { "data-safe": p.safe, "data-each": p.each },
      p.name,
      p.each ? h("span", { class: "each" }, " each zone") : null,
    ),
  );
  return h("ol", { class: "chain", "aria-label": label }, ...items);
}

export class BackflowPart {
  readonly el = h("div", { class: "backflow" });
  readonly #against = h("p");
  readonly #place = h("p");
  readonly #unfit = h("p", { class: "height-says", "data-rank": "mend" });
  readonly #height = h("p", { class: "height-says" });
  readonly #decide = h("p", { class: "caution" });
  readonly #way = h("div");
  readonly #kinds: Rows<BackflowKind>;
  #drawn = "";
  #chosen = "";

  constructor() {
    const list = h("ul", { class: "backflow-kinds" });
    this.#kinds = new Rows(
      list,
      (k) => k.kind,
      () => this.#kindRow(),
    );
    this.el.append(
      h("h3", {}, "The way of the water in this plan"),
      this.#way,
      this.#against,
      this.#unfit,
      this.#place,
      this.#height,
      this.#decide,
      h("details", { class: "all-kinds" }, h("summary", {}, "The kinds side by side"), list),
    );
  }

  show(b: SupplyReading["backflow"], kinds: readonly BackflowKind[]): void {
    const key = JSON.stringify(b.chain);
    if (key !== this.#drawn) {
      this.#drawn = key;
      this.#way.replaceChildren(chain(b.chain, "The way of the water in this plan"));
    }
    setText(this.#against, b.against);
    setText(this.#place, b.place);
    setText(this.#unfit, b.unfit);
    setText(this.#height, b.height);
    setAttr(this.#height, "data-rank", b.rank || null);
    setText(this.#decide, b.decide);
    for (const el of [this.#unfit, this.#place, this.#height]) el.hidden = el.textContent === "";
    this.#chosen = b.kind;
    this.#kinds.show(kinds);
  }

  #kindRow() {
    const name = h("strong");
    const chosen = h("span", { class: "chip", hidden: true }, "chosen");
    const way = h("div");
    const says = h("p");
    let drawn = "";
    return {
      el: h("li", {}, h("p", {}, name, " ", chosen), way, says),
      update: (k: BackflowKind) => {
        setText(name, k.name);
        chosen.hidden = k.kind !== this.#chosen;
        if (drawn !== k.kind) way.replaceChildren(chain(k.chain, `The way of the water with a ${k.name}`));
        drawn = k.kind;
        setText(says, `${k.against} ${k.place} ${k.height}`);
      },
    };
  }
}
