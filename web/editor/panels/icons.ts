// Small line drawings for the tools, on a field of 24 by 24.

const lines: Record<string, string> = {
  "tool.select": "M6 3 L6 19 L10.2 15.2 L13 21 L15.6 19.8 L12.8 14.2 L18.5 13.8 Z",
  "tool.outline": "M4 18 L8 5 L17 4 L20 13 L13 20 Z M4 18 h.01 M8 5 h.01 M17 4 h.01 M20 13 h.01 M13 20 h.01",
  "tool.rectangle": "M4 6 H20 V18 H4 Z",
  "tool.round": "M12 4 A8 8 0 1 1 11.99 4 M12 12 L18 7",
  "tool.barrier": "M3 9 H21 M3 15 H21 M6 5 V20 M12 5 V20 M18 5 V20",
  "tool.tree": "M12 3 A6.5 6.5 0 1 1 11.99 3 M12 13 V21 M12 16 L15 13",
  "tool.keepdry": "M5 21 L12 3 L19 21 Z M12 10 V15 M12 18 h.01",
  "tool.note": "M5 4 H19 V15 L14 20 H5 Z M14 20 V15 H19 M8 9 H16 M8 13 H12",
  "tool.head":
    "M5 20 A15 15 0 0 1 20 5 M10 20 A10 10 0 0 1 20 10 M19 19 h.01 M17.6 19 A1.4 1.4 0 1 1 17.6 19.01",
  "tool.tape": "M3 20 H21 M3 20 V17 M9 20 V18 M15 20 V18 M21 20 V17 M12 20 V7 M12 7 h.01 M9.5 17.5 H12",
  "tool.height": "M6 6 L18 18 M18 6 L6 18 M12 12 h.01",
  "tool.fixture": "M4 7 L20 17 V7 L4 17 Z M12 12 V4 M9 4 H15",
  "tool.pipe": "M3 18 H10 A3 3 0 0 0 13 15 V9 A3 3 0 0 1 16 6 H21 M13 18 H21 M13 18 h.01 M3 15 V21",
  "tool.sleeve": "M6 3 V21 M18 3 V21 M2 9 H22 M2 15 H22 M2 12 h.01 M12 12 h.01 M22 12 h.01",
  "tool.wire": "M4 4 H9 V9 H4 Z M9 6.5 C16 6.5 8 17 15 17 M15 14 V20 M15 15.5 H19 M15 18.5 H19",
  "tool.picture": "M3 5 H21 V19 H3 Z M3 16 L9 10 L14 15 L17 12 L21 16 M16 8.6 h.01",
  "tool.measure": "M3 15 L15 3 L21 9 L9 21 Z M7 11 L9.5 13.5 M10 8 L12 10 M13 5 L15.5 7.5",
  "layer.eye": "M3 12 C7 5 17 5 21 12 C17 19 7 19 3 12 Z M12 9.5 A2.5 2.5 0 1 1 11.99 9.5",
  "layer.shut": "M3 11 C7 17 17 17 21 11 M6 14 L4.5 16.5 M10 16 L9.5 19 M14 16 L14.5 19 M18 14 L19.5 16.5",
  "layer.locked": "M6 11 H18 V20 H6 Z M8.5 11 V8 A3.5 3.5 0 0 1 15.5 8 V11 M12 14.5 V16.5",
  "layer.free": "M6 11 H18 V20 H6 Z M8.5 11 V7 A3.5 3.5 0 0 1 15.2 5.6 M12 14.5 V16.5",
  "edit.mirror": "M12 3 V21 M9 7 L3 17 H9 Z M15 7 L21 17 H15 Z",
  "edit.turn": "M6 9 A8 8 0 1 1 4 14 M6 3 V9 H12 M12 13 h.01",
  "edit.copies":
    "M4 18 h.01 M9.3 18 h.01 M14.7 18 h.01 M20 18 h.01 M3 21 H21 M4 15 A3 3 0 0 1 6 12 M9 14 A5 5 0 0 1 12 9 M14 13 A8 8 0 0 1 20 6",
  "head.arrange":
    "M4 4 H20 V20 H4 Z M4 10 A6 6 0 0 0 10 4 M14 4 A6 6 0 0 0 20 10 M20 14 A6 6 0 0 0 14 20 M10 20 A6 6 0 0 0 4 14",
  "head.improve":
    "M4 20 A16 16 0 0 1 12 6 M4 12 A8 8 0 0 1 9 8 M15 17 L18 14 L21 17 M18 14 V21 M16 5 h.01 M20 8 h.01",
  "zone.group":
    "M5 6 h.01 M9 4 h.01 M8 9 h.01 M3 12 H12 V2 M15 13 h.01 M19 12 h.01 M17 17 h.01 M12 21 V10 H21",
  "pipe.route": "M3 19 H9 V11 H15 V5 H21 M3 16 V22 M9 11 h.01 M15 5 h.01 M17 15 L21 19 M21 15 L17 19",
  "plan.water": "M10 3 L14.5 9.5 A5.5 5.5 0 1 1 5.5 9.5 Z M17 14 A4.5 4.5 0 1 1 16.9 14 M17 16.5 V18.5 H19",
  "plan.rules": "M3 8 H21 V15 H3 Z M7 8 V11 M11 8 V12 M15 8 V11 M19 8 V11",
  "view.in": "M5 12 H19 M12 5 V19",
  "view.out": "M5 12 H19",
  "view.fit": "M4 9 V4 H9 M15 4 H20 V9 M20 15 V20 H15 M9 20 H4 V15",
  "view.selection": "M4 9 V4 H9 M15 4 H20 V9 M20 15 V20 H15 M9 20 H4 V15 M9 12 A3 3 0 1 1 9 12.01",
};

const svg = "http://www.w3.org/2000/svg";

/** The drawing of a command; null when it has none. */
export function icon(command: string): SVGSVGElement | null {
  const d = lines[command];
  if (!d) return null;
  const el = document.createElementNS(svg, "svg");
  el.setAttribute("viewBox", "0 0 24 24");
  el.setAttribute("class", "icon");
  el.setAttribute("aria-hidden", "true");
  const path = document.createElementNS(svg, "path");
  path.setAttribute("d", d);
  el.append(path);
  return el;
}
