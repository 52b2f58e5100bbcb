// By tape: places found the way a yard is measured, as corners of an outline or
// a wall, or as things set one by one. Which way of finding, and what the places
// become, is chosen beside the tool and may change between two places.

import { lengthText, placeText } from "../format";
import { directionDeg, distance, middle, type Point } from "../geometry";
import { mends } from "../mend";
import type { Ref } from "../model";
import { namesOf } from "../names";
import { faultOf, faultSentence, LATTICE, openFault, place } from "../shape";
import { tie, tieSaid } from "./standing";
import { along, sidePointed, stationPlaces } from "./tapealong";
import { closedWays, closesExactly, closingText, closingTrouble, sides, walked } from "./tapesides";
import {
  asks,
  closes,
  cornersOf,
  found,
  fresh,
  lastOf,
  levelled,
  madeOf,
  type Out,
  refuse,
  type TapeState,
  type WayOf,
  worded,
} from "./tapestate";
import { picked, tapes } from "./tapetapes";
import type { Aim, Around, Fix, Sketch, SketchLabel, TapeWay, Tool, ToolEvent } from "./tool";

/** Two places, and what was measured between them. */
const tying: WayOf = {
  click(s, aim, a) {
    if (s.second) return { state: s };
    if (!s.first) {
      return { state: { ...s, first: aim.at, why: "" }, say: `From ${placeText(aim.at, a.plan.show)}.` };
    }
    if (distance(s.first, aim.at) <= LATTICE)
      return refuse(s, "A tie needs two places. Choose another.", false);
    const drawn = lengthText(distance(s.first, aim.at), a.plan.show);
    return {
      state: { ...s, second: aim.at, why: "" },
      say: `Drawn ${drawn}. Type what was measured, then Enter.`,
    };
  },
  typed(s, entry, aim, a) {
    if (!s.second) {
      return entry.place
        ? tying.click(s, { ...aim, at: entry.place }, a)
        : refuse(s, "Choose the two places first: click, or type x, y.", true);
    }
    const { measured } = entry.values;
    if (measured === undefined || !s.first) return refuse(s, "Type the length that was measured.", true);
    const [plan, r] = tie(a.plan, s.first, s.second, measured);
    const say = tieSaid(plan, r, s.first, s.second, measured);
    const label = `Tie ${lengthText(measured, a.plan.show)}`;
    return { state: { ...s, first: null, second: null }, commit: { label, plan, select: [r] }, say };
  },
  fields: (s) => (s.second ? ["measured"] : ["place"]),
  back(s) {
    if (s.second) return { state: { ...s, second: null }, say: "Second place taken back." };
    return s.first ? { state: { ...s, first: null }, say: "First place taken back." } : null;
  },
  swap: (s) => ({ state: s, say: "A tie has no sides." }),
  sketch(s, a) {
    const to = s.second ?? s.pointer;
    if (!s.first || !to) return {};
    const text = `drawn ${lengthText(distance(s.first, to), a.plan.show)}`;
    return {
      dots: s.second ? [s.first, s.second] : [s.first],
      guides: [{ a: s.first, b: to }],
      labels: [{ at: middle(s.first, to), text, along: { a: s.first, b: to } }],
    };
  },
  hint(s) {
    if (s.second) return "Type what was measured between the two, then Enter.";
    return s.first ? "Now the second place." : "Click the first of the two places measured between.";
  },
};

const ways: Readonly<Record<TapeWay, WayOf>> = { along, tapes, sides, tie: tying };
const wayOf = (a: Around): WayOf => ways[a.kit.tapeWay];

function click(s: TapeState, aim: Aim, clicks: number, a: Around): Out {
  if (s.mark) return { state: s }; // its box is open
  const first = s.chain[0]?.at;
  const back = first && s.chain.length >= 3 && !s.offered && distance(first, aim.at) <= LATTICE;
  const measuring = a.kit.tapeWay !== "tie" && (a.kit.tapeWay !== "tapes" || s.known.length === 0);
  if (back && closes(a.kit.tapeMakes) && measuring) return make(s, a);
  if (clicks > 1 && lastOf(s) && distance(lastOf(s) as Point, aim.at) <= aim.reach) return make(s, a);
  return wayOf(a).click({ ...s, why: "" }, aim, a);
}

function typed(s: TapeState, e: Extract<ToolEvent, { type: "typed" }>, a: Around): Out {
  const { level } = e.entry.values;
  if (!s.mark) return wayOf(a).typed(s, e.entry, e.aim, a);
  return level === undefined ? refuse(s, "Type the level.", true) : levelled(s, level, a);
}

