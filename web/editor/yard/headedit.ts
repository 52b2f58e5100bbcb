// A head that is otherwise than drawn: the plan follows, one ordinary step a change.

import { nozzleChoices, nozzles, ownThrow } from "../catalog";
import { angleText, lengthText } from "../format";
import { normDeg } from "../geometry";
import { arcFor, setNozzle } from "../heads";
import { parseAngle, parseLength, read } from "../length";
import { find, type Head, put } from "../model";
import { fixedArc, headAt } from "../pattern";
import { headDots, picture } from "./map";
import type { Measure } from "./measures";
import { headName } from "./nozzles";
import type { Yard } from "./session";
import { choose, column, figure, line, type Part, pick, remade } from "./ui";

const angle: Measure = {
  unit: () => "°",
  read: (t) => (t.trim() === "" ? read(undefined) : parseAngle(t)),
  text: (v) => (v === undefined ? "" : angleText(v)),
};

const long: Measure = {
  unit: (show) => (show === "metric" ? "m" : "ft"),
  read: (t, show) => (t.trim() === "" ? read(undefined) : parseLength(t, show)),
  text: (v, show) => (v === undefined ? "" : lengthText(v, show)),
};

/** By how much an edge of an arc is turned with one press, in degrees (chosen: what a hand turns without thinking). */
const NUDGE_DEG = 5;

export function headEdit(yard: Yard, id: string): Part {
  const head = () => find(yard.plan, "heads", id);
  const nozzle = () => find(yard.plan, "nozzles", head()?.nozzle ?? "");
  const name = () => headName(yard.plan, id);
  const set = (what: string, change: (x: Head) => Head): void => {
    const now = head();
    if (now) yard.step(`${what} of ${name().toLowerCase()}`, put(yard.plan, "heads", id, change(now)));
  };
  const turned = (by: number): void =>
    set("Left edge", (x) => ({ ...x, start_deg: normDeg((x.start_deg ?? 0) + by) }));
  const arc = figure(yard, angle, {
    key: `head/${id}/arc`,
    label: "Arc",
    what: `arc of ${name().toLowerCase()}`,
    get: () => head()?.sweep_deg,
    set: (v) => {
      const n = nozzle();
      if (n && v !== undefined)
        set("Arc", (x) => ({ ...x, sweep_deg: arcFor(n, Math.abs(v)) ?? x.sweep_deg }));
    },
  });
  const reach = figure(yard, long, {
    key: `head/${id}/throw`,
    label: "Throw",
    what: `throw of ${name().toLowerCase()}`,
    get: () => head()?.throw_ft ?? (nozzle() && ownThrow(nozzle()!)),
    set: (v) => {
      const n = nozzle();
      // A throw that is the nozzle's own is not turned down: nothing is said then.
      const full = n !== undefined && v !== undefined && v >= ownThrow(n) - 1e-9;
      set("Throw", ({ throw_ft: _was, ...rest }) =>
        v === undefined || full ? rest : { ...rest, throw_ft: v },
      );
    },
  });
  const part = column(
    "yard-head-one",
    line("yard-says", () => "What you set here changes the plan: map, water and parts follow."),
    line("yard-title", name, "h2"),
    pick(
      "Nozzle",
      () => nozzleChoices(nozzles(yard.plan, yard.board.catalog), yard.plan.show),
      () => head()?.nozzle ?? "",
      (v) =>
        yard.step(`Nozzle of ${name().toLowerCase()}`, setNozzle(yard.plan, yard.board.catalog, [id], v)),
    ),
    column("yard-fields", arc, reach),
    choose(
      "Turn its arc",
      [
        { value: "left", label: `↺ ${NUDGE_DEG}°`, name: `${NUDGE_DEG}° anticlockwise` },
        { value: "right", label: `↻ ${NUDGE_DEG}°`, name: `${NUDGE_DEG}° clockwise` },
        { value: "left45", label: "↺ 45°", name: "45° anticlockwise" },
        { value: "right45", label: "↻ 45°", name: "45° clockwise" },
      ],
      () => "",
      (v) => turned((v.startsWith("left") ? 1 : -1) * (v.endsWith("45") ? 45 : NUDGE_DEG)),
    ),
    remade(
      "yard-picture",
      () => [head(), yard.plan.nozzles],
      () => {
        const x = head();
        if (!x) return [];
        const svg = picture(yard.plan, {
          title: `${name()} as it is set: its arc begins at ${angleText(x.start_deg ?? 0)} and is ${angleText(x.sweep_deg ?? 360)} wide`,
          dots: headDots(yard.plan, id, () => false),
          head: id,
          around: [headAt(x)],
          margin: (x.throw_ft ?? 20) + 6,
        });
        return svg ? [svg as unknown as Node] : [];
      },
    ),
  );
  const update = (): void => {
    part.update();
    const n = nozzle();
    arc.el.hidden = n === undefined || fixedArc(n) || n.strip !== undefined;
  };
  update();
  return { el: part.el, update };
}
