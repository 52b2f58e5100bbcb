"use strict";
(() => {
  // web/editor/api.ts
  var away = "The server did not answer. It may have been stopped; start Evenfall again on this computer.";
  var patience = 15e3;
  async function ask(method, url, s2 = {}) {
    try {
      const answer = await fetch(url, {
        method,
        headers: { Accept: "application/json", ...s2.headers },
        body: s2.body,
        cache: "no-store",
        signal: AbortSignal.timeout(s2.wait ?? patience)
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
    const s2 = said ?? {};
    const error = s2.error ?? `The server answered with status ${status} and no explanation.`;
    return { ok: false, status, error, problems: s2.problems ?? [], rev: s2.rev };
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
    readOutlines: (file, at2) => ask("POST", `/api/import/geojson${at2 ? `?lat=${at2.lat}&lon=${at2.lon}` : ""}`, {
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
  function setText(el, text2) {
    if (el.textContent !== text2) el.textContent = text2;
  }
  function setAttr(el, name, v) {
    if (v === null || v === false) {
      if (el.hasAttribute(name)) el.removeAttribute(name);
      return;
    }
    const want = v === true ? "" : v;
    if (el.getAttribute(name) !== want) el.setAttribute(name, want);
  }
  var Rows = class {
    constructor(parent, key2, make) {
      this.parent = parent;
      this.key = key2;
      this.make = make;
    }
    parent;
    key;
    make;
    #rows = /* @__PURE__ */ new Map();
    get(key2) {
      return this.#rows.get(key2);
    }
    show(items2) {
      const next = /* @__PURE__ */ new Map();
      items2.forEach((item, i) => {
        const k = this.key(item, i);
        const row4 = this.#rows.get(k) ?? this.make(item);
        row4.update(item);
        next.set(k, row4);
      });
      for (const [k, row4] of this.#rows) if (next.get(k) !== row4) row4.el.remove();
      let at2 = this.parent.firstElementChild;
      for (const row4 of next.values()) {
        if (row4.el === at2) at2 = at2.nextElementSibling;
        else this.parent.insertBefore(row4.el, at2);
      }
      this.#rows = next;
    }
  };
  function eachFrame(fn) {
    let asked = false;
    return () => {
      if (asked) return;
      asked = true;
      requestAnimationFrame(() => {
        asked = false;
        fn();
      });
    };
  }
  function atMostEvery(ms, fn) {
    let last2 = Number.NEGATIVE_INFINITY;
    let timer = null;
    const run2 = () => {
      timer = null;
      last2 = performance.now();
      fn();
    };
    return () => {
      if (timer !== null) return;
      const wait = last2 + ms - performance.now();
      timer = setTimeout(run2, Math.max(0, wait));
    };
  }
  function ask2(dialog2) {
    document.body.append(dialog2);
    dialog2.returnValue = "";
    dialog2.showModal();
    return new Promise((done2) => {
      dialog2.addEventListener("close", () => {
        dialog2.remove();
        done2(dialog2.returnValue);
      });
    });
  }

  // web/editor/geometry.ts
  var add = (a, b) => [a[0] + b[0], a[1] + b[1]];
  var minus = (a, b) => [a[0] - b[0], a[1] - b[1]];
  var times = (a, k) => [a[0] * k, a[1] * k];
  var dot = (a, b) => a[0] * b[0] + a[1] * b[1];
  var cross = (a, b) => a[0] * b[1] - a[1] * b[0];
  var distance = (a, b) => Math.hypot(b[0] - a[0], b[1] - a[1]);
  var middle = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  function normDeg(deg) {
    const d = deg % 360;
    const n2 = d < 0 ? d + 360 : d;
    return n2 >= 360 ? 0 : n2 + 0;
  }
  function turnDeg(from, to) {
    const d = normDeg(to - from);
    return d > 180 ? d - 360 : d;
  }
  function directionDeg(a, b) {
    return normDeg(Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI);
  }
  function unit(deg) {
    switch (normDeg(deg)) {
      case 0:
        return [1, 0];
      case 90:
        return [0, 1];
      case 180:
        return [-1, 0];
      case 270:
        return [0, -1];
    }
    const r = deg * Math.PI / 180;
    return [Math.cos(r), Math.sin(r)];
  }
  function polar(from, deg, length2) {
    return add(from, times(unit(deg), length2));
  }
  function rotateAbout(p, centre2, deg) {
    const [c, s2] = unit(deg);
    const [dx, dy] = minus(p, centre2);
    return [centre2[0] + dx * c - dy * s2, centre2[1] + dx * s2 + dy * c];
  }
  function alongShare(p, a, b) {
    const ab = minus(b, a);
    const len2 = dot(ab, ab);
    return len2 === 0 ? 0 : dot(minus(p, a), ab) / len2;
  }
  var between = (a, b, share) => [
    a[0] + (b[0] - a[0]) * share,
    a[1] + (b[1] - a[1]) * share
  ];
  function nearestOnSegment(p, a, b) {
    const t = alongShare(p, a, b);
    if (t <= 0) return a;
    if (t >= 1) return b;
    return between(a, b, t);
  }
  function meet(a, b, c, d) {
    const r = minus(b, a);
    const s2 = minus(d, c);
    const det = cross(r, s2);
    if (det === 0) return null;
    const ac = minus(c, a);
    const t = cross(ac, s2) / det;
    const u = cross(ac, r) / det;
    if (t < 0 || t > 1 || u < 0 || u > 1) return null;
    return between(a, b, t);
  }
  function rayMeets(from, deg, c, d) {
    const r = unit(deg);
    const s2 = minus(d, c);
    const det = cross(r, s2);
    if (det === 0) return null;
    const ac = minus(c, from);
    const t = cross(ac, s2) / det;
    const u = cross(ac, r) / det;
    if (t < 0 || u < 0 || u > 1) return null;
    return add(from, times(r, t));
  }
  function boundsOf(points) {
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const [x, y] of points) {
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x);
      maxY = Math.max(maxY, y);
    }
    return minX <= maxX ? { minX, minY, maxX, maxY } : null;
  }
  function joinBounds(a, b) {
    if (!a || !b) return a ?? b;
    return {
      minX: Math.min(a.minX, b.minX),
      minY: Math.min(a.minY, b.minY),
      maxX: Math.max(a.maxX, b.maxX),
      maxY: Math.max(a.maxY, b.maxY)
    };
  }
  var growBounds = (b, by) => ({
    minX: b.minX - by,
    minY: b.minY - by,
    maxX: b.maxX + by,
    maxY: b.maxY + by
  });
  var overlap = (a, b) => a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
  var inside = (inner, outer) => inner.minX >= outer.minX && inner.maxX <= outer.maxX && inner.minY >= outer.minY && inner.maxY <= outer.maxY;

  // web/editor/arcs.ts
  function arcOf(a, b, bulge) {
    const chord = distance(a, b);
    if (bulge === 0 || chord === 0) return null;
    const radius = chord * (1 + bulge * bulge) / (4 * Math.abs(bulge));
    const off = (1 - bulge * bulge) / (4 * bulge);
    const [dx, dy] = minus(b, a);
    const centre2 = add(middle(a, b), [-dy * off, dx * off]);
    return {
      centre: centre2,
      radius,
      startDeg: directionDeg(centre2, a),
      sweepDeg: 4 * Math.atan(bulge) * 180 / Math.PI
    };
  }
  function edgeMiddle(a, b, bulge) {
    const [dx, dy] = minus(b, a);
    const m = middle(a, b);
    return bulge === 0 ? m : add(m, times([dy, -dx], bulge / 2));
  }
  function edgeLength(a, b, bulge) {
    const chord = distance(a, b);
    if (bulge === 0) return chord;
    return chord * (1 + bulge * bulge) / Math.abs(bulge) * Math.atan(Math.abs(bulge));
  }
  function bulgeThrough(a, b, p) {
    const pa = minus(a, p);
    const pb = minus(b, p);
    const side = cross(pa, pb);
    if (side === 0) return 0;
    const inscribed = Math.atan2(Math.abs(side), pa[0] * pb[0] + pa[1] * pb[1]);
    const bulge = Math.tan((Math.PI - inscribed) / 2);
    return side < 0 ? bulge : -bulge;
  }
  function bulgeForRadius(a, b, radius, sign) {
    const half = distance(a, b) / 2;
    if (half === 0 || radius < half) return null;
    return sign * Math.tan(Math.asin(half / radius) / 2);
  }
  function flattenEdge(a, b, bulge, tolerance) {
    const arc = arcOf(a, b, bulge);
    if (!arc) return [b];
    const step3 = 2 * Math.acos(Math.max(0, 1 - tolerance / arc.radius));
    const sweep2 = Math.abs(arc.sweepDeg) * (Math.PI / 180);
    const n2 = Math.min(512, Math.max(2, Math.ceil(sweep2 / step3)));
    const out = [];
    for (let i = 1; i < n2; i++) {
      out.push(add(arc.centre, times(unit(arc.startDeg + arc.sweepDeg * i / n2), arc.radius)));
    }
    out.push(b);
    return out;
  }
  function onArc(arc, deg) {
    const from = arc.sweepDeg >= 0 ? arc.startDeg : arc.startDeg + arc.sweepDeg;
    return normDeg(deg - from) <= Math.abs(arc.sweepDeg);
  }
  function nearestOnArc(p, arc, a, b) {
    if (distance(p, arc.centre) > 0) {
      const deg = directionDeg(arc.centre, p);
      if (onArc(arc, deg)) {
        const k = arc.radius / distance(p, arc.centre);
        return add(arc.centre, times(minus(p, arc.centre), k));
      }
    }
    return distance(p, a) <= distance(p, b) ? a : b;
  }
  function segmentMeetsArc(c, d, arc) {
    const s2 = minus(d, c);
    const f = minus(c, arc.centre);
    const A = s2[0] * s2[0] + s2[1] * s2[1];
    const B = 2 * (f[0] * s2[0] + f[1] * s2[1]);
    const C = f[0] * f[0] + f[1] * f[1] - arc.radius * arc.radius;
    const disc = B * B - 4 * A * C;
    if (A === 0 || disc < 0) return [];
    const root = Math.sqrt(disc);
    return [(-B - root) / (2 * A), (-B + root) / (2 * A)].filter((t) => t >= 0 && t <= 1).map((t) => add(c, times(s2, t))).filter((q) => onArc(arc, directionDeg(arc.centre, q)));
  }

  // web/editor/model.ts
  var ref = (c, id) => `${c}/${id}`;
  function parts(r) {
    const cut2 = r.indexOf("/");
    return [r.slice(0, cut2), r.slice(cut2 + 1)];
  }
  function items(p, c) {
    return p[c] ?? {};
  }
  var ids = (p, c) => Object.keys(p[c] ?? {}).sort();
  function find(p, c, id) {
    const all = items(p, c);
    return Object.hasOwn(all, id) ? all[id] : void 0;
  }
  function has(p, r) {
    const [c, id] = parts(r);
    return find(p, c, id) !== void 0;
  }
  function put(p, c, id, thing2) {
    return { ...p, [c]: { ...p[c] ?? {}, [id]: thing2 } };
  }
  function drop(p, c, id) {
    const { [id]: _gone, ...rest } = p[c] ?? {};
    return { ...p, [c]: rest };
  }
  var clone = (v) => structuredClone(v);
  var isObject = (v) => typeof v === "object" && v !== null && !Array.isArray(v);
  function same(a, b) {
    if (Object.is(a, b) || a === b) return true;
    if (Array.isArray(a) || Array.isArray(b)) {
      return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((v, i) => same(v, b[i]));
    }
    if (!isObject(a) || !isObject(b)) return false;
    const keys = /* @__PURE__ */ new Set([...Object.keys(a), ...Object.keys(b)]);
    for (const k of keys) if (!same(own(a, k), own(b, k))) return false;
    return true;
  }
  var own = (o, k) => Object.hasOwn(o, k) ? o[k] : void 0;
  function diff(from, to) {
    const patch = {};
    const a = from;
    const b = to;
    for (const k of Object.keys(a)) {
      if (a[k] !== void 0 && own(b, k) === void 0) set(patch, k, null);
    }
    for (const k of Object.keys(b)) {
      const old = own(a, k);
      const now = b[k];
      if (now === void 0 || old === now || same(old, now)) continue;
      set(patch, k, isObject(old) && isObject(now) ? diff(old, now) : clone(now));
    }
    return patch;
  }
  function apply(doc, patch) {
    if (!isObject(patch)) return patch;
    const out = isObject(doc) ? { ...doc } : {};
    for (const k of Object.keys(patch)) {
      const v = patch[k];
      if (v === null) delete out[k];
      else set(out, k, apply(own(out, k), v));
    }
    return out;
  }
  function set(o, k, v) {
    Object.defineProperty(o, k, { value: v, enumerable: true, writable: true, configurable: true });
  }
  var isEmpty = (patch) => Object.keys(patch).length === 0;
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
  var named = /* @__PURE__ */ new Set(["areas", "barriers", "trees", "keep_dry", "heads", "zones", "notes"]);
  function touched(patch) {
    const out = [];
    for (const [c, things] of Object.entries(patch)) {
      if (!named.has(c) || things === null || typeof things !== "object") continue;
      for (const id of Object.keys(things)) out.push(`${c}/${id}`);
    }
    return out.sort();
  }

  // web/editor/shape.ts
  var place = (c) => [c[0], c[1]];
  var bulgeOf = (c) => c[2] ?? 0;
  function edges(outline3) {
    return outline3.map((c, i) => {
      const next = outline3[(i + 1) % outline3.length] ?? c;
      return { a: place(c), b: place(next), bulge: bulgeOf(c) };
    });
  }
  var lineEdges = (line4) => edges(line4).slice(0, -1);
  var CHORD = 1 / 64;
  function ringOf(outline3, tolerance = CHORD) {
    const out = [];
    for (const e of edges(outline3)) out.push(...flattenEdge(e.a, e.b, e.bulge, tolerance));
    const last2 = out.pop();
    return last2 ? [last2, ...out] : [];
  }
  function pathOf(line4, tolerance = CHORD) {
    const first = line4[0];
    if (!first) return [];
    return [place(first), ...lineEdges(line4).flatMap((e) => flattenEdge(e.a, e.b, e.bulge, tolerance))];
  }
  function doubleArea(outline3) {
    const o = outline3[0];
    if (!o) return 0;
    return edges(outline3).reduce((sum, e) => sum + cross(minus(e.a, place(o)), minus(e.b, place(o))), 0);
  }
  function signedArea(outline3) {
    let area = doubleArea(outline3) / 2;
    for (const e of edges(outline3)) {
      const arc = arcOf(e.a, e.b, e.bulge);
      if (!arc) continue;
      const sweep2 = arc.sweepDeg * Math.PI / 180;
      area += (sweep2 - Math.sin(sweep2)) * arc.radius * arc.radius / 2;
    }
    return area;
  }
  var areaOf = (outline3) => Math.abs(signedArea(outline3));
  var perimeterOf = (outline3) => edges(outline3).reduce((sum, e) => sum + edgeLength(e.a, e.b, e.bulge), 0);
  var lengthOf = (line4) => lineEdges(line4).reduce((sum, e) => sum + edgeLength(e.a, e.b, e.bulge), 0);
  var shapeBounds = (outline3) => boundsOf(ringOf(outline3, 0.25));
  function ringHolds(ring, p) {
    let odd = false;
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[i];
      const b = ring[j];
      if (a[1] > p[1] !== b[1] > p[1] && p[0] < (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]) + a[0])
        odd = !odd;
    }
    return odd;
  }
  function shapeHolds(outline3, holes2, p) {
    return ringHolds(ringOf(outline3), p) && !holes2.some((h2) => ringHolds(ringOf(h2), p));
  }
  function centroid(ring) {
    const o = ring[0];
    if (!o) return [0, 0];
    let [sum, x, y] = [0, 0, 0];
    for (let i = 0; i < ring.length; i++) {
      const a = minus(ring[i], o);
      const b = minus(ring[(i + 1) % ring.length], o);
      const w = cross(a, b);
      sum += w;
      x += w * (a[0] + b[0]);
      y += w * (a[1] + b[1]);
    }
    if (sum !== 0) return [o[0] + x / (3 * sum), o[1] + y / (3 * sum)];
    const n2 = ring.length;
    return [ring.reduce((s2, p) => s2 + p[0], 0) / n2, ring.reduce((s2, p) => s2 + p[1], 0) / n2];
  }
  var LATTICE = 1 / 4096;
  var LEAST_AREA = 1 / 144;
  function faultOf(outline3) {
    const first = outline3[0];
    const straight = outline3.every((c) => bulgeOf(c) === 0);
    if (!first || outline3.length < (straight ? 3 : 2)) {
      return { reason: "too_few", at: first ? place(first) : [0, 0], corner: 0 };
    }
    const all = edges(outline3);
    const found = repeated(all) ?? (straight && inOneLine(all) ? noArea(place(first)) : spike(all) ?? meeting(all, true));
    return found ?? (areaOf(outline3) < LEAST_AREA ? noArea(place(first)) : null);
  }
  function inOneLine(all) {
    const o = all[0].a;
    const far2 = all.reduce((best2, e) => distance(e.a, o) > distance(best2, o) ? e.a : best2, o);
    const along2 = minus(far2, o);
    const len = Math.hypot(...along2);
    return all.every((e) => Math.abs(cross(along2, minus(e.a, o))) <= LATTICE * len);
  }
  function openFault(line4) {
    const all = lineEdges(line4);
    return spike(all, false) ?? meeting(all, false);
  }
  var noArea = (at2) => ({ reason: "no_area", at: at2, corner: 0 });
  function repeated(all) {
    const i = all.findIndex((e2) => distance(e2.a, e2.b) <= LATTICE);
    const e = all[i];
    return e ? { reason: "repeated", at: e.b, corner: (i + 1) % all.length } : null;
  }
  function spike(all, closed2 = true) {
    for (let i = closed2 ? 0 : 1; i < all.length; i++) {
      const before = all[(i + all.length - 1) % all.length];
      const e = all[i];
      if (!before || !e || before.bulge !== 0 || e.bulge !== 0) continue;
      const u = minus(before.a, e.a);
      const w = minus(e.b, e.a);
      const len = Math.hypot(...u) * Math.hypot(...w);
      if (dot(u, w) > 0 && Math.abs(cross(u, w)) <= 1e-9 * len) return { reason: "spike", at: e.a, corner: i };
    }
    return null;
  }
  function pieces(all) {
    const out = [];
    all.forEach((e, edge) => {
      let a = e.a;
      for (const b of flattenEdge(e.a, e.b, e.bulge, CHORD)) {
        out.push({ a, b, edge, minX: Math.min(a[0], b[0]), maxX: Math.max(a[0], b[0]) });
        a = b;
      }
    });
    return out.sort((p, q) => p.minX - q.minX || p.edge - q.edge);
  }
  function meeting(all, closed2) {
    const sorted = pieces(all);
    let worst = null;
    for (let i = 0; i < sorted.length; i++) {
      const p = sorted[i];
      for (let j = i + 1; j < sorted.length; j++) {
        const q = sorted[j];
        if (q.minX > p.maxX) break;
        const f = p.edge === q.edge ? null : pieceFault(p, q, all, closed2);
        if (f && (!worst || f.corner < worst.corner)) worst = f;
      }
    }
    return worst;
  }
  function pieceFault(p, q, all, closed2) {
    const point = meet(p.a, p.b, q.a, q.b);
    const at2 = point ?? along(p, q);
    if (!at2) return null;
    const [lo, hi] = p.edge < q.edge ? [p.edge, q.edge] : [q.edge, p.edge];
    const shared = sharedCorners(all, lo, hi, closed2);
    if (shared.some((c) => distance(c, at2) <= LATTICE)) return null;
    const onEnd = [p.a, p.b, q.a, q.b].some((c) => distance(c, at2) <= 1e-9);
    return { reason: onEnd || !point ? "touches" : "crosses", at: at2, corner: lo, other: hi };
  }
  function along(p, q) {
    const r = minus(p.b, p.a);
    const len = Math.hypot(...r);
    if (len === 0) return null;
    const off = (c) => Math.abs(cross(r, minus(c, p.a))) / len;
    if (off(q.a) > 1e-9 || off(q.b) > 1e-9) return null;
    const t = (c) => dot(r, minus(c, p.a)) / (len * len);
    const [lo, hi] = [Math.min(t(q.a), t(q.b)), Math.max(t(q.a), t(q.b))];
    const [from, to] = [Math.max(0, lo), Math.min(1, hi)];
    if (from > to) return null;
    const mid2 = (from + to) / 2;
    return [p.a[0] + r[0] * mid2, p.a[1] + r[1] * mid2];
  }
  function sharedCorners(all, lo, hi, closed2) {
    const out = [];
    if (hi === lo + 1) out.push(all[hi].a);
    if (closed2 && lo === 0 && hi === all.length - 1) out.push(all[0].a);
    return out;
  }
  function faultSentence(f, where2) {
    switch (f.reason) {
      case "too_few":
        return "An outline needs at least three corners. Add another.";
      case "repeated":
        return `Two corners lie in one place, at ${where2}. Take one of them out.`;
      case "spike":
        return `The edge runs back over itself at ${where2}. Take that corner out.`;
      case "crosses":
        return `The outline crosses itself at ${where2}. Take out the corner that crosses, or move it.`;
      case "touches":
        return `The outline touches itself at ${where2}. Move one of the two edges apart.`;
      case "no_area":
        return "The outline encloses nothing. Move a corner away from the line.";
    }
  }

  // web/editor/snapindex.ts
  function shapesOf(plan2) {
    const out = { edges: [], points: [] };
    for (const id of ids(plan2, "areas")) {
      const a = items(plan2, "areas")[id];
      [a?.outline ?? [], ...a?.holes ?? []].forEach(
        (ring, n2) => addRing(out, ref("areas", id), ring, n2, true)
      );
    }
    for (const id of ids(plan2, "barriers")) {
      addRing(out, ref("barriers", id), items(plan2, "barriers")[id]?.line ?? [], 0, false);
    }
    if (plan2.site?.lot) addRing(out, "areas/", plan2.site.lot, 0, true);
    for (const c of ["trees", "keep_dry", "heads", "notes"]) {
      for (const id of ids(plan2, c)) {
        const t = items(plan2, c)[id];
        if (t) out.points.push({ at: [t.x_ft, t.y_ft], kind: "centre", ref: ref(c, id), ring: 0, index: 0 });
      }
    }
    return out;
  }
  function addRing(out, of, corners2, ring, closed2) {
    corners2.forEach((c, index) => out.points.push({ at: place(c), kind: "end", ref: of, ring, index }));
    (closed2 ? edges(corners2) : lineEdges(corners2)).forEach((e, index) => {
      const arc = arcOf(e.a, e.b, e.bulge);
      out.edges.push({ a: e.a, b: e.b, arc, mid: edgeMiddle(e.a, e.b, e.bulge), ref: of, ring, index });
      if (arc) out.points.push({ at: arc.centre, kind: "centre", ref: of, ring, index });
    });
  }
  var nearestOnEdge = (p, e) => e.arc ? nearestOnArc(p, e.arc, e.a, e.b) : nearestOnSegment(p, e.a, e.b);
  function boxOf(e) {
    if (e.arc) {
      const { centre: c, radius: r } = e.arc;
      return { minX: c[0] - r, minY: c[1] - r, maxX: c[0] + r, maxY: c[1] + r };
    }
    return {
      minX: Math.min(e.a[0], e.b[0]),
      minY: Math.min(e.a[1], e.b[1]),
      maxX: Math.max(e.a[0], e.b[0]),
      maxY: Math.max(e.a[1], e.b[1])
    };
  }
  var SnapIndex = class {
    constructor(shapes2) {
      this.shapes = shapes2;
      this.#cell = cellFor(shapes2);
      for (const e of shapes2.edges) this.#addEdge(e);
      for (const p of shapes2.points) {
        push(this.#points, `${Math.floor(p.at[0] / this.#cell)},${Math.floor(p.at[1] / this.#cell)}`, p);
      }
    }
    shapes;
    #cell;
    #edges = /* @__PURE__ */ new Map();
    #points = /* @__PURE__ */ new Map();
    // A straight edge goes into the buckets it passes, row by row; an arc into its circle's box.
    #addEdge(e) {
      const box = boxOf(e);
      const cell = this.#cell;
      const [j0, j1] = [Math.floor(box.minY / cell), Math.floor(box.maxY / cell)];
      for (let j = j0; j <= j1; j++) {
        const [x0, x1] = e.arc ? [box.minX, box.maxX] : rowSpan(e, j * cell, (j + 1) * cell);
        for (let i = Math.floor(x0 / cell); i <= Math.floor(x1 / cell); i++) push(this.#edges, `${i},${j}`, e);
      }
    }
    /** The edges that pass within r of p (feet), each once, nearest bucket order. */
    edgesNear(p, r) {
      const out = /* @__PURE__ */ new Set();
      for (const key2 of this.#keys(p, r)) {
        for (const e of this.#edges.get(key2) ?? []) if (distance(nearestOnEdge(p, e), p) <= r) out.add(e);
      }
      return [...out];
    }
    pointsNear(p, r) {
      const out = [];
      for (const key2 of this.#keys(p, r)) {
        for (const q of this.#points.get(key2) ?? []) if (distance(q.at, p) <= r) out.push(q);
      }
      return out;
    }
    // When the reach covers more buckets than there are, every bucket is looked at.
    *#keys([x, y], r) {
      const cell = this.#cell;
      const [i0, i1] = [Math.floor((x - r) / cell), Math.floor((x + r) / cell)];
      const [j0, j1] = [Math.floor((y - r) / cell), Math.floor((y + r) / cell)];
      if ((i1 - i0 + 1) * (j1 - j0 + 1) > this.#edges.size + this.#points.size) {
        yield* /* @__PURE__ */ new Set([...this.#edges.keys(), ...this.#points.keys()]);
        return;
      }
      for (let j = j0; j <= j1; j++) for (let i = i0; i <= i1; i++) yield `${i},${j}`;
    }
  };
  function cellFor(s2) {
    if (s2.edges.length === 0) return 10;
    const mean = s2.edges.reduce((sum, e) => sum + distance(e.a, e.b), 0) / s2.edges.length;
    return Math.min(50, Math.max(1, mean));
  }
  function rowSpan(e, y0, y1) {
    const dy = e.b[1] - e.a[1];
    if (dy === 0) return [Math.min(e.a[0], e.b[0]), Math.max(e.a[0], e.b[0])];
    const at2 = (y) => {
      const t = Math.min(1, Math.max(0, (y - e.a[1]) / dy));
      return e.a[0] + (e.b[0] - e.a[0]) * t;
    };
    const [a, b] = [at2(y0), at2(y1)];
    return a < b ? [a, b] : [b, a];
  }
  function push(m, key2, v) {
    const list3 = m.get(key2);
    if (list3) list3.push(v);
    else m.set(key2, [v]);
  }
  var made = /* @__PURE__ */ new WeakMap();
  function indexOf(plan2) {
    const kept2 = made.get(plan2);
    if (kept2) return kept2;
    const index = new SnapIndex(shapesOf(plan2));
    made.set(plan2, index);
    return index;
  }

  // web/editor/things.ts
  var drawn = [
    "areas",
    "barriers",
    "trees",
    "keep_dry",
    "notes",
    "heads"
  ];
  var placed = ["trees", "keep_dry", "notes", "heads"];
  var isPlaced = (c) => placed.includes(c);
  var isDrawn = (c) => drawn.includes(c);
  var allThings = (p) => drawn.flatMap((c) => ids(p, c).map((id) => ref(c, id)));
  function ringsOf(p, r) {
    const [c, id] = parts(r);
    if (c === "areas") {
      const a = find(p, "areas", id);
      return a ? [a.outline, ...a.holes ?? []] : [];
    }
    const b = c === "barriers" ? find(p, "barriers", id) : void 0;
    return b ? [b.line] : [];
  }
  function spotOf(p, r) {
    const [c, id] = parts(r);
    if (!isPlaced(c)) return null;
    const t = find(p, c, id);
    return t ? [t.x_ft, t.y_ft] : null;
  }
  function middleOf(p, r) {
    const spot2 = spotOf(p, r);
    if (spot2) return spot2;
    const first = ringsOf(p, r)[0];
    if (!first || first.length === 0) return null;
    return parts(r)[0] === "areas" ? centroid(ringOf(first, 0.25)) : centroid(pathOf(first, 0.25));
  }
  function thingBounds(p, r) {
    const spot2 = spotOf(p, r);
    if (spot2) return boundsOf([spot2]);
    const flat = parts(r)[0] === "areas" ? ringOf : pathOf;
    return boundsOf(ringsOf(p, r).flatMap((ring) => flat(ring, 0.25)));
  }
  function boundsOfAll(p, refs) {
    const corners2 = [];
    for (const r of refs) {
      const b = thingBounds(p, r);
      if (b) corners2.push([b.minX, b.minY], [b.maxX, b.maxY]);
    }
    return boundsOf(corners2);
  }
  function planBounds(p) {
    const all = boundsOfAll(p, allThings(p));
    const lot = p.site?.lot?.length ? boundsOf(ringOf(p.site.lot, 0.25)) : null;
    const both = [all, lot].filter((b) => b !== null);
    return boundsOf(
      both.flatMap((b) => [
        [b.minX, b.minY],
        [b.maxX, b.maxY]
      ])
    );
  }
  function isLocked(p, r) {
    const [c, id] = parts(r);
    if (c === "areas") return find(p, "areas", id)?.locked ?? false;
    if (c === "heads") return find(p, "heads", id)?.locked ?? false;
    return false;
  }
  function thingAt(p, at2, reach) {
    return placedAt(p, at2, reach) ?? lineAt(p, at2, reach) ?? areaAt(p, at2);
  }
  function placedAt(p, at2, reach) {
    let best2 = null;
    for (const s2 of indexOf(p).pointsNear(at2, reach)) {
      const c = parts(s2.ref)[0];
      if (!isPlaced(c)) continue;
      const rank2 = placed.indexOf(c);
      const d = distance(s2.at, at2);
      if (!best2 || rank2 > best2.rank || rank2 === best2.rank && d < best2.d) best2 = { ref: s2.ref, rank: rank2, d };
    }
    return best2?.ref ?? null;
  }
  function lineAt(p, at2, reach) {
    const near = indexOf(p).edgesNear(at2, reach).filter((e) => parts(e.ref)[0] === "barriers");
    return near[0]?.ref ?? null;
  }
  function areaAt(p, at2, only) {
    let best2 = null;
    for (const id of ids(p, "areas")) {
      const a = items(p, "areas")[id];
      if (!a || only && !only(a) || !shapeHolds(a.outline, a.holes ?? [], at2)) continue;
      const size = areaOf(a.outline);
      if (!best2 || size < best2.size) best2 = { ref: ref("areas", id), size };
    }
    return best2?.ref ?? null;
  }
  function areaAround(p, outline3, except) {
    const ring = ringOf(outline3);
    let best2 = null;
    for (const id of ids(p, "areas")) {
      const r = ref("areas", id);
      const a = items(p, "areas")[id];
      if (!a || r === except) continue;
      const outer = ringOf(a.outline);
      if (!ring.every((c) => ringHolds(outer, c))) continue;
      const size = areaOf(a.outline);
      if (!best2 || size < best2.size) best2 = { ref: r, size };
    }
    return best2?.ref ?? null;
  }
  function boxed(p, from, to) {
    const box = boundsOf([from, to]);
    if (!box) return [];
    const crossing = to[0] < from[0];
    return allThings(p).filter((r) => {
      if (isLocked(p, r)) return false;
      const b = thingBounds(p, r);
      if (!b || !overlap(b, box)) return false;
      return inside(b, box) || crossing && crosses(p, r, box);
    });
  }
  function crosses(p, r, box) {
    if (spotOf(p, r)) return true;
    const closed2 = parts(r)[0] === "areas";
    return ringsOf(p, r).some((ring) => {
      const path = closed2 ? ringOf(ring, 0.1) : pathOf(ring, 0.1);
      const n2 = closed2 ? path.length : path.length - 1;
      for (let i = 0; i < n2; i++) {
        if (cuts(path[i], path[(i + 1) % path.length], box)) return true;
      }
      return false;
    });
  }
  function cuts(a, b, box) {
    let [t0, t1] = [0, 1];
    const d = [b[0] - a[0], b[1] - a[1]];
    const sides = [
      [-d[0], a[0] - box.minX],
      [d[0], box.maxX - a[0]],
      [-d[1], a[1] - box.minY],
      [d[1], box.maxY - a[1]]
    ];
    for (const [q, r] of sides) {
      if (q === 0) {
        if (r < 0) return false;
      } else if (q < 0) t0 = Math.max(t0, r / q);
      else t1 = Math.min(t1, r / q);
    }
    return t0 <= t1;
  }
  var roomAround = (b) => growBounds(b, Math.max(3, 0.1 * (b.maxX - b.minX)));

  // web/editor/edit.ts
  var vertex = ([x, y], bulge = 0) => bulge === 0 ? [x, y] : [x, y, bulge];
  var shifted = (ring, by) => ring.map((c) => vertex(add(place(c), by), bulgeOf(c)));
  function moveThing(c, thing2, by) {
    if (c === "areas") {
      const a = thing2;
      const outline3 = shifted(a.outline, by);
      return a.holes ? { ...a, outline: outline3, holes: a.holes.map((h2) => shifted(h2, by)) } : { ...a, outline: outline3 };
    }
    if (c === "barriers") {
      const b = thing2;
      return { ...b, line: shifted(b.line, by) };
    }
    const t = thing2;
    return { ...t, x_ft: t.x_ft + by[0], y_ft: t.y_ft + by[1] };
  }
  function moveThings(p, refs, by) {
    let next = p;
    for (const r of refs) {
      const [c, id] = parts(r);
      const thing2 = isDrawn(c) ? find(p, c, id) : void 0;
      if (!thing2 || !isDrawn(c) || isLocked(p, r)) continue;
      next = put(next, c, id, moveThing(c, thing2, by));
    }
    return next;
  }
  function placeThing(p, r, at2) {
    const [c, id] = parts(r);
    if (!isPlaced(c) || isLocked(p, r)) return p;
    const t = find(p, c, id);
    return t ? put(p, c, id, { ...t, x_ft: at2[0], y_ft: at2[1] }) : p;
  }
  function deleteThings(p, refs) {
    let next = p;
    for (const r of refs) {
      const [c, id] = parts(r);
      if (!isDrawn(c) || isLocked(p, r) || !find(next, c, id)) continue;
      next = drop(next, c, id);
      if (c === "heads") next = withoutHead(next, id);
    }
    return next;
  }
  function withoutHead(p, head2) {
    const nodes = p.nodes ?? {};
    const at2 = Object.keys(nodes).filter((id) => nodes[id]?.head === head2);
    if (at2.length === 0) return p;
    const changed = { ...nodes };
    for (const id of at2) {
      const { head: _gone, ...rest } = nodes[id];
      changed[id] = { ...rest, kind: "joint" };
    }
    return { ...p, nodes: changed };
  }
  function copyThings(p, refs) {
    const things = [];
    for (const r of refs) {
      const [c, id] = parts(r);
      const thing2 = isDrawn(c) ? find(p, c, id) : void 0;
      if (thing2 && isDrawn(c)) things.push({ in: c, thing: clone(thing2) });
    }
    return { things, nozzles: clone(p.nozzles), bodies: clone(p.bodies) };
  }
  function pasteThings(p, clip2, by) {
    let next = p;
    const made3 = [];
    for (const { in: c, thing: thing2 } of clip2.things) {
      const id = newID(next, c);
      const moved = moveThing(c, clone(thing2), by);
      next = put(next, c, id, fresh(next, c, moved));
      if (c === "heads") next = withRows(next, clip2, moved);
      made3.push(ref(c, id));
    }
    return [next, made3];
  }
  function fresh(p, c, thing2) {
    if (c === "areas") {
      const { locked: _locked2, ...area } = thing2;
      return { ...area, name: copyName(p, area.name) };
    }
    if (c !== "heads") return thing2;
    const { tag: _tag, locked: _locked, ...head2 } = thing2;
    if (head2.zone !== void 0 && !find(p, "zones", head2.zone)) delete head2.zone;
    return head2;
  }
  function withRows(p, clip2, head2) {
    const nozzle2 = clip2.nozzles?.[head2.nozzle];
    const body2 = clip2.bodies?.[head2.body];
    let next = p;
    if (nozzle2 && !find(p, "nozzles", head2.nozzle)) next = put(next, "nozzles", head2.nozzle, clone(nozzle2));
    if (body2 && !find(p, "bodies", head2.body)) next = put(next, "bodies", head2.body, clone(body2));
    return next;
  }
  function copyName(p, name) {
    const taken = new Set(Object.values(p.areas ?? {}).map((a) => a.name));
    if (!taken.has(name)) return name;
    const stem = name.replace(/ \d+$/, "");
    let n2 = 2;
    while (taken.has(`${stem} ${n2}`)) n2++;
    return `${stem} ${n2}`;
  }
  function setRing(p, r, ring, corners2) {
    const [c, id] = parts(r);
    const list3 = corners2.map((k) => vertex(place(k), bulgeOf(k)));
    if (c === "barriers") {
      const b = find(p, "barriers", id);
      return b ? put(p, "barriers", id, { ...b, line: list3 }) : p;
    }
    const a = c === "areas" ? find(p, "areas", id) : void 0;
    if (!a) return p;
    if (ring === 0) return put(p, "areas", id, { ...a, outline: list3 });
    return put(p, "areas", id, { ...a, holes: (a.holes ?? []).map((h2, i) => i === ring - 1 ? list3 : h2) });
  }
  function dropHole(p, id, hole) {
    const a = find(p, "areas", id);
    if (!a?.holes) return p;
    const holes2 = a.holes.filter((_, i) => i !== hole);
    const { holes: _old, ...rest } = a;
    return put(p, "areas", id, holes2.length > 0 ? { ...rest, holes: holes2 } : rest);
  }
  function addHole(p, id, outline3) {
    const a = find(p, "areas", id);
    if (!a) return p;
    const hole = outline3.map((c) => vertex(place(c), bulgeOf(c)));
    return put(p, "areas", id, { ...a, holes: [...a.holes ?? [], hole] });
  }
  var ringOfRef = (p, r, ring) => ringsOf(p, r)[ring] ?? [];
  function moveCorner(p, r, ring, index, to) {
    const corners2 = ringOfRef(p, r, ring).map((c, i) => i === index ? vertex(to, bulgeOf(c)) : c);
    return setRing(p, r, ring, corners2);
  }
  function addCorner(p, r, ring, edge, at2) {
    const corners2 = ringOfRef(p, r, ring);
    const e = edges(corners2)[edge];
    if (!e) return p;
    const middle2 = edgeMiddle(e.a, e.b, e.bulge);
    const half = at2 || e.bulge === 0 ? 0 : Math.tan(Math.atan(e.bulge) / 2);
    const next = corners2.flatMap(
      (c, i) => i === edge ? [vertex(place(c), half), vertex(at2 ?? middle2, half)] : [c]
    );
    return setRing(p, r, ring, next);
  }
  function removeCorner(p, r, ring, index) {
    const corners2 = ringOfRef(p, r, ring);
    const least = parts(r)[0] === "barriers" ? 2 : 3;
    if (corners2.length <= least) return null;
    return setRing(
      p,
      r,
      ring,
      corners2.filter((_, i) => i !== index)
    );
  }
  function moveEdge(p, r, ring, edge, by) {
    const corners2 = ringOfRef(p, r, ring);
    const other = (edge + 1) % corners2.length;
    return setRing(
      p,
      r,
      ring,
      corners2.map((c, i) => i === edge || i === other ? vertex(add(place(c), by), bulgeOf(c)) : c)
    );
  }
  function setBulge(p, r, ring, edge, bulge) {
    return setRing(
      p,
      r,
      ring,
      ringOfRef(p, r, ring).map((c, i) => i === edge ? vertex(place(c), bulge) : c)
    );
  }
  function setLocked(p, refs, locked) {
    let next = p;
    for (const r of refs) {
      const [c, id] = parts(r);
      if (c !== "areas" && c !== "heads") continue;
      const t = find(p, c, id);
      if (!t) continue;
      const { locked: _was, ...rest } = t;
      next = put(next, c, id, locked ? { ...rest, locked } : rest);
    }
    return next;
  }

  // web/editor/format.ts
  var FEET_A_METRE = 1 / 0.3048;
  function lengthText(feet, system) {
    if (system === "metric") return `${fixed(feet * 0.3048, 2)} m`;
    const halves = Math.round(Math.abs(feet) * 24);
    const sign = feet < 0 && halves > 0 ? "-" : "";
    const whole = Math.floor(halves / 24);
    const rest = halves % 24;
    const half = rest % 2 === 1 ? "1/2" : "";
    const full = Math.floor(rest / 2);
    const inches = half && full === 0 && whole === 0 ? half : half ? `${full} ${half}` : String(full);
    return whole === 0 ? `${sign}${inches}"` : `${sign}${whole}' ${inches}"`;
  }
  function areaText(sqft, system) {
    const [n2, unit2] = system === "metric" ? [sqft * 0.3048 * 0.3048, "m²"] : [sqft, "ft²"];
    return `${grouped(fixed(n2, Math.abs(n2) < 9.95 ? 1 : 0))} ${unit2}`;
  }
  function angleText(deg) {
    const n2 = Math.round(deg * 10) / 10;
    return `${Number.isInteger(n2) ? n2 : n2.toFixed(1)}°`;
  }
  var placeText = (p, system) => `${lengthText(p[0], system)}, ${lengthText(p[1], system)}`;
  function shortPlace(p, system) {
    const k = system === "metric" ? 0.3048 : 1;
    const digits = system === "metric" ? 2 : 1;
    const say = (n2) => String(Number(fixed(n2 * k, digits)));
    return `${say(p[0])}, ${say(p[1])} ${system === "metric" ? "m" : "ft"}`;
  }
  function shortLength(feet, system) {
    if (system === "metric") return `${Number(fixed(feet * 0.3048, 1))} m`;
    return `${Number(fixed(feet, 1))} ft`;
  }
  function fixed(n2, digits) {
    const text2 = n2.toFixed(digits);
    return Number(text2) === 0 ? text2.replace("-", "") : text2;
  }
  function grouped(n2) {
    const [whole = "", part] = n2.split(".");
    const spaced = whole.replace(/\B(?=(\d{3})+$)/g, ",");
    return part === void 0 ? spaced : `${spaced}.${part}`;
  }

  // web/editor/catalog.ts
  function equip(p, from, nozzle2, body2) {
    let next = p;
    const n2 = from.nozzles.find((e) => e.id === nozzle2);
    if (n2 && !find(next, "nozzles", nozzle2)) next = put(next, "nozzles", nozzle2, row(n2));
    const b = from.bodies.find((e) => e.id === body2);
    if (b && !find(next, "bodies", body2)) next = put(next, "bodies", body2, row(b));
    return next;
  }
  function row(entry2) {
    const { id: _id, ...rest } = entry2;
    return structuredClone(rest);
  }
  function nozzles(p, from) {
    const own2 = Object.entries(p.nozzles ?? {}).map(([id, n2]) => ({ ...n2, id }));
    const rest = from.nozzles.filter((n2) => !find(p, "nozzles", n2.id));
    return [...own2, ...rest].sort((a, b) => order(a).localeCompare(order(b), "en", { numeric: true }));
  }
  var families = ["spray", "stream", "rotor", "strip"];
  var order = (n2) => `${families.indexOf(n2.family)} ${n2.name} ${n2.id}`;
  function bodies(p, from) {
    const own2 = Object.entries(p.bodies ?? {}).map(([id, b]) => ({ ...b, id }));
    const rest = from.bodies.filter((b) => !find(p, "bodies", b.id));
    return [...own2, ...rest].sort((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }));
  }
  function fitting(p, from, nozzle2) {
    const all = bodies(p, from);
    const fit2 = all.filter((b) => b.takes === nozzle2.thread);
    return fit2.length > 0 ? fit2 : all;
  }

  // web/editor/heads.ts
  function arcFor(n2, sweep2) {
    if (n2.arc_most_deg <= 0) return void 0;
    return Math.min(n2.arc_most_deg, Math.max(n2.arc_least_deg, sweep2 ?? n2.arc_most_deg));
  }
  function ownThrow(n2) {
    const rows = n2.rows;
    const near = rows.reduce((a, b) => far(a, n2) <= far(b, n2) ? a : b);
    return near.throw_ft;
  }
  var far = (row4, n2) => Math.abs(row4.pressure_psi - n2.best_psi);
  function setNozzle(p, from, heads3, nozzle2) {
    let next = equip(p, from, nozzle2, "");
    const n2 = find(next, "nozzles", nozzle2);
    if (!n2) return p;
    for (const id of heads3) {
      const head2 = find(next, "heads", id);
      if (!head2) continue;
      const body2 = bodyFor(next, from, n2, head2.body);
      next = put(equip(next, from, nozzle2, body2), "heads", id, refitted({ ...head2, nozzle: nozzle2, body: body2 }, n2));
    }
    return next;
  }
  function bodyFor(p, from, n2, now) {
    const fit2 = fitting(p, from, n2);
    return fit2.some((b) => b.id === now) ? now : fit2[0]?.id ?? now;
  }
  function refitted(head2, n2) {
    const { sweep_deg, throw_ft, ...rest } = head2;
    const sweep2 = arcFor(n2, sweep_deg || void 0);
    const out = sweep2 === void 0 ? rest : { ...rest, sweep_deg: sweep2 };
    return throw_ft !== void 0 && throw_ft < ownThrow(n2) ? { ...out, throw_ft } : out;
  }
  function setBody(p, from, heads3, body2) {
    let next = equip(p, from, "", body2);
    for (const id of heads3) {
      const head2 = find(next, "heads", id);
      if (head2) next = put(next, "heads", id, { ...head2, body: body2 });
    }
    return next;
  }
  function newHead(p, from, id, head2) {
    const next = equip(p, from, head2.nozzle, head2.body);
    const n2 = find(next, "nozzles", head2.nozzle);
    const start_deg = normDeg(head2.start_deg ?? 0);
    return put(next, "heads", id, n2 ? refitted({ ...head2, start_deg }, n2) : { ...head2, start_deg });
  }

  // web/editor/pattern.ts
  var headAt = (h2) => [h2.x_ft, h2.y_ft];
  function tableThrow(n2, design, id) {
    return design?.heads[id]?.table_throw_ft ?? (n2 ? ownThrow(n2) : 10);
  }
  function throwOf(h2, n2, design, id) {
    return h2.throw_ft ?? tableThrow(n2, design, id);
  }
  function patternOf(h2, n2, throwFt) {
    const start3 = h2.start_deg ?? 0;
    if (n2?.strip) return { shape: "strip", corners: stripCorners(h2, n2.strip, throwFt), throwFt };
    return { shape: "sector", startDeg: start3, sweepDeg: h2.sweep_deg || 360, throwFt };
  }
  function stripCorners(h2, s2, throwFt) {
    const at2 = headAt(h2);
    const [x0, x1] = [s2.back ? -throwFt : 0, s2.ahead ? throwFt : 0];
    const turn = (x, y) => rotateAbout([at2[0] + x, at2[1] + y], at2, h2.start_deg ?? 0);
    return [turn(x0, -s2.right_ft), turn(x1, -s2.right_ft), turn(x1, s2.left_ft), turn(x0, s2.left_ft)];
  }
  var ARC_STEP = 5;
  var ARC_STEP_COARSE = 15;
  function clampSweep(n2, sweep2) {
    const least = n2?.arc_least_deg ?? 1;
    const most = n2?.arc_most_deg ?? 360;
    return Math.min(most, Math.max(least, sweep2));
  }
  var fixedArc = (n2) => n2 !== void 0 && n2.arc_least_deg === n2.arc_most_deg;
  function dragStart(h2, n2, deg) {
    const before = h2.sweep_deg || 360;
    if (fixedArc(n2) || n2?.strip || before >= 360) return { ...h2, start_deg: normDeg(deg) };
    const end = (h2.start_deg ?? 0) + before;
    const sweep2 = clampSweep(n2, unwrapped(end - deg, before));
    return { ...h2, start_deg: normDeg(end - sweep2), sweep_deg: sweep2 };
  }
  function dragEnd(h2, n2, deg) {
    const before = h2.sweep_deg || 360;
    if (fixedArc(n2) || n2?.strip) return { ...h2, start_deg: normDeg(deg - before) };
    return { ...h2, sweep_deg: clampSweep(n2, unwrapped(deg - (h2.start_deg ?? 0), before)) };
  }
  function unwrapped(sweep2, before) {
    const s2 = normDeg(sweep2);
    if (before > 270 && s2 < 90) return 360;
    return before < 90 && s2 > 270 ? 0 : s2;
  }
  function setThrow(h2, n2, table2, feet) {
    const least = table2 * (n2?.turn_down.least_share ?? 0.5);
    const wanted = Math.min(table2, Math.max(least, feet));
    const { throw_ft: _old, ...rest } = h2;
    return wanted >= table2 - 1e-9 ? rest : { ...rest, throw_ft: wanted };
  }
  var turnHead = (h2, by) => ({
    ...h2,
    start_deg: normDeg((h2.start_deg ?? 0) + by)
  });
  var widenHead = (h2, n2, by) => fixedArc(n2) || n2?.strip ? h2 : { ...h2, sweep_deg: clampSweep(n2, (h2.sweep_deg ?? 360) + by) };
  var AT_EDGE_FT = 1.25;
  function facing(p, at2) {
    for (const id of ids(p, "areas")) {
      const a = items(p, "areas")[id];
      if (!a || a.kind !== "planting") continue;
      const found = facingIn(a.outline, a.holes ?? [], at2);
      if (found) return found;
    }
    return null;
  }
  function facingIn(outline3, holes2, at2) {
    const along2 = [];
    for (const e of [outline3, ...holes2].flatMap((r) => edges(r))) {
      const deg = edgeDirectionNear(e, at2);
      if (deg !== null) along2.push(deg);
    }
    if (along2.length > 0) return probe(outline3, holes2, at2, along2);
    return shapeHolds(outline3, holes2, at2) ? { startDeg: 0, sweepDeg: 360 } : null;
  }
  function edgeDirectionNear(e, at2) {
    const arc = arcOf(e.a, e.b, e.bulge);
    const foot2 = arc ? nearestOnArc(at2, arc, e.a, e.b) : nearestOnSegment(at2, e.a, e.b);
    if (distance(foot2, at2) > AT_EDGE_FT) return null;
    return arc ? directionDeg(arc.centre, foot2) + 90 : directionDeg(e.a, e.b);
  }
  function probe(outline3, holes2, at2, along2) {
    const dirs = [...new Set(along2.flatMap((d) => [tidyDeg(d), tidyDeg(d + 180)]))].sort((a, b) => a - b);
    const looks = (deg) => shapeHolds(outline3, holes2, polar(at2, deg, AT_EDGE_FT * 2.5));
    const open2 = dirs.map((d, i) => {
      const next = dirs[(i + 1) % dirs.length];
      const sweep2 = normDeg(next - d) || 360;
      return { d, sweep: sweep2, open: looks(d + sweep2 / 2) };
    });
    if (open2.every((s2) => s2.open)) return { startDeg: 0, sweepDeg: 360 };
    let best2 = null;
    open2.forEach((first, i) => {
      if (!first.open || open2[(i + open2.length - 1) % open2.length]?.open) return;
      let sweep2 = 0;
      for (let k = 0; k < open2.length && open2[(i + k) % open2.length]?.open; k++) {
        sweep2 += open2[(i + k) % open2.length].sweep;
      }
      if (!best2 || sweep2 > best2.sweepDeg) best2 = { startDeg: first.d, sweepDeg: sweep2 };
    });
    return best2;
  }
  var tidyDeg = (deg) => normDeg(Math.round(deg * 1e3) / 1e3);
  function fitArc(n2, wanted) {
    if (n2.strip) return { startDeg: wanted.startDeg, sweepDeg: 0 };
    const sweepDeg = clampSweep(n2, wanted.sweepDeg);
    if (sweepDeg === wanted.sweepDeg || sweepDeg >= 360) return { startDeg: wanted.startDeg, sweepDeg };
    const middle2 = wanted.startDeg + wanted.sweepDeg / 2;
    return { startDeg: tidyDeg(middle2 - sweepDeg / 2), sweepDeg };
  }

  // web/editor/grips.ts
  var gripKey = (g) => `${g.ref} ${g.kind} ${g.ring} ${g.index}`;
  function gripsOf(p, r, design) {
    const [c, id] = parts(r);
    if (c === "heads") {
      const h2 = find(p, "heads", id);
      return h2 ? headGrips(p, r, id, h2, design) : [];
    }
    if (c === "trees" || c === "keep_dry" || c === "notes") return spotGrips(p, r);
    return ringsOf(p, r).flatMap((ring, n2) => cornerGrips(r, ring, n2, c === "areas"));
  }
  function cornerGrips(ref2, ring, n2, closed2) {
    const all = closed2 ? edges(ring) : lineEdges(ring);
    return ring.flatMap((c, index) => {
      const of = n2 === 0 ? "" : ` of hole ${n2}`;
      const corner2 = {
        kind: "corner",
        ref: ref2,
        ring: n2,
        index,
        at: place(c),
        name: `Corner ${index + 1}${of}`
      };
      const e = all[index];
      if (!e) return [corner2];
      const at2 = edgeMiddle(e.a, e.b, e.bulge);
      return [corner2, { kind: "middle", ref: ref2, ring: n2, index, at: at2, name: `Edge ${index + 1}${of}` }];
    });
  }
  var INNER = 0.8;
  function headGrips(p, ref2, id, h2, design) {
    const n2 = find(p, "nozzles", h2.nozzle);
    const at2 = headAt(h2);
    const reach = throwOf(h2, n2, design, id);
    const start3 = h2.start_deg ?? 0;
    const grip = (kind2, where2, name) => ({
      kind: kind2,
      ref: ref2,
      ring: 0,
      index: 0,
      at: where2,
      name
    });
    const body2 = grip("body", at2, "Place of the head");
    if (n2?.strip) return [body2, grip("start", polar(at2, start3, reach), "Direction of the strip")];
    const sweep2 = h2.sweep_deg || 360;
    const far2 = grip("throw", polar(at2, start3 + sweep2 / 2, reach), "Throw");
    if (fixedArc(n2)) {
      return sweep2 >= 360 ? [body2, far2] : [body2, grip("start", polar(at2, start3, reach), "Direction of the arc"), far2];
    }
    const inner = sweep2 >= 360 ? reach * INNER : reach;
    return [
      body2,
      grip("start", polar(at2, start3, reach), "Start of the arc"),
      grip("end", polar(at2, start3 + sweep2, inner), "End of the arc"),
      far2
    ];
  }
  function spotGrips(p, ref2) {
    const [c, id] = parts(ref2);
    const at2 = spotOf(p, ref2);
    if (!at2) return [];
    const body2 = { kind: "body", ref: ref2, ring: 0, index: 0, at: at2, name: "Place" };
    const radius = c === "trees" ? find(p, "trees", id)?.root_zone_ft : find(p, "keep_dry", id)?.radius_ft;
    if (c === "notes" || !radius) return [body2];
    const name = c === "trees" ? "Edge of the root zone" : "Edge of the dry place";
    return [body2, { kind: "radius", ref: ref2, ring: 0, index: 0, at: [at2[0] + radius, at2[1]], name }];
  }
  function dragGrip(p, g, d, design) {
    switch (g.kind) {
      case "corner":
        return moveCorner(p, g.ref, g.ring, g.index, d.to);
      case "middle":
        return dragMiddle(p, g, d);
      case "body":
        return placeThing(p, g.ref, d.to);
      case "radius":
        return dragRadius(p, g, d);
      default:
        return dragHead(p, g, d, design);
    }
  }
  function dragMiddle(p, g, d) {
    const e = edges(ringsOf(p, g.ref)[g.ring] ?? [])[g.index];
    if (!e) return p;
    if (!d.free && e.bulge === 0) return addCorner(p, g.ref, g.ring, g.index, d.to);
    const bulge = bulgeThrough(e.a, e.b, d.to);
    const flat = Math.abs(bulge) < 0.01;
    return setBulge(p, g.ref, g.ring, g.index, flat ? 0 : Math.min(10, Math.max(-10, bulge)));
  }
  var stepped = (n2, step3) => Math.round(n2 / step3) * step3;
  function dragRadius(p, g, d) {
    const [c, id] = parts(g.ref);
    const at2 = spotOf(p, g.ref);
    if (!at2) return p;
    const raw = distance(at2, d.to);
    const radius = Math.max(0.25, d.free ? stepped(raw, 0.01) : stepped(raw, d.coarse ? 1 : 0.25));
    if (c === "trees") {
      const t = find(p, "trees", id);
      return t ? put(p, "trees", id, { ...t, root_zone_ft: radius }) : p;
    }
    const k = find(p, "keep_dry", id);
    return k ? put(p, "keep_dry", id, { ...k, radius_ft: radius }) : p;
  }
  function dragHead(p, g, d, design) {
    const [, id] = parts(g.ref);
    const h2 = find(p, "heads", id);
    if (!h2) return p;
    const n2 = find(p, "nozzles", h2.nozzle);
    const at2 = headAt(h2);
    if (distance(at2, d.to) === 0) return p;
    if (g.kind === "throw") {
      const raw2 = distance(at2, d.to);
      const feet = d.exact ? raw2 : d.free ? stepped(raw2, 0.1) : throwStep(raw2, p.show);
      return put(p, "heads", id, setThrow(h2, n2, tableThrow(n2, design, id), feet));
    }
    const raw = directionDeg(at2, d.to);
    const deg = d.exact ? raw : stepped(raw, d.free ? 1 : d.coarse ? ARC_STEP_COARSE : ARC_STEP);
    return put(p, "heads", id, g.kind === "start" ? dragStart(h2, n2, deg) : dragEnd(h2, n2, deg));
  }
  function throwStep(feet, show) {
    const step3 = show === "metric" ? 0.5 / 0.3048 : 1;
    return stepped(feet, step3);
  }
  function gripAt(grips, at2, reach) {
    let best2 = null;
    let score = Infinity;
    for (const g of grips) {
      const d = distance(g.at, at2);
      if (d > reach) continue;
      const s2 = d + (g.kind === "middle" || g.kind === "body" ? reach : 0);
      if (s2 < score) [best2, score] = [g, s2];
    }
    return best2;
  }

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
  var thingNames = {
    areas: "Area",
    barriers: "Wall or fence",
    trees: "Tree",
    keep_dry: "Keep dry",
    heads: "Head",
    zones: "Zone",
    nozzles: "Nozzle",
    bodies: "Body",
    notes: "Note",
    accepted: "Accepted finding"
  };
  var cut = (text2) => text2.length > 40 ? `${text2.slice(0, 39)}…` : text2;
  function nameOf(p, r) {
    const [c, id] = parts(r);
    if (c === "heads") {
      const head2 = find(p, "heads", id);
      if (!head2) return "a head no longer here";
      return head2.tag ? `head ${head2.tag}` : `head at ${shortPlace([head2.x_ft, head2.y_ft], p.show)}`;
    }
    if (c === "notes") return `note “${cut(find(p, "notes", id)?.text ?? "")}”`;
    const thing2 = items(p, c)[id];
    return thing2?.name?.trim() ? thing2.name : thingNames[c].toLowerCase();
  }
  function namesOf(p, refs) {
    const [first] = refs;
    if (first && refs.length === 1) return nameOf(p, first);
    const kinds3 = new Set(refs.map((r) => parts(r)[0]));
    const [only] = kinds3;
    if (only && kinds3.size === 1) return `${refs.length} ${plural(only)}`;
    return `${refs.length} things`;
  }
  var plurals = {
    areas: "areas",
    barriers: "walls and fences",
    trees: "trees",
    keep_dry: "keep-dry points",
    heads: "heads",
    zones: "zones",
    nozzles: "nozzles",
    bodies: "bodies",
    notes: "notes",
    accepted: "accepted findings"
  };
  var plural = (c) => plurals[c];
  var count = (n2, one, many = `${one}s`) => `${n2} ${n2 === 1 ? one : many}`;
  var capital = (text2) => text2.charAt(0).toUpperCase() + text2.slice(1);

  // web/editor/length.ts
  var read = (value) => ({ ok: true, value });
  var refuse = (sentence) => ({ ok: false, sentence });
  var FARTHEST_FT = 32808;
  var LEAST_FT = 1e-6;
  var LONGEST = 64;
  function parseLength(typed4, system) {
    const sum = parseSum(typed4, system);
    if (!sum.ok) return sum;
    if (sum.value < LEAST_FT) return refuse("A length must be more than zero.");
    if (sum.value > FARTHEST_FT) {
      return refuse(`${quote(typed4.trim())} is longer than 10 km (32,808 ft). Check the unit.`);
    }
    return sum;
  }
  function parseCoordinate(typed4, system) {
    const sum = parseSum(typed4, system);
    if (!sum.ok) return sum;
    if (Math.abs(sum.value) > FARTHEST_FT) {
      return refuse(`${quote(typed4.trim())} is farther than 10 km (32,808 ft). Check the unit.`);
    }
    return read(sum.value + 0);
  }
  function parseAngle(typed4) {
    const text2 = oneWriting(typed4).trim().toLowerCase().replace(/\s*(°|deg|degrees)$/, "");
    if (text2.includes(","))
      return refuse(`${quote(typed4)} has a comma. Write a point for decimals, such as 22.5.`);
    if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text2)) {
      return refuse(`${quote(typed4)} is not an angle. Write degrees from east, such as 90 or -45.`);
    }
    const deg = Number(text2);
    if (Math.abs(deg) > 3600) return refuse(`${quote(typed4)} is more than ten turns. Write 0 to 360 degrees.`);
    return read(deg);
  }
  var quote = (s2) => s2.length > 24 ? `“${s2.slice(0, 24)}…”` : `“${s2}”`;
  function oneWriting(s2) {
    return s2.replace(/''|′′|[″”“]/g, '"').replace(/[′’‘´]/g, "'").replace(/[−–]/g, "-").replace(/[\u00a0\u2009\u202f]/g, " ").replace(/½/g, " 1/2").replace(/¼/g, " 1/4").replace(/¾/g, " 3/4");
  }
  var yard = { feet: 3, us: true };
  var foot = { feet: 1, us: true };
  var inch = { feet: 1 / 12, us: true };
  var metre = { feet: FEET_A_METRE, us: false };
  var units = new Map([
    ["yd", yard],
    ...["'", "ft", "foot", "feet"].map((w) => [w, foot]),
    ...['"', "in", "inch", "inches"].map((w) => [w, inch]),
    ...["m", "metre", "metres", "meter", "meters"].map((w) => [w, metre]),
    ["cm", { feet: 0.01 * FEET_A_METRE, us: false }],
    ["mm", { feet: 1e-3 * FEET_A_METRE, us: false }]
  ]);
  var Refusal = class extends Error {
  };
  function parseSum(typed4, system) {
    if (new TextEncoder().encode(typed4).length > LONGEST)
      return refuse(`${quote(typed4)} is too long for a length.`);
    try {
      return read(new Reader(typed4, system).sum());
    } catch (err) {
      if (err instanceof Refusal) return refuse(err.message);
      throw err;
    }
  }
  var Reader = class {
    constructor(typed4, system) {
      this.typed = typed4;
      this.system = system;
      this.#rest = oneWriting(typed4).trim();
    }
    typed;
    system;
    #rest;
    /** Measures joined by + and -. */
    sum() {
      if (this.#rest === "")
        throw new Refusal(`Nothing is written here. Write a length, such as ${this.#example()}.`);
      let sign = this.#take(/^-\s*/) ? -1 : 1;
      if (sign === 1) this.#take(/^\+\s*/);
      let sum = 0;
      for (; ; ) {
        sum += sign * this.#measure();
        if (this.#rest === "") return sum;
        sign = this.#joint();
      }
    }
    #example() {
      return this.system === "metric" ? "4.7 or 4.7 m" : `15.5 or 15' 6"`;
    }
    #take(pattern) {
      const m = pattern.exec(this.#rest);
      if (!m || m[0] === "") return null;
      this.#rest = this.#rest.slice(m[0].length);
      return m[0];
    }
    /** The sign between two measures. */
    #joint() {
      if (this.#take(/^ *\+ */)) return 1;
      if (this.#take(/^ +- +/)) return -1;
      if (/^ *-/.test(this.#rest)) {
        throw new Refusal(
          `${quote(this.typed)} can be read in two ways. Write 15' 6" for feet and inches, or put a space on each side of the minus to subtract.`
        );
      }
      throw this.#unread();
    }
    /** What stopped the reading. */
    #unread() {
      if (this.typed.includes(",")) {
        return new Refusal(`${quote(this.typed)} has a comma. Write a point for decimals, such as 12.5.`);
      }
      return new Refusal(`${quote(this.typed)} is not a length. Write it as ${this.#example()}.`);
    }
    /** Numbers with units that fall in size: 15 ft 6 1/2 in, 4 m 70 cm. */
    #measure() {
      let sum = 0;
      let before = null;
      do {
        const n2 = this.#number();
        const { unit: unit2, bare } = this.#unit(before);
        const part = n2 * unit2.feet;
        if (before && part >= before.feet) {
          throw new Refusal(
            `${quote(this.typed)} has a part that is larger than the unit before it. Check it.`
          );
        }
        sum += part;
        before = unit2;
        if (bare) break;
      } while (/^ *[.\d]/.test(this.#rest));
      return sum;
    }
    /** 15, 15.5, 1/2 or 6 1/2. */
    #number() {
      this.#take(/^ +/);
      const fraction = this.#take(/^\d+\/\d+(?![\d.])/);
      if (fraction) return this.#share(fraction);
      const word = this.#take(/^[.\d]+/) ?? "";
      if (!/^(\d+\.?\d*|\.\d+)$/.test(word) || word.length > 40 || Number(word) > 1e12) throw this.#unread();
      const after = /^ +\d+\//.test(this.#rest);
      if (!after) return Number(word);
      const part = word.includes(".") ? null : this.#take(/^ +\d+\/\d+(?![\d.])/);
      if (!part) throw this.#unread();
      return Number(word) + this.#share(part.trim());
    }
    #share(fraction) {
      const [top = "", bottom = ""] = fraction.split("/");
      if (Number(bottom) === 0) throw this.#unread();
      return Number(top) / Number(bottom);
    }
    // After feet a bare number is inches; a bare number alone is in the system's unit.
    #unit(before) {
      const word = this.#take(/^ *['"]/)?.trim() ?? this.#take(/^ *\p{L}+\.?/u)?.trim().toLowerCase().replace(/\.$/, "");
      if (word === void 0) {
        if (!before) return { unit: this.system === "metric" ? metre : foot, bare: true };
        if (before === foot) return { unit: inch, bare: true };
        throw this.#unread();
      }
      const unit2 = units.get(word);
      if (!unit2 || before && (before.us !== unit2.us || before.feet <= unit2.feet)) throw this.#unread();
      return { unit: unit2, bare: false };
    }
  };

  // web/editor/entry.ts
  var fieldNames = {
    length: "Length",
    angle: "Angle",
    width: "Width",
    depth: "Depth",
    radius: "Radius",
    second: "Second radius",
    sweep: "Arc",
    throw: "Throw",
    place: "Place x, y",
    text: "Text"
  };
  var isAngle = (f) => f === "angle" || f === "sweep";
  function parseEntry(texts, asked) {
    const filled = texts.map((t) => t.trim());
    if (filled.every((t) => t === "")) return refuse("Nothing is typed. Type a number, or press Escape.");
    const lone2 = filled.filter((t) => t !== "").length === 1 ? filled.find((t) => t !== "") ?? "" : null;
    if (lone2 !== null) {
      const whole = readWhole(lone2, asked);
      if (whole) return whole;
    }
    const values = {};
    for (let i = 0; i < asked.fields.length; i++) {
      const field = asked.fields[i];
      const text2 = filled[i] ?? "";
      if (text2 === "") continue;
      if (field === "place" || field === "text") return readPlace(text2, asked);
      const one = isAngle(field) ? parseAngle(text2) : parseLength(text2, asked.system);
      if (!one.ok) return one;
      values[field] = one.value;
    }
    return read({ values });
  }
  function readWhole(text2, asked) {
    if (text2.includes("<")) return readPolar(text2, asked);
    if (/[x×*]/i.test(text2) && asked.fields.length > 1 && !isAngle(asked.fields[1]))
      return readBy(text2, asked);
    if (text2.includes(",") || text2.includes(";")) return readPair(text2, asked);
    return null;
  }
  function readPolar(text2, asked) {
    const [l = "", a = "", more] = text2.split("<");
    if (more !== void 0 || !asked.fields.includes("angle")) {
      return refuse(`${quote(text2)} is not understood here. Type ${kindsOf(asked)}.`);
    }
    const length2 = parseLength(l, asked.system);
    if (!length2.ok) return length2;
    const angle2 = parseAngle(a);
    if (!angle2.ok) return angle2;
    return read({ values: { length: length2.value, angle: angle2.value } });
  }
  function readBy(text2, asked) {
    const [one = "", two = "", more] = text2.split(/[x×*]/i);
    if (more !== void 0) return refuse(`${quote(text2)} has three sizes. Type two, such as 30 x 20.`);
    const a = parseLength(one, asked.system);
    if (!a.ok) return a;
    const b = parseLength(two, asked.system);
    if (!b.ok) return b;
    return read({ values: { [asked.fields[0]]: a.value, [asked.fields[1]]: b.value } });
  }
  function readPair(text2, asked) {
    const clear = text2.includes(";") || /,\s/.test(text2);
    if (!clear && !asked.placeFirst) {
      return refuse(
        `${quote(text2)} can be read in two ways. For a decimal write ${text2.replace(",", ".")}; for a place write ${text2.replace(",", ", ")}.`
      );
    }
    return readPlace(text2, asked);
  }
  function readPlace(text2, asked) {
    const cut2 = text2.includes(";") ? ";" : ",";
    const [one = "", two = "", more] = text2.split(cut2);
    if (more !== void 0 || two.trim() === "") {
      return refuse(`${quote(text2)} is not a place. Type x, y such as 12.5, 40.`);
    }
    const x = parseCoordinate(one, asked.system);
    if (!x.ok) return x;
    const y = parseCoordinate(two, asked.system);
    if (!y.ok) return y;
    return read({ values: {}, place: [x.value, y.value] });
  }
  function kindsOf(asked) {
    return asked.fields.map((f) => fieldNames[f].toLowerCase()).join(", ");
  }
  function placeFrom(entry2, from, pointer) {
    if (entry2.place) return entry2.place;
    const deg = entry2.values.angle ?? directionDeg(from, pointer);
    const length2 = entry2.values.length ?? Math.hypot(pointer[0] - from[0], pointer[1] - from[1]);
    return polar(from, deg, length2);
  }

  // web/editor/tools/grasp.ts
  function lone(plan2, a) {
    const [only] = a.selection;
    return only && a.selection.size === 1 && !isLocked(plan2, only) ? only : null;
  }
  function gripsShown(plan2, a) {
    const only = lone(plan2, a);
    return only ? gripsOf(plan2, only, a.design) : [];
  }
  function edgeAt(plan2, a, aim) {
    const only = lone(plan2, a);
    if (!only) return null;
    const off = (e) => distance(nearestOnEdge(aim.raw, e), aim.raw);
    const near = indexOf(plan2).edgesNear(aim.raw, aim.reach * 0.75).filter((e) => e.ref === only).sort((e, f) => off(e) - off(f));
    return near[0] ?? null;
  }
  function graspAt(plan2, a, aim, on) {
    const from = aim.raw;
    if (!aim.shift && !aim.ctrl) {
      const grip = gripAt(gripsShown(plan2, a), aim.raw, aim.reach);
      if (grip) return { what: "grip", grip, from, corners: ringsOf(plan2, grip.ref)[grip.ring]?.length ?? 0 };
      const edge = edgeAt(plan2, a, aim);
      if (edge) return { what: "edge", edge, from };
    }
    if (!on || isLocked(plan2, on)) return null;
    const chosen3 = a.selection.has(on);
    if (!chosen3 && parts(on)[0] === "areas") return null;
    return { what: "things", refs: chosen3 ? [...a.selection] : [on], of: handleOf(plan2, on, aim.raw), from };
  }
  function handleOf(plan2, r, at2) {
    const spot2 = spotOf(plan2, r);
    if (spot2) return spot2;
    const corners2 = ringsOf(plan2, r).flatMap((ring) => ring.map(place));
    return corners2.reduce((best2, c) => distance(c, at2) < distance(best2, at2) ? c : best2, corners2[0] ?? at2);
  }
  function leadOf(g) {
    if (g.what === "things") return minus(g.of, g.from);
    return g.what === "grip" ? minus(g.grip.at, g.from) : null;
  }
  function pull(base, last2, g, aim, a) {
    if (g.what === "things") return moveThings(base, g.refs, minus(aim.at, g.of));
    if (g.what === "edge") {
      const { ref: ref2, ring, index } = g.edge;
      return moveEdge(base, ref2, ring, index, acrossEdge(g.edge, minus(aim.at, g.from), aim));
    }
    const { kind: kind2 } = g.grip;
    const keys = { coarse: aim.shift, free: aim.alt };
    if (kind2 === "corner" || kind2 === "middle" || kind2 === "body") {
      return dragGrip(base, g.grip, { to: aim.at, exact: false, ...keys }, a.design);
    }
    const exact = kind2 !== "throw" && kind2 !== "radius" && pointedAt(aim);
    const to = exact ? aim.at : add(aim.raw, minus(g.grip.at, g.from));
    const follow = kind2 === "start" || kind2 === "end";
    return dragGrip(follow ? last2 ?? base : base, g.grip, { to, exact, ...keys }, a.design);
  }
  var pointedAt = (aim) => aim.snap !== null && ["end", "crossing", "centre"].includes(aim.snap.kind);
  function acrossEdge(e, by, aim) {
    if (aim.shift || e.arc) return by;
    const [dx, dy] = minus(e.b, e.a);
    const len2 = dx * dx + dy * dy;
    if (len2 === 0) return by;
    const k = (by[0] * -dy + by[1] * dx) / len2;
    return [-dy * k, dx * k];
  }
  function brokenBy(plan2, g) {
    if (g.what === "things") return null;
    const { ref: ref2, ring } = g.what === "edge" ? g.edge : g.grip;
    return brokenRing(plan2, ref2, ring);
  }
  function brokenRing(plan2, ref2, ring) {
    const corners2 = ringsOf(plan2, ref2)[ring];
    if (!corners2 || corners2.length === 0) return null;
    const fault = parts(ref2)[0] === "areas" ? faultOf(corners2) : openFault(corners2);
    return fault ? { ref: ref2, ring, fault } : null;
  }
  var did = {
    corner: "Move a corner of",
    middle: "Change an edge of",
    body: "Move",
    start: "Turn the arc of",
    end: "Open the arc of",
    throw: "Set the throw of",
    radius: "Resize"
  };
  function labelOf(plan2, g) {
    if (g.what === "things") return `Move ${namesOf(plan2, g.refs)}`;
    if (g.what === "edge") return `Move an edge of ${nameOf(plan2, g.edge.ref)}`;
    return gripLabel(plan2, g.grip);
  }
  var gripLabel = (plan2, g) => `${did[g.kind]} ${nameOf(plan2, g.ref)}`;
  function skipping(g) {
    if (g.what === "things") {
      const moving = new Set(g.refs);
      return (x) => moving.has(x.ref);
    }
    if (g.what === "edge") return (x) => x.ref === g.edge.ref;
    const { ref: ref2, ring, index, kind: kind2 } = g.grip;
    if (kind2 !== "corner") return (x) => x.ref === ref2;
    const before = (index + g.corners - 1) % g.corners;
    return (x) => x.ref === ref2 && x.ring === ring && (x.index === index || x.index === before);
  }
  function gripFields(g) {
    switch (g.kind) {
      case "throw":
        return ["throw"];
      case "start":
      case "end":
        return ["sweep"];
      case "radius":
      case "middle":
        return ["radius"];
      default:
        return ["length", "angle"];
    }
  }
  function typedGrip(plan2, g, entry2, aim, a) {
    const spot2 = spotOf(plan2, g.ref);
    const { throw: reach, sweep: sweep2, radius } = entry2.values;
    const exact = { exact: true, coarse: false, free: false };
    if (sweep2 !== void 0) return typedSweep(plan2, g, sweep2);
    if (g.kind === "middle" && radius !== void 0) return typedRadius(plan2, g, radius);
    const out = reach ?? radius;
    if (out !== void 0 && spot2) {
      const to = polar(spot2, directionDeg(spot2, g.at), out);
      return { plan: dragGrip(plan2, g, { ...exact, to }, a.design) };
    }
    return { plan: dragGrip(plan2, g, { ...exact, to: placeFrom(entry2, startOf(plan2, g), aim) }, a.design) };
  }
  function typedSweep(plan2, g, sweep2) {
    const [c, id] = parts(g.ref);
    const h2 = c === "heads" ? find(plan2, "heads", id) : void 0;
    if (!h2) return { why: "Only a head has an arc." };
    const n2 = find(plan2, "nozzles", h2.nozzle);
    if (clampSweep(n2, sweep2) !== sweep2) {
      return { why: `This nozzle can be set from ${n2?.arc_least_deg ?? 1} to ${n2?.arc_most_deg ?? 360} degrees.` };
    }
    return { plan: put(plan2, "heads", id, { ...h2, sweep_deg: sweep2 }) };
  }
  function typedRadius(plan2, g, radius) {
    const e = edges(ringsOf(plan2, g.ref)[g.ring] ?? [])[g.index];
    if (!e) return { why: "There is no edge here." };
    const bulge = bulgeForRadius(e.a, e.b, radius, e.bulge < 0 ? -1 : 1);
    if (bulge === null) return { why: "That radius is less than half the edge: no arc of it reaches both ends. Type a larger one." };
    return { plan: setBulge(plan2, g.ref, g.ring, g.index, bulge) };
  }
  function startOf(plan2, g) {
    const ring = ringsOf(plan2, g.ref)[g.ring];
    const before = ring?.[(g.index + ring.length - 1) % ring.length];
    return before ? place(before) : g.at;
  }

  // web/editor/thingactions.ts
  var clip = null;
  function chosen(d) {
    const el = document.activeElement;
    const at2 = el instanceof SVGElement && d.dom.svg.contains(el) ? el.dataset.ref : void 0;
    return at2 ?? null;
  }
  var selected = (d) => [...d.board.selection].filter((r) => isDrawn(parts(r)[0]));
  var free = (d) => selected(d).filter((r) => !isLocked(d.board.plan, r));
  var needsSelection = (d) => selected(d).length > 0 ? true : "Select something first.";
  var needsFree = (d) => selected(d).length === 0 ? "Select something first." : free(d).length > 0 ? true : "What is selected is locked. Unlock it first.";
  function actionsOnThings(d) {
    return { ...copies(d), ...choices(d), ...handles(d), ...heads(d) };
  }
  function copies(d) {
    return {
      "edit.copy": {
        enabled: () => needsSelection(d),
        run: () => {
          clip = copyThings(d.board.plan, selected(d));
          d.board.announce(`Copied ${namesOf(d.board.plan, selected(d))}.`);
        }
      },
      "edit.paste": {
        enabled: () => clip ? true : "Copy something first.",
        run: () => paste(d)
      },
      "edit.duplicate": {
        enabled: () => needsSelection(d),
        run: () => {
          const refs = selected(d);
          const step3 = Math.max(d.grid.snap, 2);
          const [plan2, made3] = pasteThings(d.board.committed, copyThings(d.board.committed, refs), [step3, -step3]);
          const label = `Duplicate ${namesOf(d.board.committed, refs)}`;
          d.commit(label, plan2, { select: made3, say: `${label}: done.` });
        }
      },
      "edit.delete": {
        enabled: () => d.inHand?.kind === "corner" ? true : needsFree(d),
        run: () => remove(d)
      },
      "edit.makehole": {
        enabled: () => holeReason(d),
        run: () => makeHole(d)
      },
      "edit.lock": {
        enabled: () => {
          const can = selected(d).some((r) => ["areas", "heads"].includes(parts(r)[0]));
          return can ? true : "Select an area or a head first.";
        },
        on: () => selected(d).length > 0 && free(d).length === 0,
        run: () => {
          const refs = selected(d);
          const lock = free(d).length > 0;
          const label = `${lock ? "Lock" : "Unlock"} ${namesOf(d.board.committed, refs)}`;
          d.commit(label, setLocked(d.board.committed, refs, lock), { say: `${label}: done.` });
        }
      }
    };
  }
  function paste(d) {
    if (!clip) return;
    const base = d.board.committed;
    const [trial, there] = pasteThings(base, clip, [0, 0]);
    const b = boundsOfAll(trial, there);
    const step3 = d.grid.snap;
    const at2 = d.aim?.at;
    const to = b && at2 ? minus(at2, [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2]) : null;
    const by = to ? times([Math.round(to[0] / step3), Math.round(to[1] / step3)], step3) : [2 * step3, -2 * step3];
    const [plan2, made3] = pasteThings(base, clip, by);
    const label = `Paste ${namesOf(plan2, made3)}`;
    d.commit(label, plan2, { select: made3, say: `${label}: done.` });
  }
  function remove(d) {
    const grip = d.inHand;
    const base = d.board.committed;
    if (grip?.kind === "corner") return removeGrip(d, grip);
    const refs = free(d);
    const locked = selected(d).length - refs.length;
    const label = `Delete ${namesOf(base, refs)}`;
    const left = locked > 0 ? ` ${locked} locked left alone.` : "";
    d.commit(label, deleteThings(base, refs), { select: [], say: `${label}: done.${left}` });
  }
  function removeGrip(d, g) {
    const base = d.board.committed;
    const next = removeCorner(base, g.ref, g.ring, g.index);
    if (next && !brokenRing(next, g.ref, g.ring)) {
      d.commit(`Take out a corner of ${nameOf(base, g.ref)}`, next, { say: "Corner taken out." });
    } else if (!next && g.ring > 0) {
      d.commit(`Close a hole of ${nameOf(base, g.ref)}`, dropHole(base, parts(g.ref)[1], g.ring - 1), { say: "Hole closed." });
    } else {
      const why = next ? "Without this corner the outline would cross itself." : "An outline needs its last three corners; a line its last two.";
      d.board.show({ kind: "hint", sentence: `${why} Delete the whole thing instead, or move the corner.` });
    }
    d.hold(null);
  }
  function holeReason(d) {
    const [only, more] = selected(d);
    if (!only || more || parts(only)[0] !== "areas") return "Select one area that lies inside another.";
    const around = areaAround(d.board.plan, ringsOf(d.board.plan, only)[0] ?? [], only);
    return around ? true : "This area does not lie wholly inside another.";
  }
  function makeHole(d) {
    const base = d.board.committed;
    const [inner] = selected(d);
    const outline3 = inner ? ringsOf(base, inner)[0] ?? [] : [];
    const around = inner ? areaAround(base, outline3, inner) : null;
    if (!inner || !around) return;
    const plan2 = addHole(drop(base, "areas", parts(inner)[1]), parts(around)[1], outline3);
    d.commit(`Make ${nameOf(base, inner)} a hole of ${nameOf(base, around)}`, plan2, { select: [around], say: "Hole made." });
  }
  function choices(d) {
    const go = (by) => () => step(d, by);
    const some = () => allThings(d.board.plan).length > 0 ? true : "There is nothing drawn yet.";
    return {
      "edit.all": {
        enabled: some,
        run: () => {
          const refs = allThings(d.board.plan).filter((r) => !isLocked(d.board.plan, r));
          d.board.select(refs);
          d.board.announce(`${namesOf(d.board.plan, refs)} selected.`);
          if (d.toolName !== "select") d.takeUp("select");
        }
      },
      "edit.next": { enabled: some, run: go(1) },
      "edit.previous": { enabled: some, run: go(-1) }
    };
  }
  function step(d, by) {
    const all = allThings(d.board.plan);
    const now = chosen(d) ?? selected(d)[0] ?? null;
    const at2 = now ? all.indexOf(now) : by === 1 ? -1 : all.length;
    const next = all[(at2 + by + all.length) % all.length];
    if (!next) return;
    d.stop = next;
    d.board.select([next]);
    d.board.lookAt({ about: [next], gentle: true });
    d.dom.svg.querySelector(`[data-ref="${CSS.escape(next)}"]`)?.focus({ preventScroll: true });
  }
  function handles(d) {
    const has2 = () => d.grips.length > 0 ? true : "Select one thing that is not locked.";
    const go = (by) => () => {
      const all = d.grips;
      const now = d.inHand;
      const at2 = now ? all.findIndex((g) => g.name === now.name && g.ring === now.ring) : by === 1 ? -1 : 0;
      d.hold(all[(at2 + by + all.length) % all.length] ?? null);
    };
    return {
      "edit.grip": { enabled: has2, run: go(1) },
      "edit.gripback": { enabled: has2, run: go(-1) },
      "edit.corner": { enabled: () => edgeReason(d), run: () => insert(d) },
      "edit.bow": { enabled: () => edgeReason(d), run: () => bow(d) }
    };
  }
  var edgeReason = (d) => {
    const kind2 = d.inHand?.kind;
    return kind2 === "middle" || kind2 === "corner" ? true : "Take an edge in hand first: select a shape, then E.";
  };
  function insert(d) {
    const g = d.inHand;
    if (!g) return;
    const base = d.board.committed;
    const next = addCorner(base, g.ref, g.ring, g.index);
    d.commit(`Add a corner to ${nameOf(base, g.ref)}`, next, { say: "Corner added." });
    const made3 = gripsOf(next, g.ref, d.board.design).find((k) => k.kind === "corner" && k.ring === g.ring && k.index === g.index + 1);
    d.hold(made3 ?? null);
  }
  var FIRST_BULGE = 0.25;
  function bow(d) {
    const g = d.inHand;
    if (!g) return;
    const base = d.board.committed;
    const corner2 = ringsOf(base, g.ref)[g.ring]?.[g.index];
    const straight = !corner2 || bulgeOf(corner2) === 0;
    const next = setBulge(base, g.ref, g.ring, g.index, straight ? FIRST_BULGE : 0);
    if (brokenRing(next, g.ref, g.ring)) {
      d.board.show({ kind: "hint", sentence: "Bowed, this edge would cross another. Make room first, or pull its middle the other way." });
      return;
    }
    d.commit(`${straight ? "Bow" : "Straighten"} an edge of ${nameOf(base, g.ref)}`, next, {
      say: straight ? "Bowed. Type a radius, or pull its middle." : "Straight."
    });
  }
  var TURN_DEG = 15;
  function heads(d) {
    const some = () => {
      const own2 = free(d).filter((r) => parts(r)[0] === "heads");
      return own2.length > 0 ? true : "Select a head that is not locked.";
    };
    const each = (label, key2, change) => ({
      enabled: some,
      run: () => {
        let next = d.board.committed;
        const refs = free(d).filter((r) => parts(r)[0] === "heads");
        for (const r of refs) {
          const [, id] = parts(r);
          const h2 = find(next, "heads", id);
          if (h2) next = put(next, "heads", id, change(h2, find(next, "nozzles", h2.nozzle), id));
        }
        d.commit(`${label} ${namesOf(next, refs)}`, next, { merge: `${key2} ${refs.join(" ")}`, say: headSay(d, next, refs) });
      }
    });
    const foot2 = () => d.board.plan.show === "metric" ? 0.5 / 0.3048 : 1;
    const longer = (by) => (h2, n2, id) => {
      const table2 = tableThrow(n2, d.board.design, id);
      return setThrow(h2, n2, table2, throwOf(h2, n2, d.board.design, id) + by * foot2());
    };
    return {
      "head.left": each("Turn", "turn", (h2) => turnHead(h2, TURN_DEG)),
      "head.right": each("Turn", "turn", (h2) => turnHead(h2, -TURN_DEG)),
      "head.narrower": each("Narrow the arc of", "widen", (h2, n2) => widenHead(h2, n2, -TURN_DEG)),
      "head.wider": each("Widen the arc of", "widen", (h2, n2) => widenHead(h2, n2, TURN_DEG)),
      "head.shorter": each("Shorten the throw of", "throw", longer(-1)),
      "head.longer": each("Lengthen the throw of", "throw", longer(1))
    };
  }
  function headSay(d, plan2, refs) {
    const [first] = refs;
    const h2 = first ? find(plan2, "heads", parts(first)[1]) : void 0;
    if (!first || !h2) return "";
    const feet = throwOf(h2, find(plan2, "nozzles", h2.nozzle), d.board.design, parts(first)[1]);
    return `Arc ${Math.round(h2.sweep_deg ?? 360)} degrees from ${Math.round(h2.start_deg ?? 0)}, throw ${shortLength(feet, plan2.show)}.`;
  }

  // web/editor/commands.ts
  var groups = ["Draw", "Aids", "View", "Edit", "Heads", "Plan"];
  var table = {
    "tool.select": row2("Select", "Draw", ["V"], "board", "Click, Shift-click or drag a box; drag to move."),
    "tool.outline": row2("Outline", "Draw", ["A"], "board", "Click corners or type lengths; Enter closes."),
    "tool.rectangle": row2("Rectangle", "Draw", ["R"], "board", "Two corners, or type width x depth."),
    "tool.round": row2("Circle", "Draw", ["C"], "board", "Centre, then radius; type two for an oval."),
    "tool.barrier": row2("Wall or fence", "Draw", ["B"], "board", "A line that stops water below its height."),
    "tool.tree": row2("Tree", "Draw", ["T"], "board", "One click sets the trunk."),
    "tool.keepdry": row2("Keep dry", "Draw", ["K"], "board", "Marks a thing water must not reach."),
    "tool.note": row2("Note", "Draw", ["N"], "board", "Pins a remark to a place."),
    "tool.head": row2("Head", "Draw", ["H"], "board", "One click sets a head; its arc follows the edge."),
    "tool.measure": row2("Measure", "Draw", ["M"], "board", "Lengths and area; leaves nothing on the plan."),
    "draw.kind": row2("Next kind of area", "Draw", ["Q"], "board", "Planting, building, paving and so on."),
    "draw.hole": row2(
      "Draw as hole",
      "Draw",
      ["X"],
      "board",
      "The next outline is cut out of the area around it."
    ),
    "aid.snap": row2("Snap", "Aids", ["S"], "board", "Pulls the pointer to corners, middles and edges."),
    "aid.grid": row2("Grid", "Aids", ["G"], "board", "Shows or hides the grid."),
    "aid.gridsnap": row2("Snap to grid", "Aids", ["Shift+G"], "board", "Rounds places to the grid step."),
    "aid.ortho": row2("Square", "Aids", ["O", "F8"], "board", "Holds lines to 90 and 45 degrees."),
    "view.in": row2("Zoom in", "View", ["+", "="], "board", "About the pointer, or the middle."),
    "view.out": row2("Zoom out", "View", ["-"], "board", "About the pointer, or the middle."),
    "view.fit": row2("Whole plan", "View", ["F"], "board", "Shows everything drawn."),
    "view.selection": row2("Show selection", "View", ["Shift+F"], "board", "Zooms to what is selected."),
    "view.wheel": row2(
      "Wheel moves instead of zooming",
      "View",
      [],
      "board",
      "For mice and pads that prefer it."
    ),
    "edit.undo": row2(
      "Undo",
      "Edit",
      ["Ctrl+Z"],
      "page",
      "Takes back the last step; while drawing, the last corner."
    ),
    "edit.redo": row2("Redo", "Edit", ["Ctrl+Shift+Z", "Ctrl+Y"], "page", "Does the step again."),
    "edit.copy": row2("Copy", "Edit", ["Ctrl+C"], "page", "Keeps the selection for pasting."),
    "edit.paste": row2("Paste", "Edit", ["Ctrl+V"], "page", "Puts the copy down at the pointer."),
    "edit.duplicate": row2("Duplicate", "Edit", ["Ctrl+D"], "page", "A second one beside the first."),
    "edit.delete": row2(
      "Delete",
      "Edit",
      ["Delete", "Backspace"],
      "board",
      "Removes the selection or the corner in hand."
    ),
    "edit.all": row2("Select all", "Edit", ["Ctrl+A"], "page", "Everything that is not locked."),
    "edit.next": row2("Next thing", "Edit", ["PageDown"], "board", "Moves to the next thing on the plan."),
    "edit.previous": row2("Previous thing", "Edit", ["PageUp"], "board", "Moves to the thing before."),
    "edit.grip": row2(
      "Next handle",
      "Edit",
      ["E"],
      "board",
      "Takes a corner, arc end or throw in hand for the arrows."
    ),
    "edit.gripback": row2("Previous handle", "Edit", ["Shift+E"], "board", "The handle before."),
    "edit.corner": row2(
      "Add corner",
      "Edit",
      ["Insert", "I"],
      "board",
      "A new corner in the middle of the edge in hand."
    ),
    "edit.bow": row2(
      "Bow edge",
      "Edit",
      ["W"],
      "board",
      "Makes the edge in hand an arc, or straight again; type a radius."
    ),
    "edit.makehole": row2(
      "Make hole",
      "Edit",
      ["Shift+X"],
      "board",
      "Turns the selected area into a hole of the one around it."
    ),
    "edit.lock": row2("Lock", "Edit", ["L"], "board", "Keeps the selection where it is."),
    "head.left": row2("Turn arc left", "Heads", ["["], "board", "15 degrees anticlockwise."),
    "head.right": row2("Turn arc right", "Heads", ["]"], "board", "15 degrees clockwise."),
    "head.narrower": row2("Narrow arc", "Heads", ["{"], "board", "15 degrees less."),
    "head.wider": row2("Widen arc", "Heads", ["}"], "board", "15 degrees more."),
    "head.shorter": row2("Shorten throw", "Heads", [","], "board", "1 ft less."),
    "head.longer": row2("Lengthen throw", "Heads", ["."], "board", "1 ft more, up to the nozzle's own."),
    "plan.enter": row2("Set or finish", "Plan", ["Enter"], "board", "Sets a point at the crosshair; else closes the outline."),
    "plan.finish": row2("Finish", "Plan", ["Ctrl+Enter"], "board", "Closes the outline or ends the line."),
    "plan.back": row2("Back out", "Plan", ["Escape"], "board", "Leaves one thing at a time."),
    "plan.help": row2("Keys", "Plan", ["?", "F1"], "board", "Shows this sheet.")
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
  var Commands = class {
    all;
    byID;
    constructor(actions2) {
      this.all = Object.keys(table).map((id) => bind(id, table[id], actions2[id]));
      this.byID = new Map(this.all.map((c) => [c.id, c]));
    }
    get(id) {
      const c = this.byID.get(id);
      if (!c) throw new Error(`no command ${id}`);
      return c;
    }
    /** Runs a command, or says why it cannot run. */
    run(id, say) {
      const c = this.get(id);
      const can = c.enabled();
      if (can === true) c.run();
      else say(can);
    }
  };
  function bind(id, r, a) {
    const c = { id, ...r, enabled: () => a.enabled(), run: () => a.run() };
    if (!a.on) return c;
    return { ...c, on: () => a.on?.() ?? false };
  }
  function tooltip(c) {
    const keys = c.keys.length > 0 ? ` (${c.keys.join(", ")})` : "";
    return `${c.title}${keys}. ${c.says}`;
  }
  function row2(title, group2, keys, where2, says) {
    return { title, group: group2, keys, where: where2, says };
  }

  // web/editor/panels/keys.ts
  function keySheet(level) {
    const rows = Object.values(table);
    const commands = groups.map((g) => {
      const lines2 = rows.filter((r) => r.group === g).map((r) => line(r.keys.join(" or "), r.title, r.says));
      return h("section", {}, h(level, {}, g), sheet(g, lines2));
    });
    const held = gestures.map((g) => line(g.hold, "", g.does));
    return [
      ...commands,
      h("section", {}, h(level, {}, "Pointing and holding"), sheet("Pointing and holding", held))
    ];
  }
  function sheet(label, lines2) {
    const head2 = h("tr", {}, h("th", { scope: "col" }, "Key"), h("th", { scope: "col" }, "Does"));
    return h(
      "table",
      { class: "keys", "aria-label": label },
      h("thead", { class: "unseen" }, head2),
      h("tbody", {}, ...lines2)
    );
  }
  function line(keys, title, says) {
    const name = title ? h("b", {}, `${title}. `) : null;
    return h("tr", {}, h("th", { scope: "row" }, keys ? h("kbd", {}, keys) : "–"), h("td", {}, name, says));
  }
  function showKeys() {
    if (document.getElementById("keys-title")) return;
    const form = h("form", { method: "dialog", class: "form" });
    const close = h("button", { value: "", class: "main" }, "Close");
    form.append(h("div", { class: "dialog-head" }, h("h2", { id: "keys-title" }, "Keys"), close));
    form.append(
      h(
        "p",
        { class: "hint" },
        "Keys of one letter work while the board has the focus. On a Mac, Ctrl is Cmd."
      )
    );
    form.append(h("div", { class: "keys-sheet" }, ...keySheet("h3")));
    void ask2(h("dialog", { class: "roomy", "aria-labelledby": "keys-title" }, form));
  }

  // web/editor/view.ts
  var MOST_SCALE = 400;
  var LEAST_SCALE = 0.02;
  var pixel = (px, py) => ({ px, py });
  function toPixel(v, [x, y]) {
    return { px: (x - v.left) * v.scale, py: (v.top - y) * v.scale };
  }
  function toFeet(v, p) {
    return [v.left + p.px / v.scale, v.top - p.py / v.scale];
  }
  var centre = (v) => toFeet(v, pixel(v.width / 2, v.height / 2));
  function shown(v) {
    return {
      minX: v.left,
      minY: v.top - v.height / v.scale,
      maxX: v.left + v.width / v.scale,
      maxY: v.top
    };
  }
  function zoomAt(v, at2, factor) {
    const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, v.scale * factor));
    const [x, y] = toFeet(v, at2);
    return { ...v, scale, left: x - at2.px / scale, top: y + at2.py / scale };
  }
  function panBy(v, dx, dy) {
    return { ...v, left: v.left - dx / v.scale, top: v.top + dy / v.scale };
  }
  function fit(v, b) {
    const margin = 0.07;
    const w = Math.max(b.maxX - b.minX, 1);
    const h2 = Math.max(b.maxY - b.minY, 1);
    const room = 1 - 2 * margin;
    const scale = Math.min(60, v.width * room / w, v.height * room / h2);
    return lookAt({ ...v, scale: Math.max(LEAST_SCALE, scale) }, [
      (b.minX + b.maxX) / 2,
      (b.minY + b.maxY) / 2
    ]);
  }
  function lookAt(v, [x, y]) {
    return { ...v, left: x - v.width / 2 / v.scale, top: y + v.height / 2 / v.scale };
  }
  function resize(v, width, height) {
    return lookAt({ ...v, width, height }, centre(v));
  }
  function withinReach(v, content) {
    const b = content ?? { minX: -50, minY: -50, maxX: 50, maxY: 50 };
    const size = Math.max(b.maxX - b.minX, b.maxY - b.minY, 20);
    const scale = Math.max(v.scale, Math.min(MOST_SCALE, 60 / size));
    const reach = Math.max(size, 100);
    const [x, y] = centre(v);
    const cx = Math.min(b.maxX + reach, Math.max(b.minX - reach, x));
    const cy = Math.min(b.maxY + reach, Math.max(b.minY - reach, y));
    if (scale === v.scale && cx === x && cy === y) return v;
    return lookAt({ ...v, scale }, [cx, cy]);
  }
  function transformOf(v) {
    return `matrix(${v.scale} 0 0 ${-v.scale} ${-v.left * v.scale} ${v.top * v.scale})`;
  }

  // web/editor/actions.ts
  var kinds = Object.keys(kindNames);
  var always = (run2, on) => ({ enabled: () => true, run: run2, ...on ? { on } : {} });
  function actions(d) {
    return { ...tools(d), ...aids(d), ...views(d), ...steps(d), ...actionsOnThings(d) };
  }
  function tools(d) {
    const tool = (name) => always(
      () => {
        d.takeUp(name);
        d.focus();
      },
      () => d.toolName === name
    );
    return {
      "tool.select": tool("select"),
      "tool.outline": tool("outline"),
      "tool.rectangle": tool("rectangle"),
      "tool.round": tool("round"),
      "tool.barrier": tool("barrier"),
      "tool.tree": tool("tree"),
      "tool.keepdry": tool("keepdry"),
      "tool.note": tool("note"),
      "tool.head": tool("head"),
      "tool.measure": tool("measure"),
      "draw.kind": always(() => {
        const areaKind = kinds[(kinds.indexOf(d.kit.areaKind) + 1) % kinds.length];
        d.setKit({ areaKind });
        d.board.announce(`Draws ${kindNames[areaKind].toLowerCase()}.`);
      }),
      "draw.hole": always(
        () => {
          d.setKit({ asHole: !d.kit.asHole });
          d.board.announce(d.kit.asHole ? "The next outline is cut out as a hole." : "Outlines are areas again.");
        },
        () => d.kit.asHole
      )
    };
  }
  function aids(d) {
    const flag = (key2, name) => always(
      () => {
        d.setAids({ [key2]: !d.aids[key2] });
        d.board.announce(`${name} ${d.aids[key2] ? "on" : "off"}.`);
      },
      () => d.aids[key2]
    );
    return {
      "aid.snap": flag("snap", "Snap"),
      "aid.grid": flag("grid", "Grid"),
      "aid.gridsnap": flag("gridSnap", "Snap to grid"),
      "aid.ortho": flag("ortho", "Square")
    };
  }
  function views(d) {
    const about = () => d.aim && !d.crosshair ? toPixel(d.view, d.aim.raw) : null;
    return {
      "view.in": always(() => d.looking.press(1, about())),
      "view.out": always(() => d.looking.press(-1, about())),
      "view.fit": {
        enabled: () => d.content() ? true : "There is nothing drawn yet.",
        run: () => d.looking.fitPlan()
      },
      "view.selection": {
        enabled: () => d.board.selection.size > 0 ? true : "Select something first.",
        run: () => d.looking.fitThings(d.board.selection)
      },
      "view.wheel": always(
        () => {
          d.setAids({ wheel: d.aids.wheel === "zoom" ? "pan" : "zoom" });
          d.board.announce(d.aids.wheel === "pan" ? "The wheel moves the view." : "The wheel zooms.");
        },
        () => d.aids.wheel === "pan"
      ),
      "plan.help": always(showKeys)
    };
  }
  function steps(d) {
    return {
      "edit.undo": {
        enabled: () => d.tool.busy || d.board.undoLabel ? true : "Nothing to undo.",
        run: () => {
          if (!(d.tool.busy && d.tell({ type: "back" }))) void d.board.undo();
        }
      },
      "edit.redo": {
        enabled: () => d.board.canRedo ? true : "Nothing to redo.",
        run: () => void d.board.redo()
      },
      "plan.enter": always(() => enter(d)),
      "plan.finish": always(() => {
        d.tell({ type: "finish" });
        d.focus();
      }),
      "plan.back": always(() => back(d))
    };
  }
  function enter(d) {
    const aim = d.crosshair ? d.aim : null;
    if (aim) {
      d.tell({ type: "place", aim });
      return;
    }
    if (d.tell({ type: "finish" })) return;
    const focused = chosen(d);
    if (focused) d.board.select([focused], "toggle");
  }
  function back(d) {
    if (d.entryOpen) return d.closeEntry();
    if (d.inHand && !d.tool.busy) return d.hold(null);
    if (!d.tell({ type: "escape" })) d.board.show(null);
  }

  // web/editor/aids.ts
  var usualAids = { snap: true, grid: true, gridSnap: true, ortho: false, wheel: "zoom" };
  var KEY = "evenfall-aids";
  function loadAids(shelf) {
    const text2 = read2(shelf);
    if (text2 === null) return usualAids;
    try {
      const kept2 = JSON.parse(text2);
      const flag = (k) => typeof kept2?.[k] === "boolean" ? kept2[k] : usualAids[k];
      return {
        snap: flag("snap"),
        grid: flag("grid"),
        gridSnap: flag("gridSnap"),
        ortho: flag("ortho"),
        wheel: kept2?.wheel === "pan" ? "pan" : "zoom"
      };
    } catch {
      return usualAids;
    }
  }
  function read2(shelf) {
    try {
      return shelf?.getItem(KEY) ?? null;
    } catch {
      return null;
    }
  }
  function keepAids(shelf, aids3) {
    try {
      shelf?.setItem(KEY, JSON.stringify(aids3));
    } catch {
    }
  }

  // web/editor/holds.ts
  function hold(anchor, pointer, rules) {
    if (!rules.fine && !rules.square) return null;
    if (distance(anchor.at, pointer) === 0) return null;
    const aim = directionDeg(anchor.at, pointer);
    const east = nearestStep(aim, 0, rules.fine ? 15 : 90);
    let best2 = { deg: east, from: "east" };
    if (anchor.beforeDeg !== void 0) {
      const turned2 = nearestStep(aim, anchor.beforeDeg, 45);
      if (Math.abs(turnDeg(aim, turned2)) < Math.abs(turnDeg(aim, east)) - 1e-9)
        best2 = { deg: turned2, from: "before" };
    } else if (!rules.fine) {
      best2 = { deg: nearestStep(aim, 0, 45), from: "east" };
    }
    const along2 = Math.max(0, dot(minus(pointer, anchor.at), unit(best2.deg)));
    return { at: onRay(anchor.at, best2.deg, along2), ...best2 };
  }
  function nearestStep(deg, from, step3) {
    return normDeg(from + Math.round(turnDeg(from, deg) / step3) * step3);
  }
  function onRay(from, deg, along2) {
    return add(from, times(unit(deg), along2));
  }
  var alongRay = (from, deg, p) => dot(minus(p, from), unit(deg));
  var rayEdge = (from, deg, a, b) => rayMeets(from, deg, a, b);

  // web/editor/grid.ts
  var M = FEET_A_METRE;
  var steps2 = {
    us: [
      [1 / 12, 12],
      [0.5, 2],
      [1, 5],
      [5, 2],
      [10, 5],
      [50, 2],
      [100, 5],
      [500, 2]
    ],
    metric: [
      [0.01 * M, 10],
      [0.05 * M, 2],
      [0.1 * M, 5],
      [0.5 * M, 2],
      [1 * M, 5],
      [5 * M, 2],
      [10 * M, 5],
      [50 * M, 2],
      [100 * M, 5]
    ]
  };
  var CLOSEST_PX = 9;
  var FINEST_PX = 4;
  function gridAt(scale, system) {
    const all = steps2[system];
    const from = (px) => all.find(([s2]) => s2 * scale >= px) ?? all[all.length - 1];
    const [step3, every] = from(CLOSEST_PX);
    const [snap] = from(FINEST_PX);
    const text2 = stepText(step3, system) + (snap < step3 ? `, snaps to ${stepText(snap, system)}` : "");
    return { step: step3, every, snap, text: text2 };
  }
  function stepText(step3, system) {
    if (system === "us") return step3 < 1 ? `${Math.round(step3 * 12)} in` : `${step3} ft`;
    const m = Math.round(step3 / M * 100) / 100;
    return m < 0.1 ? `${Math.round(m * 100)} cm` : `${m} m`;
  }
  function roundTo(n2, step3) {
    const k = Math.round(n2 / step3);
    return (step3 < 1 && Number.isInteger(Math.round(1 / step3)) && Math.abs(1 / step3 - Math.round(1 / step3)) < 1e-9 ? k / Math.round(1 / step3) : k * step3) + 0;
  }
  var onGrid = (p, step3) => [roundTo(p[0], step3), roundTo(p[1], step3)];
  function crosshairSteps(grid, system) {
    const usual = grid?.snap ?? (system === "us" ? 1 : M / 2);
    return { small: usual / 10, usual, large: usual * 10 };
  }
  var nudgeSteps = {
    us: { small: 1 / 12, usual: 1 / 12, large: 1 },
    metric: { small: M / 100, usual: M / 100, large: M / 10 }
  };

  // web/editor/snap.ts
  var snapNames = {
    end: "Corner",
    self: "Own corner",
    crossing: "Crossing",
    middle: "Middle of edge",
    centre: "Centre",
    square: "Square to edge",
    edge: "On edge",
    inline: "In line with corner",
    grid: "Grid"
  };
  var rank = {
    end: 0,
    self: 0,
    crossing: 1,
    middle: 2,
    centre: 3,
    square: 4,
    edge: 5,
    inline: 6,
    grid: 7
  };
  var MOST_CROSSED = 24;
  function snaps(index, ask3) {
    const { pointer, reach } = ask3;
    const out = [];
    const near = (kind2, at2) => {
      if (distance(at2, pointer) <= reach) out.push({ kind: kind2, at: at2 });
    };
    for (const p of ask3.own ?? []) near("self", p);
    for (const p of index.pointsNear(pointer, reach)) if (!ask3.skip?.(p)) near(p.kind, p.at);
    const edges2 = index.edgesNear(pointer, reach).filter((e) => !ask3.skip?.(e));
    for (const e of edges2) {
      near("middle", e.mid);
      near("edge", nearestOnEdge(pointer, e));
    }
    crossings(edges2, pointer, (at2) => near("crossing", at2));
    if (ask3.anchor) for (const e of edges2) for (const at2 of squareFeet(ask3.anchor, e)) near("square", at2);
    const sorted = best(out, pointer);
    if (ask3.grid) sorted.push({ kind: "grid", at: onGrid(pointer, ask3.grid) });
    return sorted;
  }
  function best(all, pointer) {
    const key2 = (s2) => rank[s2.kind];
    const sorted = [...all].sort(
      (a, b) => key2(a) - key2(b) || distance(a.at, pointer) - distance(b.at, pointer)
    );
    return sorted.filter((s2, i) => !sorted.slice(0, i).some((t) => distance(s2.at, t.at) < 1e-9));
  }
  function crossings(edges2, pointer, found) {
    const few = edges2.length <= MOST_CROSSED ? edges2 : [...edges2].sort(
      (a, b) => distance(nearestOnEdge(pointer, a), pointer) - distance(nearestOnEdge(pointer, b), pointer)
    ).slice(0, MOST_CROSSED);
    few.forEach((e, i) => {
      for (const f of few.slice(i + 1)) for (const at2 of edgeMeetings(e, f)) found(at2);
    });
  }
  function edgeMeetings(e, f) {
    if (e.arc && f.arc) return [];
    if (e.arc) return segmentMeetsArc(f.a, f.b, e.arc);
    if (f.arc) return segmentMeetsArc(e.a, e.b, f.arc);
    const at2 = meet(e.a, e.b, f.a, f.b);
    return at2 ? [at2] : [];
  }
  function squareFeet(from, e) {
    if (e.arc) {
      const d = distance(from, e.arc.centre);
      if (d === 0) return [];
      return [between(e.arc.centre, from, e.arc.radius / d)].filter(
        (q) => distance(q, nearestOnEdge(q, e)) < 1e-9
      );
    }
    const t = alongShare(from, e.a, e.b);
    return t < 0 || t > 1 ? [] : [between(e.a, e.b, t)];
  }
  function raySnaps(index, ask3) {
    const { anchor, deg, pointer, reach } = ask3;
    const out = [];
    const near = (kind2, at2) => {
      if (distance(at2, pointer) <= reach && distance(at2, anchor) > 1e-9) out.push({ kind: kind2, at: at2 });
    };
    const corners2 = [
      ...index.pointsNear(pointer, reach * 2).filter((p) => !ask3.skip?.(p)),
      ...(ask3.own ?? []).map((at2) => ({ at: at2, kind: "self" }))
    ];
    for (const p of corners2) {
      const foot2 = onRay(anchor, deg, alongRay(anchor, deg, p.at));
      if (distance(foot2, p.at) < 1e-9) near(p.kind, p.at);
      else near("inline", foot2);
    }
    for (const e of index.edgesNear(pointer, reach).filter((s2) => !ask3.skip?.(s2))) {
      const at2 = e.arc ? segmentMeetsArc(anchor, onRay(anchor, deg, 1e5), e.arc)[0] : rayEdge(anchor, deg, e.a, e.b);
      if (at2) near("crossing", at2);
    }
    const sorted = best(out, pointer);
    if (ask3.grid) {
      sorted.push({
        kind: "grid",
        at: onRay(anchor, deg, Math.max(0, roundTo(alongRay(anchor, deg, pointer), ask3.grid)))
      });
    }
    return sorted;
  }

  // web/editor/aim.ts
  var MOUSE_PX = 8;
  var TOUCH_PX = 18;
  var tidy = (p) => [Math.round(p[0] * 1e4) / 1e4, Math.round(p[1] * 1e4) / 1e4];
  function candidates(q) {
    const pointer = q.lead ? add(q.raw, q.lead) : q.raw;
    const held = q.anchor ? hold(q.anchor, pointer, { fine: q.keys.shift, square: q.aids.ortho }) : null;
    if (!q.snaps || q.keys.alt) return { held, found: [] };
    const ask3 = {
      pointer: held?.at ?? pointer,
      reach: q.reach,
      anchor: q.anchor?.at ?? null,
      own: q.aids.snap ? q.own : [],
      grid: q.aids.gridSnap && !q.steady ? q.gridStep : null,
      skip: q.aids.snap ? q.skip ?? void 0 : () => true
    };
    if (held && q.anchor)
      return { held, found: raySnaps(q.index, { ...ask3, anchor: q.anchor.at, deg: held.deg }) };
    return { held, found: snaps(q.index, ask3) };
  }
  function aimFor(q) {
    const { held, found } = candidates(q);
    const pointer = q.lead ? add(q.raw, q.lead) : q.raw;
    const pick = q.steady && q.cycle === 0 ? null : found[wrap(q.cycle - (q.steady ? 1 : 0), found.length)] ?? null;
    const at2 = pick?.at ?? held?.at ?? tidy(pointer);
    return { at: at2, raw: q.raw, snap: pick, held, reach: q.reach, ...q.keys };
  }
  var wrap = (k, n2) => n2 === 0 ? 0 : (k % n2 + n2) % n2;
  var sameAim = (a, b) => a !== null && b !== null && distance(a.at, b.at) === 0 && a.snap?.kind === b.snap?.kind;

  // web/editor/entrybox.ts
  var EntryBox = class {
    constructor(el, owner) {
      this.el = el;
      this.owner = owner;
      el.setAttribute("role", "group");
      el.setAttribute("aria-label", "Type at the pointer");
      el.append(this.#fields, this.#message);
      el.addEventListener("keydown", (e) => this.#key(e));
      el.addEventListener("pointerdown", (e) => e.stopPropagation());
      el.hidden = true;
    }
    el;
    owner;
    #fields = h("div", { class: "entry-fields" });
    #message = h("p", { class: "entry-message", id: "entry-message", role: "alert" });
    #inputs = [];
    #asked = null;
    get open() {
      return !this.el.hidden;
    }
    /** Opens with a first character already typed. */
    show(asked, first, at2) {
      this.#asked = asked;
      this.#inputs = asked.fields.map((f) => this.#input(f));
      this.#fields.replaceChildren(
        ...this.#inputs.map(
          (input3, i) => h("label", {}, h("span", {}, fieldNames[asked.fields[i]]), input3)
        )
      );
      this.#say("");
      this.el.hidden = false;
      this.move(at2);
      const input2 = this.#inputs[0];
      if (!input2) return;
      input2.value = first;
      input2.focus();
      input2.setSelectionRange(first.length, first.length);
    }
    #input(f) {
      const words = f === "text";
      return h("input", {
        type: "text",
        class: words ? "entry-words" : "entry-number",
        autocomplete: "off",
        spellcheck: words ? "true" : "false",
        maxlength: words ? 2e3 : 64,
        inputmode: "text",
        "aria-describedby": "entry-message",
        "data-field": f
      });
    }
    /** Keeps the box beside the pointer and inside the board. */
    move(at2) {
      const board = this.el.parentElement;
      if (!board) return;
      const room = {
        w: board.clientWidth - this.el.offsetWidth - 8,
        h: board.clientHeight - this.el.offsetHeight - 8
      };
      const below = at2.py + 22 > room.h ? at2.py - this.el.offsetHeight - 18 : at2.py + 22;
      this.el.style.left = `${Math.max(8, Math.min(room.w, at2.px + 18))}px`;
      this.el.style.top = `${Math.max(8, Math.min(room.h, below))}px`;
    }
    /** What the pointer would give, as a hint in the fields left empty. */
    hint(values) {
      this.#inputs.forEach((input2, i) => setAttr(input2, "placeholder", values[i] ?? ""));
    }
    close(escaped) {
      if (!this.open) return;
      this.el.hidden = true;
      this.#asked = null;
      this.owner.closed(escaped);
    }
    #key(e) {
      if (e.key === "Escape") {
        e.preventDefault();
        e.stopPropagation();
        this.close(true);
      } else if (e.key === "Enter") {
        e.preventDefault();
        e.stopPropagation();
        this.#take();
      } else if (e.key === "Tab" && this.#inputs.length > 1) {
        e.preventDefault();
        this.#next(e.shiftKey ? -1 : 1);
      }
    }
    #next(by) {
      const n2 = this.#inputs.length;
      const at2 = this.#inputs.indexOf(document.activeElement);
      const to = this.#inputs[(at2 + by + n2) % n2];
      to?.focus();
      to?.select();
    }
    #take() {
      const asked = this.#asked;
      if (!asked) return;
      const texts = this.#inputs.map((i) => i.value);
      if (asked.fields[0] === "text") {
        this.owner.words(texts[0] ?? "");
        this.close(false);
        return;
      }
      const got = parseEntry(texts, asked);
      const why = got.ok ? this.owner.typed(got.value) : got.sentence;
      if (why === null) this.close(false);
      else this.#say(why);
    }
    #say(sentence) {
      setText(this.#message, sentence);
      for (const input2 of this.#inputs) setAttr(input2, "aria-invalid", sentence ? "true" : null);
    }
  };

  // web/editor/keys.ts
  function keyName(e) {
    const key2 = latin(e);
    const letter = /^[A-Z]$/.test(key2);
    const named3 = key2.length > 1;
    const mods = [
      (e.ctrlKey || e.metaKey) && "Ctrl",
      e.altKey && "Alt",
      e.shiftKey && (letter || named3) && "Shift"
    ].filter((m) => m !== false);
    return [...mods, key2].join("+");
  }
  function latin(e) {
    if (e.key.length > 1) return e.key;
    const upper = e.key.toUpperCase();
    if (/^[A-Z]$/.test(upper)) return upper;
    const at2 = /^Key([A-Z])$/.exec(e.code);
    return at2?.[1] && e.key.charCodeAt(0) > 127 ? at2[1] : e.key;
  }
  var byKey = /* @__PURE__ */ new Map();
  for (const id of Object.keys(table)) {
    for (const key2 of table[id].keys) byKey.set(key2, { id, where: table[id].where });
  }
  function commandFor(e, at2) {
    const found = byKey.get(keyName(e));
    if (!found || at2.typing) return null;
    return found.where === "page" || at2.board ? found.id : null;
  }
  function takesText(el) {
    if (!el) return false;
    if (el.closest("dialog[open]")) return true;
    if (el instanceof HTMLElement && el.isContentEditable) return true;
    if (el.matches("textarea, select")) return true;
    return el.matches(
      "input:not([type=checkbox], [type=radio], [type=button], [type=range], [type=file], [type=submit])"
    );
  }
  function arrow(key2) {
    switch (key2) {
      case "ArrowLeft":
        return [-1, 0];
      case "ArrowRight":
        return [1, 0];
      case "ArrowUp":
        return [0, 1];
      case "ArrowDown":
        return [0, -1];
      default:
        return null;
    }
  }

  // web/editor/tools/words.ts
  function dragLabels(plan2, g, a) {
    if (g.what === "things") {
      const [first] = g.refs;
      const at2 = first ? spotOf(plan2, first) : null;
      return at2 && first ? [{ at: at2, text: [placeText(at2, plan2.show), nearest(first, a)].filter(Boolean).join(" · ") }] : [];
    }
    if (g.what === "grip" && g.grip.kind !== "corner" && g.grip.kind !== "middle") {
      const now = gripsOf(plan2, g.grip.ref, a.design).find((k) => gripKey(k) === gripKey(g.grip));
      return [{ at: now?.at ?? g.grip.at, text: gripText(plan2, g.grip, a) }];
    }
    const { ref: ref2, ring, index } = g.what === "edge" ? g.edge : g.grip;
    return edgeLabels(plan2, ref2, ring, index);
  }
  function edgeLabels(plan2, ref2, ring, index) {
    const corners2 = ringsOf(plan2, ref2)[ring] ?? [];
    const closed2 = parts(ref2)[0] === "areas";
    const all = closed2 ? edges(corners2) : lineEdges(corners2);
    const wanted = [...new Set([index - 1, index, index + 1].map((i) => closed2 ? (i + all.length) % all.length : i))];
    return wanted.flatMap((i) => {
      const e = all[i];
      if (!e) return [];
      const arc = arcOf(e.a, e.b, e.bulge);
      const length2 = lengthText(edgeLength(e.a, e.b, e.bulge), plan2.show);
      const text2 = arc ? `${length2} · radius ${lengthText(arc.radius, plan2.show)}` : length2;
      return [{ at: edgeMiddle(e.a, e.b, e.bulge), text: text2, along: { a: e.a, b: e.b } }];
    });
  }
  function gripText(plan2, g, a) {
    const show = plan2.show;
    const [c, id] = parts(g.ref);
    if (c === "heads") return headText(plan2, g, id, a);
    if (g.kind !== "radius") {
      const now = gripsOf(plan2, g.ref, a.design).find((k) => gripKey(k) === gripKey(g));
      return placeText(now?.at ?? g.at, show);
    }
    const edge = gripsOf(plan2, g.ref, a.design).find((k) => k.kind === "radius");
    const spot2 = spotOf(plan2, g.ref);
    return spot2 && edge ? `Radius ${lengthText(distance(spot2, edge.at), show)}` : "";
  }
  function headText(plan2, g, id, a) {
    const h2 = find(plan2, "heads", id);
    if (!h2) return "";
    const said = a.design?.heads[id];
    const join2 = (...words) => words.filter(Boolean).join(" · ");
    if (g.kind === "body") return join2(placeText(headAt(h2), plan2.show), nearest(g.ref, a));
    const n2 = find(plan2, "nozzles", h2.nozzle);
    if (g.kind === "throw") return join2(`Throw ${lengthText(throwOf(h2, n2, a.design, id), plan2.show)}`, said?.flow);
    if (n2?.strip) return `Direction ${angleText(h2.start_deg ?? 0)}`;
    return join2(`Arc ${angleText(h2.sweep_deg ?? 360)} from ${angleText(h2.start_deg ?? 0)}`, said?.flow);
  }
  var nearest = (r, a) => {
    const [c, id] = parts(r);
    return c === "heads" ? a.design?.heads[id]?.nearest ?? "" : "";
  };

  // web/editor/nudge.ts
  function nudge(d, way, large) {
    const grip = d.inHand;
    if (grip && grip.kind !== "body") return nudgeGrip(d, grip, way, large);
    const base = d.board.committed;
    const refs = [...d.board.selection].filter((r) => !isLocked(base, r));
    const [first] = refs;
    if (!first) return d.board.announce("What is selected is locked.");
    const next = moveThings(base, refs, stepOf(base, way, large));
    const at2 = middleOf(next, first);
    const say = at2 ? placeText(at2, base.show) : void 0;
    d.commit(`Move ${namesOf(base, refs)}`, next, { merge: `nudge ${refs.join(" ")}`, say });
  }
  function stepOf(p, way, large) {
    const s2 = nudgeSteps[p.show];
    return times(way, large ? s2.large : s2.usual);
  }
  function nudgeGrip(d, g, way, large) {
    const base = d.board.committed;
    const next = movedGrip(base, g, way, large, d);
    if (g.kind === "corner" || g.kind === "middle") {
      const broken = brokenRing(next, g.ref, g.ring);
      if (broken) return d.board.announce("No farther: the outline would cross itself.");
    }
    const say = gripText(next, g, { ...d.around, plan: next });
    d.commit(gripLabel(base, g), next, { merge: `grip ${gripKey(g)}`, say });
  }
  function movedGrip(p, g, way, large, d) {
    const by = stepOf(p, way, large);
    const design = d.board.design;
    switch (g.kind) {
      case "middle":
        return moveEdge(p, g.ref, g.ring, g.index, by);
      case "start":
      case "end":
        return turned(p, g, (way[1] - way[0]) * (large ? ARC_STEP_COARSE : ARC_STEP));
      case "throw": {
        const [, id] = parts(g.ref);
        const h2 = find(p, "heads", id);
        if (!h2) return p;
        const n2 = find(p, "nozzles", h2.nozzle);
        const step3 = (way[0] + way[1]) * (p.show === "metric" ? 0.5 / 0.3048 : 1);
        return put(p, "heads", id, setThrow(h2, n2, tableThrow(n2, design, id), throwOf(h2, n2, design, id) + step3));
      }
      case "radius": {
        const spot2 = spotOf(p, g.ref);
        const r = spot2 ? distance(spot2, g.at) + (way[0] + way[1]) * 0.5 : 0;
        return spot2 ? dragGrip(p, g, { to: polar(spot2, 0, Math.max(0.25, r)), exact: true, coarse: false, free: true }, design) : p;
      }
      default:
        return dragGrip(p, g, { to: add(g.at, by), exact: true, coarse: false, free: false }, design);
    }
  }
  function turned(p, g, deg) {
    const [, id] = parts(g.ref);
    const h2 = find(p, "heads", id);
    if (!h2) return p;
    const n2 = find(p, "nozzles", h2.nozzle);
    const start3 = h2.start_deg ?? 0;
    const to = g.kind === "start" ? start3 + deg : start3 + (h2.sweep_deg ?? 360) + deg;
    return put(p, "heads", id, g.kind === "start" ? dragStart(h2, n2, to) : dragEnd(h2, n2, to));
  }

  // web/editor/pointers.ts
  var origin = { px: 0, py: 0 };
  var resting = {
    mode: "idle",
    down: [],
    from: origin,
    moved: false,
    coarse: false,
    last: null
  };
  var STILL_MOUSE = 4;
  var STILL_TOUCH = 6;
  var QUICK_MS = 400;
  var QUICK_PX = 6;
  var apart = (a, b) => Math.hypot(a.px - b.px, a.py - b.py);
  var mid = (a, b) => ({ px: (a.px + b.px) / 2, py: (a.py + b.py) / 2 });
  function pointed(s2, e) {
    switch (e.type) {
      case "down":
        return down(s2, e);
      case "move":
        return move(s2, e);
      case "up":
        return up(s2, e);
      case "cancel":
        return lift(s2, e, true);
    }
  }
  function down(s2, e) {
    const fingers = [...s2.down.filter((f) => f.id !== e.id), { id: e.id, at: e.at }];
    const coarse = e.kind === "touch";
    if (fingers.length === 2 && coarse) {
      const out = s2.mode === "stroke" ? [{ do: "abort", at: e.at, coarse }] : [];
      return [{ ...s2, mode: "pinch", down: fingers }, out];
    }
    if (fingers.length > 1) return [{ ...s2, down: fingers }, []];
    if (e.button === 1 || e.button === 0 && e.space)
      return [{ ...s2, mode: "pan", down: fingers, coarse }, []];
    if (e.button !== 0) return [s2, []];
    const next = { ...s2, mode: "stroke", down: fingers, from: e.at, moved: false, coarse };
    return [next, [{ do: "press", at: e.at, coarse }]];
  }
  function move(s2, e) {
    const before = s2.down.find((f) => f.id === e.id);
    if (!before)
      return s2.mode === "idle" ? [s2, [{ do: "hover", at: e.at, coarse: e.kind === "touch" }]] : [s2, []];
    const fingers = s2.down.map((f) => f.id === e.id ? { id: e.id, at: e.at } : f);
    const next = { ...s2, down: fingers };
    switch (s2.mode) {
      case "pan":
        return [next, [{ do: "pan", dx: e.at.px - before.at.px, dy: e.at.py - before.at.py }]];
      case "pinch":
        return [next, pinch(s2.down, fingers)];
      case "stroke": {
        const moved = s2.moved || apart(s2.from, e.at) > (s2.coarse ? STILL_TOUCH : STILL_MOUSE);
        return [{ ...next, moved }, moved ? [{ do: "drag", at: e.at, coarse: s2.coarse }] : []];
      }
      default:
        return [next, []];
    }
  }
  function pinch(before, now) {
    const [a, b] = before;
    const [c, d] = now;
    if (!a || !b || !c || !d) return [];
    const [m0, m1] = [mid(a.at, b.at), mid(c.at, d.at)];
    const gap3 = apart(a.at, b.at);
    const factor = gap3 > 1 ? apart(c.at, d.at) / gap3 : 1;
    return [{ do: "pinch", at: m1, dx: m1.px - m0.px, dy: m1.py - m0.py, factor }];
  }
  function up(s2, e) {
    if (s2.mode !== "stroke" || s2.down[0]?.id !== e.id) return lift(s2, e, false);
    const quick = s2.last !== null && e.time - s2.last.time <= QUICK_MS && apart(s2.last.at, e.at) <= QUICK_PX;
    const clicks = quick && !s2.moved ? 2 : 1;
    const last2 = clicks === 2 ? null : { at: e.at, time: e.time };
    const out = { do: "release", at: e.at, coarse: s2.coarse, moved: s2.moved, clicks };
    return [{ ...s2, mode: "idle", down: [], last: last2 }, [out]];
  }
  function lift(s2, e, cancelled) {
    if (!s2.down.some((f) => f.id === e.id)) return [s2, []];
    const fingers = s2.down.filter((f) => f.id !== e.id);
    const out = [];
    if (cancelled && s2.mode === "stroke") out.push({ do: "abort", at: e.at, coarse: s2.coarse });
    if (s2.mode === "pan" || s2.mode === "pinch") out.push({ do: "settle" });
    return [{ ...s2, mode: fingers.length > 0 ? "spent" : "idle", down: fingers, last: null }, out];
  }

  // web/editor/listening.ts
  var WHEEL = 15e-4;
  var PINCH = 0.01;
  var LINE_PX = 16;
  var PAN_PX = 60;
  var READ_OUT_MS = 300;
  var Listening = class {
    constructor(d) {
      this.d = d;
      const { svg: svg2, board } = d.dom;
      svg2.addEventListener("pointerdown", (e) => this.#down(e));
      svg2.addEventListener("pointermove", (e) => this.#move(e));
      svg2.addEventListener("pointerup", (e) => this.#pointer("up", e));
      svg2.addEventListener("pointercancel", (e) => this.#pointer("cancel", e));
      svg2.addEventListener("pointerleave", () => this.#leave());
      svg2.addEventListener("contextmenu", (e) => e.preventDefault());
      board.addEventListener("wheel", (e) => this.#wheel(e), { passive: false });
      svg2.addEventListener("focusin", (e) => this.#focused(e));
      board.addEventListener("keydown", (e) => this.#key(e));
      board.addEventListener("keyup", (e) => this.#keyUp(e));
      document.addEventListener("keydown", (e) => this.#pageKey(e));
      for (const type of ["keydown", "keyup"]) document.addEventListener(type, (e) => this.#held(e));
      window.addEventListener("blur", () => {
        this.#space = false;
        d.setKeys({ shift: false, alt: false, ctrl: false });
      });
    }
    d;
    #pointers = resting;
    #space = false;
    #panned = false;
    #moved = null;
    #read = null;
    #frame = eachFrame(() => this.#flush());
    #pixel(e) {
      const box = this.d.dom.svg.getBoundingClientRect();
      return pixel(e.clientX - box.left, e.clientY - box.top);
    }
    // Pointers
    #down(e) {
      const { svg: svg2 } = this.d.dom;
      svg2.setPointerCapture(e.pointerId);
      if (e.button === 1) e.preventDefault();
      if (!svg2.contains(document.activeElement)) this.d.focus();
      this.#pointer("down", e);
    }
    #move(e) {
      this.#pointer("move", e);
    }
    #pointer(type, e) {
      this.d.setKeys({ shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey });
      const kind2 = e.pointerType === "touch" || e.pointerType === "pen" ? e.pointerType : "mouse";
      const [next, meant] = pointed(this.#pointers, {
        type,
        id: e.pointerId,
        at: this.#pixel(e),
        kind: kind2,
        button: type === "down" ? e.button : 0,
        time: e.timeStamp,
        space: this.#space
      });
      this.#pointers = next;
      this.d.dom.board.dataset.pointing = next.mode;
      for (const m of meant) this.#do(m);
    }
    #do(m) {
      switch (m.do) {
        case "hover":
        case "drag":
          this.#moved = m;
          this.#frame();
          return;
        case "pan":
          this.#panned = true;
          return this.d.looking.pan(m.dx, m.dy);
        case "pinch":
          this.d.looking.pan(m.dx, m.dy);
          return this.d.looking.zoom(m.at, m.factor);
        case "settle":
          return this.d.looking.settle();
        default:
          this.#flush();
          this.#stroke(m);
      }
    }
    #stroke(m) {
      const { d } = this;
      if (m.do === "abort") {
        d.stroke(false);
        d.tell({ type: "abort" });
        return;
      }
      d.point(m.at, m.coarse);
      if (m.do === "press") {
        d.look("press");
        d.stroke(true);
      } else if (m.do === "release") {
        const aim = d.look("drag");
        d.stroke(false);
        if (aim) d.tell({ type: "release", aim, moved: m.moved, clicks: m.clicks });
        if (m.coarse) this.#leave();
      }
    }
    /** The newest move, once a frame. */
    #flush() {
      const m = this.#moved;
      this.#moved = null;
      if (!m || m.do !== "hover" && m.do !== "drag") return;
      const { d } = this;
      d.point(m.at, m.coarse);
      const aim = d.look(m.do);
      if (m.do !== "hover") return;
      const over = aim && d.toolName === "select" ? thingAt(d.board.plan, aim.raw, aim.reach) : null;
      d.board.setHover(over);
    }
    #leave() {
      if (this.#pointers.mode !== "idle") return;
      this.#moved = null;
      this.d.point(null, false);
      this.d.look("hover");
      this.d.board.setHover(null);
    }
    #wheel(e) {
      if (e.target instanceof Element && e.target.closest(".entry, .legend, .empty, .note")) return;
      e.preventDefault();
      const unit2 = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? LINE_PX : 1;
      const [dx, dy] = [e.deltaX * unit2, e.deltaY * unit2];
      const pinch2 = e.ctrlKey || e.metaKey;
      if (pinch2 || this.d.aids.wheel === "zoom") {
        const k = pinch2 && Math.abs(dy) < 50 ? PINCH : WHEEL;
        this.d.looking.zoom(this.#pixel(e), Math.exp(-dy * k));
      } else if (e.shiftKey && dx === 0) this.d.looking.pan(-dy, 0);
      else this.d.looking.pan(-dx, -dy);
    }
    // Keys
    #focused(e) {
      const at2 = e.target instanceof SVGElement ? e.target.dataset.ref : void 0;
      if (at2) this.d.stop = at2;
    }
    /** Shift, Alt and Ctrl change what is aimed at while the pointer rests. */
    #held(e) {
      if (!["Shift", "Alt", "Control", "Meta"].includes(e.key)) return;
      if (e.key === "Alt" && this.d.dom.board.contains(document.activeElement)) e.preventDefault();
      this.d.setKeys({ shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey });
    }
    #key(e) {
      if (e.defaultPrevented || this.d.entryOpen || !(e.target instanceof SVGElement)) return;
      const used = this.#space_(e) || this.#arrows(e) || this.#tab(e) || this.#digit(e) || this.#command(e, true);
      if (used) {
        e.preventDefault();
        e.stopPropagation();
      }
    }
    #pageKey(e) {
      if (e.defaultPrevented || takesText(document.activeElement)) return;
      const text2 = document.getSelection();
      if (text2 && !text2.isCollapsed && /^[cx]$/i.test(e.key)) return;
      if (this.#command(e, false)) e.preventDefault();
    }
    #command(e, board) {
      const id = commandFor(e, { board, typing: takesText(document.activeElement) });
      if (!id) return false;
      this.d.commands.run(id, (why) => this.d.board.announce(why));
      return true;
    }
    /** Space held moves the view; a tap selects what has the focus. */
    #space_(e) {
      if (e.key !== " ") return false;
      if (!e.repeat) {
        this.#space = true;
        this.#panned = false;
        this.d.dom.board.dataset.space = "";
      }
      return true;
    }
    #keyUp(e) {
      if (e.key !== " " || !this.#space) return;
      this.#space = false;
      delete this.d.dom.board.dataset.space;
      const at2 = e.target instanceof SVGElement ? e.target.dataset.ref : void 0;
      if (!this.#panned && at2) this.d.board.select([at2], "toggle");
    }
    #arrows(e) {
      const way = arrow(e.key);
      if (!way || e.altKey || e.metaKey) return false;
      const { d } = this;
      if (d.toolName !== "select") return this.#crosshair(way, e);
      if (e.ctrlKey) return false;
      if (d.board.selection.size > 0) nudge(d, way, e.shiftKey);
      else d.looking.pan(-way[0] * PAN_PX, way[1] * PAN_PX);
      return true;
    }
    #crosshair(way, e) {
      const { d } = this;
      const steps4 = crosshairSteps(d.aids.grid ? d.grid : null, d.board.plan.show);
      const by = e.shiftKey ? steps4.large : e.ctrlKey ? steps4.small : steps4.usual;
      const from = d.crosshairStart ?? this.#middle(steps4.usual);
      const to = add(from, times(way, by));
      d.setKeys({ shift: false, alt: false, ctrl: false });
      d.setCrosshair([tidy2(to[0]), tidy2(to[1])]);
      d.looking.keepInView(to);
      if (this.#read !== null) clearTimeout(this.#read);
      this.#read = setTimeout(() => d.board.announce(d.pointer?.text ?? ""), READ_OUT_MS);
      return true;
    }
    #middle(step3) {
      const c = centre(this.d.view);
      return [Math.round(c[0] / step3) * step3, Math.round(c[1] / step3) * step3];
    }
    /** Tab goes through the snaps while drawing; with none to choose from it leaves the board as always. */
    #tab(e) {
      if (e.key !== "Tab" || this.d.toolName === "select") return false;
      return this.d.cycle(e.shiftKey ? -1 : 1);
    }
    #digit(e) {
      if (e.ctrlKey || e.metaKey || e.altKey) return false;
      const minus2 = e.key === "-" && this.d.toolName !== "select" && this.d.tool.placeFirst();
      if (!/^[0-9]$/.test(e.key) && !minus2) return false;
      return this.d.openEntry(e.key);
    }
  };
  var tidy2 = (n2) => Math.round(n2 * 1e6) / 1e6;

  // web/editor/looking.ts
  var SETTLE_MS = 110;
  var PRESS = 1.25;
  var Looking = class {
    constructor(drawing) {
      this.drawing = drawing;
      drawing.board.subscribe("look", () => this.#asked());
    }
    drawing;
    #timer = null;
    zoom(at2, factor) {
      const d = this.drawing;
      d.zooming = true;
      if (this.#timer !== null) clearTimeout(this.#timer);
      this.#timer = setTimeout(() => this.settle(), SETTLE_MS);
      d.setView(zoomAt(d.view, at2, factor));
    }
    /** The zoom is over. */
    settle() {
      if (this.#timer !== null) clearTimeout(this.#timer);
      this.#timer = null;
      this.drawing.zooming = false;
      this.drawing.board.emit("view");
      this.drawing.redraw();
    }
    /** One step in or out, about the pointer if it is over the board. */
    press(way, at2) {
      const { view: view2 } = this.drawing;
      this.zoom(at2 ?? pixel(view2.width / 2, view2.height / 2), way === 1 ? PRESS : 1 / PRESS);
      this.settle();
    }
    pan(dx, dy) {
      this.drawing.setView(panBy(this.drawing.view, dx, dy));
    }
    fitPlan() {
      const b = this.drawing.content();
      if (b) this.#show(b);
    }
    fitThings(refs) {
      const b = boundsOfAll(this.drawing.board.plan, refs);
      if (b) this.#show(roomAround(b));
    }
    #show(b) {
      this.drawing.setView(fit(this.drawing.view, b));
      this.settle();
    }
    /** Brings a place into view by the shortest move, if it is out of it. */
    keepInView(p) {
      const { view: view2 } = this.drawing;
      const edge = 40 / view2.scale;
      const s2 = shown(view2);
      const x = Math.min(0, p[0] - edge - s2.minX) + Math.max(0, p[0] + edge - s2.maxX);
      const y = Math.min(0, p[1] - edge - s2.minY) + Math.max(0, p[1] + edge - s2.maxY);
      if (x !== 0 || y !== 0) this.drawing.setView({ ...view2, left: view2.left + x, top: view2.top + y });
    }
    // What is wholly in view stays where it is; else the view goes there, and
    // closer only when what is asked for would be a speck.
    #asked() {
      const d = this.drawing;
      const look = d.board.look;
      if (!look) return;
      const things = boundsOfAll(d.board.plan, look.about);
      const b = joinBounds(things, look.at ? boundsOf([look.at]) : null);
      if (!b) return;
      const room = roomAround(b);
      if (look.gentle && inside(b, shown(d.view))) return;
      const fits = (room.maxX - room.minX) * d.view.scale < d.view.width && (room.maxY - room.minY) * d.view.scale < d.view.height;
      if (!fits) return this.#show(room);
      const middle2 = look.at ?? [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2];
      const scale = look.gentle ? d.view.scale : Math.max(d.view.scale, 8);
      d.setView(lookAt({ ...d.view, scale }, middle2));
      this.settle();
    }
  };

  // web/editor/problembar.ts
  var ProblemBar = class {
    constructor(parent, owner) {
      this.owner = owner;
      const button2 = (id, text2) => h("button", { type: "button", class: "small", onclick: () => owner.run(id) }, text2);
      this.#draft.append(
        button2("plan.finish", "Finish"),
        button2("edit.undo", "Take back a corner"),
        button2("plan.back", "Drop it")
      );
      this.#change.append(button2("plan.back", "Put it back"));
      this.#el.append(this.#sentence, this.#fixes, this.#draft, this.#change);
      this.#el.addEventListener("pointerdown", (e) => e.stopPropagation());
      this.#el.hidden = true;
      parent.append(this.#el);
    }
    owner;
    #el = h("div", { class: "draft-bar", role: "group", "aria-label": "The drawing in hand" });
    #sentence = h("p", { class: "draft-problem", role: "status" });
    #fixes = h("div", { class: "draft-fixes" });
    #draft = h("div", { class: "draft-steps" });
    #change = h("div", { class: "draft-steps" });
    #shown = "";
    show(b) {
      this.#el.hidden = b.problem === "" && b.steps === "";
      this.#el.classList.toggle("faulty", b.problem !== "");
      setText(this.#sentence, b.problem);
      this.#draft.hidden = b.steps !== "draft";
      this.#change.hidden = b.steps !== "change";
      const key2 = b.fixes.map((f) => `${f.title} ${JSON.stringify(f.draft)}`).join("|");
      if (key2 === this.#shown) return;
      this.#shown = key2;
      this.#fixes.replaceChildren(
        ...b.fixes.map((f) => h("button", { type: "button", class: "small", onclick: () => this.owner.fix(f) }, f.title))
      );
    }
  };

  // web/editor/scene/svg.ts
  var NS = "http://www.w3.org/2000/svg";
  function s(tag, attrs = {}, ...children) {
    const el = document.createElementNS(NS, tag);
    attr(el, attrs);
    el.append(...children);
    return el;
  }
  function attr(el, attrs) {
    for (const [name, v] of Object.entries(attrs)) {
      if (v === void 0) continue;
      if (v === null) {
        if (el.hasAttribute(name)) el.removeAttribute(name);
      } else if (el.getAttribute(name) !== String(v)) el.setAttribute(name, String(v));
    }
  }
  var n = (x) => String(Math.round(x * 1e4) / 1e4);
  var at = (p) => `${n(p[0])} ${n(p[1])}`;
  function outlinePath(corners2, closed2) {
    const first = corners2[0];
    if (!first) return "";
    let d = `M${at(place(first))}`;
    const count2 = closed2 ? corners2.length : corners2.length - 1;
    for (let i = 0; i < count2; i++) {
      const a = corners2[i];
      const b = corners2[(i + 1) % corners2.length];
      d += edgePath(place(a), place(b), bulgeOf(a));
    }
    return closed2 ? `${d}Z` : d;
  }
  function edgePath(a, b, bulge) {
    const arc = arcOf(a, b, bulge);
    if (!arc) return `L${at(b)}`;
    const large = Math.abs(arc.sweepDeg) > 180 ? 1 : 0;
    return `A${n(arc.radius)} ${n(arc.radius)} 0 ${large} ${arc.sweepDeg > 0 ? 1 : 0} ${at(b)}`;
  }
  function ringsPath(rings) {
    return rings.map((r) => outlinePath(r, true)).join("");
  }
  function pointsPath(points, closed2) {
    if (points.length === 0) return "";
    return `M${points.map(at).join("L")}${closed2 ? "Z" : ""}`;
  }
  function circlePath(c, r) {
    return `M${at([c[0] + r, c[1]])}A${n(r)} ${n(r)} 0 1 1 ${at([c[0] - r, c[1]])}A${n(r)} ${n(r)} 0 1 1 ${at([c[0] + r, c[1]])}Z`;
  }
  function patternPath(p, centre2) {
    if (p.shape === "strip") return pointsPath(p.corners, true);
    if (p.sweepDeg >= 360) return circlePath(centre2, p.throwFt);
    const from = polar(centre2, p.startDeg, p.throwFt);
    const to = polar(centre2, p.startDeg + p.sweepDeg, p.throwFt);
    const large = p.sweepDeg > 180 ? 1 : 0;
    return `M${at(centre2)}L${at(from)}A${n(p.throwFt)} ${n(p.throwFt)} 0 ${large} 1 ${at(to)}Z`;
  }
  var translate = (p) => `translate(${n(p[0])} ${n(p[1])})`;

  // web/editor/scene/hatches.ts
  var hatches = {
    building: { size: 7, d: "M0 3.5H7", turn: 45 },
    paving: { size: 14, d: "M0 0.5H14M0 7.5H14M3.5 0V7.5M10.5 7.5V14.5" },
    ground: { size: 10, d: "M2 2h.01M7 4h.01M4.5 7.5h.01M9 8.8h.01", dots: true },
    right_of_way: { size: 12, d: "M0 6H6", turn: -45 },
    no_dig: { size: 12, d: "M0 6H12M6 0V12", turn: 45 },
    water: { size: 16, d: "M0 4Q4 0 8 4T16 4M-8 12Q-4 8 0 12T8 12T16 12" }
  };
  var hatchID = (kind2) => `hatch-${kind2}`;
  var hasHatch = (kind2) => hatches[kind2] !== void 0;
  var Hatches = class {
    el;
    #patterns = [];
    constructor() {
      this.el = s("defs");
      for (const [kind2, h2] of Object.entries(hatches)) {
        const line4 = s("path", { d: h2.d, class: `hatch-line hatch-${kind2}${h2.dots ? " hatch-dots" : ""}` });
        const el = s(
          "pattern",
          { id: hatchID(kind2), patternUnits: "userSpaceOnUse", width: h2.size, height: h2.size },
          line4
        );
        this.#patterns.push({ el, turn: h2.turn ?? 0 });
        this.el.append(el);
      }
    }
    /** Keeps the hatch at its size on the screen. */
    scale(pixelsPerFoot) {
      const k = 1 / pixelsPerFoot;
      for (const { el, turn } of this.#patterns) attr(el, { patternTransform: `scale(${k} ${-k}) rotate(${turn})` });
    }
  };

  // web/editor/scene/label.ts
  var kept = /* @__PURE__ */ new WeakMap();
  function labelPlace(a) {
    const known = kept.get(a);
    if (known) return known;
    const made3 = find2(a);
    kept.set(a, made3);
    return made3;
  }
  var TRIES = 11;
  function find2(a) {
    const rings = [a.outline, ...a.holes ?? []].map((r) => ringOf(r, 0.5));
    const [outer = [], ...holes2] = rings;
    const within2 = (p) => ringHolds(outer, p) && !holes2.some((h2) => ringHolds(h2, p));
    const room = (p) => within2(p) ? Math.min(...rings.map((r) => gap(r, p))) : -1;
    const middle2 = centroid(outer);
    let best2 = { at: middle2, room: room(middle2) };
    const b = boundsOf(outer);
    if (!b) return best2;
    const side = Math.max(b.maxX - b.minX, b.maxY - b.minY);
    if (best2.room > side / 6) return best2;
    for (let i = 0; i < TRIES; i++) {
      for (let j = 0; j < TRIES; j++) {
        const p = [
          b.minX + (i + 0.5) / TRIES * (b.maxX - b.minX),
          b.minY + (j + 0.5) / TRIES * (b.maxY - b.minY)
        ];
        const free2 = room(p);
        if (free2 > best2.room * 1.05) best2 = { at: p, room: free2 };
      }
    }
    return best2;
  }
  function gap(ring, p) {
    let best2 = Infinity;
    for (let i = 0; i < ring.length; i++) {
      best2 = Math.min(best2, distance(p, nearestOnSegment(p, ring[i], ring[(i + 1) % ring.length])));
    }
    return best2;
  }

  // web/editor/zoning.ts
  var natural = new Intl.Collator("en", { numeric: true });
  function headsOf(p, zone2) {
    return ids(p, "heads").filter((id) => (find(p, "heads", id)?.zone ?? "") === zone2).sort((a, b) => byTag(find(p, "heads", a), find(p, "heads", b)) || (a < b ? -1 : 1));
  }
  function byTag(a, b) {
    if (a.tag && b.tag) return natural.compare(a.tag, b.tag);
    if (a.tag || b.tag) return a.tag ? -1 : 1;
    return a.x_ft - b.x_ft || a.y_ft - b.y_ft;
  }
  function zonesInOrder(p) {
    const station = (id) => find(p, "zones", id)?.station || Number.POSITIVE_INFINITY;
    const name = (id) => find(p, "zones", id)?.name ?? "";
    return ids(p, "zones").sort(
      (a, b) => station(a) === station(b) ? natural.compare(name(a), name(b)) : station(a) - station(b)
    );
  }
  function freeStation(p) {
    const taken = new Set(ids(p, "zones").map((id) => find(p, "zones", id)?.station));
    let n2 = 1;
    while (taken.has(n2)) n2++;
    return n2;
  }
  function addZone(p, name = "") {
    const id = newID(p, "zones");
    const station = freeStation(p);
    return [put(p, "zones", id, { name: name.trim() || `Zone ${station}`, station, status: "new" }), id];
  }
  function prefix(p, zone2) {
    const z = find(p, "zones", zone2);
    return String(z?.station || zonesInOrder(p).indexOf(zone2) + 1);
  }
  function putInZone(p, heads3, zone2) {
    let next = p;
    for (const id of heads3) {
      const head2 = find(next, "heads", id);
      if (!head2 || (head2.zone ?? "") === zone2) continue;
      const { zone: _zone, tag: _tag, ...rest } = head2;
      next = put(next, "heads", id, zone2 ? { ...rest, zone: zone2, tag: nextTag(next, zone2) } : rest);
    }
    return next;
  }
  function nextTag(p, zone2) {
    const front = `${prefix(p, zone2)}-`;
    let most = 0;
    for (const id of headsOf(p, zone2)) {
      const tag = find(p, "heads", id)?.tag ?? "";
      const n2 = tag.startsWith(front) ? Number(tag.slice(front.length)) : 0;
      if (Number.isInteger(n2)) most = Math.max(most, n2);
    }
    return front + (most + 1);
  }
  function renumber(p, zone2) {
    const front = prefix(p, zone2);
    let next = p;
    headsOf(p, zone2).forEach((id, i) => {
      const head2 = find(p, "heads", id);
      next = put(next, "heads", id, { ...head2, tag: `${front}-${i + 1}` });
    });
    return next;
  }
  function setStation(p, zone2, station) {
    const z = find(p, "zones", zone2);
    if (!z) return p;
    const old = `${prefix(p, zone2)}-`;
    const { station: _old, ...rest } = z;
    let next = put(p, "zones", zone2, station > 0 ? { ...rest, station } : rest);
    const now = `${prefix(next, zone2)}-`;
    for (const id of headsOf(p, zone2)) {
      const head2 = find(p, "heads", id);
      if (head2.tag?.startsWith(old))
        next = put(next, "heads", id, { ...head2, tag: now + head2.tag.slice(old.length) });
    }
    return next;
  }
  function removeZone(p, zone2) {
    const freed = putInZone(p, headsOf(p, zone2), "");
    const { [zone2]: _gone, ...rest } = freed.zones ?? {};
    return { ...freed, zones: rest };
  }

  // web/editor/scene/speech.ts
  function zoneNumber(p, zone2) {
    const z = find(p, "zones", zone2);
    return z?.station || zonesInOrder(p).indexOf(zone2) + 1;
  }
  function speechOf(p, r, design) {
    const [c, id] = parts(r);
    switch (c) {
      case "heads":
        return headSpeech(p, id, design);
      case "areas":
        return areaSpeech(p, id);
      case "barriers": {
        const b = find(p, "barriers", id);
        const size = b ? `, ${lengthText(lengthOf(b.line), p.show)} long, ${lengthText(b.height_ft, p.show)} high` : "";
        return `${capital(nameOf(p, r))}, ${b?.kind ?? "fence"}${size}`;
      }
      default:
        return spotSpeech(p, r);
    }
  }
  function headSpeech(p, id, design) {
    const h2 = find(p, "heads", id);
    if (!h2) return "Head";
    const n2 = find(p, "nozzles", h2.nozzle);
    const said = [
      h2.tag ? `Head ${h2.tag}` : "Head",
      n2?.family ?? "no nozzle",
      shortLength(throwOf(h2, n2, design, id), p.show),
      n2?.strip ? `direction ${angleText(h2.start_deg ?? 0)}` : angleText(h2.sweep_deg ?? 360),
      h2.zone ? `zone ${zoneNumber(p, h2.zone)}` : "no zone",
      `at ${shortPlace([h2.x_ft, h2.y_ft], p.show)}`
    ];
    if (h2.status === "existing") said.push("existing");
    if (h2.status === "remove") said.push("to be removed");
    if (h2.locked) said.push("locked");
    if (offTargetHeads(design).has(id)) said.push("waters off target");
    return said.join(", ");
  }
  function areaSpeech(p, id) {
    const a = find(p, "areas", id);
    if (!a) return "Area";
    const holes2 = (a.holes ?? []).reduce((sum, h2) => sum + areaOf(h2), 0);
    const said = [a.name || "Area", kindNames[a.kind].toLowerCase(), areaText(areaOf(a.outline) - holes2, p.show)];
    if (a.holes?.length) said.push(a.holes.length === 1 ? "one hole" : `${a.holes.length} holes`);
    if (a.locked) said.push("locked");
    return said.join(", ");
  }
  function spotSpeech(p, r) {
    const [c, id] = parts(r);
    const t = c === "trees" ? find(p, "trees", id) : c === "notes" ? find(p, "notes", id) : find(p, "keep_dry", id);
    const kind2 = c === "trees" ? "tree" : c === "keep_dry" ? "keep dry" : "";
    const said = [capital(nameOf(p, r)), kind2, t ? `at ${shortPlace([t.x_ft, t.y_ft], p.show)}` : ""];
    return said.filter((w) => w !== "").join(", ");
  }
  var offKept = /* @__PURE__ */ new WeakMap();
  function offTargetHeads(design) {
    if (!design) return /* @__PURE__ */ new Set();
    const kept2 = offKept.get(design);
    if (kept2) return kept2;
    const made3 = new Set((design.off_target ?? []).filter((o) => o.rank !== "good").flatMap((o) => o.heads ?? []));
    offKept.set(design, made3);
    return made3;
  }

  // web/editor/scene/thing.ts
  function thing(el, r, shown3, name, changed) {
    const selected2 = shown3.selection.has(r);
    if (changed || !el.dataset.ref) {
      el.dataset.ref = r;
      attr(el, { "aria-label": name() });
      el.classList.add("thing");
    }
    attr(el, { "aria-pressed": selected2 ? "true" : "false", tabindex: shown3.stop === r ? 0 : -1 });
    el.classList.toggle("selected", selected2);
    el.classList.toggle("hovered", shown3.hover === r);
  }

  // web/editor/scene/grounds.ts
  var order2 = ["right_of_way", "planting", "ground", "paving", "water", "building", "no_dig"];
  var LETTER_PX = 7;
  var Grounds = class {
    el = s("g", { class: "grounds" });
    #lot = s("path", { class: "lot" });
    #gaps = s("g", { class: "gaps" });
    #names = s("g", { class: "names", "aria-hidden": "true" });
    #rows;
    #labels;
    #gapRows;
    #sizes = /* @__PURE__ */ new Map();
    constructor() {
      const areas = s("g", { class: "areas" });
      this.el.append(this.#lot, areas, this.#gaps);
      this.#rows = new Rows(areas, (g) => g.id, groundRow);
      this.#labels = new Rows(this.#names, (g) => g.id, nameRow);
      this.#gapRows = new Rows(this.#gaps, (g, i) => `${g.area} ${i}`, gapRow);
    }
    /** The names, to be put above everything else of the ground. */
    get names() {
      return this.#names;
    }
    show(plan2, shown3) {
      const grounds = Object.entries(plan2.areas ?? {}).map(([id, area]) => ({ id, area, shown: shown3 }));
      const size = new Map(grounds.map((g) => [g.id, areaOf(g.area.outline)]));
      this.#sizes = size;
      const rank2 = (g) => order2.indexOf(g.area.kind);
      grounds.sort((a, b) => rank2(a) - rank2(b) || (size.get(b.id) ?? 0) - (size.get(a.id) ?? 0) || (a.id < b.id ? -1 : 1));
      this.#rows.show(grounds);
      this.#labels.show(grounds);
      attr(this.#lot, { d: plan2.site?.lot ? outlinePath(plan2.site.lot, true) : "" });
    }
    showGaps(design) {
      this.#gapRows.show(design?.gaps ?? []);
    }
    /** Hides the names that do not fit at a scale. */
    fitNames(plan2, pixelsPerFoot) {
      for (const [id, area] of Object.entries(plan2.areas ?? {})) {
        const el = this.#labels.get(id)?.el;
        const b = shapeBounds(area.outline);
        if (!el || !b) continue;
        const wide = (b.maxX - b.minX) * pixelsPerFoot;
        const tall = labelPlace(area).room * 2 * pixelsPerFoot;
        const fits = wide > area.name.length * LETTER_PX * 0.9 && tall > 12 && (this.#sizes.get(id) ?? 0) > 0;
        el.classList.toggle("tight", !fits);
      }
    }
  };
  function groundRow() {
    const fill2 = s("path", { class: "fill" });
    const hatch2 = s("path", { class: "hatch" });
    const edge = s("path", { class: "edge" });
    const el = s("g", { role: "button", tabindex: -1 }, fill2, hatch2, edge);
    let before = null;
    return {
      el,
      update(g) {
        const r = ref("areas", g.id);
        thing(el, r, g.shown, () => speechOf(g.shown.plan, r, g.shown.design), before?.area !== g.area);
        if (before?.area !== g.area) {
          const d = ringsPath([g.area.outline, ...g.area.holes ?? []]);
          for (const path of [fill2, hatch2, edge]) attr(path, { d });
          hatch2.style.fill = hasHatch(g.area.kind) ? `url(#${hatchID(g.area.kind)})` : "none";
          el.dataset.kind = g.area.kind;
          el.dataset.watering = g.area.watering ?? "overhead";
          el.classList.toggle("locked", g.area.locked ?? false);
          el.classList.toggle("gone", g.area.status === "remove");
        }
        before = g;
      }
    };
  }
  function nameRow() {
    const text2 = s("text", { class: "area-name" });
    const el = s("g", {}, s("g", { class: "fixed" }, text2));
    let before = null;
    return {
      el,
      update({ area }) {
        if (before === area) return;
        before = area;
        attr(el, { transform: translate(labelPlace(area).at) });
        setText(text2, area.name);
      }
    };
  }
  function gapRow() {
    const path = s("path", { class: "gap" });
    const title = s("title");
    path.append(title);
    return {
      el: path,
      update(g) {
        attr(path, { d: g.outline.map((ring) => pointsPath(ring, true)).join("") });
        setText(title, g.text);
      }
    };
  }

  // web/editor/scene/gridlines.ts
  var GridLines = class {
    el = s("g", { class: "grid-lines", "aria-hidden": "true" });
    #fine = s("path", { class: "grid-fine" });
    #strong = s("path", { class: "grid-strong" });
    #axes = s("path", { class: "grid-axes" });
    constructor() {
      this.el.append(this.#fine, this.#strong, this.#axes);
    }
    show(view2, grid) {
      if (!grid) {
        attr(this.#fine, { d: "" });
        attr(this.#strong, { d: "" });
        attr(this.#axes, { d: "" });
        return;
      }
      const lines2 = { fine: "", strong: "", axes: "" };
      const b = shown(view2);
      const add3 = (k, d) => {
        lines2[k === 0 ? "axes" : k % grid.every === 0 ? "strong" : "fine"] += d;
      };
      for (let k = Math.ceil(b.minX / grid.step); k * grid.step <= b.maxX; k++) {
        add3(k, `M${crisp(toPixel(view2, [k * grid.step, 0]).px)} 0V${view2.height}`);
      }
      for (let k = Math.ceil(b.minY / grid.step); k * grid.step <= b.maxY; k++) {
        add3(k, `M0 ${crisp(toPixel(view2, [0, k * grid.step]).py)}H${view2.width}`);
      }
      attr(this.#fine, { d: lines2.fine });
      attr(this.#strong, { d: lines2.strong });
      attr(this.#axes, { d: lines2.axes });
    }
  };
  var crisp = (n2) => Math.round(n2) + 0.5;

  // web/editor/scene/marks.ts
  var polygon = (sides, turn, r) => `M${Array.from({ length: sides }, (_, i) => {
    const t = (turn + 360 * i / sides) * Math.PI / 180;
    return `${(r * Math.cos(t)).toFixed(2)} ${(r * Math.sin(t)).toFixed(2)}`;
  }).join("L")}Z`;
  var round = (r) => `M${r} 0A${r} ${r} 0 1 1 ${-r} 0A${r} ${r} 0 1 1 ${r} 0Z`;
  var shapes = [
    { name: "circle", d: round(9) },
    { name: "square", d: polygon(4, 45, 11.5) },
    { name: "diamond", d: polygon(4, 0, 11.5) },
    { name: "hexagon", d: polygon(6, 0, 10) },
    { name: "triangle", d: polygon(3, -90, 13) },
    { name: "pentagon", d: polygon(5, -90, 10.8) },
    { name: "shield", d: "M-8.5 -8H8.5V1Q8.5 8 0 10.5Q-8.5 8 -8.5 1Z" },
    { name: "drop", d: "M0 -12Q9 -2 8 3A8 8 0 1 1 -8 3Q-9 -2 0 -12Z" }
  ];
  function zoneShape(n2) {
    return shapes[(n2 % shapes.length + shapes.length) % shapes.length];
  }
  var looseMark = `${round(6)}${round(1.6)}`;
  var ZONE_COLOURS = 8;

  // web/editor/scene/heads.ts
  var Heads = class {
    wedges = s("g", { class: "wedges", "aria-hidden": "true" });
    el = s("g", { class: "heads" });
    #marks;
    #wedges;
    constructor() {
      this.#marks = new Rows(this.el, (i) => i.id, markRow);
      this.#wedges = new Rows(this.wedges, (i) => i.id, wedgeRow);
    }
    show(shown3) {
      const { plan: plan2, design } = shown3;
      const zones = new Map(zonesInOrder(plan2).map((id, i) => [id, { shape: i, number: zoneNumber(plan2, id) }]));
      const off = offTargetHeads(design);
      const items2 = Object.keys(plan2.heads ?? {}).sort().map((id) => {
        const head2 = plan2.heads[id];
        const nozzle2 = find(plan2, "nozzles", head2.nozzle);
        const throwFt = throwOf(head2, nozzle2, design, id);
        return { id, head: head2, nozzle: nozzle2, throwFt, zone: zones.get(head2.zone ?? "") ?? null, off: off.has(id), shown: shown3 };
      });
      this.#wedges.show(items2);
      this.#marks.show(items2);
    }
  };
  var sameLook = (a, b) => a !== null && a.head === b.head && a.nozzle === b.nozzle && a.throwFt === b.throwFt && a.off === b.off && a.zone?.shape === b.zone?.shape && a.zone?.number === b.zone?.number;
  function wedgeRow() {
    const path = s("path", { class: "wedge" });
    let before = null;
    return {
      el: path,
      update(i) {
        const r = ref("heads", i.id);
        if (!sameLook(before, i)) {
          attr(path, { d: patternPath(patternOf(i.head, i.nozzle, i.throwFt), headAt(i.head)) });
          path.classList.toggle("gone", i.head.status === "remove");
        }
        path.classList.toggle("selected", i.shown.selection.has(r));
        path.classList.toggle("hovered", i.shown.hover === r);
        before = i;
      }
    };
  }
  function markRow() {
    const halo = s("circle", { class: "ring", r: 15 });
    const shape = s("path", { class: "mark" });
    const number2 = s("text", { class: "mark-number", y: 4 });
    const cross2 = s("path", { class: "mark-gone", d: "M-8 -8L8 8M8 -8L-8 8" });
    const flag = s("path", { class: "mark-off", d: "M-9 -16L-4 -7H-14ZM-9 -13V-10" });
    const tag = s("text", { class: "tag", x: 13, y: -8 });
    const el = s("g", { role: "button", tabindex: -1 }, s("g", { class: "fixed" }, halo, shape, number2, cross2, flag, tag));
    let before = null;
    return {
      el,
      update(i) {
        const changed = !sameLook(before, i);
        thing(el, ref("heads", i.id), i.shown, () => speechOf(i.shown.plan, ref("heads", i.id), i.shown.design), changed);
        if (changed) {
          attr(el, { transform: translate(headAt(i.head)) });
          attr(shape, { d: i.zone ? zoneShape(i.zone.shape).d : looseMark });
          el.dataset.zone = i.zone ? String(i.zone.shape % ZONE_COLOURS + 1) : "";
          el.dataset.status = i.head.status ?? "new";
          el.classList.toggle("head", true);
          el.classList.toggle("off-target", i.off);
          el.classList.toggle("locked", i.head.locked ?? false);
          setText(number2, i.zone ? String(i.zone.number) : "");
          setText(tag, i.head.tag ?? "");
        }
        before = i;
      }
    };
  }

  // web/editor/scene/objects.ts
  var Objects = class {
    el = s("g", { class: "objects" });
    #trees;
    #barriers;
    #dry;
    #notes;
    constructor() {
      const group2 = (name) => {
        const g = s("g", { class: name });
        this.el.append(g);
        return g;
      };
      this.#trees = new Rows(group2("trees"), (i) => i.id, treeRow);
      this.#barriers = new Rows(group2("barriers"), (i) => i.id, barrierRow);
      this.#dry = new Rows(group2("keep-dry"), (i) => i.id, dryRow);
      this.#notes = new Rows(group2("notes"), (i) => i.id, noteRow);
    }
    show(shown3) {
      const { trees, barriers, keep_dry, notes } = shown3.plan;
      this.#trees.show(list(trees, shown3));
      this.#barriers.show(list(barriers, shown3));
      this.#dry.show(list(keep_dry, shown3));
      this.#notes.show(list(notes, shown3));
    }
  };
  function list(all, shown3) {
    return Object.keys(all ?? {}).sort().map((id) => ({ id, it: (all ?? {})[id], shown: shown3 }));
  }
  function row3(el, of, draw) {
    attr(el, { role: "button", tabindex: -1 });
    let before = null;
    return {
      el,
      update({ id, it, shown: shown3 }) {
        const r = of(id);
        thing(el, r, shown3, () => speechOf(shown3.plan, r, shown3.design), before !== it);
        if (before !== it) draw(it);
        before = it;
      }
    };
  }
  var spot = (t) => [t.x_ft, t.y_ft];
  function barrierRow() {
    const back2 = s("path", { class: "grasp" });
    const line4 = s("path", { class: "barrier-line" });
    const posts = s("path", { class: "barrier-posts" });
    const el = s("g", { class: "barrier" }, back2, line4, posts);
    return row3(
      el,
      (id) => ref("barriers", id),
      (b) => {
        const d = outlinePath(b.line, false);
        for (const path of [back2, line4, posts]) attr(path, { d });
        el.dataset.kind = b.kind ?? "fence";
        el.classList.toggle("gone", b.status === "remove");
      }
    );
  }
  function treeRow() {
    const roots = s("path", { class: "roots" });
    const trunk2 = s("path", { class: "trunk" });
    const bark = s("g", { class: "fixed" }, s("path", { class: "tree-mark", d: "M0 -7A7 7 0 1 1 -.01 -7M0 -4V4M-4 0H4" }));
    const el = s("g", { class: "tree" }, roots, trunk2, bark);
    return row3(
      el,
      (id) => ref("trees", id),
      (t) => {
        attr(el, { transform: translate(spot(t)) });
        attr(roots, { d: t.root_zone_ft ? circlePath([0, 0], t.root_zone_ft) : "" });
        attr(trunk2, { d: circlePath([0, 0], Math.max(t.trunk_in, 1) / 24) });
        el.classList.toggle("gone", t.status === "remove");
      }
    );
  }
  var DRY_FT = 1.5;
  function dryRow() {
    const ring = s("path", { class: "dry-ring" });
    const mark = s("g", { class: "fixed" }, s("path", { class: "dry-mark", d: "M0 -9L8.5 6.5H-8.5ZM0 -4V1.5M0 4h.01" }));
    const el = s("g", { class: "dry" }, ring, mark);
    return row3(
      el,
      (id) => ref("keep_dry", id),
      (k) => {
        attr(el, { transform: translate(spot(k)) });
        attr(ring, { d: circlePath([0, 0], k.radius_ft ?? DRY_FT) });
      }
    );
  }
  function noteRow() {
    const text2 = s("text", { class: "note-text", x: 13, y: 4 });
    const pin = s("path", { class: "note-mark", d: "M-7 -8H7V4L2 9H-7ZM2 9V4H7M-4 -4H4M-4 0H2" });
    const el = s("g", { class: "note" }, s("g", { class: "fixed" }, pin, text2));
    return row3(
      el,
      (id) => ref("notes", id),
      (n2) => {
        attr(el, { transform: translate(spot(n2)) });
        setText(text2, n2.text.length > 40 ? `${n2.text.slice(0, 39)}…` : n2.text);
      }
    );
  }

  // web/editor/scene/overlay.ts
  var signs = {
    end: "M-6 -6H6V6H-6Z",
    self: "M-6 -6H6V6H-6ZM-2.5 -2.5H2.5V2.5H-2.5Z",
    crossing: "M-6 -6L6 6M6 -6L-6 6",
    middle: "M0 -7L7 5H-7Z",
    centre: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0ZM0 -2V2M-2 0H2",
    square: "M-6 -6V6H6M-6 0H0V6",
    edge: "M-6 -6H6L-6 6H6Z",
    inline: "M-8 0H-3M3 0H8M0 -8V-3M0 3V8",
    grid: "M-4 0H4M0 -4V4"
  };
  var Overlay = class {
    /** The draft, in feet. */
    world = s("g", { class: "draft", "aria-hidden": "true" });
    /** The rest, in pixels. */
    el = s("g", { class: "over", "aria-hidden": "true" });
    #line = s("path", { class: "draft-line" });
    #ghost = s("path", { class: "draft-ghost" });
    #ray = s("path", { class: "ray" });
    #box = s("rect", { class: "pick-box" });
    #dots = s("path", { class: "draft-dots" });
    #sign = s("path", { class: "snap-sign" });
    #signText = s("text", { class: "snap-text" });
    #cross = s("path", { class: "crosshair" });
    #grips;
    #labels;
    constructor() {
      const grips = s("g", { class: "grips" });
      const labels = s("g", { class: "draft-labels" });
      this.world.append(this.#ghost, this.#line);
      this.el.append(this.#ray, this.#box, this.#dots, grips, labels, this.#cross, this.#sign, this.#signText);
      this.#grips = new Rows(grips, (p) => gripKey(p.it), gripRow);
      this.#labels = new Rows(labels, (_, i) => String(i), labelRow);
    }
    show(o) {
      const px = (p) => toPixel(o.view, p);
      this.#draft(o, px);
      this.#grips.show(o.grips.map((it) => ({ it, at: px(it.at), marked: o.inHand ? gripKey(o.inHand) === gripKey(it) : false })));
      const ghost2 = o.sketch.ghost;
      const named3 = ghost2 ? [{ at: ghost2.at, text: ghost2.text }] : [];
      this.#labels.show([...o.sketch.labels ?? [], ...named3].map((it) => ({ it, at: labelAt(it, px), marked: false })));
      this.#pointing(o, px);
    }
    #draft(o, px) {
      const { line: line4, closed: closed2, faulty: faulty2, dots, ghost: ghost2, box } = o.sketch;
      attr(this.#line, { d: line4 && line4.length > 1 ? outlinePath(line4, closed2 ?? false) : "" });
      this.#line.classList.toggle("closed", closed2 ?? false);
      this.#line.classList.toggle("faulty", faulty2 ?? false);
      attr(this.#ghost, { d: ghost2 ? patternPath(ghost2.pattern, ghost2.at) : "" });
      const shown3 = [...dots ?? [], ...ghost2 ? [ghost2.at] : []].map(px);
      attr(this.#dots, { d: shown3.map((d) => `M${d.px - 3} ${d.py - 3}h6v6h-6Z`).join("") });
      this.#box.classList.toggle("crossing", box ? box.to[0] < box.from[0] : false);
      const [a, b] = box ? [px(box.from), px(box.to)] : [px([0, 0]), px([0, 0])];
      attr(this.#box, {
        x: Math.min(a.px, b.px),
        y: Math.min(a.py, b.py),
        width: Math.abs(a.px - b.px),
        height: Math.abs(a.py - b.py),
        visibility: box ? null : "hidden"
      });
    }
    #pointing(o, px) {
      attr(this.#ray, { d: o.ray ? rayPath(o.ray.from, o.ray.held, o.view, px) : "" });
      const at2 = o.snap ? px(o.snap.at) : null;
      attr(this.#sign, { d: o.snap ? signs[o.snap.kind] : "", transform: at2 ? `translate(${at2.px} ${at2.py})` : null });
      attr(this.#signText, { x: at2 ? at2.px + 12 : 0, y: at2 ? at2.py + 20 : 0 });
      setText(this.#signText, o.snap && o.snap.kind !== "grid" ? snapNames[o.snap.kind] : "");
      const c = o.crosshair ? px(o.crosshair) : null;
      attr(this.#cross, { d: c ? `M${c.px - 22} ${c.py}H${c.px + 22}M${c.px} ${c.py - 22}V${c.py + 22}` : "" });
    }
  };
  function rayPath(from, held, view2, px) {
    const far2 = (view2.width + view2.height) / view2.scale + distance(from, held.at);
    const [a, b] = [px(polar(from, held.deg + 180, far2 * 0.02)), px(polar(from, held.deg, far2))];
    return `M${a.px.toFixed(1)} ${a.py.toFixed(1)}L${b.px.toFixed(1)} ${b.py.toFixed(1)}`;
  }
  function labelAt(l, px) {
    const at2 = px(l.at);
    if (!l.along) return { px: at2.px, py: at2.py - 16 };
    const [a, b] = [px(l.along.a), px(l.along.b)];
    const len = Math.hypot(b.px - a.px, b.py - a.py) || 1;
    const right = { px: -(b.py - a.py) / len, py: (b.px - a.px) / len };
    const side = 14 + Math.abs(right.px) * l.text.length * 3.2;
    return { px: at2.px + right.px * side, py: at2.py + right.py * side };
  }
  var gripShapes = {
    corner: "M-5 -5H5V5H-5Z",
    middle: "M0 -5L5 0L0 5L-5 0Z",
    body: "",
    start: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z",
    end: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0ZM-2 0H2",
    throw: "M0 -7L6 3H-6Z",
    radius: "M6 0A6 6 0 1 1 -6 0A6 6 0 1 1 6 0Z"
  };
  function gripRow(p) {
    const shape = s("path", { class: "grip-shape", d: gripShapes[p.it.kind] });
    const el = s("g", { class: `grip grip-${p.it.kind}` }, shape);
    return {
      el,
      update({ at: at2, marked }) {
        attr(el, { transform: `translate(${at2.px.toFixed(2)} ${at2.py.toFixed(2)})` });
        el.classList.toggle("in-hand", marked);
      }
    };
  }
  function labelRow() {
    const text2 = s("text", { class: "draft-label" });
    return {
      el: text2,
      update({ it, at: at2 }) {
        attr(text2, { x: at2.px.toFixed(1), y: (at2.py + 4).toFixed(1) });
        setText(text2, it.text);
      }
    };
  }

  // web/editor/scene/scene.ts
  var TAGS_FROM = 5;
  var NUMBERS_FROM = 2;
  var FULL_MARKS_FROM = 4;
  var Scene = class {
    constructor(svg2) {
      this.svg = svg2;
      this.#world.append(
        this.#grounds.el,
        this.#heads.wedges,
        this.#objects.el,
        this.#grounds.names,
        this.#heads.el,
        this.#overlay.world
      );
      svg2.replaceChildren(this.#hatches.el, this.#grid.el, this.#world, this.#overlay.el);
    }
    svg;
    #hatches = new Hatches();
    #grid = new GridLines();
    #grounds = new Grounds();
    #objects = new Objects();
    #heads = new Heads();
    #overlay = new Overlay();
    #world = s("g", { class: "world" });
    #before = null;
    draw(p) {
      const was = this.#before;
      this.#look(p, was);
      const shown3 = p;
      const state = !was || was.selection !== p.selection || was.hover !== p.hover || was.stop !== p.stop;
      const differs = (...keys) => !was || keys.some((k) => was.plan[k] !== p.plan[k]);
      if (state || differs("areas", "site", "show")) this.#grounds.show(p.plan, shown3);
      if (state || differs("trees", "barriers", "keep_dry", "notes", "show")) this.#objects.show(shown3);
      if (state || differs("heads", "nozzles", "zones", "show") || was?.design !== p.design) this.#heads.show(shown3);
      if (was?.design !== p.design) this.#grounds.showGaps(p.design);
      if (!p.zooming && (differs("areas") || was?.view.scale !== p.view.scale || was?.zooming)) {
        this.#grounds.fitNames(p.plan, p.view.scale);
      }
      this.#overlay.show(p);
      this.#before = p;
    }
    /** The view, and what depends on nothing else. */
    #look(p, was) {
      if (was?.view !== p.view) attr(this.#world, { transform: transformOf(p.view) });
      if (was?.view !== p.view || was?.grid !== p.grid) this.#grid.show(p.view, p.grid);
      const { scale } = p.view;
      if (was?.view.scale !== scale) {
        const size = scale >= FULL_MARKS_FROM ? 1 : Math.max(0.45, scale / FULL_MARKS_FROM);
        this.svg.style.setProperty("--px", String(1 / scale));
        this.svg.style.setProperty("--mark", String(size / scale));
        this.svg.classList.toggle("no-tags", scale < TAGS_FROM);
        this.svg.classList.toggle("no-numbers", scale < NUMBERS_FROM);
      }
      this.svg.classList.toggle("faulty", p.sketch.faulty ?? false);
      if (was?.zooming !== p.zooming) this.svg.classList.toggle("zooming", p.zooming);
      if (!p.zooming && (was?.view.scale !== scale || was?.zooming)) this.#hatches.scale(scale);
    }
  };

  // web/editor/nozzlefit.ts
  var FIXED_NEAR_DEG = 5;
  var takes = (n2, sweep2) => sweep2 >= n2.arc_least_deg - FIXED_NEAR_DEG && sweep2 <= n2.arc_most_deg + FIXED_NEAR_DEG;
  function nozzleFor(all, chosen3, sweep2) {
    if (chosen3.strip || takes(chosen3, sweep2)) return chosen3;
    const alike = all.filter(
      (n2) => !n2.strip && n2.family === chosen3.family && n2.thread === chosen3.thread && ownThrow(n2) === ownThrow(chosen3) && takes(n2, sweep2)
    );
    const range = (n2) => n2.arc_most_deg - n2.arc_least_deg;
    alike.sort((a, b) => range(a) - range(b) || (a.id < b.id ? -1 : 1));
    return alike[0] ?? chosen3;
  }

  // web/editor/tools/made.ts
  var list2 = (corners2) => corners2.map((c) => {
    const [x, y] = place(c);
    return bulgeOf(c) === 0 ? [x, y] : [x, y, bulgeOf(c)];
  });
  function newAreaName(p, kind2) {
    return copyName(p, `${kindNames[kind2]} 1`);
  }
  function closedOutline(a, corners2) {
    const fault = faultOf(corners2);
    if (fault) return { why: faultSentence(fault, placeText(fault.at, a.plan.show)) };
    return a.kit.asHole ? holeIn(a.plan, corners2) : areaOfKind(a.plan, corners2, a.kit);
  }
  function areaOfKind(p, corners2, kit) {
    const id = newID(p, "areas");
    const name = newAreaName(p, kit.areaKind);
    const plan2 = put(p, "areas", id, { name, kind: kit.areaKind, outline: list2(corners2), status: "new" });
    return { step: { label: `Draw ${name}`, plan: plan2, select: [ref("areas", id)] } };
  }
  function holeIn(p, corners2) {
    const around = areaAround(p, corners2);
    if (!around) {
      return { why: "A hole must lie wholly inside one area. Draw it inside, or turn “Draw as hole” off." };
    }
    const plan2 = addHole(p, around.slice("areas/".length), list2(corners2));
    return { step: { label: `Cut a hole in ${nameOf(p, around)}`, plan: plan2, select: [around] } };
  }
  function barrier(a, corners2) {
    const id = newID(a.plan, "barriers");
    const { barrierKind: kind2, barrierHeightFt: height_ft } = a.kit;
    const n2 = Object.keys(a.plan.barriers ?? {}).length + 1;
    const name = `${kind2.charAt(0).toUpperCase()}${kind2.slice(1)} ${n2}`;
    const plan2 = put(a.plan, "barriers", id, { name, kind: kind2, line: list2(corners2), height_ft, status: "new" });
    return { step: { label: `Draw ${name}`, plan: plan2, select: [ref("barriers", id)] } };
  }
  function tree(a, at2) {
    const id = newID(a.plan, "trees");
    const name = `Tree ${Object.keys(a.plan.trees ?? {}).length + 1}`;
    const { trunkIn: trunk_in, rootZoneFt: root_zone_ft } = a.kit;
    const thing2 = { name, x_ft: at2[0], y_ft: at2[1], trunk_in, root_zone_ft, status: "existing" };
    return { label: `Plant ${name}`, plan: put(a.plan, "trees", id, thing2), select: [ref("trees", id)] };
  }
  function keepDry(a, at2) {
    const id = newID(a.plan, "keep_dry");
    const name = `Keep dry ${Object.keys(a.plan.keep_dry ?? {}).length + 1}`;
    const thing2 = { name, x_ft: at2[0], y_ft: at2[1], radius_ft: a.kit.keepDryFt, status: "existing" };
    return { label: `Mark ${name}`, plan: put(a.plan, "keep_dry", id, thing2), select: [ref("keep_dry", id)] };
  }
  function note(a, at2, text2) {
    const id = newID(a.plan, "notes");
    const plan2 = put(a.plan, "notes", id, { x_ft: at2[0], y_ft: at2[1], text: text2 });
    return { label: "Pin a note", plan: plan2, select: [ref("notes", id)] };
  }
  function fittedAt(a, at2) {
    const all = nozzles(a.plan, a.catalog);
    const chosen3 = all.find((n2) => n2.id === a.kit.nozzle);
    if (!chosen3) return null;
    const wanted = facing(a.plan, at2) ?? { startDeg: 0, sweepDeg: chosen3.arc_most_deg };
    const nozzle2 = nozzleFor(all, chosen3, wanted.sweepDeg);
    return { nozzle: nozzle2, ...fitArc(nozzle2, wanted) };
  }
  function head(a, at2) {
    const fitted = fittedAt(a, at2);
    if (!fitted) return { why: "No nozzle is chosen yet. Choose one beside the Head tool, then click again." };
    const id = newID(a.plan, "heads");
    const { nozzle: nozzle2, startDeg: start_deg, sweepDeg } = fitted;
    const base = { nozzle: nozzle2.id, body: a.kit.body, x_ft: at2[0], y_ft: at2[1], start_deg, status: "new" };
    const placed3 = { ...base, ...sweepDeg > 0 ? { sweep_deg: sweepDeg } : {}, ...inZone(a.plan, a.kit.zone) };
    const plan2 = newHead(a.plan, a.catalog, id, placed3);
    return { step: { label: `Place ${nameOf(plan2, ref("heads", id))}`, plan: plan2, select: [ref("heads", id)] } };
  }
  function inZone(p, zone2) {
    return zone2 && p.zones?.[zone2] ? { zone: zone2, tag: nextTag(p, zone2) } : {};
  }

  // web/editor/mend.ts
  var MOST = 4;
  function mends(outline3) {
    const fault = faultOf(outline3);
    if (!fault || fault.reason === "too_few") return [];
    const out = [];
    const offer = (title, next) => {
      if (faultOf(next) === null) out.push({ title, outline: next });
    };
    if (fault.other !== void 0 && outline3.every((c) => (c[2] ?? 0) === 0)) {
      offer("Uncross the edges", turnedRound(outline3, fault.corner, fault.other));
    }
    const last2 = outline3.length - 1;
    offer("Take out the last corner", without(outline3, last2));
    for (const i of suspects(fault.corner, fault.other, outline3.length)) {
      if (i !== last2) offer(`Take out corner ${i + 1}`, without(outline3, i));
    }
    return out.slice(0, MOST);
  }
  var without = (outline3, i) => outline3.filter((_, k) => k !== i);
  function turnedRound(outline3, first, second2) {
    return [
      ...outline3.slice(0, first + 1),
      ...outline3.slice(first + 1, second2 + 1).reverse(),
      ...outline3.slice(second2 + 1)
    ];
  }
  function suspects(corner2, other, n2) {
    const ends = [corner2, corner2 + 1];
    if (other !== void 0) ends.push(other, other + 1);
    return [...new Set(ends.map((i) => i % n2))];
  }

  // web/editor/tools/select.ts
  var idle = { pressed: null, drag: null, box: null, draft: null };
  var lifted = (s2) => ({ ...idle, draft: s2.draft });
  var working = (s2, a) => s2.draft?.plan ?? a.plan;
  var closed = (r) => parts(r)[0] === "areas";
  function press(s2, aim, a) {
    const plan2 = working(s2, a);
    const on = thingAt(plan2, aim.raw, aim.reach);
    return { state: { ...lifted(s2), pressed: { aim, on, grasp: graspAt(plan2, a, aim, on) } } };
  }
  function drag(s2, aim, a) {
    if (!s2.pressed) return { state: s2 };
    const { grasp, aim: from } = s2.pressed;
    if (!grasp) return { state: { ...s2, box: { from: from.raw, to: aim.raw } } };
    const plan2 = pull(working(s2, a), s2.drag, grasp, aim, a);
    const shown3 = brokenBy(plan2, grasp) || s2.draft ? void 0 : plan2;
    const refs = grasp.what === "things" ? grasp.refs : [];
    const select = refs.every((r) => a.selection.has(r)) ? void 0 : { refs, how: "set" };
    return { state: { ...s2, drag: plan2 }, preview: shown3, select };
  }
  function release(s2, aim, moved, a) {
    const p = s2.pressed;
    if (!p) return { state: s2 };
    if (!moved) return { ...clicked(lifted(s2), p.on, p.grasp, aim, a), preview: null };
    if (!p.grasp) {
      const refs = boxed(a.plan, p.aim.raw, aim.raw);
      const say = refs.length === 0 ? "Nothing in the box." : `${namesOf(a.plan, refs)} selected.`;
      return { state: lifted(s2), select: { refs, how: aim.shift ? "add" : "set" }, say };
    }
    return settled(lifted(s2), pull(working(s2, a), s2.drag, p.grasp, aim, a), p.grasp, a);
  }
  function clicked(s2, on, grasp, aim, a) {
    const add3 = aim.shift || aim.ctrl;
    if (grasp?.what === "grip" && grasp.grip.kind !== "body") {
      return { state: s2, hold: grasp.grip, say: `${grasp.grip.name} in hand. Arrows move it.` };
    }
    if (grasp?.what === "edge" && !add3) return { state: s2 };
    if (on) return { state: s2, select: { refs: [on], how: add3 ? "toggle" : "set" }, say: add3 ? void 0 : sayThing(a.plan, on) };
    return add3 ? { state: s2 } : { state: s2, select: { refs: [], how: "set" } };
  }
  var sayThing = (p, r) => `${nameOf(p, r)}${isLocked(p, r) ? ", locked," : ""} selected.`;
  function settled(s2, plan2, grasp, a) {
    const label = s2.draft?.label ?? labelOf(plan2, grasp);
    const broken = brokenBy(plan2, grasp);
    if (!broken) return { state: idle, commit: { label, plan: plan2 }, say: movedText(plan2, grasp, a) };
    const say = `Not kept yet. ${faultSentence(broken.fault, placeText(broken.fault.at, plan2.show))}`;
    return { state: { ...s2, draft: { plan: plan2, label, ...broken } }, preview: null, say };
  }
  function movedText(plan2, g, a) {
    if (g.what === "grip") return gripText(plan2, g.grip, a);
    const [first] = g.what === "things" ? g.refs : [];
    const at2 = first && spotOf(plan2, first);
    return at2 ? `${nameOf(plan2, first)} at ${placeText(at2, a.plan.show)}.` : void 0;
  }
  function typed(s2, entry2, aim, a) {
    const grasp = s2.pressed?.grasp;
    if (grasp?.what === "grip") {
      const done2 = typedGrip(working(s2, a), grasp.grip, entry2, aim.at, a);
      return "why" in done2 ? { state: s2, say: done2.why } : settled(lifted(s2), done2.plan, grasp, a);
    }
    const refs = [...a.selection];
    const [first] = refs;
    if (!first) return { state: s2, say: "Nothing is selected." };
    const of = handleOf(a.plan, first, aim.raw);
    const plan2 = moveThings(a.plan, refs, minus(placeFrom(entry2, of, aim.at), of));
    return { state: idle, commit: { label: `Move ${namesOf(a.plan, refs)}`, plan: plan2 } };
  }
  function escape(s2, a) {
    if (s2.pressed) return { state: lifted(s2), preview: null, say: "Put back." };
    if (s2.draft) return { state: idle, preview: null, say: "The shape is as it was." };
    if (a.selection.size > 0) return { state: s2, select: { refs: [], how: "set" }, say: "Nothing selected." };
    return { state: s2, unused: true };
  }
  function step2(s2, e, a) {
    switch (e.type) {
      case "hover":
        return { state: s2 };
      case "press":
        return press(s2, e.aim, a);
      case "drag":
        return drag(s2, e.aim, a);
      case "release":
        return release(s2, e.aim, e.moved, a);
      case "place":
        return clicked(s2, thingAt(working(s2, a), e.aim.at, e.aim.reach), null, e.aim, a);
      case "typed":
        return typed(s2, e.entry, e.aim, a);
      case "abort":
        return { state: lifted(s2), preview: null };
      case "escape":
        return escape(s2, a);
      case "back":
        return s2.pressed || s2.draft ? escape(s2, a) : { state: s2, unused: true };
      default:
        return { state: s2, unused: true };
    }
  }
  function sketch(s2, a) {
    if (s2.box) return { box: s2.box };
    const grasp = s2.pressed?.grasp;
    if (s2.drag && grasp) {
      const broken = brokenBy(s2.drag, grasp);
      const own2 = broken || s2.draft ? { plan: s2.drag } : {};
      return { ...own2, labels: dragLabels(s2.drag, grasp, a), ...broken ? faulty(s2.drag, broken) : {} };
    }
    return s2.draft ? { plan: s2.draft.plan, ...faulty(s2.draft.plan, s2.draft) } : {};
  }
  var faulty = (plan2, b) => ({
    line: ringsOf(plan2, b.ref)[b.ring],
    closed: closed(b.ref),
    faulty: true,
    problem: faultSentence(b.fault, placeText(b.fault.at, plan2.show))
  });
  var selectTool = {
    name: "select",
    start: () => idle,
    step: step2,
    sketch,
    aims: (s2) => s2.pressed?.grasp != null,
    skip: (s2) => s2.pressed?.grasp ? skipping(s2.pressed.grasp) : null,
    lead: (s2) => s2.pressed?.grasp ? leadOf(s2.pressed.grasp) : null,
    anchor(s2, a) {
      const grasp = s2.pressed?.grasp;
      if (!grasp || !s2.drag) return null;
      if (grasp.what === "things") return { at: grasp.of };
      if (grasp.what === "edge") return null;
      if (grasp.grip.kind === "corner") return { at: startOf(working(s2, a), grasp.grip) };
      return grasp.grip.kind === "body" ? { at: grasp.grip.at } : null;
    },
    fields(s2, a) {
      const grasp = s2.pressed?.grasp;
      if (grasp?.what === "grip") return gripFields(grasp.grip);
      return a.selection.size > 0 ? ["length", "angle"] : [];
    },
    fixes(s2) {
      const d = s2.draft;
      if (!d || !closed(d.ref)) return [];
      return mends(ringsOf(d.plan, d.ref)[d.ring] ?? []).map((m) => ({ title: m.title, draft: m.outline }));
    },
    applyFix(s2, fix) {
      const d = s2.draft;
      if (!d) return { state: s2 };
      const plan2 = setRing(d.plan, d.ref, d.ring, fix.draft);
      return { state: idle, commit: { label: d.label, plan: plan2 }, say: `${fix.title}: done.` };
    },
    busy: (s2) => s2.pressed !== null || s2.draft !== null,
    hint(s2, a) {
      if (s2.draft) return "Mend the shape to keep it, or Escape to put it back.";
      if (s2.box) return s2.box.to[0] < s2.box.from[0] ? "Takes what the box touches." : "Takes what lies wholly inside.";
      if (a.selection.size === 0) return "Click a thing, or drag a box around several.";
      return "Drag to move, pull a handle, or type a length and direction.";
    }
  };

  // web/editor/tools/head.ts
  var fresh2 = { pointer: null, pulling: null };
  var pulled = (r) => {
    const { state, ...rest } = r;
    return { ...rest, state: { pointer: null, pulling: state } };
  };
  function takesHold(aim, a) {
    const grips = gripsShown(a.plan, a).filter((g) => parts(g.ref)[0] === "heads");
    if (gripAt(grips, aim.raw, aim.reach)) return true;
    const on = thingAt(a.plan, aim.raw, aim.reach * 0.75);
    return on !== null && parts(on)[0] === "heads";
  }
  function set2(a, at2) {
    const made3 = head(a, at2);
    if ("why" in made3) return { state: fresh2, say: made3.why };
    return { state: { ...fresh2, pointer: at2 }, commit: made3.step, say: `Head placed at ${placeText(at2, a.plan.show)}.` };
  }
  function ghost(s2, a) {
    const fitted = s2.pointer ? fittedAt(a, s2.pointer) : null;
    if (!s2.pointer || !fitted) return {};
    const { nozzle: nozzle2, startDeg, sweepDeg } = fitted;
    const shape = { start_deg: startDeg, sweep_deg: sweepDeg, x_ft: s2.pointer[0], y_ft: s2.pointer[1], nozzle: "", body: "" };
    return { ghost: { at: s2.pointer, pattern: patternOf(shape, nozzle2, ownThrow(nozzle2)), text: nozzle2.name } };
  }
  var headTool = {
    name: "head",
    start: () => fresh2,
    step(s2, e, a) {
      if (s2.pulling) {
        if (e.type === "drag") return pulled(selectTool.step(s2.pulling, e, a));
        const { state, ...rest } = selectTool.step(s2.pulling, e, a);
        return { ...rest, state: { pointer: null, pulling: state.draft ? state : null } };
      }
      switch (e.type) {
        case "hover":
        case "drag":
          return { state: { ...s2, pointer: e.aim.at } };
        case "press":
          if (takesHold(e.aim, a)) return pulled(selectTool.step(selectTool.start(), e, a));
          return { state: { ...s2, pointer: e.aim.at } };
        case "release":
        case "place":
          return set2(a, e.aim.at);
        case "typed":
          return e.entry.place ? set2(a, e.entry.place) : { state: s2, say: "Type the place of the head as x, y." };
        case "escape":
        case "back":
          return { state: fresh2, leave: true };
        case "finish":
          return { state: s2, unused: true };
        default:
          return { state: fresh2 };
      }
    },
    sketch: (s2, a) => s2.pulling ? selectTool.sketch(s2.pulling, a) : ghost(s2, a),
    aims: (s2) => s2.pulling ? selectTool.aims?.(s2.pulling) ?? true : true,
    anchor: (s2, a) => s2.pulling ? selectTool.anchor?.(s2.pulling, a) ?? null : null,
    lead: (s2) => s2.pulling ? selectTool.lead?.(s2.pulling) ?? null : null,
    skip: (s2) => s2.pulling ? selectTool.skip?.(s2.pulling) ?? null : null,
    fields: (s2, a) => s2.pulling ? selectTool.fields?.(s2.pulling, a) ?? [] : ["place"],
    placeFirst: (s2) => s2.pulling === null,
    busy: (s2) => s2.pulling !== null,
    hint: (s2, a) => s2.pulling ? selectTool.hint(s2.pulling, a) : "Click to set a head; pull its handles for arc and throw."
  };

  // web/editor/tools/path.ts
  var fresh3 = { corners: [], pointer: null, typedPlace: false, held: null, dropped: [], begun: false };
  var last = (s2) => {
    const c = s2.corners.at(-1);
    return c ? place(c) : null;
  };
  var SAME_FT = 1e-6;
  function pathTool(sort) {
    const least = sort.closes ? 3 : 2;
    function addCorner2(s2, at2, typedPlace = false) {
      const before = last(s2);
      if (before && distance(before, at2) < SAME_FT) {
        return { state: s2, say: "That is where the last corner already is." };
      }
      return { state: { ...s2, corners: [...s2.corners, [at2[0], at2[1]]], typedPlace, held: null, dropped: [], begun: true } };
    }
    function finish(s2, a) {
      if (sort.make === null) return { state: fresh3, leave: s2.corners.length === 0 };
      if (s2.corners.length === 0) return { state: s2, unused: true };
      if (s2.corners.length < least) {
        const more = least - s2.corners.length;
        return { state: s2, say: `${sort.what} needs ${least} corners. Add ${more === 1 ? "one" : more} more.` };
      }
      const made3 = sort.make(a, s2.corners);
      if ("step" in made3) return { state: fresh3, commit: made3.step, say: `${made3.step.label}: done.` };
      return { state: { ...s2, held: sort.closes ? faultOf(s2.corners) : openFault(s2.corners) }, say: made3.why };
    }
    function click(s2, aim, clicks, a) {
      const first = s2.corners[0];
      const before = last(s2);
      if (clicks > 1 && before && distance(before, aim.at) <= Math.max(aim.reach, SAME_FT)) return finish(s2, a);
      const onFirst = first && distance(place(first), aim.at) <= (aim.snap?.kind === "self" ? SAME_FT : aim.reach / 2);
      if (sort.closes && s2.corners.length >= 3 && onFirst) return finish(s2, a);
      return addCorner2(s2, aim.at);
    }
    function placeAt(s2, aim, a) {
      const before = last(s2);
      if (before && distance(before, aim.at) < SAME_FT) return finish(s2, a);
      const out = click(s2, aim, 1, a);
      if (out.commit || out.say) return out;
      return { ...out, say: `Corner ${out.state.corners.length} at ${placeText(aim.at, a.plan.show)}.` };
    }
    function typed4(s2, entry2, aim, a) {
      const from = last(s2);
      if (!from && !entry2.place) return { state: s2, say: "Set the first corner by a click, Enter, or as x, y." };
      const at2 = from ? placeFrom(entry2, from, aim.at) : entry2.place;
      const first = s2.corners[0];
      if (sort.closes && s2.corners.length >= 3 && first && distance(place(first), at2) < SAME_FT) return finish(s2, a);
      const out = addCorner2(s2, at2, entry2.place !== void 0);
      return out.say ? out : { ...out, say: `Corner ${out.state.corners.length} at ${placeText(at2, a.plan.show)}.` };
    }
    function back2(s2) {
      if (s2.corners.length > 0) {
        const corners2 = s2.corners.slice(0, -1);
        return { state: { ...s2, corners: corners2, held: null }, say: `Corner ${s2.corners.length} taken out.` };
      }
      if (s2.dropped.length > 0) {
        return { state: { ...fresh3, corners: s2.dropped, begun: true }, say: `${s2.dropped.length} corners taken up again.` };
      }
      return { state: fresh3, leave: true };
    }
    function escape2(s2) {
      if (s2.corners.length === 0) return { state: fresh3, leave: true };
      const say = `${sort.what} dropped. Undo takes it up again.`;
      return { state: { ...fresh3, dropped: s2.corners }, say: sort.make ? say : "Measure cleared." };
    }
    function step3(s2, e, a) {
      switch (e.type) {
        case "hover":
        case "press":
        case "drag":
          return { state: { ...s2, pointer: e.aim.at } };
        case "release":
          return click({ ...s2, pointer: e.aim.at }, e.aim, e.clicks, a);
        case "place":
          return placeAt({ ...s2, pointer: e.aim.at }, e.aim, a);
        case "typed":
          return typed4(s2, e.entry, e.aim, a);
        case "finish":
          return finish(s2, a);
        case "back":
          return back2(s2);
        case "escape":
          return escape2(s2);
        default:
          return { state: { ...s2, pointer: null } };
      }
    }
    return {
      name: sort.name,
      start: () => fresh3,
      step: step3,
      sketch: (s2, a) => sketchOf(s2, sort, a.plan.show),
      anchor: (s2) => {
        const at2 = last(s2);
        if (!at2) return null;
        const before = s2.corners.at(-2);
        return before ? { at: at2, beforeDeg: directionDeg(place(before), at2) } : { at: at2 };
      },
      own: (s2) => s2.corners.map(place),
      fields: (s2) => s2.corners.length === 0 ? ["place"] : ["length", "angle"],
      placeFirst: (s2) => s2.corners.length === 0 || s2.typedPlace,
      fixes: (s2) => s2.held && sort.closes ? mends(s2.corners).map((m) => ({ title: m.title, draft: m.outline })) : [],
      applyFix: (s2, fix, a) => finish({ ...s2, corners: fix.draft, held: null }, a),
      busy: (s2) => s2.begun || s2.dropped.length > 0,
      hint: (s2, a) => hintOf(s2, sort, a.plan.show)
    };
  }
  function hintOf(s2, sort, system) {
    const n2 = s2.corners.length;
    if (s2.held) return "Mend the outline, or move on and close it again.";
    if (sort.make === null && n2 > 1) return measured(s2.corners, system);
    if (n2 === 0) return "Click the first corner, or type x, y.";
    const least = sort.closes ? 3 : 2;
    if (n2 < least) return "Next corner: click, or type a length.";
    return sort.closes ? "Next corner, or close: Enter, double-click or the first corner." : "Next corner, or Enter to end.";
  }
  function measured(corners2, system) {
    const total = `Length ${lengthText(lengthOf(corners2), system)}`;
    if (corners2.length < 3) return total;
    const around = lengthText(perimeterOf(corners2), system);
    return `${total}; closed: around ${around}, area ${areaText(areaOf(corners2), system)}`;
  }
  function reaching(s2) {
    const at2 = last(s2);
    if (!s2.pointer || !at2 || distance(at2, s2.pointer) < SAME_FT) return s2.corners;
    return [...s2.corners, [s2.pointer[0], s2.pointer[1]]];
  }
  function sketchOf(s2, sort, system) {
    const line4 = reaching(s2);
    const dots = s2.corners.map(place);
    if (line4.length < 2) return { line: line4, dots };
    const fault = s2.held ?? (sort.make === null ? null : openFault(line4));
    const at2 = last(s2);
    return {
      line: line4,
      dots,
      closed: sort.closes && line4.length > 2 && s2.held !== null,
      faulty: fault !== null,
      rubber: at2 && s2.pointer ? [at2, s2.pointer] : void 0,
      labels: labelsOf(line4, sort, system, fault !== null),
      problem: fault ? faultSentence(fault, placeText(fault.at, system)) : void 0
    };
  }
  function labelsOf(line4, sort, system, faulty2) {
    const out = [];
    for (let i = 1; i < line4.length; i++) {
      const [a, b] = [place(line4[i - 1]), place(line4[i])];
      const newest = i === line4.length - 1;
      const text2 = lengthText(distance(a, b), system);
      out.push({ at: middle(a, b), text: newest ? `${text2} < ${angleText(directionDeg(a, b))}` : text2, along: { a, b } });
    }
    if (line4.length > 2 && (sort.closes || sort.make === null)) {
      const text2 = faulty2 ? "Area –" : `Area ${areaText(areaOf(line4), system)}`;
      out.push({ at: centreOf(line4), text: text2 });
    }
    return out;
  }
  var centreOf = (line4) => [
    line4.reduce((n2, c) => n2 + c[0], 0) / line4.length,
    line4.reduce((n2, c) => n2 + c[1], 0) / line4.length
  ];
  var outlineTool = pathTool({ name: "outline", closes: true, make: closedOutline, what: "An outline" });
  var barrierTool = pathTool({ name: "barrier", closes: false, make: barrier, what: "A line" });
  var measureTool = pathTool({ name: "measure", closes: false, make: null, what: "A measure" });

  // web/editor/tools/rectangle.ts
  var fresh4 = { first: null, pointer: null, pressed: null, typedPlace: false };
  function rectangle(a, b) {
    const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
    const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
    return [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1]
    ];
  }
  function acrossFrom(first, pointer, entry2) {
    if (entry2.place) return entry2.place;
    const side = (i) => pointer[i] < first[i] ? -1 : 1;
    const { width, depth } = entry2.values;
    return [
      width === void 0 ? pointer[0] : first[0] + side(0) * width,
      depth === void 0 ? pointer[1] : first[1] + side(1) * depth
    ];
  }
  function second(s2, at2, a) {
    const first = s2.first;
    if (first[0] === at2[0] || first[1] === at2[1]) {
      return { state: { ...s2, pressed: null }, say: "A rectangle needs width and depth. Move on, or type them: 30 x 20." };
    }
    const made3 = closedOutline(a, rectangle(first, at2));
    if ("why" in made3) return { state: s2, say: made3.why };
    return { state: fresh4, commit: made3.step, say: `${made3.step.label}: done.` };
  }
  function corner(s2, at2, a, typedPlace = false) {
    if (s2.first) return second(s2, at2, a);
    const say = `First corner at ${placeText(at2, a.plan.show)}.`;
    return { state: { ...fresh4, first: at2, pointer: at2, typedPlace }, say };
  }
  function typed2(s2, entry2, pointer, a) {
    if (s2.first) return second(s2, acrossFrom(s2.first, pointer, entry2), a);
    return entry2.place ? corner(s2, entry2.place, a, true) : { state: s2, say: "Set the first corner, then type width x depth." };
  }
  function sketch2(s2, system) {
    if (!s2.first || !s2.pointer) return {};
    const [a, b] = [s2.first, s2.pointer];
    const line4 = rectangle(a, b);
    const [width, depth] = [Math.abs(b[0] - a[0]), Math.abs(b[1] - a[1])];
    const [p, q, r] = line4.map(place);
    return {
      line: line4,
      closed: true,
      dots: [a],
      labels: [
        { at: [(a[0] + b[0]) / 2, p[1]], text: lengthText(width, system), along: { a: p, b: q } },
        { at: [q[0], (a[1] + b[1]) / 2], text: lengthText(depth, system), along: { a: q, b: r } },
        { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], text: areaText(areaOf(line4), system) }
      ]
    };
  }
  var rectangleTool = {
    name: "rectangle",
    start: () => fresh4,
    step(s2, e, a) {
      switch (e.type) {
        case "hover":
          return { state: { ...s2, pointer: e.aim.at } };
        case "press":
          return s2.first ? { state: s2 } : { state: { ...s2, first: e.aim.at, pressed: e.aim.at, pointer: e.aim.at } };
        case "drag":
          return { state: { ...s2, pointer: e.aim.at } };
        case "release":
          if (s2.pressed && !e.moved) return corner({ ...s2, first: null, pressed: null }, e.aim.at, a);
          return s2.first ? second(s2, e.aim.at, a) : { state: s2 };
        case "place":
          return corner(s2, e.aim.at, a);
        case "typed":
          return typed2(s2, e.entry, e.aim.at, a);
        case "finish":
          return s2.first && s2.pointer && distance(s2.first, s2.pointer) > 0 ? second(s2, s2.pointer, a) : { state: s2, unused: !s2.first };
        case "back":
        case "escape":
          return s2.first ? { state: fresh4, say: "First corner taken back." } : { state: fresh4, leave: true };
        case "abort":
          return { state: s2.pressed ? fresh4 : { ...s2, pointer: null } };
        default:
          return { state: s2 };
      }
    },
    sketch: (s2, a) => sketch2(s2, a.plan.show),
    fields: (s2) => s2.first ? ["width", "depth"] : ["place"],
    placeFirst: (s2) => !s2.first || s2.typedPlace,
    own: (s2) => s2.first ? [s2.first] : [],
    busy: (s2) => s2.first !== null,
    hint: (s2) => s2.first ? "Second corner, or type width x depth." : "Click the first corner, or type x, y."
  };

  // web/editor/tools/round.ts
  var fresh5 = { centre: null, pointer: null, pressed: false, oval: false, typedPlace: false };
  var QUARTER = Math.tan(Math.PI / 8);
  function circle(c, r) {
    return [
      [c[0] + r, c[1], QUARTER],
      [c[0], c[1] + r, QUARTER],
      [c[0] - r, c[1], QUARTER],
      [c[0], c[1] - r, QUARTER]
    ];
  }
  var OVAL_ARCS = 16;
  function oval(c, rx, ry) {
    const at2 = (k) => {
      const t = 2 * Math.PI * k / OVAL_ARCS;
      return [c[0] + rx * Math.cos(t), c[1] + ry * Math.sin(t)];
    };
    return Array.from({ length: OVAL_ARCS }, (_, k) => {
      const [x, y] = at2(k);
      return [x, y, bulgeThrough(at2(k), at2(k + 1), at2(k + 0.5))];
    });
  }
  function radii(s2) {
    const { centre: c, pointer: p } = s2;
    if (!c || !p) return [0, 0];
    if (s2.oval) return [Math.abs(p[0] - c[0]), Math.abs(p[1] - c[1])];
    return [distance(c, p), distance(c, p)];
  }
  var outline = (c, [rx, ry]) => rx === ry ? circle(c, rx) : oval(c, rx, ry);
  function done(s2, r, a) {
    if (!s2.centre || Math.min(...r) < 0.05) {
      return { state: { ...s2, pressed: false }, say: "A circle needs a radius. Move away from the centre, or type it." };
    }
    const made3 = closedOutline(a, outline(s2.centre, r));
    if ("why" in made3) return { state: s2, say: made3.why };
    return { state: fresh5, commit: made3.step, say: `${made3.step.label}: done.` };
  }
  function typed3(s2, entry2, a) {
    if (!s2.centre) {
      if (!entry2.place) return { state: s2, say: "Set the centre, then type the radius." };
      return centred(s2, entry2.place, a, true);
    }
    if (entry2.place) return done({ ...s2, pointer: entry2.place }, radii({ ...s2, pointer: entry2.place }), a);
    const rx = entry2.values.radius ?? radii(s2)[0];
    return done(s2, [rx, entry2.values.second ?? rx], a);
  }
  function centred(s2, at2, a, typedPlace = false) {
    return { state: { ...s2, centre: at2, pointer: at2, pressed: false, typedPlace }, say: `Centre at ${placeText(at2, a.plan.show)}.` };
  }
  function sketch3(s2, system) {
    if (!s2.centre || !s2.pointer) return {};
    const r = radii(s2);
    if (Math.min(...r) < 1e-6) return { dots: [s2.centre] };
    const line4 = outline(s2.centre, r);
    const text2 = r[0] === r[1] ? `Radius ${lengthText(r[0], system)}` : r.map((n2) => lengthText(n2, system)).join(" x ");
    return {
      line: line4,
      closed: true,
      dots: [s2.centre],
      rubber: s2.oval ? void 0 : [s2.centre, s2.pointer],
      labels: [
        { at: [(s2.centre[0] + s2.pointer[0]) / 2, (s2.centre[1] + s2.pointer[1]) / 2], text: text2 },
        { at: s2.centre, text: areaText(areaOf(line4), system) }
      ]
    };
  }
  var roundTool = {
    name: "round",
    start: () => fresh5,
    step(s2, e, a) {
      switch (e.type) {
        case "hover":
        case "drag":
          return { state: { ...s2, pointer: e.aim.at, oval: e.aim.ctrl } };
        case "press":
          return s2.centre ? { state: s2 } : { state: { ...s2, centre: e.aim.at, pointer: e.aim.at, pressed: true } };
        case "release": {
          if (s2.pressed && !e.moved) return centred(s2, e.aim.at, a);
          const next = { ...s2, pointer: e.aim.at, oval: e.aim.ctrl };
          return s2.centre ? done(next, radii(next), a) : { state: s2 };
        }
        case "place": {
          const next = { ...s2, pointer: e.aim.at };
          return s2.centre ? done(next, radii(next), a) : centred(s2, e.aim.at, a);
        }
        case "typed":
          return typed3({ ...s2, pointer: e.aim.at }, e.entry, a);
        case "finish":
          return s2.centre ? done(s2, radii(s2), a) : { state: s2, unused: true };
        case "back":
        case "escape":
          return s2.centre ? { state: fresh5, say: "Centre taken back." } : { state: fresh5, leave: true };
        case "abort":
          return { state: s2.pressed ? fresh5 : { ...s2, pointer: null } };
        default:
          return { state: s2 };
      }
    },
    sketch: (s2, a) => sketch3(s2, a.plan.show),
    anchor: (s2) => s2.centre ? { at: s2.centre } : null,
    fields: (s2) => s2.centre ? ["radius", "second"] : ["place"],
    placeFirst: (s2) => !s2.centre || s2.typedPlace,
    busy: (s2) => s2.centre !== null,
    hint: (s2) => s2.centre ? "Radius: click or type it. Two radii, or Ctrl, make an oval." : "Click the centre, or type x, y."
  };

  // web/editor/tools/spot.ts
  var fresh6 = { pointer: null, waiting: null };
  function spotTool(sort) {
    const set3 = (a, at2) => {
      const step3 = sort.make(a, at2);
      return { state: fresh6, commit: step3, say: `${step3.label}, at ${placeText(at2, a.plan.show)}.` };
    };
    return {
      name: sort.name,
      start: () => fresh6,
      step(s2, e, a) {
        switch (e.type) {
          case "hover":
          case "press":
          case "drag":
            return { state: { ...s2, pointer: e.aim.at } };
          case "release":
          case "place":
            return set3(a, e.aim.at);
          case "typed":
            return e.entry.place ? set3(a, e.entry.place) : { state: s2, say: "Type the place as x, y." };
          case "escape":
          case "back":
            return { state: fresh6, leave: true };
          case "finish":
            return { state: s2, unused: true };
          default:
            return { state: fresh6 };
        }
      },
      sketch: (s2) => s2.pointer ? { dots: [s2.pointer] } : {},
      fields: () => ["place"],
      placeFirst: () => true,
      busy: () => false,
      hint: () => sort.hint
    };
  }
  var treeTool = spotTool({ name: "tree", hint: "Click where the trunk stands, or type x, y.", make: tree });
  var keepDryTool = spotTool({
    name: "keepdry",
    hint: "Click what must stay dry, or type x, y.",
    make: keepDry
  });
  var noteTool = {
    name: "note",
    start: () => fresh6,
    step(s2, e, a) {
      switch (e.type) {
        case "hover":
        case "press":
        case "drag":
          return { state: { ...s2, pointer: e.aim.at } };
        case "release":
        case "place":
          return { state: { ...s2, waiting: e.aim.at }, say: "Type the note, then Enter." };
        case "typed":
          return e.entry.place ? { state: { ...s2, waiting: e.entry.place }, say: "Type the note, then Enter." } : { state: s2 };
        case "text": {
          const text2 = e.text.trim();
          if (!s2.waiting || text2 === "") return { state: fresh6, say: "No text, so no note." };
          return { state: fresh6, commit: note(a, s2.waiting, text2), say: "Note pinned." };
        }
        case "escape":
        case "back":
          return s2.waiting ? { state: fresh6, say: "Note dropped." } : { state: fresh6, leave: true };
        case "finish":
          return { state: s2, unused: true };
        default:
          return { state: fresh6 };
      }
    },
    sketch: (s2) => ({ dots: [s2.waiting, s2.pointer].filter((p) => p !== null).slice(0, 1) }),
    fields: (s2) => s2.waiting ? ["text"] : ["place"],
    placeFirst: () => true,
    busy: (s2) => s2.waiting !== null,
    hint: (s2) => s2.waiting ? "Type the note, then Enter." : "Click where the note belongs, or type x, y."
  };

  // web/editor/tools/tool.ts
  function run(tool) {
    let state = tool.start();
    const take = (r) => {
      state = r.state;
      return r;
    };
    return {
      name: tool.name,
      get busy() {
        return tool.busy(state);
      },
      step: (event, around) => take(tool.step(state, event, around)),
      fix: (fix, around) => tool.applyFix ? take(tool.applyFix(state, fix, around)) : {},
      sketch: (around) => tool.sketch(state, around),
      anchor: (around) => tool.anchor?.(state, around) ?? null,
      own: () => tool.own?.(state) ?? [],
      aims: () => tool.aims?.(state) ?? true,
      lead: () => tool.lead?.(state) ?? null,
      skip: () => tool.skip?.(state) ?? null,
      fields: (around) => tool.fields?.(state, around) ?? [],
      placeFirst: () => tool.placeFirst?.(state) ?? false,
      fixes: (around) => tool.fixes?.(state, around) ?? [],
      hint: (around) => tool.hint(state, around)
    };
  }

  // web/editor/tools/all.ts
  var starters = {
    select: () => run(selectTool),
    outline: () => run(outlineTool),
    rectangle: () => run(rectangleTool),
    round: () => run(roundTool),
    barrier: () => run(barrierTool),
    tree: () => run(treeTool),
    keepdry: () => run(keepDryTool),
    note: () => run(noteTool),
    head: () => run(headTool),
    measure: () => run(measureTool)
  };
  var isTool = (name) => Object.hasOwn(starters, name);
  var takeUp = (name) => starters[name]();

  // web/editor/drawing.ts
  var usualKit = {
    areaKind: "planting",
    asHole: false,
    nozzle: "",
    body: "",
    zone: "",
    barrierKind: "fence",
    barrierHeightFt: 6,
    trunkIn: 10,
    rootZoneFt: 8,
    keepDryFt: 1.5
  };
  var noKeys = { shift: false, alt: false, ctrl: false };
  var Drawing = class {
    constructor(board, dom, shelf = localStorage) {
      this.board = board;
      this.dom = dom;
      this.#shelf = shelf;
      this.aids = loadAids(shelf);
      this.view = fit({ scale: 1, left: 0, top: 0, ...this.#size() }, this.content() ?? firstGround);
      this.commands = new Commands(actions(this));
      this.#scene = new Scene(dom.svg);
      this.#entry = new EntryBox(dom.entry, {
        typed: (entry2) => this.#typed(entry2),
        words: (text2) => this.tell({ type: "text", text: text2 }),
        closed: (escaped) => this.#entryClosed(escaped)
      });
      this.#problems = new ProblemBar(dom.board, {
        fix: (f) => this.#fix(f),
        run: (id) => this.commands.run(id, (why) => board.announce(why))
      });
      this.looking = new Looking(this);
      new Listening(this);
      this.#follow();
      this.redraw();
    }
    board;
    dom;
    commands;
    looking;
    kit = usualKit;
    aids;
    view;
    zooming = false;
    /** Where the pointer or the crosshair is, in feet and in words. */
    pointer = null;
    #tool = takeUp("select");
    /** A tool put down with a draft keeps it until it is taken up again. */
    #aside = /* @__PURE__ */ new Map();
    #at = null;
    #coarse = false;
    #crosshair = null;
    /** The last place that was typed: the crosshair starts there. */
    #placed = null;
    #keys = noKeys;
    #cycle = 0;
    #aim = null;
    #inHand = null;
    #stop = null;
    #sketch = {};
    #scene;
    #entry;
    #problems;
    #shelf;
    redraw = eachFrame(() => this.#draw());
    #follow() {
      const { board } = this;
      for (const topic of ["plan", "design", "hover"]) board.subscribe(topic, () => this.redraw());
      board.subscribe("selection", () => {
        const grip = this.inHand;
        if (!grip || !board.selection.has(grip.ref)) this.#inHand = null;
        this.redraw();
      });
      board.subscribe("tool", () => this.#takeTool());
      board.subscribe("catalog", () => this.#fillKit());
      new ResizeObserver(() => this.setView(resize(this.view, this.#size().width, this.#size().height))).observe(this.dom.board);
      this.#fillKit();
    }
    #size() {
      return { width: Math.max(1, this.dom.board.clientWidth), height: Math.max(1, this.dom.board.clientHeight) };
    }
    /** What a tool may look at: the document without the gesture in progress. */
    get around() {
      const { committed, selection, catalog, design } = this.board;
      return { plan: committed, selection, kit: this.kit, catalog, design };
    }
    get tool() {
      return this.#tool;
    }
    get toolName() {
      return this.#tool.name;
    }
    /** The plan on show: a draft the server would refuse, the gesture's, or the document. */
    get shownPlan() {
      return this.#sketch.plan ?? this.board.plan;
    }
    get aim() {
      return this.#aim;
    }
    get crosshair() {
      return this.#crosshair;
    }
    /** Where the crosshair starts: at the pointer, else at what was typed last. */
    get crosshairStart() {
      return this.#crosshair ?? (this.#at ? this.#aim?.at ?? null : this.#placed);
    }
    get entryOpen() {
      return this.#entry.open;
    }
    get stop() {
      return this.#stop && has(this.board.plan, this.#stop) ? this.#stop : null;
    }
    /** The thing Tab stops at inside the scene. */
    set stop(r) {
      this.#stop = r;
      this.redraw();
    }
    get problem() {
      const sentence = this.#sketch.problem;
      if (!sentence) return null;
      const fixes = this.#tool.fixes(this.around);
      return { sentence, fixes: fixes.map((f) => ({ title: f.title, run: () => this.#fix(f) })) };
    }
    get grid() {
      return gridAt(this.view.scale, this.board.plan.show);
    }
    get status() {
      const snap = this.#aim?.snap;
      return {
        snap: !this.aids.snap ? "Snap off" : snap && snap.kind !== "grid" ? snapNames[snap.kind] : "Snap on",
        grid: this.aids.grid ? `Grid ${this.grid.text}` : "Grid off",
        ortho: this.aids.ortho ? "Square on" : "Square off",
        hint: this.#tool.hint(this.around)
      };
    }
    /** The bounds of all that is drawn. */
    content() {
      return planBounds(this.board.committed);
    }
    setView(v) {
      const next = withinReach(v, this.content());
      if (next === this.view) return;
      this.view = next;
      this.board.emit("view");
      this.refresh();
    }
    setAids(part) {
      this.aids = { ...this.aids, ...part };
      keepAids(this.#shelf, this.aids);
      this.board.emit("view");
      this.refresh();
    }
    setKit(part) {
      this.kit = { ...this.kit, ...part };
      if (part.nozzle !== void 0) this.#fitBody();
      this.board.emit("tool");
      this.redraw();
    }
    /** The first nozzle and body of a new page: what the plan uses most, else a stream nozzle of the catalogue. */
    #fillKit() {
      if (this.kit.nozzle) return;
      const { plan: plan2, catalog } = this.board;
      const used = Object.values(plan2.heads ?? {}).at(-1);
      const first = catalog.nozzles.find((n2) => n2.family === "stream") ?? catalog.nozzles[0];
      const nozzle2 = used?.nozzle ?? first?.id;
      if (nozzle2) this.setKit({ nozzle: nozzle2, body: used?.body ?? "" });
    }
    /** A body the nozzle does not screw into is changed for one it does. */
    #fitBody() {
      const { plan: plan2, catalog } = this.board;
      const n2 = plan2.nozzles?.[this.kit.nozzle] ?? catalog.nozzles.find((e) => e.id === this.kit.nozzle);
      if (!n2) return;
      const fit2 = fitting(plan2, catalog, n2);
      if (!fit2.some((b) => b.id === this.kit.body)) this.kit = { ...this.kit, body: fit2[0]?.id ?? "" };
    }
    // Tools
    /** Takes a tool up. */
    takeUp(name) {
      const before = this.#tool;
      this.board.setTool(name);
      const aside = before !== this.#tool && before.busy ? " What you began is put aside; take its tool up to go on." : "";
      this.board.announce(`${this.commands.get(`tool.${name}`).title}. ${this.#tool.hint(this.around)}${aside}`);
    }
    #takeTool() {
      const name = this.board.tool.replace(/^tool\./, "");
      if (!isTool(name) || name === this.#tool.name) return this.redraw();
      this.tell({ type: "abort" });
      this.#entry.close(false);
      if (this.#tool.busy) this.#aside.set(this.toolName, this.#tool);
      this.#tool = this.#aside.get(name) ?? takeUp(name);
      this.#aside.delete(name);
      this.#cycle = 0;
      if (name === "select") this.#crosshair = null;
      this.refresh();
    }
    /** Tells the tool what happened and does what it answers; true when it meant something. */
    tell(e) {
      const told = this.#tool.step(e, this.around);
      this.#apply(told);
      return !told.unused;
    }
    #apply(t) {
      const { board } = this;
      if (t.select) board.select(t.select.refs, t.select.how);
      if (t.hold) this.#inHand = gripKey(t.hold);
      if (t.preview) board.preview(t.preview);
      else if (t.preview === null) board.cancel();
      if (t.commit) {
        void board.commit(t.commit.label, t.commit.plan);
        if (t.commit.select) board.select(t.commit.select);
        this.#cycle = 0;
      }
      if (t.say) board.announce(t.say);
      if (t.leave) board.setTool("select");
      if (!this.#entry.open && this.#tool.fields(this.around)[0] === "text") this.openEntry("");
      this.redraw();
    }
    #fix(f) {
      this.#apply(this.#tool.fix(f, this.around));
      this.focus();
    }
    /** Commits a change made by a command or a key; several of one kind in quick succession are one step. */
    commit(label, plan2, more = {}) {
      void this.board.commit(label, plan2, more.merge);
      if (more.select) this.board.select(more.select);
      if (more.say) this.board.announce(more.say);
      this.redraw();
    }
    // Handles in hand
    get grips() {
      if (this.toolName !== "select" && this.toolName !== "head") return [];
      const all = gripsShown(this.shownPlan, this.around);
      return this.toolName === "select" ? all : all.filter((g) => parts(g.ref)[0] === "heads");
    }
    get inHand() {
      return this.grips.find((g) => gripKey(g) === this.#inHand) ?? null;
    }
    hold(g) {
      this.#inHand = g ? gripKey(g) : null;
      if (g) this.board.announce(`${g.name}, at ${placeText(g.at, this.board.plan.show)}.`);
      this.redraw();
    }
    // Pointing
    /** The pointer is at a pixel; null when it left the board. */
    point(at2, coarse) {
      this.#at = at2;
      this.#coarse = coarse;
      this.#crosshair = null;
      this.#cycle = 0;
    }
    /** The crosshair is moved by the keyboard to a place. */
    setCrosshair(p) {
      this.#crosshair = p;
      this.#cycle = 0;
      this.look("hover");
    }
    setKeys(keys) {
      const was = this.#keys;
      if (was.shift === keys.shift && was.alt === keys.alt && was.ctrl === keys.ctrl) return;
      this.#keys = keys;
      this.refresh();
    }
    /** The next place the pointer may mean. */
    cycle(by) {
      const q = this.#ask();
      if (!q) return false;
      const { found } = candidates(q);
      if (found.length < (q.steady ? 1 : 2)) return false;
      this.#cycle += by;
      this.look("hover");
      const { snap, at: at2 } = this.#aim ?? {};
      if (snap && at2) this.board.announce(`${snapNames[snap.kind]}, ${placeText(at2, this.board.plan.show)}.`);
      return true;
    }
    #ask() {
      const raw = this.#crosshair ?? (this.#at ? toFeet(this.view, this.#at) : null);
      if (!raw) return null;
      const { around } = this;
      return {
        raw,
        lead: this.#crosshair ? null : this.#tool.lead(),
        anchor: this.#tool.anchor(around),
        own: this.#tool.own(),
        skip: this.#tool.skip(),
        index: indexOf(around.plan),
        aids: this.aids,
        gridStep: this.grid.snap,
        reach: (this.#coarse ? TOUCH_PX : MOUSE_PX) / this.view.scale,
        keys: this.#keys,
        cycle: this.#cycle,
        snaps: this.#tool.aims(),
        steady: this.#crosshair !== null
      };
    }
    /** Works out what is aimed at and tells the tool. */
    look(type) {
      const q = this.#ask();
      const was = this.#aim;
      this.#aim = q ? aimFor(q) : null;
      this.#showPointer();
      if (this.#aim && !(type === "hover" && sameAim(was, this.#aim) && this.#tool.name === "select")) {
        this.tell({ type, aim: this.#aim });
      }
      this.redraw();
      return this.#aim;
    }
    /** Works the aim out again after a key, the view or an aid changed it. */
    refresh() {
      if (this.#stroke) this.look("drag");
      else if (this.#at || this.#crosshair) this.look("hover");
      this.redraw();
    }
    /** A button or finger is down, so that moves are drags. */
    #stroke = false;
    stroke(on) {
      this.#stroke = on;
    }
    #showPointer() {
      const at2 = this.#aim?.at ?? null;
      this.pointer = at2 ? { at: at2, text: placeText(at2, this.board.plan.show) } : null;
      this.board.emit("hover");
      if (this.#entry.open && at2) this.#hintEntry(at2);
    }
    // Typing at the pointer
    /** What a typed number would mean now. */
    get fields() {
      const grip = this.#tool.busy ? null : this.inHand;
      return grip ? gripFields(grip) : this.#tool.fields(this.around);
    }
    openEntry(first) {
      const { fields } = this;
      if (fields.length === 0) return false;
      const asked = { fields, system: this.board.plan.show, placeFirst: this.#tool.placeFirst() };
      this.#entry.show(asked, first, this.#pixelOfAim());
      if (this.#aim) this.#hintEntry(this.#aim.at);
      return true;
    }
    closeEntry() {
      this.#entry.close(true);
    }
    #pixelOfAim() {
      const grip = this.#tool.busy ? null : this.inHand;
      const at2 = grip?.at ?? this.#aim?.at;
      return at2 ? toPixel(this.view, at2) : pixel(this.view.width / 2, this.view.height / 2);
    }
    #hintEntry(at2) {
      const from = this.#tool.anchor(this.around)?.at;
      if (!from) return;
      const show = this.board.plan.show;
      this.#entry.hint([lengthText(distance(from, at2), show), angleText(directionDeg(from, at2))]);
    }
    #typed(entry2) {
      const aim = this.#aim ?? this.#aimFromMiddle();
      const grip = this.#tool.busy ? null : this.inHand;
      if (grip) {
        const done2 = typedGrip(this.board.committed, grip, entry2, aim.at, this.around);
        if ("why" in done2) return done2.why;
        const broken = brokenRing(done2.plan, grip.ref, grip.ring);
        if (broken) return faultSentence(broken.fault, placeText(broken.fault.at, done2.plan.show));
        this.commit(gripLabel(done2.plan, grip), done2.plan);
        return null;
      }
      this.#apply(this.#tool.step({ type: "typed", entry: entry2, aim }, this.around));
      this.#placed = entry2.place ?? this.#tool.anchor(this.around)?.at ?? this.#placed;
      if (this.#crosshair && this.#placed) this.#crosshair = this.#placed;
      return null;
    }
    #aimFromMiddle() {
      const at2 = toFeet(this.view, pixel(this.view.width / 2, this.view.height / 2));
      return { at: at2, raw: at2, snap: null, held: null, reach: MOUSE_PX / this.view.scale, ...this.#keys };
    }
    #entryClosed(escaped) {
      if (escaped && this.#tool.fields(this.around)[0] === "text") this.tell({ type: "escape" });
      this.focus();
      this.refresh();
    }
    /** Gives the board the focus, so that its keys work. */
    focus() {
      this.dom.svg.focus({ preventScroll: true });
    }
    // Drawing
    /** The snap to show a sign for. What is being moved covers the sign of the grid. */
    #shownSnap() {
      const snap = this.#tool.aims() ? this.#aim?.snap ?? null : null;
      return snap?.kind === "grid" && this.#tool.lead() ? null : snap;
    }
    #draw() {
      const { board } = this;
      const { around } = this;
      this.#sketch = this.#tool.sketch(around);
      const anchor = this.#tool.anchor(around);
      const held = this.#aim?.held ?? null;
      const busy = this.#tool.busy;
      this.#scene.draw({
        plan: this.shownPlan,
        design: board.design,
        selection: board.selection,
        hover: board.hover,
        stop: this.stop,
        grid: this.aids.grid ? this.grid : null,
        zooming: this.zooming,
        view: this.view,
        sketch: this.#sketch,
        grips: this.#sketch.box ? [] : this.grips,
        inHand: this.inHand,
        snap: this.#shownSnap(),
        ray: held && anchor ? { from: anchor.at, held } : null,
        crosshair: this.#crosshair
      });
      this.dom.board.dataset.tool = this.#tool.name;
      this.#problems.show({
        problem: this.#sketch.problem ?? "",
        fixes: this.#tool.fixes(around),
        steps: !busy ? "" : (this.#sketch.dots?.length ?? 0) > 0 ? "draft" : this.#tool.fixes(around).length > 0 ? "change" : ""
      });
    }
  };
  var firstGround = { minX: -10, minY: -10, maxX: 110, maxY: 90 };

  // web/editor/palette.ts
  var onTarget = (byte) => byte >= 1 && byte <= 200;
  var shareOf = (byte) => byte > 200 ? (byte - 201) / 20 : (byte - 1) / 100;
  var stops = {
    light: [
      [0, [104, 60, 16]],
      [0.5, [178, 122, 58]],
      [0.8, [222, 192, 140]],
      [1, [246, 243, 232]],
      [1.2, [190, 222, 214]],
      [1.5, [104, 172, 163]],
      [2, [14, 94, 90]]
    ],
    dark: [
      [0, [98, 58, 18]],
      [0.5, [148, 104, 54]],
      [0.8, [184, 160, 118]],
      [1, [214, 210, 196]],
      [1.2, [160, 194, 186]],
      [1.5, [84, 150, 142]],
      [2, [20, 98, 94]]
    ]
  };
  var stray = { light: [176, 24, 72], dark: [255, 110, 140] };
  function colourOf(share, theme2) {
    const list3 = stops[theme2];
    const s2 = Math.min(2, Math.max(0, share));
    let i = 1;
    while (i < list3.length - 1 && s2 > list3[i][0]) i++;
    const [s0, a] = list3[i - 1];
    const [s1, b] = list3[i];
    const t = (s2 - s0) / (s1 - s0);
    const mix = (k) => Math.round(a[k] + (b[k] - a[k]) * t);
    return [mix(0), mix(1), mix(2)];
  }
  var strayColour = (theme2) => stray[theme2];
  function strayAlpha(byte) {
    const share = shareOf(byte);
    return Math.round(Math.min(215, 60 + share * 170));
  }
  var hatch = { line: 3, every: 8 };
  var hatched = (x, y) => ((x + y) % hatch.every + hatch.every) % hatch.every < hatch.line;
  var little = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1;
  var pack = ([r, g, b], a) => (little ? a << 24 | b << 16 | g << 8 | r : r << 24 | g << 16 | b << 8 | a) >>> 0;
  function pixels(theme2) {
    const plain = new Uint32Array(256);
    const lines2 = new Uint32Array(256);
    for (let b = 1; b < 256; b++) {
      if (onTarget(b)) {
        plain[b] = lines2[b] = pack(colourOf(shareOf(b), theme2), 255);
        continue;
      }
      const a = strayAlpha(b);
      plain[b] = pack(stray[theme2], Math.round(a * 0.4));
      lines2[b] = pack(stray[theme2], a);
    }
    return { plain, hatch: lines2 };
  }

  // web/editor/heat.ts
  var join = (a, b) => a ? {
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1)
  } : b;
  var Heat = class {
    constructor(canvas, theme2) {
      this.canvas = canvas;
      this.#look = pixels(theme2);
    }
    canvas;
    #frame = null;
    #bytes = new Uint8Array(0);
    #look;
    #dirty = null;
    #view = null;
    #on = true;
    get on() {
      return this.#on;
    }
    /** Shows or hides the map. */
    toggle(on = !this.#on) {
      this.#on = on;
      this.canvas.hidden = !on;
    }
    setTheme(theme2) {
      this.#look = pixels(theme2);
      if (this.#frame) this.#dirty = { x0: 0, y0: 0, x1: this.#frame.nx, y1: this.#frame.ny };
      this.paint();
    }
    /**
     * Takes the cells of a frame. Frames come in order and each builds on the one
     * before, so every one is taken, painted or not.
     */
    take(f) {
      const g = f.design.frame;
      if (!this.#frame || !sameFrame(this.#frame, g)) {
        this.#bytes = new Uint8Array(g.nx * g.ny);
        this.canvas.width = Math.max(1, g.nx);
        this.canvas.height = Math.max(1, g.ny);
        this.#dirty = { x0: 0, y0: 0, x1: g.nx, y1: g.ny };
        this.#frame = g;
        this.#place();
      }
      for (let row4 = 0; row4 < f.h; row4++) {
        const from = row4 * f.w;
        this.#bytes.set(f.cells.subarray(from, from + f.w), (f.y + row4) * g.nx + f.x);
      }
      if (f.w > 0 && f.h > 0)
        this.#dirty = join(this.#dirty, { x0: f.x, y0: f.y, x1: f.x + f.w, y1: f.y + f.h });
    }
    /** Paints what changed since the last painting. */
    paint() {
      const d = this.#dirty;
      const g = this.#frame;
      const pen = this.canvas.getContext("2d");
      if (!d || !g || !pen || d.x1 <= d.x0 || d.y1 <= d.y0) return;
      const w = d.x1 - d.x0;
      const h2 = d.y1 - d.y0;
      const image = new ImageData(w, h2);
      const out = new Uint32Array(image.data.buffer);
      for (let y = d.y0; y < d.y1; y++) {
        const to = (d.y1 - 1 - y) * w;
        const from = y * g.nx;
        for (let x = d.x0; x < d.x1; x++) {
          const b = this.#bytes[from + x];
          out[to + x - d.x0] = b > 200 && hatched(x, y) ? this.#look.hatch[b] : this.#look.plain[b];
        }
      }
      pen.putImageData(image, d.x0, g.ny - d.y1);
      this.#dirty = null;
    }
    /** Puts the canvas where the view wants it. */
    follow(view2) {
      this.#view = view2;
      this.#place();
    }
    #place() {
      const g = this.#frame;
      const v = this.#view;
      if (!g || !v) return;
      const { px, py } = toPixel(v, [g.x_ft, g.y_ft + g.ny * g.cell_ft]);
      const k = v.scale * g.cell_ft;
      this.canvas.style.transform = `matrix(${k}, 0, 0, ${k}, ${px}, ${py})`;
    }
  };
  var sameFrame = (a, b) => a.x_ft === b.x_ft && a.y_ft === b.y_ft && a.cell_ft === b.cell_ft && a.nx === b.nx && a.ny === b.ny;

  // web/editor/journal.ts
  var store = "unsent";
  function open() {
    const asked = indexedDB.open("evenfall", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(store);
    return settled2(asked);
  }
  function settled2(r) {
    return new Promise((ok, no) => {
      r.onsuccess = () => ok(r.result);
      r.onerror = () => no(r.error);
    });
  }
  var TabJournal = class {
    constructor(plan2) {
      this.plan = plan2;
      this.#key = `${plan2} ${crypto.randomUUID()}`;
      this.#db = open().catch(() => null);
      void navigator.locks?.request(this.#key, () => new Promise(() => {
      }));
    }
    plan;
    #key;
    #db;
    #writing = Promise.resolve();
    #empty = true;
    keep(k) {
      if (k === null && this.#empty) return;
      this.#empty = k === null;
      this.#writing = this.#writing.then(() => this.#write(k)).catch(() => {
      });
    }
    async #write(k) {
      const db = await this.#db;
      if (!db) return;
      const all = db.transaction(store, "readwrite").objectStore(store);
      if (k) await settled2(all.put(k, this.#key));
      else await settled2(all.delete(this.#key));
    }
    /** Takes what dead tabs left of this plan, oldest key first; it is gone from the journal. */
    async left() {
      const db = await this.#db;
      if (!db || !navigator.locks) return [];
      const alive = new Set(((await navigator.locks.query()).held ?? []).map((l) => l.name));
      const keys = await settled2(db.transaction(store).objectStore(store).getAllKeys());
      const dead = keys.filter((k) => String(k).startsWith(`${this.plan} `) && !alive.has(String(k)));
      const all = db.transaction(store, "readwrite").objectStore(store);
      const found = await Promise.all(dead.map((k) => settled2(all.get(k))));
      for (const k of dead) all.delete(k);
      return found;
    }
  };

  // web/editor/live.ts
  var headerBytes = 24;
  var magic = 826693189;
  function parseFrame(message) {
    if (message.byteLength < headerBytes)
      throw new Error(`map frame of ${message.byteLength} bytes is too short`);
    const v = new DataView(message);
    if (v.getUint32(0, true) !== magic) throw new Error("not a map frame");
    const [x, y, w, h2] = [
      v.getUint16(12, true),
      v.getUint16(14, true),
      v.getUint16(16, true),
      v.getUint16(18, true)
    ];
    const jsonBytes = v.getUint32(20, true);
    const want = headerBytes + jsonBytes + w * h2;
    if (message.byteLength !== want)
      throw new Error(`map frame of ${message.byteLength} bytes, its header says ${want}`);
    const words = new TextDecoder().decode(new Uint8Array(message, headerBytes, jsonBytes));
    return {
      rev: v.getUint32(4, true),
      seq: v.getUint32(8, true),
      x,
      y,
      w,
      h: h2,
      design: JSON.parse(words),
      cells: new Uint8Array(message, headerBytes + jsonBytes)
    };
  }
  var patience2 = 1e4;
  var pauses = [250, 500, 1e3, 2e3, 4e3];
  var Live = class {
    constructor(connect2, hooks, later = (fn, ms) => setTimeout(fn, ms)) {
      this.connect = connect2;
      this.hooks = hooks;
      this.later = later;
    }
    connect;
    hooks;
    later;
    #socket = null;
    #seq = 0;
    #underway = 0;
    // seq of the preview sent and not answered; 0: none
    #waiting = null;
    #last = null;
    #tries = 0;
    #watch = null;
    /** The number of the newest preview sent. */
    get seq() {
      return this.#seq;
    }
    open() {
      if (this.#socket) return;
      const s2 = this.connect();
      this.#socket = s2;
      s2.binaryType = "arraybuffer";
      s2.onopen = () => this.#opened();
      s2.onclose = () => this.#closed(s2);
      s2.onmessage = (e) => this.#message(e.data);
    }
    /** Connects at once if the channel is closed: something else heard from the server. */
    hurry() {
      if (!this.#socket) this.open();
    }
    show(rev, patch) {
      this.#waiting = { rev, patch };
      this.#pump();
    }
    #opened() {
      this.#tries = 0;
      this.#underway = 0;
      this.#waiting ??= this.#last;
      this.hooks.opened();
      this.#pump();
    }
    #closed(s2) {
      if (this.#socket !== s2) return;
      this.#socket = null;
      this.#answered();
      this.hooks.closed();
      const pause = pauses[Math.min(this.#tries++, pauses.length - 1)];
      this.later(() => this.open(), pause);
    }
    #pump() {
      const s2 = this.#socket;
      const next = this.#waiting;
      if (s2?.readyState !== 1 || this.#underway !== 0 || !next) return;
      this.#waiting = null;
      this.#last = next;
      this.#underway = ++this.#seq;
      s2.send(JSON.stringify({ rev: next.rev, seq: this.#seq, patch: next.patch }));
      this.#watch = this.later(() => s2.close(), patience2);
    }
    #answered() {
      if (this.#watch !== null) clearTimeout(this.#watch);
      this.#watch = null;
      this.#underway = 0;
    }
    #message(data) {
      if (typeof data === "string") this.#said(JSON.parse(data));
      else this.#framed(parseFrame(data));
    }
    #framed(f) {
      if (f.seq >= this.#underway) this.#answered();
      this.hooks.frame(f);
      this.#pump();
    }
    #said(said) {
      if (said.error !== void 0) {
        if ((said.seq ?? 0) >= this.#underway) this.#answered();
        this.hooks.refused(said.error);
        this.#pump();
      } else if (said.rev !== void 0) this.hooks.pushed(said.rev);
    }
  };

  // web/editor/panels/empty.ts
  function showEmpty(board, draw) {
    const el = byID("empty");
    const block = h(
      "section",
      { "aria-labelledby": "empty-title", class: "empty-card" },
      h("h2", { id: "empty-title" }, "An empty plan"),
      h("p", {}, "Begin with the ground: the lawn, the house, the paving."),
      h(
        "div",
        { class: "acts" },
        h("button", { type: "button", class: "main", id: "empty-draw", onclick: draw }, "Draw the lot"),
        h("a", { class: "button", href: "/#import-outlines" }, "Bring in outlines"),
        h("a", { class: "button", href: "/#plans" }, "Open the demo")
      )
    );
    block.addEventListener("pointerdown", (e) => e.stopPropagation());
    const show = () => {
      const p = board.plan;
      const bare = ["areas", "heads", "barriers", "trees"].every((c) => ids(p, c).length === 0);
      const drawing = board.tool !== "select" && board.tool !== "tool.select";
      const want = bare && !drawing;
      if (want === !el.hidden) return;
      el.hidden = !want;
      if (want) el.replaceChildren(block);
      else el.replaceChildren();
    };
    board.subscribe("plan", show);
    board.subscribe("tool", show);
    show();
  }
  var seen = (id) => `evenfall-demo-note ${id}`;
  function showDemoNote(board) {
    if (document.body.dataset.demo === void 0 || localStorage.getItem(seen(board.id))) return;
    const note2 = h("aside", { class: "note", "aria-label": "About the demo" });
    const close = () => {
      localStorage.setItem(seen(board.id), "yes");
      note2.remove();
    };
    const go = (id) => {
      board.select([`heads/${id}`]);
      board.lookAt({ about: [`heads/${id}`] });
    };
    const tagged = (tag) => ids(board.plan, "heads").find((id) => board.plan.heads?.[id]?.tag === tag);
    const show = (tag) => h(
      "button",
      { type: "button", class: "small", onclick: () => ((id) => id && go(id))(tagged(tag)) },
      `Show ${tag}`
    );
    note2.append(
      h("h2", {}, "Two honest mistakes"),
      h(
        "p",
        {},
        "Head 2-8 stands at 56, 24: the tape was read from the wrong corner. Drag it 12 ft west, to 44, 24, and watch the dry patch close. ",
        show("2-8")
      ),
      h(
        "p",
        {},
        "Heads 2-3 and 2-4 are sprays left over from another job, on a valve of streams. Give both a stream nozzle under Selected. ",
        show("2-3")
      ),
      h("p", { class: "acts" }, h("button", { type: "button", onclick: close }, "Understood"))
    );
    byID("findings").prepend(note2);
  }

  // web/editor/findings.ts
  var ranks = ["stop", "mend", "note"];
  var rankNames = { stop: "Stop", mend: "Mend", note: "Note" };
  var rankSays = {
    stop: "wrong to build: fix it",
    mend: "worth fixing before you buy",
    note: "good to know"
  };
  function group(all) {
    const open2 = [];
    for (const f of all.filter((f2) => !f2.accepted)) {
      const last2 = open2.find((c) => c.code === f.code && c.rank === f.rank);
      if (last2) last2.list.push(f);
      else open2.push({ code: f.code, rank: f.rank, title: f.title, list: [f] });
    }
    open2.sort((a, b) => ranks.indexOf(a.rank) - ranks.indexOf(b.rank));
    return { open: open2, accepted: all.filter((f) => f.accepted) };
  }
  function accept(p, f, reason, on) {
    const about = [...f.about ?? []].sort();
    return put(p, "accepted", newID(p, "accepted"), {
      code: f.code,
      ...about.length > 0 ? { about } : {},
      reason,
      on
    });
  }
  function reopen(p, f) {
    const left = { ...p.accepted ?? {} };
    for (const id of ids(p, "accepted")) if (same(left[id], f.accepted)) delete left[id];
    return { ...p, accepted: left };
  }
  function civilDate(d) {
    const two = (n2) => String(n2).padStart(2, "0");
    return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
  }

  // web/editor/panels/control.ts
  var made2 = 0;
  var Control = class {
    constructor(label, as, hint, take, empty = "") {
      this.label = label;
      this.as = as;
      this.take = take;
      this.empty = empty;
      const id = `field-${++made2}`;
      this.input = input(as, id);
      this.#error = h("p", { class: "error", id: `${id}-error`, hidden: true });
      setAttr(this.input, "aria-describedby", `${id}-error`);
      const words = h("label", { for: id }, label, hint ? h("span", { class: "hint" }, ` ${hint}`) : null);
      const kids = as === "yes" ? [this.input, words] : [words, this.input];
      this.el = h("div", { class: as === "yes" ? "field tick" : `field ${as}` }, ...kids, this.#error);
      this.input.addEventListener("change", () => this.#changed());
      this.input.addEventListener("keydown", (e) => this.#key(e));
    }
    label;
    as;
    take;
    empty;
    el;
    input;
    #error;
    #shown = "";
    /** Shows the stored value, unless the user is in the middle of typing another. */
    show({ value, mixed, choices: choices2 }) {
      if (this.input instanceof HTMLSelectElement) fill(this.input, choices2, mixed);
      const text2 = mixed ? "" : value;
      if (this.input instanceof HTMLInputElement) this.input.placeholder = mixed ? "several" : this.empty;
      const typing = document.activeElement === this.input && this.#now() !== this.#shown;
      const kept2 = this.input.getAttribute("aria-invalid") === "true";
      if (text2 === this.#shown && (typing || kept2)) return;
      this.#shown = text2;
      if (typing) return;
      this.#put(text2, mixed);
      this.complain(null);
    }
    /** Shows a sentence under the field, or takes it away. */
    complain(sentence) {
      setText(this.#error, sentence ?? "");
      this.#error.hidden = sentence === null;
      setAttr(this.input, "aria-invalid", sentence === null ? null : "true");
    }
    get text() {
      return this.#now();
    }
    #now() {
      if (this.as === "yes") return this.input.checked ? "yes" : "";
      return this.input.value;
    }
    #put(text2, mixed) {
      if (this.as === "yes") {
        this.input.checked = text2 === "yes";
        this.input.indeterminate = mixed;
        return;
      }
      this.input.value = text2;
    }
    #changed() {
      const typed4 = this.#now();
      const trouble = typed4 === this.#shown && this.as !== "choice" ? null : this.take(typed4);
      this.complain(trouble);
      if (trouble === null) this.#shown = typed4;
    }
    #key(e) {
      if (e.key === "Enter" && this.as === "text") this.#changed();
      if (e.key === "Escape" && this.#now() !== this.#shown) {
        this.#put(this.#shown, false);
        this.complain(null);
        e.stopPropagation();
      }
    }
  };
  function input(as, id) {
    if (as === "choice") return h("select", { id });
    if (as === "long") return h("textarea", { id, rows: 6, spellcheck: "false" });
    if (as === "yes") return h("input", { id, type: "checkbox" });
    return h("input", { id, type: "text", autocomplete: "off", spellcheck: "false" });
  }
  function fill(select, choices2, mixed = false) {
    const list3 = mixed ? [{ value: "", label: "several" }, ...choices2.filter((c) => c.value !== "")] : choices2;
    const was = Array.from(select.options, (o) => `${o.value}
${o.label}`).join("\n\n");
    if (was === list3.map((c) => `${c.value}
${c.label}`).join("\n\n")) return;
    const value = select.value;
    select.replaceChildren(...list3.map((c) => h("option", { value: c.value }, c.label)));
    select.value = value;
  }

  // web/editor/panels/findings.ts
  var Findings = class {
    constructor(board) {
      this.board = board;
      const list3 = h("ul", { class: "causes" });
      this.#causes = new Rows(
        this.#open,
        (c) => `${c.rank} ${c.code}`,
        () => this.#causeRow()
      );
      this.#accepted = new Rows(list3, keyOf, () => this.#acceptedRow());
      this.#acceptedBlock.append(this.#acceptedTitle, list3);
      byID("findings").append(h("h2", { class: "unseen" }, "Findings"));
      byID("findings").append(this.#summary, this.#none, this.#open, this.#acceptedBlock);
      board.subscribe(
        "design",
        atMostEvery(150, () => this.#render())
      );
    }
    board;
    #tab = byID("tab-findings");
    #summary = h("p", { class: "summary", role: "status" });
    #none = h("p", { class: "hint", hidden: true });
    #open = h("ul", { class: "causes" });
    #causes;
    #acceptedBlock = h("details", { class: "accepted", hidden: true });
    #acceptedTitle = h("summary");
    #accepted;
    #render() {
      const all = this.board.design?.findings ?? [];
      const { open: open2, accepted } = group(all);
      const by = ranks.map((r) => open2.filter((c) => c.rank === r).reduce((n2, c) => n2 + c.list.length, 0));
      const words = ranks.flatMap((r, i) => by[i] ? [`${by[i]} ${r}`] : []);
      setText(this.#summary, words.join(", "));
      setText(this.#tab, words.length > 0 ? `Findings ${by.reduce((a, b) => a + b, 0)}` : "Findings");
      setAttr(this.#tab, "data-rank", open2[0]?.rank ?? null);
      this.#none.hidden = open2.length > 0 || this.board.design === null;
      const bare = ids(this.board.plan, "heads").length === 0;
      setText(this.#none, bare ? "Nothing to check yet: draw the ground and place heads." : "Nothing to mend.");
      this.#causes.show(open2);
      this.#acceptedBlock.hidden = accepted.length === 0;
      setText(this.#acceptedTitle, `Accepted ${accepted.length}`);
      this.#accepted.show(accepted);
    }
    #causeRow() {
      const rank2 = h("span", { class: "chip" });
      const title = h("span", { class: "title" });
      const list3 = h("ul", { class: "cases" });
      const cases = new Rows(list3, keyOf, () => this.#caseRow());
      const what = h("p", { class: "do" });
      const why = h("p");
      const source = h("p", { class: "hint" });
      const more = h("details", { class: "why" }, h("summary", {}, "Why"), why, source);
      const el = h("li", { class: "cause" }, h("h3", {}, rank2, " ", title), list3, what, more);
      return {
        el,
        update: (c) => {
          const [first] = c.list;
          if (!first) return;
          setAttr(el, "data-rank", c.rank);
          setText(rank2, rankNames[c.rank]);
          setAttr(rank2, "title", rankSays[c.rank]);
          setText(title, c.list.length > 1 ? `${c.title} (${c.list.length})` : c.title);
          setText(what, first.do);
          setText(why, first.why);
          setText(source, first.source ? `Source: ${first.source}` : "");
          cases.show(c.list);
        }
      };
    }
    #caseRow() {
      let now = null;
      const run2 = (does) => () => now && does(now);
      const words = h("p", { class: "case-text", onclick: run2((f) => this.go(f)) });
      const go = link(
        "Show",
        run2((f) => this.go(f))
      );
      const take = link(
        "Accept…",
        run2((f) => this.#accept(f))
      );
      return {
        el: h("li", {}, words, h("p", { class: "case-acts" }, go, take)),
        update: (f) => {
          now = f;
          setText(words, f.sentence);
          setAttr(go, "aria-label", `Show ${f.title}`);
          setAttr(take, "aria-label", `Accept… with a reason: ${f.title}`);
        }
      };
    }
    #acceptedRow() {
      let now = null;
      const run2 = (does) => () => now && does(now);
      const words = h("p", { class: "case-text", onclick: run2((f) => this.go(f)) });
      const reason = h("p", { class: "hint" });
      const show = link(
        "Show",
        run2((f) => this.go(f))
      );
      const open2 = link(
        "Open again",
        run2((f) => this.#reopen(f))
      );
      return {
        el: h("li", { class: "cause" }, words, reason, h("p", { class: "case-acts" }, show, open2)),
        update: (f) => {
          now = f;
          setText(words, `${f.title}. ${f.sentence}`);
          setText(reason, `Accepted ${f.accepted?.on ?? ""}: ${f.accepted?.reason ?? ""}`);
          setAttr(show, "aria-label", `Show ${f.title}`);
          setAttr(open2, "aria-label", `Open again: ${f.title}`);
        }
      };
    }
    /** Selects what a finding is about and brings it into view. */
    go(f) {
      this.board.select(f.about ?? []);
      this.board.lookAt({ about: f.about ?? [], at: f.at });
      this.board.announce(
        `${rankNames[f.rank]}: ${f.title}. ${count(this.board.selection.size, "thing")} selected.`
      );
    }
    async #accept(f) {
      const reason = new Control("Why it is fine here", "long", "printed with the plan", () => null);
      const form = h("form", { method: "dialog", class: "form" });
      const dialog2 = h("dialog", { "aria-labelledby": "accept-title" }, form);
      form.append(
        h("h2", { id: "accept-title" }, "Accept this finding"),
        h("p", {}, f.sentence),
        reason.el,
        h("p", { class: "acts" }, h("button", { value: "accept", class: "main" }, "Accept"), cancel())
      );
      form.addEventListener("submit", (e) => {
        if (e.submitter?.getAttribute("value") !== "accept" || reason.text.trim() !== "")
          return;
        e.preventDefault();
        reason.complain("The reason is empty. Type why this is fine on this plan, in a few words.");
        reason.input.focus();
      });
      if (await ask2(dialog2) !== "accept") return;
      const next = accept(this.board.committed, f, reason.text.trim().slice(0, 2e3), civilDate(/* @__PURE__ */ new Date()));
      void this.board.commit(`Accept: ${f.title}`, next);
    }
    #reopen(f) {
      void this.board.commit(`Open again: ${f.title}`, reopen(this.board.committed, f));
    }
  };
  var link = (label, run2) => h("button", { type: "button", class: "link", onclick: run2 }, label);
  var cancel = () => h("button", { value: "", formnovalidate: true }, "Cancel");
  var keyOf = (f, i) => `${f.code} ${(f.about ?? []).join(",")} ${f.about?.length ? "" : i}`;

  // web/editor/panels/history.ts
  var History = class {
    constructor(board, visible) {
      this.board = board;
      this.visible = visible;
      byID("history").append(h("h2", { class: "unseen" }, "History"), this.#note, this.#list);
      board.subscribe("saved", () => this.refresh());
    }
    board;
    visible;
    #list = h("ol", { class: "steps" });
    #note = h("p", { class: "hint", role: "status" });
    #asked = 0;
    #rev = -1;
    /** Reads the steps again if they can be seen and may have changed. */
    async refresh() {
      if (!this.visible() || this.#rev === this.board.rev || this.board.saved.state !== "yes") return;
      const mine = ++this.#asked;
      const { rev } = this.board;
      const answer = await server.history(this.board.id);
      if (mine !== this.#asked) return;
      this.#note.textContent = answer.ok ? "" : answer.error;
      if (!answer.ok) return;
      this.#rev = rev;
      const steps4 = answer.value.steps ?? [];
      if (steps4.length === 0) this.#note.textContent = "Nothing has been changed yet.";
      this.#list.replaceChildren(...steps4.map(line2).reverse());
    }
  };
  var clock = new Intl.DateTimeFormat(void 0, { dateStyle: "medium", timeStyle: "short" });
  function line2(s2) {
    const when = new Date(s2.at);
    const time = Number.isNaN(when.getTime()) ? s2.at : clock.format(when);
    const undone = s2.undone ? h("span", { class: "hint" }, " taken back") : null;
    return h(
      "li",
      s2.undone ? { class: "undone" } : {},
      s2.label,
      undone,
      " ",
      h("time", { datetime: s2.at }, time)
    );
  }

  // web/editor/panels/leftover.ts
  async function bringBack(board, journal) {
    for (const kept2 of await journal.left()) {
      const changes = count(kept2.steps.length, "change");
      const back2 = board.resume(kept2);
      if (back2 !== null) {
        const sentence2 = `${count(back2, "change")} from last time had not been stored. They are back.`;
        if (back2 > 0) board.show({ kind: "hint", sentence: sentence2 });
        continue;
      }
      if (await ask2(dialog(changes)) !== "copy") continue;
      const name = `${kept2.doc.name} (kept)`;
      const made3 = await board.api.create(name, kept2.doc.show, { ...kept2.doc, name });
      const sentence = made3.ok ? `Kept as a plan of its own: ${name}.` : made3.error;
      board.show({ kind: made3.ok ? "hint" : "problem", sentence });
    }
  }
  function dialog(changes) {
    return h(
      "dialog",
      { "aria-labelledby": "left-title" },
      h(
        "form",
        { method: "dialog", class: "form" },
        h("h2", { id: "left-title" }, `${changes} from last time`),
        h(
          "p",
          {},
          "They were kept in this browser because they could not be stored, and the plan was changed since. They can become a plan of their own."
        ),
        h(
          "p",
          { class: "acts" },
          h("button", { value: "copy", class: "main" }, "Keep as a copy"),
          h("button", { value: "drop" }, "Drop them")
        )
      )
    );
  }

  // web/editor/panels/legend.ts
  var css = ([r, g, b]) => `rgb(${r}, ${g}, ${b})`;
  var Legend = class {
    #scale = h("span", { class: "scale", "aria-hidden": "true" });
    #stray = h("span", { class: "swatch", "aria-hidden": "true" });
    constructor(heat, theme2) {
      const words = ["dry", "on target", "wet"].map((t) => h("span", {}, t));
      const shares = ["0", "50", "100", "150", "200 %"].map((t) => h("span", {}, t));
      const key2 = h(
        "div",
        { class: "key" },
        h("div", { class: "ends" }, ...words),
        this.#scale,
        h("div", { class: "ends", "aria-label": "Percent of the area’s mean", role: "group" }, ...shares)
      );
      const stray2 = h("div", { class: "off-key" }, this.#stray, "off its target");
      const button2 = h(
        "button",
        { type: "button", class: "small", id: "map-toggle", "aria-pressed": "true" },
        "Map"
      );
      button2.addEventListener("click", () => {
        heat.toggle();
        setAttr(button2, "aria-pressed", String(heat.on));
        for (const part of [key2, stray2]) part.hidden = !heat.on;
      });
      const el = byID("legend");
      el.append(button2, key2, stray2);
      el.addEventListener("pointerdown", (e) => e.stopPropagation());
      this.paint(theme2);
    }
    paint(theme2) {
      const stops2 = Array.from({ length: 21 }, (_, i) => css(colourOf(i / 10, theme2)));
      this.#scale.style.backgroundImage = `linear-gradient(90deg, ${stops2.join(", ")})`;
      const c = css(strayColour(theme2));
      this.#stray.style.backgroundImage = `repeating-linear-gradient(135deg, ${c} 0 3px, transparent 3px 6px)`;
    }
  };

  // web/editor/panels/notice.ts
  function showNotices(board) {
    const el = byID("notice");
    board.subscribe("notice", () => {
      const n2 = board.notice;
      el.hidden = n2 === null;
      if (!n2) {
        el.replaceChildren();
        return;
      }
      const more = (n2.more ?? []).map((s2) => h("li", {}, s2));
      const close = h("button", { type: "button", class: "small", onclick: () => board.show(null) }, "Dismiss");
      el.dataset.kind = n2.kind;
      const error = n2.kind === "problem" ? h("span", { class: "unseen" }, "Error: ") : null;
      el.replaceChildren(
        h("div", {}, error, h("p", {}, n2.sentence), more.length > 0 ? h("ul", {}, ...more) : null),
        close
      );
    });
  }
  function settleConflicts(board) {
    let asking = false;
    board.subscribe("conflict", async () => {
      if (!board.conflict || asking) return;
      asking = true;
      const gone = board.conflict.status === 404;
      const answer = await ask2(gone ? goneDialog(board) : changedDialog(board));
      asking = false;
      if (answer === "mine") {
        const id = await board.keepMine();
        if (id) location.assign(`/plans/${encodeURIComponent(id)}`);
      } else if (answer === "theirs") await board.takeTheirs();
      else if (answer === "leave") location.assign("/");
      if (board.conflict) showAgain(board);
    });
  }
  function showAgain(board) {
    const open2 = h(
      "button",
      { type: "button", class: "small", onclick: () => board.emit("conflict") },
      "Choose…"
    );
    const el = byID("notice");
    el.hidden = false;
    el.dataset.kind = "problem";
    el.replaceChildren(
      h("p", {}, "This plan was changed elsewhere. Your changes wait here until you choose."),
      open2
    );
  }
  function changedDialog(board) {
    const mine = count(board.saved.state === "yes" ? 0 : board.saved.count, "change");
    return h(
      "dialog",
      { "aria-labelledby": "conflict-title", role: "alertdialog", "aria-describedby": "conflict-what" },
      h(
        "form",
        { method: "dialog", class: "form" },
        h("h2", { id: "conflict-title" }, "Someone else changed this plan"),
        h(
          "p",
          { id: "conflict-what" },
          `It was changed in another tab or window while you worked here. Nothing is lost: the plan on disk is as they left it, and your ${mine} are still here.`
        ),
        h(
          "p",
          { class: "acts" },
          choice("mine", "Keep mine as a copy", true),
          choice("theirs", "Take theirs, drop mine")
        ),
        h("p", { class: "hint" }, "A copy becomes a plan of its own beside this one.")
      )
    );
  }
  function goneDialog(board) {
    return h(
      "dialog",
      { "aria-labelledby": "conflict-title", role: "alertdialog", "aria-describedby": "conflict-what" },
      h(
        "form",
        { method: "dialog", class: "form" },
        h("h2", { id: "conflict-title" }, "This plan was deleted"),
        h(
          "p",
          { id: "conflict-what" },
          `“${board.plan.name}” was deleted in another tab. What you see is still here and can be kept.`
        ),
        h(
          "p",
          { class: "acts" },
          choice("mine", "Keep it as a copy", true),
          choice("leave", "Go to the plans")
        )
      )
    );
  }
  var choice = (value, label, main = false) => h("button", { value, class: main ? "main" : null }, label);

  // web/editor/panels/nozzles.ts
  var largest = 20 * 1024 * 1024;
  function nozzleImport(board) {
    byID("nozzles-import").addEventListener("click", () => void bring(board));
  }
  async function bring(board) {
    const file = h("input", { type: "file", id: "nozzle-file", accept: ".csv,text/csv" });
    const found = h("div", { role: "status" });
    const add3 = h("button", { value: "add", class: "main", disabled: true }, "Add to this plan");
    let rows = [];
    file.addEventListener("change", async () => {
      const [chosen3] = file.files ?? [];
      if (!chosen3) return;
      add3.disabled = true;
      const preview = await read3(chosen3);
      rows = typeof preview === "string" || preview.errors.length > 0 ? [] : preview.rows;
      found.replaceChildren(
        ...typeof preview === "string" ? [h("p", { class: "error" }, preview)] : shown2(preview)
      );
      add3.disabled = rows.length === 0;
    });
    const form = h("form", { method: "dialog", class: "form" });
    form.append(
      h("h2", { id: "nozzle-title" }, "Bring in a nozzle table"),
      h(
        "p",
        {},
        "A CSV file with one row for each nozzle and pressure. Nothing is added until every row can be read."
      ),
      columnsNeeded(),
      h("div", { class: "field" }, h("label", { for: "nozzle-file" }, "CSV file"), file),
      found,
      h("p", { class: "acts" }, add3, cancel())
    );
    const answer = await ask2(h("dialog", { class: "roomy", "aria-labelledby": "nozzle-title" }, form));
    if (answer !== "add" || rows.length === 0) return;
    void board.commit(`Add ${count(rows.length, "nozzle")} from a table`, withRows2(board.committed, rows));
    board.announce(`${count(rows.length, "nozzle")} added to the plan.`);
  }
  async function read3(file) {
    if (file.size > largest) return `${file.name} is larger than 20 MB. Save only the nozzle table as CSV.`;
    const answer = await server.previewNozzles(file);
    if (!answer.ok) return answer.error;
    return { rows: answer.value.rows ?? [], errors: answer.value.errors ?? [] };
  }
  function shown2({ rows, errors }) {
    if (errors.length > 0) {
      const lines2 = errors.map((e) => h("li", {}, h("b", {}, where(e)), e.sentence));
      return [
        h(
          "p",
          { class: "error" },
          `${count(errors.length, "cell")} cannot be read, so nothing can be added yet. Mend the file and choose it again.`
        ),
        h("ul", { class: "scroll" }, ...lines2)
      ];
    }
    const body2 = rows.map((n2) => {
      const [lo, hi] = [n2.rows[0], n2.rows.at(-1)];
      const pressures = lo && hi && lo !== hi ? `${lo.pressure_psi}–${hi.pressure_psi} psi` : `${lo?.pressure_psi ?? ""} psi`;
      return h(
        "tr",
        {},
        h("th", { scope: "row" }, n2.name),
        h("td", {}, n2.family),
        h("td", {}, pressures),
        h("td", {}, String(n2.rows.length))
      );
    });
    const head2 = ["Nozzle", "Family", "Pressures", "Rows"].map((t) => h("th", { scope: "col" }, t));
    return [
      h("p", {}, `${count(rows.length, "nozzle")} read.`),
      h(
        "div",
        { class: "scroll" },
        h("table", {}, h("thead", {}, h("tr", {}, ...head2)), h("tbody", {}, ...body2))
      )
    ];
  }
  function where({ line: line4, column }) {
    if (line4 === 0) return "The file: ";
    return column ? `Row ${line4}, ${column}: ` : `Row ${line4}: `;
  }
  function columnsNeeded() {
    const code = (t) => h("code", {}, t);
    return h(
      "details",
      {},
      h("summary", {}, "Columns"),
      h(
        "p",
        {},
        "The first row names the columns. Needed: ",
        code("name, family, pressure_psi, throw_ft, flow_gpm"),
        " and, but for strips, ",
        code("arc_least_deg, arc_most_deg"),
        ". The family is spray, stream, rotor or strip."
      ),
      h(
        "p",
        {},
        "In metric: ",
        code("pressure_bar, throw_m, flow_l_per_min"),
        ". A nozzle has one row for each pressure; the other columns may stand in its first row only: ",
        code(
          "id, flow_follows_arc, trajectory_deg, profile, strip_left_ft, strip_right_ft, best_psi, thread, source"
        ),
        "."
      )
    );
  }
  function withRows2(p, rows) {
    let next = p;
    for (const { id, ...row4 } of rows) next = put(next, "nozzles", id, row4);
    return next;
  }

  // web/editor/corners.ts
  var metre2 = 0.3048;
  function coordText(feet, system) {
    const n2 = system === "metric" ? feet * metre2 : feet;
    const text2 = String(Number(n2.toFixed(system === "metric" ? 3 : 2)));
    return text2 === "-0" ? "0" : text2;
  }
  function cornersText(corners2, system) {
    return corners2.map(([x, y, bulge]) => {
      const place3 = `${coordText(x, system)}, ${coordText(y, system)}`;
      return bulge ? `${place3}, ${Number(bulge.toFixed(6))}` : place3;
    }).join("\n");
  }
  function parseCorners(typed4, system, least, before = []) {
    const known = new Map(before.map((v) => [cornersText([v], system), v]));
    const out = [];
    const lines2 = typed4.split(/\r?\n/);
    for (const [i, line4] of lines2.entries()) {
      const text2 = line4.trim();
      if (text2 === "") continue;
      const same2 = known.get(text2);
      const corner2 = same2 ? read(same2) : parseCorner(text2, system);
      if (!corner2.ok) return refuse(`Line ${i + 1}: ${corner2.sentence}`);
      out.push(corner2.value);
    }
    if (out.length < least) {
      return refuse(`There are ${out.length} corners. Type at least ${least}, one to a line, as x, y.`);
    }
    return read(out);
  }
  function parseCorner(text2, system) {
    const cells = text2.split(/[,;\t]/).map((c) => c.trim());
    const [x, y, bulge, more] = cells;
    if (x === void 0 || y === void 0 || more !== void 0) {
      return refuse(`“${text2}” is not a corner. Type x and y with a comma between them, such as 12.5, 40.`);
    }
    const [fx, fy] = [parseCoordinate(x, system), parseCoordinate(y, system)];
    if (!fx.ok) return refuse(fx.sentence);
    if (!fy.ok) return refuse(fy.sentence);
    if (bulge === void 0 || bulge === "") return read([fx.value, fy.value]);
    const b = Number(bulge);
    if (!Number.isFinite(b) || Math.abs(b) > 10) {
      return refuse(
        `“${bulge}” is not a bulge. Type 0 for a straight edge, 1 for half a circle, -1 for the other side.`
      );
    }
    return read(b === 0 ? [fx.value, fy.value] : [fx.value, fy.value, b]);
  }

  // web/editor/fields.ts
  function withMember(thing2, key2, value) {
    const next = { ...thing2 };
    if (value === void 0) delete next[key2];
    else next[key2] = value;
    return next;
  }
  function setAll(p, c, ids2, key2, value) {
    let next = p;
    for (const id of ids2) {
      const thing2 = find(next, c, id);
      if (thing2) next = put(next, c, id, withMember(thing2, key2, value));
    }
    return next;
  }
  function member(c, key2, label, show, reader, shape = {}) {
    return {
      key: key2,
      label,
      as: shape.as ?? "text",
      hint: shape.hint,
      has: shape.has,
      choices: shape.choices,
      get: ({ plan: plan2 }, id) => show(find(plan2, c, id)?.[key2], plan2),
      set: ({ plan: plan2 }, ids2, typed4) => {
        const v = reader(typed4, plan2);
        return v.ok ? read(setAll(plan2, c, ids2, key2, v.value)) : v;
      }
    };
  }
  var asText = (v) => v === void 0 ? "" : String(v);
  var lengthUnit = (p) => p.show === "metric" ? "m" : "ft";
  function text(c, key2, label, needed = false) {
    return member(c, key2, label, asText, (typed4) => {
      const t = typed4.trim();
      if (t.length > 2e3) return refuse(`${label} has ${t.length} characters. Shorten it to 2,000.`);
      if (needed && t === "") return refuse(`${label} is empty. Type a few words.`);
      return read(t === "" && !needed ? void 0 : t);
    });
  }
  function coordinate(c, key2, label) {
    return member(
      c,
      key2,
      label,
      (v, p) => typeof v === "number" ? coordText(v, p.show) : "",
      (typed4, p) => parseCoordinate(typed4, p.show),
      { hint: lengthUnit }
    );
  }
  function length(c, key2, label, range, shape = {}) {
    return member(
      c,
      key2,
      label,
      (v, p) => typeof v === "number" ? lengthText(v, p.show) : "",
      (typed4, p) => {
        if (typed4.trim() === "" && range.empty) return read(void 0);
        const v = parseLength(typed4, p.show);
        if (!v.ok || v.value >= range.least && v.value <= range.most) return v;
        const [lo, hi] = [lengthText(range.least, p.show), lengthText(range.most, p.show)];
        return refuse(`${label} is ${lengthText(v.value, p.show)}. Type a length from ${lo} to ${hi}.`);
      },
      { hint: lengthUnit, ...shape }
    );
  }
  var plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)$/;
  function parseNumber(typed4, what, least, most) {
    const t = typed4.trim();
    if (!plainNumber.test(t)) return refuse(`“${t}” is not a number. Type ${what} from ${least} to ${most}.`);
    const n2 = Number(t);
    if (n2 < least || n2 > most) return refuse(`${t} is out of reach. Type ${what} from ${least} to ${most}.`);
    return read(n2);
  }
  function choice2(c, key2, label, list3, shape = {}) {
    return member(
      c,
      key2,
      label,
      (v) => typeof v === "string" && v !== "" ? v : list3[0]?.[0] ?? "",
      (typed4) => read(typed4 === "" ? void 0 : typed4),
      { as: "choice", choices: () => list3.map(([value, name]) => ({ value, label: name })), ...shape }
    );
  }
  function yes(c, key2, label) {
    return member(
      c,
      key2,
      label,
      (v) => v === true ? "yes" : "",
      (typed4) => read(typed4 === "yes" ? true : void 0),
      {
        as: "yes"
      }
    );
  }
  var statuses = [
    ["new", "New"],
    ["existing", "Existing"],
    ["remove", "To be removed"]
  ];

  // web/editor/fields_areas.ts
  var isKind = (...kinds3) => ({ plan: plan2 }, id) => {
    const kind2 = find(plan2, "areas", id)?.kind;
    return kind2 !== void 0 && kinds3.includes(kind2);
  };
  var planting = isKind("planting");
  var turf = (c, id) => {
    const what = find(c.plan, "areas", id)?.planting;
    return planting(c, id) && (what === void 0 || what === "turf");
  };
  var plantingOnly = [
    "planting",
    "exposure",
    "soil",
    "slope",
    "slope_toward_deg",
    "watering",
    "mow_height_in"
  ];
  var kinds2 = Object.entries(kindNames);
  var kind = {
    key: "kind",
    label: "Kind",
    as: "choice",
    get: ({ plan: plan2 }, id) => find(plan2, "areas", id)?.kind ?? "planting",
    set: ({ plan: plan2 }, ids2, typed4) => {
      let next = plan2;
      for (const id of ids2) next = setKind(next, id, typed4);
      return read(next);
    },
    choices: () => kinds2.map(([value, label]) => ({ value, label }))
  };
  function setKind(p, id, to) {
    const area = find(p, "areas", id);
    if (!area || area.kind === to) return p;
    const next = { ...area, kind: to };
    if (to !== "planting") for (const k of plantingOnly) delete next[k];
    if (to !== "building") delete next.height_ft;
    return put(p, "areas", id, next);
  }
  var percent = (v) => typeof v === "number" ? String(Number((v * 100).toFixed(2))) : "";
  var slope = member(
    "areas",
    "slope",
    "Slope",
    percent,
    (typed4) => {
      if (typed4.trim() === "") return read(void 0);
      const v = parseNumber(typed4.replace("%", ""), "the rise over the run in percent,", 0, 100);
      return v.ok ? read(v.value / 100) : v;
    },
    { hint: () => "percent", has: planting }
  );
  var mow = member(
    "areas",
    "mow_height_in",
    "Mowing height",
    (v, p) => typeof v !== "number" ? "" : p.show === "metric" ? String(Number((v * 2.54).toFixed(2))) : String(v),
    (typed4, p) => {
      if (typed4.trim() === "") return read(void 0);
      if (p.show === "us") return parseNumber(typed4.replace(/in$|"$/, ""), "inches", 0.25, 12);
      const v = parseNumber(typed4.replace(/cm$/, ""), "centimetres", 0.5, 30);
      return v.ok ? read(v.value / 2.54) : v;
    },
    { hint: (p) => p.show === "metric" ? "cm; empty: 7.6" : "inches; empty: 3", has: turf }
  );
  var outline2 = {
    key: "outline",
    label: "Corners",
    as: "long",
    hint: () => "one to a line: x, y",
    get: ({ plan: plan2 }, id) => cornersText(find(plan2, "areas", id)?.outline ?? [], plan2.show),
    set: ({ plan: plan2 }, [id], typed4) => {
      const area = id === void 0 ? void 0 : find(plan2, "areas", id);
      if (!area || id === void 0) return read(plan2);
      const v = parseCorners(typed4, plan2.show, 3, area.outline);
      return v.ok ? read(put(plan2, "areas", id, { ...area, outline: v.value })) : v;
    }
  };
  var gap2 = /\n\s*\n/;
  var holes = {
    key: "holes",
    label: "Holes",
    as: "long",
    hint: () => "corners as above; an empty line between holes",
    get: ({ plan: plan2 }, id) => (find(plan2, "areas", id)?.holes ?? []).map((o) => cornersText(o, plan2.show)).join("\n\n"),
    set: ({ plan: plan2 }, [id], typed4) => {
      const area = id === void 0 ? void 0 : find(plan2, "areas", id);
      if (!area || id === void 0) return read(plan2);
      const out = [];
      for (const part of typed4.trim() === "" ? [] : typed4.replace(/\r/g, "").trim().split(gap2)) {
        const v = parseCorners(part, plan2.show, 3, (area.holes ?? []).flat());
        if (!v.ok) return v;
        out.push(v.value);
      }
      const { holes: _old, ...rest } = area;
      return read(put(plan2, "areas", id, out.length > 0 ? { ...rest, holes: out } : rest));
    }
  };
  var areaFields = [
    text("areas", "name", "Name", true),
    kind,
    choice2(
      "areas",
      "planting",
      "Planting",
      [
        ["turf", "Turf"],
        ["flowers", "Flowers"],
        ["shrubs", "Shrubs"],
        ["groundcover", "Ground cover"],
        ["vegetables", "Vegetables"],
        ["trees", "Trees"]
      ],
      { has: planting }
    ),
    choice2(
      "areas",
      "exposure",
      "Exposure",
      [
        ["sun", "Sun"],
        ["part_shade", "Part shade"],
        ["shade", "Shade"]
      ],
      { has: planting }
    ),
    choice2(
      "areas",
      "soil",
      "Soil",
      [
        ["", "Not known"],
        ["sand", "Sand"],
        ["loamy_sand", "Loamy sand"],
        ["sandy_loam", "Sandy loam"],
        ["loam", "Loam"],
        ["silt_loam", "Silt loam"],
        ["clay_loam", "Clay loam"],
        ["clay", "Clay"]
      ],
      { has: planting }
    ),
    slope,
    choice2(
      "areas",
      "watering",
      "Watering",
      [
        ["overhead", "Sprinklers"],
        ["point", "Drip or bubblers"],
        ["by_hand", "By hand"],
        ["none", "None"]
      ],
      { has: planting }
    ),
    mow,
    length(
      "areas",
      "height_ft",
      "Height",
      { least: 0.5, most: 500, empty: "default" },
      { has: isKind("building") }
    ),
    choice2("areas", "status", "Status", statuses),
    yes("areas", "locked", "Locked in place"),
    outline2,
    holes
  ];

  // web/editor/fields_heads.ts
  var nozzleOf = (p, id) => {
    const head2 = find(p, "heads", id);
    return head2 && find(p, "nozzles", head2.nozzle);
  };
  var headOf = (p, id) => find(p, "heads", id);
  var hasArc = (p, id) => (nozzleOf(p, id)?.arc_most_deg ?? 360) > 0;
  var start = {
    key: "start_deg",
    label: "Arc start",
    as: "text",
    hint: () => "°",
    get: ({ plan: plan2 }, id) => angleText(headOf(plan2, id)?.start_deg ?? 0),
    set: ({ plan: plan2 }, ids2, typed4) => {
      const v = parseAngle(typed4);
      return v.ok ? read(setAll(plan2, "heads", ids2, "start_deg", normDeg(v.value))) : v;
    }
  };
  var sweep = {
    key: "sweep_deg",
    label: "Arc",
    as: "text",
    hint: () => "°",
    has: ({ plan: plan2 }, id) => hasArc(plan2, id),
    get: ({ plan: plan2 }, id) => hasArc(plan2, id) ? angleText(headOf(plan2, id)?.sweep_deg ?? 0) : "strip",
    set: ({ plan: plan2 }, ids2, typed4) => {
      const v = parseAngle(typed4);
      if (!v.ok) return v;
      for (const id of ids2) {
        const n2 = nozzleOf(plan2, id);
        if (n2 && arcFor(n2, v.value) !== v.value) return refuse(arcSentence(n2, v.value));
      }
      if (v.value <= 0 || v.value > 360)
        return refuse(`An arc of ${angleText(v.value)} cannot be set. Type 1 to 360.`);
      return read(setAll(plan2, "heads", ids2, "sweep_deg", v.value));
    }
  };
  function arcSentence(n2, typed4) {
    if (n2.arc_most_deg <= 0)
      return `${n2.name} waters a strip and has no arc. Choose another nozzle to set one.`;
    if (n2.arc_least_deg === n2.arc_most_deg) {
      return `${n2.name} has a fixed arc of ${angleText(n2.arc_most_deg)}. Choose another nozzle for ${angleText(typed4)}.`;
    }
    const range = `${angleText(n2.arc_least_deg)} to ${angleText(n2.arc_most_deg)}`;
    return `${n2.name} turns from ${range}, not ${angleText(typed4)}. Type an arc in that range or choose another nozzle.`;
  }
  var throwField = {
    key: "throw_ft",
    label: "Throw",
    as: "text",
    empty: "nozzle’s own",
    get: ({ plan: plan2 }, id) => {
      const t = headOf(plan2, id)?.throw_ft;
      return t === void 0 ? "" : lengthText(t, plan2.show);
    },
    set: ({ plan: plan2 }, ids2, typed4) => {
      if (typed4.trim() === "") return read(setAll(plan2, "heads", ids2, "throw_ft", void 0));
      const v = parseLength(typed4, plan2.show);
      if (!v.ok) return v;
      for (const id of ids2) {
        const n2 = nozzleOf(plan2, id);
        if (n2 && v.value > ownThrow(n2) * 1.25) {
          const own2 = lengthText(ownThrow(n2), plan2.show);
          return refuse(`${n2.name} throws ${own2}. Type that or less, or choose a nozzle that throws farther.`);
        }
      }
      if (v.value < 1)
        return refuse(`A throw of ${lengthText(v.value, plan2.show)} waters nothing. Type 1 ft or more.`);
      return read(setAll(plan2, "heads", ids2, "throw_ft", v.value));
    }
  };
  var nozzle = {
    key: "nozzle",
    label: "Nozzle",
    as: "choice",
    get: ({ plan: plan2 }, id) => headOf(plan2, id)?.nozzle ?? "",
    set: ({ plan: plan2, catalog }, ids2, typed4) => read(setNozzle(plan2, catalog, ids2, typed4)),
    choices: ({ plan: plan2, catalog }) => nozzles(plan2, catalog).map((n2) => ({ value: n2.id, label: n2.name }))
  };
  var body = {
    key: "body",
    label: "Body",
    as: "choice",
    get: ({ plan: plan2 }, id) => headOf(plan2, id)?.body ?? "",
    set: ({ plan: plan2, catalog }, ids2, typed4) => read(setBody(plan2, catalog, ids2, typed4)),
    choices: ({ plan: plan2, catalog }, ids2) => {
      const [first] = ids2;
      const n2 = first === void 0 ? void 0 : nozzleOf(plan2, first);
      const all = bodies(plan2, catalog);
      const now = first === void 0 ? "" : headOf(plan2, first)?.body;
      const fit2 = new Set((n2 ? fitting(plan2, catalog, n2) : all).map((b) => b.id));
      return all.filter((b) => fit2.has(b.id) || b.id === now).map((b) => ({ value: b.id, label: b.name }));
    }
  };
  var zone = {
    key: "zone",
    label: "Zone",
    as: "choice",
    get: ({ plan: plan2 }, id) => headOf(plan2, id)?.zone ?? "",
    set: ({ plan: plan2 }, ids2, typed4) => read(putInZone(plan2, ids2, typed4)),
    choices: ({ plan: plan2 }) => [
      { value: "", label: "None" },
      ...zonesInOrder(plan2).map((id) => ({ value: id, label: zoneLabel(plan2, id) }))
    ]
  };
  function zoneLabel(p, id) {
    const z = find(p, "zones", id);
    return z?.station ? `${z.station} ${z.name}` : z?.name ?? "";
  }
  var headFields = [
    { ...text("heads", "tag", "Tag"), single: true },
    coordinate("heads", "x_ft", "X, east"),
    coordinate("heads", "y_ft", "Y, north"),
    start,
    sweep,
    throwField,
    nozzle,
    body,
    zone,
    choice2("heads", "status", "Status", statuses),
    yes("heads", "locked", "Locked in place")
  ];

  // web/editor/fields_others.ts
  var line3 = {
    key: "line",
    label: "Corners",
    as: "long",
    hint: () => "one to a line: x, y",
    get: ({ plan: plan2 }, id) => cornersText(find(plan2, "barriers", id)?.line ?? [], plan2.show),
    set: ({ plan: plan2 }, [id], typed4) => {
      const wall = id === void 0 ? void 0 : find(plan2, "barriers", id);
      if (!wall || id === void 0) return read(plan2);
      const v = parseCorners(typed4, plan2.show, 2, wall.line);
      return v.ok ? read(put(plan2, "barriers", id, { ...wall, line: v.value })) : v;
    }
  };
  var barrierFields = [
    text("barriers", "name", "Name", true),
    choice2("barriers", "kind", "Kind", [
      ["fence", "Fence"],
      ["wall", "Wall"],
      ["hedge", "Hedge"]
    ]),
    length("barriers", "height_ft", "Height", { least: 0.25, most: 100 }),
    choice2("barriers", "status", "Status", statuses),
    line3
  ];
  var trunk = member(
    "trees",
    "trunk_in",
    "Trunk, across",
    (v, p) => typeof v !== "number" ? "" : p.show === "metric" ? String(Number((v * 2.54).toFixed(1))) : String(v),
    (typed4, p) => {
      if (p.show === "us") return parseNumber(typed4.replace(/in$|"$/, ""), "inches", 0.5, 240);
      const v = parseNumber(typed4.replace(/cm$/, ""), "centimetres", 1, 600);
      return v.ok ? read(v.value / 2.54) : v;
    },
    { hint: (p) => p.show === "metric" ? "cm" : "inches" }
  );
  var treeFields = [
    text("trees", "name", "Name", true),
    coordinate("trees", "x_ft", "X, east"),
    coordinate("trees", "y_ft", "Y, north"),
    trunk,
    length("trees", "root_zone_ft", "Root zone, from trunk", { least: 0.1, most: 200, empty: "default" }),
    choice2("trees", "status", "Status", statuses)
  ];
  var keepDryFields = [
    text("keep_dry", "name", "Name", true),
    coordinate("keep_dry", "x_ft", "X, east"),
    coordinate("keep_dry", "y_ft", "Y, north"),
    length("keep_dry", "radius_ft", "Radius", { least: 0.1, most: 100, empty: "default" }),
    choice2("keep_dry", "status", "Status", statuses)
  ];
  var noteFields = [
    text("notes", "text", "Text", true),
    coordinate("notes", "x_ft", "X, east"),
    coordinate("notes", "y_ft", "Y, north")
  ];
  var placed2 = ["areas", "barriers", "trees", "keep_dry", "heads", "notes"];
  var fieldsOf = {
    areas: areaFields,
    barriers: barrierFields,
    trees: treeFields,
    keep_dry: keepDryFields,
    heads: headFields,
    notes: noteFields
  };
  var isPlaced2 = (c) => placed2.includes(c);

  // web/editor/panels/adding.ts
  async function fillIn(title, done2, asked) {
    const fields = asked.map((a) => ({ a, control: new Control(a.label, a.as, a.hint ?? "", () => null) }));
    for (const { a, control } of fields) {
      control.show({ value: a.value ?? "", mixed: false, choices: a.choices ?? [] });
    }
    const form = h("form", { method: "dialog", class: "form", novalidate: true });
    const save = h("button", { value: "done", class: "main" }, done2);
    form.append(h("h2", { id: "ask-title" }, title), ...fields.map((f) => f.control.el));
    form.append(h("p", { class: "acts" }, save, cancel()));
    form.addEventListener("submit", (e) => {
      if (e.submitter?.getAttribute("value") === "") return;
      const wrong = fields.filter(({ a, control }) => {
        const v = a.check?.(control.text);
        control.complain(v && !v.ok ? v.sentence : null);
        return v && !v.ok;
      });
      if (wrong.length === 0) return;
      e.preventDefault();
      wrong[0]?.control.input.focus();
    });
    const answer = await ask2(h("dialog", { "aria-labelledby": "ask-title" }, form));
    if (answer !== "done") return null;
    return Object.fromEntries(fields.map(({ a, control }) => [a.key, control.text]));
  }
  function adders(board, usual, added) {
    const button2 = (label, run2) => {
      const name = `Add ${label.toLowerCase()}`;
      return h(
        "button",
        { type: "button", class: "small", "aria-label": name, onclick: () => void run2() },
        label
      );
    };
    return [
      h("span", { class: "hint", "aria-hidden": "true" }, "Add"),
      button2("Area", () => addArea(board, added)),
      button2("Head", () => addHead(board, usual(), added)),
      button2("Wall", () => addBarrier(board, added)),
      button2("Tree", () => addSpot(board, added, "trees")),
      button2("Keep dry", () => addSpot(board, added, "keep_dry")),
      button2("Note", () => addSpot(board, added, "notes"))
    ];
  }
  var placeHint = (board) => board.plan.show === "metric" ? "m" : "ft";
  function place2(board) {
    const check = (typed4) => parseCoordinate(typed4, board.plan.show);
    return [
      { key: "x", label: "X, east", as: "text", hint: placeHint(board), check },
      { key: "y", label: "Y, north", as: "text", hint: placeHint(board), check }
    ];
  }
  var number = (typed4, read4) => {
    const v = read4(typed4 ?? "");
    return v.ok ? v.value : 0;
  };
  function spotOf2(board, a) {
    const length2 = (t) => parseCoordinate(t, board.plan.show);
    return { x_ft: number(a.x, length2), y_ft: number(a.y, length2) };
  }
  async function addArea(board, added) {
    const show = board.plan.show;
    const kinds3 = Object.entries(kindNames).map(([value, label]) => ({ value, label }));
    const a = await fillIn("Add an area", "Add the area", [
      { key: "name", label: "Name", as: "text", hint: "empty: its kind" },
      { key: "kind", label: "Kind", as: "choice", value: "planting", choices: kinds3 },
      {
        key: "corners",
        label: "Corners",
        as: "long",
        hint: `one to a line: x, y in ${placeHint(board)}`,
        check: (t) => parseCorners(t, show, 3)
      }
    ]);
    const outline3 = a && parseCorners(a.corners ?? "", show, 3);
    if (!a || !outline3?.ok) return;
    const kind2 = a.kind;
    const area = { name: a.name?.trim() || kindNames[kind2], kind: kind2, outline: outline3.value, status: "new" };
    add2(board, "areas", area, `Draw ${area.name}`, added);
  }
  async function addBarrier(board, added) {
    const show = board.plan.show;
    const kinds3 = fieldsOf.barriers.find((f) => f.key === "kind")?.choices;
    const a = await fillIn("Add a wall or fence", "Add it", [
      { key: "name", label: "Name", as: "text", hint: "empty: its kind" },
      { key: "kind", label: "Kind", as: "choice", value: "fence", choices: kinds3?.(context(board), []) ?? [] },
      {
        key: "height",
        label: "Height",
        as: "text",
        hint: placeHint(board),
        value: show === "metric" ? "1.8" : "6",
        check: (t) => parseLength(t, show)
      },
      {
        key: "corners",
        label: "Corners",
        as: "long",
        hint: `one to a line: x, y in ${placeHint(board)}`,
        check: (t) => parseCorners(t, show, 2)
      }
    ]);
    const line4 = a && parseCorners(a.corners ?? "", show, 2);
    if (!a || !line4?.ok) return;
    const name = a.name?.trim() || { fence: "Fence", wall: "Wall", hedge: "Hedge" }[a.kind ?? ""] || "Fence";
    const height_ft = number(a.height, (t) => parseLength(t, show));
    add2(
      board,
      "barriers",
      { name, kind: a.kind, height_ft, line: line4.value, status: "new" },
      `Draw ${name}`,
      added
    );
  }
  var context = (board) => ({ plan: board.plan, catalog: board.catalog });
  async function addHead(board, usual, added) {
    const p = board.plan;
    const list3 = nozzles(p, board.catalog);
    const first = list3.find((n2) => n2.id === usual.nozzle) ?? list3[0];
    if (!first) {
      board.show({
        kind: "problem",
        sentence: "The nozzle table has not been read yet. Wait a moment and try again."
      });
      return;
    }
    const zones = zonesInOrder(p).map((id2) => ({ value: id2, label: find(p, "zones", id2)?.name ?? id2 }));
    const a = await fillIn("Add a head", "Add the head", [
      ...place2(board),
      { key: "nozzle", label: "Nozzle", as: "choice", value: first.id, choices: named2(list3) },
      {
        key: "start",
        label: "Arc start",
        as: "text",
        hint: "degrees from east",
        value: "0",
        check: parseAngle
      },
      { key: "arc", label: "Arc", as: "text", hint: "degrees", value: "90", check: parseAngle },
      {
        key: "zone",
        label: "Zone",
        as: "choice",
        value: usual.zone,
        choices: [{ value: "", label: "None" }, ...zones]
      }
    ]);
    if (!a) return;
    const nozzle2 = list3.find((n2) => n2.id === a.nozzle) ?? first;
    const fit2 = fitting(p, board.catalog, nozzle2);
    const body2 = (fit2.find((b) => b.id === usual.body) ?? fit2[0])?.id ?? "";
    const id = newID(board.committed, "heads");
    const next = newHead(board.committed, board.catalog, id, {
      ...spotOf2(board, a),
      nozzle: nozzle2.id,
      body: body2,
      start_deg: number(a.start, parseAngle),
      sweep_deg: number(a.arc, parseAngle),
      status: "new"
    });
    const r = `heads/${id}`;
    commit(board, putInZone(next, [id], a.zone ?? ""), r, (name) => `Set ${name}`, added);
  }
  var named2 = (list3) => list3.map((n2) => ({ value: n2.id, label: n2.name }));
  async function addSpot(board, added, c) {
    const titles = { trees: "Add a tree", keep_dry: "Add a keep-dry point", notes: "Add a note" };
    const words = c === "notes" ? { key: "name", label: "Text", as: "text", check: (t) => t.trim() ? read(t) : emptyNote } : { key: "name", label: "Name", as: "text", value: c === "trees" ? "Tree" : "Keep dry" };
    const a = await fillIn(titles[c], "Add it", [words, ...place2(board)]);
    if (!a) return;
    const name = a.name?.trim().slice(0, 2e3) ?? "";
    const spot2 = spotOf2(board, a);
    if (c === "notes") add2(board, c, { text: name, ...spot2 }, "Pin a note", added);
    else if (c === "trees")
      add2(board, c, { name: name || "Tree", trunk_in: 8, ...spot2, status: "new" }, "Draw tree", added);
    else add2(board, c, { name: name || "Keep dry", ...spot2, status: "new" }, "Mark a keep-dry point", added);
  }
  var emptyNote = { ok: false, sentence: "The note is empty. Type what it should say." };
  function add2(board, c, thing2, label, added) {
    const id = newID(board.committed, c);
    commit(board, put(board.committed, c, id, thing2), `${c}/${id}`, () => label, added);
  }
  function commit(board, next, r, label, added) {
    const name = nameOf(next, r);
    void board.commit(label(name), next).then((v) => {
      if (v.saved) board.announce(`${name.charAt(0).toUpperCase()}${name.slice(1)} added.`);
    });
    added(r);
  }
  async function editCorners(board, r) {
    const [c, id] = parts(r);
    const before = corners(board.plan, r);
    if (!before) return;
    const show = board.plan.show;
    const least = c === "areas" ? 3 : 2;
    const check = (t) => parseCorners(t, show, least, before);
    const hint = `one to a line: x, y in ${placeHint(board)}; a third number bows the edge that leaves the corner`;
    const a = await fillIn(`Corners of ${nameOf(board.plan, r)}`, "Set the corners", [
      { key: "corners", label: "Corners", as: "long", hint, value: cornersText(before, show), check }
    ]);
    const v = a && parseCorners(a.corners ?? "", show, least, before);
    if (!v?.ok) return;
    const p = board.committed;
    const area = find(p, "areas", id);
    const wall = find(p, "barriers", id);
    let next = p;
    if (c === "areas" && area) next = put(p, "areas", id, { ...area, outline: v.value });
    if (c === "barriers" && wall) next = put(p, "barriers", id, { ...wall, line: v.value });
    void board.commit(`Set corners of ${nameOf(p, r)}`, next);
  }
  function corners(p, r) {
    const [c, id] = parts(r);
    return c === "areas" ? find(p, "areas", id)?.outline : find(p, "barriers", id)?.line;
  }

  // web/editor/panels/grid.ts
  var Grid = class {
    constructor(label, columns2, source) {
      this.columns = columns2;
      this.source = source;
      const head2 = columns2.map((c) => h("th", { scope: "col", role: "columnheader" }, c.label));
      const table2 = h(
        "table",
        { role: "grid", class: "grid", "aria-label": label, "aria-multiselectable": "true" },
        h("thead", {}, h("tr", { role: "row" }, ...head2)),
        this.#body
      );
      this.#rows = new Rows(
        this.#body,
        (r) => r,
        (r) => this.#row(r)
      );
      this.el = h("div", { class: "sheet-of-rows" }, this.#trouble, h("div", { class: "scroll" }, table2));
      this.#body.addEventListener("keydown", (e) => this.#key(e));
      this.#body.addEventListener("click", (e) => this.#click(e));
      this.#body.addEventListener("dblclick", () => this.#edit());
      this.#body.addEventListener("focusin", (e) => this.#focused(e.target));
    }
    columns;
    source;
    el;
    #body = h("tbody");
    #rows;
    #trouble = h("p", { class: "error", role: "alert", hidden: true });
    #refs = [];
    #at = { row: 0, column: 0 };
    #editing = null;
    show(refs) {
      const inside2 = this.#body.contains(document.activeElement);
      this.#refs = refs;
      this.#rows.show(refs);
      this.#at.row = Math.min(this.#at.row, Math.max(0, refs.length - 1));
      this.#rove(inside2 && !this.#body.contains(document.activeElement));
    }
    /** Puts the focus on a thing's row. */
    focus(r) {
      const row4 = this.#refs.indexOf(r);
      if (row4 < 0) return;
      this.#at = { row: row4, column: 1 };
      this.#rove(true);
    }
    /** Scrolls a thing's row into view unless the user is at work in the table. */
    reveal(r) {
      if (!this.#body.contains(document.activeElement)) {
        this.#rows.get(r)?.el.scrollIntoView({ block: "nearest" });
      }
    }
    #row(r) {
      const cells = this.columns.map(
        (c, i) => h(i === 0 ? "th" : "td", {
          role: i === 0 ? "rowheader" : "gridcell",
          class: c.figure ? "figure" : null,
          tabindex: "-1",
          "data-column": c.key
        })
      );
      const el = h("tr", { role: "row", "data-ref": r }, ...cells);
      return {
        el,
        update: () => {
          setAttr(el, "aria-selected", String(this.source.selected(r)));
          this.columns.forEach((c, i) => {
            const cell = cells[i];
            if (this.#editing?.at === cell) return;
            const { text: text2, edit: edit2 } = this.source.cell(r, c.key);
            setText(cell, text2);
            setAttr(cell, "aria-readonly", edit2 ? null : "true");
          });
        }
      };
    }
    #cellAt(row4, column) {
      const r = this.#refs[row4];
      const el = r && this.#rows.get(r)?.el;
      return el?.children[column] ?? null;
    }
    /** Exactly one cell can be reached by Tab. */
    #rove(focus) {
      const want = this.#cellAt(this.#at.row, this.#at.column);
      for (const el of this.#body.querySelectorAll("[tabindex='0']"))
        if (el !== want) el.tabIndex = -1;
      if (!want) return;
      want.tabIndex = 0;
      if (!focus) return;
      want.focus();
      want.scrollIntoView({ block: "nearest", inline: "nearest" });
    }
    #focused(target) {
      const cell = target.closest("[data-column]");
      const row4 = cell?.parentElement;
      const r = row4?.dataset.ref;
      if (!cell || !row4 || !r) return;
      this.#at = { row: this.#refs.indexOf(r), column: Array.from(row4.children).indexOf(cell) };
      this.#rove(false);
    }
    #click(e) {
      const r = e.target.closest("[data-ref]")?.dataset.ref;
      if (!r || this.#editing) return;
      this.source.select(r, e.ctrlKey || e.metaKey || e.shiftKey ? "toggle" : "set");
    }
    #key(e) {
      if (this.#editing) {
        this.#editKey(e, this.#editing);
        return;
      }
      const r = this.#refs[this.#at.row];
      const move2 = moves[e.key];
      if (move2) this.#move(move2(this.#at, this.#refs.length, this.columns.length, e.ctrlKey || e.metaKey));
      else if (e.key === "Enter" || e.key === "F2") this.#edit();
      else if (e.key === " " && r) this.source.select(r, e.ctrlKey || e.shiftKey ? "toggle" : "set");
      else if (e.key === "Delete" && r) this.source.remove(r);
      else if (e.key.length === 1 && !e.ctrlKey && !e.metaKey && !e.altKey) this.#edit(e.key);
      else return;
      e.preventDefault();
      e.stopPropagation();
    }
    #move(to) {
      this.#at = to;
      this.#rove(true);
    }
    #edit(first) {
      const at2 = this.#cellAt(this.#at.row, this.#at.column);
      const r = this.#refs[this.#at.row];
      const column = this.columns[this.#at.column];
      if (!at2 || !r || !column || this.#editing) return;
      const { edit: edit2 } = this.source.cell(r, column.key);
      if (!edit2) return;
      if (edit2.as === "elsewhere") {
        edit2.take("");
        return;
      }
      const label = `${column.label} of ${this.source.name(r)}`;
      const input2 = edit2.as === "choice" ? h("select") : h("input", { type: "text", spellcheck: "false" });
      if (input2 instanceof HTMLSelectElement) fill(input2, edit2.choices());
      input2.setAttribute("aria-label", label);
      input2.value = first && input2 instanceof HTMLInputElement ? first : edit2.value;
      this.#editing = { at: at2, input: input2, take: edit2.take, was: edit2.value };
      at2.replaceChildren(input2);
      input2.addEventListener("blur", () => this.#leave());
      input2.focus();
      if (!first && input2 instanceof HTMLInputElement) input2.select();
    }
    #editKey(e, now) {
      e.stopPropagation();
      if (e.key === "Escape") this.#done(now, true);
      else if (e.key === "Enter" && this.#keep(now)) this.#done(now, true);
      else if (e.key === "Tab" && this.#keep(now)) {
        this.#done(now, false);
        const column = this.#at.column + (e.shiftKey ? -1 : 1);
        this.#move({ ...this.#at, column: Math.max(0, Math.min(this.columns.length - 1, column)) });
      } else if (e.key !== "Enter" && e.key !== "Tab") return;
      e.preventDefault();
    }
    #leave() {
      const now = this.#editing;
      if (now && this.#keep(now)) this.#done(now, false);
    }
    /** Hands over what was typed; false when it was refused and the cell stays open. */
    #keep(now) {
      const trouble = now.input.value === now.was ? null : now.take(now.input.value);
      setText(this.#trouble, trouble ?? "");
      this.#trouble.hidden = trouble === null;
      setAttr(now.input, "aria-invalid", trouble === null ? null : "true");
      return trouble === null;
    }
    #done(now, focus) {
      this.#editing = null;
      this.#trouble.hidden = true;
      now.at.replaceChildren();
      this.#rows.show(this.#refs);
      if (focus) this.#rove(true);
    }
  };
  var within = (n2, most) => Math.max(0, Math.min(most - 1, n2));
  var down2 = (by) => (at2, rows) => ({ ...at2, row: within(at2.row + by, rows) });
  var across = (by) => (at2, _rows, columns2) => ({ ...at2, column: within(at2.column + by, columns2) });
  var moves = {
    ArrowDown: down2(1),
    ArrowUp: down2(-1),
    PageDown: down2(10),
    PageUp: down2(-10),
    ArrowRight: across(1),
    ArrowLeft: across(-1),
    Home: (at2, _rows, _columns, ctrl) => ({ row: ctrl ? 0 : at2.row, column: 0 }),
    End: (at2, rows, columns2, ctrl) => ({ row: ctrl ? rows - 1 : at2.row, column: columns2 - 1 })
  };

  // web/editor/panels/objects.ts
  var columns = [
    { key: "thing", label: "Thing" },
    { key: "name", label: "Name or tag" },
    { key: "kind", label: "Kind" },
    { key: "x", label: "X", figure: true },
    { key: "y", label: "Y", figure: true },
    { key: "start_deg", label: "Arc start", figure: true },
    { key: "sweep_deg", label: "Arc", figure: true },
    { key: "throw_ft", label: "Throw", figure: true },
    { key: "nozzle", label: "Nozzle" },
    { key: "body", label: "Body" },
    { key: "zone", label: "Zone" },
    { key: "corners", label: "Corners and size" },
    { key: "status", label: "Status" }
  ];
  var keysOf = {
    name: ["name", "tag", "text"],
    kind: ["kind"],
    x: ["x_ft"],
    y: ["y_ft"]
  };
  var fewEnough = 1500;
  var Objects2 = class {
    constructor(board, visible, usual) {
      this.board = board;
      this.visible = visible;
      this.#grid = new Grid("Objects", columns, {
        cell: (r, c) => this.#cell(r, c),
        name: (r) => nameOf(board.plan, r),
        selected: (r) => board.selection.has(r),
        select: (r, how) => {
          board.select([r], how);
          board.lookAt({ about: [r], gentle: true });
        },
        remove: (r) => this.#remove(r)
      });
      this.#all = h("button", { type: "button", class: "small", onclick: () => this.#showAll() }, "Show all");
      const search = h("label", { for: "objects-find" }, "Find");
      const bar = h(
        "p",
        { class: "acts" },
        ...adders(board, usual, (r) => this.#added(r)),
        search,
        this.#find,
        this.#count,
        this.#all
      );
      byID("objects").append(h("h2", { class: "unseen" }, "Objects"), bar, this.#grid.el);
      this.#find.addEventListener("input", () => this.refresh());
      this.#find.addEventListener("keydown", (e) => this.#found(e));
      const soon = atMostEvery(120, () => this.refresh());
      for (const topic of ["plan", "selection", "catalog"]) board.subscribe(topic, soon);
      board.subscribe("selection", () => this.#reveal());
    }
    board;
    visible;
    #grid;
    #find = h("input", {
      type: "search",
      id: "objects-find",
      autocomplete: "off",
      spellcheck: "false"
    });
    #count = h("span", { class: "hint", role: "status" });
    #all;
    #everything = false;
    /** Brings the rows in step and what is selected into view. */
    open() {
      this.refresh();
      this.#reveal();
    }
    /** Brings the rows in step, if they can be seen. */
    refresh() {
      if (!this.visible()) return;
      const all = refsInOrder(this.board.plan);
      const wanted = this.#find.value.trim().toLowerCase();
      const match = wanted ? all.filter((r) => this.#words(r).includes(wanted)) : all;
      const cut2 = !this.#everything && match.length > fewEnough;
      this.#all.hidden = !cut2;
      setText(
        this.#count,
        wanted ? `${match.length} of ${count(all.length, "thing")}` : count(all.length, "thing")
      );
      this.#grid.show(cut2 ? match.slice(0, fewEnough) : match);
    }
    #showAll() {
      this.#everything = true;
      this.refresh();
    }
    #words(r) {
      return `${thingNames[parts(r)[0]]} ${nameOf(this.board.plan, r)} ${this.#cell(r, "kind").text}`.toLowerCase();
    }
    #found(e) {
      if (e.key !== "Enter") return;
      const wanted = this.#find.value.trim().toLowerCase();
      const first = refsInOrder(this.board.plan).find((r) => this.#words(r).includes(wanted));
      if (!first) return;
      this.board.select([first]);
      this.board.lookAt({ about: [first] });
    }
    #added(r) {
      this.#find.value = "";
      this.board.select([r]);
      this.refresh();
      this.#grid.focus(r);
      this.board.lookAt({ about: [r], gentle: true });
    }
    #reveal() {
      const [first] = this.board.selection;
      if (first && this.visible()) this.#grid.reveal(first);
    }
    #remove(r) {
      const name = nameOf(this.board.committed, r);
      void this.board.commit(`Delete ${name}`, drop(this.board.committed, ...parts(r)));
      this.board.announce(`${capital(name)} deleted. Undo brings it back.`);
    }
    #cell(r, column) {
      const [c, id] = parts(r);
      if (column === "thing") return { text: thingNames[c] };
      if (column === "corners") return this.#corners(r);
      const corner2 = column === "x" || column === "y" ? firstCorner(this.board.plan, r, column) : null;
      if (corner2 !== null) return { text: corner2 };
      const cx = { plan: this.board.plan, catalog: this.board.catalog };
      const field = isPlaced2(c) ? this.#field(c, id, column, cx) : void 0;
      if (!field) return { text: "" };
      const value = field.get(cx, id);
      const choices2 = () => field.choices?.(cx, [id]) ?? [];
      const text2 = field.as === "choice" ? choices2().find((o) => o.value === value)?.label ?? value : value;
      const take = (typed4) => this.#take(field, r, typed4);
      return {
        text: quiet(column, text2),
        edit: { as: field.as === "choice" ? "choice" : "text", value, choices: choices2, take }
      };
    }
    #field(c, id, column, cx) {
      const keys = keysOf[column] ?? [column];
      return fieldsOf[c].find((f) => keys.includes(f.key) && (f.has?.(cx, id) ?? true));
    }
    #corners(r) {
      const [c, id] = parts(r);
      const { show } = this.board.plan;
      const area = c === "areas" ? find(this.board.plan, "areas", id) : void 0;
      const wall = c === "barriers" ? find(this.board.plan, "barriers", id) : void 0;
      if (!area && !wall) return { text: "" };
      const holes2 = (area?.holes ?? []).reduce((sum, o) => sum + areaOf(o), 0);
      const text2 = area ? areaText(areaOf(area.outline) - holes2, show) : lengthText(lengthOf(wall?.line ?? []), show);
      const take = () => {
        void editCorners(this.board, r);
        return null;
      };
      return { text: text2, edit: { as: "elsewhere", value: "", choices: () => [], take } };
    }
    #take(field, r, typed4) {
      const cx = { plan: this.board.committed, catalog: this.board.catalog };
      const next = field.set(cx, [parts(r)[1]], typed4);
      if (!next.ok) return next.sentence;
      const label = field.label.replace(/,.*/, "").toLowerCase();
      void this.board.commit(`Set ${label} of ${nameOf(this.board.committed, r)}`, next.value);
      return null;
    }
  };
  var quiet = (column, text2) => column === "status" && text2 === "New" ? "" : text2;
  function firstCorner(p, r, axis) {
    const [c, id] = parts(r);
    const corners2 = c === "areas" ? find(p, "areas", id)?.outline : c === "barriers" ? find(p, "barriers", id)?.line : null;
    if (!corners2) return null;
    const v = corners2[0]?.[axis === "x" ? 0 : 1];
    return v === void 0 ? "" : coordText(v, p.show);
  }
  var natural2 = new Intl.Collator("en", { numeric: true });
  function refsInOrder(p) {
    return placed2.flatMap((c) => {
      const refs = ids(p, c).map((id) => `${c}/${id}`);
      const names = new Map(refs.map((r) => [r, nameOf(p, r)]));
      return refs.sort((a, b) => natural2.compare(names.get(a) ?? "", names.get(b) ?? ""));
    });
  }

  // web/editor/panels/parts.ts
  var Parts = class {
    constructor(board) {
      this.board = board;
      const list3 = h("div", { class: "parts" });
      this.#rows = new Rows(
        list3,
        (b) => b.key,
        () => this.#block()
      );
      const at2 = `/plans/${encodeURIComponent(board.id)}/files/`;
      const saves = h(
        "p",
        { class: "acts" },
        h("a", { class: "button small", href: `${at2}parts.csv`, download: true }, "Save as CSV"),
        h("a", { class: "button small", href: `${at2}parts.xlsx`, download: true }, "Save as XLSX")
      );
      byID("parts").append(h("h2", { class: "unseen" }, "Parts"), saves, this.#empty, list3);
      board.subscribe(
        "design",
        atMostEvery(250, () => this.#render())
      );
      this.#render();
    }
    board;
    #rows;
    #empty = h(
      "p",
      { class: "hint" },
      "Nothing to buy yet. Heads whose status is new are counted here."
    );
    #render() {
      const { zones, total } = this.board.design?.parts ?? { zones: [], total: [] };
      this.#empty.hidden = (total ?? []).length > 0;
      const blocks = (zones ?? []).map((z, i) => ({
        key: `${i}`,
        title: titleOf(z),
        lines: z.lines ?? []
      }));
      if ((total ?? []).length > 0) blocks.unshift({ key: "total", title: "In total", lines: total });
      this.#rows.show(blocks);
    }
    #block() {
      const title = h("h3");
      const body2 = h("tbody");
      const rows = new Rows(
        body2,
        (l, i) => `${i} ${l.item}`,
        () => this.#line()
      );
      const head2 = ["Item", "Count", "From"].map((t) => h("th", { scope: "col" }, t));
      const table2 = h("table", {}, h("thead", {}, h("tr", {}, ...head2)), body2);
      return {
        el: h("section", { class: "parts-zone" }, title, table2),
        update: (b) => {
          setText(title, b.title);
          rows.show(b.lines);
        }
      };
    }
    #line() {
      let now = null;
      const item = h("th", { scope: "row" });
      const number2 = h("td", { class: "figure" });
      const rule = h("p", { class: "hint" });
      const from = h("p", { class: "from" });
      const show = h(
        "button",
        { type: "button", class: "small", onclick: () => now && this.#show(now) },
        "Show on the board"
      );
      const size = h("span");
      const said = h("span", { class: "unseen" });
      const summary = h("summary", {}, size, said);
      const open2 = h("details", {}, summary, rule, from, show);
      open2.addEventListener("toggle", () => now && this.#names(from, open2.open ? now : null));
      return {
        el: h("tr", {}, item, number2, h("td", {}, open2)),
        update: (l) => {
          now = l;
          setText(item, l.item);
          setText(number2, `${l.count} ${l.unit === "each" ? "" : l.unit}`.trim());
          setText(size, `${(l.from ?? []).length}`);
          setText(said, ` things that ${l.item} is counted from`);
          setText(rule, capital(l.rule));
          if (open2.open) this.#names(from, l);
        }
      };
    }
    #names(el, l) {
      setText(el, l ? (l.from ?? []).map((r) => nameOf(this.board.plan, r)).join(", ") : "");
    }
    #show(l) {
      this.board.select(l.from ?? []);
      this.board.lookAt({ about: l.from ?? [] });
    }
  };
  var titleOf = (z) => z.station ? `Station ${z.station}: ${z.name}` : z.name;

  // web/editor/panels/readings.ts
  var rankWords = { good: "good", fair: "fair", poor: "poor" };
  var Readings = class {
    #board;
    #evenness = h("span", { class: "big" });
    #evenRank = h("span", { class: "rank-word", hidden: true });
    #evenLabel = h("dd", { class: "hint" });
    #rate = h("dd");
    #driest = h("button", { type: "button", class: "plain driest" });
    #flow = h("dd");
    #more = h("details", { class: "more" });
    #moreList = h("dl", { class: "facts" });
    #areas;
    #off;
    #offBlock;
    #estimate = h("div", { class: "estimate" });
    #estimatedRev = -1;
    #driestAt;
    constructor(board, onSupply) {
      this.#board = board;
      const body2 = h("tbody");
      this.#areas = new Rows(body2, (a) => a.id, areaRow);
      const off = h("ul", { class: "off" });
      this.#off = new Rows(
        off,
        (o) => o.id,
        () => this.#offRow()
      );
      this.#offBlock = h("div", {}, h("h3", {}, "Water off its target"), off);
      this.#driest.addEventListener("click", () => {
        if (this.#driestAt) board.lookAt({ at: this.#driestAt });
      });
      const away2 = h("p", { class: "away" }, "Not computed: the server is away. These are the last figures.");
      byID("readings").append(
        h("h2", { class: "unseen" }, "Readings"),
        away2,
        this.#three(onSupply),
        this.#moreBlock(body2)
      );
      board.subscribe(
        "design",
        eachFrame(() => this.#render())
      );
      board.subscribe("saved", () => this.#estimateIfOpen());
    }
    #three(onSupply) {
      const supply2 = h("button", { type: "button", class: "plain", onclick: onSupply }, "Supply");
      return h(
        "dl",
        { class: "three" },
        h(
          "div",
          { class: "evenness" },
          h("dt", {}, "Evenness"),
          h("dd", {}, this.#evenness, this.#evenRank),
          this.#evenLabel
        ),
        h("div", { class: "rate" }, h("dt", {}, "Rate"), this.#rate),
        h("div", { class: "dry" }, h("dt", {}, "Driest place"), h("dd", {}, this.#driest)),
        h("div", { class: "flow" }, h("dt", {}, supply2), this.#flow)
      );
    }
    #moreBlock(body2) {
      const head2 = ["Area", "Even", "Mean rate", "With lip"].map((t) => h("th", { scope: "col" }, t));
      this.#more.append(
        h("summary", {}, "More"),
        h("p", { class: "hint" }, "Layout uniformity in calm air with ideal nozzles: the field is less even."),
        this.#estimate,
        h("table", {}, h("thead", {}, h("tr", {}, ...head2)), body2),
        this.#moreList,
        this.#offBlock
      );
      this.#more.addEventListener("toggle", () => this.#estimateIfOpen());
      return this.#more;
    }
    #render() {
      const d = this.#board.design;
      if (!d) return;
      const { evenness, rate, driest, flow } = d.readings;
      setText(this.#evenness, evenness.text || "–");
      setText(this.#evenRank, evenness.rank ? rankWords[evenness.rank] : "");
      this.#evenRank.hidden = !evenness.rank;
      setAttr(this.#evenRank, "data-rank", evenness.rank ?? null);
      setText(this.#evenLabel, evenness.label ?? "");
      setText(this.#rate, rate.text || "–");
      setText(this.#driest, driest.text || "–");
      this.#driest.disabled = !driest.at;
      this.#driestAt = driest.at;
      setText(this.#flow, flow.text || "–");
      setAttr(this.#flow, "data-rank", flow.rank ?? null);
      if (this.#more.open) this.#renderMore(d);
    }
    #renderMore(d) {
      this.#areas.show(d.areas ?? []);
      this.#off.show(d.off_target ?? []);
      this.#offBlock.hidden = (d.off_target ?? []).length === 0;
      const said = Array.from(this.#moreList.children, (e) => e.textContent).join("\n");
      const want = (d.more ?? []).map((m) => `${m.label}
${m.text}`).join("\n");
      if (said === want) return;
      this.#moreList.replaceChildren(
        ...(d.more ?? []).flatMap((m) => [h("dt", {}, m.label), h("dd", {}, m.text)])
      );
    }
    #offRow() {
      let now = null;
      const go = () => {
        const heads3 = (now?.heads ?? []).map((id) => `heads/${id}`);
        this.#board.select(heads3);
        this.#board.lookAt({ about: heads3 });
      };
      const words = h("span");
      const button2 = h("button", { type: "button", class: "small", onclick: go }, "Show heads");
      const el = h("li", {}, words, " ", button2);
      return {
        el,
        update: (o) => {
          now = o;
          setText(words, o.text || `${o.name}: ${o.gpm}, ${o.share}`);
          setAttr(el, "data-rank", o.rank);
          button2.hidden = o.heads.length === 0;
        }
      };
    }
    // The field estimate takes many computations, so it is asked for only while
    // More is open, and once for each stored revision.
    async #estimateIfOpen() {
      if (!this.#more.open) return;
      if (this.#board.design) this.#renderMore(this.#board.design);
      const { rev } = this.#board;
      if (this.#estimatedRev === rev || this.#board.saved.state !== "yes") return;
      this.#estimatedRev = rev;
      this.#estimate.replaceChildren(
        h("p", { class: "hint", role: "status" }, "Working out the field estimate…")
      );
      const answer = await server.estimate(this.#board.id);
      if (this.#estimatedRev !== rev) return;
      this.#estimate.replaceChildren(
        ...answer.ok ? estimateBlock(answer.value.areas) : [h("p", {}, answer.error)]
      );
    }
  };
  function areaRow() {
    const cells = ["evenness", "rate", "with_lip"].map((k) => ({ k, el: h("td") }));
    const name = h("th", { scope: "row" });
    return {
      el: h("tr", {}, name, ...cells.map((c) => c.el)),
      update: (a) => {
        setText(name, a.name);
        for (const { k, el } of cells) setText(el, a[k] ?? "–");
      }
    };
  }
  function estimateBlock(rows) {
    if (rows.length === 0) return [];
    const list3 = rows.map((r) => h("li", {}, h("b", {}, r.name), ` ${r.text}`));
    return [
      h("h3", {}, "Field estimate"),
      h(
        "p",
        { class: "hint" },
        "The same layout when heads stand a few inches off and nozzles differ a little."
      ),
      h("ul", {}, ...list3)
    ];
  }

  // web/editor/panels/saved.ts
  var clock2 = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });
  function savedText(s2) {
    if (s2.state === "yes") return s2.at ? `Saved ${clock2.format(s2.at)}` : "Saved";
    if (s2.state === "saving") return "Saving…";
    if (s2.state === "no") return `Not saved – retrying (${count(s2.count, "change")} kept here)`;
    return "Someone else changed this plan";
  }
  function showSaved(board) {
    const el = byID("saved");
    const words = h("span");
    el.append(h("span", { class: "dot", "aria-hidden": "true" }), words);
    const show = () => {
      const s2 = board.saved;
      setText(words, savedText(s2));
      setAttr(el, "data-state", s2.state);
      setAttr(el, "title", s2.state === "no" ? s2.why : null);
      const root = document.documentElement.dataset;
      root.saved = s2.state === "yes" ? "yes" : s2.state === "saving" ? "saving" : "no";
      root.rev = String(board.rev);
    };
    board.subscribe("saved", show);
    board.subscribe("plan", show);
    show();
    window.addEventListener("beforeunload", (e) => {
      if (board.saved.state !== "yes") e.preventDefault();
    });
  }

  // web/editor/panels/selected.ts
  var Selected = class {
    constructor(board) {
      this.board = board;
      const soon = atMostEvery(60, () => this.#render());
      for (const topic of ["selection", "plan", "design", "catalog"]) board.subscribe(topic, soon);
      this.#render();
    }
    board;
    #root = byID("selected");
    #tab = byID("tab-selected");
    #signature = "";
    #made = [];
    #title = h("h2");
    #facts = h("dl", { class: "facts" });
    #more = h("p", { class: "hint", hidden: true });
    /** The selected things of one collection, when all are of one. */
    #group() {
      const refs = [...this.board.selection].map(parts);
      const [first] = refs;
      if (!first || !isPlaced2(first[0]) || refs.some(([c]) => c !== first[0])) return null;
      return { collection: first[0], ids: refs.map(([, id]) => id).sort() };
    }
    #render() {
      const n2 = this.board.selection.size;
      setText(this.#tab, n2 === 0 ? "Selected" : `Selected ${n2}`);
      const group2 = this.#group();
      const fields = group2 ? this.#fields(group2.collection, group2.ids) : [];
      const signature = `${group2?.collection} ${fields.map((f) => f.key)} ${n2 > 1} ${n2 === 0} ${this.board.plan.show}`;
      if (signature !== this.#signature) this.#build(fields);
      this.#signature = signature;
      this.#show(group2);
    }
    #fields(c, ids2) {
      const cx = this.#context();
      return fieldsOf[c].filter(
        (f) => (ids2.length === 1 || !(f.single || f.as === "long")) && ids2.every((id) => f.has?.(cx, id) ?? true)
      );
    }
    #context() {
      return { plan: this.board.plan, catalog: this.board.catalog };
    }
    #build(fields) {
      this.#made = fields.map((field) => {
        const hint = field.hint?.(this.board.plan) ?? "";
        const control = new Control(
          field.label,
          field.as,
          hint,
          (typed4) => this.#take(field, typed4),
          field.empty
        );
        return { field, control };
      });
      const short = this.#made.filter((m) => m.field.as !== "long").map((m) => m.control.el);
      const long = this.#made.filter((m) => m.field.as === "long").map((m) => m.control.el);
      const empty = this.board.selection.size === 0;
      this.#root.replaceChildren(
        this.#title,
        empty ? h(
          "p",
          { class: "hint" },
          "Click a thing on the board or a row of Objects to see and type its numbers."
        ) : "",
        this.#facts,
        h("div", { class: "fields" }, ...short),
        ...long,
        this.#more,
        empty ? "" : h("p", { class: "acts" }, this.#deleteButton())
      );
    }
    #deleteButton() {
      return h("button", { type: "button", class: "grave", onclick: () => this.#remove() }, "Delete");
    }
    #remove() {
      const refs = [...this.board.selection];
      let next = this.board.committed;
      for (const r of refs) next = drop(next, ...parts(r));
      void this.board.commit(`Delete ${namesOf(this.board.committed, refs)}`, next);
      this.board.announce(`Deleted ${count(refs.length, "thing")}. Undo brings it back.`);
    }
    #take(field, typed4) {
      const group2 = this.#group();
      if (!group2) return null;
      const cx = { plan: this.board.committed, catalog: this.board.catalog };
      const next = field.set(cx, group2.ids, typed4);
      if (!next.ok) return next.sentence;
      const refs = group2.ids.map((id) => `${group2.collection}/${id}`);
      const label = field.label.replace(/,.*/, "").toLowerCase();
      void this.board.commit(`Set ${label} of ${namesOf(this.board.committed, refs)}`, next.value);
      return null;
    }
    #show(group2) {
      const refs = [...this.board.selection];
      setText(this.#title, this.#heading(group2, refs));
      this.#title.hidden = refs.length === 0;
      const cx = this.#context();
      for (const { field, control } of this.#made) {
        if (!group2) continue;
        const values = group2.ids.map((id) => field.get(cx, id));
        const mixed = values.some((v) => v !== values[0]);
        const choices2 = field.choices?.(cx, group2.ids) ?? [];
        control.show({ value: values[0] ?? "", mixed, choices: choices2 });
      }
      this.#showFacts(group2);
      const kinds3 = !group2 && refs.length > 1;
      setText(
        this.#more,
        kinds3 ? "These are things of different kinds: select one kind to type its numbers." : ""
      );
      this.#more.hidden = !kinds3;
    }
    #heading(group2, refs) {
      const [only] = refs;
      if (only && refs.length === 1) return capital(nameOf(this.board.plan, only));
      return group2 ? `${refs.length} ${plural(group2.collection)}` : count(refs.length, "thing");
    }
    #showFacts(group2) {
      const [id] = group2?.ids ?? [];
      const facts = [];
      if (group2 && id !== void 0 && group2.ids.length === 1) {
        if (group2.collection === "heads") facts.push(...headFacts(this.board.design?.heads[id]));
        if (group2.collection === "areas") facts.push(...areaFacts(this.board, id));
      }
      const old = Array.from(this.#facts.children, (e) => e.textContent);
      if (old.join("\n") === facts.flat().join("\n")) return;
      this.#facts.replaceChildren(...facts.flatMap(([t, d]) => [h("dt", {}, t), h("dd", {}, d)]));
    }
  };
  function headFacts(r) {
    if (!r) return [];
    return [
      ["Flow", r.flow],
      ["Throw", r.throw],
      ["Its own rate", r.rate],
      ["Pressure", r.pressure],
      ["Nearest head", r.nearest]
    ].filter((f) => Boolean(f[1]));
  }
  function areaFacts(board, id) {
    const area = find(board.plan, "areas", id);
    if (!area) return [];
    const holes2 = (area.holes ?? []).reduce((sum, o) => sum + areaOf(o), 0);
    const facts = [["Drawn", areaText(areaOf(area.outline) - holes2, board.plan.show)]];
    const reading = board.design?.areas.find((a) => a.id === id);
    if (reading?.evenness) facts.push(["Evenness", reading.evenness]);
    if (reading?.rate) facts.push(["Rate", reading.rate]);
    return facts;
  }

  // web/editor/panels/settings.ts
  var litres = 3.785411784;
  var barPerPSI = 0.0689475729;
  var flowUnit = (s2) => s2 === "metric" ? { name: "l/min", per: litres } : { name: "gpm", per: 1 };
  var pressureUnit = (s2) => s2 === "metric" ? { name: "bar", per: barPerPSI } : { name: "psi", per: 1 };
  function planSettings(board) {
    const name = () => {
      setText(byID("plan-name"), board.plan.name);
      document.title = `${board.plan.name} – Evenfall`;
    };
    board.subscribe("plan", name);
    name();
    const open2 = () => void edit(board);
    byID("plan-settings").addEventListener("click", open2);
    return { open: open2 };
  }
  async function edit(board) {
    const before = board.committed;
    const groups2 = [general(before), supply(before), map(before)];
    const entries = groups2.flat();
    const form = h("form", { method: "dialog", class: "form", novalidate: true });
    const [own2, water, place3] = groups2.map((g) => g.map((e) => e.control.el));
    const measured2 = before.supply?.measured ? "Measured: every list says so." : assumed;
    form.append(h("h2", { id: "settings-title" }, "Plan"), h("div", { class: "pairs" }, ...own2 ?? []));
    form.append(fieldset("Supply", measured2, water ?? []));
    form.append(fieldset("Place on the map", "Of the plan’s origin, for outlines as GeoJSON.", place3 ?? []));
    form.append(h("p", { class: "acts" }, h("button", { value: "done", class: "main" }, "Keep"), cancel()));
    let next = before;
    form.addEventListener("submit", (e) => {
      if (e.submitter?.getAttribute("value") === "") return;
      next = before;
      let wrong = null;
      for (const { control, put: put2 } of entries) {
        const v = put2(next, control.text);
        control.complain(v.ok ? null : v.sentence);
        if (v.ok) next = v.value;
        else wrong ??= control;
      }
      if (!wrong) return;
      e.preventDefault();
      wrong.input.focus();
    });
    const answer = await ask2(h("dialog", { "aria-labelledby": "settings-title" }, form));
    if (answer === "done") void board.commit("Change the plan’s settings", next);
  }
  var assumed = "Assumed until you measure: every list says so. A gauge on a hose tap and a bucket are enough.";
  function fieldset(title, hint, fields) {
    const words = h("p", { class: "hint" }, hint);
    return h("fieldset", {}, h("legend", {}, title), words, h("div", { class: "pairs" }, ...fields));
  }
  function entry(label, as, hint, value, put2, choices2 = []) {
    const control = new Control(label, as, hint, () => null);
    control.show({ value, mixed: false, choices: choices2 });
    return { control, put: (p, typed4) => typed4.trim() === value ? read(p) : put2(p, typed4) };
  }
  function general(p) {
    const units2 = [
      { value: "us", label: "Feet, inches, gallons" },
      { value: "metric", label: "Metres, litres" }
    ];
    return [
      entry("Name", "text", "", p.name, (q, typed4) => {
        const name = typed4.trim();
        if (name === "" || name.length > 200) return refuse("Type a name of 1 to 200 characters.");
        return read({ ...q, name });
      }),
      entry("Units", "choice", "", p.show, (q, typed4) => read({ ...q, show: typed4 }), units2),
      lip(p, "Edge lip", "empty: 6 in", "edge_lip_ft"),
      lip(p, "Lip along walls", "empty: 12 in", "wall_lip_ft")
    ];
  }
  function lip(p, label, hint, member2) {
    const now = p.options?.[member2];
    return entry(label, "text", hint, now === void 0 ? "" : lengthText(now, p.show), (q, typed4) => {
      const { [member2]: _old, ...rest } = q.options ?? {};
      if (typed4.trim() === "") return read({ ...q, options: rest });
      const v = parseCoordinate(typed4, p.show);
      if (!v.ok) return v;
      if (v.value < 0 || v.value > 3) return refuse("Type a lip from 0 to 3 ft (0.9 m).");
      return read({ ...q, options: { ...rest, [member2]: v.value } });
    });
  }
  function supply(p) {
    const s2 = p.supply ?? {};
    const flow = flowUnit(p.show);
    const pressure = pressureUnit(p.show);
    return [
      quantity("Flow to plan on", flow, s2.design_flow_gpm, "design_flow_gpm", 0.5, 500),
      quantity("Static pressure", pressure, s2.static_psi, "static_psi", 5, 200),
      entry(
        "Measured at",
        "text",
        "hour and season",
        s2.measured_at ?? "",
        (q, typed4) => read(withSupply(q, "measured_at", typed4.trim() || void 0))
      ),
      entry(
        "These figures were measured",
        "yes",
        "",
        s2.measured ? "yes" : "",
        (q, typed4) => read(withSupply(q, "measured", typed4 === "yes" ? true : void 0))
      )
    ];
  }
  function quantity(label, u, now, key2, least, most) {
    const value = now === void 0 ? "" : String(Number((now * u.per).toFixed(2)));
    return entry(label, "text", u.name, value, (q, typed4) => {
      if (typed4.trim() === "") return read(withSupply(q, key2, void 0));
      const [lo, hi] = [round2(least * u.per), round2(most * u.per)];
      const v = parseNumber(typed4, u.name, lo, hi);
      return v.ok ? read(withSupply(q, key2, v.value / u.per)) : v;
    });
  }
  function map(p) {
    return [angle(p, "Latitude", "latitude_deg", 90), angle(p, "Longitude", "longitude_deg", 180)];
  }
  function angle(p, label, key2, most) {
    const now = p.site?.[key2];
    return entry(label, "text", "degrees", now === void 0 ? "" : String(now), (q, typed4) => {
      const { [key2]: _old, ...rest } = q.site ?? {};
      if (typed4.trim() === "") return read({ ...q, site: rest });
      const v = parseNumber(typed4, "degrees", -most, most);
      return v.ok ? read({ ...q, site: { ...rest, [key2]: v.value } }) : v;
    });
  }
  var round2 = (n2) => Number(n2.toPrecision(2));
  function withSupply(p, key2, value) {
    const next = { ...p.supply };
    if (value === void 0) delete next[key2];
    else next[key2] = value;
    return { ...p, supply: next };
  }

  // web/editor/panels/status.ts
  function showPointer(board, drawing, heat) {
    const where2 = byID("where");
    const under = byID("under");
    let underway = false;
    const ask3 = async () => {
      const at2 = drawing.pointer?.at;
      const stored = board.saved.state === "yes" && !board.drafting;
      if (!at2 || !heat.on || !stored || underway) {
        if (!at2 || !heat.on) setText(under, "");
        return;
      }
      underway = true;
      const answer = await server.rate(board.id, at2[0], at2[1]);
      underway = false;
      setText(under, answer.ok ? answer.value.text : "");
      if (drawing.pointer && drawing.pointer.at !== at2) soon();
    };
    const soon = atMostEvery(100, () => void ask3());
    board.subscribe("hover", () => {
      setText(where2, drawing.pointer?.text ?? "");
      soon();
    });
    board.subscribe("design", soon);
  }

  // web/editor/panels/tabs.ts
  var Tabs = class {
    /** closable: pressing the open tab closes its panel. */
    constructor(list3, closable, onShow = () => {
    }) {
      this.closable = closable;
      this.onShow = onShow;
      this.#tabs = Array.from(list3.querySelectorAll("[role=tab]"));
      for (const tab of this.#tabs) {
        tab.addEventListener("click", () => this.#press(tab));
        tab.addEventListener("keydown", (e) => this.#key(e, tab));
      }
      this.#open = panelOf(this.#tabs.find((t) => t.getAttribute("aria-selected") === "true"));
    }
    closable;
    onShow;
    #tabs;
    #open = null;
    get open() {
      return this.#open;
    }
    show(panel) {
      this.#open = panel;
      for (const tab of this.#tabs) {
        const on = panelOf(tab) === panel;
        setAttr(tab, "aria-selected", String(on));
        tab.tabIndex = on || panel === null && tab === this.#tabs[0] ? 0 : -1;
        const el = document.getElementById(panelOf(tab) ?? "");
        if (el) el.hidden = !on;
      }
      this.onShow(panel);
    }
    #press(tab) {
      const panel = panelOf(tab);
      this.show(this.closable && panel === this.#open ? null : panel);
    }
    #key(e, tab) {
      const step3 = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[e.key];
      const n2 = this.#tabs.length;
      const at2 = this.#tabs.indexOf(tab);
      const to = step3 ? (at2 + step3 + n2) % n2 : { Home: 0, End: n2 - 1 }[e.key];
      const next = to === void 0 ? void 0 : this.#tabs[to];
      if (!next) return;
      e.preventDefault();
      this.show(panelOf(next));
      next.focus();
    }
  };
  var panelOf = (tab) => tab?.getAttribute("aria-controls") ?? null;

  // web/editor/panels/icons.ts
  var lines = {
    "tool.select": "M6 3 L6 19 L10.2 15.2 L13 21 L15.6 19.8 L12.8 14.2 L18.5 13.8 Z",
    "tool.outline": "M4 18 L8 5 L17 4 L20 13 L13 20 Z M4 18 h.01 M8 5 h.01 M17 4 h.01 M20 13 h.01 M13 20 h.01",
    "tool.rectangle": "M4 6 H20 V18 H4 Z",
    "tool.round": "M12 4 A8 8 0 1 1 11.99 4 M12 12 L18 7",
    "tool.barrier": "M3 9 H21 M3 15 H21 M6 5 V20 M12 5 V20 M18 5 V20",
    "tool.tree": "M12 3 A6.5 6.5 0 1 1 11.99 3 M12 13 V21 M12 16 L15 13",
    "tool.keepdry": "M5 21 L12 3 L19 21 Z M12 10 V15 M12 18 h.01",
    "tool.note": "M5 4 H19 V15 L14 20 H5 Z M14 20 V15 H19 M8 9 H16 M8 13 H12",
    "tool.head": "M5 20 A15 15 0 0 1 20 5 M10 20 A10 10 0 0 1 20 10 M19 19 h.01 M17.6 19 A1.4 1.4 0 1 1 17.6 19.01",
    "tool.measure": "M3 15 L15 3 L21 9 L9 21 Z M7 11 L9.5 13.5 M10 8 L12 10 M13 5 L15.5 7.5",
    "view.in": "M5 12 H19 M12 5 V19",
    "view.out": "M5 12 H19",
    "view.fit": "M4 9 V4 H9 M15 4 H20 V9 M20 15 V20 H15 M9 20 H4 V15",
    "view.selection": "M4 9 V4 H9 M15 4 H20 V9 M20 15 V20 H15 M9 20 H4 V15 M9 12 A3 3 0 1 1 9 12.01"
  };
  var svg = "http://www.w3.org/2000/svg";
  function icon(command) {
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

  // web/editor/panels/toolbar.ts
  var view = ["view.in", "view.out", "view.fit"];
  var onSelection = ["edit.duplicate", "edit.delete", "edit.lock", "view.selection"];
  var aids2 = ["aid.snap", "aid.grid", "aid.gridsnap", "aid.ortho"];
  var Toolbar = class {
    constructor(board, drawing) {
      this.board = board;
      this.drawing = drawing;
      const tools2 = drawing.commands.all.filter((c) => c.id.startsWith("tool."));
      byID("tools").append(
        h("div", { class: "tool-group" }, ...tools2.map((c) => this.#button(c))),
        h("div", { class: "tool-group" }, ...view.map((id) => this.#button(drawing.commands.get(id))))
      );
      byID("aids").append(...aids2.map((id) => this.#button(drawing.commands.get(id))));
      this.#kits = [this.#areaKit(), this.#headKit(), this.#barrierKit(), this.#selectKit()];
      byID("kit").append(...this.#kits.map((k) => k.el), this.#hint);
      arrows(byID("tools"));
      const show = eachFrame(() => this.#show());
      for (const topic of ["tool", "selection", "view", "plan", "steps", "catalog", "hover"]) {
        board.subscribe(topic, show);
      }
      this.#show();
    }
    board;
    drawing;
    #made = [];
    #hint = h("p", { class: "hint kit-hint" });
    #kits;
    #button(command) {
      const label = h("span", { class: "label" }, command.title);
      const button2 = h(
        "button",
        { type: "button", title: tooltip(command), "data-command": command.id },
        icon(command.id),
        label
      );
      button2.addEventListener(
        "click",
        () => this.drawing.commands.run(command.id, (why) => this.board.show({ kind: "hint", sentence: why }))
      );
      this.#made.push({ command, button: button2 });
      return button2;
    }
    #show() {
      for (const { command, button: button2 } of this.#made) {
        if (command.on) setAttr(button2, "aria-pressed", String(command.on()));
        const can = command.enabled();
        setAttr(button2, "aria-disabled", can === true ? null : "true");
        setAttr(button2, "title", can === true ? tooltip(command) : `${command.title}: ${can}`);
      }
      const tool = this.#tool();
      for (const k of this.#kits) {
        k.el.hidden = !k.tools.includes(tool);
        if (!k.el.hidden) k.show();
      }
      setText(this.#hint, this.drawing.status.hint);
    }
    #tool() {
      return this.#made.find(({ command }) => command.id.startsWith("tool.") && command.on?.())?.command.id ?? "tool.select";
    }
    #kit(label, take, as = "choice") {
      return new Control(label, as, "", take);
    }
    #areaKit() {
      const kind2 = this.#kit("Kind", (v) => {
        this.drawing.setKit({ areaKind: v });
        return null;
      });
      const choices2 = Object.entries(kindNames).map(([value, label]) => ({ value, label }));
      const hole = this.#button(this.drawing.commands.get("draw.hole"));
      return {
        tools: ["tool.outline", "tool.rectangle", "tool.round"],
        el: h("div", { class: "kit-group" }, kind2.el, hole),
        show: () => kind2.show({ value: this.drawing.kit.areaKind, mixed: false, choices: choices2 })
      };
    }
    #headKit() {
      const set3 = (key2) => (v) => {
        this.drawing.setKit({ [key2]: v });
        return null;
      };
      const nozzle2 = this.#kit("Nozzle", set3("nozzle"));
      const body2 = this.#kit("Body", set3("body"));
      const zone2 = this.#kit("Zone", set3("zone"));
      const show = (c, value, choices2) => c.show({ value, mixed: false, choices: choices2 });
      return {
        tools: ["tool.head"],
        el: h("div", { class: "kit-group" }, nozzle2.el, body2.el, zone2.el),
        show: () => {
          const { plan: plan2, catalog } = this.board;
          const { kit } = this.drawing;
          const list3 = nozzles(plan2, catalog);
          const now = list3.find((n2) => n2.id === kit.nozzle);
          const fit2 = now ? fitting(plan2, catalog, now) : bodies(plan2, catalog);
          show(
            nozzle2,
            kit.nozzle,
            list3.map((n2) => ({ value: n2.id, label: n2.name }))
          );
          show(
            body2,
            kit.body,
            fit2.map((b) => ({ value: b.id, label: b.name }))
          );
          const zones = zonesInOrder(plan2).map((id) => ({ value: id, label: zoneLabel(plan2, id) }));
          show(zone2, find(plan2, "zones", kit.zone) ? kit.zone : "", [{ value: "", label: "None" }, ...zones]);
        }
      };
    }
    #barrierKit() {
      const kinds3 = [
        { value: "fence", label: "Fence" },
        { value: "wall", label: "Wall" },
        { value: "hedge", label: "Hedge" }
      ];
      const kind2 = this.#kit("Kind", (v) => {
        this.drawing.setKit({ barrierKind: v });
        return null;
      });
      const height = this.#kit(
        "Height",
        (v) => {
          const read4 = parseLength(v, this.board.plan.show);
          if (!read4.ok) return read4.sentence;
          if (read4.value <= 0 || read4.value > 100) return "Type a height from 0.3 to 100 ft (30 m).";
          this.drawing.setKit({ barrierHeightFt: read4.value });
          return null;
        },
        "text"
      );
      return {
        tools: ["tool.barrier"],
        el: h("div", { class: "kit-group" }, kind2.el, height.el),
        show: () => {
          kind2.show({ value: this.drawing.kit.barrierKind, mixed: false, choices: kinds3 });
          const value = lengthText(this.drawing.kit.barrierHeightFt, this.board.plan.show);
          height.show({ value, mixed: false, choices: [] });
        }
      };
    }
    #selectKit() {
      const buttons = onSelection.map((id) => this.#button(this.drawing.commands.get(id)));
      return {
        tools: ["tool.select"],
        el: h("div", { class: "kit-group" }, ...buttons),
        show: () => {
        }
      };
    }
  };
  function arrows(bar) {
    const all = () => Array.from(bar.querySelectorAll("button"));
    for (const [i, b] of all().entries()) b.tabIndex = i === 0 ? 0 : -1;
    bar.addEventListener("keydown", (e) => {
      const list3 = all();
      const at2 = list3.indexOf(document.activeElement);
      const step3 = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[e.key];
      const to = step3 ? (at2 + step3 + list3.length) % list3.length : { Home: 0, End: list3.length - 1 }[e.key];
      const next = to === void 0 ? void 0 : list3[to];
      if (at2 < 0 || !next) return;
      e.preventDefault();
      for (const b of list3) b.tabIndex = b === next ? 0 : -1;
      next.focus();
    });
  }

  // web/editor/panels/zones.ts
  var heads2 = [
    "Station",
    "Name",
    "Pressure",
    "Heads",
    "Flow",
    "By flow",
    "By spacing",
    "On the map",
    "Matched"
  ];
  var barPerPSI2 = 0.0689475729;
  var Zones = class {
    constructor(board) {
      this.board = board;
      this.#rows = new Rows(
        this.#body,
        (id) => id,
        (id) => this.#row(id)
      );
      this.#fromSelected = button("New zone of selected", () => this.#newZone(this.#selected()));
      this.#takeOut = button("Take selected out", () => this.#put(""));
      const bar = h(
        "p",
        { class: "acts" },
        this.#fromSelected,
        button("New empty zone", () => this.#newZone([]))
      );
      bar.append(this.#takeOut);
      const columns2 = [...heads2, "Plantings"].map((t) => h("th", { scope: "col" }, t));
      columns2.push(h("th", { scope: "col" }, h("span", { class: "unseen" }, "What can be done")));
      const rates = h(
        "caption",
        { class: "unseen" },
        "Zones. By flow, by spacing and on the map are precipitation rates."
      );
      this.#table = h("table", { class: "wide" }, rates, h("thead", {}, h("tr", {}, ...columns2)), this.#body);
      byID("zones").append(
        h("h2", { class: "unseen" }, "Zones"),
        bar,
        this.#empty,
        h("div", { class: "scroll" }, this.#table)
      );
      const soon = atMostEvery(150, () => this.#render());
      for (const topic of ["plan", "design", "selection"]) board.subscribe(topic, soon);
      this.#render();
    }
    board;
    #body = h("tbody");
    #rows;
    #fromSelected;
    #takeOut;
    #empty = h("p", { class: "hint" }, "No zone yet. Select heads and press “New zone of selected”.");
    #table;
    #selected() {
      return [...this.board.selection].map(parts).flatMap(([c, id]) => c === "heads" ? [id] : []);
    }
    #render() {
      const zones = zonesInOrder(this.board.plan);
      const n2 = this.#selected().length;
      this.#fromSelected.disabled = n2 === 0;
      this.#takeOut.disabled = n2 === 0;
      this.#empty.hidden = zones.length > 0;
      this.#table.hidden = zones.length === 0;
      this.#rows.show(zones);
    }
    #newZone(ids2) {
      const [withZone, id] = addZone(this.board.committed);
      const name = find(withZone, "zones", id)?.name ?? "";
      const label = ids2.length > 0 ? `New zone of ${count(ids2.length, "head")}` : "New zone";
      void this.board.commit(label, putInZone(withZone, ids2, id));
      this.board.announce(`${name} made with ${count(ids2.length, "head")}.`);
    }
    #put(zone2) {
      const ids2 = this.#selected();
      const p = this.board.committed;
      const where2 = zone2 ? `into ${find(p, "zones", zone2)?.name}` : "out of its zone";
      void this.board.commit(`Put ${namesOf(p, ids2.map(headRef))} ${where2}`, putInZone(p, ids2, zone2));
      this.board.announce(`${count(ids2.length, "head")} put ${where2}.`);
    }
    #row(id) {
      const station = this.#input(
        "Station",
        (typed4, p) => {
          if (typed4.trim() === "") return read(setStation(p, id, 0));
          const v = parseNumber(typed4, "a station", 1, 999);
          return v.ok ? read(setStation(p, id, Math.round(v.value))) : v;
        },
        id
      );
      const name = this.#input(
        "Name",
        (typed4, p) => read(setAll(p, "zones", [id], "name", typed4.trim() || "Zone")),
        id
      );
      const pressure = this.#input("Pressure", (typed4, p) => setPressure(p, id, typed4), id);
      const cells = Array.from({ length: 7 }, (_, i) => h("td", i > 4 ? { class: "words" } : {}));
      const [putHere, acts] = this.#acts(id);
      const el = h("tr", {}, station.cell, name.cell, pressure.cell, ...cells, acts);
      return {
        el,
        update: () => {
          const p = this.board.plan;
          const z = find(p, "zones", id);
          if (!z) return;
          station.control.show({ value: z.station ? String(z.station) : "", mixed: false, choices: [] });
          name.control.show({ value: z.name, mixed: false, choices: [] });
          pressure.control.show({ value: pressureText(z.pressure_psi, p), mixed: false, choices: [] });
          putHere.disabled = this.#selected().length === 0;
          const r = this.board.design?.zones.find((r2) => r2.id === id);
          for (const [i, t] of figures(r, headsOf(p, id).length).entries()) setText(cells[i], t);
          setAttr(cells[5], "data-rank", r?.matched_rank || null);
        }
      };
    }
    #input(label, set3, id) {
      const take = (typed4) => {
        const next = set3(typed4, this.board.committed);
        if (!next.ok) return next.sentence;
        const name = find(this.board.committed, "zones", id)?.name ?? "";
        void this.board.commit(`Set ${label.toLowerCase()} of zone ${name}`, next.value);
        return null;
      };
      const control = new Control(label, "text", "", take, label === "Pressure" ? "best" : "");
      return { control, cell: h("td", { class: `in ${label.toLowerCase()}` }, control.el) };
    }
    #acts(id) {
      const name = () => find(this.board.committed, "zones", id)?.name ?? "";
      const refs = () => headsOf(this.board.plan, id).map(headRef);
      const select = button("Select", () => {
        this.board.select(refs());
        this.board.lookAt({ about: refs(), gentle: true });
      });
      const putHere = button("Put selected here", () => this.#put(id));
      const tags = button("Renumber", () => {
        void this.board.commit(`Renumber the heads of ${name()}`, renumber(this.board.committed, id));
      });
      const gone = button("Delete", () => {
        void this.board.commit(`Delete zone ${name()}`, removeZone(this.board.committed, id));
        this.board.announce("Zone deleted; its heads stay. Undo brings it back.");
      });
      gone.classList.add("grave");
      return [putHere, h("td", { class: "row-acts" }, select, putHere, tags, gone)];
    }
  };
  var headRef = (id) => `heads/${id}`;
  function button(label, run2) {
    return h("button", { type: "button", class: "small", onclick: run2 }, label);
  }
  function figures(r, headCount) {
    if (!r) return [String(headCount), "", "", "", "", "", ""];
    return [String(headCount), r.flow, r.rate_flow, r.rate_spacing, r.rate_grid, r.matched, r.plantings];
  }
  function pressureText(psi, p) {
    if (!psi) return "";
    return p.show === "metric" ? `${Number((psi * barPerPSI2).toFixed(2))} bar` : `${Number(psi.toFixed(1))} psi`;
  }
  function setPressure(p, id, typed4) {
    const t = typed4.trim().toLowerCase();
    if (t === "") return read(setAll(p, "zones", [id], "pressure_psi", void 0));
    const bar = t.endsWith("bar") || p.show === "metric" && !t.endsWith("psi");
    const v = parseNumber(t.replace(/(psi|bar)$/, ""), bar ? "bar" : "psi", bar ? 0.3 : 5, bar ? 10 : 150);
    return v.ok ? read(setAll(p, "zones", [id], "pressure_psi", bar ? v.value / barPerPSI2 : v.value)) : v;
  }

  // web/editor/desk.ts
  var Desk = class {
    constructor(onAnnounce) {
      this.onAnnounce = onAnnounce;
    }
    onAnnounce;
    hover = null;
    look = null;
    notice = null;
    #tool = "select";
    #selection = /* @__PURE__ */ new Set();
    #listeners = /* @__PURE__ */ new Map();
    get selection() {
      return this.#selection;
    }
    get tool() {
      return this.#tool;
    }
    /** Calls fn whenever the topic changes; the returned function stops it. */
    subscribe(topic, fn) {
      const set3 = this.#listeners.get(topic) ?? /* @__PURE__ */ new Set();
      this.#listeners.set(topic, set3);
      set3.add(fn);
      return () => set3.delete(fn);
    }
    emit(topic) {
      for (const fn of [...this.#listeners.get(topic) ?? []]) fn();
    }
    setTool(name) {
      if (name === this.#tool) return;
      this.#tool = name;
      this.emit("tool");
    }
    setHover(r) {
      if (r === this.hover) return;
      this.hover = r;
      this.emit("hover");
    }
    select(refs, how = "set") {
      const next = new Set(how === "set" ? [] : this.#selection);
      for (const r of refs) {
        const off = how === "remove" || how === "toggle" && next.has(r);
        if (off) next.delete(r);
        else if (has(this.plan, r)) next.add(r);
      }
      if (next.size === this.#selection.size && [...next].every((r) => this.#selection.has(r))) return;
      this.#selection = next;
      this.emit("selection");
    }
    /** Lets go of what the plan no longer has. */
    pruneSelection() {
      this.select([...this.#selection]);
    }
    /** Asks the drawing to bring things or a place into view. */
    lookAt(look) {
      this.look = { about: look.about ?? [], at: look.at, gentle: look.gentle ?? false };
      this.emit("look");
    }
    /** Says a sentence to screen readers, politely. */
    announce(text2) {
      this.onAnnounce(text2);
    }
    /** Shows a sentence until it is dismissed or replaced. */
    show(notice) {
      this.notice = notice;
      this.emit("notice");
      if (notice) this.announce(notice.sentence);
    }
  };

  // web/editor/outbox.ts
  var pauses2 = [300, 600, 1200, 2500, 5e3];
  var Outbox = class {
    constructor(owner, wait = (ms) => new Promise((r) => setTimeout(r, ms))) {
      this.owner = owner;
      this.wait = wait;
    }
    owner;
    wait;
    #steps = [];
    #busy = false;
    #tries = 0;
    #stopped = false;
    #hurry = null;
    #idle = [];
    trouble = null;
    /** Steps not acknowledged yet, oldest first; the first may be under way. */
    get steps() {
      return this.#steps;
    }
    get stopped() {
      return this.#stopped;
    }
    add(step3) {
      this.#steps.push(step3);
      this.owner.changed();
      void this.#run();
    }
    /** Takes the newest step back if it has never been sent. */
    takeBack() {
      const first = this.#busy ? 1 : 0;
      if (this.#steps.length <= first) return void 0;
      const step3 = this.#steps.pop();
      this.owner.changed();
      this.#settle();
      return step3;
    }
    /** Forgets everything unsent and starts afresh. */
    clear() {
      this.#steps = [];
      this.#stopped = false;
      this.trouble = null;
      this.#tries = 0;
      this.owner.changed();
      this.#settle();
    }
    /** Tries at once instead of waiting out the pause. */
    kick() {
      this.#hurry?.();
    }
    /** Resolves when nothing is left to send, or when the outbox has stopped. */
    idle() {
      if (this.#steps.length === 0 || this.#stopped) return Promise.resolve();
      return new Promise((r) => this.#idle.push(r));
    }
    async #run() {
      if (this.#busy) return;
      this.#busy = true;
      while (!this.#stopped && this.#steps[0]) {
        const step3 = this.#steps[0];
        const answer = await this.owner.send(step3, this.#tries > 0);
        if (this.#steps[0] !== step3) continue;
        if (answer.ok) this.#stored(step3, answer.value);
        else await this.#failed(step3, answer);
      }
      this.#busy = false;
      this.#settle();
    }
    #stored(step3, answer) {
      this.#steps.shift();
      this.#tries = 0;
      this.trouble = null;
      this.owner.stored(step3, answer);
      this.owner.changed();
      step3.done({ saved: true });
    }
    async #failed(step3, why) {
      if (why.status === 412 || why.status === 404) {
        this.#stopped = true;
        this.trouble = why;
        this.owner.changed();
        this.owner.stale(why);
        return;
      }
      if (why.status >= 400 && why.status < 500 && why.status !== 408 && why.status !== 429) {
        this.#steps.shift();
        this.#tries = 0;
        this.owner.refused(step3, why);
        this.owner.changed();
        step3.done({ saved: false, failure: why });
        return;
      }
      this.trouble = why;
      this.owner.changed();
      const pause = pauses2[Math.min(this.#tries++, pauses2.length - 1)];
      await Promise.race([this.wait(pause), new Promise((r) => this.#hurry = r)]);
      this.#hurry = null;
    }
    #settle() {
      if (this.#steps.length > 0 && !this.#stopped) return;
      for (const r of this.#idle.splice(0)) r();
    }
  };

  // web/editor/state.ts
  var nudgePause = 500;
  var Board = class extends Desk {
    id;
    api;
    channel = null;
    catalog = { nozzles: [], bodies: [] };
    design = null;
    conflict = null;
    undoLabel;
    redoLabel;
    rev;
    #base;
    // the stored document of rev
    #plan;
    // with everything done since
    #draft = null;
    #outbox;
    #held = null;
    #backed = [];
    // steps taken back before they were ever sent
    #savedAt = null;
    #pushed;
    #queue = Promise.resolve();
    #now;
    #journal;
    constructor(o) {
      super(o.onAnnounce ?? (() => {
      }));
      this.id = o.id;
      this.api = o.api;
      this.rev = o.rev;
      this.#pushed = o.rev;
      this.#base = o.doc;
      this.#plan = o.doc;
      this.undoLabel = o.undo;
      this.redoLabel = o.redo;
      this.#now = o.now ?? (() => /* @__PURE__ */ new Date());
      this.#journal = o.journal;
      this.#outbox = new Outbox(this.#owner(), o.wait);
    }
    /** What is on the board now: the gesture's draft, or the document. Never change it in place. */
    get plan() {
      return this.#draft ?? this.#plan;
    }
    /** The document without the gesture in progress, unsent steps included. */
    get committed() {
      return this.#plan;
    }
    get drafting() {
      return this.#draft !== null;
    }
    get saved() {
      const count2 = this.#outbox.steps.length + (this.#held ? 1 : 0);
      if (this.conflict) return { state: "conflict", count: count2 };
      if (count2 === 0) return { state: "yes", at: this.#savedAt };
      const trouble = this.#outbox.trouble;
      return trouble ? { state: "no", count: count2, why: trouble.error } : { state: "saving", count: count2 };
    }
    get canRedo() {
      return this.redoLabel !== "" || this.#backed.length > 0;
    }
    /** Shows a gesture in progress: nothing is stored, the map follows. */
    preview(next) {
      this.#draft = next;
      this.emit("plan");
      this.#showLive();
    }
    /** Drops the gesture in progress. */
    cancel() {
      if (!this.#draft) return;
      this.#draft = null;
      this.pruneSelection();
      this.emit("plan");
      this.#showLive();
    }
    /**
     * Makes one step of the difference between the document and next, applied at
     * once and sent to the server. Steps given the same merge key in quick
     * succession (nudges) become one.
     */
    commit(label, next, merge) {
      this.#draft = null;
      if (isEmpty(diff(this.#plan, next))) {
        this.emit("plan");
        this.#showLive();
        return Promise.resolve({ saved: true });
      }
      if (this.#held && this.#held.key !== merge) this.flush();
      const before = this.#plan;
      this.#plan = next;
      this.#backed = [];
      this.redoLabel = "";
      this.undoLabel = label;
      const verdict = merge ? this.#hold(merge, label, before) : this.#send(label, diff(before, next));
      this.pruneSelection();
      this.emit("plan");
      this.emit("steps");
      this.#showLive();
      return verdict;
    }
    #hold(key2, label, before) {
      if (this.#held) clearTimeout(this.#held.timer);
      const timer = setTimeout(() => this.flush(), nudgePause);
      this.#held = { key: key2, label, before: this.#held?.before ?? before, timer };
      this.emit("saved");
      return Promise.resolve({ saved: true });
    }
    /** Sends what waits for a possible next nudge, and tries again at once if the server was away. */
    flush() {
      const held = this.#held;
      this.#held = null;
      if (held) {
        clearTimeout(held.timer);
        const patch = diff(held.before, this.#plan);
        if (!isEmpty(patch)) void this.#send(held.label, patch);
        else this.emit("saved");
      }
      this.#outbox.kick();
    }
    #send(label, patch) {
      return new Promise((done2) => this.#outbox.add({ label, patch, done: done2 }));
    }
    undo() {
      return this.#inTurn(() => this.#undoOne());
    }
    redo() {
      return this.#inTurn(() => this.#redoOne());
    }
    // Undo and redo wait for each other, so that three quick presses are three steps.
    #inTurn(job) {
      this.#queue = this.#queue.then(job);
      return this.#queue;
    }
    async #undoOne() {
      this.cancel();
      this.flush();
      const back2 = this.#outbox.takeBack();
      if (back2) {
        back2.done({ saved: true });
        this.#backed.push(back2);
        this.#rebuild();
        this.#told("Undid", back2.label, touched(back2.patch));
        return;
      }
      await this.#outbox.idle();
      if (this.conflict) return;
      if (!this.undoLabel) return this.announce("Nothing to undo.");
      this.#stepped("Undid", await this.api.undo(this.id, this.rev));
    }
    async #redoOne() {
      this.cancel();
      this.flush();
      const again = this.redoLabel ? void 0 : this.#backed.pop();
      if (again) {
        const rest = this.#backed;
        void this.commit(again.label, apply(this.#plan, again.patch));
        this.#backed = rest;
        this.#told("Redid", again.label, touched(again.patch));
        return;
      }
      await this.#outbox.idle();
      if (this.conflict) return;
      if (!this.redoLabel) return this.announce("Nothing to redo.");
      this.#stepped("Redid", await this.api.redo(this.id, this.rev));
    }
    #stepped(did2, answer) {
      if (answer.ok) {
        this.#savedAt = this.#now();
        this.#take(answer.value);
        this.#told(did2, answer.value.label, answer.value.about);
        return;
      }
      if (answer.status === 412)
        void this.reload("This plan was changed in another tab. You now see it as it is stored.");
      else this.show({ kind: "problem", sentence: answer.error });
    }
    #told(did2, label, about) {
      const left = about.filter((r) => has(this.plan, r));
      this.select(left);
      if (left.length > 0) this.lookAt({ about: left, gentle: true });
      this.announce(`${did2}: ${label.charAt(0).toLowerCase()}${label.slice(1)}`);
      this.emit("steps");
    }
    /** The server says the plan has a new revision. */
    pushed(rev) {
      this.#pushed = Math.max(this.#pushed, rev);
      this.#follow();
    }
    #follow() {
      const busy = this.#outbox.steps.length > 0 || this.#held || this.#draft || this.conflict;
      if (this.#pushed > this.rev && !busy) void this.reload();
    }
    /** Takes the plan as it is stored, unless something unsent came between. */
    async reload(why) {
      const answer = await this.api.load(this.id);
      if (!answer.ok) {
        if (answer.status === 404) this.#stale(answer);
        return;
      }
      if (this.#outbox.steps.length > 0 || this.#held || answer.value.rev < this.rev) return;
      this.#take(answer.value);
      if (why) this.announce(why);
    }
    #take(s2) {
      this.#base = s2.doc;
      this.#plan = s2.doc;
      this.#draft = null;
      this.rev = s2.rev;
      this.undoLabel = s2.undo;
      this.redoLabel = s2.redo;
      this.pruneSelection();
      this.emit("plan");
      this.emit("steps");
      this.emit("saved");
      this.#showLive();
    }
    /** After a conflict: what is stored replaces what is here. */
    async takeTheirs() {
      const answer = await this.api.load(this.id);
      if (!answer.ok) return this.show({ kind: "problem", sentence: answer.error });
      this.#dropUnsent();
      this.#take(answer.value);
    }
    /** After a conflict: what is here becomes a plan of its own; resolves to its id. */
    async keepMine() {
      const name = `${this.#plan.name} (my copy)`;
      const answer = await this.api.create(name, this.#plan.show, { ...clone(this.#plan), name });
      if (!answer.ok) {
        this.show({ kind: "problem", sentence: answer.error });
        return null;
      }
      this.#dropUnsent();
      this.#plan = this.#base;
      return answer.value.id;
    }
    #dropUnsent() {
      if (this.#held) clearTimeout(this.#held.timer);
      this.#held = null;
      this.#backed = [];
      this.conflict = null;
      this.#outbox.clear();
      this.emit("conflict");
    }
    #owner() {
      return {
        send: (step3, again) => this.#deliver(step3, again),
        stored: (step3, answer) => {
          this.#base = apply(this.#base, step3.patch);
          this.rev = answer.rev;
          this.#savedAt = this.#now();
          if (this.#outbox.steps.length === 0 && !this.#held) {
            this.undoLabel = answer.undo;
            this.redoLabel = answer.redo;
          }
          this.emit("steps");
          this.#showLive();
          queueMicrotask(() => this.#follow());
        },
        refused: (step3, why) => this.#refused(step3, why),
        stale: (why) => this.#stale(why),
        changed: () => {
          this.#keep();
          this.emit("saved");
        }
      };
    }
    // What is not stored yet is also kept in the browser, for a tab that dies.
    #keep() {
      const steps4 = this.#outbox.steps.map(({ label, patch }) => ({ label, patch }));
      this.#journal?.keep(steps4.length > 0 ? { rev: this.rev, doc: this.#plan, steps: steps4 } : null);
    }
    /** Makes the steps a dead tab left behind again and says how many; null when the plan has moved on since. */
    resume(kept2) {
      const [first, ...rest] = kept2.steps;
      if (!first) return 0;
      const undone = isEmpty(diff(this.#plan, apply(this.#plan, first.patch)));
      const lost = kept2.rev + 1 === this.rev && this.undoLabel === first.label && undone;
      if (kept2.rev !== this.rev && !lost) return null;
      const again = lost ? rest : kept2.steps;
      for (const { label, patch } of again) void this.commit(label, apply(this.#plan, patch));
      return again.length;
    }
    // An answer may be lost after the step was stored. Then the next try is
    // refused as stale, although the only newer revision is our own.
    async #deliver(step3, again) {
      const answer = await this.api.commit(this.id, this.rev, step3.patch, step3.label);
      if (answer.ok || answer.status !== 412 || !again) return answer;
      const now = await this.api.load(this.id);
      if (!now.ok) return now.status === 0 ? now : answer;
      const { doc, rev, undo, redo } = now.value;
      const ours = rev === this.rev + 1 && undo === step3.label && isEmpty(diff(doc, apply(doc, step3.patch)));
      return ours ? { ok: true, value: { rev, undo, redo } } : answer;
    }
    #refused(step3, why) {
      this.#rebuild();
      const more = why.problems.map((p) => p.sentence).filter((s2) => s2 !== why.error);
      this.show({ kind: "problem", sentence: `“${step3.label}” was not kept. ${why.error}`, more });
    }
    #stale(why) {
      this.conflict = why;
      this.emit("conflict");
      this.emit("saved");
    }
    #rebuild() {
      let plan2 = this.#base;
      for (const s2 of this.#outbox.steps) plan2 = apply(plan2, s2.patch);
      this.#plan = plan2;
      this.#draft = null;
      this.pruneSelection();
      this.emit("plan");
      this.emit("steps");
      this.#showLive();
    }
    #showLive() {
      this.channel?.show(this.rev, diff(this.#base, this.plan));
    }
  };

  // web/editor/theme.ts
  var key = "evenfall-theme";
  var dark = () => matchMedia("(prefers-color-scheme: dark)");
  var chosen2 = () => localStorage.getItem(key) ?? "";
  function theme() {
    const own2 = chosen2();
    if (own2 === "light" || own2 === "dark") return own2;
    return dark().matches ? "dark" : "light";
  }
  var listeners = [];
  function whenThemed(fn) {
    listeners.push(fn);
  }
  function followTheme() {
    const list3 = document.getElementById("theme");
    const apply2 = () => {
      const own2 = chosen2();
      if (own2) document.documentElement.dataset.theme = own2;
      else delete document.documentElement.dataset.theme;
      if (list3) list3.value = own2;
      for (const fn of listeners) fn(theme());
    };
    list3?.addEventListener("change", () => {
      if (list3.value) localStorage.setItem(key, list3.value);
      else localStorage.removeItem(key);
      apply2();
    });
    dark().addEventListener("change", apply2);
    apply2();
  }

  // web/editor/main.ts
  async function start2() {
    followTheme();
    const id = document.documentElement.dataset.plan ?? "";
    const stored = await server.load(id);
    if (!stored.ok) return showFailure(stored.error);
    const live = byID("live");
    const journal = new TabJournal(id);
    const board = new Board({
      id,
      ...stored.value,
      api: server,
      journal,
      onAnnounce: (text2) => {
        live.textContent = "";
        requestAnimationFrame(() => {
          live.textContent = text2;
        });
      }
    });
    void loadCatalog(board);
    showBoard(board);
    void bringBack(board, journal);
  }
  function showFailure(sentence) {
    const el = byID("notice");
    el.hidden = false;
    const again = h(
      "button",
      { type: "button", class: "small", onclick: () => location.reload() },
      "Try again"
    );
    el.replaceChildren(h("p", {}, "The plan could not be opened. ", sentence), again);
  }
  async function loadCatalog(board) {
    for (; ; ) {
      const answer = await server.catalog();
      if (answer.ok) {
        board.catalog = { nozzles: answer.value.nozzles ?? [], bodies: answer.value.bodies ?? [] };
        board.emit("catalog");
        return;
      }
      await new Promise((r) => setTimeout(r, 2e3));
    }
  }
  function showBoard(board) {
    const drawing = new Drawing(board, {
      board: byID("board"),
      svg: byID("scene"),
      entry: byID("entry"),
      status: byID("status")
    });
    const heat = new Heat(byID("heat"), theme());
    const legend = new Legend(heat, theme());
    whenThemed((t) => {
      heat.setTheme(t);
      legend.paint(t);
    });
    heat.follow(drawing.view);
    board.subscribe("view", () => heat.follow(drawing.view));
    showPanels(board, drawing, heat);
    connect(board, heat);
    hook(board, drawing);
  }
  function showPanels(board, drawing, heat) {
    showSaved(board);
    showNotices(board);
    settleConflicts(board);
    const settings = planSettings(board);
    new Readings(board, settings.open);
    new Findings(board);
    new Selected(board);
    const side = new Tabs(byID("side"), false);
    const drawer = new Tabs(byID("drawer"), true, (panel) => {
      byID("drawer").toggleAttribute("data-open", panel !== null);
      objects.open();
      void history.refresh();
    });
    const objects = new Objects2(
      board,
      () => drawer.open === "objects",
      () => drawing.kit
    );
    const history = new History(board, () => drawer.open === "history");
    new Zones(board);
    new Parts(board);
    new Toolbar(board, drawing);
    showPointer(board, drawing, heat);
    nozzleImport(board);
    showEmpty(board, () => drawing.commands.run("tool.outline", (why) => board.announce(why)));
    showDemoNote(board);
    steps3(board, drawing);
    menus();
    byID("keys").addEventListener("click", showKeys);
    board.subscribe("selection", () => {
      if (byID("side").contains(document.activeElement)) return;
      side.show(board.selection.size > 0 ? "selected" : "findings");
    });
  }
  function steps3(board, drawing) {
    for (const which of ["undo", "redo"]) {
      const button2 = byID(which);
      const command = drawing.commands.get(`edit.${which}`);
      button2.addEventListener("click", () => drawing.commands.run(command.id, (why) => board.announce(why)));
      const show = () => {
        const label = which === "undo" ? board.undoLabel : board.redoLabel;
        const can = command.enabled();
        button2.disabled = can !== true;
        button2.title = can === true ? `${label ? `${command.title}: ${label}` : command.title} (${command.keys[0]})` : can;
      };
      for (const topic of ["steps", "tool", "plan"]) board.subscribe(topic, show);
      show();
    }
    window.addEventListener("pagehide", () => board.flush());
    document.addEventListener("keydown", (e) => {
      if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "s") {
        e.preventDefault();
        board.flush();
        board.announce(board.saved.state === "yes" ? "Everything is saved." : "Saving now.");
      }
    });
  }
  function menus() {
    for (const menu of document.querySelectorAll("details.menu")) {
      const close = (e) => {
        if (!menu.contains(e.target)) menu.open = false;
      };
      document.addEventListener("pointerdown", close);
      menu.querySelector("ul")?.addEventListener("click", () => {
        menu.open = false;
      });
      menu.addEventListener("focusout", (e) => {
        if (e.relatedTarget && !menu.contains(e.relatedTarget)) menu.open = false;
      });
      menu.addEventListener("keydown", (e) => {
        if (e.key !== "Escape" || !menu.open) return;
        menu.open = false;
        menu.querySelector("summary")?.focus();
        e.stopPropagation();
      });
    }
  }
  function connect(board, heat) {
    const url = new URL(`/api/plans/${encodeURIComponent(board.id)}/live`, location.href);
    url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
    let newest = null;
    const paint = eachFrame(() => {
      const f = newest;
      newest = null;
      if (!f) return;
      heat.paint();
      board.design = f.design;
      board.emit("design");
      const root = document.documentElement.dataset;
      root.paintedSeq = String(f.seq);
      root.painted = String(f.rev);
    });
    const live = new Live(() => new WebSocket(url), {
      frame: (f) => {
        heat.take(f);
        if (f.rev !== board.rev) return;
        newest = f;
        paint();
      },
      pushed: (rev) => board.pushed(rev),
      refused: (sentence) => board.announce(sentence),
      opened: () => {
        delete document.body.dataset.away;
        board.flush();
      },
      closed: () => {
        document.body.dataset.away = "";
      }
    });
    board.channel = live;
    board.subscribe("saved", () => {
      if (board.saved.state === "yes") live.hurry();
    });
    live.show(board.rev, {});
    live.open();
    void firstReadings(board);
  }
  async function firstReadings(board) {
    const answer = await server.board(board.id);
    if (!answer.ok || board.design) return;
    board.design = answer.value;
    board.emit("design");
  }
  function hook(board, drawing) {
    const corner2 = () => byID("board").getBoundingClientRect();
    Object.assign(window, {
      evenfall: {
        board,
        drawing,
        pixels: ([x, y]) => {
          const { px, py } = toPixel(drawing.view, [x, y]);
          return [px + corner2().left, py + corner2().top];
        },
        feet: ([px, py]) => toFeet(drawing.view, pixel(px - corner2().left, py - corner2().top)),
        get state() {
          return {
            plan: board.plan,
            rev: board.rev,
            selection: [...board.selection],
            tool: board.tool,
            saved: board.saved,
            design: board.design
          };
        }
      }
    });
  }
  void start2();
})();
