// Rows of tabs: arrow keys move along them, one panel shows at a time.

import { setAttr } from "../dom";

export class Tabs {
  readonly #tabs: HTMLElement[];
  #open: string | null = null;

  /** closable: pressing the open tab closes its panel. */
  constructor(
    list: Element,
    readonly closable: boolean,
    readonly onShow: (panel: string | null) => void = () => {},
  ) {
    this.#tabs = Array.from(list.querySelectorAll<HTMLElement>("[role=tab]"));
    for (const tab of this.#tabs) {
      tab.addEventListener("click", () => this.#press(tab));
      tab.addEventListener("keydown", (e) => this.#key(e, tab));
    }
    this.#open = panelOf(this.#tabs.find((t) => t.getAttribute("aria-selected") === "true"));
  }

  get open(): string | null {
    return this.#open;
  }

  show(panel: string | null): void {
    this.#open = panel;
    for (const tab of this.#tabs) {
      const on = panelOf(tab) === panel;
      setAttr(tab, "aria-selected", String(on));
      tab.tabIndex = on || (panel === null && tab === this.#tabs[0]) ? 0 : -1;
      const el = document.getElementById(panelOf(tab) ?? "");
      if (el) el.hidden = !on;
    }
    this.onShow(panel);
  }

  #press(tab: HTMLElement): void {
    const panel = panelOf(tab);
    this.show(this.closable && panel === this.#open ? null : panel);
  }

  #key(e: KeyboardEvent, tab: HTMLElement): void {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
    const n = this.#tabs.length;
    const at = this.#tabs.indexOf(tab);
    const to = step ? (at + step + n) % n : { Home: 0, End: n - 1 }[e.key];
    const next = to === undefined ? undefined : this.#tabs[to];
    if (!next) return;
    e.preventDefault();
    this.show(panelOf(next));
    next.focus();
  }
}

const panelOf = (tab: Element | undefined): string | null => tab?.getAttribute("aria-controls") ?? null;
