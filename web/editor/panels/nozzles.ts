// Bringing in a nozzle table of the user's own: read by the server, shown
// before anything is added, and added as one step or not at all.

import { type NozzleEntry, type NozzlePreview, type RowError, server } from "../api";
import { ask, byID, h } from "../dom";
import { type Nozzle, type Plan, put } from "../model";
import { count } from "../names";
import type { Board } from "../state";
import { cancel } from "./findings";

const largest = 20 * 1024 * 1024;

export function nozzleImport(board: Board): void {
  byID("nozzles-import").addEventListener("click", () => void bring(board));
}

async function bring(board: Board): Promise<void> {
  const file = h("input", { type: "file", id: "nozzle-file", accept: ".csv,text/csv" });
  const found = h("div", { role: "status" });
  const add = h("button", { value: "add", class: "main", disabled: true }, "Add to this plan");
  let rows: NozzleEntry[] = [];
  file.addEventListener("change", async () => {
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    add.disabled = true;
    const preview = await read(chosen);
    rows = typeof preview === "string" || preview.errors.length > 0 ? [] : preview.rows;
    found.replaceChildren(
      ...(typeof preview === "string" ? [h("p", { class: "error" }, preview)] : shown(preview)),
    );
    add.disabled = rows.length === 0;
  });
  const form = h("form", { method: "dialog", class: "form" });
  form.append(
    h("h2", { id: "nozzle-title" }, "Bring in a nozzle table"),
    h(
      "p",
      {},
      "A CSV file with one row for each nozzle and pressure. Nothing is added until every row can be read.",
    ),
    columnsNeeded(),
    h("div", { class: "field" }, h("label", { for: "nozzle-file" }, "CSV file"), file),
    found,
    h("p", { class: "acts" }, add, cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "nozzle-title" }, form));
  if (answer !== "add" || rows.length === 0) return;
  void board.commit(`Add ${count(rows.length, "nozzle")} from a table`, withRows(board.committed, rows));
  board.show({
    kind: "hint",
    sentence: `${count(rows.length, "nozzle")} added to the plan: choose them in any Nozzle list.`,
  });
}

async function read(file: File): Promise<NozzlePreview | string> {
  if (file.size > largest) return `${file.name} is larger than 20 MB. Save only the nozzle table as CSV.`;
  const answer = await server.previewNozzles(file);
  if (!answer.ok) return answer.error;
  return { rows: answer.value.rows ?? [], errors: answer.value.errors ?? [] };
}

function shown({ rows, errors }: NozzlePreview): Node[] {
  if (errors.length > 0) {
    const lines = errors.map((e) => h("li", {}, h("b", {}, where(e)), e.sentence));
    return [
      h(
        "p",
        { class: "error" },
        `${count(errors.length, "cell")} cannot be read, so nothing can be added yet. Mend the file and choose it again.`,
      ),
      h("ul", { class: "scroll" }, ...lines),
    ];
  }
  const body = rows.map((n) => {
    const [lo, hi] = [n.rows[0], n.rows.at(-1)];
    const pressures =
      lo && hi && lo !== hi ? `${lo.pressure_psi}–${hi.pressure_psi} psi` : `${lo?.pressure_psi ?? ""} psi`;
    return h(
      "tr",
      {},
      h("th", { scope: "row" }, n.name),
      h("td", {}, n.family),
      h("td", {}, pressures),
      h("td", {}, String(n.rows.length)),
    );
  });
  const head = ["Nozzle", "Family", "Pressures", "Rows"].map((t) => h("th", { scope: "col" }, t));
  return [
    h("p", {}, `${count(rows.length, "nozzle")} read.`),
    h(
      "div",
      { class: "scroll" },
      h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...body)),
    ),
  ];
}

/** The place of a fault: row and column as a spreadsheet counts them. */
function where({ line, column }: RowError): string {
  if (line === 0) return "The file: ";
  return column ? `Row ${line}, ${column}: ` : `Row ${line}: `;
}

/** What a table needs; catalog.NozzleColumns in Go is the whole list. */
function columnsNeeded(): HTMLElement {
  const code = (t: string): HTMLElement => h("code", {}, t);
  return h(
    "details",
    {},
    h("summary", {}, "Columns"),
    h(
      "p",
      {},
      "The first row names the columns. Needed: ",
      code("name, family, pressure_psi, throw_ft, flow_gpm"),
      " and, but for strips, ",
      code("arc_least_deg, arc_most_deg"),
      ". The family is spray, stream, rotor or strip.",
    ),
    h(
      "p",
      {},
      "In metric: ",
      code("pressure_bar, throw_m, flow_l_per_min"),
      ". A nozzle has one row for each pressure; the other columns may stand in its first row only: ",
      code(
        "id, flow_follows_arc, trajectory_deg, profile, strip_left_ft, strip_right_ft, best_psi, thread, source",
      ),
      ".",
    ),
  );
}

/** A plan that carries the rows; a row of the same id takes the place of the old. */
function withRows(p: Plan, rows: readonly NozzleEntry[]): Plan {
  let next = p;
  for (const { id, ...row } of rows) next = put(next, "nozzles", id, row as Nozzle);
  return next;
}
