// The tools at the left and, above the board, what the tool in hand draws with.

import { areasChosen } from "../arranging";
import { bodies, bodyChoices, fitting, nozzleChoices, nozzles } from "../catalog";
import { type Command, type CommandID, tooltip } from "../commands";
import { atMostEvery, byID, eachFrame, h, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import type { Choice } from "../fields";
import { zoneChoices } from "../fields_heads";
import { lengthText } from "../format";
import { parseLength } from "../length";
import { find } from "../model";
import { outlineNames } from "../names";
import type { Board } from "../state";
import { commandOf } from "../tools/all";
import type { OutlineKind } from "../tools/tool";
import { openMenu } from "./context";
import { Control } from "./control";
import { icon } from "./icons";
import { motionKits } from "./motionkits";
import { pictureKit } from "./picturekit";
import { standingKits } from "./tapekit";
import { takesRoom } from "./toproom";

const view: readonly CommandID[] = ["view.in", "view.out", "view.fit"];
/** Beside the Select tool: always, when it can be done, and when nothing is selected. */
const onSelection: readonly CommandID[] = ["edit.duplicate", "edit.delete", "edit.lock"];
const whenPossible: readonly CommandID[] = [
  "edit.mirror",
  "edit.turn",
  "edit.copies",
  "tool.split",
  "tool.shareout",
  "edit.join",
  "draw.continue",
  "edit.samekind",
  "view.selection",
];
/** Where there is little room these are only in the menu behind More. */
const seldom: ReadonlySet<CommandID> = new Set([
  "tool.split",
  "tool.shareout",
  "edit.join",
  "draw.continue",
  "edit.samekind",
  "view.selection",
]);
const withNothing: readonly CommandID[] = ["edit.all", "edit.allheads"];
/** With nothing selected, or planting areas. */
const sought: readonly CommandID[] = ["head.arrange", "head.improve", "zone.group"];
const aids: readonly CommandID[] = ["aid.snap", "aid.grid", "aid.gridsnap", "aid.ortho", "view.pen"];

interface Pressed {
  command: Command;
  button: HTMLButtonElement;
}

export class Toolbar {
  readonly #made: Pressed[] = [];
  readonly #hint = h("p", { class: "hint kit-hint" });
  readonly #kits: { tools: readonly string[]; el: HTMLElement; show(): void }[];

  constructor(
    readonly board: Board,
    readonly drawing: Drawing,
  ) {
    const tools = drawing.commands.all.filter((c) => c.id.startsWith("tool.") && c.group === "Draw");
    byID("tools").append(h("div", { class: "tool-group" }, ...tools.map((c) => this.#button(c))));
    const looks = h(
      "div",
      { class: "board-view", role: "toolbar", "aria-label": "View", "aria-orientation": "vertical" },
      ...view.map((id) => this.#button(drawing.commands.get(id))),
    );
    byID("board").append(looks);
    arrows(looks);
    byID("wheel-choice").append(this.#button(drawing.commands.get("view.wheel")));
    byID("aids").append(...aids.map((id) => this.#button(drawing.commands.get(id))));
    const more = standingKits(board, drawing);
    this.#kits = [
      this.#areaKit(),
      this.#headKit(),
      this.#barrierKit(),
      this.#selectKit(),
      ...more,
      ...motionKits(drawing),
    ];
    this.#kits.push(pictureKit(drawing));
    byID("kit").append(...this.#kits.map((k) => k.el));
    byID("board").append(this.#hint);
    takesRoom(this.#hint, "--hint-room");
    arrows(byID("tools"));
    const show = atMostEvery(100, () => this.#show()); // a drag tells of itself sixty times a second
    for (const topic of ["selection", "view", "plan", "catalog", "hover", "layers", "earlier"] as const)
      board.subscribe(topic, show);
    // The bar of a draft comes with its first place and leaves the hint less room: the
    // words of before, wrapped into it, would jump. So these are shown in its frame.
    const atOnce = eachFrame(() => this.#show());
    for (const topic of ["tool", "steps"] as const) board.subscribe(topic, atOnce);
    this.#show();
  }

  #button(command: Command): HTMLButtonElement {
    const label = h("span", { class: "label" }, command.title);
    const button = h(
      "button",
      { type: "button", title: tooltip(command), "data-command": command.id },
      icon(command.id),
      label,
    );
    button.addEventListener("click", () =>
      this.drawing.commands.run(command.id, (why) => this.board.show({ kind: "hint", sentence: why })),
    );
    this.#made.push({ command, button });
    return button;
  }

  #show(): void {
    for (const { command, button } of this.#made) {
      if (command.on) setAttr(button, "aria-pressed", String(command.on()));
      const can = command.enabled();
      setAttr(button, "aria-disabled", can === true ? null : "true");
      setAttr(button, "title", can === true ? tooltip(command) : `${command.title}: ${can}`);
    }
    const tool = this.#tool();
    for (const k of this.#kits) {
      k.el.hidden = !k.tools.includes(tool);
      if (!k.el.hidden) k.show();
    }
    setText(this.#hint, this.drawing.status.hint);
    setAttr(this.#hint, "data-tool", tool);
  }

  #tool(): string {
    return commandOf(this.drawing.toolName);
  }

  #kit(label: string, take: (value: string) => string | null, as: "choice" | "text" = "choice"): Control {
    return new Control(label, as, "", take);
  }

  #areaKit() {
    const kind = this.#kit("Kind", (v) => {
      this.drawing.setKit({ areaKind: v as OutlineKind });
      return null;
    });
    const choices = Object.entries(outlineNames).map(([value, label]) => ({ value, label }));
    const hole = this.#button(this.drawing.commands.get("draw.hole"));
    return {
      tools: ["tool.outline", "tool.rectangle", "tool.round"],
      el: h("div", { class: "kit-group" }, kind.el, hole),
      show: () => kind.show({ value: this.drawing.kit.areaKind, mixed: false, choices }),
    };
  }

  #headKit() {
    const set = (key: "nozzle" | "body" | "zone") => (v: string) => {
      this.drawing.setKit({ [key]: v, ...(key === "nozzle" ? { nozzleWhy: null } : {}) });
      return null;
    };
    const nozzle = this.#kit("Nozzle", set("nozzle"));
    const body = this.#kit("Body", set("body"));
    const zone = this.#kit("Zone", set("zone"));
    const arrange = this.#button(this.drawing.commands.get("head.arrange"));
    arrange.classList.add("sometimes");
    const show = (c: Control, value: string, choices: Choice[]): void =>
      c.show({ value, mixed: false, choices });
    return {
      tools: ["tool.head"],
      el: h("div", { class: "kit-group" }, nozzle.el, body.el, zone.el, arrange),
      show: () => {
        const { plan, catalog } = this.board;
        const { kit } = this.drawing;
        const list = nozzles(plan, catalog);
        const now = list.find((n) => n.id === kit.nozzle);
        const fit = now ? fitting(plan, catalog, now) : bodies(plan, catalog);
        show(nozzle, kit.nozzle, nozzleChoices(list, plan.show));
        show(body, kit.body, bodyChoices(fit, plan.show));
        const zones = [{ value: "", label: "None" }, ...zoneChoices(plan)];
        show(zone, find(plan, "zones", kit.zone) ? kit.zone : "", zones);
      },
    };
  }

  #barrierKit() {
    const kinds = [
      { value: "fence", label: "Fence" },
      { value: "wall", label: "Wall" },
      { value: "hedge", label: "Hedge" },
    ];
    const kind = this.#kit("Kind", (v) => {
      this.drawing.setKit({ barrierKind: v });
      return null;
    });
    const height = this.#kit(
      "Height",
      (v) => {
        const read = parseLength(v, this.board.plan.show);
        if (!read.ok) return read.sentence;
        if (read.value <= 0 || read.value > 100) return "Type a height from 0.3 to 100 ft (30 m).";
        this.drawing.setKit({ barrierHeightFt: read.value });
        return null;
      },
      "text",
    );
    return {
      tools: ["tool.barrier"],
      el: h("div", { class: "kit-group" }, kind.el, height.el),
      show: () => {
        kind.show({ value: this.drawing.kit.barrierKind, mixed: false, choices: kinds });
        const value = lengthText(this.drawing.kit.barrierHeightFt, this.board.plan.show);
        height.show({ value, mixed: false, choices: [] });
      },
    };
  }

  #selectKit() {
    const made = (id: CommandID) => ({ id, el: this.#button(this.drawing.commands.get(id)) });
    const [fixed, possible, none, offers] = [onSelection, whenPossible, withNothing, sought].map((l) =>
      l.map(made),
    );
    const buttons = [...(fixed ?? []), ...(possible ?? []), ...(none ?? []), ...(offers ?? [])];
    for (const { id, el } of possible ?? []) el.classList.toggle("sometimes", seldom.has(id));
    const more = h("button", { type: "button", "aria-haspopup": "menu" }, "More…");
    more.addEventListener("click", () => openMenu(this.drawing, null, more));
    return {
      tools: ["tool.select", "tool.split", "tool.shareout", "edit.copies"],
      el: h("div", { class: "kit-group" }, ...buttons.map((b) => b.el), more),
      show: () => {
        const empty = this.board.selection.size === 0;
        more.hidden = empty && more !== document.activeElement;
        for (const { id, el } of possible ?? []) {
          el.hidden = this.drawing.commands.get(id).enabled() !== true && el !== document.activeElement;
        }
        for (const { el } of none ?? []) el.hidden = !empty;
        const { plan, selection } = this.board;
        const planting = empty || areasChosen(plan, selection).length === selection.size;
        for (const { id, el } of offers ?? []) {
          const can = planting && this.drawing.commands.get(id).enabled() === true;
          el.hidden = !can && el !== document.activeElement;
          el.classList.toggle("sometimes", !empty || id !== "head.arrange");
        }
      },
    };
  }
}

/** A toolbar is one stop of the Tab key; arrow keys move along it. */
function arrows(bar: HTMLElement): void {
  const all = (): HTMLElement[] => Array.from(bar.querySelectorAll<HTMLElement>("button"));
  for (const [i, b] of all().entries()) b.tabIndex = i === 0 ? 0 : -1;
  bar.addEventListener("keydown", (e) => {
    const list = all();
    const at = list.indexOf(document.activeElement as HTMLElement);
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[e.key];
    const to = step ? (at + step + list.length) % list.length : { Home: 0, End: list.length - 1 }[e.key];
    const next = to === undefined ? undefined : list[to];
    if (at < 0 || !next) return;
    e.preventDefault();
    for (const b of list) b.tabIndex = b === next ? 0 : -1;
    next.focus();
  });
}
