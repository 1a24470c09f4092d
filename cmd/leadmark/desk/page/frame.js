// One frame, large: what was found drawn over it, and what a person puts right.
import { get, post, el, draw, say, slip, wrong, sentence, formNumber, follow } from "./base.js";

const root = document.getElementById("frame"), run = root.dataset.run, file = root.dataset.file;
const $ = (id) => document.getElementById(id);
const stage = $("stage"), canvas = stage.querySelector("canvas"), svg = stage.querySelector("svg"), ctx = canvas.getContext("2d", { alpha: false });
const picture = new Image();
const view = { k: 0, x: 0, y: 0 }; // k: screen px of one picture px; x, y: picture place at the stage's upper left
let marks = null, state = null, ready = false, marking = null, rev = -1;
const held = {}; // lines being moved, by name: how far along the axis, px

const order = new Intl.Collator("en", { numeric: true }).compare;
const address = (name) => `${run}/frame/${encodeURIComponent(name)}`;

// --- the view ---

// The centre of the top-left pixel is (0, 0): its corner lies at -0.5.
const toScreen = (px, py) => [(px + 0.5 - view.x) * view.k, (py + 0.5 - view.y) * view.k];
const toPicture = (sx, sy) => [sx / view.k + view.x - 0.5, sy / view.k + view.y - 0.5];

function fit() {
  const w = stage.clientWidth, h = stage.clientHeight;
  view.k = Math.min(w / picture.naturalWidth, h / picture.naturalHeight);
  view.x = (picture.naturalWidth - w / view.k) / 2;
  view.y = (picture.naturalHeight - h / view.k) / 2;
  paint();
}

function zoom(factor, sx = stage.clientWidth / 2, sy = stage.clientHeight / 2) {
  const least = 0.5 * Math.min(stage.clientWidth / picture.naturalWidth, stage.clientHeight / picture.naturalHeight);
  const k = Math.min(Math.max(view.k * factor, least), 48);
  view.x += sx / view.k - sx / k;
  view.y += sy / view.k - sy / k;
  view.k = k;
  paint();
}

function lookAt(p, k) {
  view.k = k;
  view.x = p[0] + 0.5 - stage.clientWidth / 2 / k;
  view.y = p[1] + 0.5 - stage.clientHeight / 2 / k;
  paint();
}

let painting = false;
function paint() {
  if (painting) return;
  painting = true;
  requestAnimationFrame(() => { painting = false; paintNow(); });
}

function paintNow() {
  const ratio = devicePixelRatio || 1, w = stage.clientWidth, h = stage.clientHeight;
  if (canvas.width !== Math.round(w * ratio)) canvas.width = Math.round(w * ratio);
  if (canvas.height !== Math.round(h * ratio)) canvas.height = Math.round(h * ratio);
  ctx.setTransform(1, 0, 0, 1, 0, 0);
  ctx.fillStyle = "#0b0f10";
  ctx.fillRect(0, 0, canvas.width, canvas.height);
  if (ready) {
    ctx.imageSmoothingEnabled = view.k * ratio < 3; // single pixels are to be seen as squares
    ctx.imageSmoothingQuality = "high";
    const sx = Math.max(0, Math.floor(view.x)), sy = Math.max(0, Math.floor(view.y));
    const ex = Math.min(picture.naturalWidth, Math.ceil(view.x + w / view.k)), ey = Math.min(picture.naturalHeight, Math.ceil(view.y + h / view.k));
    if (ex > sx && ey > sy) ctx.drawImage(picture, sx, sy, ex - sx, ey - sy, (sx - view.x) * view.k * ratio, (sy - view.y) * view.k * ratio, (ex - sx) * view.k * ratio, (ey - sy) * view.k * ratio);
  }
  $("zoom").textContent = view.k ? `${view.k >= 1 ? Math.round(view.k * 10) / 10 : Math.round(view.k * 100) / 100} screen pixels to one` : "";
  over();
}

// --- what is drawn over the picture ---

