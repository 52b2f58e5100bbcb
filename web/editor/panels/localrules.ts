// The table of local rules: which distance each asks for, who says so, and the
// plan's own where code or custom has another.

import { ask as get, planURL } from "../api";
import type { ArrangeOptions, LocalRuleView } from "../arranging";
import { type Ground, notStored, whenStored } from "../asking";
import { ask, h } from "../dom";
import { lengthText } from "../format";
import type { Plan } from "../model";
import { readRule, withLocalRule } from "../ruling";

/** Asks for the rules; then is called when they were changed. */
export async function showLocalRules(board: Ground, then: () => void = () => {}): Promise<void> {
  if (!(await whenStored(board))) {
    board.show({
      kind: "hint",
      sentence: notStored(board, "Local rules are set"),
    });
    return;
  }
  const answer = await get<ArrangeOptions>("GET", `${planURL(board.id)}/arrange/options`);
  if (!answer.ok) {
    board.show({ kind: "hint", sentence: answer.error });
    return;
  }
  const before = board.committed;
  const lines = answer.value.rules.map((r) => new Line(r, before));
  lines[0]?.distance.setAttribute("autofocus", "");
  let next: Plan = before;
  const form = h(
    "form",
    { method: "dialog", class: "form", novalidate: true },
    h("h2", { id: "rules-title" }, "Local rules"),
    h(
      "p",
      { class: "hint" },
      "Distances that arranging keeps and the findings check. Where local code asks for another, type it with where it says so; empty brings the usual one back.",
    ),
    h(
      "div",
      { class: "scroll", role: "region", "aria-label": "Rules", tabindex: "-1" },
      h(
        "table",
        { class: "rules-table" },
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            ...["Rule", "Distance", "Usual", "Who says so", ""].map((t) =>
              h("th", { scope: "col" }, t || unseen("Back to the usual")),
            ),
          ),
        ),
        h("tbody", {}, ...lines.map((l) => l.el)),
      ),
    ),
    h(
      "p",
      { class: "acts" },
      h("button", { value: "done", class: "main" }, "Keep"),
      h("button", { value: "", formnovalidate: true }, "Cancel"),
    ),
  );
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") === "") return;
    next = before;
    let wrong: Line | null = null;
    for (const l of lines) {
      const v = l.take(next);
      if (v === null) wrong ??= l;
      else next = v;
    }
    if (!wrong) return;
    e.preventDefault();
    wrong.distance.focus();
  });
  if ((await ask(h("dialog", { class: "roomy rules", "aria-labelledby": "rules-title" }, form))) !== "done")
    return;
  if (next === before) return;
  await board.commit("Change the local rules", next);
  board.announce("Local rules changed. Undo takes it back.");
  then();
}

/** Who says so of the usual distance; of the plan's own it stands in its field. */
const usualSource = (r: LocalRuleView): HTMLElement | null =>
  r.edited ? null : h("span", { class: "rule-source" }, r.source);

const unseen = (text: string): HTMLElement => h("span", { class: "unseen" }, text);

class Line {
  readonly distance: HTMLInputElement;
  readonly #source: HTMLInputElement;
  readonly #error: HTMLElement;
  readonly #reset: HTMLButtonElement;
  readonly el: HTMLElement;

  constructor(
    readonly rule: LocalRuleView,
    readonly plan: Plan,
  ) {
    const id = `rule-${rule.id}`;
    const own = plan.options?.local_rules?.[rule.id];
    this.#error = h("p", { class: "error", id: `${id}-error`, hidden: true });
    this.distance = h("input", {
      type: "text",
      id,
      autocomplete: "off",
      spellcheck: "false",
      placeholder: rule.usual,
      "aria-describedby": `${id}-error`,
      "aria-label": `${rule.words}: distance`,
      value: own ? lengthText(own.feet, plan.show) : "",
    });
    this.#source = h("input", {
      type: "text",
      autocomplete: "off",
      maxlength: 500,
      placeholder: "the usual",
      "aria-label": `${rule.words}: who says so`,
      value: own?.source ?? "",
    });
    this.#reset = h(
      "button",
      {
        type: "button",
        class: "small",
        "aria-label": `${rule.words}: back to the usual ${rule.usual}`,
        onclick: () => {
          this.distance.value = "";
          this.#source.value = "";
          this.#told();
          this.distance.focus();
        },
      },
      "Usual",
    );
    for (const input of [this.distance, this.#source]) input.addEventListener("input", () => this.#told());
    this.el = h(
      "tr",
      {},
      h("th", { scope: "row" }, rule.words, usualSource(rule)),
      h("td", {}, this.distance, this.#error),
      h("td", { class: "figure" }, rule.usual),
      h("td", {}, this.#source),
      h("td", {}, this.#reset),
    );
    this.#told();
  }

  #told(): void {
    this.#reset.disabled = this.distance.value.trim() === "" && this.#source.value.trim() === "";
    this.#source.placeholder = this.distance.value.trim() === "" ? "the usual" : "code or custom";
    this.#complain("");
  }

  #complain(sentence: string): void {
    this.#error.textContent = sentence;
    this.#error.hidden = sentence === "";
    if (sentence) this.distance.setAttribute("aria-invalid", "true");
    else this.distance.removeAttribute("aria-invalid");
  }

  /** The plan with what was typed; null when that cannot be, which is then said. */
  take(p: Plan): Plan | null {
    const own = this.plan.options?.local_rules?.[this.rule.id];
    const typed = this.distance.value.trim();
    const source = this.#source.value.trim();
    const same = own
      ? typed === lengthText(own.feet, p.show) && source === (own.source ?? "")
      : typed === "" && source === "";
    if (same) return p;
    const v = readRule(typed, source, p.show);
    if (!v.ok) {
      this.#complain(v.sentence);
      return null;
    }
    return withLocalRule(p, this.rule.id, v.value);
  }
}
