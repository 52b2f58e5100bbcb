"use strict";
(() => {
  // web/editor/api.ts
  var away = "The server did not answer. It may have been stopped; start Evenfall again on this computer.";
  var patience = 15e3;
  async function ask(method, url, s = {}) {
    try {
      const answer = await fetch(url, {
        method,
        headers: { Accept: "application/json", ...s.headers },
        body: s.body,
        cache: "no-store",
        signal: AbortSignal.timeout(s.wait ?? patience)
      });
      const said = await json(answer);
      if (answer.ok) return { ok: true, value: said };
      return failure(answer.status, said);
    } catch {
      return { ok: false, status: 0, error: away, problems: [] };
    }
  }
  async function json(answer) {
    if (answer.status === 204) return {};
    try {
      return await answer.json();
    } catch (err) {
      if (answer.ok) throw err;
      return {};
    }
  }
  function failure(status, said) {
    const s = said ?? {};
    const error = s.error ?? `The server answered with status ${status} and no explanation.`;
    return { ok: false, status, error, problems: s.problems ?? [], rev: s.rev };
  }
  var json_ = (v) => JSON.stringify(v);
  var plan = (id) => `/api/plans/${encodeURIComponent(id)}`;
  var server = {
    load: (id) => ask("GET", plan(id)),
    commit: (id, rev, patch, label) => ask("PATCH", plan(id), {
      headers: {
        "Content-Type": "application/merge-patch+json",
        "If-Match": `"${rev}"`,
        "Evenfall-Label": encodeURIComponent(label)
      },
      body: json_(patch)
    }),
    undo: (id, rev) => ask("POST", `${plan(id)}/undo`, stepping(rev)),
    redo: (id, rev) => ask("POST", `${plan(id)}/redo`, stepping(rev)),
    history: (id) => ask("GET", `${plan(id)}/history`),
    create: (name, show, doc) => ask("POST", "/api/plans", {
      headers: { "Content-Type": "application/json" },
      body: json_({ name, show, doc })
    }),
    remove: (id, rev) => ask("DELETE", plan(id), {
      headers: { "Content-Type": "application/json", "If-Match": `"${rev}"` }
    }),
    board: (id) => ask("GET", `${plan(id)}/board`),
    rate: (id, x, y) => ask("GET", `${plan(id)}/rate?x=${x.toFixed(3)}&y=${y.toFixed(3)}`),
    estimate: (id) => ask("GET", `${plan(id)}/estimate`, { wait: 6e4 }),
    catalog: () => ask("GET", "/api/catalog"),
    previewNozzles: (csv) => ask("POST", "/api/catalog/preview", {
      headers: { "Content-Type": "text/csv" },
      body: csv
    }),
    readOutlines: (file, at) => ask("POST", `/api/import/geojson${at ? `?lat=${at.lat}&lon=${at.lon}` : ""}`, {
      headers: { "Content-Type": "application/geo+json" },
      body: file
    })
  };
  function stepping(rev) {
    return { headers: { "Content-Type": "application/json", "If-Match": `"${rev}"` }, body: "{}" };
  }

  // web/editor/dom.ts
  function h(tag, props = {}, ...children) {
    const el = document.createElement(tag);
    for (const [name, v] of Object.entries(props)) {
      if (v === null || v === void 0 || v === false) continue;
      if (typeof v === "function") el.addEventListener(name.slice(2), v);
      else if (name === "value") el.value = String(v);
      else el.setAttribute(name, v === true ? "" : String(v));
    }
    el.append(...children.filter((c) => c !== null && c !== void 0 && c !== false));
    return el;
  }
  function byID(id) {
    const el = document.getElementById(id);
    if (!el) throw new Error(`the page has no #${id}`);
    return el;
  }
  function ask2(dialog) {
    document.body.append(dialog);
    dialog.returnValue = "";
    dialog.showModal();
    return new Promise((done) => {
      dialog.addEventListener("close", () => {
        dialog.remove();
        done(dialog.returnValue);
      });
    });
  }

  // web/editor/model.ts
  function items(p, c) {
    return p[c] ?? {};
  }
  function find(p, c, id) {
    const all = items(p, c);
    return Object.hasOwn(all, id) ? all[id] : void 0;
  }
  function put(p, c, id, thing) {
    return { ...p, [c]: { ...p[c] ?? {}, [id]: thing } };
  }
  var letters = {
    areas: "a",
    barriers: "b",
    trees: "t",
    keep_dry: "k",
    heads: "h",
    zones: "z",
    nozzles: "n",
    bodies: "o",
    notes: "m",
    accepted: "c"
  };
  var alphabet = "0123456789abcdefghjkmnpqrstvwxyz";
  function newID(p, c) {
    for (; ; ) {
      const bytes = crypto.getRandomValues(new Uint8Array(6));
      const id = letters[c] + Array.from(bytes, (b) => alphabet[b & 31]).join("");
      if (find(p, c, id) === void 0) return id;
    }
  }

  // web/editor/format.ts
  var FEET_A_METRE = 1 / 0.3048;

  // web/editor/names.ts
  var kindNames = {
    planting: "Planting",
    building: "Building",
    paving: "Paving",
    ground: "Bare ground",
    right_of_way: "Street or neighbour",
    no_dig: "No-dig ground",
    water: "Water"
  };
  var count = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;

  // web/editor/panels/findings.ts
  var cancel = () => h("button", { value: "", formnovalidate: true }, "Cancel");

  // web/editor/commands.ts
  var groups = ["Draw", "Aids", "View", "Edit", "Heads", "Plan"];
  var table = {
    "tool.select": row("Select", "Draw", ["V"], "board", "Click, Shift-click or drag a box; drag to move."),
    "tool.outline": row("Outline", "Draw", ["A"], "board", "Click corners or type lengths; Enter closes."),
    "tool.rectangle": row("Rectangle", "Draw", ["R"], "board", "Two corners, or type width x depth."),
    "tool.round": row("Circle", "Draw", ["C"], "board", "Centre, then radius; type two for an oval."),
    "tool.barrier": row("Wall or fence", "Draw", ["B"], "board", "A line that stops water below its height."),
    "tool.tree": row("Tree", "Draw", ["T"], "board", "One click sets the trunk."),
    "tool.keepdry": row("Keep dry", "Draw", ["K"], "board", "Marks a thing water must not reach."),
    "tool.note": row("Note", "Draw", ["N"], "board", "Pins a remark to a place."),
    "tool.head": row("Head", "Draw", ["H"], "board", "One click sets a head; its arc follows the edge."),
    "tool.measure": row("Measure", "Draw", ["M"], "board", "Lengths and area; leaves nothing on the plan."),
    "draw.kind": row("Next kind of area", "Draw", ["Q"], "board", "Planting, building, paving and so on."),
    "draw.hole": row(
      "Draw as hole",
      "Draw",
      ["X"],
      "board",
      "The next outline is cut out of the area around it."
    ),
    "aid.snap": row("Snap", "Aids", ["S"], "board", "Pulls the pointer to corners, middles and edges."),
    "aid.grid": row("Grid", "Aids", ["G"], "board", "Shows or hides the grid."),
    "aid.gridsnap": row("Snap to grid", "Aids", ["Shift+G"], "board", "Rounds places to the grid step."),
    "aid.ortho": row("Square", "Aids", ["O", "F8"], "board", "Holds lines to 90 and 45 degrees."),
    "view.in": row("Zoom in", "View", ["+", "="], "board", "About the pointer, or the middle."),
    "view.out": row("Zoom out", "View", ["-"], "board", "About the pointer, or the middle."),
    "view.fit": row("Whole plan", "View", ["F"], "board", "Shows everything drawn."),
    "view.selection": row("Show selection", "View", ["Shift+F"], "board", "Zooms to what is selected."),
    "view.wheel": row(
      "Wheel moves instead of zooming",
      "View",
      [],
      "board",
      "For mice and pads that prefer it."
    ),
    "edit.undo": row(
      "Undo",
      "Edit",
      ["Ctrl+Z"],
      "page",
      "Takes back the last step; while drawing, the last corner."
    ),
    "edit.redo": row("Redo", "Edit", ["Ctrl+Shift+Z", "Ctrl+Y"], "page", "Does the step again."),
    "edit.copy": row("Copy", "Edit", ["Ctrl+C"], "page", "Keeps the selection for pasting."),
    "edit.paste": row("Paste", "Edit", ["Ctrl+V"], "page", "Puts the copy down at the pointer."),
    "edit.duplicate": row("Duplicate", "Edit", ["Ctrl+D"], "page", "A second one beside the first."),
    "edit.delete": row(
      "Delete",
      "Edit",
      ["Delete", "Backspace"],
      "board",
      "Removes the selection or the corner in hand."
    ),
    "edit.all": row("Select all", "Edit", ["Ctrl+A"], "page", "Everything that is not locked."),
    "edit.next": row("Next thing", "Edit", ["PageDown"], "board", "Moves to the next thing on the plan."),
    "edit.previous": row("Previous thing", "Edit", ["PageUp"], "board", "Moves to the thing before."),
    "edit.grip": row(
      "Next handle",
      "Edit",
      ["E"],
      "board",
      "Takes a corner, arc end or throw in hand for the arrows."
    ),
    "edit.gripback": row("Previous handle", "Edit", ["Shift+E"], "board", "The handle before."),
    "edit.corner": row(
      "Add corner",
      "Edit",
      ["Insert", "I"],
      "board",
      "A new corner in the middle of the edge in hand."
    ),
    "edit.bow": row(
      "Bow edge",
      "Edit",
      ["W"],
      "board",
      "Makes the edge in hand an arc, or straight again; type a radius."
    ),
    "edit.makehole": row(
      "Make hole",
      "Edit",
      ["Shift+X"],
      "board",
      "Turns the selected area into a hole of the one around it."
    ),
    "edit.lock": row("Lock", "Edit", ["L"], "board", "Keeps the selection where it is."),
    "head.left": row("Turn arc left", "Heads", ["["], "board", "15 degrees anticlockwise."),
    "head.right": row("Turn arc right", "Heads", ["]"], "board", "15 degrees clockwise."),
    "head.narrower": row("Narrow arc", "Heads", ["{"], "board", "15 degrees less."),
    "head.wider": row("Widen arc", "Heads", ["}"], "board", "15 degrees more."),
    "head.shorter": row("Shorten throw", "Heads", [","], "board", "1 ft less."),
    "head.longer": row("Lengthen throw", "Heads", ["."], "board", "1 ft more, up to the nozzle's own."),
    "plan.enter": row("Set or finish", "Plan", ["Enter"], "board", "Sets a point at the crosshair; else closes the outline."),
    "plan.finish": row("Finish", "Plan", ["Ctrl+Enter"], "board", "Closes the outline or ends the line."),
    "plan.back": row("Back out", "Plan", ["Escape"], "board", "Leaves one thing at a time."),
    "plan.help": row("Keys", "Plan", ["?", "F1"], "board", "Shows this sheet.")
  };
  var gestures = [
    {
      hold: "Arrows",
      does: "Nudge the selection by 1 in (1 cm); with a tool, move the crosshair; else move the view."
    },
    { hold: "Shift+Arrows", does: "The same in larger steps; Ctrl+Arrows in smaller ones with a tool." },
    { hold: "Digits", does: "Type a length, length<angle or x,y; Tab goes to the next field; Enter takes it." },
    { hold: "Tab", does: "While drawing: the next place to snap to." },
    { hold: "Shift", does: "Holds lines to steps of 15 degrees." },
    { hold: "Alt", does: "No snapping while held; on the middle of an edge, bows it into an arc." },
    { hold: "Backspace", does: "While drawing: takes out the last corner." },
    { hold: "Double-click", does: "Closes the outline." },
    { hold: "Space+drag, middle button", does: "Moves the view." },
    { hold: "Wheel, pinch", does: "Zooms about the pointer." },
    { hold: "Two fingers", does: "Move and zoom the view; the stroke begun by the first finger is dropped." }
  ];
  function row(title, group2, keys2, where, says) {
    return { title, group: group2, keys: keys2, where, says };
  }

  // web/editor/panels/keys.ts
  function keySheet(level) {
    const rows2 = Object.values(table);
    const commands = groups.map((g) => {
      const lines = rows2.filter((r) => r.group === g).map((r) => line(r.keys.join(" or "), r.title, r.says));
      return h("section", {}, h(level, {}, g), sheet(g, lines));
    });
    const held = gestures.map((g) => line(g.hold, "", g.does));
    return [
      ...commands,
      h("section", {}, h(level, {}, "Pointing and holding"), sheet("Pointing and holding", held))
    ];
  }
  function sheet(label, lines) {
    const head = h("tr", {}, h("th", { scope: "col" }, "Key"), h("th", { scope: "col" }, "Does"));
    return h(
      "table",
      { class: "keys", "aria-label": label },
      h("thead", { class: "unseen" }, head),
      h("tbody", {}, ...lines)
    );
  }
  function line(keys2, title, says) {
    const name = title ? h("b", {}, `${title}. `) : null;
    return h("tr", {}, h("th", { scope: "row" }, keys2 ? h("kbd", {}, keys2) : "–"), h("td", {}, name, says));
  }

  // web/editor/panels/outlines.ts
  var largest = 20 * 1024 * 1024;
  async function importOutlines(file) {
    if (file.size > largest) {
      return { sentence: `${file.name} is larger than 20 MB. Save only the property and what stands on it.` };
    }
    const answer = await server.readOutlines(file);
    if (!answer.ok) return { sentence: answer.error };
    const { shapes } = answer.value;
    if (shapes.length === 0)
      return { sentence: `${file.name} holds no closed shape. Choose a file with polygons.` };
    const chosen2 = await choose(file.name, answer.value);
    if (!chosen2) return { sentence: null };
    const made = await server.create(chosen2.name, chosen2.show, chosen2);
    return made.ok ? { id: made.value.id, sentence: null } : { sentence: made.error };
  }
  async function choose(fileName, found) {
    const name = h("input", {
      type: "text",
      id: "outlines-name",
      value: fileName.replace(/\.\w+$/, ""),
      maxlength: 200
    });
    const show = h(
      "select",
      { id: "outlines-show" },
      h("option", { value: "us" }, "Feet, inches, gallons"),
      h("option", { value: "metric" }, "Metres, litres")
    );
    const rows2 = found.shapes.map((s, i) => row2(s, i));
    const head = ["Shape", "Size", "Area", "What it is"].map((t) => h("th", { scope: "col" }, t));
    const form = h("form", { method: "dialog", class: "form" });
    form.append(
      h("h2", { id: "outlines-title" }, "What is each shape?"),
      h(
        "p",
        {},
        `${count(found.shapes.length, "shape")} in ${fileName}. Check that the sizes look right before you go on.`
      ),
      h("div", { class: "field" }, h("label", { for: "outlines-name" }, "Name of the plan"), name),
      h("div", { class: "field" }, h("label", { for: "outlines-show" }, "Units"), show),
      h(
        "div",
        { class: "scroll" },
        h("table", {}, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...rows2.map((r) => r.el)))
      ),
      leftOut(found.left_out ?? []),
      h("p", { class: "acts" }, h("button", { value: "make", class: "main" }, "Make the plan"), cancel())
    );
    const answer = await ask2(h("dialog", { class: "roomy", "aria-labelledby": "outlines-title" }, form));
    if (answer !== "make") return null;
    const title = name.value.trim() || "Outlines";
    return planOf(
      title,
      show.value,
      found,
      rows2.map((r) => r.select.value)
    );
  }
  function leftOut(sentences) {
    if (sentences.length === 0) return h("div", { hidden: true });
    return h(
      "div",
      {},
      h("p", {}, "Passed over:"),
      h("ul", { class: "hint" }, ...sentences.map((t) => h("li", {}, t)))
    );
  }
  function row2(s, i) {
    const kinds = [
      ["skip", "Leave out"],
      ["lot", "Property line"],
      ...Object.entries(kindNames)
    ];
    const name = s.name || `Shape ${i + 1}`;
    const select = h(
      "select",
      { "aria-label": `What ${name} is` },
      ...kinds.map(([value, label]) => h("option", { value }, label))
    );
    select.value = kinds.some(([k]) => k === s.kind_guess) ? s.kind_guess : "skip";
    const el = h(
      "tr",
      {},
      h("th", { scope: "row" }, name),
      h("td", {}, s.size),
      h("td", {}, s.area),
      h("td", {}, select)
    );
    return { el, select };
  }
  function planOf(name, show, found, becomes) {
    const { lat, lon } = found.origin;
    let plan2 = { format: "evenfall-plan/1", name, show, site: { latitude_deg: lat, longitude_deg: lon } };
    found.shapes.forEach((s, i) => {
      const what = becomes[i] ?? "skip";
      if (what === "skip") return;
      if (what === "lot") {
        plan2 = { ...plan2, site: { ...plan2.site, lot: s.outline } };
        return;
      }
      const area = {
        name: s.name || kindNames[what],
        kind: what,
        outline: s.outline,
        status: "existing"
      };
      if (s.holes && s.holes.length > 0) area.holes = s.holes;
      plan2 = put(plan2, "areas", newID(plan2, "areas"), area);
    });
    return plan2;
  }

  // web/editor/theme.ts
  var key = "evenfall-theme";
  var dark = () => matchMedia("(prefers-color-scheme: dark)");
  var chosen = () => localStorage.getItem(key) ?? "";
  function theme() {
    const own = chosen();
    if (own === "light" || own === "dark") return own;
    return dark().matches ? "dark" : "light";
  }
  var listeners = [];
  function followTheme() {
    const list = document.getElementById("theme");
    const apply = () => {
      const own = chosen();
      if (own) document.documentElement.dataset.theme = own;
      else delete document.documentElement.dataset.theme;
      if (list) list.value = own;
      for (const fn of listeners) fn(theme());
    };
    list?.addEventListener("change", () => {
      if (list.value) localStorage.setItem(key, list.value);
      else localStorage.removeItem(key);
      apply();
    });
    dark().addEventListener("change", apply);
    apply();
  }

  // web/editor/plans.ts
  followTheme();
  if (document.getElementById("plans")) rows();
  if (document.getElementById("new-plan")) forms();
  var keys = document.getElementById("keys-sheet");
  if (keys) keys.append(...keySheet("h3"));
  function open(id) {
    location.assign(`/plans/${encodeURIComponent(id)}`);
  }
  function say(sentence) {
    const el = byID("notice");
    el.hidden = false;
    el.dataset.kind = "problem";
    el.replaceChildren(h("p", {}, h("span", { class: "unseen" }, "Error: "), sentence));
  }
  function complain(input, sentence) {
    const el = byID(`${input.id}-error`);
    el.textContent = sentence ?? "";
    el.hidden = sentence === null;
    if (sentence === null) input.removeAttribute("aria-invalid");
    else {
      input.setAttribute("aria-invalid", "true");
      input.focus();
    }
  }
  function rows() {
    byID("plans").addEventListener("click", (e) => {
      const button = e.target.closest("button[data-act]");
      const row3 = button?.closest("[data-id]");
      if (!button || !row3) return;
      if (button.dataset.act === "copy") void copy(row3);
      else void remove(row3);
    });
  }
  async function copy(row3) {
    const stored = await server.load(row3.dataset.id ?? "");
    if (!stored.ok) return say(stored.error);
    const { doc } = stored.value;
    const made = await server.create(`${doc.name} (copy)`, doc.show, doc);
    if (made.ok) location.reload();
    else say(made.error);
  }
  async function remove(row3) {
    const { id = "", name = "", rev = "0" } = row3.dataset;
    const form = h(
      "form",
      { method: "dialog", class: "form" },
      h("h2", { id: "delete-title" }, `Delete “${name}”?`),
      h(
        "p",
        { id: "delete-what" },
        "The plan and its whole history go. There is no undo for this. Save it as a file first if you are not sure."
      ),
      h("p", { class: "acts" }, h("button", { value: "delete", class: "grave" }, "Delete the plan"), cancel())
    );
    const dialog = h(
      "dialog",
      { role: "alertdialog", "aria-labelledby": "delete-title", "aria-describedby": "delete-what" },
      form
    );
    if (await ask2(dialog) !== "delete") return;
    const gone = await server.remove(id, Number(rev));
    if (gone.ok || gone.status === 404) location.reload();
    else if (gone.status === 412)
      say(
        `“${name}” was changed since this list was made, so it was not deleted. Load this page again and look at it first.`
      );
    else say(gone.error);
  }
  function forms() {
    onSubmit("new-plan", makePlan);
    onSubmit("import-plan", importPlan);
    onSubmit("import-outlines", async () => {
      const input = byID("outline-file");
      const [file] = input.files ?? [];
      if (!file) return complain(input, "No file is chosen. Choose a GeoJSON file first.");
      const made = await importOutlines(file);
      complain(input, made.sentence);
      if (made.id) open(made.id);
    });
  }
  function onSubmit(id, job) {
    const form = byID(id);
    const button = form.querySelector("button[type=submit]");
    form.addEventListener("submit", (e) => {
      e.preventDefault();
      if (button.disabled) return;
      button.disabled = true;
      void job().finally(() => {
        button.disabled = false;
      });
    });
  }
  async function makePlan() {
    const input = byID("new-name");
    const name = input.value.trim();
    if (!name) return complain(input, "The plan has no name. Type one, such as the street and number.");
    const show = document.querySelector("input[name=show]:checked")?.value;
    const made = await server.create(name, show);
    complain(input, made.ok ? null : made.error);
    if (made.ok) open(made.value.id);
  }
  var largest2 = 16 * 1024 * 1024;
  async function importPlan() {
    const input = byID("plan-file");
    const [file] = input.files ?? [];
    if (!file) return complain(input, "No file is chosen. Choose a plan.json first.");
    if (file.size > largest2)
      return complain(
        input,
        `${file.name} is larger than 16 MB, so it is no plan file of Evenfall. Choose another.`
      );
    const doc = readPlan(await file.text());
    if (!doc)
      return complain(
        input,
        `${file.name} is not a plan file. Choose a plan.json that was saved from Evenfall.`
      );
    const made = await server.create(doc.name, doc.show, doc);
    if (made.ok) return open(made.value.id);
    const other = made.problems.filter((p) => !made.error.includes(p.sentence));
    const more = other.map((p) => `${p.sentence} (${p.pointer})`);
    complain(input, [made.error, ...more.slice(0, 5)].join(" "));
  }
  function readPlan(text) {
    try {
      const doc = JSON.parse(text);
      const named = typeof doc === "object" && doc !== null && "format" in doc && "name" in doc;
      return named ? doc : null;
    } catch {
      return null;
    }
  }
})();
