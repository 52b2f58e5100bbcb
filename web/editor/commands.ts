// The one register of what the board can be told to do. The toolbar, its
// tooltips, the keys and the help sheet are all made from this table.

/** Where a key works: on the board only while the board has focus, or anywhere but in a text field. */
export type Where = "board" | "page";

export const groups = ["Draw", "Aids", "View", "Edit", "Heads", "Plan"] as const;
export type Group = (typeof groups)[number];

interface Row {
  readonly title: string;
  readonly group: Group;
  readonly keys: readonly string[];
  readonly where: Where;
  /** One line for the tooltip and the help sheet. */
  readonly says: string;
  /** Other words it is looked for by, in the list of commands. */
  readonly also?: string;
}

/**
 * What each command is called and its keys. A key is written as on a key cap,
 * with Ctrl, Alt and Shift in that order; Ctrl stands for Cmd on a Mac. Letters
 * are capital. A lone character key is board-only (WCAG 2.2, 2.1.4).
 */
export const table = {
  "tool.select": row(
    "Select",
    "Draw",
    ["V"],
    "board",
    "Click, Shift-click or drag a box; drag to move.",
    "pick arrow pointer move",
  ),
  "tool.outline": row(
    "Outline",
    "Draw",
    ["A"],
    "board",
    "Click corners or type lengths; Enter closes.",
    "polygon shape lawn bed area draw boundary",
  ),
  "tool.rectangle": row(
    "Rectangle",
    "Draw",
    ["R"],
    "board",
    "Two corners, or type width x depth.",
    "square box lawn bed area draw",
  ),
  "tool.round": row(
    "Circle",
    "Draw",
    ["C"],
    "board",
    "Centre, then radius; type two for an oval.",
    "oval ellipse round bed pond draw",
  ),
  "tool.barrier": row(
    "Wall or fence",
    "Draw",
    ["B"],
    "board",
    "A line that stops water below its height.",
    "hedge barrier block screen",
  ),
  "tool.tree": row("Tree", "Draw", ["T"], "board", "One click sets the trunk.", "trunk shrub root plant"),
  "tool.keepdry": row(
    "Keep dry",
    "Draw",
    ["K"],
    "board",
    "Marks a thing water must not reach.",
    "avoid meter window box utility electric no spray",
  ),
  "tool.note": row(
    "Note",
    "Draw",
    ["N"],
    "board",
    "Pins a remark to a place.",
    "text remark comment label write",
  ),
  "tool.head": row(
    "Head",
    "Draw",
    ["H"],
    "board",
    "One click sets a head; its arc follows the edge.",
    "sprinkler spray rotor nozzle emitter pop-up stream",
  ),
  "tool.tape": row(
    "By tape",
    "Draw",
    ["Y"],
    "board",
    "Corners from offsets, from two or three tapes, from sides and turns.",
    "measure survey triangle baseline offset site notes",
  ),
  "tool.height": row(
    "Spot height",
    "Draw",
    ["Z"],
    "board",
    "One click, then the level of the ground.",
    "level elevation slope grade contour",
  ),
  "tool.fixture": row(
    "Fixture",
    "Draw",
    ["U"],
    "board",
    "Sets a valve, controller, outlet, sensor, splice box or the point of connection.",
    "valve box controller timer clock outlet plug splice junction rain sensor meter tap hose bib connection backflow main pipe water",
  ),
  "tool.pipe": row(
    "Pipe",
    "Draw",
    ["Shift+P"],
    "board",
    "From the supply to the heads; joins what it passes, branches from any pipe.",
    "main lateral tee trench plumbing",
  ),
  "tool.sleeve": row(
    "Sleeve",
    "Draw",
    ["Shift+V"],
    "board",
    "From beyond one edge of paving to beyond the other; holds a pipe, wire or a spare.",
    "bore crossing under paving casing tube",
  ),
  "tool.wire": row(
    "Wire",
    "Draw",
    ["Shift+C"],
    "board",
    "Where control wire lies by itself: from the controller to the trenches, to a sensor.",
    "cable conductor controller low voltage electric",
  ),
  "tool.picture": row(
    "Picture",
    "Draw",
    ["P"],
    "board",
    "Scales the picture under the plan by a known distance, checks it by another, levels it.",
    "photo image aerial satellite scan trace background underlay",
  ),
  "tool.measure": row(
    "Measure",
    "Draw",
    ["M"],
    "board",
    "Lengths and area; leaves nothing on the plan.",
    "distance ruler length dimension size area",
  ),
  "draw.kind": row(
    "Next kind of area",
    "Draw",
    ["Q"],
    "board",
    "Planting, building, paving and so on; last the property line.",
  ),
  "draw.planting": row(
    "Draw planting",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "lawn grass turf bed flowers shrubs vegetables garden",
  ),
  "draw.building": row(
    "Draw a building",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "house home garage shed roof",
  ),
  "draw.paving": row(
    "Draw paving",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "driveway drive walk path patio concrete asphalt deck terrace",
  ),
  "draw.ground": row(
    "Draw bare ground",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "gravel mulch dirt rock",
  ),
  "draw.right_of_way": row(
    "Draw street or neighbour",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "right of way road sidewalk parkway easement",
  ),
  "draw.no_dig": row(
    "Draw no-dig ground",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "septic utility easement roots buried",
  ),
  "draw.water": row(
    "Draw water",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "pool pond stream fountain",
  ),
  "draw.lot": row(
    "Draw the property line",
    "Draw",
    [],
    "board",
    "An outline of this kind, with the area tool in hand.",
    "lot boundary parcel plot yard",
  ),
  "draw.fence": row(
    "Draw a fence",
    "Draw",
    [],
    "board",
    "A line that stops water below its height.",
    "barrier pickets",
  ),
  "draw.wall": row(
    "Draw a wall",
    "Draw",
    [],
    "board",
    "A line that stops water below its height.",
    "barrier masonry retaining",
  ),
  "draw.hedge": row(
    "Draw a hedge",
    "Draw",
    [],
    "board",
    "A line that stops water below its height.",
    "barrier bushes shrubs",
  ),
  "draw.hole": row(
    "Draw as hole",
    "Draw",
    ["X"],
    "board",
    "The next outline is cut out of the area around it.",
    "island cut-out bed inside",
  ),

  "draw.type": row(
    "Type numbers",
    "Draw",
    ["'"],
    "board",
    "Opens the box for lengths and places, as a digit does.",
  ),
  "draw.side": row("Other side", "Draw", ["Shift+S"], "board", "By tape: off to the other side of the line."),
  "draw.end": row(
    "Other end",
    "Draw",
    ["Shift+Y"],
    "board",
    "By tape: along from the other end of the line.",
  ),
  "draw.base": row(
    "New base",
    "Draw",
    ["Shift+U"],
    "board",
    "By tape: chooses another line or other known points.",
  ),

  "aid.snap": row(
    "Snap",
    "Aids",
    ["S"],
    "board",
    "Pulls the pointer to corners, middles and edges.",
    "magnet stick align",
  ),
  "aid.grid": row("Grid", "Aids", ["G"], "board", "Shows or hides the grid."),
  "aid.gridsnap": row("Snap to grid", "Aids", ["Shift+G"], "board", "Rounds places to the grid step."),
  "aid.ortho": row(
    "Square",
    "Aids",
    ["O", "F8"],
    "board",
    "Holds lines to 90 and 45 degrees.",
    "right angle straight ortho perpendicular",
  ),

  "view.in": row(
    "Zoom in",
    "View",
    ["+", "="],
    "board",
    "About the pointer, or the middle.",
    "bigger enlarge magnify closer",
  ),
  "view.out": row("Zoom out", "View", ["-"], "board", "About the pointer, or the middle.", "smaller farther"),
  "view.fit": row(
    "Whole plan",
    "View",
    ["F"],
    "board",
    "Shows everything drawn.",
    "zoom all everything extents fit home",
  ),
  "view.selection": row("Show selection", "View", ["Shift+F"], "board", "Zooms to what is selected."),
  "view.wheel": row(
    "Wheel moves the view",
    "View",
    ["Shift+W"],
    "board",
    "For mice and pads that prefer it.",
  ),
  "view.pen": row(
    "Fingers only move",
    "View",
    [],
    "board",
    "For a pen: it draws, one finger moves the view, two also zoom.",
    "tablet touch stylus palm finger",
  ),
  "view.layers": row(
    "Layers",
    "View",
    ["Shift+L"],
    "board",
    "Hides, locks and fades parts of the drawing.",
    "hide show lock visibility pipes",
  ),

  "view.contours": row(
    "Contour lines",
    "View",
    [],
    "board",
    "Shows or hides the lines of the ground between the spot heights.",
    "slope level elevation relief terrain grade",
  ),

  "water.drawn": row(
    "Water as drawn",
    "View",
    [],
    "board",
    "Map and readings of the drawing: calm air, ideal nozzles.",
  ),
  "water.running": row(
    "Water with the zones running",
    "View",
    [],
    "board",
    "Map and readings at the pressures the heads really have through their pipes.",
    "real pressure true starved hydraulic pipes live",
  ),
  "water.field": row(
    "Water in the field",
    "View",
    [],
    "board",
    "Map and readings of a typical installation, set out by hand.",
    "real dry evenness uniformity estimate",
  ),
  "water.windy": row(
    "Water on a windy day",
    "View",
    [],
    "board",
    "Map and readings in the plan's wind; how far it carries is an assumption.",
    "breeze gust drift",
  ),

  "view.velocity": row(
    "Pipes by velocity",
    "View",
    [],
    "board",
    "Colours the pipes by how fast the water goes, with arrows and figures; again for plain.",
    "speed ft/s colour color flow arrows hydraulic",
  ),
  "view.pressure": row(
    "Pipes by pressure",
    "View",
    [],
    "board",
    "Colours the pipes by the pressure left in them, with arrows and figures; again for plain.",
    "psi bar colour color loss hydraulic",
  ),
  "plan.budget": row(
    "Pressure budget",
    "View",
    [],
    "board",
    "What each zone's worst head has left of the street's pressure, step by step.",
    "psi loss worst head table",
  ),

  "edit.undo": row(
    "Undo",
    "Edit",
    ["Ctrl+Z"],
    "page",
    "Takes back the last step; while drawing, the last corner.",
    "back revert mistake",
  ),
  "edit.redo": row("Redo", "Edit", ["Ctrl+Shift+Z", "Ctrl+Y"], "page", "Does the step again."),
  "edit.copy": row("Copy", "Edit", ["Ctrl+C"], "page", "Keeps the selection for pasting."),
  "edit.paste": row("Paste", "Edit", ["Ctrl+V"], "page", "Puts the copy down at the pointer."),
  "edit.duplicate": row(
    "Duplicate",
    "Edit",
    ["Ctrl+D"],
    "page",
    "A second one beside the first.",
    "copy clone twice",
  ),
  "edit.delete": row(
    "Delete",
    "Edit",
    ["Delete", "Backspace"],
    "board",
    "Removes the selection or the corner in hand.",
    "remove erase clear rubbish trash",
  ),
  "edit.all": row("Select all", "Edit", ["Ctrl+A"], "page", "Everything that is not locked."),
  "edit.allheads": row("Select all heads", "Edit", [], "board", "Every head that is not locked."),
  "edit.samekind": row(
    "Select same kind",
    "Edit",
    [],
    "board",
    "All of the kind selected; of heads, those with the same nozzle.",
  ),
  "edit.next": row("Next thing", "Edit", ["PageDown"], "board", "Moves to the next thing on the plan."),
  "edit.previous": row("Previous thing", "Edit", ["PageUp"], "board", "Moves to the thing before."),
  "edit.grip": row(
    "Next handle",
    "Edit",
    ["E"],
    "board",
    "Takes a corner, arc end or throw in hand for the arrows.",
  ),
  "edit.gripback": row("Previous handle", "Edit", ["Shift+E"], "board", "The handle before."),
  "edit.corner": row(
    "Add corner",
    "Edit",
    ["Insert", "I"],
    "board",
    "A new corner in the middle of the edge in hand.",
    "vertex point node",
  ),
  "edit.bow": row(
    "Bow edge",
    "Edit",
    ["W"],
    "board",
    "Makes the edge in hand an arc, or straight again; type a radius.",
    "curve arc round bend",
  ),
  "edit.makehole": row(
    "Make hole",
    "Edit",
    ["Shift+X"],
    "board",
    "Turns the selected area into a hole of the one around it.",
  ),
  "tool.split": row(
    "Split",
    "Edit",
    ["D"],
    "board",
    "Parts the selected area along a line of two places, a wall at a corner.",
    "cut divide slice",
  ),
  "tool.shareout": row(
    "Share out",
    "Edit",
    ["Shift+T"],
    "board",
    "Moves selected corners a little so that the drawing agrees with the ties measured to them.",
  ),
  "edit.join": row(
    "Join",
    "Edit",
    ["J"],
    "board",
    "Makes one of two areas that share an edge or overlap, or of two walls whose ends meet.",
    "merge unite combine weld",
  ),
  "draw.continue": row("Continue", "Edit", ["Shift+B"], "board", "Goes on from an end of the selected wall."),
  "edit.lock": row(
    "Lock",
    "Edit",
    ["L"],
    "board",
    "Keeps the selection where it is.",
    "freeze fix pin unlock",
  ),
  "edit.mirror": row(
    "Mirror",
    "Edit",
    ["Shift+M"],
    "board",
    "Mirrors the selection, or a copy of it, in a line of two places or typed.",
    "flip reflect opposite",
  ),
  "edit.turn": row(
    "Turn",
    "Edit",
    ["Shift+R"],
    "board",
    "Turns the selection by a typed or dragged angle, or lays an edge of it along another.",
    "rotate spin angle",
  ),
  "edit.copies": row(
    "Copies",
    "Edit",
    ["Shift+D"],
    "board",
    "Copies the selection along an edge, in a grid or round a centre, by number or spacing.",
    "array repeat row line pattern along spacing space evenly",
  ),

  "head.left": row("Turn arc left", "Heads", ["["], "board", "15 degrees anticlockwise."),
  "head.right": row("Turn arc right", "Heads", ["]"], "board", "15 degrees clockwise."),
  "head.narrower": row("Narrow arc", "Heads", ["{"], "board", "15 degrees less."),
  "head.wider": row("Widen arc", "Heads", ["}"], "board", "15 degrees more."),
  "head.shorter": row("Shorten throw", "Heads", [","], "board", "1 ft less, or 0.5 m."),
  "head.longer": row(
    "Lengthen throw",
    "Heads",
    ["."],
    "board",
    "1 ft more, or 0.5 m, up to the nozzle's own.",
  ),

  "head.arrange": row(
    "Arrange heads",
    "Heads",
    ["Shift+A"],
    "board",
    "Seeks layouts for planting areas and offers a few; what is locked stays.",
    "automatic place layout auto design spacing sprinkler propose offer",
  ),
  "head.improve": row(
    "Improve the layout",
    "Heads",
    ["Shift+I"],
    "board",
    "Seeks the fewest changes that cure what is dry, unmatched or wetted past the edge.",
    "mend fix dry patch brown automatic better uniformity propose",
  ),
  "zone.group": row(
    "Group heads into zones",
    "Heads",
    ["Shift+Z"],
    "board",
    "Seeks the fewest zones that the water can feed, and offers them.",
    "zoning stations automatic divide split circuit valves manifold propose",
  ),
  "plan.rules": row(
    "Local rules",
    "Plan",
    [],
    "page",
    "Set-backs and bands without spray: the usual distances, and your own.",
    "code setback set-back distance paving strip no spray regulation ordinance",
  ),

  "proof.audit": row(
    "Catch-can audit",
    "Plan",
    ["Shift+O"],
    "board",
    "Sets out cans, takes what they caught, and shows the water measured beside the water predicted.",
    "test catch cup uniformity evenness du measured proof check",
  ),
  "proof.cans": row(
    "Catch can",
    "Draw",
    ["Shift+K"],
    "board",
    "One click sets a can of the audit in view.",
    "audit cup test catchment",
  ),
  "proof.built": row(
    "Record where it went",
    "Edit",
    ["Shift+J"],
    "board",
    "Moves the selected head, valve, box or sleeve to where it was found, and keeps where it was drawn.",
    "as built record drawing measured installed",
  ),
  "plan.yard": row(
    "In the yard",
    "Plan",
    ["Shift+H"],
    "board",
    "The page to start the system up, find wires, set nozzles and read cans with one hand.",
    "start-up log tablet wires audit proof retrofit photographs checklist",
  ),
  "plan.enter": row(
    "Set or finish",
    "Plan",
    ["Enter"],
    "board",
    "Sets a point at the crosshair; else closes the outline.",
  ),
  "plan.finish": row("Finish", "Plan", ["Ctrl+Enter"], "board", "Closes the outline or ends the line."),
  "plan.stop": row(
    "Stop the work",
    "Plan",
    ["Ctrl+."],
    "page",
    "Calls off what is being worked out; Escape does too.",
    "cancel abort",
  ),
  "plan.back": row("Back out", "Plan", ["Escape"], "board", "Leaves one thing at a time."),
  "plan.commands": row(
    "Commands",
    "Plan",
    ["Ctrl+K", "Ctrl+/"],
    "page",
    "Lists everything that can be done; type a few letters of it.",
  ),
  "plan.find": row(
    "Find",
    "Plan",
    ["Ctrl+F"],
    "page",
    "Finds a thing by name, tag, kind, nozzle, zone or words.",
    "search look for locate",
  ),
  "plan.findnext": row("Find next", "Plan", ["F3"], "page", "Goes to the next thing found."),
  "plan.findback": row("Find previous", "Plan", ["Shift+F3"], "page", "Goes to the thing found before."),
  "plan.water": row(
    "Watering program",
    "Plan",
    ["F4"],
    "page",
    "Works out which days, starts and minutes to key in, month by month, and what hinders.",
    "schedule irrigation season run times minutes timer clock controller calendar days hours climate et evapotranspiration soak",
  ),
  "plan.supply": row(
    "Water supply",
    "Plan",
    ["F9"],
    "page",
    "What is known of the water, what limits its flow, and the backflow device.",
    "meter pressure psi flow gpm well pump backflow breaker freeze service static measure",
  ),
  "pipe.route": row(
    "Route pipes and wire",
    "Plan",
    ["Shift+N"],
    "board",
    "Seeks where main, laterals and wire go for the least digging, with sleeves, and offers it.",
    "trench automatic path lay connect propose dig shortest",
  ),
  "plan.trenches": row(
    "Trenches and wire",
    "View",
    [],
    "board",
    "Tables of what is dug, of crossings and sleeves, boxes, and wire to each valve.",
    "dig bore depth volts splice gauge list",
  ),
  "view.trenches": row(
    "Show trenches",
    "View",
    [],
    "board",
    "Shows or hides what is dug, its crossings and boxes on the board.",
    "dig layer ditch",
  ),
  "plan.parts": row(
    "Parts and prices",
    "View",
    [],
    "board",
    "The list of what to buy, by zone and in total, with what it costs.",
    "materials buy list bill shopping cost",
  ),
  "plan.prices": row(
    "Bring prices",
    "Plan",
    [],
    "page",
    "Takes your own price list, a CSV file, once it was shown what it does.",
    "import cost money shop csv",
  ),
  "plan.rates": row(
    "Rates of the quote",
    "Plan",
    [],
    "page",
    "What you ask for trench, heads and valves, rentals, mark-up and tax.",
    "labour labor money currency tax rent notes",
  ),
  "plan.quote": row(
    "Quote",
    "Plan",
    [],
    "page",
    "The page that says what parts and work come to, to be printed.",
    "estimate offer bid money total price print",
  ),
  "plan.papers": row(
    "Papers",
    "Plan",
    [],
    "page",
    "Packs of sheets for the crew, the owner and the office: to look at, print to scale and save as PDF.",
    "pdf print sheets drawing stake-out blueprint layout scale download dxf svg export install winter card",
  ),
  "plan.compare": row(
    "Compare parts",
    "Plan",
    [],
    "page",
    "This plan against an earlier state of it: what differs in parts, and in money.",
    "alternative difference cheaper version",
  ),
  "plan.figures": row(
    "Figures to reckon with",
    "Plan",
    [],
    "page",
    "What digging costs, depths, sleeves, wire, allowances of parts: the usual figures, and your own.",
    "rates cost allowance waste slack spare depth",
  ),
  "pipe.size": row(
    "Size the pipes",
    "Plan",
    [],
    "page",
    "Seeks the pipe sizes of least cost that keep velocity and pressure, and offers them.",
    "diameter propose cheapest lateral main calculate choose",
  ),
  "plan.help": row("Keys", "Plan", ["?", "F1"], "board", "Shows this sheet.", "shortcuts keyboard help"),
} as const satisfies Record<string, Row>;

