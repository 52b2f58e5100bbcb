// What two places on the picture are pointed at for, above the board.

import { h } from "../dom";
import type { Drawing } from "../drawing";
import type { PictureDo } from "../tools/tool";
import { Control } from "./control";

const choices: readonly { value: PictureDo; label: string }[] = [
  { value: "scale", label: "Scale by a distance" },
  { value: "check", label: "Check by a second one" },
  { value: "level", label: "Level a line" },
];

export function pictureKit(d: Drawing): { tools: string[]; el: HTMLElement; show(): void } {
  const what = new Control("For", "choice", "", (v) => {
    d.setKit({ pictureDo: v as PictureDo });
    return null;
  });
  const show = (): void => what.show({ value: d.kit.pictureDo, mixed: false, choices });
  return { tools: ["tool.picture"], el: h("div", { class: "kit-group" }, what.el), show };
}
