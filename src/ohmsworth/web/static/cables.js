// Measuring a cable without waiting: the field has the focus again after each row, * undoes and / says that there is no path.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const entry = () => byId("entry");
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

  // ---- What waits: one row, for the next one depends on what the bench says of it. It stands in the page and in the browser's
  // own store, so that neither a closed page nor a power cut loses it, and goes again by itself. The bench keeps a key once.
  const AGAIN = 3000; // milliseconds
  const place = `ohmsworth.cable.${location.pathname.split("/")[2]}`;
  const held = () => JSON.parse(localStorage.getItem(place) || "null");
  let pressed = ""; // the button that sends, where it says more than the field
  let timer = 0;
  document.addEventListener("submit", (event) => {
    if (event.target === entry()) pressed = ["open", "keep"].includes(event.submitter?.name) ? event.submitter.name : "";
  }, true);
  const hold = () => {
    const form = entry();
    if (!form) return;
    localStorage.setItem(place, JSON.stringify({ ...Object.fromEntries(new FormData(form)), pressed }));
    clearTimeout(timer);
    timer = setTimeout(again, AGAIN);
  };
  const again = () => {
    const [form, row] = [entry(), held()];
    if (!form || form.elements.key.value !== row?.key) return;
    form.requestSubmit(form.querySelector(`button[name="${row.pressed || "enter"}"]`) || undefined);
  };
  const done = () => {
    clearTimeout(timer);
    localStorage.removeItem(place);
  };
  const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  // Another figure is another row: the one that was sent may have arrived although no answer came.
  document.addEventListener("input", (event) => {
    if (!held() || !event.target.matches("#entry [data-figure]")) return;
    done();
    entry().elements.key.value = newKey();
  });

  // A refusal stands until the next thing is asked for; the same key goes with the same figure, so that it is kept once.
  const say = (words) => {
    const told = document.createElement("p");
    told.className = "faults";
    told.setAttribute("role", "alert");
    told.textContent = words;
    byId("refused").replaceChildren(told);
  };
  const LOST = "The bench does not answer. What you typed is kept in this browser and sent as soon as it answers.";
  document.addEventListener("htmx:before:request", () => held() || byId("refused").replaceChildren());
  const unanswered = (event) => {
    const ctx = event.detail?.ctx;
    if (ctx?.response?.status && ctx.response.status < 500) return;
    say(ctx?.sourceElement?.id === "entry" ? LOST : "The bench does not answer. Ask again when it does.");
    if (ctx?.sourceElement?.id === "entry") hold();
  };
  document.addEventListener("htmx:error", unanswered);
  document.addEventListener("htmx:response:error", unanswered);
  document.addEventListener("htmx:after:request", (event) => {
    const ctx = event.detail?.ctx;
    // Kept, asked about or refused; whoever has to sign in again first has lost nothing.
    if (ctx?.sourceElement?.id !== "entry" || ![200, 409, 422].includes(ctx.response?.status)) return;
    if (held()) byId("refused").replaceChildren();
    done();
  });

  // A page that is opened anew goes on with the row that waits, between the contacts that it was read between.
  const goOn = () => {
    const [form, row] = [entry(), held()];
    if (!form || !row) return;
    const asked = new URLSearchParams({ from: row.from, to: row.to });
    if (form.elements.from.value !== row.from || form.elements.to.value !== row.to) {
      if (location.search !== `?${asked}`) location.replace(`?${asked}`);
      return;
    }
    for (const name of ["key", "resistance", "resistance_unit"]) form.elements[name].value = row[name];
    say(LOST);
    again();
  };
  ready();
  goOn();
})();
