// The pages that are not the board: the list of plans, help, and errors.

import { server } from "./api";
import { Clock, localTimes } from "./days";
import { ask, byID, h } from "./dom";
import type { Plan, System } from "./model";
import { cancel } from "./panels/findings";
import { keySheet } from "./panels/keys";
import { importOutlines } from "./panels/outlines";
import { showPapers } from "./panels/papers";
import { PlanList } from "./planlist";
import { plansOf } from "./plansof";
import { followTheme } from "./theme";

followTheme();
localTimes(document);
if (document.getElementById("plans")) rows();
if (document.getElementById("new-plan")) forms();
const damaged = document.getElementById("recover");
if (damaged) bringBackDamaged(damaged);
const papers = document.querySelector<HTMLElement>("[data-papers]");
if (papers) showPapers(papers);
document.getElementById("print-sheet")?.addEventListener("click", () => window.print());
const keys = document.getElementById("keys-sheet");
if (keys) keys.append(...keySheet("h3"));

function open(id: string): void {
  location.assign(`/plans/${encodeURIComponent(id)}`);
}

/** Shows a sentence at the top of the page. */
function say(sentence: string): void {
  const el = byID("notice");
  el.hidden = false;
  el.dataset.kind = "problem";
  el.replaceChildren(h("p", {}, h("span", { class: "unseen" }, "Error: "), sentence));
}

/** Shows a sentence under a field, or takes it away; the field keeps what it has. */
function complain(input: HTMLElement, sentence: string | null): void {
  const el = byID(`${input.id}-error`);
  el.textContent = sentence ?? "";
  el.hidden = sentence === null;
  if (sentence === null) input.removeAttribute("aria-invalid");
  else {
    input.setAttribute("aria-invalid", "true");
    input.focus();
  }
}

function rows(): void {
  const list = new PlanList();
  const acts: Record<string, (row: HTMLElement) => Promise<void>> = {
    copy,
    archive: (row) => putAway(list, row, true),
    unarchive: (row) => putAway(list, row, false),
    delete: (row) => remove(list, row),
  };
  byID("plans").addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>("button[data-act]");
    const row = button?.closest<HTMLElement>("[data-id]");
    if (button && row) void acts[button.dataset.act ?? ""]?.(row);
  });
  byID("to-new").addEventListener("click", () => setTimeout(() => byID("new-name").focus()));
}

/** Asks for the name of the copy, makes it and opens it. */
async function copy(row: HTMLElement): Promise<void> {
  const { id = "", name = "" } = row.dataset;
  const input = h("input", {
    id: "copy-name",
    type: "text",
    maxlength: "200",
    autocomplete: "off",
    required: true,
    value: `${name} (copy)`,
  });
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "copy-title" }, `Copy “${name}”`),
    h(
      "div",
      { class: "field" },
      h("label", { for: "copy-name" }, "Name of the copy"),
      input,
      h(
        "p",
        { class: "hint" },
        "The copy has everything drawn and a history of its own. The plan it is made of stays as it is.",
      ),
    ),
    h("p", { class: "acts" }, h("button", { value: "copy", class: "main" }, "Make the copy"), cancel()),
  );
  const answer = ask(h("dialog", { "aria-labelledby": "copy-title" }, form));
  input.select();
  if ((await answer) !== "copy") return;
  const made = await plansOf.copy(id, input.value.trim());
  if (made.ok) open(made.value.id);
  else say(made.error);
}

/** Puts a plan away or brings it back, where it stands in the list. */
async function putAway(list: PlanList, row: HTMLElement, away: boolean): Promise<void> {
  const { id = "", name = "", rev = "0" } = row.dataset;
  const done = await plansOf.putAway(id, Number(rev), away);
  if (!done.ok)
    return say(done.status === 412 ? changedSince(name, away ? "archived" : "brought back") : done.error);
  row.querySelector("[data-act=archive]")?.toggleAttribute("hidden", away);
  row.querySelector("[data-act=unarchive]")?.toggleAttribute("hidden", !away);
  leave(row);
  list.move(row, away);
  const back = (): void =>
    void putAway(list, row, false).then(() => row.querySelector<HTMLElement>("h2 a")?.focus());
  sayGone(away ? back : null, name);
  announce(away ? `Archived “${name}”. It is under Show: Archived.` : `Brought back “${name}”.`);
}

