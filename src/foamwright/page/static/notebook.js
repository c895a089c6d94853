// The notebook: what moves, what is asked, what is written, joined together.

import * as edits from "./edits.js";
import * as questions from "./questions.js";
import * as sketch from "./sketch.js";
import * as written from "./written.js";
import { here, send, say } from "./send.js";

const bar = document.getElementById("trial");
const parts = document.getElementById("parts");
let doing = "";

// Everything as the file is now, the answers before the drawing: they are what one waits for.
async function renew() {
  const asked = questions.askAll();
  const { ok, told } = await edits.state();
  if (ok) {
    here.revision = told.revision;
    written.draw(told.written);
    if (!questions.trying()) drawAll(told);
  } else {
    say(told.problem);
  }
  await asked;
}

function drawAll({ svg, parts: rows }) {
  if (sketch.busy()) return; // a part is in hand: what it lands on is drawn then
  const held = document.activeElement?.closest?.("#parts button")?.ariaLabel;
  sketch.draw(svg);
  parts.innerHTML = rows;
  if (held) parts.querySelector(`button[aria-label="${CSS.escape(held)}"]`)?.focus();
}

const changed = async ({ ok, status }) => {
  if (ok || status === 409 || status === 422) await renew();
};

const edit = (what) => edits.write(what, { changed });

const moves = {
  moving(name) {
    questions.follow({ [name]: sketch.placeOf(name) }, sketch.follow);
    const row = [...parts.querySelectorAll("tr")].find((one) => one.dataset.part === name);
    for (const [axis, value] of Object.entries(sketch.placeOf(name))) {
      const at = row?.querySelector(`[data-axis="${axis}"] .at`);
      if (at) at.firstChild.textContent = String(Math.round(value * 10) / 10);
    }
  },
  async landed(name, start) {
    const now = sketch.placeOf(name);
    const gone = Object.fromEntries(
      Object.entries(now).filter(([axis, value]) => value !== start[axis]));
    if (!Object.keys(gone).length) return;
    if (questions.trying()) {
      const keys = Object.fromEntries(
        Object.entries(gone).map(([axis, value]) => [`items.${name}.at.${axis}`, `${value} mm`]));
      tryOut({ ...questions.trialKeys(), ...keys }, `${doing}; ${name} moved`);
      return;
    }
    const { status } = await edit({ moves: { [name]: gone } });
    if (status === 0) sketch.put(name, start); // not written: it is not there
  },
};

// --- Trying -----------------------------------------------------------------------------------

async function tryOut(keys, what) {
  const { ok, told } = await send("/try", { variant: here.variant, trial: keys });
  if (!ok) {
    say(`Cannot be tried: ${told.problem}`);
    return;
  }
  questions.setTrial(keys);
  doing = what;
  bar.hidden = false;
  bar.querySelector(".what").textContent = what;
  bar.querySelector(".problem").textContent = "";
  document.body.classList.add("trying");
  drawAll(told);
  bar.scrollIntoView({ block: "nearest" });
  bar.querySelector("input").value = "";
  await questions.askAll();
}

function endTrial() {
  questions.setTrial({});
  doing = "";
  bar.hidden = true;
  document.body.classList.remove("trying");
}

bar.querySelector("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const name = bar.querySelector("input").value;
  const { ok, told } = await send("/keep", {
    variant: here.variant, revision: here.revision, trial: questions.trialKeys(), name,
  });
  if (ok) location.assign(`/?variant=${encodeURIComponent(told.variant)}`);
  else bar.querySelector(".problem").textContent = told.problem;
});
bar.querySelector(".write").addEventListener("click", async () => {
  const keys = questions.trialKeys();
  endTrial();
  await edit({ keys });
});
bar.querySelector(".drop").addEventListener("click", async () => {
  endTrial();
  await renew();
  say("Thrown away; the plane is as it was.");
});

// --- The parts, one by one --------------------------------------------------------------------

parts.addEventListener("click", (event) => {
  const row = event.target.closest("tr[data-part]");
  const step = event.target.closest("button[data-step]");
  if (step) {
    const axis = step.closest("td").dataset.axis;
    sketch.stepBy(row.dataset.part, { [axis]: Number(step.dataset.step) }, moves);
  } else if (event.target.closest("button.look")) {
    sketch.look(row.dataset.part);
    document.getElementById("sketch").scrollIntoView({ block: "nearest" });
  }
});

// --- The head ---------------------------------------------------------------------------------

const order = document.getElementById("order");
function ordered(first) {
  document.body.classList.toggle("questions-first", first);
  order.setAttribute("aria-pressed", String(first));
  localStorage.setItem("questions-first", first ? "yes" : "");
}
order.addEventListener("click", () => ordered(order.getAttribute("aria-pressed") !== "true"));
ordered(localStorage.getItem("questions-first") === "yes");

document.getElementById("print").addEventListener("click", () => window.print());
window.addEventListener("beforeprint", () => {
  for (const one of document.querySelectorAll("#parts-leaf")) one.open = true;
});

sketch.wire(moves);
questions.wire({ tryOut, goTo: written.goTo });
written.wire({ edit });
edits.wire({ changed });
edits.watch({ changed });
// What another leaf wants tried is tried once, on the variant it was found for.
async function tryWhatIsWanted() {
  const wanted = JSON.parse(sessionStorage.getItem("to-try") ?? "null");
  sessionStorage.removeItem("to-try");
  if (wanted?.variant === here.variant) await tryOut(wanted.keys, wanted.what);
}

if (document.querySelector(".handle")) questions.askAll();
else renew(); // the foam is there; parts and answers follow
tryWhatIsWanted();