/** Enter: takes what is offered, shares a misclosure out, or makes what the corners are. */
function finish(s: TapeState, a: Around): Out {
  const taken = s.offered ? wayOf(a).accept?.(s, a) : null;
  if (taken) return taken;
  if (s.closing) return make(s, a, closedWays(s).shared);
  if (s.chain.length === 0) return { state: s, unused: true };
  return make(s, a);
}

function make(s: TapeState, a: Around, corners = cornersOf(s)): Out {
  const least = closes(a.kit.tapeMakes) ? 3 : 2;
  if (corners.length < least) {
    const more = least - corners.length;
    return refuse(s, `This needs ${least} corners. Find ${more === 1 ? "one" : more} more.`, false);
  }
  const made = madeOf(s, corners, a);
  if ("why" in made) {
    const fault = closes(a.kit.tapeMakes) ? faultOf(corners) : openFault(corners);
    return { state: { ...s, fault, why: made.why }, say: made.why };
  }
  // What is measured from stays in hand for the next outline.
  const { base, side, chosen, known, used, pointer } = s;
  return {
    state: { ...fresh, base, side, chosen, known, used, pointer },
    commit: made.step,
    say: `${made.step.label}: done.`,
  };
}

function takeBack(s: TapeState, a: Around): Out {
  if (s.mark) return { state: { ...s, mark: null }, say: "Place dropped." };
  const clean = { ...s, why: "", fault: null, closing: null };
  if (s.offered || s.first || s.second) {
    const out = wayOf(a).back(clean);
    if (out) return out;
  }
  if (s.chain.length > 0) {
    return { state: { ...clean, chain: s.chain.slice(0, -1) }, say: `Corner ${s.chain.length} taken out.` };
  }
  const out = wayOf(a).back(clean);
  if (out) return out;
  if (s.dropped.length > 0) {
    return {
      state: { ...clean, chain: s.dropped, dropped: [] },
      say: `${s.dropped.length} corners taken up again.`,
    };
  }
  return { state: fresh, leave: true };
}

function backOut(s: TapeState): Out {
  if (s.mark) return { state: { ...s, mark: null }, say: "Place dropped." };
  const { base, known, side, chosen, used } = s;
  if (s.offered || s.first || s.second) {
    return { state: { ...s, offered: null, first: null, second: null, why: "" }, say: "Put down." };
  }
  if (s.chain.length > 0) {
    const say = "The corners are dropped. Undo takes them up again.";
    return { state: { ...fresh, base, known, side, chosen, used, dropped: s.chain }, say };
  }
  if (base || known.length > 0) return { state: { ...fresh, dropped: s.dropped }, say: "Base put down." };
  return { state: fresh, leave: true };
}

function book(s: TapeState, rows: Extract<ToolEvent, { type: "book" }>["rows"], a: Around): Out {
  if ("legs" in rows) return walked(s, rows, lastOf(s) ?? [0, 0], a);
  const places = stationPlaces(s, rows);
  if (places.length === 0) return { state: s, say: "Choose the line first, then bring the table in." };
  if (asks(a.kit.tapeMakes)) {
    const say = "Each of these has its own level or words: find them one by one, without the table.";
    return { state: { ...s, why: say }, say };
  }
  let out: Out = { state: s };
  let plan = a.plan; // every place is set in the plan that has those before it
  const select: Ref[] = [];
  for (const at of places) {
    out = found(out.state, { at, tapes: [] }, { ...a, plan });
    plan = out.commit?.plan ?? plan;
    select.push(...(out.commit?.select ?? []));
  }
  const { state } = out;
  const say = `${places.length} places found. ${out.say ?? ""}`.trim();
  if (plan === a.plan) return { state, say };
  return {
    state,
    say,
    commit: { label: `Set ${namesOf(plan, [...new Set(select)])} by tape`, plan, select },
  };
}

/** Along and off, the side goes with the pointer until it is chosen; of two places it is pressed or keyed. */
function pointed(s: TapeState, aim: Aim, a: Around): TapeState {
  const way = a.kit.tapeWay;
  const side = way === "along" ? sidePointed(s, aim, a) : s.side;
  const still = s.pointer && distance(s.pointer, aim.at) === 0;
  return still ? s : { ...s, pointer: aim.at, side };
}

