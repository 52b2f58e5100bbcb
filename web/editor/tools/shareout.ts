// Sharing the misclosure of ties out over the corners selected: shown first,
// then taken in one step.

import { lengthText, placeText } from "../format";
import { find, type Plan, parts, type Ref } from "../model";
import { count, namesOf } from "../names";
import { faultSentence } from "../shape";
import { allThings, ringsOf } from "../things";
import { type Agreement, agreement, movable, sharedPlan } from "../tiefit";
import { brokenRing } from "./grasp";
import type { Around, Fix, Result, Sketch, Tool } from "./tool";

interface Offer {
  readonly plan: Plan;
  readonly how: Agreement;
  /** Why it cannot be taken; empty when it can. */
  readonly why: string;
}

let kept: { plan: Plan; selection: ReadonlySet<Ref>; offer: Offer | null } | null = null;

/** What would be done, worked out once for a plan and a selection. */
function offerOf(a: Around): Offer | null {
  if (kept?.plan === a.plan && kept.selection === a.selection) return kept.offer;
  const can = movable(a.plan, a.selection);
  let offer: Offer | null = null;
  if (!("why" in can)) {
    const plan = sharedPlan(a.plan, can);
    offer = { plan, how: agreement(can), why: broken(a.plan, plan) };
  }
  kept = { plan: a.plan, selection: a.selection, offer };
  return offer;
}

/** The first outline the new corners would break. */
function broken(was: Plan, next: Plan): string {
  for (const r of allThings(next)) {
    const [c, id] = parts(r);
    if (c === "ties" || find(was, c, id) === find(next, c, id)) continue;
    for (const n of ringsOf(next, r).keys()) {
      const b = brokenRing(next, r, n);
      if (b && !brokenRing(was, r, n)) return faultSentence(b.fault, placeText(b.fault.at, next.show));
    }
  }
  return "";
}

function take(a: Around): Result<null> {
  const offer = offerOf(a);
  if (!offer || offer.why)
    return { state: null, say: offer?.why ?? "There is nothing to share out.", leave: true };
  const label = `Share out ties of ${namesOf(a.plan, [...a.selection])}`;
  return { state: null, commit: { label, plan: offer.plan }, say: `${label}: done.`, leave: true };
}

export function offerText({ ties, before, after, farthest }: Agreement, p: Plan): string {
  const say = (ft: number) => lengthText(ft, p.show);
  return `${count(ties, "tie")}: the worst differs by ${say(before)} now and by ${say(after)} afterwards; no corner goes farther than ${say(farthest)}.`;
}

export const shareOutTool: Tool<null> = {
  name: "shareout",
  start: () => null,
  step(_, e, a) {
    switch (e.type) {
      case "finish":
      case "place":
        return take(a);
      case "escape":
      case "back":
        return { state: null, leave: true, say: "Left as it was." };
      default:
        return { state: null };
    }
  },
  sketch(_, a): Sketch {
    const offer = offerOf(a);
    if (!offer) return { problem: "There is nothing to share out: select what may give way, or the ties." };
    return offer.why ? { problem: offer.why } : { plan: offer.plan, news: offerText(offer.how, a.plan) };
  },
  fixes(_, a): readonly Fix[] {
    const offer = offerOf(a);
    return offer && !offer.why ? [{ title: "Share out", draft: [] }] : [];
  },
  applyFix: (_, _fix, a) => take(a),
  aims: () => false,
  busy: () => true,
  hint: () => "Enter shares out as shown; Escape leaves it.",
};
