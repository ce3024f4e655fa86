// The desk works without this script; with it, decisions have keys, and a page that lies open hears what others decide.
"use strict";
(() => {
  const body = document.body;
  const typing = (e) => e.closest && e.closest("input, textarea, select, [contenteditable]");
  const by = (id) => document.getElementById(id);

  // What was just told is put in its place anew, so that it is read aloud.
  const flash = by("flash");
  if (flash && flash.textContent.trim()) {
    const told = [...flash.childNodes];
    setTimeout(() => { flash.replaceChildren(...told); }, 150);
  }

  // The card that a number chose; the first one otherwise.
  const cards = [...document.querySelectorAll(".card[data-n]")];
  let chosen = null;
  const choose = (n) => {
    const card = cards.find((c) => c.dataset.n === n);
    if (!card) return false;
    if (chosen) chosen.classList.remove("chosen");
    chosen = card;
    card.classList.add("chosen");
    card.focus();
    card.scrollIntoView({ block: "nearest" });
    return true;
  };
  const press = (name) => {
    const focused = document.activeElement && document.activeElement.closest(".card[data-n]");
    const card = focused || chosen || cards[0];
    const button = card && card.querySelector(`button[name="${name}"]`);
    if (button) button.click();
    return !!button;
  };
  const click = (el) => { if (el) el.click(); return !!el; };
  const enter = (el) => { if (el) { el.focus(); el.scrollIntoView({ block: "center" }); } return !!el; };
  const go = (path) => { location.assign(path); return true; };

  const keys = {
    c: () => press("confirm"),
    r: () => press("refuse"),
    s: () => click(document.querySelector('button[name="whole"][value="unsure"]')),
    n: () => click(document.querySelector('button[name="whole"][value="none"]')),
    z: () => click(by("undo")),
    b: () => enter(by("because")),
    m: () => enter(by("text")),
    j: () => click(by("next")),
    k: () => click(by("ahead")),
    u: () => go("/find?state=unsure"),
    p: () => go("/plan"),
    "/": () => enter(by("q")) || click(by("bring")) || go("/find"),
  };
  // A key that is held down, or pressed again before the page has come up, decides nothing.
  const born = performance.now();
  let sent = false;
  document.addEventListener("keydown", (e) => {
    if (e.key === "Escape" && typing(e.target)) { e.target.blur(); return; }
    if (!body.dataset.keys || e.repeat || e.ctrlKey || e.metaKey || e.altKey || typing(e.target) || sent || performance.now() - born < 250) return;
    const key = e.key.toLowerCase();
    const done = /^[1-9]$/.test(key) ? choose(key) : keys[key] && keys[key]();
    if (done) e.preventDefault();
  });

  // A form is sent once.
  document.addEventListener("submit", (e) => {
    if (e.target.method !== "post") return;
    if (sent) { e.preventDefault(); return; }
    sent = true;
  });
  addEventListener("pageshow", (e) => { if (e.persisted) { sent = false; } });

  // Lists are narrowed as soon as something is chosen.
  for (const form of document.querySelectorAll("form.find")) {
    form.addEventListener("change", (e) => { if (e.target.matches("select")) form.requestSubmit(); });
  }
  if (by("q") && !by("q").value && location.search.includes("for=")) by("q").focus();

  // The pulse: others' decisions.
  const elsewhere = by("elsewhere");
  let heard = body.dataset.revision;
  const pulse = async () => {
    if (document.hidden || sent) return;
    try {
      const answer = await fetch("/pulse?stone=" + encodeURIComponent(body.dataset.stone || ""), { headers: { Accept: "application/json" } });
      if (!answer.ok) return;
      const now = await answer.json();
      if (now.revision === heard) return;
      heard = now.revision;
      const left = by("left");
      if (left) left.textContent = now.left;
      if (elsewhere && now.stone && now.stone !== elsewhere.dataset.line) {
        const again = document.createElement("a");
        again.href = location.href;
        again.textContent = "Show it as it stands now";
        elsewhere.replaceChildren("Meanwhile, elsewhere: " + now.stone + ". ", again);
        elsewhere.dataset.line = now.stone;
      }
    } catch { /* the desk is closed, or being opened anew */ }
  };
  setInterval(pulse, 3000);
  addEventListener("visibilitychange", pulse);
})();
