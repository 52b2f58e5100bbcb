// The mark of a zone beside words of it: the one its heads have on the board.

import { h } from "../dom";
import type { Plan } from "../model";
import { ZONE_COLOURS, zoneShape } from "../scene/marks";
import { s } from "../scene/svg";
import { zonesInOrder } from "../zoning";

/** Empty for a zone the plan does not have. */
export function zoneSign(p: Plan, zone: string): HTMLElement {
  const n = zonesInOrder(p).indexOf(zone);
  if (n < 0) return h("span", { class: "group-mark" });
  const path = s("path", { d: zoneShape(n).d });
  const mark = s("svg", { viewBox: "-14 -14 28 28", width: 20, height: 20, "aria-hidden": "true" }, path);
  return h("span", { class: "group-mark", "data-zone": (n % ZONE_COLOURS) + 1 }, mark);
}
