// The plan's own settings: name, units, edge lip and the supply.

import { BAR_A_PSI, LITRES_A_GALLON } from "../conversions";
import { ask, byID, h, setAttr, setText } from "../dom";
import { type Choice, parseNumber } from "../fields";
import { lengthText } from "../format";
import { parseCoordinate, type Read, read, refuse } from "../length";
import type { Plan, Supply, System } from "../model";
import type { Board } from "../state";
import { Control } from "./control";
import { diggingCaution, withLocateDay, withLocateTicket } from "./diggingfields";
import { cancel } from "./findings";
import { windChoices, windFrom, windText, windUnit, withWind, withWindFrom } from "./windfields";

interface Unit {
  name: string;
  per: number;
}
const flowUnit = (s: System): Unit =>
  s === "metric" ? { name: "l/min", per: LITRES_A_GALLON } : { name: "gpm", per: 1 };
const pressureUnit = (s: System): Unit =>
  s === "metric" ? { name: "bar", per: BAR_A_PSI } : { name: "psi", per: 1 };

/** Shows the plan's name and opens its settings. */
export function planSettings(board: Board): { open(field?: string): void } {
  const name = (): void => {
    setText(byID("plan-name"), board.plan.name);
    byID("plan-name").title = board.plan.name;
    document.title = `${board.plan.name} – Evenfall`;
  };
  board.subscribe("plan", name);
  name();
  const open = (field = ""): void => void edit(board, field);
  byID("plan-settings").addEventListener("click", () => open());
  return { open };
}

interface Entry {
  control: Control;
  put(p: Plan, typed: string): Read<Plan>;
}

/** Asks for the settings; the field of that label, if any, is where the caret stands. */
async function edit(board: Board, field: string): Promise<void> {
  const before = board.committed;
  const groups = [general(before), supply(before), digging(before), wind(before), map(before)] as const;
  const entries = groups.flat();
  const first = entries.find((e) => e.control.label === field);
  if (first) setAttr(first.control.input, "autofocus", true);
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  const [own, water, locate, windy, place] = groups.map((g) => g.map((e) => e.control.el));
  const measured = before.supply?.measured
    ? "Measured: the board, the report and the zone list say so."
    : assumed;
  form.append(h("h2", { id: "settings-title" }, "Plan"), h("div", { class: "pairs" }, ...(own ?? [])));
  form.append(fieldset("Supply", measured, water ?? []));
  form.append(fieldset("Before digging", diggingCaution, locate ?? []));
  form.append(fieldset("Windy day", blowing, windy ?? []));
  form.append(fieldset("Place on the map", "Of the plan’s origin, for outlines as GeoJSON.", place ?? []));
  form.append(h("p", { class: "acts" }, h("button", { value: "done", class: "main" }, "Keep"), cancel()));
  let next: Plan = before;
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") === "") return;
    next = before;
    let wrong: Control | null = null;
    for (const { control, put } of entries) {
      const v = put(next, control.text);
      control.complain(v.ok ? null : v.sentence);
      if (v.ok) next = v.value;
      else wrong ??= control;
    }
    if (!wrong) return;
    e.preventDefault();
    wrong.input.focus();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "settings-title" }, form));
  if (answer === "done") void board.commit("Change the plan’s settings", next);
}

const assumed =
  "Assumed until you measure: the board, the report and the zone list say so. Measure the flow together with the pressure left while it runs, with the gauge on a second tap. A bucket alone is flow at no pressure.";

function fieldset(title: string, hint: string, fields: HTMLElement[]): HTMLElement {
  const words = h("p", { class: "hint" }, hint);
  return h("fieldset", {}, h("legend", {}, title), words, h("div", { class: "pairs" }, ...fields));
}

/** A field as wide as the form, for what is told in words. */
function whole(e: Entry): Entry {
  e.control.el.classList.add("whole");
  return e;
}

/** One field; what is not changed is left as it is, to the last digit. */
function entry(
  label: string,
  as: Control["as"],
  hint: string,
  value: string,
  put: Entry["put"],
  choices: readonly Choice[] = [],
): Entry {
  const control = new Control(label, as, hint, () => null);
  control.show({ value, mixed: false, choices });
  return { control, put: (p, typed) => (typed.trim() === value ? read(p) : put(p, typed)) };
}

function general(p: Plan): Entry[] {
  const units = [
    { value: "us", label: "Feet, inches, gallons" },
    { value: "metric", label: "Metres, litres" },
  ];
  return [
    entry("Name", "text", "", p.name, (q, typed) => {
      const name = typed.trim();
      if (name === "" || name.length > 200) return refuse("Type a name of 1 to 200 characters.");
      return read({ ...q, name });
    }),
    entry("Units", "choice", "", p.show, (q, typed) => read({ ...q, show: typed as System }), units),
    lip(p, "Edge lip", "empty: 6 in", "edge_lip_ft"),
    lip(p, "Lip along walls", "empty: 12 in", "wall_lip_ft"),
  ];
}

