// What the page offers besides the board's commands, found where it stands: the
// files of Export, the plan's settings, the panels and tables, the other pages,
// and the light. A button that comes into the bar is in the list by itself.

export interface PageAction {
  readonly key: string;
  readonly title: string;
  readonly detail: string;
  /** For what is open or chosen, and what that is called. */
  on?(): boolean;
  readonly onWord: string;
  run(): void;
}

/** Buttons of the bar that are commands of the board anyway, or this very list. */
const elsewhere = "#undo, #redo, #keys, [data-command], [data-runs], summary";

export function pageActions(): PageAction[] {
  return [...tables(), ...bar(), ...lights()];
}

function tables(): PageAction[] {
  return all<HTMLElement>("[role=tab]").map((tab) => ({
    key: `page ${tab.id}`,
    title: words(tab),
    detail: tab.closest("#drawer") ? "Opens the table under the board." : "Opens the panel beside the board.",
    on: () => tab.getAttribute("aria-selected") === "true",
    onWord: "open",
    run: () => {
      if (tab.getAttribute("aria-selected") !== "true") tab.click();
      tab.focus();
    },
  }));
}

function bar(): PageAction[] {
  const found = all<HTMLElement>("#bar a, #bar button").filter((el) => !el.matches(elsewhere));
  return found.map((el, i) => {
    const file = el instanceof HTMLAnchorElement && el.hasAttribute("download");
    const page = el instanceof HTMLAnchorElement && !file;
    const title = page ? `${words(el)} page` : file ? `Export ${words(el)}` : words(el);
    const detail = file ? "Saves the file." : page ? "Leaves the board; everything is kept." : el.title;
    return { key: `page ${el.id || i} ${title}`, title, detail, onWord: "", run: () => el.click() };
  });
}

function lights(): PageAction[] {
  const select = document.querySelector<HTMLSelectElement>("#theme");
  if (!select) return [];
  return Array.from(select.options, (o) => ({
    key: `light ${o.value}`,
    title: o.value === "" ? "System theme" : `${o.label} theme`,
    detail: "Light or dark, for this browser.",
    on: () => select.value === o.value,
    onWord: "chosen",
    run: () => {
      select.value = o.value;
      select.dispatchEvent(new Event("change", { bubbles: true }));
    },
  }));
}

const all = <E extends Element>(selector: string): E[] => Array.from(document.querySelectorAll<E>(selector));

const words = (el: Element): string => (el.textContent ?? "").replace(/\s+/g, " ").replace(/…$/, "").trim();
