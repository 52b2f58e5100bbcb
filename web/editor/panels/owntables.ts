// Bringing in a table of the user's own: nozzles, pipe or devices. The server reads
// it, it is shown before anything is added, and added as one step or not at all.

import { ask, byID, h } from "../dom";
import type { Board } from "../state";
import { cancel } from "./findings";
import { columnsNeeded, counted, shown, type TableKind, type TableRows, tableKinds } from "./tablekinds";

const largest = 20 * 1024 * 1024;

export function tableImport(board: Board): void {
  byID("nozzles-import").addEventListener("click", () => void bring(board));
}

async function bring(board: Board): Promise<void> {
  let kind = tableKinds[0] as TableKind;
  let rows: readonly unknown[] = [];
  const file = h("input", { type: "file", id: "table-file", accept: ".csv,text/csv" });
  const found = h("div", { role: "status" });
  const add = h("button", { value: "add", class: "main", disabled: true }, "Add to this plan");
  const about = h("div", {});
  const choice = h(
    "select",
    { id: "table-kind" },
    ...tableKinds.map((k) => h("option", { value: k.name }, k.title)),
  );

  const take = async (): Promise<void> => {
    rows = [];
    add.disabled = true;
    found.replaceChildren();
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    const asked = kind;
    const read = await readTable(asked, chosen);
    if (asked !== kind || file.files?.[0] !== chosen) return; // another was chosen meanwhile
    rows = typeof read === "string" || read.errors.length > 0 ? [] : read.rows;
    found.replaceChildren(
      ...(typeof read === "string" ? [h("p", { class: "error" }, read)] : shown(kind, read)),
    );
    add.disabled = rows.length === 0;
  };
  const tell = (): void => {
    const says = `A CSV file with ${kind.lines}. Nothing is added until every row can be read.`;
    about.replaceChildren(h("p", {}, says), columnsNeeded(kind));
  };
  choice.addEventListener("change", () => {
    kind = tableKinds.find((k) => k.name === choice.value) ?? kind;
    tell();
    void take();
  });
  file.addEventListener("change", () => void take());
  tell();

  const form = h("form", { method: "dialog", class: "form" });
  form.append(
    h("h2", { id: "table-title" }, "Bring in a table"),
    h("div", { class: "field" }, h("label", { for: "table-kind" }, "Table of"), choice),
    about,
    h("div", { class: "field" }, h("label", { for: "table-file" }, "CSV file"), file),
    found,
    h("p", { class: "acts" }, add, cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "table-title" }, form));
  if (answer !== "add" || rows.length === 0) return;
  const says = counted(kind, rows.length);
  void board.commit(`Add ${says} from a table`, kind.put(board.committed, rows));
  board.show({ kind: "hint", sentence: `${says} added to the plan: ${kind.chosenIn}` });
}

async function readTable(kind: TableKind, file: File): Promise<TableRows<unknown> | string> {
  if (file.size > largest)
    return `${file.name} is larger than 20 MB. Save only the table of ${kind.many} as CSV.`;
  const answer = await kind.read(file);
  if (!answer.ok) return answer.error;
  return { rows: answer.value.rows ?? [], errors: answer.value.errors ?? [] };
}
