// A run that is watched: what to shoot next, how sure the lag is, every frame as it comes.
import { get, post, el, draw, say, slip, wrong, sentence, formNumber, follow } from "./base.js";
import { tile, shot, words, moveTrip } from "./tile.js";

const root = document.getElementById("run"), run = root.dataset.run;
const $ = (id) => document.getElementById(id);
const frames = new Map();
let rev = 0, now = null, lastNew = null, busy = false, again = false, first = true;

const order = new Intl.Collator("en", { numeric: true }).compare;

// refresh fetches what changed, one request at a time.
async function refresh() {
  if (busy) { again = true; return; }
  busy = true;
  try {
    const s = await get(`${run}/state?since=${rev}`);
    if (s.rev !== rev || first) take(s);
  } catch (e) { trouble(e); }
  busy = false;
  if (again) { again = false; refresh(); }
}

function take(s) {
  if (s.whole) frames.clear();
  for (const name of s.gone) { frames.delete(name); tileOf(name)?.remove(); }
  const fresh = s.frames.filter((f) => !frames.has(f.file));
  for (const f of s.frames) frames.set(f.file, f);
  if (fresh.length > 0) lastNew = fresh.reduce((a, b) => (order(a.file, b.file) > 0 ? a : b)).file;
  const moved = !now || JSON.stringify(now.trip) !== JSON.stringify(s.trip);
  const result = !now || now.result_at !== s.result_at;
  now = s; rev = s.rev;
  if (s.whole) relist(); else for (const f of s.frames) place(f);
  if (!s.whole && moved) for (const svg of $("tiles").querySelectorAll(".over-m")) moveTrip(svg, s.trip);
  if (lastNew && !frames.has(lastNew)) lastNew = null;
  head(s); latest(); sure(s); doubts(s); counts(s); controls(s);
  if (result) figures();
  if (!first) for (const f of fresh.slice(-1)) say(`${f.file}: ${f.status === "read" ? f.value || "read" : f.todo || f.reason}`);
  first = false;
}

function head(s) {
  const next = s.next.Text.replace(/(\d) (mm|ms|m\/s|times)\b/g, "$1\u00a0$2"); // a number keeps its unit beside it
  if ($("next").textContent !== next) $("next").textContent = next;
  $("why").textContent = sentence(s.next.Why);
  document.querySelector(".now").classList.toggle("done", s.next.Done === true);
  $("writing").hidden = s.waiting.length === 0;
  $("writing").textContent = s.waiting.length > 0 ? `Being written: ${s.waiting.join(", ")}` : "";
}

// latest shows the frame that came last, and what to change when it could not be used.
function latest() {
  const f = frames.get(lastNew);
  const bad = f && f.status === "refused" ? `${f.file}: ${f.todo || sentence(f.reason)}` : "";
  if ($("bad").textContent !== bad) $("bad").textContent = bad;
  $("bad").hidden = bad === "";
  if (!f) return;
  const box = el("div", {}, el("a", { href: `${run}/frame/${encodeURIComponent(f.file)}`, "aria-label": `${f.file}, large` }, shot(run, f, now.trip)));
  const pic = box.querySelector(".shot");
  if (f.clip) pic.style.aspectRatio = `${f.clip[3]} / ${f.clip[4]}`;
  if (f.status === "refused") box.append(el("p", { class: "big" }, f.file + " was not read"), el("p", {}, sentence(f.reason)));
  else box.append(words(f));
  $("latest").replaceChildren(box);
}

function sure(s) {
  const lag = s.answer.find((a) => a.Key === "lag");
  $("lag").textContent = lag && lag.Value ? lag.Value : "not told yet";
  $("lag").classList.toggle("none", !(lag && lag.Value));
  $("trail").replaceChildren(...(s.trail.length > 0 ? [trail(s.trail)] : []));
  $("lag-note").textContent = lag ? sentence(lag.Note) : "";
  $("facts").replaceChildren(...s.answer.filter((a) => a.Key !== "lag").map((a) => el("div", {}, el("dt", {}, a.Label), el("dd", {}, a.Value || "not told"), a.Note ? el("dd", { class: "note" }, sentence(a.Note)) : null)));
}

