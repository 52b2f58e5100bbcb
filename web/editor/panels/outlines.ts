// Bringing outlines in from a map: the server turns longitude and latitude into
// feet, the user says what each shape is, and a plan is made of them.

import { type Shape, type Shapes, server } from "../api";
import { ask, h } from "../dom";
import { type Area, type Kind, newID, type Plan, put, type System } from "../model";
import { count, kindNames } from "../names";
import { cancel } from "./findings";

export interface Made {
  id?: string;
  /** Why nothing was made; null when there is nothing to say. */
  sentence: string | null;
}

/** What a shape can become: a kind of area, the property line, or nothing. */
type Becomes = Kind | "lot" | "skip";

const largest = 20 * 1024 * 1024;

export async function importOutlines(file: File): Promise<Made> {
  if (file.size > largest) {
    return { sentence: `${file.name} is larger than 20 MB. Save only the property and what stands on it.` };
  }
  const answer = await server.readOutlines(file);
  if (!answer.ok) return { sentence: answer.error };
  const { shapes } = answer.value;
  if (shapes.length === 0)
    return { sentence: `${file.name} holds no closed shape. Choose a file with polygons.` };
  const chosen = await choose(file.name, answer.value);
  if (!chosen) return { sentence: null };
  const made = await server.create(chosen.name, chosen.show, chosen);
  return made.ok ? { id: made.value.id, sentence: null } : { sentence: made.error };
}

async function choose(fileName: string, found: Shapes): Promise<Plan | null> {
  const name = h("input", {
    type: "text",
    id: "outlines-name",
    value: fileName.replace(/\.\w+$/, ""),
    maxlength: 200,
  });
  const show = h(
    "select",
    { id: "outlines-show" },
    h("option", { value: "us" }, "Feet, inches, gallons"),
    h("option", { value: "metric" }, "Metres, litres"),
  );
  const rows = found.shapes.map((s, i) => row(s, i));
  const head = ["Shape", "Size", "Area", "What it is"].map((t) => h("th", { scope: "col" }, t));
  const form = h("form", { method: "dialog", class: "form" });
  form.append(
    h("h2", { id: "outlines-title" }, "What is each shape?"),
    h(
      "p",
      {},
      `${count(found.shapes.length, "shape")} in ${fileName}. Check that the sizes look right before you go on.`,
    ),
    h("div", { class: "field" }, h("label", { for: "outlines-name" }, "Name of the plan"), name),
    h("div", { class: "field" }, h("label", { for: "outlines-show" }, "Units"), show),
    h(
      "div",
      { class: "scroll" },
      h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...rows.map((r) => r.el))),
    ),
    leftOut(found.left_out ?? []),
    h("p", { class: "acts" }, h("button", { value: "make", class: "main" }, "Make the plan"), cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "outlines-title" }, form));
  if (answer !== "make") return null;
  const title = name.value.trim() || "Outlines";
  return planOf(
    title,
    show.value as System,
    found,
    rows.map((r) => r.select.value as Becomes),
  );
}

function leftOut(sentences: readonly string[]): HTMLElement {
  if (sentences.length === 0) return h("div", { hidden: true });
  return h(
    "div",
    {},
    h("p", {}, "Passed over:"),
    h("ul", { class: "hint" }, ...sentences.map((t) => h("li", {}, t))),
  );
}

function row(s: Shape, i: number): { el: HTMLElement; select: HTMLSelectElement } {
  const kinds: [Becomes, string][] = [
    ["skip", "Leave out"],
    ["lot", "Property line"],
    ...(Object.entries(kindNames) as [Kind, string][]),
  ];
  const name = s.name || `Shape ${i + 1}`;
  const select = h(
    "select",
    { "aria-label": `What ${name} is` },
    ...kinds.map(([value, label]) => h("option", { value }, label)),
  );
  select.value = kinds.some(([k]) => k === s.kind_guess) ? s.kind_guess : "skip";
  const el = h(
    "tr",
    {},
    h("th", { scope: "row" }, name),
    h("td", {}, s.size),
    h("td", {}, s.area),
    h("td", {}, select),
  );
  return { el, select };
}

/** A plan of the shapes, each as what it was said to be. */
export function planOf(name: string, show: System, found: Shapes, becomes: readonly Becomes[]): Plan {
  const { lat, lon } = found.origin;
  let plan: Plan = { format: "evenfall-plan/1", name, show, site: { latitude_deg: lat, longitude_deg: lon } };
  found.shapes.forEach((s, i) => {
    const what = becomes[i] ?? "skip";
    if (what === "skip") return;
    if (what === "lot") {
      plan = { ...plan, site: { ...plan.site, lot: s.outline } };
      return;
    }
    const area: Area = {
      name: s.name || kindNames[what],
      kind: what,
      outline: s.outline,
      status: "existing",
    };
    if (s.holes && s.holes.length > 0) area.holes = s.holes;
    plan = put(plan, "areas", newID(plan, "areas"), area);
  });
  return plan;
}
