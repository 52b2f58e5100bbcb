// The bar at the top of the board while something is being drawn: what is wrong
// with the draft and the ways out of it, and buttons for those who have no keys.

import type { CommandID } from "./commands";
import { h, setText } from "./dom";
import type { Fix } from "./tools/tool";

export interface Bar {
  readonly problem: string;
  /** What is good to know of the draft, and no fault. */
  readonly news: string;
  readonly fixes: readonly Fix[];
  /** An outline or line is being drawn, places are being pointed at, or a change waits to be mended. */
  readonly steps: "" | "draft" | "points" | "change";
  /** There are figures to copy. */
  readonly figures: boolean;
}

export interface BarOwner {
  fix(f: Fix): void;
  run(id: CommandID): void;
}

export class ProblemBar {
  readonly #el = h("div", { class: "draft-bar", role: "group", "aria-label": "The drawing in hand" });
  readonly #sentence = h("p", { class: "draft-problem", role: "status" });
  readonly #news = h("p", { class: "draft-news" });
  readonly #fixes = h("div", { class: "draft-fixes" });
  readonly #draft = h("div", { class: "draft-steps" });
  readonly #change = h("div", { class: "draft-steps" });
  readonly #copy: HTMLElement;
  /** What goes on with a draft or ends it. */
  readonly #going: HTMLElement[];
  #shown = "";

  constructor(
    parent: HTMLElement,
    readonly owner: BarOwner,
  ) {
    const button = (id: CommandID, text: string) =>
      h("button", { type: "button", class: "small", onclick: () => owner.run(id) }, text);
    this.#copy = button("edit.copy", "Copy the figures");
    const type = button("draw.type", "Type numbers");
    type.classList.add("for-touch"); // with keys, a digit opens the box
    this.#going = [type, button("plan.finish", "Finish")];
    this.#draft.append(
      ...this.#going,
      this.#copy,
      button("edit.undo", "Take back a place"),
      button("plan.back", "Drop it"),
    );
    this.#change.append(button("plan.back", "Put it back"));
    this.#el.append(this.#sentence, this.#news, this.#fixes, this.#draft, this.#change);
    this.#el.addEventListener("pointerdown", (e) => e.stopPropagation());
    this.#el.hidden = true;
    parent.append(this.#el);
  }

  show(b: Bar): void {
    this.#el.hidden = b.problem === "" && b.news === "" && b.steps === "";
    this.#el.classList.toggle("faulty", b.problem !== "");
    this.#el.classList.toggle("mute", b.problem === "" && b.news === "");
    setText(this.#sentence, b.problem);
    setText(this.#news, b.news);
    this.#copy.hidden = !b.figures;
    this.#draft.hidden = b.steps !== "draft" && b.steps !== "points";
    const [type, finish] = this.#going;
    if (type) type.hidden = b.steps === "points";
    if (finish) finish.hidden = b.steps === "points" || b.fixes.some((f) => f.usual);
    this.#change.hidden = b.steps !== "change";
    const key = b.fixes.map((f) => `${f.title} ${JSON.stringify(f.draft)}`).join("|");
    if (key === this.#shown) return;
    this.#shown = key;
    this.#fixes.replaceChildren(
      ...b.fixes.map((f) =>
        h(
          "button",
          { type: "button", class: f.usual ? "small main" : "small", onclick: () => this.owner.fix(f) },
          f.title,
        ),
      ),
    );
  }
}
