// What stands above the board for the Pipe tool: whose water new pipes carry,
// their class and size.

import { h } from "../dom";
import type { Drawing } from "../drawing";
import { waterChoices } from "../fields_pipes";
import { classChoices, sizeChoices } from "../pipeclasses";
import type { Board } from "../state";
import { Control } from "./control";
import type { KitGroup } from "./tapekit";

export function pipeKit(board: Board, drawing: Drawing): KitGroup {
  const set = (key: "pipeFor" | "pipeClass") => (v: string) => {
    drawing.setKit({ [key]: v });
    return null;
  };
  const water = new Control("Carries", "choice", "", set("pipeFor"));
  const made = new Control("Class", "choice", "", set("pipeClass"));
  const size = new Control("Size", "choice", "", (v) => {
    drawing.setKit({ pipeSizeIn: Number(v) || 0 });
    return null;
  });
  return {
    tools: ["tool.pipe"],
    el: h("div", { class: "kit-group" }, water.el, made.el, size.el),
    show: () => {
      const { pipeFor, pipeClass, pipeSizeIn } = drawing.kit;
      const cx = { plan: board.plan, catalog: board.catalog };
      const waters = waterChoices(board.plan).map((c) => ({ ...c, value: c.value || "main" }));
      const known = waters.some((c) => c.value === pipeFor) ? pipeFor : "";
      const first = { value: "", label: "By what it joins" };
      water.show({ value: known, mixed: false, choices: [first, ...waters] });
      made.show({ value: pipeClass, mixed: false, choices: classChoices(cx, pipeClass) });
      const sizes = sizeChoices(cx, pipeClass, pipeSizeIn);
      size.show({ value: pipeSizeIn > 0 ? String(pipeSizeIn) : "", mixed: false, choices: sizes });
    },
  };
}
