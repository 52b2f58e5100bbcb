// What stands above the board for sleeves and wire: what is laid, and how.

import { h } from "../dom";
import type { Drawing } from "../drawing";
import { sleeveSizes } from "../fields_wiring";
import type { Board } from "../state";
import type { Kit } from "../tools/tool";
import { sleeveLoads, sleeveMethods, wireLays } from "../wiringnames";
import { Control } from "./control";
import type { KitGroup } from "./tapekit";

export function wiringKits(board: Board, drawing: Drawing): KitGroup[] {
  const choose = (label: string, key: keyof Kit, words: Readonly<Record<string, string>>) => {
    const control = new Control(label, "choice", "", (v) => {
      drawing.setKit({ [key]: v });
      return null;
    });
    const choices = Object.entries(words).map(([value, l]) => ({ value, label: l }));
    return {
      el: control.el,
      show: () => control.show({ value: String(drawing.kit[key]), mixed: false, choices }),
    };
  };
  const size = new Control("Size", "choice", "", (v) => {
    drawing.setKit({ sleeveSizeIn: Number(v) });
    return null;
  });
  const carries = choose("Carries", "sleeveCarries", sleeveLoads);
  const method = choose("Method", "sleeveMethod", sleeveMethods);
  const lay = choose("Lies", "wireLay", wireLays);
  return [
    {
      tools: ["tool.sleeve"],
      el: h("div", { class: "kit-group" }, carries.el, size.el, method.el),
      show: () => {
        carries.show();
        method.show();
        const now = drawing.kit.sleeveSizeIn;
        size.show({ value: now > 0 ? String(now) : "", mixed: false, choices: sleeveSizes(board.plan, now) });
      },
    },
    { tools: ["tool.wire"], el: h("div", { class: "kit-group" }, lay.el), show: () => lay.show() },
  ];
}
