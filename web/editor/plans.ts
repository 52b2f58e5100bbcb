// The pages that are not the board: the list of plans, help, and errors.

import { server } from "./api";
import { ask, byID, h } from "./dom";
import type { Plan, System } from "./model";
import { cancel } from "./panels/findings";
import { keySheet } from "./panels/keys";
import { importOutlines } from "./panels/outlines";
import { followTheme } from "./theme";

followTheme();
if (document.getElementById("plans")) rows();
if (document.getElementById("new-plan")) forms();
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
  byID("plans").addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>("button[data-act]");
    const row = button?.closest<HTMLElement>("[data-id]");
    if (!button || !row) return;
    if (button.dataset.act === "copy") void copy(row);
    else void remove(row);
  });
}

async function copy(row: HTMLElement): Promise<void> {
  const stored = await server.load(row.dataset.id ?? "");
  if (!stored.ok) return say(stored.error);
  const { doc } = stored.value;
  const made = await server.create(`${doc.name} (copy)`, doc.show, doc);
  if (made.ok) location.reload();
  else say(made.error);
}

async function remove(row: HTMLElement): Promise<void> {
  const { id = "", name = "", rev = "0" } = row.dataset;
  const form = h(
    "form",
    { method: "dialog", class: "form" },
    h("h2", { id: "delete-title" }, `Delete “${name}”?`),
    h(
      "p",
      { id: "delete-what" },
      "The plan and its whole history go. There is no undo for this. Save it as a file first if you are not sure.",
    ),
    h("p", { class: "acts" }, h("button", { value: "delete", class: "grave" }, "Delete the plan"), cancel()),
  );
  const dialog = h(
    "dialog",
    { role: "alertdialog", "aria-labelledby": "delete-title", "aria-describedby": "delete-what" },
    form,
  );
  if ((await ask(dialog)) !== "delete") return;
  const gone = await server.remove(id, Number(rev));
  if (gone.ok || gone.status === 404) location.reload();
  else if (gone.status === 412)
    say(
      `“${name}” was changed since this list was made, so it was not deleted. Load this page again and look at it first.`,
    );
  else say(gone.error);
}

function forms(): void {
  onSubmit("new-plan", makePlan);
  onSubmit("import-plan", importPlan);
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
  const show = document.querySelector<HTMLInputElement>("input[name=show]:checked")?.value as System;
  const made = await server.create(name, show);
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

function readPlan(text: string): Plan | null {
  try {
    const doc: unknown = JSON.parse(text);
    const plan = typeof doc === "object" && doc !== null && "format" in doc;
    return plan ? (doc as Plan) : null;
  } catch {
    return null; // the caller says so in the user's words
  }
}