const line = (s, add = [0, 0]) => { const a = toScreen(s[0] + add[0], s[1] + add[1]), b = toScreen(s[2] + add[0], s[3] + add[1]); return `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`; };

function over() {
  svg.setAttribute("viewBox", `0 0 ${stage.clientWidth} ${stage.clientHeight}`);
  const kept = svg.querySelector(".back") || svg.appendChild(draw("g", { class: "back", "aria-hidden": "true" }));
  const list = [];
  if (marks && marks.status === "read") {
    if (marks.outline) list.push(draw("path", { class: "outline", d: "M" + marks.outline.map((p) => toScreen(p[0], p[1]).map((v) => v.toFixed(1)).join(" ")).join("L") + "Z" }));
    const wide = marks.lines.length > 1 ? Math.hypot(marks.lines[1].at[0] - marks.lines[0].at[0], marks.lines[1].at[1] - marks.lines[0].at[1]) * view.k : 0;
    const shown = marks.lines.filter((t) => t.whole || wide > 4);
    const d = shown.map((t) => line(t.at)).join("");
    list.push(draw("path", { class: "case ticks", d }), draw("path", { class: "ticks", d }));
    for (const t of marks.lines) if (t.whole && wide * 10 > 34) { const p = toScreen(t.at[2], t.at[3]); list.push(draw("text", { class: "tens", x: p[0], y: p[1] + 16, "text-anchor": "middle" }, String(t.mm))); }
  }
  kept.replaceChildren(...list);
  grips();
}

// axis is the way along which lines are moved: the ruler's, else the run's.
function axis() {
  if (marks && (marks.axis_x || marks.axis_y)) return [marks.axis_x, marks.axis_y];
  return { left: [1, 0], right: [1, 0] }[state?.travel] || [0, 1];
}

const names = { front: "Front end", trip: "Trip line" };

// grips are the lines that can be moved: the front end, the trip line, and two points while the ruler is marked.
function grips() {
  const want = {};
  if (marks?.front) want.front = marks.front;
  if (state?.trip) want.trip = state.trip;
  for (const name of ["front", "trip"]) {
    let g = svg.querySelector(`.grip.${name}`);
    if (!want[name]) { g?.remove(); continue; }
    if (!g) { g = lineGrip(name); svg.append(g); }
    const a = axis(), by = held[name] || 0, d = line(want[name], [a[0] * by, a[1] * by]);
    for (const p of g.querySelectorAll("path")) p.setAttribute("d", d);
    g.classList.toggle("far", !seen(want[name], [a[0] * by, a[1] * by]));
    const mid = toScreen((want[name][0] + want[name][2]) / 2 + a[0] * by, (want[name][1] + want[name][3]) / 2 + a[1] * by);
    const x = Math.min(Math.max(mid[0], 14), stage.clientWidth - 14), y = Math.min(Math.max(mid[1], 14), stage.clientHeight - 14);
    const dot = g.querySelector("circle");
    dot.setAttribute("cx", x); dot.setAttribute("cy", y);
    const t = g.querySelector("text");
    const right = x > stage.clientWidth - 130;
    const low = y > stage.clientHeight - 40 || (name === "trip" && y > 34);
    t.setAttribute("x", x + (right ? -14 : 14)); t.setAttribute("y", y + (low ? -14 : 24)); t.setAttribute("text-anchor", right ? "end" : "start");
    const at = along(want[name]) + by;
    g.setAttribute("aria-valuenow", at.toFixed(1));
    g.setAttribute("aria-valuetext", `${at.toFixed(1)} pixels along the ruler` + (by ? `, moved by ${by.toFixed(1)}` : ""));
  }
  markGrips();
}

// seen says whether some of a line is in view.
function seen(s, add) {
  const w = stage.clientWidth, h = stage.clientHeight;
  for (let k = 0; k <= 24; k++) {
    const [x, y] = toScreen(s[0] + add[0] + ((s[2] - s[0]) * k) / 24, s[1] + add[1] + ((s[3] - s[1]) * k) / 24);
    if (x >= 0 && x <= w && y >= 0 && y <= h) return true;
  }
  return false;
}

