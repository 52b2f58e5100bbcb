// Settings that come before the work: the locate request, permit and licence.

import { type Read, read, refuse } from "../length";
import type { Plan, Site } from "../model";

/** What always holds, whatever the plan says. */
export const diggingCaution =
  "Call the utilities’ locating service two to three working days before digging, and wait until every line is marked. Private lines are yours to find; local law decides.";

/** The plan with the day of the locate request, or without one when the text is empty. */
export function withLocateDay(p: Plan, typed: string): Read<Plan> {
  const day = typed.trim();
  if (day !== "" && !isDay(day))
    return refuse("Type the day of the request as 2026-05-31, or leave it empty.");
  return read(withSite(p, "locate_on", day));
}

/** The plan with the ticket of the locate request, or without one. */
export const withLocateTicket = (p: Plan, typed: string): Read<Plan> =>
  typed.trim().length > 200
    ? refuse("Type a ticket of at most 200 characters.")
    : read(withSite(p, "locate_ticket", typed.trim()));

/** The papers that others give before the work, and the test after it, as the form asks for them. */
export const permitFields: readonly {
  key:
    | "address"
    | "permit"
    | "permit_on"
    | "licence"
    | "association_on"
    | "right_of_way_on"
    | "backflow_tested_on";
  label: string;
  hint: string;
  day: boolean;
}[] = [
  { key: "address", label: "Address", hint: "of the property", day: false },
  { key: "licence", label: "Who signs", hint: "with their licence", day: false },
  { key: "permit", label: "Permit", hint: "its number", day: false },
  { key: "permit_on", label: "Permit given on", hint: "day", day: true },
  { key: "association_on", label: "Owners’ association approved on", hint: "if there is one", day: true },
  { key: "right_of_way_on", label: "Right of way leave given on", hint: "for work in the verge", day: true },
  { key: "backflow_tested_on", label: "Backflow device tested on", hint: "by a licensed tester", day: true },
];

/** What the form says above them. */
export const permitCaution =
  "Printed on the covers of the papers; days are typed as 2026-05-31. Whether a permit is needed and who may sign goes by local law; many places want a licensed irrigator or plumber and a yearly test of the backflow device.";

/** The plan with one of them, or without it when the text is empty. */
export function withPermitField(p: Plan, field: (typeof permitFields)[number], typed: string): Read<Plan> {
  const text = typed.trim();
  if (field.day && text !== "" && !isDay(text))
    return refuse("Type the day as 2026-05-31, or leave it empty.");
  return text.length > 200 ? refuse("Type at most 200 characters.") : read(withSite(p, field.key, text));
}

function withSite(
  p: Plan,
  key: "locate_on" | "locate_ticket" | (typeof permitFields)[number]["key"],
  value: string,
): Plan {
  const { [key]: _old, ...rest } = p.site ?? ({} as Site);
  return { ...p, site: value ? { ...rest, [key]: value } : rest };
}

/** Whether a text is a day of the calendar as YYYY-MM-DD. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}