/** One of the strips along edges that the sums leave out. */
function lip(p: Plan, label: string, hint: string, member: "edge_lip_ft" | "wall_lip_ft"): Entry {
  const now = p.options?.[member];
  return entry(label, "text", hint, now === undefined ? "" : lengthText(now, p.show), (q, typed) => {
    const { [member]: _old, ...rest } = q.options ?? {};
    if (typed.trim() === "") return read({ ...q, options: rest });
    const v = parseCoordinate(typed, p.show);
    if (!v.ok) return v;
    if (v.value < 0 || v.value > 3) return refuse("Type a lip from 0 to 3 ft (0.9 m).");
    return read({ ...q, options: { ...rest, [member]: v.value } });
  });
}

function supply(p: Plan): Entry[] {
  const s = p.supply ?? {};
  const flow = flowUnit(p.show);
  const pressure = pressureUnit(p.show);
  return [
    quantity("Flow to plan on", flow, s.design_flow_gpm, "design_flow_gpm", 0.5, 500),
    quantity("Static pressure", pressure, s.static_psi, "static_psi", 5, 200),
    quantity("Flow measured", flow, s.flow_gpm, "flow_gpm", 0.5, 500),
    quantity("Pressure left at it", pressure, s.residual_psi, "residual_psi", 1, 200),
    whole(
      entry("Measured at", "text", "hour and season", s.measured_at ?? "", (q, typed) =>
        read(withSupply(q, "measured_at", typed.trim() || undefined)),
      ),
    ),
    entry("These figures were measured", "yes", "", s.measured ? "yes" : "", (q, typed) =>
      read(withSupply(q, "measured", typed === "yes" ? true : undefined)),
    ),
    entry(
      "Meter",
      "choice",
      "",
      s.meter_in ? String(s.meter_in) : "",
      (q, typed) => read(withSupply(q, "meter_in", typed ? Number(typed) : undefined)),
      metersWith(s.meter_in),
    ),
    entry("A regulator stands before the connection", "yes", "", s.regulator ? "yes" : "", (q, typed) =>
      read(withSupply(q, "regulator", typed === "yes" ? true : undefined)),
    ),
    whole(
      entry("Backflow device", "text", "such as a pressure vacuum breaker", s.backflow ?? "", (q, typed) =>
        typed.trim().length > 200
          ? refuse("Type a name of at most 200 characters.")
          : read(withSupply(q, "backflow", typed.trim() || undefined)),
      ),
    ),
  ];
}

/** Sizes of meters, in inches, as they are called. */
const meters: readonly Choice[] = [
  { value: "", label: "not known" },
  { value: "0.625", label: "5/8 in (16 mm)" },
  { value: "0.75", label: "3/4 in (19 mm)" },
  { value: "1", label: "1 in (25 mm)" },
  { value: "1.5", label: "1 1/2 in (38 mm)" },
  { value: "2", label: "2 in (51 mm)" },
];

/** The sizes, with one of the plan's own that is not among them. */
const metersWith = (now: number | undefined): readonly Choice[] =>
  now === undefined || meters.some((m) => m.value === String(now))
    ? meters
    : [...meters, { value: String(now), label: `${now} in` }];

function digging(p: Plan): Entry[] {
  return [
    entry("Marks asked for on", "text", "day, as 2026-05-31", p.site?.locate_on ?? "", withLocateDay),
    entry("Ticket", "text", "", p.site?.locate_ticket ?? "", withLocateTicket),
  ];
}

function quantity(
  label: string,
  u: Unit,
  now: number | undefined,
  key: keyof Supply & string,
  least: number,
  most: number,
): Entry {
  const value = now === undefined ? "" : String(Number((now * u.per).toFixed(2)));
  return entry(label, "text", u.name, value, (q, typed) => {
    if (typed.trim() === "") return read(withSupply(q, key, undefined));
    const [lo, hi] = [round(least * u.per), round(most * u.per)];
    const v = parseNumber(typed, u.name, lo, hi);
    return v.ok ? read(withSupply(q, key, v.value / u.per)) : v;
  });
}

const blowing =
  "The wind that “On a windy day” shows the plan in. How far it carries the water is an assumption.";

function wind(p: Plan): Entry[] {
  const u = windUnit(p);
  const usual = p.show === "metric" ? "12.9" : "8";
  return [
    entry("Wind", "text", `${u.name}; empty: ${usual}`, windText(p), withWind),
    entry("Comes from", "choice", "", windFrom(p), withWindFrom, windChoices(p)),
  ];
}

function map(p: Plan): Entry[] {
  return [angle(p, "Latitude", "latitude_deg", 90), angle(p, "Longitude", "longitude_deg", 180)];
}

function angle(p: Plan, label: string, key: "latitude_deg" | "longitude_deg", most: number): Entry {
  const now = p.site?.[key];
  return entry(label, "text", "degrees", now === undefined ? "" : String(now), (q, typed) => {
    const { [key]: _old, ...rest } = q.site ?? {};
    if (typed.trim() === "") return read({ ...q, site: rest });
    const v = parseNumber(typed, "degrees", -most, most);
    return v.ok ? read({ ...q, site: { ...rest, [key]: v.value } }) : v;
  });
}

const round = (n: number): number => Number(n.toPrecision(2));

function withSupply(p: Plan, key: keyof Supply & string, value: unknown): Plan {
  const next: Supply = { ...p.supply };
  if (value === undefined) delete next[key];
  else next[key] = value;
  return { ...p, supply: next };
}
