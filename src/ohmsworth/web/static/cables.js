// Measuring a cable without waiting: the field has the focus again after each row, * undoes and / says that there is no path.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const figure = () => document.querySelector("#entry [data-figure]");
  const ready = () => {
    const field = figure();
    field?.focus({ preventScroll: false });
    // What was doubted is selected: a figure typed again replaces it.
    if (field?.value) field.select();
    const [now, known] = [byId("now").dataset, byId("known")];
    known.className = `verdict ${now.tone}`;
    known.textContent = `${now.sign} ${now.state}`;
  };

  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (!(field instanceof HTMLInputElement) || !field.matches("#entry [data-figure]") || field.value.trim()) return;
    // An empty Enter is the second end of a line that a meter types, or a key that is held down.
    if (event.key === "Enter") event.preventDefault();
    if (event.key !== "*" && event.key !== "/") return;
    event.preventDefault();
    byId(event.key === "*" ? "undo" : "open")?.click();
  });
  document.addEventListener("htmx:after:swap", (event) => {
    const swapped = event.detail?.ctx?.target;
    if (swapped?.id === "now" || !swapped?.isConnected) ready();
  });

  // A refusal stands until the next thing is asked for; the same key goes with the same figure, so that it is kept once.
  const say = (words) => {
    const told = document.createElement("p");
    told.className = "faults";
    told.setAttribute("role", "alert");
    told.textContent = words;
    byId("refused").replaceChildren(told);
  };
  document.addEventListener("htmx:before:request", () => byId("refused").replaceChildren());
  const unanswered = (event) => {
    const status = event.detail?.ctx?.response?.status;
    if (status && status < 500) return;
    say("The bench does not answer. What you typed still stands in its field: press Enter again when it answers.");
  };
  document.addEventListener("htmx:error", unanswered);
  document.addEventListener("htmx:response:error", unanswered);
  ready();
})();
