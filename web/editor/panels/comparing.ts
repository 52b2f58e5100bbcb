// The layouts offered side by side: a column for each, a row for each measure, the
// best of a row marked.

import type { Arranging, Column, OfferView } from "../arranging";
import { bestOf } from "../arranging";
import { ask, h } from "../dom";
import { picksPicture } from "./offerpicture";

/** Shows the table; what is chosen in it shows on the board at once. */
export async function compareOffers(a: Arranging, from: HTMLElement): Promise<void> {
  const v = a.view;
  if (!v) return;
  const pick = (o: OfferView, i: number): HTMLElement => {
    const radio = h("input", {
      type: "radio",
      name: "compare-offer",
      value: String(i),
      autofocus: i === a.chosen,
    });
    radio.checked = i === a.chosen;
    radio.addEventListener("change", () => a.choose(i));
    const picks = v.answers.flatMap((answer) => {
      const layout = o.picks.find((p) => p.area === answer.area)?.layout;
      return layout !== undefined ? [{ answer, layout }] : [];
    });
    return h(
      "th",
      { scope: "col" },
      h(
        "label",
        { class: "compare-pick" },
        h("span", { class: "offer-thumb" }, picksPicture(picks)),
        h("span", {}, radio, o.name),
      ),
    );
  };
  const row = (c: Column, i: number): HTMLElement => {
    const best = bestOf(
      c,
      v.offers.map((o) => o.figures[i]),
    );
    return h(
      "tr",
      {},
      h("th", { scope: "row" }, c.label),
      ...v.offers.map((o, k) => {
        const f = o.figures[i];
        const mark = best.has(k)
          ? h("span", { class: "best-mark", title: "The best of these" }, "best")
          : null;
        return h(
          "td",
          { "data-rank": f?.rank ?? null, class: best.has(k) ? "is-best" : null },
          f?.text ?? "",
          " ",
          mark,
        );
      }),
    );
  };
  const dialog = h(
    "dialog",
    { class: "roomy compare", "aria-labelledby": "compare-title" },
    h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "compare-title" }, "Layouts side by side"),
      h(
        "div",
        { class: "scroll", role: "region", "aria-label": "Layouts by measure", tabindex: "0" },
        h(
          "table",
          { class: "compare-table" },
          h("thead", {}, h("tr", {}, h("td", {}), ...v.offers.map(pick))),
          h("tbody", {}, ...v.columns.map(row)),
        ),
      ),
      h(
        "p",
        { class: "hint" },
        "As drawn is calm air and ideal nozzles; the field estimate is a typical installation, and what run times go by.",
      ),
      h("p", { class: "acts" }, h("button", { value: "done", class: "main" }, "Done")),
    ),
  );
  await ask(dialog);
  from.focus();
}
