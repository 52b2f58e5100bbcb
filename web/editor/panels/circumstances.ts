// The one switch of what map and readings are of, beside the colours of the map,
// with what they rest on under it and a title on the board while it is not the
// drawing.

import { stopped } from "../api";
import { type Command, tooltip } from "../commands";
import { byID, h, setAttr, setText } from "../dom";
import type { Heat } from "../heat";
import type { Board } from "../state";
import { type Circumstance, circumstances, type WhatIf } from "../whatif";

/** Shows the switch and keeps map and title with it. */
export function showCircumstances(
  board: Board,
  heat: Heat,
  whatIf: WhatIf,
  command: (kind: Circumstance) => Command,
): void {
  const kinds = Object.keys(circumstances) as Circumstance[];
  const radios = kinds.map((kind) => {
    const c = command(kind);
    const input = h("input", { type: "radio", name: "circumstance", value: kind, onchange: () => c.run() });
    return {
      kind,
      input,
      el: h("label", { class: "segment", title: tooltip(c) }, input, circumstances[kind]),
    };
  });
  const says = h("p", { class: "says", role: "status" });
  const group = h(
    "div",
    { class: "segments", role: "radiogroup", "aria-label": "Map and readings" },
    ...radios.map((r) => r.el),
  );
  byID("legend").prepend(h("div", { class: "circumstances" }, group, says));
  const title = h("p", { class: "map-title", "aria-hidden": "true", hidden: true }); // the readings say it too
  byID("board").append(title);

  const show = (): void => {
    heat.showInstead(whatIf.shown);
    for (const { kind, input } of radios) input.checked = kind === whatIf.kind;
    setText(says, board.away ? `Not computed. ${stopped}.` : whatIf.says);
    const plain = whatIf.kind === "drawn";
    setText(title, board.away ? `Map not computed. ${stopped}` : whatIf.title);
    title.hidden = plain && !board.away;
    setAttr(title, "data-shown", whatIf.as || "drawn");
    document.documentElement.dataset.shows = whatIf.as || "drawn";
  };
  for (const topic of ["whatif", "away"] as const) board.subscribe(topic, show);
  show();
}
