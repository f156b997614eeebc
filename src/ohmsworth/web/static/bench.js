// The bench page without waiting: Enter moves on, keys of the number pad act, and what cannot be sent now waits in the page.
"use strict";
(() => {
  const byId = (id) => document.getElementById(id);
  const study = () => byId("now")?.dataset.study;
  const figures = () => [...document.querySelectorAll("#entry [data-figure]")];

  // ---- Enter moves on, and sends from the last field, which may stay empty. While nothing is typed * undoes and / skips,
  // and Enter reads the meters. A meter that types may send two ends of a line: the second one is not heard.
  const TWO_ENDS = 120; // milliseconds; a hand is slower
  let [entered, typedSince] = [-1000, false];
  document.addEventListener("input", (event) => {
    typedSince = true;
    sayComma(event.target);
  });
  // A comma before three digits could part thousands; here it is the decimal mark, and that is said while it is typed.
  const sayComma = (field) => {
    if (!field.matches("#entry[data-comma-said] [data-figure]")) return;
    const said = byId(`${field.name}-said`);
    said.dataset.before ??= said.textContent;
    const decimal = /^\s*[+\u2212-]?\d{1,3},\d{3}(?!\d)/.test(field.value);
    said.textContent = decimal ? `Read as ${field.value.trim().replace(",", ".")}: the comma is the decimal mark.` : said.dataset.before;
  };
  const nothingTyped = () => figures().every((one) => !one.value.trim());
  document.addEventListener("keydown", (event) => {
    const field = event.target;
    if (!(field instanceof HTMLInputElement) || !field.matches("#entry [data-figure]")) return;
    if (event.key === "Enter") {
      const again = !typedSince && (event.timeStamp - entered < TWO_ENDS || event.repeat);
      [entered, typedSince] = [event.timeStamp, false];
      if (again) return event.preventDefault();
      const meters = byId("read-meters");
      if (meters && nothingTyped() && !byId("anyway")) {
        event.preventDefault();
        meters.hasAttribute("data-enter") ? meters.click() : meters.focus();
        return;
      }
      // The next field comes always, also where it may stay empty: two figures and two Enters are never two readings.
      const all = figures();
      const next = all[all.indexOf(field) + 1];
      if (next && field.value.trim()) {
        event.preventDefault();
        next.focus();
        next.select();
      }
    } else if (nothingTyped() && (event.key === "*" || event.key === "/")) {
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
    // News replaces itself every few seconds: it must not take the focus from the field in which somebody types.
    if (swapped?.id !== "now" && (swapped?.isConnected || swapped?.id === "news")) return;
    const refused = byId("refused");
    if (refused?.firstElementChild) refused.scrollIntoView({ block: "nearest" });
    else ready();
  });
  ready();

  // ---- What waits. Each is a form as it would have been sent; the server keeps a key once, however often it comes.
  const held = (what) => JSON.parse(localStorage.getItem(`ohmsworth.${what}.${study()}`) || "[]");
  const hold = (what, list) => {
    localStorage.setItem(`ohmsworth.${what}.${study()}`, JSON.stringify(list));
    tell();
  };
  const waiting = () => held("waiting");
  const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  const read = (fields) => `${fields.specimen} ${fields.voltage || fields.resistance || ""}`;

  // ---- What is said about it, at all times: whether the bench answers, what waits, what was refused.
  let lost = false;
  let why = "";
  let other = ""; // who is signed in instead of whoever typed what waits
  const tell = () => {
    const [count, refused] = [waiting().length, held("refused")];
    const said = [];
    if (lost) said.push("The bench does not answer. Go on reading: what you type is kept in this page and sent as soon as it answers.");
    if (why) said.push(why);
    if (count) said.push(`${count} ${count === 1 ? "reading waits" : "readings wait"} in this page. Leave the page open.`);
    for (const one of refused) said.push(`A reading that waited was refused: ${read(one.fields)}. ${one.why} Write it down.`);
    byId("queue").hidden = !said.length;
    if (byId("queue-said").textContent !== said.join(" ")) byId("queue-said").textContent = said.join(" ");
    byId("noted").hidden = !refused.length;
    byId("instead").hidden = !(other && count);
    byId("instead").textContent = `Send it in the name of ${other}`;
  };
  // What somebody else typed goes under another name only when that is decided, and for what waits by then.
  byId("instead")?.addEventListener("click", () => {
    hold("waiting", waiting().map((one) => ({ ...one, fields: { ...one.fields, instead: other } })));
    other = why = "";
    tell();
    send();
  });
  byId("noted")?.addEventListener("click", () => hold("refused", []));
  const answers = (does) => {
    if (does && !waiting().length) why = ""; // a page that can be read says nothing of one that cannot be written
    lost = !does;
    tell();
  };
  const words = (html) => {
    const page = new DOMParser().parseFromString(html, "text/html");
    const part = page.querySelector(".fault, .faults, main") || page.querySelector(".do");
    return part?.textContent.replace(/\s+/g, " ").trim() || "";
  };

  // A current that is left empty is the one that the page shows, whatever others read before this one arrives.
  const asShown = (fields) => {
    const current = byId("current");
    if (!current || fields.polarity === "0") return;
    fields.current ||= current.dataset.before || "";
    const bare = !/[^\d.,eE+\u2212\s-]/.test(fields.current);
    current.dataset.before = bare && fields.current ? `${fields.current} ${fields.current_unit}` : fields.current;
    current.placeholder = current.dataset.before;
    byId("current-said").textContent = fields.current ? `Left empty: ${current.dataset.before}, as before.` : "";
  };
  const put = (form) => {
    const fields = Object.fromEntries(new FormData(form));
    asShown(fields);
    hold("waiting", [...waiting(), { fields, typed: Date.now() }]);
    advance(form, fields);
  };

  // The next step of the sheet, from the list that came with the page.
  const advance = (form, fields) => {
    const done = byId("ahead")?.querySelector(`[data-step="${CSS.escape(fields.step || "none")}"]`);
    const next = done?.nextElementSibling;
    form.elements.key.value = newKey();
    for (const field of [...figures(), form.elements.note]) field.value = "";
    for (const old of document.querySelectorAll("#entry .questioned, #entry .fault, #now .result")) old.remove();
    for (const field of figures()) field.removeAttribute("aria-invalid");
    const shown = byId("do");
    byId("which-way")?.remove();
    if (next) {
      for (const name of ["step", "specimen", "condition", "mating", "polarity"]) {
        if (form.elements[name]) form.elements[name].value = next.dataset[name];
      }
      byId("connect").firstChild.textContent = `${next.dataset.specimen} `;
      byId("under").textContent = next.dataset.condition;
      document.querySelector("#now .where").textContent = `Step ${next.dataset.step}`;
      shown.textContent = next.textContent;
    } else {
      shown.textContent = `Kept in this page: ${read(fields)}. Go on with the same contact or wait.`;
    }
    ready();
  };

  // A refusal stands until the next thing is asked for.
  document.addEventListener("htmx:before:request", (event) => {
    const source = event.detail.ctx.sourceElement;
    if (source.id !== "news" && byId("now").contains(source)) byId("refused")?.replaceChildren();
  });
  // While something waits, the page leads by itself: the order of the readings is kept, and no older state comes over it.
  document.addEventListener("htmx:before:request", (event) => {
    const source = event.detail.ctx.sourceElement;
    if (!waiting().length || !byId("now").contains(source) || source.id === "news") return;
    event.preventDefault();
    if (source.id === "entry") put(source);
    else why = "That has to wait until the readings of this page are sent.";
    tell();
    send();
  });
  document.addEventListener("htmx:after:request", (event) => {
    const ctx = event.detail.ctx;
    if (ctx.response.status < 500) answers(true);
    else why = words(ctx.text);
    tell();
  });
  const unanswered = (event) => {
    const ctx = event.detail.ctx;
    if (ctx?.response && ctx.response.status < 500) return;
    if (!ctx?.response) answers(false);
    if (ctx?.sourceElement?.id === "entry") put(ctx.sourceElement);
  };
  document.addEventListener("htmx:error", unanswered);
  document.addEventListener("htmx:response:error", unanswered);

  // Sent in their order; the bench says of each that it was taken, so that an answer of anybody else is none.
  const post = async ({ fields, typed }) => {
    const elapsed = String(Math.max(0, Date.now() - typed) / 1000);
    const body = new URLSearchParams({ ...fields, elapsed, waited: "yes" });
    const answer = await fetch(`/studies/${study()}/bench`, { method: "POST", body, headers: { "HX-Request": "true" }, signal: AbortSignal.timeout(15000) });
    const taken = answer.ok && (answer.headers.get("HX-Trigger") || "").includes("taken");
    const text = await answer.text();
    const signedIn = taken ? "" : new DOMParser().parseFromString(text, "text/html").querySelector("[data-signed-in]")?.dataset.signedIn || "";
    return { taken, status: answer.status, said: words(taken ? "" : text), doubted: taken ? text : "", signedIn };
  };
  let sending = false;
  const send = async () => {
    if (sending || !study()) return;
    sending = true;
    try {
      // A bench that is only starting lets its first request wait; that time is not to be taken for the readings' own.
      if (waiting().length) await fetch(`/studies/${study()}/bench/ahead`, { signal: AbortSignal.timeout(15000) });
      while (waiting().length) {
        const [first] = waiting();
        const { taken, status, said, doubted, signedIn } = await post(first);
        other = signedIn;
        answers(true);
        if (!taken && ![404, 409, 413, 422].includes(status)) {
          why = status === 401 || status < 400 ? "Sign in again in another window." : said;
          return tell();
        }
        why = "";
        if (!taken) hold("refused", [...held("refused"), { ...first, why: said }]);
        hold("waiting", waiting().filter((one) => one.fields.key !== first.fields.key));
        if (!waiting().length && !refresh()) showDoubted(doubted);
      }
    } catch {
      answers(false); // the timer tries again
    } finally {
      sending = false;
    }
  };
  const untouched = () => !waiting().length && figures().every((field) => !field.value) && !byId("anyway");
  const refresh = () => {
    document.body.dispatchEvent(new CustomEvent("taken"));
    if (untouched()) htmx.ajax("GET", `/studies/${study()}/bench/now`, { target: "#now", swap: "outerHTML" });
    return untouched();
  };
  // What was typed while the page was asked for anew stays: the next reading brings the page up to date.
  document.addEventListener("htmx:before:swap", (event) => {
    const ctx = event.detail.ctx;
    if (ctx.sourceElement === document.body && ctx.target?.id === "now" && !untouched()) event.preventDefault();
  });
  // Where something is typed already only this part of what the bench said is shown: that readings which waited are doubtful.
  const showDoubted = (html) => {
    const part = new DOMParser().parseFromString(html, "text/html").getElementById("doubted");
    byId("doubted")?.remove();
    if (part) document.querySelector("#now .lead")?.prepend(part);
  };
  window.addEventListener("online", send);
  setInterval(send, 3000);
  window.addEventListener("beforeunload", (event) => {
    if (waiting().length) event.preventDefault();
  });
  if (study()) tell();
  send();

  // ---- What others took: the answer follows at once, the form only where nothing is typed in it.
  document.addEventListener("htmx:after:swap", () => {
    const news = byId("news");
    if (!news?.dataset.news) return;
    delete news.dataset.news;
    refresh();
  });
})();
