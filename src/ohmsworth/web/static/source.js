// The current stays on only while the page that switched it on is there: it says so every three seconds, and when it goes.
"use strict";
(() => {
  const held = () => document.querySelector("[data-holder]");
  const post = (path, fields) =>
    fetch(path, { method: "POST", body: new URLSearchParams(fields), headers: { "HX-Request": "true" }, keepalive: true, signal: AbortSignal.timeout(8000) });
  const look = () => {
    const part = document.getElementById("source");
    if (part) htmx.ajax("GET", `/meters/source/part?back=${encodeURIComponent(part.dataset.back)}`, { target: "#source", swap: "outerHTML" });
  };

  setInterval(async () => {
    const one = held();
    if (!one) return;
    try {
      const answer = await post("/meters/source/renew", { holder: one.dataset.holder });
      if (answer.status === 410 && one.id === "source") look();
    } catch {
      // No answer: the bench switches the current off by itself.
    }
  }, 3000);

  // What stands above a page that has switched nothing on is true only as long as it is.
  setInterval(async () => {
    const banner = document.querySelector("form.current-on");
    if (!banner) return;
    try {
      const answer = await fetch("/meters/words", { signal: AbortSignal.timeout(8000) });
      if (answer.status === 204) banner.remove();
      else if (answer.ok) banner.querySelector("strong").textContent = await answer.text();
    } catch {
      // It stays as it was said last.
    }
  }, 2000);

  window.addEventListener("pagehide", () => {
    const one = held();
    if (one) navigator.sendBeacon("/meters/off", new URLSearchParams({ leaving: one.dataset.holder }));
  });

  // Escape is off, wherever one is on the page.
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const buttons = document.querySelectorAll("[data-off]");
    if (!buttons.length) return;
    event.preventDefault();
    (document.getElementById("stop") || buttons[0]).click();
  });
})();
