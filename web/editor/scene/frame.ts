// The edge of the picture under the drawing, as a thing of the scene: seen while
// the picture is selected or can be moved. The picture itself lies under the map.

import { type Row, Rows } from "../dom";
import { lengthText } from "../format";
import type { Plan, Underlay } from "../model";
import { sizeOf } from "../picture";
import { PICTURE, ringsOf } from "../things";
import { attr, outlinePath, s } from "./svg";
import { type Shown, thing } from "./thing";

export class Frame {
  readonly el = s("g", { class: "underlay" });
  readonly #row = new Rows<Shown>(this.el, () => PICTURE, frameRow);

  show(shown: Shown): void {
    this.#row.show(shown.plan.underlay ? [shown] : []);
  }
}

function frameRow(): Row<Shown> {
  const edge = s("path", { class: "picture-edge edge" });
  const el = s("g", { role: "button", tabindex: -1, class: "picture" }, edge);
  let before: Underlay | undefined;
  return {
    el,
    update(shown) {
      const u = shown.plan.underlay;
      const changed = before !== u;
      thing(el, PICTURE, shown, () => pictureSpeech(shown.plan), changed);
      if (!changed) return;
      before = u;
      attr(edge, { d: outlinePath(ringsOf(shown.plan, PICTURE)[0] ?? [], false) });
      el.classList.toggle("locked", u?.locked ?? false);
    },
  };
}

/** The picture in one line: "The picture, 164' 0\" by 123' 0\", locked". */
function pictureSpeech(p: Plan): string {
  const u = p.underlay;
  const size = u && sizeOf(u);
  const said = ["The picture"];
  if (size) said.push(`${lengthText(size[0], p.show)} by ${lengthText(size[1], p.show)}`);
  if (!u?.scaled_by) said.push("not scaled yet");
  if (u?.locked) said.push("locked");
  return said.join(", ");
}
