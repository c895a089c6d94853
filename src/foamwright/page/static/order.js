// The build order: one tick at a time, written at once; what stands against it is asked about.

import { here, query, say, send } from "./send.js";

const steps = document.getElementById("steps");
const dialog = document.getElementById("anyway");
let busy = false;

function draw(told) {
  const open = [...steps.querySelectorAll("details[open]")].map((one) => stepOf(one).dataset.step);
  const notes = new Map([...steps.querySelectorAll("input[name=note]")]
    .filter((one) => one.value).map((one) => [stepOf(one).dataset.step, one.value]));
  const held = stepOf(document.activeElement)?.dataset.step;
  here.revision = told.revision;
  steps.innerHTML = told.html;
  document.getElementById("count").textContent = `${told.done} of ${told.all} steps done`;
  for (const one of steps.querySelectorAll(".step")) {
    const details = one.querySelector("details");
    if (details && open.includes(one.dataset.step)) details.open = true;
    const note = one.querySelector("input[name=note]");
    if (note && notes.has(one.dataset.step)) note.value = notes.get(one.dataset.step);
    if (one.dataset.step === held) one.querySelector(".tick").focus({ preventScroll: true });
  }
}

const stepOf = (one) => one?.closest?.(".step");

async function renew(words) {
  const { ok, told } = await send(`/order/steps${query()}`);
  if (ok) draw(told);
  say(ok ? words : told.problem);
}

async function write(path, more) {
  if (busy) return;
  busy = true;
  steps.setAttribute("aria-busy", "true");
  say("");
  try {
    const body = { variant: here.variant, revision: here.revision, ...more };
    const { ok, status, told } = await send(path, body);
    if (ok) {
      draw(told);
      if (told.warnings?.length) say(`Written, though ${told.warnings.join("; ")}.`);
    } else if (status === 409) {
      await renew(`Not written: ${told.problem}. This is how it is now.`);
    } else {
      say(`Not written: ${told.problem}`);
    }
  } finally {
    busy = false;
    steps.removeAttribute("aria-busy");
  }
}

function ask(step, against) {
  dialog.querySelector(".step").textContent = step.querySelector("h3").textContent;
  dialog.querySelector(".against").replaceChildren(...against.map((words) => {
    const line = document.createElement("li");
    line.textContent = words;
    return line;
  }));
  dialog.querySelector(".forever").hidden = !("forever" in step.dataset);
  dialog.returnValue = "";
  dialog.showModal();
  return new Promise((resolve) => {
    dialog.addEventListener("close", () => resolve(dialog.returnValue === "anyway"), { once: true });
  });
}

steps.addEventListener("click", async (event) => {
  const button = event.target.closest("button.tick");
  if (!button || busy) return;
  const step = stepOf(button);
  if (button.classList.contains("back")) {
    await write("/order/back", { step: step.dataset.step });
    return;
  }
  const against = JSON.parse(step.dataset.against);
  const anyway = against.length > 0;
  if (anyway && !(await ask(step, against))) return;
  const note = step.querySelector("input[name=note]")?.value ?? "";
  await write("/order/done", { step: step.dataset.step, anyway, note });
});

// A file changed outside, or by another phone, is noticed.
setInterval(async () => {
  if (document.hidden || busy || dialog.open) return;
  const before = here.revision;
  const { ok, told } = await send("/revision");
  if (!ok || busy || dialog.open || before !== here.revision || told.revision === before) return;
  await renew("The files were changed elsewhere; this is how it is now.");
}, 3000);

document.getElementById("print").addEventListener("click", () => window.print());