export type CommandID = keyof typeof table;

/** What pointing and held keys do; shown on the help sheet beside the commands. */
export const gestures: readonly { readonly hold: string; readonly does: string }[] = [
  {
    hold: "Arrows",
    does: "Nudge the selection by 1 in (1 cm); with a tool, move the crosshair; else move the view.",
  },
  { hold: "Shift+Arrows", does: "The same in larger steps; Ctrl+Arrows in smaller ones with a tool." },
  { hold: "Digits", does: "Type a length, length<angle or x,y; Tab goes to the next field; Enter takes it." },
  { hold: "Tab", does: "While drawing: the next place to snap to." },
  { hold: "Shift", does: "Holds lines to steps of 15 degrees; with Select, adds to what is selected." },
  { hold: "Drag a box", does: "Rightwards takes what lies inside it, leftwards also what it crosses." },
  { hold: "Alt", does: "No snapping while held; on the middle of an edge, bows it into an arc." },
  { hold: "Backspace", does: "While drawing: takes out the last corner." },
  { hold: "Double-click", does: "Closes the outline." },
  { hold: "Space+drag, middle button", does: "Moves the view." },
  { hold: "Wheel, pinch", does: "Zooms about the pointer." },
  { hold: "Right click, long press, Shift+F10", does: "What can be done with what is there." },
  { hold: "Two fingers", does: "Move and zoom the view; the stroke begun by the first finger is dropped." },
];

