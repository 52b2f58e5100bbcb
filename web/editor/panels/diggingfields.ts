// Settings that come before the work: the locate request.

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

function withSite(p: Plan, key: "locate_on" | "locate_ticket", value: string): Plan {
  const { [key]: _old, ...rest } = p.site ?? ({} as Site);
  return { ...p, site: value ? { ...rest, [key]: value } : rest };
}

/** Whether a text is a day of the calendar as YYYY-MM-DD. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}
