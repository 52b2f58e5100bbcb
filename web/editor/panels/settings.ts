// The plan's own settings: name, units, edge lip, place and wind. The water is on the Supply page.

import { ask, byID, h, setAttr, setText } from "../dom";
import { type Choice, parseNumber } from "../fields";
import { lengthText } from "../format";
import { parseCoordinate, type Read, read, refuse } from "../length";
import type { Plan, System } from "../model";
import type { Board } from "../state";
import { Control } from "./control";
import {
  diggingCaution,
  permitCaution,
  permitFields,
  withLocateDay,
  withLocateTicket,
  withPermitField,
} from "./diggingfields";
import { cancel } from "./findings";
import { showSupply } from "./supply";
import { windChoices, windFrom, windText, windUnit, withWind, withWindFrom } from "./windfields";

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
  const groups = [general(before), digging(before), permits(before), wind(before), map(before)] as const;
  const entries = groups.flat();
  const first = entries.find((e) => e.control.label === field);
  if (first) setAttr(first.control.input, "autofocus", true);
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  const [own, locate, papers, windy, place] = groups.map((g) => g.map((e) => e.control.el));
  form.append(h("h2", { id: "settings-title" }, "Plan"), h("div", { class: "pairs" }, ...(own ?? [])));
  const keep = h("button", { value: "done", class: "main" }, "Keep");
  let thenSupply = false;
  const goOn = (): void => {
    thenSupply = true;
    form.requestSubmit(keep);
  };
  const supply = h("button", { type: "button", class: "plain", onclick: goOn }, "Water supply page");
  form.append(
    h("p", { class: "hint" }, "Pressure, flow, meter and backflow device are on the ", supply, "."),
  );
  form.append(fieldset("Before digging", diggingCaution, locate ?? []));
  form.append(fieldset("Permit and licence", permitCaution, papers ?? []));
  form.append(fieldset("Windy day", blowing, windy ?? []));
  form.append(
    fieldset("Place on the map", "Of the plan’s origin, for what is saved as GeoJSON.", place ?? []),
  );
  form.append(h("p", { class: "acts" }, keep, cancel()));
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
    thenSupply = false;
    wrong.input.focus();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "settings-title" }, form));
  if (answer !== "done") return;
  void board.commit("Change the plan’s settings", next);
  if (thenSupply) showSupply();
}

function fieldset(title: string, hint: string, fields: HTMLElement[]): HTMLElement {
  const words = h("p", { class: "hint" }, hint);
  return h("fieldset", {}, h("legend", {}, title), words, h("div", { class: "pairs" }, ...fields));
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

function digging(p: Plan): Entry[] {
  return [
    entry("Marks asked for on", "text", "day, as 2026-05-31", p.site?.locate_on ?? "", withLocateDay),
    entry("Ticket", "text", "", p.site?.locate_ticket ?? "", withLocateTicket),
  ];
}

function permits(p: Plan): Entry[] {
  return permitFields.map((f) =>
    entry(f.label, "text", f.hint, p.site?.[f.key] ?? "", (q, typed) => withPermitField(q, f, typed)),
  );
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
