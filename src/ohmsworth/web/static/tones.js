// Tones go on only while the page that began them is there: it asks for the levels all the time, and says when it goes.
"use strict";
addEventListener("pagehide", () => {
  const one = document.querySelector("[data-sounds]");
  if (one) navigator.sendBeacon(one.dataset.stop, new URLSearchParams({ leaving: one.dataset.sounds }));
});
