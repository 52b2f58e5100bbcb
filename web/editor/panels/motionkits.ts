// What Mirror and Turn are done with, above the board: the line or the angle
// typed, the centre, and whether the originals stay.

import { h, setAttr } from "../dom";
import type { Drawing } from "../drawing";
import { parseEntry } from "../entry";
import { parseAngle } from "../length";
import { parseAxis } from "../mirroring";
import { middleOfAll } from "../turning";
import { Control } from "./control";

/** One tool's controls: shown while one of its commands is on. */
export interface MotionKit {
  readonly tools: readonly string[];
  readonly el: HTMLElement;
  show(): void;
}

export const motionKits = (d: Drawing): MotionKit[] => [mirrorKit(d), turnKit(d)];

/** A field whose value shows on the board as it is typed, and is taken by Enter. */
function typed(d: Drawing, label: string, empty: string, take: (typed: string) => string | null): Control {
  const control = new Control(label, "text", "", (t) => (t.trim() === "" ? null : take(t)), empty);
  (control.input as HTMLInputElement).placeholder = empty;
  control.el.classList.add("typed");
  control.input.addEventListener("input", () => {
    if (control.text.trim() !== "" && take(control.text) === null) control.complain(null);
  });
  control.input.addEventListener("keydown", (e) => {
    if (
      (e as KeyboardEvent).key !== "Enter" ||
      control.text.trim() === "" ||
      control.input.matches("[aria-invalid]")
    )
      return;
    e.preventDefault();
    d.tell({ type: "finish" });
    control.input.value = "";
    d.focus();
  });
  return control;
}

function keeper(d: Drawing): Control {
  return new Control("Keep originals", "yes", "", (v) => {
    d.setKit({ keep: v === "yes" });
    return null;
  });
}

const showKeeper = (d: Drawing, c: Control): void =>
  c.show({ value: d.kit.keep ? "yes" : "", mixed: false, choices: [] });

function mirrorKit(d: Drawing): MotionKit {
  const middle = () => middleOfAll(d.board.committed, d.board.selection);
  const keep = keeper(d);
  const line = typed(d, "Line", "x 20, y 12 or 45°", (t) => {
    const at = middle();
    const axis = at ? parseAxis(t, d.board.plan.show, at) : null;
    if (!axis) return "Select what is to be mirrored first.";
    if (!axis.ok) return axis.sentence;
    d.tell({ type: "axis", axis: axis.value, now: false });
    return null;
  });
  const through = (label: string, deg: number) => {
    const onclick = (): void => {
      const at = middle();
      if (at) d.tell({ type: "axis", axis: { at, deg }, now: true });
      d.focus();
    };
    return h(
      "button",
      {
        type: "button",
        class: "small",
        onclick,
        title: `Mirrors in the ${label.toLowerCase()} line through the middle of what is selected.`,
      },
      `${label} line`,
    );
  };
  return {
    tools: ["edit.mirror"],
    el: h("div", { class: "kit-group" }, line.el, through("Upright", 90), through("Level", 0), keep.el),
    show: () => showKeeper(d, keep),
  };
}

function turnKit(d: Drawing): MotionKit {
  const keep = keeper(d);
  const angle = typed(d, "Angle", "90 or -15", (t) => {
    const deg = parseAngle(t);
    if (!deg.ok) return deg.sentence;
    d.tell({ type: "turn", deg: deg.value });
    return null;
  });
  const centre = new Control(
    "Centre x, y",
    "text",
    "",
    (t) => {
      if (t.trim() === "") return null;
      const e = parseEntry([t], { fields: ["place"], system: d.board.plan.show, placeFirst: true });
      if (!e.ok) return e.sentence;
      if (e.value.place) d.tell({ type: "begin", at: e.value.place });
      return null;
    },
    "the middle",
  );
  (centre.input as HTMLInputElement).placeholder = "the middle";
  const lay = h("button", { type: "button", class: "small" }, "Lay along an edge");
  lay.addEventListener("click", () => {
    d.setKit({ layAlong: !d.kit.layAlong });
    d.focus();
    d.board.announce(d.tool.hint(d.around));
  });
  return {
    tools: ["edit.turn"],
    el: h("div", { class: "kit-group" }, angle.el, centre.el, lay, keep.el),
    show: () => {
      showKeeper(d, keep);
      setAttr(lay, "aria-pressed", String(d.kit.layAlong));
    },
  };
}