// along is how far a line lies along the axis.
const along = (s) => { const a = axis(); return ((s[0] + s[2]) * a[0] + (s[1] + s[3]) * a[1]) / 2; };

function lineGrip(name) {
  const size = Math.hypot(picture.naturalWidth, picture.naturalHeight).toFixed(0);
  const g = draw("g", { class: `grip ${name}`, tabindex: "0", role: "slider", "aria-label": names[name], "aria-valuemin": -size, "aria-valuemax": size, "aria-valuenow": "0" },
    draw("path", { class: "hit" }), draw("path", { class: "case" }), draw("path", { class: "line" }), draw("circle", { class: "dot", r: 8 }), draw("text", { class: "name", "aria-hidden": "true" }, names[name]));
  let from = null;
  g.addEventListener("focus", () => { // with the keyboard one comes to lines that are out of view
    const s = name === "front" ? marks?.front : state?.trip;
    if (s && g.classList.contains("far")) lookAt(name === "trip" ? crossing() || middle(s) : middle(s), view.k);
  });
  g.addEventListener("pointerdown", (e) => {
    if (e.button !== 0) return;
    e.stopPropagation(); e.preventDefault();
    g.focus(); g.setPointerCapture(e.pointerId);
    from = [e.clientX, e.clientY, held[name] || 0];
  });
  g.addEventListener("pointermove", (e) => {
    if (!from) return;
    const a = axis();
    held[name] = from[2] + ((e.clientX - from[0]) * a[0] + (e.clientY - from[1]) * a[1]) / view.k;
    grips();
  });
  const end = () => { if (from) { from = null; keep(name); } };
  g.addEventListener("pointerup", end);
  g.addEventListener("pointercancel", () => { from = null; held[name] = 0; grips(); });
  g.addEventListener("keydown", (e) => {
    const step = e.shiftKey ? 0.1 : 1, a = axis();
    const way = { ArrowRight: a[0], ArrowLeft: -a[0], ArrowDown: a[1], ArrowUp: -a[1] }[e.key];
    const level = Math.abs(a[0]) > Math.abs(a[1]);
    if (e.key === "Escape" && held[name]) { held[name] = 0; grips(); say("left as it was"); return; }
    if (way === undefined || level !== /Left|Right/.test(e.key)) { if (way !== undefined) e.preventDefault(), e.stopPropagation(); return; }
    e.preventDefault(); e.stopPropagation();
    held[name] = (held[name] || 0) + Math.sign(way) * step;
    grips();
    clearTimeout(g.pause);
    g.pause = setTimeout(() => keep(name), 500);
  });
  return g;
}

// keep writes a moved line down; what it does to the result comes by itself.
async function keep(name) {
  const by = held[name];
  if (!by || Math.abs(by) < 0.05) { held[name] = 0; grips(); return; }
  const a = axis();
  try {
    let body;
    if (name === "front") {
      const at = marks.front_at || [(marks.front[0] + marks.front[2]) / 2, (marks.front[1] + marks.front[3]) / 2];
      body = { file, front_px: [at[0] + a[0] * by, at[1] + a[1] * by] };
    } else {
      const t = state.trip;
      body = { trip_px: [t[0] + a[0] * by, t[1] + a[1] * by, t[2] + a[0] * by, t[3] + a[1] * by], trip_u_mm: formNumber($("trip-u")) ?? 0.5 };
    }
    const shape = name === "front" ? marks.front : state.trip;
    for (let i = 0; i < 4; i++) shape[i] += a[i % 2] * by; // shown where it was put until the answer is there
    if (name === "front" && marks.front_at) marks.front_at = [marks.front_at[0] + a[0] * by, marks.front_at[1] + a[1] * by];
    held[name] = 0;
    await change(body);
  } catch (e) { held[name] = 0; grips(); wrong(e); await load(); }
}