/** Says over the list that a plan was put away, with the way back; null takes it away. */
function sayGone(back: (() => void) | null, name: string): void {
  const el = byID("put-away");
  el.hidden = back === null;
  if (!back) return;
  const button = h("button", { type: "button", class: "small", onclick: back }, "Bring back");
  button.setAttribute("aria-label", `Bring back ${name}`);
  el.replaceChildren(h("p", {}, `“${name}” is put away; it is under Show: Archived.`), button);
}

const changedSince = (name: string, done: string): string =>
  `“${name}” was changed since this list was made, so it was not ${done}. Load this page again and look at it first.`;

/** Moves the focus to the next plan, or to the search, before a row goes. */
function leave(row: HTMLElement): void {
  const rows = Array.from(document.querySelectorAll<HTMLElement>(".plan-row:not([hidden])"));
  const at = rows.indexOf(row);
  const next = rows[at + 1] ?? rows[at - 1];
  (next?.querySelector<HTMLElement>("h2 a") ?? byID("find")).focus();
}

async function remove(list: PlanList, row: HTMLElement): Promise<void> {
  const { id = "", name = "", rev = "0" } = row.dataset;
  const held = await plansOf.heldBy(id);
  const save = row.querySelector<HTMLAnchorElement>("a[download]");
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "delete-title" }, `Delete “${name}”?`),
    h(
      "p",
      { id: "delete-what" },
      "The plan and its whole history go, and there is no undo for this. To have it out of the way, archive it instead. ",
    ),
    h("p", { id: "delete-held" }, heldWords(held.ok ? held.value : null)),
    h(
      "p",
      { class: "acts" },
      h("button", { value: "delete", class: "grave" }, "Delete the plan"),
      save ? h("a", { class: "button", href: save.href, download: "" }, "Save it as a file first") : null,
      cancel(),
    ),
  );
  const dialog = h(
    "dialog",
    { role: "alertdialog", "aria-labelledby": "delete-title", "aria-describedby": "delete-what delete-held" },
    form,
  );
  if ((await ask(dialog)) !== "delete") return;
  const gone = await server.remove(id, Number(rev));
  if (gone.ok || gone.status === 404) {
    leave(row);
    list.drop(row);
    announce(`Deleted “${name}”.`);
  } else say(gone.status === 412 ? changedSince(name, "deleted") : gone.error);
}

/** What backups have of a plan, in words; null when it could not be found out. */
function heldWords(held: { at: string; as_now: boolean } | null): string {
  if (!held) return "Whether a backup holds it could not be found out.";
  if (!held.at) return "No backup holds it yet.";
  const as = held.as_now ? "as it is now" : "as it was then";
  const folder = document.body.dataset.backups ?? "the data folder";
  return `The newest backup that holds it, ${as}, is of ${new Clock().full(held.at)}; it is in ${folder}, under backups.`;
}

/** Says a sentence to screen readers, politely. */
function announce(sentence: string): void {
  byID("live").textContent = sentence;
}

/** The page of a damaged plan: makes a new one of what is whole. */
function bringBackDamaged(form: HTMLElement): void {
  onSubmit("recover", async () => {
    const made = await plansOf.recover(form.dataset.id ?? "");
    if (made.ok) open(made.value.id);
    else say(made.error);
  });
}

function forms(): void {
  onSubmit("new-plan", makePlan);
  onSubmit("import-plan", importPlan);
  onSubmit("import-handover", openHandedOver);
  for (const b of document.querySelectorAll<HTMLButtonElement>("button[data-start]"))
    b.addEventListener("click", () => void startFrom(b));
  onSubmit("import-outlines", async () => {
    const input = byID<HTMLInputElement>("outline-file");
    const [file] = input.files ?? [];
    if (!file) return complain(input, "No file is chosen. Choose a GeoJSON file first.");
    const made = await importOutlines(file);
    complain(input, made.sentence);
    if (made.id) open(made.id);
  });
}

