// The bar over the board while an earlier state is looked at, and the dialog
// that gives a state a name.

import { ask, byID, h } from "../dom";
import { capital } from "../names";
import { past, type Which } from "../past";
import type { Board } from "../state";
import { cancel } from "./findings";

/** What is looked at. */
interface Looked {
  which: Which;
  label: string;
  /** "after “Move head 1-2”, 3 Dec 2026, 14:32" */
  words: string;
  /** It is the plan as it is. */
  now: boolean;
}

export class LookBar {
  readonly #said = h("p", {});
  readonly #back = h("button", { type: "button", class: "main", id: "go-back" }, "Go back to this");
  readonly #keep = h("button", { type: "button", title: "Gives this state a name" }, "Keep…");
  readonly #return = h("button", { type: "button", id: "look-return" }, "Return to the plan");
  readonly #el = h(
    "section",
    { class: "look-bar", id: "look-bar", "aria-label": "Earlier state", hidden: true },
    this.#said,
    h("div", { class: "acts" }, this.#return, this.#keep, this.#back),
  );
  #looked: Looked | null = null;
  #from: HTMLElement | null = null;
  #asked = 0;

  /** kept is called when the list of kept states has changed. */
  constructor(
    readonly board: Board,
    readonly kept: () => Promise<void>,
  ) {
    byID("board").append(this.#el);
    for (const kind of ["pointerdown", "wheel", "dblclick"])
      this.#el.addEventListener(kind, (e) => e.stopPropagation());
    this.#back.addEventListener("click", () => void this.#goBack());
    this.#keep.addEventListener("click", () => void this.#keepIt());
    this.#return.addEventListener("click", () => board.lookBack(null));
    document.addEventListener(
      "keydown",
      (e) => {
        if (e.key !== "Escape" || !board.earlier || document.querySelector("dialog[open]")) return;
        e.preventDefault();
        e.stopPropagation();
        board.lookBack(null);
      },
      true,
    );
    board.subscribe("earlier", () => this.#show());
  }

  /** Key of the button of what is looked at; "" when nothing is. */
  get key(): string {
    if (!this.#looked || !this.board.earlier) return "";
    const { which } = this.#looked;
    return "step" in which ? String(which.step) : `point-${which.point}`;
  }

  async look(what: Looked): Promise<void> {
    const mine = ++this.#asked;
    const answer = await past.look(this.board.id, what.which);
    if (mine !== this.#asked) return;
    if (!answer.ok) return this.board.show({ kind: "problem", sentence: answer.error });
    this.#from = document.activeElement as HTMLElement | null;
    this.#looked = what;
    this.board.lookBack({ doc: answer.value.doc, words: what.words });
    this.board.announce(`You look at the plan as it was ${what.words}. Nothing can be changed in it.`);
    this.#return.focus();
  }

  #show(): void {
    const { earlier } = this.board;
    const was = !this.#el.hidden;
    this.#el.hidden = !earlier;
    document.body.toggleAttribute("data-earlier", earlier !== null);
    if (earlier) {
      const now = this.#looked?.now ?? false;
      this.#said.replaceChildren(h("strong", {}, capital(earlier.words)), now ? ", as it is" : "");
      this.#said.title = `${capital(earlier.words)}. Nothing can be changed in it.`;
      this.#back.hidden = now;
      this.#keep.hidden = this.#looked !== null && "point" in this.#looked.which;
    } else if (was) {
      this.#looked = null;
      this.board.announce("This is the plan again.");
      const key = this.#from?.dataset.key;
      const from = key
        ? document.querySelector<HTMLElement>(`#history [data-key="${CSS.escape(key)}"]`)
        : null;
      (from ?? byID("tab-history")).focus();
    }
  }

  async #goBack(): Promise<void> {
    const looked = this.#looked;
    if (!looked) return;
    const { id } = this.board;
    const made = await this.board.goBack((rev) => past.back(id, rev, looked.which));
    if (made)
      this.board.announce(
        `Went back to “${looked.label}”. The steps since then are still in the history, and undo takes this back.`,
      );
  }

  async #keepIt(): Promise<void> {
    const which = this.#looked?.which;
    if (!which || !("step" in which)) return;
    if (await askName(this.board, which.step)) await this.kept();
    this.#keep.focus();
  }
}

/** Asks for a name and keeps the state after a step under it; false when it was not kept. */
export async function askName(board: Board, step: number): Promise<boolean> {
  const input = h("input", {
    id: "point-name",
    type: "text",
    maxlength: "200",
    autocomplete: "off",
    required: true,
  });
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "point-title" }, "Keep this state"),
    h(
      "div",
      { class: "field" },
      h("label", { for: "point-name" }, "Name"),
      input,
      h(
        "p",
        { class: "hint" },
        "Such as “As agreed with the customer”. It can be gone back to however much is changed later.",
      ),
    ),
    h("p", { class: "acts" }, h("button", { value: "keep", class: "main" }, "Keep it"), cancel()),
  );
  const answer = await ask(h("dialog", { "aria-labelledby": "point-title" }, form));
  if (answer !== "keep") return false;
  board.flush();
  const kept = await past.keep(board.id, board.rev, step, input.value);
  if (kept.ok) board.announce(`Kept as “${kept.value.name}”.`);
  else board.show({ kind: "problem", sentence: kept.error });
  return kept.ok;
}