async function change(body) {
  const done = await post(`${run}/correct`, body);
  slip(sentence(done.undo), async () => { slip((await post(`${run}/undo`, {})).done); });
}

// --- marking the ruler ---

function markGrips() {
  for (const i of [0, 1]) {
    let g = svg.querySelector(`.grip.mark.p${i}`);
    if (!marking) { g?.remove(); continue; }
    if (!g) { g = pointGrip(i); svg.append(g); }
    const [x, y] = toScreen(...marking[i]), [u, v] = toScreen(...marking[1 - i]);
    g.querySelector(".line").setAttribute("d", i === 0 ? `M${x} ${y}L${u} ${v}` : `M${x} ${y}`);
    for (const c of g.querySelectorAll("circle")) { c.setAttribute("cx", x); c.setAttribute("cy", y); }
    g.setAttribute("aria-valuenow", marking[i][0].toFixed(0));
    g.setAttribute("aria-valuetext", `${marking[i][0].toFixed(0)} across, ${marking[i][1].toFixed(0)} down`);
  }
}

function pointGrip(i) {
  const g = draw("g", { class: `grip mark p${i}`, tabindex: "0", role: "slider", "aria-label": i === 0 ? "One end of the graduations" : "The other end", "aria-valuemin": "0", "aria-valuemax": String(picture.naturalWidth), "aria-valuenow": "0" },
    draw("path", { class: "line" }), draw("circle", { class: "hit", r: 14 }), draw("circle", { class: "dot", r: 9 }));
  let from = null;
  g.addEventListener("pointerdown", (e) => { e.stopPropagation(); e.preventDefault(); g.focus(); g.setPointerCapture(e.pointerId); from = [e.clientX, e.clientY, ...marking[i]]; });
  g.addEventListener("pointermove", (e) => { if (from) { marking[i] = [from[2] + (e.clientX - from[0]) / view.k, from[3] + (e.clientY - from[1]) / view.k]; grips(); } });
  g.addEventListener("pointerup", () => { from = null; });
  g.addEventListener("keydown", (e) => {
    const step = (e.shiftKey ? 1 : 10), d = { ArrowRight: [step, 0], ArrowLeft: [-step, 0], ArrowDown: [0, step], ArrowUp: [0, -step] }[e.key];
    if (!d) return;
    e.preventDefault(); e.stopPropagation();
    marking[i] = [marking[i][0] + d[0], marking[i][1] + d[1]];
    grips();
  });
  return g;
}

function mark(on) {
  marking = null;
  if (on) {
    const w = picture.naturalWidth, h = picture.naturalHeight;
    if (marks.ruler_by) marking = [marks.ruler_by.slice(0, 2), marks.ruler_by.slice(2, 4)];
    else marking = [/left|right/.test(state?.travel) ? [0.2 * w, 0.5 * h] : [0.5 * w, 0.2 * h], /left|right/.test(state?.travel) ? [0.8 * w, 0.5 * h] : [0.5 * w, 0.8 * h]];
    slip("Move the two yellow points onto the graduations, one near each end, then read it there.");
  }
  $("mark").hidden = on; $("mark-read").hidden = !on; $("mark-stop").hidden = !on;
  if (on) fit(); else paint(); // both points are to be seen
  if (on) requestAnimationFrame(() => svg.querySelector(".grip.mark")?.focus());
}
$("mark").addEventListener("click", () => mark(true));
$("mark-stop").addEventListener("click", () => { mark(false); $("mark").focus(); });
$("mark-read").addEventListener("click", async () => {
  try { await change({ file, ruler_px: [...marking[0], ...marking[1]] }); mark(false); $("mark").focus(); } catch (e) { wrong(e); }
});

// --- moving about ---

