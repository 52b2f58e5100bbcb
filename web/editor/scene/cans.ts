// The cans of the audit in view: each a disc whose left half has the colour of what
// it caught and whose right half that of what was predicted there, as the map has
// them, with its number over it, and beside it the catch and its share of the mean.

import { auditOf, canOrder, canRef, isRead, partsOfCan } from "../audits";
import { type Row, Rows, setText } from "../dom";
import { catchText } from "../fields_cans";
import { find, type Plan, parts, type Ref } from "../model";
import { colourOf, onTarget, shareOf } from "../palette";
import type { AuditCan, AuditView } from "../proofview";
import { speechOf } from "./speech";
import { attr, s, translate } from "./svg";
import { type Shown, thing } from "./thing";

/** The mark, in pixels: a can from above, and its halves. */
export const canMarks = {
  whole: "M0 -10A10 10 0 1 1 -.01 -10",
  left: "M0 -10A10 10 0 0 0 0 10Z",
  right: "M0 -10A10 10 0 0 1 0 10Z",
  middle: "M0 -10V10",
} as const;

/** The audit that is in view, and what was made of it. */
export interface AuditLook {
  readonly audit: string | null;
  readonly view: AuditView | null;
}

interface Item {
  readonly r: Ref;
  readonly number: number;
  readonly shown: Shown;
  readonly told: AuditCan | undefined;
}

export class Cans {
  readonly el = s("g", { class: "cans" });
  readonly #marks: Rows<Item>;
  readonly #words: Rows<Item>;

  constructor() {
    // The figures are no part of the buttons: those say them in their names, in a sentence.
    const [marks, words] = [s("g"), s("g", { "aria-hidden": "true" })];
    this.el.append(marks, words);
    this.#marks = new Rows<Item>(marks, (i) => i.r, canRow);
    this.#words = new Rows<Item>(words, (i) => i.r, wordsRow);
  }

  show(shown: Shown, { audit, view }: AuditLook): void {
    const of = auditOf(shown.plan, audit);
    const told = new Map((view?.id === audit ? (view.cans ?? []) : []).map((c) => [c.id, c]));
    const items = canOrder(of).map((can, i) => ({
      r: canRef(audit ?? "", can),
      number: i + 1,
      shown,
      told: told.get(can),
    }));
    this.#marks.show(items);
    this.#words.show(items);
  }
}

/** A colour of the map for light and dark pages; "" for none. */
function colour(byte: number | null | undefined): string {
  if (byte === null || byte === undefined || !(byte <= 0 || onTarget(byte))) return "";
  const share = byte <= 0 ? 0 : shareOf(byte);
  const [light, dark] = (["light", "dark"] as const).map((t) => `rgb(${colourOf(share, t).join(" ")})`);
  return `light-dark(${light}, ${dark})`;
}

/** A can in one line: "Catch can 7, caught 34 ml, 83 % of the mean, predicted 41 ml, at 12', 4'". */
function canSpeech(p: Plan, r: Ref, told: AuditCan | undefined): string {
  const words = [speechOf(p, r, null)];
  if (told?.percent) words.push(`${told.percent} of the mean`);
  if (told?.predicted) words.push(`predicted ${told.predicted}`);
  if (told?.low) words.push("of the driest quarter");
  return words.join(", ");
}

function canRow({ r }: Item): Row<Item> {
  const halo = s("path", { class: "can-halo", d: canMarks.whole });
  const whole = s("path", { class: "can-mark", d: canMarks.whole });
  const left = s("path", { class: "can-half", d: canMarks.left });
  const right = s("path", { class: "can-half", d: canMarks.right });
  const line = s("path", { class: "can-line", d: canMarks.middle });
  const out = s("path", { class: "can-out", d: "M-8 -8L8 8M8 -8L-8 8" });
  const el = s("g", { role: "button", tabindex: -1, class: "can" });
  el.append(s("g", { class: "fixed" }, halo, whole, left, right, line, out));
  const stale = changes();
  return {
    el,
    update(i) {
      const { shown, told } = i;
      const id = parts(r)[1];
      const it = find(shown.plan, "cans", id);
      if (!it) return;
      const changed = stale(i, it);
      thing(el, r, shown, () => canSpeech(shown.plan, r, told), changed);
      if (!changed) return;
      attr(el, { transform: translate([it.x_ft, it.y_ft]) });
      const read = isRead(auditOf(shown.plan, partsOfCan(id)[0]), it);
      left.style.fill = read ? colour(told?.measured_byte) : "";
      right.style.fill = colour(told?.predicted_byte);
      el.classList.toggle("left-out", it.left_out ?? false);
      el.classList.toggle("low", told?.low ?? false);
      el.classList.toggle("read", read);
    },
  };
}

function wordsRow({ r }: Item): Row<Item> {
  const number = s("text", { class: "can-number", y: -13 });
  const caught = s("text", { class: "can-caught", x: 13, y: 1 });
  const share = s("text", { class: "can-share", x: 13, y: 13 });
  const el = s("g", { class: "can-words" }, s("g", { class: "fixed" }, number, caught, share));
  const stale = changes();
  return {
    el,
    update(i) {
      const { shown, told } = i;
      const id = parts(r)[1];
      const it = find(shown.plan, "cans", id);
      if (!it || !stale(i, it)) return;
      attr(el, { transform: translate([it.x_ft, it.y_ft]) });
      setText(number, String(i.number));
      setText(caught, catchText(shown.plan, id));
      setText(share, told?.percent ?? "");
    },
  };
}

/** Tells whether a can, or what is shown of it, is another than the last time. */
function changes(): (i: Item, it: object) => boolean {
  let before: object | null = null;
  let mark = "";
  return ({ r, number, shown, told }, it) => {
    const { scale } = auditOf(shown.plan, partsOfCan(parts(r)[1])[0]) ?? {};
    const now = `${number} ${shown.plan.show} ${scale} ${JSON.stringify(told ?? null)}`;
    const changed = before !== it || mark !== now;
    before = it;
    mark = now;
    return changed;
  };
}
