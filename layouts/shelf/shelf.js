// Search and filters over the list that is in the page already; without this script the list is simply whole.
"use strict";
(() => {
  const form = document.getElementById("find");
  const words = document.getElementById("words");
  const found = document.getElementById("found");
  const all = document.getElementById("all");
  const choices = [...form.querySelectorAll("select")];
  const cards = [...document.querySelectorAll("#shelf > li")];

  // The same small letters without accents that the page was given.
  const folded = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().match(/[\p{L}\p{N}]+/gu) || [];

  const fits = (card, asked) =>
    asked.every((word) => ` ${card.dataset.words}`.includes(` ${word.slice(0, 60)}`)) &&
    choices.every((c) => !c.value || (card.dataset[c.dataset.key] || "").split(" ").includes(c.value));

  const told = (count) => {
    const whole = cards.length;
    const noun = whole === 1 ? "plan" : "plans";
    if (count === whole) return `${whole} ${noun}`;
    return count ? `${count} of ${whole} ${noun}` : `No plan fits; there ${whole === 1 ? "is" : "are"} ${whole}`;
  };

  const show = () => {
    const asked = folded(words.value);
    let count = 0;
    for (const card of cards) {
      card.hidden = !fits(card, asked);
      count += card.hidden ? 0 : 1;
    }
    const text = told(count);
    if (found.textContent !== text) found.textContent = text;
    all.hidden = !words.value && choices.every((c) => !c.value);
    remember();
  };

  // What was asked stands behind the # of the address, so that it is there again after a look at a plan.
  const remember = () => {
    const state = new URLSearchParams();
    if (words.value) state.set("words", words.value);
    for (const c of choices) if (c.value) state.set(c.dataset.key, c.value);
    const text = state.toString();
    if (text || location.hash.includes("=")) history.replaceState(null, "", text ? `#${text}` : "#");
  };

  const recall = () => {
    const state = new URLSearchParams(location.hash.slice(1));
    words.value = state.get("words") || "";
    for (const c of choices) {
      const value = state.get(c.dataset.key) || "";
      c.value = [...c.options].some((option) => option.value === value) ? value : "";
    }
    show();
  };

  form.addEventListener("input", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", (event) => {
    event.preventDefault();
    words.value = "";
    for (const c of choices) c.value = "";
    show();
    words.focus();
  });
  addEventListener("hashchange", () => { if (location.hash.includes("=")) recall(); });
  addEventListener("pageshow", (event) => { if (event.persisted) recall(); });
  form.hidden = false;
  recall();
})();
