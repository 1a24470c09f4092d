// Makes a rig's profile.
import { post, wrong } from "./base.js";

document.getElementById("new").addEventListener("submit", async (e) => {
  e.preventDefault();
  try { location.href = (await post("/rigs", { name: e.target.elements.name.value })).link; } catch (err) { wrong(err); }
});
