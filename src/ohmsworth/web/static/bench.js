// The bench page without waiting: Enter moves on, keys of the number pad act, and what cannot be sent now waits in the page.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const study = () => byId("now")?.dataset.study;
  const figures = () => [...document.querySelectorAll("#entry [data-figure]")];

  // ---- Enter moves on, and sends from the last field. In an empty field * undoes and / skips.
  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (!(field instanceof HTMLInputElement) || !field.matches("#entry [data-figure]")) return;
    if (event.key === "Enter") {
      const all = figures();
      const later = all.slice(all.indexOf(field) + 1).find((one) => !one.value.trim() && !one.placeholder);
      if (later && field.value.trim()) {
        event.preventDefault();
        later.focus();
      }
    } else if (!field.value && (event.key === "*" || event.key === "/")) {
      event.preventDefault();
      byId(event.key === "*" ? "undo" : "skip")?.click();
    }
  });

  const ready = () => {
    // What was doubted is selected: a figure typed again replaces it, and can never land in the reason.
    const wrong = document.querySelector("#entry [aria-invalid]") || document.querySelector("[data-focus]");
    wrong?.focus({ preventScroll: false });
    if (wrong?.value && byId("anyway")) wrong.select();
  };
  document.addEventListener("htmx:after:swap", (event) => {
    const swapped = event.detail?.ctx?.target;
    if (swapped?.id === "now" || !swapped?.isConnected) ready();
  });
  ready();

  // ---- What waits. Each is a form as it would have been sent; the server keeps a key once, however often it comes.
  const place = () => `ohmsworth.waiting.${study()}`;
  const waiting = () => JSON.parse(localStorage.getItem(place()) || "[]");
  const keep = (list) => {
    localStorage.setItem(place(), JSON.stringify(list));
    tell();
  };
  const tell = (problem) => {
    const box = byId("queue");
    if (!box) return;
    const count = waiting().length;
    box.hidden = !count && !problem;
    box.textContent = problem || `${count} ${count === 1 ? "reading waits" : "readings wait"} in this page and will be sent as soon as the bench answers. Leave the page open.`;
  };
  const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");

  const put = (form) => {
    const fields = Object.fromEntries(new FormData(form));
    keep([...waiting(), { fields, typed: Date.now() }]);
    advance(form, fields);
  };

  // The next step of the sheet, from the list that came with the page.
  const advance = (form, fields) => {
    const done = byId("ahead")?.querySelector(`[data-step="${CSS.escape(fields.step || "none")}"]`);
    const next = done ? done.nextElementSibling : undefined;
    form.elements.key.value = newKey();
    for (const field of figures()) field.value = "";
    const shown = byId("do");
    if (next) {
      for (const name of ["step", "specimen", "condition", "mating", "polarity"]) {
        if (form.elements[name]) form.elements[name].value = next.dataset[name];
      }
      byId("connect").firstChild.textContent = `${next.dataset.specimen} `;
      byId("under").textContent = next.dataset.condition;
      shown.textContent = next.textContent;
    } else {
      shown.textContent = `Kept in this page: ${fields.voltage || fields.resistance || ""}. The bench does not answer; go on with the same contact or wait.`;
    }
    ready();
  };

  document.addEventListener("htmx:before:request", (event) => {
    if (event.detail.ctx.sourceElement?.id !== "entry" || !waiting().length) return;
    event.preventDefault(); // the order of the readings is kept: first what waits
    put(event.detail.ctx.sourceElement);
    send();
  });
  const unanswered = (event) => {
    const ctx = event.detail.ctx;
    const failed = !ctx?.response || ctx.response.status >= 500;
    if (failed && ctx?.sourceElement?.id === "entry") put(ctx.sourceElement);
  };
  document.addEventListener("htmx:error", unanswered);
  document.addEventListener("htmx:response:error", unanswered);

  let sending = false;
  const send = async () => {
    if (sending || !study()) return;
    sending = true;
    try {
      while (waiting().length) {
        const [first, ...rest] = waiting();
        const body = new URLSearchParams({ ...first.fields, elapsed: String(Math.max(0, Date.now() - first.typed) / 1000), waited: "yes" });
        const answer = await fetch(`/studies/${study()}/bench`, { method: "POST", body, headers: { "HX-Request": "true" }, signal: AbortSignal.timeout(15000) });
        if (answer.status >= 500 || answer.status === 401 || answer.status === 429) {
          tell(answer.status === 401 ? "Sign in again in another window: readings wait in this page." : undefined);
          return;
        }
        if (!answer.ok) {
          tell(`A reading that waited was refused: ${first.fields.specimen}, ${first.fields.voltage || first.fields.resistance}. It is kept in this page; write it down and reload.`);
          keepAside(first);
        }
        keep(rest);
        if (!rest.length) refresh();
      }
    } catch {
      // Still no answer; the timer tries again.
    } finally {
      sending = false;
    }
  };
  const keepAside = (one) => {
    const name = `ohmsworth.refused.${study()}`;
    localStorage.setItem(name, JSON.stringify([...JSON.parse(localStorage.getItem(name) || "[]"), one]));
  };
  const refresh = () => {
    htmx.ajax("GET", `/studies/${study()}/bench/now`, { target: "#now", swap: "outerHTML" });
    document.body.dispatchEvent(new CustomEvent("taken"));
  };
  window.addEventListener("online", send);
  setInterval(send, 3000);
  window.addEventListener("beforeunload", (event) => {
    if (waiting().length) event.preventDefault();
  });
  tell();
  send();

  // ---- What others took: the answer follows at once, the form only where nothing is typed in it.
  document.addEventListener("htmx:after:swap", () => {
    const news = byId("news");
    if (!news?.dataset.news) return;
    delete news.dataset.news;
    document.body.dispatchEvent(new CustomEvent("taken"));
    if (figures().every((field) => !field.value) && !byId("anyway")) refresh();
  });
})();
