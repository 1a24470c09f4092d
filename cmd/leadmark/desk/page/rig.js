// A rig's history: holds two calibrations against each other, puts an earlier one back.
import { get, post, el, slip, wrong, sentence, formNumber } from "./base.js";

const root = document.getElementById("rig"), url = `/rig/${encodeURIComponent(root.dataset.rig)}`;

for (const b of root.querySelectorAll("[data-restore]")) b.addEventListener("click", async () => {
  try {
    const done = await post(`${url}/restore`, { number: Number(b.dataset.restore), note: "" });
    sessionStorage.setItem("leadmark-done", JSON.stringify(done));
    location.reload();
  } catch (e) { wrong(e); }
});

// What was done before the page was loaded again can be taken back: the one that was in force is put back.
const done = sessionStorage.getItem("leadmark-done");
if (done) {
  sessionStorage.removeItem("leadmark-done");
  const { done: text, before } = JSON.parse(done);
  slip(text, before ? async () => { await post(`${url}/restore`, { number: before, note: "taken back" }); location.reload(); } : null);
}

const form = document.getElementById("compare");
if (form) {
  form.elements.a.selectedIndex = Math.min(1, form.elements.a.options.length - 1);
  form.addEventListener("submit", async (e) => {
    e.preventDefault();
    try {
      const margin = formNumber(form.elements.margin_ms), q = new URLSearchParams({ a: form.elements.a.value, b: form.elements.b.value });
      if (margin !== undefined) q.set("margin_ms", margin);
      const c = await get(`${url}/compare?${q}`);
      document.getElementById("verdict").replaceChildren(...[c.lag?.text, c.spread?.text, ...c.doubts].filter(Boolean).map((t, i) => el("p", { class: i === 0 ? "big" : "" }, sentence(t))));
    } catch (err) { document.getElementById("verdict").replaceChildren(el("p", { class: "todo" }, sentence(err.message) + " " + sentence(err.hint))); }
  });
}