const fingers = new Map();
stage.addEventListener("pointerdown", (e) => { if (e.button === 0) { fingers.set(e.pointerId, [e.clientX, e.clientY]); stage.setPointerCapture(e.pointerId); stage.classList.add("pan"); } });
stage.addEventListener("pointermove", (e) => {
  const was = fingers.get(e.pointerId);
  if (!was) return;
  const box = stage.getBoundingClientRect();
  if (fingers.size === 2) {
    const [a, b] = [...fingers.values()], far = Math.hypot(a[0] - b[0], a[1] - b[1]);
    fingers.set(e.pointerId, [e.clientX, e.clientY]);
    const [c, d] = [...fingers.values()];
    zoom(Math.hypot(c[0] - d[0], c[1] - d[1]) / Math.max(far, 1), (c[0] + d[0]) / 2 - box.left, (c[1] + d[1]) / 2 - box.top);
    return;
  }
  view.x -= (e.clientX - was[0]) / view.k; view.y -= (e.clientY - was[1]) / view.k;
  fingers.set(e.pointerId, [e.clientX, e.clientY]);
  paint();
});
for (const kind of ["pointerup", "pointercancel"]) stage.addEventListener(kind, (e) => { fingers.delete(e.pointerId); if (fingers.size === 0) stage.classList.remove("pan"); });
stage.addEventListener("wheel", (e) => { e.preventDefault(); const box = stage.getBoundingClientRect(); zoom(Math.exp(-e.deltaY * (e.deltaMode ? 0.05 : 0.0016)), e.clientX - box.left, e.clientY - box.top); }, { passive: false });
stage.addEventListener("keydown", (e) => {
  const step = 60 / view.k, move = { ArrowRight: [step, 0], ArrowLeft: [-step, 0], ArrowDown: [0, step], ArrowUp: [0, -step] }[e.key];
  if (move) { view.x += move[0]; view.y += move[1]; paint(); e.preventDefault(); }
  else if (e.key === "+" || e.key === "=") { zoom(1.5); e.preventDefault(); }
  else if (e.key === "-") { zoom(1 / 1.5); e.preventDefault(); }
  else if (e.key === "0") { fit(); e.preventDefault(); }
});
addEventListener("keydown", (e) => { if ((e.ctrlKey || e.metaKey) && e.key === "z" && !/INPUT|SELECT/.test(document.activeElement.tagName)) { e.preventDefault(); $("undo").click(); } });
$("whole").addEventListener("click", fit);
$("closer").addEventListener("click", () => zoom(1.6));
$("further").addEventListener("click", () => zoom(1 / 1.6));
const middle = (s) => [(s[0] + s[2]) / 2, (s[1] + s[3]) / 2];
$("to-front").addEventListener("click", () => { if (marks?.front) lookAt(middle(marks.front), 8); else slip("No front end was found in this frame. Mark the ruler, or leave the frame out."); });
$("to-trip").addEventListener("click", () => { if (state?.trip) lookAt(crossing() || middle(state.trip), 8); else slip("There is no trip line yet."); });

// crossing is where the trip line crosses the ruler's axis through the front end.
function crossing() {
  const p = marks?.front_at;
  if (!p) return null;
  const a = axis(), t = state.trip, d = [t[2] - t[0], t[3] - t[1]], det = a[0] * d[1] - a[1] * d[0];
  if (Math.abs(det) < 1e-6) return null;
  const k = ((t[0] - p[0]) * d[1] - (t[1] - p[1]) * d[0]) / det;
  return [p[0] + k * a[0], p[1] + k * a[1]];
}
new ResizeObserver(() => { if (ready) paint(); }).observe(stage);

// --- what it says ---

