// Puts the chosen look on before the page is drawn, so that nothing flashes up in a dim room.
"use strict";
(function () {
  let look = null;
  try { look = localStorage.getItem("leadmark-look"); } catch (e) { /* a browser that keeps nothing: the system's look */ }
  if (look !== "dim" && look !== "bright") look = matchMedia("(prefers-color-scheme: dark)").matches ? "dim" : "bright";
  document.documentElement.dataset.look = look;
})();
