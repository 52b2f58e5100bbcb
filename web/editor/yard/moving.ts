// Where a thing was found, put in by hand: so much this way and that, or by tapes from
// two fixed corners. Plane geometry of places alone.

import { button, h } from "../dom";
import { lengthText } from "../format";
import { distance, type Point } from "../geometry";
import { parseLength } from "../length";
import type { Spot, System } from "../model";
import { crossingDeg, type Meeting, poorCrossing, twoTapes } from "../taping";
import { type Corner, corners } from "./asbuilt";
import type { Yard } from "./session";
import { column, type Part, pick, remade } from "./ui";

let made = 0;

/** A length typed into a field of its own, kept as it is typed. */
function lengthField(yard: Yard, key: string, label: string, what: string) {
  const id = `yard-length-${++made}`;
  const error = h("p", { class: "error", id: `${id}-error`, hidden: true });
  const input = h("input", {
    id,
    type: "text",
    inputmode: "decimal",
    enterkeyhint: "next",
    autocomplete: "off",
    "aria-describedby": `${id}-error`,
    value: yard.scraps.of(key) ?? "",
    oninput: () => yard.scraps.keep(key, { text: input.value, what, where: location.hash.slice(1) }),
  });
  const unit = yard.plan.show === "metric" ? "m" : "ft";
  const el = h(
    "div",
    { class: "field text" },
    h("label", { for: id }, label, h("span", { class: "hint" }, ` ${unit}`)),
    input,
    error,
  );
  const complain = (sentence: string | null): void => {
    error.textContent = sentence ?? "";
    error.hidden = sentence === null;
    if (sentence === null) input.removeAttribute("aria-invalid");
    else input.setAttribute("aria-invalid", "true");
  };
  /** The length; null when it cannot be read, which is said; 0 where nothing is typed and nothing is needed. */
  const read = (needed: boolean): number | null => {
    if (input.value.trim() === "" && !needed) return 0;
    const v = parseLength(input.value, yard.plan.show);
    complain(v.ok ? null : v.sentence);
    return v.ok ? v.value : null;
  };
  const clear = (): void => {
    input.value = "";
    yard.scraps.drop(key);
    complain(null);
  };
  return { el, input, read, clear, complain };
}

/** Moved by so much, up, down, left and right as the plan lies. */
export function moveBy(
  yard: Yard,
  key: string,
  title: string,
  from: () => Spot | undefined,
  put: (at: Spot) => void,
): Part {
  const up = lengthField(yard, `${key}/up`, "Up on the picture", `${title.toLowerCase()}, up`);
  const right = lengthField(yard, `${key}/right`, "To the right", `${title.toLowerCase()}, to the right`);
  const down = lengthField(yard, `${key}/down`, "Down", `${title.toLowerCase()}, down`);
  const left = lengthField(yard, `${key}/left`, "To the left", `${title.toLowerCase()}, to the left`);
  const all = [up, down, left, right];
  const take = (): void => {
    const [u, d, l, r] = all.map((f) => f.read(false));
    const at = from();
    if (!at || u == null || d == null || l == null || r == null) return;
    if (u + d + l + r === 0) {
      up.complain("Nothing is written here. Write how far it is from where it was drawn, such as 1' 6\".");
      return;
    }
    for (const f of all) f.clear();
    put({ x_ft: at.x_ft + r - l, y_ft: at.y_ft + u - d });
  };
  const el = h(
    "details",
    { class: "yard-all" },
    h("summary", {}, `${title}…`),
    h("div", { class: "yard-fields" }, ...all.map((f) => f.el)),
    button("Move it there", "main yard-big", take),
  );
  if (all.some((f) => f.input.value !== "")) el.open = true;
  return { el, update: () => {} };
}

/**
 * Measured by tapes from two corners of buildings or paving: those next to where it was
 * drawn, so that their letters stay when it is moved.
 */
export function tapes(
  yard: Yard,
  key: string,
  drawn: () => Spot | undefined,
  from: () => Spot | undefined,
  put: (at: Spot) => void,
): Part {
  const spot = (): Point => {
    const s = from();
    return [s?.x_ft ?? 0, s?.y_ft ?? 0];
  };
  const was = drawn();
  const near = corners(yard, [was?.x_ft ?? 0, was?.y_ft ?? 0]);
  const el = h("details", { class: "yard-all" }, h("summary", {}, "Measured by two tapes…"));
  if (near.length < 2) {
    el.append(h("p", {}, "Two corners of a building or of paving are needed on the plan to hook a tape to."));
    return { el, update: () => {} };
  }
  const [first, second] = wellApart(near, spot());
  let [a, b] = [first.name, second.name];
  const one = lengthField(yard, `${key}/tape-a`, "Tape from the first", "first tape");
  const two = lengthField(yard, `${key}/tape-b`, "Tape from the second", "second tape");
  const named = (n: string): Corner => near.find((c) => c.name === n) ?? first;
  const options = () =>
    near.map((c) => ({
      value: c.name,
      label: `Corner ${c.name}, drawn ${lengthText(distance(c.at, spot()), yard.plan.show)} away`,
    }));
  const hint = remade(
    "",
    () => [a, b, spot()],
    () => {
      if (a === b) return [h("p", { class: "error" }, "Choose two different corners.")];
      const deg = crossingDeg(spot(), named(a).at, named(b).at);
      return poorCrossing(deg)
        ? [
            h(
              "p",
              { class: "hint" },
              "These tapes cross too flat to fix the place well. Corners more to the sides are better.",
            ),
          ]
        : [];
    },
  );
  const take = (): void => {
    const [r, s] = [one.read(true), two.read(true)];
    if (r === null || s === null || a === b) return;
    const [p, q] = [named(a).at, named(b).at];
    const met = twoTapes({ from: p, length: r }, { from: q, length: s });
    const show = yard.plan.show;
    if (met.kind !== "meet") {
      two.complain(apartText(met, show));
      return;
    }
    // Of the two places the tapes meet at it is the one next to where it was drawn.
    const at = distance(met.left, spot()) <= distance(met.right, spot()) ? met.left : met.right;
    one.clear();
    two.clear();
    put({ x_ft: at[0], y_ft: at[1] });
  };
  const inner = column(
    "",
    pick(
      "First corner",
      options,
      () => a,
      (v) => {
        a = v;
        hint.update();
      },
    ),
    one.el,
    pick(
      "Second corner",
      options,
      () => b,
      (v) => {
        b = v;
        hint.update();
      },
    ),
    two.el,
    hint,
    button("Put it there", "main yard-big", take),
  );
  el.append(inner.el);
  if (one.input.value !== "" || two.input.value !== "") el.open = true;
  return { el, update: inner.update };
}

/** Why tapes that do not meet give no place. */
function apartText(met: Exclude<Meeting, { kind: "meet" }>, show: System): string {
  if (met.kind === "none") return "These tapes give no place. Check both.";
  const by = lengthText(met.missing, show);
  return met.kind === "short"
    ? `The tapes do not reach each other: ${by} are missing. Check both.`
    : `One tape is so long that the other cannot reach its end, by ${by}. Check both.`;
}

/** The pair of corners whose tapes cross nearest to square. */
function wellApart(near: readonly Corner[], at: Point): [Corner, Corner] {
  let best: [Corner, Corner] = [near[0] as Corner, near[1] as Corner];
  let off = Number.POSITIVE_INFINITY;
  for (const [i, a] of near.entries())
    for (const b of near.slice(i + 1)) {
      const by = Math.abs(crossingDeg(at, a.at, b.at) - 90);
      if (by < off) [best, off] = [[a, b], by];
    }
  return best;
}
