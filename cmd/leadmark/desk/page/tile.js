// A frame as a small picture with what was found drawn over it, and its words.
import { el, draw } from "./base.js";

export function path(strokes) {
  return strokes.map((s) => `M${s[0]} ${s[1]}L${s[2]} ${s[3]}`).join("");
}

// marks are strokes over a picture, each over a darker casing, so that they show on light and on dark.
export function marks(box, kinds) {
  const svg = draw("svg", { class: "over-m", viewBox: box.join(" "), preserveAspectRatio: "xMidYMid meet", "aria-hidden": "true" });
  for (const [kind, strokes] of kinds) {
    if (!strokes || strokes.length === 0) continue;
    if (kind !== "ticks") svg.append(draw("path", { class: "case", d: path(strokes) })); // many short strokes do without
    svg.append(draw("path", { class: kind, d: path(strokes) }));
  }
  return svg;
}

// shot is the clip of a frame, with its marks.
export function shot(run, f, trip) {
  const box = el("span", { class: "shot" });
  if (!f.clip) {
    box.append(el("span", { class: "none" }, f.status === "read" ? "no picture kept" : "no picture"));
    return box;
  }
  const [left, top, scale, w, h] = f.clip;
  box.append(el("img", { src: `${run}/clip/${encodeURIComponent(f.file)}?at=${left},${top},${scale}`, alt: "", loading: "lazy", decoding: "async", width: w, height: h }));
  box.append(marks([left - 0.5, top - 0.5, scale * w, scale * h], [["ticks", f.ticks], ["trip", trip ? [trip] : []], ["twin", f.twin ? [f.twin] : []], ["front", f.front ? [f.front] : []]]));
  return box;
}

// moveTrip lays the trip line of a picture anew.
export function moveTrip(svg, trip) {
  const old = svg.querySelector("path.trip");
  if (!trip) { old?.previousElementSibling?.remove(); old?.remove(); return; }
  if (!old) { svg.append(draw("path", { class: "case", d: path([trip]) }), draw("path", { class: "trip", d: path([trip]) })); return; }
  for (const p of [old, old.previousElementSibling]) p.setAttribute("d", path([trip]));
}

const kept = { front: "front end by hand", ruler: "ruler marked by hand", left_out: "left out by hand" };

// words are what stands below a frame.
export function words(f) {
  const w = el("span", { class: "words" }, el("span", { class: "name" }, f.file + (f.taken ? " · " + f.taken : "")));
  if (f.status === "read") {
    w.append(el("span", { class: "value" }, f.value || "read"), el("span", {}, f.condition || ""));
  } else {
    w.append(el("span", { class: "value" }, f.status === "refused" ? "not read" : "left out"), el("span", {}, f.todo || f.reason));
  }
  if (f.outlier) w.append(el("span", { class: "chip" }, "odd: weighed down"));
  for (const c of f.corrected || []) w.append(el("span", { class: "chip" }, kept[c] || c));
  return w;
}

// tile is a frame in the list.
export function tile(run, f, trip) {
  const kind = f.status === "refused" ? " off" : f.status === "left_out" ? " out" : "";
  const li = el("li", {}, el("a", { class: "tile" + kind, href: `${run}/frame/${encodeURIComponent(f.file)}` }, shot(run, f, trip), words(f)));
  li.dataset.file = f.file;
  li.dataset.shot = JSON.stringify([f.clip, f.front, f.twin, f.ticks?.[0], f.ticks?.length]); // the same where the picture is
  return li;
}
