// A shoot's contact sheet: sorted and sifted, with the animal's outline and the reach drawn over each frame.
import { get, el, draw, sentence, wrong } from "./base.js";
import { marks } from "./tile.js";

const root = document.getElementById("shoot"), shoot = root.dataset.shoot, $ = (id) => document.getElementById(id), sift = $("sift");
const order = new Intl.Collator("en", { numeric: true }).compare;
let data = null;

const cause = (f) => (f.reason || "").split(":")[0];
const sorts = {
  rating: (a, b) => b.rating - a.rating || (a.edge_width_px ?? 1e9) - (b.edge_width_px ?? 1e9) || order(a.file, b.file),
  file: (a, b) => order(a.file, b.file),
  lead: (a, b) => (b.lead_mm ?? -1e9) - (a.lead_mm ?? -1e9),
  edge: (a, b) => (a.edge_width_px ?? 1e9) - (b.edge_width_px ?? 1e9),
};

function list() {
  const least = Number(sift.elements.least.value), why = sift.elements.why.value;
  const all = data.shoot.frames.filter((f) => (f.status === "refused" ? -1 : f.rating) >= least && (!why || cause(f) === why)).sort(sorts[sift.elements.order.value]);
  $("tiles").replaceChildren(...all.map(tile));
  $("count").textContent = `${all.length} of ${data.shoot.frames.length}`;
}

function tile(f) {
  const src = `${shoot}/picture/${encodeURIComponent(f.file)}`;
  const box = el("span", { class: "shot" }), img = el("img", { src, alt: "", loading: "lazy", decoding: "async" });
  box.append(img);
  img.addEventListener("load", () => {
    const b = f.box_px, r = data.reach, kinds = [];
    if (r) kinds.push(["reach", [r.from, r.to]], ["trip", [r.trip]]);
    if (b) kinds.push(["body", [[b[0][0], b[0][1], b[1][0], b[0][1]], [b[1][0], b[0][1], b[1][0], b[1][1]], [b[1][0], b[1][1], b[0][0], b[1][1]], [b[0][0], b[1][1], b[0][0], b[0][1]]]]);
    const over = marks([-0.5, -0.5, img.naturalWidth, img.naturalHeight], kinds);
    if (f.nose_px) over.append(draw("circle", { cx: f.nose_px[0], cy: f.nose_px[1], r: img.naturalWidth / 110 }));
    box.append(over);
  });
  const words = el("span", { class: "words" }, el("span", { class: "name" }, f.file));
  words.append(el("span", { class: "value" }, f.status === "found" ? rated(f.rating) : f.status === "empty" ? "no animal in it" : "not looked at"));
  if (f.lead_mm !== undefined) words.append(el("span", {}, `lead ${f.lead_at_least ? "at least " : ""}${f.lead_mm.toFixed(1)}\u00a0mm${f.in_reach === false ? ", outside the reach" : ""}`));
  if (f.reason) words.append(el("span", { class: "soft" }, f.reason.replace(/^[^:]*: /, "")));
  for (const [is, text] of [[f.whole === false, "cut off"], [f.sharp === false, "not sharp" + (f.cause ? ": " + f.cause : "")], [f.backdrop_clean === false, "backdrop not clean"]]) if (is) words.append(el("span", { class: "chip" }, text));
  return el("li", {}, el("a", { class: "tile" + (f.status === "refused" ? " off" : ""), href: src }, box, words));
}

function rated(n) {
  const s = el("span", {}, el("span", { "aria-hidden": "true" }, "●".repeat(n) + "○".repeat(5 - n) + " "));
  s.append(`${n} of 5`);
  return s;
}

function against() {
  const a = data.shoot.agreement, pc = (x) => Math.round(100 * x) + "\u00a0%";
  $("agree").textContent = a ? `${pc(a.observed)} inside the reach, ${pc(a.expected_in_reach)} planned` : "Nothing to hold against the plan yet";
  $("agree-why").textContent = a ? `${a.n} frames; the share lies between ${pc(a.observed_interval95[0])} and ${pc(a.observed_interval95[1])} with 95\u00a0% confidence; chance alone would be as far off in ${a.p_value < 0.001 ? "less than 0.1" : (100 * a.p_value).toFixed(a.p_value < 0.1 ? 1 : 0)}\u00a0% of shoots.` : "";
  const s = data.shoot.subject;
  if (!s || s.speed_mps === undefined) { $("speed").textContent = "Not learned"; $("speed-fig").replaceChildren(el("p", { class: "soft" }, sentence(s?.not_learned))); return; }
  const i = s.speed_interval95_mps;
  $("speed").textContent = `${s.speed_mps.toPrecision(3)}\u00a0m/s` + (data.reach ? `, planned ${data.reach.planned_speed_mps}\u00a0m/s` : "");
  $("speed-fig").replaceChildren(figure(s, i));
}

// figure draws the learned speed with its interval over the planned law.
function figure(s, i) {
  const p = data.reach, W = Math.max(300, Math.min(640, $("speed-fig").clientWidth)), H = 110;
  const lo = Math.max(0, Math.min(i[0], p ? p.planned_speed_mps - 2 * p.planned_speed_sd_mps : i[0]) * 0.9), hi = Math.max(i[1], p ? p.planned_speed_mps + 2 * p.planned_speed_sd_mps : i[1]) * 1.1;
  const x = (v) => 10 + ((v - lo) / (hi - lo)) * (W - 20);
  const svg = draw("svg", { viewBox: `0 0 ${W} ${H}`, width: W, height: H, role: "img", "aria-label": `Learned ${s.speed_mps} m/s, 95 % interval ${i[0]} to ${i[1]}` + (p ? `; planned ${p.planned_speed_mps} plus or minus ${p.planned_speed_sd_mps}` : "") });
  if (p) svg.append(draw("rect", { class: "planned", x: x(p.planned_speed_mps - p.planned_speed_sd_mps), width: x(p.planned_speed_mps + p.planned_speed_sd_mps) - x(p.planned_speed_mps - p.planned_speed_sd_mps), y: 12, height: 50 }), draw("text", { x: x(p.planned_speed_mps), y: 30, "text-anchor": "middle" }, "planned"));
  svg.append(draw("path", { class: "learned", d: `M${x(i[0])} 48H${x(i[1])}` }), draw("circle", { cx: x(s.speed_mps), cy: 48, r: 7 }), draw("path", { class: "axis", d: `M10 72H${W - 10}` }));
  for (const v of [lo, (lo + hi) / 2, hi]) svg.append(draw("text", { x: x(v), y: 94, "text-anchor": v === lo ? "start" : v === hi ? "end" : "middle" }, v.toFixed(2) + (v === hi ? " m/s" : "")));
  return svg;
}

if (sift) {
  try {
    data = await get(`${shoot}/state`);
    const why = [...new Set(data.shoot.frames.map(cause).filter(Boolean))].sort();
    sift.elements.why.append(...why.map((w) => el("option", { value: w }, w.replaceAll("-", " "))));
    $("doubts").replaceChildren(...data.shoot.warnings.map((w) => el("li", {}, sentence(w.text))), ...data.shoot.advice.map((t) => el("li", {}, sentence(t))));
    $("key").textContent = "Drawn over each: the animal found (solid), its nose (dot), the trip line (dashed)" + (data.reach ? ", the reach of the plan (dotted)." : `. The reach is not drawn: ${data.no_reach}.`);
    against();
    list();
    sift.addEventListener("input", list);
    sift.addEventListener("submit", (e) => e.preventDefault());
  } catch (e) { wrong(e); }
}
