// Tones go on only while the page that began them is there: it asks for the levels all the time, and says when it goes.
"use strict";
// Enter stops while something sounds; a browser gives no focus by itself to a page that is opened at a part of it.
addEventListener("load", () => setTimeout(() => {
  const part = location.hash === "#record" && document.querySelector("#record [data-focus]");
  (document.getElementById("stop") || part || null)?.focus();
}));
addEventListener("pagehide", () => {
  const one = document.querySelector("[data-sounds]");
  if (one) navigator.sendBeacon(one.dataset.stop, new URLSearchParams({ leaving: one.dataset.sounds }));
});