// trail draws how the interval of the lag narrows with the frames.
function trail(t) {
  const W = Math.max(300, $("trail").clientWidth), H = Math.min(270, 0.5 * W), L = 64, R = 24, T = 14, B = 44;
  const n0 = t[0].n, n1 = Math.max(t[t.length - 1].n, n0 + 1);
  const shown = t.slice(-Math.max(4, Math.ceil(t.length * 0.85)));
  let lo = Math.min(...shown.map((p) => p.low_ms)), hi = Math.max(...shown.map((p) => p.high_ms));
  const last = t[t.length - 1], wide = 12 * Math.max(last.high_ms - last.low_ms, 0.02);
  lo = Math.max(lo, last.lag_ms - wide); hi = Math.min(hi, last.lag_ms + wide);
  const pad = 0.08 * (hi - lo);
  lo -= pad; hi += pad;
  const x = (n) => L + ((n - n0) / (n1 - n0)) * (W - L - R - 10), y = (v) => T + ((hi - Math.min(Math.max(v, lo), hi)) / (hi - lo)) * (H - T - B);
  const line = (key) => t.map((p, i) => (i ? "L" : "M") + x(p.n).toFixed(1) + " " + y(p[key]).toFixed(1)).join("");
  const svg = draw("svg", { viewBox: `0 0 ${W} ${H}`, width: W, height: H, role: "img", "aria-label": `The lag by the number of frames read. ${t.filter((_, i) => i % Math.ceil(t.length / 6) === 0 || i === t.length - 1).map((p) => `After ${p.n}: ${p.low_ms.toFixed(1)} to ${p.high_ms.toFixed(1)} ms`).join(". ")}.` });
  const low = [...t].reverse().map((p) => "L" + x(p.n).toFixed(1) + " " + y(p.low_ms).toFixed(1)).join("");
  svg.append(draw("path", { class: "band", d: line("high_ms") + low + "Z" }), draw("path", { class: "edge", d: line("high_ms") }), draw("path", { class: "edge", d: line("low_ms") }), draw("path", { class: "mean", d: line("lag_ms") }));
  if (t.length === 1) svg.append(draw("path", { class: "edge", d: `M${x(n0)} ${y(t[0].high_ms)}V${y(t[0].low_ms)}` }));
  svg.append(draw("circle", { class: "tip", cx: x(last.n), cy: y(last.lag_ms), r: 5 }), draw("path", { class: "axis", d: `M${L} ${H - B}H${W - R}` }));
  const text = (cls, px, py, anchor, s) => svg.append(draw("text", { class: cls, x: px, y: py, "text-anchor": anchor }, s));
  for (const n of new Set([n0, Math.round((n0 + n1) / 2), n1])) text("", x(n), H - B + 20, n === n0 ? "start" : n === n1 ? "end" : "middle", String(n));
  text("", W - R, H - 4, "end", "frames read");
  for (const v of ruled(lo, hi)) { svg.append(draw("path", { class: "axis", d: `M${L - 6} ${y(v)}h6` })); text("", L - 10, y(v) + 5, "end", String(v)); }
  text("", 0, T + 2, "start", "ms");
  return svg;
}

// ruled are a few round values between two.
function ruled(lo, hi) {
  const step = 10 ** Math.floor(Math.log10((hi - lo) / 2)), k = (hi - lo) / step > 6 ? 2 : 1, out = [];
  for (let v = Math.ceil(lo / (k * step)) * k * step; v <= hi && out.length < 8; v += k * step) out.push(Number(v.toFixed(6)));
  return out.length > 1 ? out.filter((_, i) => out.length < 6 || i % 2 === 0) : out;
}

function doubts(s) {
  const list = [];
  if (s.problem) list.push(el("li", {}, sentence(s.problem.what) + " " + sentence(s.problem.hint)));
  if (s.note) list.push(el("li", {}, sentence(s.note)));
  for (const w of s.warnings) {
    const li = el("li", {}, sentence(w.text));
    for (const f of w.frames || []) li.append(" ", el("a", { href: `${run}/frame/${encodeURIComponent(f)}` }, f));
    list.push(li);
  }
  $("doubts").replaceChildren(...list);
  $("trouble").hidden = list.length === 0;
}

function counts(s) {
  let off = 0, out = 0;
  for (const f of frames.values()) { off += f.status === "refused"; out += f.status === "left_out"; }
  $("count").textContent = frames.size === 0 ? "none yet" : `${frames.size - off - out} read` + (off ? `, ${off} not read` : "") + (out ? `, ${out} left out` : "");
  $("undo").hidden = !s.undo;
  $("undo").textContent = s.undo ? `Take back: ${s.undo}` : "";
}

