// The parts of the plan beside those of an earlier state of it: what differs, and what
// both come to by the prices and rates of now.

import { planURL, ask as request } from "../api";
import { notStored, whenStored } from "../asking";
import { Clock } from "../days";
import { ask, h } from "../dom";
import { type Past, past } from "../past";
import type { CompareView } from "../pricing";
import type { Board } from "../state";
import { fill } from "./control";

/** Steps that are offered besides the kept states. */
const STEPS = 30;

export async function compareParts(board: Board): Promise<void> {
  if (!(await whenStored(board)))
    return board.show({ kind: "hint", sentence: notStored(board, "Parts are compared") });
  const answer = await past.read(board.id);
  if (!answer.ok) return board.show({ kind: "hint", sentence: answer.error });
  const states = statesOf(answer.value);
  const choice = h("select", { id: "compare-with" });
  fill(choice, states);
  choice.value = states[0]?.value ?? "";
  choice.setAttribute("autofocus", "");
  const found = h("div", { class: "form", role: "status" });
  const look = async (): Promise<void> => {
    const wanted = choice.value;
    if (!wanted) return;
    const v = await request<CompareView>("GET", `${planURL(board.id)}/compare?${wanted}`);
    if (choice.value !== wanted) return;
    found.replaceChildren(...(v.ok ? shown(v.value) : [h("p", { class: "error" }, v.error)]));
  };
  choice.addEventListener("change", () => void look());
  void look();
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "compare-title" }, "Compare parts"),
    states.length > 0
      ? h("div", { class: "field" }, h("label", { for: "compare-with" }, "This plan against"), choice)
      : h(
          "p",
          {},
          "There is no earlier state yet. Keep one under History before you try something, then compare.",
        ),
    found,
    h("p", { class: "acts" }, h("button", { value: "", class: "main" }, "Close")),
  );
  await ask(h("dialog", { class: "roomy", "aria-labelledby": "compare-title" }, form));
}

const kept = "Kept states";

/** What can be compared with: states with a name, those kept by themselves, and the last steps. */
export function statesOf(p: Past): { value: string; label: string; group: string }[] {
  const clock = new Clock();
  const point = (kind: boolean) => (v: Past["points"][number]) => ({
    value: `point=${v.id}`,
    label: `${v.name}, ${clock.full(v.at)}`,
    group: kind ? kept : "Kept by itself",
  });
  const named = p.points.filter((v) => v.kind === "named").map(point(true));
  const others = p.points.filter((v) => v.kind !== "named").map(point(false));
  const done = p.steps.filter((s) => !s.undone);
  const steps = done
    .slice(0, -1) // the last is how the plan is now
    .slice(-STEPS)
    .reverse()
    .map((s) => ({
      value: `step=${s.number}`,
      label: `After “${s.label}”, ${clock.full(s.at)}`,
      group: "Steps",
    }));
  return [...named, ...steps, ...others];
}

function shown(v: CompareView): Node[] {
  const out: Node[] = [h("p", {}, h("strong", {}, v.says))];
  const head = (...titles: string[]): HTMLElement =>
    h(
      "thead",
      {},
      h("tr", {}, ...titles.map((t, i) => h("th", { scope: "col", class: i > 0 ? "figure" : null }, t))),
    );
  if (v.sums.length > 0)
    out.push(
      h(
        "table",
        { class: "compare-table" },
        head("By the prices and rates of now", "Then", "Now"),
        h(
          "tbody",
          {},
          ...v.sums.map((s) =>
            h(
              "tr",
              {},
              h("th", { scope: "row" }, s.what),
              h("td", { class: "figure" }, s.from),
              h("td", { class: "figure" }, s.to),
            ),
          ),
        ),
      ),
    );
  if (v.rows.length > 0) {
    const money = v.rows.some((r) => r.more !== "");
    out.push(
      h(
        "div",
        { class: "scroll", role: "region", "aria-label": "Lines that differ", tabindex: "0" },
        h(
          "table",
          { class: "compare-table" },
          head("Item", "Then", "Now", ...(money ? ["More"] : [])),
          h(
            "tbody",
            {},
            ...v.rows.map((r) =>
              h(
                "tr",
                {},
                h("th", { scope: "row" }, r.item),
                h("td", { class: "figure" }, r.from),
                h("td", { class: "figure" }, r.to),
                money ? h("td", { class: "figure" }, r.more || "not known") : "",
              ),
            ),
          ),
        ),
      ),
    );
  }
  out.push(h("p", { class: "hint" }, v.same));
  return out;
}
