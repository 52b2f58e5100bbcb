// Bringing in a weather file of the user's own: the server reads it, what it comes to is
// shown, and it is taken as one step or not at all.

import { planURL, ask as request } from "../api";
import { isOf, notStored, stale, takeStep, whenStored } from "../asking";
import { ask, h } from "../dom";
import { apply } from "../merge";
import type { Board } from "../state";
import type { WeatherRead } from "../watering";
import { climateTable } from "./climatemonths";
import { cancel } from "./findings";

/** What the server takes, in bytes. */
const LARGEST = 4 << 20;

/** How long reading may take, in ms. */
const PATIENCE = 60_000;

/** Asks for a file; true when its climate was taken. columns: what the file has to have, in words. */
export async function bringWeather(board: Board, columns: string): Promise<boolean> {
  if (!(await whenStored(board))) {
    board.show({ kind: "hint", sentence: notStored(board, "A weather file is read") });
    return false;
  }
  let read: WeatherRead | null = null;
  const { rev } = board;
  const file = h("input", {
    type: "file",
    id: "weather-file",
    accept: ".csv,.txt,text/csv",
    autofocus: true,
  });
  const found = h("div", { class: "form", role: "status" });
  const take = h("button", { value: "take", class: "main", disabled: true }, "Take this climate");
  file.addEventListener("change", async () => {
    read = null;
    take.disabled = true;
    found.replaceChildren();
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    found.replaceChildren(h("p", {}, `Reading ${chosen.name}…`));
    const answer = await readWeather(board, chosen, rev);
    if (file.files?.[0] !== chosen) return; // another was chosen meanwhile
    if (typeof answer === "string") return found.replaceChildren(h("p", { class: "error" }, answer));
    read = answer;
    found.replaceChildren(...shown(answer));
    take.disabled = answer.patch === undefined;
  });
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "weather-title" }, "Read a weather file"),
    h(
      "p",
      {},
      "A CSV file of a station near by, by day or by month. Reference ET is reckoned from it, month by month.",
    ),
    columns ? h("details", {}, h("summary", {}, "Its columns"), h("p", { class: "hint" }, columns)) : null,
    h("div", { class: "field" }, h("label", { for: "weather-file" }, "Weather, CSV"), file),
    found,
    h("p", { class: "acts" }, take, cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "weather-title" }, form));
  const taken = read as WeatherRead | null;
  if (answer !== "take" || !taken?.patch) return false;
  return takeStep(board, rev, {
    label: taken.label,
    plan: apply(board.committed, taken.patch),
    says: `${taken.says} Undo takes it back.`,
  });
}

async function readWeather(board: Board, file: File, rev: number): Promise<WeatherRead | string> {
  if (file.size > LARGEST) return `${file.name} is larger than 4 MB. Save fewer years of it.`;
  const answer = await request<WeatherRead>("POST", `${planURL(board.id)}/weather?rev=${rev}`, {
    headers: { "Content-Type": "text/csv" },
    body: file,
    wait: PATIENCE,
  });
  if (!answer.ok) return answer.error;
  return isOf(rev, board) ? answer.value : stale;
}

/** What the file comes to, before it is taken. */
function shown(v: WeatherRead): Node[] {
  const out: Node[] = [h("p", {}, h("strong", {}, v.says))];
  const { errors, months } = v;
  if (errors && errors.length > 0)
    out.push(
      h(
        "ul",
        { class: "scroll price-faults", tabindex: "0", "aria-label": "Mistakes of the file" },
        ...errors.map((e) => h("li", {}, e.line > 0 ? h("b", {}, `Row ${e.line}: `) : null, e.says)),
      ),
    );
  if (months && months.length > 0)
    out.push(
      h(
        "div",
        { class: "scroll", role: "region", "aria-label": "The climate as it would be taken", tabindex: "0" },
        climateTable(months, "The climate of the file"),
      ),
    );
  for (const note of v.notes ?? []) out.push(h("p", { class: "hint" }, note));
  return out;
}
