// What the user asks for work, rented machines, mark-up and tax: the rates of the
// quote. None is known by itself.

import { ask, h } from "../dom";
import { parseNumber } from "../fields";
import { type Read, read, refuse } from "../length";
import type { Plan, Quote } from "../model";
import {
  percentText,
  type Rental,
  rateText,
  readMoney,
  readPercent,
  readRate,
  readWords,
  withQuote,
  withRentals,
} from "../pricing";
import type { Board } from "../state";
import { Control } from "./control";
import { cancel } from "./findings";
import { ListEditor } from "./listeditor";

type Rented = Rental & { id?: string };

interface Entry {
  control: Control;
  put(p: Plan, typed: string): Read<Plan>;
}

/** Asks for the rates and keeps them as one step. */
export async function askRates(board: Board): Promise<void> {
  const before = board.committed;
  const work = workOf(before);
  const sums = sumsOf(before);
  const entries = [...work, ...sums];
  work[0]?.control.input.setAttribute("autofocus", "");
  let rentals: readonly Rented[] = Object.entries(before.quote?.rentals ?? {}).map(([id, r]) => ({
    id,
    ...r,
  }));
  const machines = machineList(
    before,
    () => rentals,
    (next) => {
      rentals = next;
    },
    (text) => board.announce(text),
  );
  const set = (title: string, hint: string, ...fields: HTMLElement[]): HTMLElement =>
    h("fieldset", {}, h("legend", {}, title), hint ? h("p", { class: "hint" }, hint) : "", ...fields);
  const pairs = (list: readonly Entry[]): HTMLElement =>
    h("div", { class: "pairs" }, ...list.map((e) => e.control.el));
  const notes = sums.at(-1) as Entry;
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  form.append(
    h("h2", { id: "rates-title" }, "Rates of the quote"),
    h("p", { class: "hint" }, "Your own; what is left empty is not in the quote, and the quote says so."),
    set("Work", "", pairs(work)),
    set("Rentals", "", machines.el),
    set("Money", "", pairs(sums.slice(0, -1)), notes.control.el),
    h("p", { class: "acts" }, h("button", { value: "keep", class: "main" }, "Keep"), cancel()),
  );
  let next: Plan = before;
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") !== "keep") return;
    next = before;
    let wrong: Control | null = null;
    for (const { control, put } of entries) {
      const v = put(next, control.text);
      control.complain(v.ok ? null : v.sentence);
      if (v.ok) next = v.value;
      else wrong ??= control;
    }
    if (!wrong && !settled(machines.el)) return e.preventDefault();
    if (!wrong) {
      if (rentals.length > 0 || next.quote?.rentals) next = withRentals(next, rentals);
      return;
    }
    e.preventDefault();
    wrong.input.focus();
  });
  const answer = await ask(h("dialog", { class: "roomy rates", "aria-labelledby": "rates-title" }, form));
  if (answer !== "keep" || JSON.stringify(next.quote) === JSON.stringify(before.quote)) return;
  void board.commit("Change the rates of the quote", next);
  board.announce("Rates kept. The quote has them.");
}

/** Takes in a machine that was typed and not added yet; false, with the focus there, when one cannot be. */
function settled(machines: HTMLElement): boolean {
  const first = machines.querySelector<HTMLInputElement>("tfoot input");
  const typed = [...machines.querySelectorAll<HTMLInputElement>("tfoot input")].some((i) => i.value.trim());
  if (typed) machines.querySelector<HTMLElement>("tfoot button")?.click();
  const wrong = machines.querySelector<HTMLElement>("[aria-invalid=true]");
  wrong?.focus();
  return wrong === null && (first?.value ?? "") === "";
}

/** A field of the quote; what is not changed is left as it is. */
function entry<K extends keyof Quote>(
  key: K,
  label: string,
  hint: string,
  value: string,
  reader: (typed: string) => Read<Quote[K] | undefined>,
  as: Control["as"] = "text",
  choices: readonly { value: string; label: string }[] = [],
): Entry {
  const control = new Control(label, as, hint, () => null);
  control.show({ value, mixed: false, choices });
  return {
    control,
    put: (q, typed) => {
      if (typed.trim() === value) return read(q);
      const v = reader(typed);
      return v.ok ? read(withQuote(q, key, v.value)) : v;
    },
  };
}

function workOf(p: Plan): Entry[] {
  const q = p.quote ?? {};
  const length = p.show === "metric" ? "m" : "ft";
  const rate = (
    key: "per_trench_ft" | "per_sleeve_ft" | "per_head" | "per_valve",
    label: string,
    by = "",
  ): Entry => {
    const text = by ? rateText(q[key], p) : q[key] ? String(q[key]) : "";
    return entry(key, label, by, text, (t) => readRate(t, "a rate", p, by !== ""));
  };
  return [
    rate("per_trench_ft", "Trench, dug and filled", `a ${length}`),
    rate("per_sleeve_ft", "Under paving, bored or cut", `a ${length}`),
    rate("per_head", "Head, set"),
    rate("per_valve", "Valve, set"),
  ];
}

function sumsOf(p: Plan): Entry[] {
  const q = p.quote ?? {};
  const taxed = [
    { value: "", label: "parts and mark-up" },
    { value: "all", label: "everything" },
  ];
  return [
    entry("currency", "Currency", "sign or code", q.currency ?? "", (t) => readWords(t, "The currency", 8)),
    entry("mark_up_share", "Mark-up on parts", "%", percentText(q.mark_up_share), (t) =>
      readPercent(t, "a mark-up", 1000),
    ),
    entry("tax_share", "Tax", "%", percentText(q.tax_share), (t) => readPercent(t, "a tax", 100)),
    entry(
      "tax_on",
      "Taxed",
      "",
      q.tax_on === "all" ? "all" : "",
      (t) => read(t === "all" ? ("all" as const) : undefined),
      "choice",
      taxed,
    ),
    entry("notes", "Notes on the quote", "", q.notes ?? "", (t) => readWords(t, "The note", 2000), "long"),
  ];
}

function machineList(
  p: Plan,
  now: () => readonly Rented[],
  keep: (next: readonly Rented[]) => void,
  announce: (text: string) => void,
): ListEditor<Rented> {
  const currency = p.quote?.currency ?? "";
  const editor = new ListEditor<Rented>({
    one: "machine",
    caption: "Machines to rent",
    columns: [
      {
        label: "Machine",
        as: "text",
        show: (r) => r.what,
        put: (r, typed) => {
          const v = readWords(typed, "The machine", 200);
          if (!v.ok) return v;
          return v.value === undefined ? refuse("Type what is rented.") : read({ ...r, what: v.value });
        },
      },
      {
        label: "Days",
        as: "text",
        show: (r) => String(r.days),
        put: (r, typed) => {
          const v = parseNumber(typed, "days", 0, 1000);
          return v.ok ? read({ ...r, days: v.value }) : v;
        },
      },
      {
        label: "A day",
        hint: currency,
        as: "text",
        show: (r) => String(r.each),
        put: (r, typed) => {
          const v = readMoney(typed, "a rate", currency);
          return v.ok ? read({ ...r, each: v.value }) : v;
        },
      },
    ],
    fresh: () => ({ what: "", days: 1, each: 0 }),
    keep: (next) => {
      keep(next);
      editor.show(next);
      return null;
    },
    announce,
  });
  editor.show(now());
  return editor;
}