function says() {
  const row = (k, v, note) => (v ? el("div", {}, el("dt", {}, k), el("dd", {}, v), note ? el("dd", { class: "note" }, note) : null) : null);
  const lag = state?.answer.find((a) => a.Key === "lag"), hand = { front: "front end placed", ruler: "ruler marked", left_out: "left out" };
  $("says").replaceChildren(...[
    row("This frame", marks.status === "read" ? marks.value || "read" : marks.status === "refused" ? "not read" : "left out", marks.status === "read" ? marks.note : marks.reason),
    row("By hand", (marks.corrected || []).map((c) => hand[c] || c).join(", ")),
    row("The run's lag", lag?.Value || "not told yet"),
    row("Scale", marks.px_per_mm ? `${marks.px_per_mm.toFixed(2)} px to 1 mm` : ""),
    row("Taken", [marks.taken, marks.settings].filter(Boolean).join(", ")),
  ].filter(Boolean));
  $("verdict").textContent = marks.status === "read" ? marks.value : marks.status === "refused" ? "not read" : "left out";
  $("todo").hidden = !marks.todo;
  $("todo").textContent = marks.todo || "";
  for (const b of root.querySelectorAll("[data-forget]")) {
    const what = b.dataset.forget;
    b.hidden = what === "trip" ? !state?.trip_by_hand : !(marks.corrected || []).includes(what);
  }
  $("trip-new").hidden = Boolean(state?.trip);
  $("undo").disabled = !state?.undo;
  $("undo").textContent = state?.undo ? `Take back: ${state.undo}` : "Nothing to take back";
  if (state?.trip_u_mm && document.activeElement !== $("trip-u") && state.trip_by_hand) $("trip-u").value = Number(state.trip_u_mm.toFixed(4));
  const list = (state?.frames || []).map((f) => f.file), i = list.indexOf(file);
  for (const [id, name] of [["before", list[i - 1]], ["after", list[i + 1]]]) { $(id).hidden = i < 0 || !name; if (name) $(id).href = address(name); }
}

let told = "";
async function load() {
  try {
    const [m, s] = await Promise.all([get(`${run}/marks/${encodeURIComponent(file)}`), get(`${run}/state?since=0`)]);
    if (Object.values(held).some(Boolean)) return; // something is being moved: what is new comes after
    marks = m; state = s; rev = s.rev;
    says();
    paint();
    const lag = s.answer.find((a) => a.Key === "lag")?.Value, text = `${m.status === "read" ? "This frame: " + m.value : m.reason}. The lag: ${lag || "not told yet"}.`;
    if (told && told !== text) say(text);
    told = text;
  } catch (e) { wrong(e); }
}

let asking = false, more = false;
async function refresh(n) {
  if (n === rev) return;
  if (asking) { more = true; return; }
  asking = true;
  await load();
  asking = false;
  if (more) { more = false; refresh(-2); }
}

for (const b of root.querySelectorAll("[data-forget]")) b.addEventListener("click", async () => {
  try { await change(b.dataset.forget === "trip" ? { forget: "trip" } : { file, forget: b.dataset.forget }); } catch (e) { wrong(e); }
});
$("trip-new").addEventListener("click", async () => {
  const w = picture.naturalWidth, h = picture.naturalHeight, level = Math.abs(axis()[0]) > Math.abs(axis()[1]);
  try { await change({ trip_px: level ? [w / 2, 0, w / 2, h - 1] : [0, h / 2, w - 1, h / 2], trip_u_mm: formNumber($("trip-u")) ?? 0.5 }); } catch (e) { wrong(e); }
});
$("undo").addEventListener("click", async () => { try { slip((await post(`${run}/undo`, {})).done); } catch (e) { wrong(e); } });
$("out").addEventListener("submit", async (e) => {
  e.preventDefault();
  const why = e.target.elements.why.value.trim();
  if (!why) { e.target.elements.why.focus(); slip("Say why, in a few words: the report will."); return; }
  try { await change({ file, leave_out: why }); e.target.elements.why.value = ""; } catch (err) { wrong(err); }
});

picture.addEventListener("load", () => {
  ready = true;
  const want = (stage.clientWidth * picture.naturalHeight) / picture.naturalWidth; // no taller than the picture needs
  stage.style.height = `${Math.min(Math.max(want, 280), 0.72 * innerHeight)}px`;
  fit();
});
picture.addEventListener("error", () => { slip("The picture cannot be shown. What is known of it stands beside it."); });
picture.src = `${run}/picture/${encodeURIComponent(file)}`;
await load();
follow(`${run}/events`, refresh);
