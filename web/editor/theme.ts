// Light or dark: as the system says, unless the user chose; on paper always light.

import type { Theme } from "./palette";

const key = "evenfall-theme";
const dark = (): MediaQueryList => matchMedia("(prefers-color-scheme: dark)");

const chosen = (): string => localStorage.getItem(key) ?? "";

/** The theme in force. */
export function theme(): Theme {
  const own = chosen();
  if (own === "light" || own === "dark") return own;
  return dark().matches ? "dark" : "light";
}

const listeners: ((t: Theme) => void)[] = [];

/** Calls fn whenever another theme comes into force. */
export function whenThemed(fn: (t: Theme) => void): void {
  listeners.push(fn);
}

function tell(t: Theme): void {
  for (const fn of listeners) fn(t);
}

/** Puts the choice in force and keeps the page's list of themes in step. */
export function followTheme(): void {
  const list = document.getElementById("theme") as HTMLSelectElement | null;
  const apply = (): void => {
    const own = chosen();
    if (own) document.documentElement.dataset.theme = own;
    else delete document.documentElement.dataset.theme;
    if (list) list.value = own;
    tell(theme());
  };
  list?.addEventListener("change", () => {
    if (list.value) localStorage.setItem(key, list.value);
    else localStorage.removeItem(key);
    apply();
  });
  dark().addEventListener("change", apply);
  window.addEventListener("beforeprint", () => tell("light"));
  window.addEventListener("afterprint", () => tell(theme()));
  apply();
}