const wanted = { all: () => true, off: (f) => f.status !== "read", hand: (f) => (f.corrected || []).length > 0 };
const shows = (f) => wanted[$("which").value](f);
const tileOf = (name) => $("tiles").querySelector(`li[data-file="${CSS.escape(name)}"]`);

function relist() {
  const list = [...frames.values()].filter(shows).sort((a, b) => order(b.file, a.file));
  $("tiles").replaceChildren(...list.map((f) => tile(run, f, now.trip)));
}

// place puts one frame's tile where it belongs, without touching the others; where its picture is as it was only the words
// are new, so that nothing flickers and nobody loses their place.
function place(f) {
  const old = tileOf(f.file);
  if (!shows(f)) { old?.remove(); return; }
  const t = tile(run, f, now.trip);
  if (old && old.dataset.shot === t.dataset.shot) {
    old.firstChild.className = t.firstChild.className;
    old.querySelector(".words").replaceWith(t.querySelector(".words"));
    return;
  }
  if (old) {
    const held = old.contains(document.activeElement);
    old.replaceWith(t);
    if (held) t.querySelector("a").focus();
    return;
  }
  const next = [...$("tiles").children].find((li) => order(li.dataset.file, f.file) < 0);
  $("tiles").insertBefore(t, next || null);
}

const setting = $("setting");
let touched = false;
setting.addEventListener("input", () => { touched = true; });

function controls(s) {
  root.querySelectorAll(".for-drop").forEach((e) => { e.hidden = s.method === "push"; });
  root.querySelectorAll(".for-push").forEach((e) => { e.hidden = s.method !== "push"; });
  if (!touched) for (const k of ["drop_mm", "speed_mps", "delay_ms", "goal_ms", "group"]) setting.elements[k].value = s.setting[k] ?? "";
  const open = unlisted();
  $("also-box").hidden = open.length === 0;
  $("also-box").querySelector("span").textContent = `also for ${open.length} frame${open.length === 1 ? "" : "s"} of which nothing is known yet`;
  const a = $("accept");
  a.querySelector("button").disabled = !s.accept.ok;
  a.querySelector("button").textContent = s.rig ? `Accept for ${s.rig}` : "Accept";
  $("accept-why").textContent = s.accept.ok ? "The result joins the rig's history; an earlier one can be put back there at any time." : sentence(s.accept.why);
}

const unlisted = () => [...frames.values()].filter((f) => f.code === "not-listed" || f.code === "no-conditions").map((f) => f.file);

setting.addEventListener("submit", async (e) => {
  e.preventDefault();
  try {
    const body = { group: setting.elements.group.value.trim() };
    for (const k of ["drop_mm", "speed_mps", "delay_ms", "goal_ms"]) body[k] = formNumber(setting.elements[k]);
    if (setting.elements.also.checked) body.also = unlisted();
    slip((await post(`${run}/setting`, body)).done);
    touched = false;
  } catch (err) { wrong(err); }
});

$("accept").addEventListener("submit", async (e) => {
  e.preventDefault();
  try {
    const a = await post(`${run}/accept`, { result_at: now.result_at, note: e.target.elements.note.value });
    const back = async () => { slip((await post(`/rig/${encodeURIComponent(a.rig)}/restore`, { number: a.before, note: "taken back" })).done); };
    slip(a.done, a.before ? back : null); // the one that was in force before is put back
    e.target.elements.note.value = "";
  } catch (err) { wrong(err); }
});

$("undo").addEventListener("click", async () => {
  try { slip((await post(`${run}/undo`, {})).done); } catch (err) { wrong(err); }
});
$("which").addEventListener("change", relist);

async function figures() {
  try {
    const r = await fetch(`${run}/figures`);
    const page = new DOMParser().parseFromString(await r.text(), "text/html");
    if (r.ok && page.body.children.length > 0) $("figures").replaceChildren(...page.body.childNodes);
  } catch { /* the next result brings them */ }
}

function trouble(e) {
  $("next").textContent = "The desk does not answer";
  $("why").textContent = sentence(e.message) + " " + sentence(e.hint);
}

addEventListener("resize", () => { if (now && now.trail.length > 0) $("trail").replaceChildren(trail(now.trail)); });
follow(`${run}/events`, refresh);
refresh();