export const tapeTool: Tool<TapeState> = {
  name: "tape",
  start: () => fresh,
  step(s, e, a) {
    switch (e.type) {
      case "hover":
      case "press":
      case "drag":
        return { state: pointed(s, e.aim, a) };
      case "release":
        return click(s, e.aim, e.clicks, a);
      case "place": {
        const at = picked(s);
        const on = at && distance(at, e.aim.at) <= LATTICE;
        const taken = on ? wayOf(a).accept?.(s, a) : null;
        if (taken) return taken;
        const last = lastOf(s);
        const again = last && distance(last, e.aim.at) <= LATTICE && !s.first && a.kit.tapeWay !== "tapes";
        return again ? finish(s, a) : click(s, e.aim, 1, a);
      }
      case "typed":
        return typed(s, e, a);
      case "text":
        return worded(s, e.text.trim(), a);
      case "swap":
        return wayOf(a).swap(s, e.what, a);
      case "book":
        return book(s, e.rows, a);
      case "finish":
        return finish(s, a);
      case "back":
        return takeBack(s, a);
      case "escape":
        return backOut(s);
      default:
        return { state: { ...s, pointer: null } };
    }
  },
  sketch,
  anchor(s, a) {
    const at = a.kit.tapeWay === "sides" ? lastOf(s) : null;
    const before = s.chain.at(-2)?.at;
    return at ? { at, ...(before ? { beforeDeg: directionDeg(before, at) } : {}) } : null;
  },
  rests: (s) => picked(s) ?? lastOf(s),
  own(s) {
    const o = s.offered;
    const offered = !o
      ? []
      : o.kind === "two"
        ? [o.left, o.right]
        : [o.fit.at, ...(o.fit.mirrored ? [o.fit.mirrored] : [])];
    return [...s.chain.map((f) => f.at), ...(s.base ? [s.base.a, s.base.b] : []), ...offered];
  },
  fields(s, a) {
    if (s.mark) return a.kit.tapeMakes === "notes" ? ["text"] : ["level"];
    return wayOf(a).fields(s);
  },
  placeFirst: (s) => s.chain.length === 0 || s.base !== null,
  fixes(s, a): readonly Fix[] {
    if (s.closing) {
      const { shared, asMeasured } = closedWays(s);
      if (closesExactly(s)) return [{ title: "Close it", draft: shared, usual: true }];
      return [
        { title: "Share it out", draft: shared, usual: true },
        { title: "Close it as measured", draft: asMeasured },
      ];
    }
    if (s.fault && closes(a.kit.tapeMakes)) {
      return mends(cornersOf(s)).map((m) => ({ title: m.title, draft: m.outline }));
    }
    return pressed(s, a).map((title) => ({ title, draft: [], usual: title === TAKE }));
  },
  applyFix(s, fix, a) {
    if (fix.title === TAKE) return finish(s, a);
    const what = swaps.get(fix.title);
    if (what) return wayOf(a).swap(s, what, a);
    return make({ ...s, fault: null, why: "" }, a, [...fix.draft]);
  },
  busy: (s) =>
    s.chain.length > 0 ||
    s.dropped.length > 0 ||
    s.known.length > 0 ||
    [s.base, s.first, s.mark, s.offered].some((x) => x !== null),
  // A base line or known places in hand are no loss.
  drawing: (s) => s.chain.length > 0 || s.mark !== null || s.second !== null,
  hint(s, a) {
    if (s.mark)
      return a.kit.tapeMakes === "notes" ? "Type the note, then Enter." : "Type the level, then Enter.";
    return wayOf(a).hint(s, a);
  },
};

const TAKE = "Take this place";
const SIDE = "Other side";
const swaps: ReadonlyMap<string, "side" | "end" | "base"> = new Map([
  [SIDE, "side"],
  ["Other end", "end"],
  ["New base", "base"],
  ["New places", "base"],
]);

/** What can be pressed on the board as well as keyed, as things stand. */
function pressed(s: TapeState, a: Around): string[] {
  if (s.offered) return s.offered.kind === "two" || s.offered.fit.mirrored ? [TAKE, SIDE] : [TAKE];
  if (a.kit.tapeWay === "along" && s.base) return [SIDE, "Other end", "New base"];
  return a.kit.tapeWay === "tapes" && s.known.length > 0 ? ["New places"] : [];
}

function sketch(s: TapeState, a: Around): Sketch {
  const own = wayOf(a).sketch(s, a);
  const line = cornersOf(s);
  const show = a.plan.show;
  const fault = s.fault ?? (line.length > 2 && !s.closing ? openFault(line) : null);
  const labels: SketchLabel[] = line.slice(1).map((c, i) => {
    const [p, q] = [place(line[i] as (typeof line)[number]), place(c)];
    return { at: middle(p, q), text: lengthText(distance(p, q), show), along: { a: p, b: q } };
  });
  const problem = [s.why || own.problem, closingTrouble(s, a)].filter(Boolean).join(" ");
  return {
    ...own,
    line,
    faulty: fault !== null,
    dots: [...line.map(place), ...(own.dots ?? []), ...(s.mark ? [s.mark.at] : [])],
    labels: [...labels, ...(own.labels ?? [])],
    news: [own.news, closingText(s, a)].filter(Boolean).join(" ") || undefined,
    problem: problem || (fault ? faultSentence(fault, placeText(fault.at, show)) : undefined),
  };
}
