// The page in the yard: tabs with what is left, one thing at a time, and the bar under
// the thumb.

import { button, h, setAttr, setText } from "../dom";
import type { Part } from "./sections";
import { placeText, type Section, type Yard } from "./session";
import type { Act, Screen } from "./ui";

/** The sections that are work to be done, as the way to them is named. */
const onTo: readonly (readonly [Section, string])[] = [
  ["start", "Back to the start-up"],
  ["wires", "On to the wires"],
  ["heads", "On to the nozzles"],
  ["cans", "On to the cans"],
  ["built", "On to what was built"],
];

/** Keeps the section one is at on the page, made anew only when one goes elsewhere. */
export class App {
  readonly #tabs = new Map<Section, { tab: HTMLButtonElement; left: HTMLElement }>();
  readonly #row = h("div", { class: "yard-tabs", role: "tablist", "aria-label": "Parts of the work" });
  readonly #screen = h("div", { id: "yard-screen", role: "tabpanel", tabindex: "-1" });
  readonly #bar = h("div", { class: "yard-bar", role: "group", "aria-label": "What to do" });
  readonly #undo: HTMLButtonElement;
  readonly #undoes = h("span", { class: "yard-undoes" });
  readonly #back = this.#actButton("yard-way");
  readonly #next = this.#actButton("yard-way");
  readonly #main = this.#actButton("main yard-main");
  #shown: Screen | null = null;
  #does = false; // what lies under the thumb does something, not only go on
  #key = "";

  constructor(
    readonly yard: Yard,
    readonly parts: readonly Part[],
    root: HTMLElement,
    extra: HTMLElement,
  ) {
    const tabs = this.#row;
    for (const p of parts) tabs.append(this.#tab(p));
    this.#undo = button("Undo", "yard-undo", () => this.#takeBack());
    this.#undo.append(this.#undoes);
    this.#bar.append(this.#undo, this.#back.el, this.#next.el, this.#main.el);
    root.replaceChildren(tabs, this.#screen, extra, this.#bar);
    yard.subscribe(() => this.show());
    for (const topic of ["plan", "steps", "saved", "catalog"] as const)
      yard.board.subscribe(topic, () => this.show());
    this.show();
  }

  #part(section: Section): Part {
    return this.parts.find((p) => p.id === section) ?? (this.parts[0] as Part);
  }

  #tab(p: Part): HTMLElement {
    const left = h("span", { class: "yard-left" });
    const go = (): void => this.yard.go({ section: p.id, item: "" });
    const tab = button("", "yard-tab", go);
    tab.append(h("span", {}, p.title), left);
    setAttr(tab, "role", "tab");
    setAttr(tab, "aria-controls", "yard-screen");
    tab.id = `yard-tab-${p.id}`;
    tab.addEventListener("keydown", (e) => this.#key_(e, p.id));
    this.#tabs.set(p.id, { tab, left });
    return tab;
  }

  #key_(e: KeyboardEvent, at: Section): void {
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
    const all = this.parts.map((p) => p.id);
    const i = all.indexOf(at);
    const to = by ? (i + by + all.length) % all.length : { Home: 0, End: all.length - 1 }[e.key];
    const section = to === undefined ? undefined : all[to];
    if (!section) return;
    e.preventDefault();
    this.yard.go({ section, item: "" });
    this.#tabs.get(section)?.tab.focus();
  }

