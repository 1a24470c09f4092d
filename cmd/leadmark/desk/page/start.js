// Begins a run: says what to shoot and what is still unknown while the form is filled in.
import { post, el, sentence, say } from "./base.js";

const form = document.getElementById("start"), $ = (id) => document.getElementById(id);
const number = (text) => text.trim().replace(",", ".");

function ask(write) {
  const values = {};
  for (const e of form.elements) {
    if (!e.name || e.name === "name" || e.name === "goal_ms" || e.closest("[hidden]") || (e.type === "radio" && !e.checked)) continue;
    values[e.name] = e.inputMode === "decimal" ? number(e.value) : e.value;
  }
  const goal = Number(number(form.elements.goal_ms.value));
  return post("/start", { name: form.elements.name.value, values, goal_ms: Number.isFinite(goal) ? goal : -1, write });
}

function wrong(e) { $("wrong").hidden = false; $("wrong").textContent = sentence(e.message) + " " + sentence(e.hint); }

let turn = 0;
async function show() {
  const push = form.elements.method.value === "push", mine = ++turn;
  form.querySelectorAll(".for-drop").forEach((e) => { e.hidden = push; });
  form.querySelectorAll(".for-push").forEach((e) => { e.hidden = !push; });
  try {
    const a = await ask(false);
    if (mine !== turn) return;
    $("wrong").hidden = true;
    $("plan").textContent = a.shots ? `${a.shots} shots` : "Say how well the lag should be known, and the shots are planned.";
    $("batches").replaceChildren(...(a.batches || []).map((b) => el("li", {}, sentence(b))));
    $("plan-why").textContent = sentence(a.plan);
    $("unknown").replaceChildren(...(a.to_fill.length ? a.to_fill.map((t) => el("li", {}, t)) : [el("li", {}, "nothing: all is said")]));
  } catch (e) { if (mine === turn) wrong(e); }
}

let wait = 0;
form.addEventListener("input", () => { clearTimeout(wait); wait = setTimeout(show, 250); });
form.addEventListener("submit", async (e) => {
  e.preventDefault();
  try {
    const a = await ask(true);
    say("The run is made");
    location.href = a.link;
  } catch (err) { wrong(err); }
});
show();