/** Answers for one command: may it run now (or why not), is it on, and do it. */
export interface Action {
  enabled(): true | string;
  /** For what is on or off, or the tool in hand. */
  on?(): boolean;
  run(): void;
}

export interface Command extends Row, Action {
  readonly id: CommandID;
}

/** All commands with what they do. */
export class Commands {
  readonly all: readonly Command[];
  private readonly byID: ReadonlyMap<CommandID, Command>;

  constructor(actions: Readonly<Record<CommandID, Action>>) {
    this.all = (Object.keys(table) as CommandID[]).map((id) => bind(id, table[id], actions[id]));
    this.byID = new Map(this.all.map((c) => [c.id, c]));
  }

  get(id: CommandID): Command {
    const c = this.byID.get(id);
    if (!c) throw new Error(`no command ${id}`);
    return c;
  }

  /** Runs a command, or says why it cannot run. */
  run(id: CommandID, say: (why: string) => void): void {
    const c = this.get(id);
    const can = c.enabled();
    if (can === true) c.run();
    else say(can);
  }
}

function bind(id: CommandID, r: Row, a: Action): Command {
  const c: Command = { id, ...r, enabled: () => a.enabled(), run: () => a.run() };
  if (!a.on) return c;
  return { ...c, on: () => a.on?.() ?? false };
}

/** The title with its keys, for a tooltip: "Outline (A)". */
export function tooltip(c: Pick<Command, "title" | "keys" | "says">): string {
  const keys = c.keys.length > 0 ? ` (${c.keys.join(", ")})` : "";
  return `${c.title}${keys}. ${c.says}`;
}

function row(
  title: string,
  group: Group,
  keys: readonly string[],
  where: Where,
  says: string,
  also = "",
): Row {
  return { title, group, keys, where, says, also };
}
