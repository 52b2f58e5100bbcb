// The plan's own settings: name, units, edge lip and the supply.

import { ask, byID, h, setText } from "../dom";
import { parseNumber } from "../fields";
import { lengthText } from "../format";
import { parseCoordinate, type Read, read, refuse } from "../length";
import type { Plan, Supply, System } from "../model";
import type { Board } from "../state";
import { Control } from "./control";
import { cancel } from "./findings";

/** Litres in a United States gallon, and bar in a pound per square inch. */
const litres = 3.785411784;
const barPerPSI = 0.0689475729;

interface Unit {
  name: string;
  per: number;
}
const flowUnit = (s: System): Unit =>
  s === "metric" ? { name: "l/min", per: litres } : { name: "gpm", per: 1 };
const pressureUnit = (s: System): Unit =>
  s === "metric" ? { name: "bar", per: barPerPSI } : { name: "psi", per: 1 };

/** Shows the plan's name and opens its settings. */
export function planSettings(board: Board): { open(): void } {
  const name = (): void => {
    setText(byID("plan-name"), board.plan.name);
    document.title = `${board.plan.name} – Evenfall`;
  };
  board.subscribe("plan", name);
  name();
  const open = (): void => void edit(board);
  byID("plan-settings").addEventListener("click", open);
  return { open };
}

interface Entry {
  control: Control;
  put(p: Plan, typed: string): Read<Plan>;
}

async function edit(board: Board): Promise<void> {
  const before = board.committed;
  const entries = [...general(before), ...supply(before)];
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  form.append(h("h2", { id: "settings-title" }, "Plan"));
  form.append(...general_(entries.slice(0, 3)), ...supply_(entries.slice(3), before.supply));
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

const general_ = (list: Entry[]): HTMLElement[] => list.map((e) => e.control.el);

function supply_(list: Entry[], s: Supply | undefined): HTMLElement[] {
  const words = s?.measured
    ? "Measured. Every list says so."
    : "Assumed until you measure: every list says so. A gauge on a hose tap and a bucket are enough.";
  return [
    h(
      "fieldset",
      {},
      h("legend", {}, "Supply"),
      h("p", { class: "hint" }, words),
      ...list.map((e) => e.control.el),
    ),
  ];
}

function entry(
  label: string,
  as: Control["as"],
  hint: string,
  value: string,
  put: Entry["put"],
  choices: Control["show"] extends (s: infer S) => void
    ? S extends { choices: infer C }
      ? C
      : never
    : never = [],
): Entry {
  const control = new Control(label, as, hint, () => null);
  control.show({ value, mixed: false, choices });
  return { control, put };
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
    lip(p, "Edge lip", "left out of the sums; empty: 6 in", "edge_lip_ft"),
    lip(p, "Lip along walls", "at buildings, walls, fences; empty: 12 in", "wall_lip_ft"),
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
    entry("Measured at", "text", "hour and season", s.measured_at ?? "", (q, typed) =>
      read(withSupply(q, "measured_at", typed.trim() || undefined)),
    ),
    entry("These figures were measured", "yes", "", s.measured ? "yes" : "", (q, typed) =>
      read(withSupply(q, "measured", typed === "yes" ? true : undefined)),
    ),
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
  return entry(label, "text", `${u.name}; empty: assumed`, value, (q, typed) => {
    if (typed.trim() === value) return read(q);
    if (typed.trim() === "") return read(withSupply(q, key, undefined));
    const [lo, hi] = [round(least * u.per), round(most * u.per)];
    const v = parseNumber(typed, u.name, lo, hi);
    return v.ok ? read(withSupply(q, key, v.value / u.per)) : v;
  });
}

const round = (n: number): number => Number(n.toPrecision(2));

function withSupply(p: Plan, key: keyof Supply & string, value: unknown): Plan {
  const next: Supply = { ...p.supply };
  if (value === undefined) delete next[key];
  else next[key] = value;
  return { ...p, supply: next };
}