  /** What was typed and refused is the last thing done, though it is no step. */
  #takeBack(): void {
    const refused = this.#screen.querySelector('input[aria-invalid="true"], textarea[aria-invalid="true"]');
    if (!refused) return void this.yard.board.undo();
    refused.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape", bubbles: true }));
    this.yard.board.announce("What was refused is taken out of its field.");
  }

  #actButton(cls: string): { el: HTMLButtonElement; act: Act | null } {
    const kept: { el: HTMLButtonElement; act: Act | null } = {
      act: null,
      el: h("button", {
        type: "button",
        class: cls,
        onclick: (e: MouseEvent) => {
          // A thumb that taps twice has done one thing, not the next as well.
          if (e.detail > 1 && kept === this.#main && this.#does) return;
          // What is being typed is taken first, as if the field had been left.
          if (document.activeElement instanceof HTMLElement && this.#screen.contains(document.activeElement))
            document.activeElement.blur();
          kept.act?.run();
        },
      }),
    };
    return kept;
  }

  /** Shows what is now. */
  show(): void {
    const { yard } = this;
    const part = this.#part(yard.place.section);
    const item = part.at(yard.place.item);
    const key = `${part.id}\n${item}\n${part.made(item)}`;
    if (key !== this.#key) this.#open(part, item, key);
    else this.#shown?.update();
    for (const p of this.parts) {
      const t = this.#tabs.get(p.id);
      if (!t) continue;
      const on = p.id === part.id;
      setAttr(t.tab, "aria-selected", String(on));
      t.tab.tabIndex = on ? 0 : -1;
      setText(t.left, p.left());
      t.left.hidden = t.left.textContent === "";
    }
    this.#acts();
  }

  #open(part: Part, item: string, key: string): void {
    const first = this.#key === "";
    const other = this.#key.split("\n")[0] !== part.id;
    const place = { section: part.id, item };
    this.#key = key;
    this.yard.place = place;
    history.replaceState(null, "", `#${placeText(place)}`);
    this.#shown = part.open(item);
    this.#screen.replaceChildren(this.#shown.el);
    this.#shown.update();
    setAttr(this.#screen, "aria-labelledby", `yard-tab-${part.id}`);
    if (first) return;
    if (other) this.#tabs.get(part.id)?.tab.scrollIntoView({ block: "nearest", inline: "nearest" });
    // A keyboard stays on its tab; whoever went on is told what comes.
    if (document.activeElement?.getAttribute("role") !== "tab")
      (this.#shown.first ?? this.#title() ?? this.#screen).focus({ preventScroll: true });
    this.#toTop();
  }

  /** What the screen is of, to be read out where no field is to be typed into. */
  #title(): HTMLElement | null {
    const title = this.#screen.querySelector<HTMLElement>("h2.yard-title");
    title?.setAttribute("tabindex", "-1");
    return title;
  }

  /** What is new begins under the tabs, or on a low screen without them. */
  #toTop(): void {
    if (this.#screen.getBoundingClientRect().top >= 0) return;
    const from = innerHeight < 600 ? this.#screen : this.#row;
    from.scrollIntoView({ block: "start" });
  }

  /** Where the work goes on once a section is done: the start-up while it is under way, else what comes after. */
  #onward(from: Section): Act {
    const { yard } = this;
    const i = onTo.findIndex(([s]) => s === from);
    const begun = Object.keys(yard.plan.proof?.checks ?? {}).length > 0;
    const order = [...onTo.slice(i + 1), ...onTo.slice(0, i)];
    const open = order.filter(([s]) => {
      const left = this.#part(s).left();
      return left !== "done" && (left !== "" || s === "wires" || s === "cans");
    });
    const to = (begun && open.find(([s]) => s === "start")) || open[0];
    if (to) return { label: to[1], run: () => yard.go({ section: to[0], item: "" }) };
    return { label: "Owner’s papers…", run: () => location.assign(papersOf(yard.board.id)) };
  }

  #acts(): void {
    const part = this.#part(this.yard.place.section);
    const acts = this.#shown?.acts() ?? {};
    const isWork = onTo.some(([s]) => s === part.id);
    const { next } = acts;
    const main = acts.main ?? (isWork && part.left() === "done" ? this.#onward(part.id) : null);
    // Where nothing is to be done but to go on, that is what lies under the thumb.
    const on = !main && next?.label === "Next";
    this.#does = !on;
    put(this.#main, (on ? next : main) ?? null, "", on ? " ›" : "");
    put(this.#back, acts.back ?? null, "‹ ");
    put(this.#next, on ? null : (next ?? null), "", " ›");
    const { board } = this.yard;
    const label = board.undoLabel;
    this.#undo.disabled = label === "";
    setText(this.#undoes, label);
    setAttr(this.#undo, "title", label ? `Undo: ${label}` : "Nothing to undo");
  }
}

const papersOf = (id: string): string => `/plans/${id}/papers?pack=owner`;

function put(b: { el: HTMLButtonElement; act: Act | null }, act: Act | null, before = "", after = ""): void {
  b.act = act;
  b.el.hidden = act === null;
  b.el.disabled = act?.off ?? false;
  if (act) setText(b.el, `${before}${act.label}${after}`);
}
