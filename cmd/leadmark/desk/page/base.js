// What every page shares: talking to the desk, making elements, saying things aloud, taking back, the look.

const token = document.querySelector("meta[name=token]").content;

// get fetches JSON; what went wrong comes as an Error whose hint says what to do.
export async function get(url, signal) {
  const r = await fetch(url, { headers: { Accept: "application/json" }, signal });
  return settle(r);
}

// post asks for a change.
export async function post(url, body) {
  const r = await fetch(url, { method: "POST", headers: { "Content-Type": "application/json", "X-Leadmark-Token": token }, body: JSON.stringify(body) });
  return settle(r);
}

async function settle(r) {
  let v = null;
  try { v = await r.json(); } catch { /* no JSON: told below */ }
  if (r.ok && v !== null) return v;
  const e = new Error(v && v.what ? v.what : "the desk did not answer");
  e.hint = v && v.hint ? v.hint : "is leadmark desk still running?";
  throw e;
}

// el makes an element: properties, data, and children, of which strings become text and never markup.
export function el(name, set = {}, ...children) {
  const e = document.createElement(name);
  fill(e, set, children);
  return e;
}

const NS = "http://www.w3.org/2000/svg";

// draw makes an SVG element.
export function draw(name, set = {}, ...children) {
  const e = document.createElementNS(NS, name);
  for (const [k, v] of Object.entries(set)) if (v !== undefined && v !== null) e.setAttribute(k, v);
  e.append(...children.filter((c) => c !== null));
  return e;
}

function fill(e, set, children) {
  for (const [k, v] of Object.entries(set)) {
    if (v === undefined || v === null) continue;
    if (k === "class") e.className = v;
    else if (k in e) e[k] = v;
    else e.setAttribute(k, v);
  }
  e.append(...children.filter((c) => c !== null && c !== undefined && c !== ""));
}

const said = document.getElementById("said");

// say tells a screen reader.
export function say(text) { said.textContent = text; }

// wrong shows what went wrong where nothing better is at hand.
export function wrong(e) { slip(sentence(e.message) + (e.hint ? " " + sentence(e.hint) : "")); }

export function sentence(text) {
  const t = String(text || "").trim();
  return t === "" ? "" : t[0].toUpperCase() + t.slice(1) + (/[.!?…]$/.test(t) ? "" : ".");
}

const box = document.getElementById("slip");
let hide = 0, back = null;

// slip says for a while what was done, with a button that takes it back where that can be done.
export function slip(text, takeBack = null) {
  back = takeBack;
  box.querySelector("p").textContent = text;
  box.querySelector("button").hidden = !takeBack;
  box.hidden = false;
  say(text);
  clearTimeout(hide);
  hide = setTimeout(() => { if (!box.contains(document.activeElement)) box.hidden = true; }, takeBack ? 12000 : 7000);
}
box.querySelector("button").addEventListener("click", async () => {
  const do_it = back;
  box.hidden = true;
  if (do_it) { try { await do_it(); } catch (e) { wrong(e); } }
});

// formNumber reads a field: undefined for nothing, an Error for no number.
export function formNumber(input) {
  const t = input.value.trim().replace(",", ".");
  if (t === "") return undefined;
  const x = Number(t);
  if (!Number.isFinite(x)) {
    input.focus();
    throw new Error("“" + input.value + "” is no number");
  }
  return x;
}

// follow keeps a page's state as it is at the desk: told calls for every new revision, and again whenever the page is looked at
// again; a page that nobody looks at asks for nothing.
export function follow(url, told) {
  let source = null;
  const begin = () => {
    if (source || document.hidden) return;
    source = new EventSource(url);
    source.onmessage = (m) => told(Number(m.data));
    source.onerror = () => { if (source && source.readyState === EventSource.CLOSED) { end(); setTimeout(begin, 2000); } };
  };
  const end = () => { if (source) source.close(); source = null; };
  document.addEventListener("visibilitychange", () => (document.hidden ? end() : begin()));
  addEventListener("pagehide", end);
  addEventListener("pageshow", begin);
  begin();
}

const theme = document.getElementById("theme");
function lookNow() {
  const dim = document.documentElement.dataset.look === "dim";
  theme.textContent = dim ? "Bright room" : "Dim room";
}
theme.addEventListener("click", () => {
  const look = document.documentElement.dataset.look === "dim" ? "bright" : "dim";
  document.documentElement.dataset.look = look;
  try { localStorage.setItem("leadmark-look", look); } catch { /* kept for this page alone */ }
  lookNow();
});
lookNow();
