// Bringing outlines in from a map: the server turns longitude and latitude into
// feet, the user says what each shape is, and they become a new plan or one step
// of the plan on the board.

import { type Placed, type Shape, type Shapes, server } from "../api";
import { ask, h, setText } from "../dom";
import { type Area, type Kind, newID, type Plan, put, type System } from "../model";
import { count, kindNames } from "../names";
import type { Board } from "../state";
import { cancel } from "./findings";

export interface Made {
  id?: string;
  /** Why nothing was made; null when there is nothing to say. */
  sentence: string | null;
}

/** What a shape can become: a kind of area, the property line, or nothing. */
type Becomes = Kind | "lot" | "skip";

const largest = 20 * 1024 * 1024;

/** Makes a new plan of the outlines of a file. */
export async function importOutlines(file: File): Promise<Made> {
  const found = await read(file);
  if (typeof found === "string") return { sentence: found };
  const chosen = await chooseForNew(file, found);
  if (!chosen) return { sentence: null };
  const made = await server.create(chosen.name, chosen.show, chosen);
  return made.ok ? { id: made.value.id, sentence: null } : { sentence: made.error };
}

/** Adds the outlines of a file to the plan on the board, as one step. Answers with what went wrong, if anything. */
export async function bringOutlines(board: Board, file: File): Promise<string | null> {
  const found = await read(file, board.plan.show, placeOf(board.plan));
  if (typeof found === "string") return found;
  const becomes = await choose(file.name, found, [], "Bring them in");
  if (!becomes) return null;
  const next = withShapes(board.plan, found, becomes);
  const verdict = await board.commit(`Bring in ${count(taken(becomes), "outline")}`, next);
  return verdict.saved ? null : verdict.failure.error;
}

/** Where the plan lies on the earth; undefined when that is not known. */
function placeOf({ site }: Plan): Placed | undefined {
  const { latitude_deg: lat, longitude_deg: lon, north_deg: north = 0 } = site ?? {};
  return lat === undefined || lon === undefined ? undefined : { lat, lon, north };
}

const taken = (becomes: readonly Becomes[]): number => becomes.filter((b) => b !== "skip").length;

/** The shapes of a file, or the sentence that says why there are none. */
async function read(file: File, show?: System, at?: Placed): Promise<Shapes | string> {
  if (file.size > largest) {
    return `${file.name} is larger than 20 MB. Save only the property and what stands on it.`;
  }
  const answer = await server.readOutlines(file, show, at);
  if (!answer.ok) return answer.error;
  if (answer.value.shapes.length > 0) return answer.value;
  return `${file.name} holds no closed shape. Choose a file with polygons.`;
}

async function chooseForNew(file: File, found: Shapes): Promise<Plan | null> {
  const name = h("input", {
    type: "text",
    id: "outlines-name",
    value: file.name.replace(/\.\w+$/, ""),
    maxlength: 200,
  });
  const show = h(
    "select",
    { id: "outlines-show" },
    h("option", { value: "us" }, "Feet, inches, gallons"),
    h("option", { value: "metric" }, "Metres, litres"),
  );
  const fields = [
    h("div", { class: "field" }, h("label", { for: "outlines-name" }, "Name of the plan"), name),
    h("div", { class: "field" }, h("label", { for: "outlines-show" }, "Units"), show),
  ];
  const rows = found.shapes.map(row);
  show.addEventListener("change", () => void resize(file, show.value as System, rows));
  const becomes = await choose(file.name, found, fields, "Make the plan", rows);
  return becomes && planOf(name.value.trim() || "Outlines", show.value as System, found, becomes);
}

/** Says the sizes again in other units: they are there to be checked. */
async function resize(file: File, show: System, rows: readonly ShapeRow[]): Promise<void> {
  const again = await read(file, show);
  if (typeof again === "string") return;
  for (const [i, s] of again.shapes.entries()) rows[i]?.resize(s);
}

/** Asks what each shape is; null when it is called off. */
async function choose(
  fileName: string,
  found: Shapes,
  fields: readonly HTMLElement[],
  doing: string,
  rows: readonly ShapeRow[] = found.shapes.map(row),
): Promise<Becomes[] | null> {
  const head = ["Shape", "Size", "Area", "What it is"].map((t) => h("th", { scope: "col" }, t));
  const form = h("form", { method: "dialog", class: "form" });
  form.append(
    h("h2", { id: "outlines-title" }, "What is each shape?"),
    h(
      "p",
      {},
      `${count(found.shapes.length, "shape")} in ${fileName}. Check that the sizes look right before you go on.`,
    ),
    ...fields,
    h(
      "div",
      { class: "scroll" },
      h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...rows.map((r) => r.el))),
    ),
    leftOut(found.left_out ?? []),
    h("p", { class: "acts" }, h("button", { value: "make", class: "main" }, doing), cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "outlines-title" }, form));
  return answer === "make" ? rows.map((r) => r.select.value as Becomes) : null;
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

interface ShapeRow {
  readonly el: HTMLElement;
  readonly select: HTMLSelectElement;
  resize(s: Shape): void;
}

function row(s: Shape, i: number): ShapeRow {
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
  const [size, area] = [h("td", {}, s.size), h("td", {}, s.area)];
  const el = h("tr", {}, h("th", { scope: "row" }, name), size, area, h("td", {}, select));
  return {
    el,
    select,
    resize: (now) => {
      setText(size, now.size);
      setText(area, now.area);
    },
  };
}

/** A plan of the shapes, each as what it was said to be. */
export function planOf(name: string, show: System, found: Shapes, becomes: readonly Becomes[]): Plan {
  return withShapes({ format: "evenfall-plan/1", name, show }, found, becomes);
}

/** A plan with the shapes added. It lies where they do, unless it had a place. */
export function withShapes(plan: Plan, found: Shapes, becomes: readonly Becomes[]): Plan {
  const { lat, lon } = found.origin;
  let next: Plan = placeOf(plan)
    ? plan
    : { ...plan, site: { ...plan.site, latitude_deg: lat, longitude_deg: lon } };
  found.shapes.forEach((s, i) => {
    const what = becomes[i] ?? "skip";
    if (what === "skip") return;
    if (what === "lot") {
      next = { ...next, site: { ...next.site, lot: s.outline } };
      return;
    }
    const area: Area = {
      name: s.name || kindNames[what],
      kind: what,
      outline: s.outline,
      status: "existing",
    };
    if (s.holes && s.holes.length > 0) area.holes = s.holes;
    next = put(next, "areas", newID(next, "areas"), area);
  });
  return next;
}
