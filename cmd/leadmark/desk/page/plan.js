// The plan: the set drawn again while values change, the answers beside it.
import { get, post, el, slip, wrong, sentence } from "./base.js";

const form = document.getElementById("plan"), $ = (id) => document.getElementById(id), image = document.querySelector("#drawing img");
const texts = new Set(["name", "motion", "focus_on", "exit_mm", "power"]);

// values are the fields of the form that state something.
function values() {
  const out = {};
  for (const e of form.elements) {
    if (!e.name || e.name === "source" || e.closest("[disabled]") || e.dataset.head !== undefined) continue;
    const t = texts.has(e.name) || e.name === "rig" ? e.value.trim() : e.value.trim().replace(",", ".");
    if (t) out[e.name] = t;
  }
  return out;
}

function query() {
  const q = new URLSearchParams(values());
  const [kind, name] = form.elements.source.value.split(/:(.*)/s);
  if (kind === "preset") q.set("preset", name);
  if (kind === "file") q.set("subject", name);
  for (const box of form.querySelectorAll(".heads:not([disabled]) [data-head]")) {
    const n = Number(box.dataset.head) + 1, t = box.value.trim();
    if (t) q.set(box.name === "power" ? `power_${n}` : `distance_${n}_mm`, box.name === "power" ? t : t.replace(",", "."));
  }
  return q.toString();
}

let busy = false, again = false;
async function show() {
  if (busy) { again = true; return; }
  busy = true;
  $("drawing").classList.add("busy");
  const q = query();
  try {
    const a = await get(`/plan/answer?${q}`);
    $("wrong").hidden = true;
    const head = [a.head.Before, a.head.Value, a.head.After].filter(Boolean).join(" ");
    if ($("head").textContent !== head) $("head").textContent = head;
    $("settings").textContent = a.settings;
    await drawn(`/plan/set.svg?${q}`, `The set drawn to scale, from the side, from above, and with camera and heads. ${head}`);
    sections(a);
  } catch (e) {
    $("wrong").hidden = false;
    $("wrong").textContent = sentence(e.message) + " " + sentence(e.hint);
  }
  $("drawing").classList.remove("busy");
  busy = false;
  if (again) { again = false; show(); }
}

// drawn puts the new drawing in the place of the old once it is there, so that nothing flickers.
function drawn(src, alt) {
  return new Promise((done) => {
    const next = new Image();
    next.onload = () => { image.src = src; image.alt = alt; image.hidden = false; done(); };
    next.onerror = () => done();
    next.src = src;
  });
}

function sections(a) {
  const list = a.sections.map((s) => el("section", {}, el("h2", {}, s.Title), el("dl", { class: "facts" }, ...s.Lines.map((l) => el("div", {}, el("dt", {}, l.Label), el("dd", {}, l.Value || "not told"), l.Note ? el("dd", { class: "note" }, sentence(l.Note)) : null)))));
  const doubts = a.plan.warnings.map((w) => el("li", {}, sentence(w.text)));
  if (doubts.length) list.unshift(el("ul", { class: "doubts" }, ...doubts));
  if (a.plan.cautions.length && !a.sections.some((s) => /caution/i.test(s.Title))) list.push(el("section", {}, el("h2", {}, "Cautions"), el("ul", {}, ...a.plan.cautions.map((c) => el("li", {}, c)))));
  $("sections").replaceChildren(...list);
}

let wait = 0;
form.addEventListener("input", (e) => {
  if (e.target.name === "source") return;
  clearTimeout(wait);
  wait = setTimeout(show, 150);
});
form.addEventListener("submit", (e) => e.preventDefault());

form.elements.source.addEventListener("change", async () => {
  const [, name] = form.elements.source.value.split(/:(.*)/s);
  try {
    if (name) {
      const p = await get(`/plan/preset/${encodeURIComponent(name)}`);
      for (const [k, v] of Object.entries(p.values)) if (form.elements[k]) form.elements[k].value = v;
    }
    show();
  } catch (e) { wrong(e); }
});

function heads() {
  const name = form.elements.rig.value;
  for (const box of form.querySelectorAll(".heads")) box.hidden = box.disabled = box.dataset.rig !== name;
}
form.elements.rig.addEventListener("change", () => {
  const o = form.elements.rig.selectedOptions[0];
  form.elements.lag_ms.value = o.dataset.ready === "true" ? "" : form.elements.lag_ms.value || "52";
  form.elements.spread_ms.value = o.dataset.ready === "true" ? "" : form.elements.spread_ms.value || "0.8";
  heads();
});

$("save").addEventListener("submit", async (e) => {
  e.preventDefault();
  const v = values();
  for (const k of ["rig", "lag_ms", "spread_ms", "delay_ms", "f_number", "field_mm", "moment_mm"]) delete v[k];
  try { slip((await post("/plan/save", { file: e.target.elements.file.value, values: v })).done); } catch (err) { wrong(err); }
});

// A page that is opened begins with something to look at.
const ready = [...form.elements.rig.options].find((o) => o.dataset.ready === "true");
if (ready) form.elements.rig.value = ready.value;
else { form.elements.lag_ms.value = "52"; form.elements.spread_ms.value = "0.8"; }
heads();
form.elements.source.value = "preset:mason-bee";
form.elements.source.dispatchEvent(new Event("change"));