/** Runs a form's job once at a time. */
function onSubmit(id: string, job: () => Promise<void>): void {
  const form = byID<HTMLFormElement>(id);
  const button = form.querySelector("button[type=submit]") as HTMLButtonElement;
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    if (button.disabled) return;
    button.disabled = true;
    void job().finally(() => {
      button.disabled = false;
    });
  });
}

async function makePlan(): Promise<void> {
  const input = byID<HTMLInputElement>("new-name");
  const name = input.value.trim();
  if (!name) return complain(input, "The plan has no name. Type one, such as the street and number.");
  const made = await server.create(name, shownIn());
  complain(input, made.ok ? null : made.error);
  if (made.ok) open(made.value.id);
}

const shownIn = (): System =>
  document.querySelector<HTMLInputElement>("input[name=show]:checked")?.value as System;

/** Makes a plan of a typical yard; the name may be left out. */
async function startFrom(button: HTMLButtonElement): Promise<void> {
  button.disabled = true;
  const input = byID<HTMLInputElement>("new-name");
  const made = await plansOf.begin(input.value.trim(), shownIn(), button.dataset.start ?? "");
  button.disabled = false;
  complain(input, made.ok ? null : made.error);
  if (made.ok) open(made.value.id);
}

const largest = 16 * 1024 * 1024;

async function importPlan(): Promise<void> {
  const input = byID<HTMLInputElement>("plan-file");
  const [file] = input.files ?? [];
  if (!file) return complain(input, "No file is chosen. Choose a plan.json first.");
  if (file.size > largest)
    return complain(
      input,
      `${file.name} is larger than 16 MB, so it is no plan file of Evenfall. Choose another.`,
    );
  const doc = readPlan(await file.text());
  if (!doc)
    return complain(
      input,
      `${file.name} is not a plan file. Choose a plan.json that was saved from Evenfall.`,
    );
  const made = await server.create(doc.name, doc.show, doc);
  if (made.ok) return open(made.value.id);
  const other = made.problems.filter((p) => !made.error.includes(p.sentence));
  const more = other.map((p) => `${p.sentence} (${p.pointer})`);
  complain(input, [made.error, ...more.slice(0, 5)].join(" "));
}

const largestHandedOver = 512 * 1024 * 1024;

/** Opens a file that was handed over as a new plan; what was left out of it is told first. */
async function openHandedOver(): Promise<void> {
  const input = byID<HTMLInputElement>("handover-file");
  const [file] = input.files ?? [];
  if (!file) return complain(input, "No file is chosen. Choose the file that was handed over first.");
  if (file.size > largestHandedOver)
    return complain(
      input,
      `${file.name} is larger than 512 MB, so it is no plan that was handed over. Choose another.`,
    );
  const made = await plansOf.handedOver(file);
  complain(input, made.ok ? null : made.error);
  if (!made.ok) return;
  const { id, name, notes } = made.value;
  if (notes.length === 0) return open(id);
  const el = byID("notice");
  el.hidden = false;
  el.dataset.kind = "problem";
  el.replaceChildren(
    h("p", {}, `${name} is opened, but not all of it is there:`),
    h("ul", {}, ...notes.map((n) => h("li", {}, n))),
    h("p", {}, h("a", { class: "button", href: `/plans/${encodeURIComponent(id)}` }, "Open the plan")),
  );
  el.scrollIntoView({ block: "nearest" });
}

function readPlan(text: string): Plan | null {
  try {
    const doc: unknown = JSON.parse(text);
    const plan = typeof doc === "object" && doc !== null && "format" in doc;
    return plan ? (doc as Plan) : null;
  } catch {
    return null; // the caller says so in the user's words
  }
}
