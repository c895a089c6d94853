// The questions beside the drawing: lines that follow, leaves that open, remedies to try.

import { here, query, send, say } from "./send.js";

const all = [...document.querySelectorAll(".question")];
const names = (some) => some.map((one) => one.dataset.question);
const quick = all.filter((one) => "quick" in one.dataset);
const others = all.filter((one) => !("quick" in one.dataset));

let trial = {};
let running = false;
let waiting = null;
let round = 0;

export const setTrial = (keys) => { trial = keys; };
export const trying = () => Object.keys(trial).length > 0;
export const trialKeys = () => trial;

function show(lines) {
  for (const line of lines) {
    const place = all.find((one) => one.dataset.question === line.question);
    place.querySelector(".line").innerHTML = line.html;
    place.dataset.verdict = line.verdict;
    place.removeAttribute("aria-busy");
  }
}

function stale(some) {
  for (const one of some) one.setAttribute("aria-busy", "true");
}

// While a part moves: only what changes at once, and only the newest place.
export async function follow(moves, drawn) {
  waiting = { moves, drawn };
  if (running) return;
  running = true;
  try {
    while (waiting) {
      const now = waiting;
      waiting = null;
      const { ok, told } = await send("/ask", {
        variant: here.variant, trial, moves: now.moves, questions: names(quick),
      });
      if (ok) {
        show(told.lines);
        now.drawn(told);
      } else {
        say(told.problem);
      }
    }
  } finally {
    running = false;
  }
}

// After something was written or tried: everything, the quick ones first.
export async function askAll() {
  const mine = ++round;
  stale(all);
  for (const some of [quick, others]) {
    if (!some.length) continue;
    const { ok, told } = await send("/ask", {
      variant: here.variant, trial, questions: names(some),
    });
    if (mine !== round) return;
    if (!ok) {
      say(told.problem);
      return;
    }
    show(told.lines);
  }
  const next = await send(`/next/best${query()}`);
  if (mine === round && next.ok) document.getElementById("worth").innerHTML = trying() ? "" : next.told.html;
  for (const one of all) {
    if (one.querySelector("button").ariaExpanded === "true") await fill(one, mine);
  }
}

async function fill(one, mine) {
  const leaf = one.querySelector(".opened");
  leaf.setAttribute("aria-busy", "true");
  if (!leaf.innerHTML) leaf.innerHTML = '<p class="waiting">asking …</p>';
  const { ok, told } = await send("/open", {
    variant: here.variant, trial, questions: [one.dataset.question],
  });
  if (mine !== round) return;
  leaf.removeAttribute("aria-busy");
  leaf.innerHTML = ok ? told.html : "";
  if (!ok) say(told.problem);
  else await draw(one, leaf, mine);
}

// The charts come after the answer: nobody waits for them.
async function draw(one, leaf, mine) {
  const { ok, told } = await send("/charts", {
    variant: here.variant, trial, questions: [one.dataset.question],
    width: Math.floor(leaf.querySelector(".charts").clientWidth),
  });
  if (mine !== round || !ok) return;
  leaf.querySelector(".charts").innerHTML = told.html;
}

export function wire({ tryOut, goTo }) {
  for (const one of all) {
    const button = one.querySelector("h3 button");
    const leaf = one.querySelector(".opened");
    button.addEventListener("click", () => {
      const opens = button.ariaExpanded !== "true";
      button.ariaExpanded = String(opens);
      leaf.hidden = !opens;
      if (opens) fill(one, round);
    });
    one.addEventListener("click", (event) => {
      const attempt = event.target.closest("button.try");
      if (attempt) tryOut(JSON.parse(attempt.dataset.keys), attempt.dataset.do);
      const key = event.target.closest("a[data-key]");
      if (key) {
        event.preventDefault();
        goTo(key.dataset.key);
      }
    });
  }
}
