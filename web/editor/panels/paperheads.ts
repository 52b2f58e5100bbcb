// The table of heads on paper: what is set out is measured from it, not from the
// picture above it.

import type { Design } from "../design";
import { h } from "../dom";
import { zoneLabel } from "../fields_heads";
import { angleText, lengthText, placeText } from "../format";
import { find, ids, type Plan, ref } from "../model";
import { capital, count, nameOf } from "../names";
import { rowName } from "../rownames";
import { areaOf, type Corner, place } from "../shape";
import { statusOf, statusWords } from "../statuses";
import { headsOf, zonesInOrder } from "../zoning";

const columns = ["Tag", "East", "North", "Nozzle", "Arc", "From", "Throw", "Body", "Zone"];

/** The cells of the table, a row for each head in the order they are flagged: by zone and tag, those in no zone last. */
export function headRows(p: Plan, design: Design | null): string[][] {
  return [...zonesInOrder(p), ""].flatMap((zone) => headsOf(p, zone)).map((id) => rowOf(p, design, id));
}

function rowOf(p: Plan, design: Design | null, id: string): string[] {
  const head = find(p, "heads", id);
  if (!head) return [];
  const n = find(p, "nozzles", head.nozzle);
  const body = find(p, "bodies", head.body);
  const status = statusWords("heads", statusOf(p, ref("heads", id)));
  const set = head.throw_ft === undefined ? "" : lengthText(head.throw_ft, p.show);
  return [
    [head.tag || "no tag", status].filter((w) => w !== "").join(", "),
    lengthText(head.x_ft, p.show),
    lengthText(head.y_ft, p.show),
    n ? rowName(n, p.show) : head.nozzle,
    n?.strip ? "strip" : angleText(head.sweep_deg || 360),
    angleText(head.start_deg ?? 0),
    design?.heads[id]?.throw ?? set,
    body ? rowName(body, p.show) : head.body,
    zoneLabel(p, head.zone ?? "") || "none",
  ];
}

/** From what the places of the table can be found on the ground: two corners of something that stands. */
export function startingPlaces(p: Plan): string {
  const biggest = (kind: string): string | undefined =>
    ids(p, "areas")
      .filter((id) => find(p, "areas", id)?.kind === kind)
      .sort(
        (a, b) => areaOf(find(p, "areas", b)?.outline ?? []) - areaOf(find(p, "areas", a)?.outline ?? []),
      )[0];
  const house = biggest("building");
  const lot: readonly Corner[] | undefined = p.site?.lot;
  const corners = house ? find(p, "areas", house)?.outline : lot;
  const [a, b] = corners ?? [];
  if (!a || !b) return "";
  const of = house ? capital(nameOf(p, ref("areas", house))) : "The property line";
  return `${of} has corners at ${placeText(place(a), p.show)} and at ${placeText(place(b), p.show)}: start from them.`;
}

/** The table with what is to be known before measuring; nothing while there is no head. */
export function headTable(p: Plan, design: Design | null, originShown: boolean): HTMLElement[] {
  const rows = headRows(p, design);
  if (rows.length === 0) return [];
  const marked = originShown ? ", marked in the picture" : ", outside the picture";
  const says = [
    `East and north of the plan’s 0, 0${marked}.`,
    startingPlaces(p),
    "Arcs run anticlockwise from the direction in the column From: 0° is the plan’s east, 90° up the sheet. Throw is as it will be set.",
  ];
  const cell = (text: string, i: number): HTMLElement =>
    i === 0 ? h("th", { scope: "row" }, text) : h("td", { class: i < 3 ? "figure" : null }, text);
  return [
    h("h2", {}, `Table of heads: ${count(rows.length, "head")}`),
    h("p", {}, says.filter((t) => t !== "").join(" ")),
    h(
      "table",
      { class: "wide" },
      h("thead", {}, h("tr", {}, ...columns.map((t) => h("th", { scope: "col" }, t)))),
      h("tbody", {}, ...rows.map((r) => h("tr", {}, ...r.map(cell)))),
    ),
  ];
}
