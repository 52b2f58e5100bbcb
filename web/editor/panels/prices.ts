// Bringing in a price list of the user's own: the server reads it against the plan, it
// is shown, and it is taken as one step or not at all. And giving one item its price.

import { planURL, type RowError, ask as request } from "../api";
import { isOf, notStored, stale, takeStep, whenStored } from "../asking";
import { ask, h } from "../dom";
import { apply } from "../merge";
import type { Price } from "../model";
import { count } from "../names";
import { type Priced, type PricesView, readMoney, readWords, withPrice } from "../pricing";
import type { Board } from "../state";
import { Control } from "./control";
import { cancel } from "./findings";

/** What the server takes, in bytes. */
const LARGEST = 1 << 20;

/** Rows that are shown one by one. */
const SHOWN = 300;

export async function bringPrices(board: Board): Promise<void> {
  if (!(await whenStored(board)))
    return board.show({ kind: "hint", sentence: notStored(board, "Prices are read") });
  let view: PricesView | null = null;
  const file = h("input", { type: "file", id: "prices-file", accept: ".csv,.txt,text/csv", autofocus: true });
  const found = h("div", { class: "form", role: "status" });
  const take = h("button", { value: "take", class: "main", disabled: true }, "Take these prices");
  file.addEventListener("change", async () => {
    view = null;
    take.disabled = true;
    found.replaceChildren();
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    const read = await readPrices(board, chosen);
    if (file.files?.[0] !== chosen) return; // another was chosen meanwhile
    if (typeof read === "string") return found.replaceChildren(h("p", { class: "error" }, read));
    view = read;
    found.replaceChildren(...shown(read));
    take.disabled = read.patch === undefined;
  });
  const at = `/plans/${encodeURIComponent(board.id)}/files/prices.csv`;
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "prices-title" }, "Bring prices"),
    h(
      "p",
      {},
      "A CSV file of your own: its first line names the columns item and price, and unit and code if there are any. ",
      h("a", { href: at, download: true }, "The price list of this plan"),
      " has them, to be filled in.",
    ),
    h("div", { class: "field" }, h("label", { for: "prices-file" }, "Price list, CSV"), file),
    found,
    h("p", { class: "acts" }, take, cancel()),
  );
  const answer = await ask(h("dialog", { class: "roomy", "aria-labelledby": "prices-title" }, form));
  const taken = view as PricesView | null;
  if (answer !== "take" || !taken?.patch) return;
  const says = `Prices taken. ${board.design?.costs?.sum ? "" : "The list of parts says what it comes to. "}Undo takes it back.`;
  await takeStep(board, taken.rev, {
    label: taken.label,
    plan: apply(board.committed, taken.patch),
    says,
  });
}

async function readPrices(board: Board, file: File): Promise<PricesView | string> {
  if (file.size > LARGEST) return `${file.name} is larger than 1 MB. Save only the price list as CSV.`;
  const answer = await request<PricesView>("POST", `${planURL(board.id)}/prices/preview?rev=${board.rev}`, {
    headers: { "Content-Type": "text/csv" },
    body: file,
  });
  if (!answer.ok) return answer.error;
  return isOf(answer.value.rev, board) ? answer.value : stale;
}

/** What the list would do, before it is taken. */
function shown(v: PricesView): Node[] {
  const out: Node[] = [h("p", {}, h("strong", {}, v.says))];
  if (v.errors.length > 0)
    out.push(
      h(
        "p",
        { class: "error" },
        "These lines are left out. Mend the file and choose it again, or take the rest.",
      ),
      h(
        "ul",
        { class: "scroll price-faults", tabindex: "0", "aria-label": "Lines that are left out" },
        ...v.errors.map(fault),
      ),
    );
  if (v.rows.length > 0) out.push(tableOf(v));
  for (const note of v.notes) out.push(h("p", { class: "hint" }, note));
  if (v.missing.length > 0)
    out.push(
      h(
        "details",
        {},
        h("summary", {}, `${count(v.missing.length, "part")} without a price then`),
        h("ul", {}, ...v.missing.map((m) => h("li", {}, m))),
      ),
    );
  return out;
}

function fault({ line, column, sentence }: RowError): HTMLElement {
  const where = line === 0 ? "The file: " : column ? `Row ${line}, ${column}: ` : `Row ${line}: `;
  return h("li", {}, h("b", {}, where), sentence);
}

function tableOf(v: PricesView): HTMLElement {
  const head = ["Item", "Price", "Is", "For this plan"].map((t) => h("th", { scope: "col" }, t));
  const row = (r: PricesView["rows"][number]): HTMLElement =>
    h(
      "tr",
      { class: r.listed ? null : "faint" },
      h("th", { scope: "row" }, r.item),
      h("td", {}, r.each),
      h("td", {}, r.does),
      h("td", {}, r.listed ? "yes" : (r.note ?? "")),
    );
  const left = v.rows.length - SHOWN;
  return h(
    "div",
    {
      class: "scroll price-rows",
      role: "region",
      "aria-label": "Prices as they would be taken",
      tabindex: "0",
    },
    h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...v.rows.slice(0, SHOWN).map(row))),
    left > 0 ? h("p", { class: "hint" }, `and ${count(left, "more price")}.`) : "",
  );
}

/** Asks for the price of one item. */
export async function askPrice(board: Board, l: Priced): Promise<void> {
  const before = board.committed;
  const now = l.cost.price === undefined ? undefined : before.prices?.[l.cost.price];
  const currency = before.quote?.currency ?? "";
  const each = new Control("Price", "text", currency ? `in ${currency}` : "", () => null);
  each.show({ value: now ? String(now.each) : "", mixed: false, choices: [] });
  each.input.setAttribute("autofocus", "");
  const units = [...new Set([...l.per, ...(now ? [now.unit] : [])])];
  const unit = new Control("For", "choice", "", () => null);
  unit.show({
    value: now?.unit ?? units[0] ?? "each",
    mixed: false,
    choices: units.map((u) => ({ value: u, label: u === "each" ? "each" : `one ${u}` })),
  });
  const code = new Control("Code", "text", "the shop’s, if you want it", () => null);
  code.show({ value: now?.code ?? "", mixed: false, choices: [] });
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  form.append(
    h("h2", { id: "price-title" }, `Price of ${l.line.item}`),
    h("div", { class: "pairs" }, each.el, unit.el, code.el),
    h(
      "p",
      { class: "acts" },
      h("button", { value: "keep", class: "main" }, "Keep"),
      now ? h("button", { value: "remove", formnovalidate: true }, "Remove this price") : "",
      cancel(),
    ),
  );
  let price: Price | null = null;
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") !== "keep") return;
    const v = readMoney(each.text, "a price", currency);
    const c = readWords(code.text, "The code", 200);
    each.complain(v.ok ? null : each.text.trim() === "" ? "Type a price, or cancel." : v.sentence);
    code.complain(c.ok ? null : c.sentence);
    if (v.ok && c.ok) {
      price = { item: l.line.item, unit: unit.text, each: v.value, ...(c.value ? { code: c.value } : {}) };
      return;
    }
    e.preventDefault();
    (v.ok ? code : each).input.focus();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "price-title" }, form));
  if (answer === "remove")
    void board.commit(`Remove the price of ${l.line.item}`, withPrice(board.committed, l.cost.price, null));
  if (answer === "keep" && price)
    void board.commit(`Price of ${l.line.item}`, withPrice(board.committed, l.cost.price, price));
}
