// Beside the colours of the map: what the pipes are coloured by, and what the
// steps mean.

import { type Command, tooltip } from "../commands";
import { byID, h, setAttr, setText } from "../dom";
import { find } from "../model";
import { count } from "../names";
import { type PipesBy, pipesBy, troubled, zoneChosen } from "../pipelook";
import type { Board } from "../state";

/** Shows the switch of the pipes' colours, once there are pipes. */
export function showPipeKey(board: Board, command: (by: Exclude<PipesBy, "plain">) => Command): void {
  const radios = (Object.keys(pipesBy) as PipesBy[]).map((by) => {
    const title = by === "plain" ? "Pipes without the colours of their water" : tooltip(command(by));
    const onchange = (): void => board.pipeLook.show(by);
    const input = h("input", { type: "radio", name: "pipes-by", value: by, onchange });
    return { by, input, el: h("label", { class: "segment", title }, input, pipesBy[by]) };
  });
  const label = h("span", { id: "pipes-by-label" }, "Pipes");
  const group = h(
    "div",
    { class: "segments", role: "radiogroup", "aria-labelledby": "pipes-by-label" },
    ...radios.map((r) => r.el),
  );
  const steps = h("ul");
  const of = h("span", { class: "hint" });
  const trouble = h("span", { class: "hint" });
  const el = h("div", { class: "pipe-key", hidden: true }, label, group, steps, of, trouble);
  byID("legend").querySelector(".circumstances")?.after(el);

  let keyed = "";
  const show = (): void => {
    const { plan, design, pipeLook } = board;
    el.hidden = Object.keys(plan.pipes ?? {}).length === 0;
    if (el.hidden) return;
    const { by } = pipeLook;
    for (const r of radios) r.input.checked = r.by === by;
    setAttr(el, "data-by", by);
    const keys = by === "plain" ? [] : (design?.pipe_keys?.[by] ?? []);
    if (keyed !== `${by} ${keys.join()}`) {
      keyed = `${by} ${keys.join()}`;
      steps.replaceChildren(
        ...keys.map((text, i) =>
          h("li", { "data-step": i + 1 }, h("span", { class: "swatch-line", "aria-hidden": "true" }), text),
        ),
      );
    }
    steps.hidden = keys.length === 0;
    const zone = find(plan, "zones", zoneChosen(plan, board.selection))?.name;
    setText(of, zone ? `main: ${zone} running` : "main: its greatest flow");
    setAttr(of, "title", of.textContent);
    of.hidden = by === "plain";
    const n = troubled(design).length;
    setText(trouble, `↓ ↑ in a ring: ${count(n, "head")} with too little or too much pressure`);
    trouble.hidden = n === 0 || by !== "plain";
  };
  for (const topic of ["plan", "design", "selection", "pipelook"] as const) board.subscribe(topic, show);
  show();
}
