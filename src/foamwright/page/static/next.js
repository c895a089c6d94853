// The next steps: ranked in the background, told while it goes on, asked anew when a file changed.

import { here, query, say, send } from "./send.js";
import { follow } from "./slow.js";

const steps = document.getElementById("steps");
const doing = document.getElementById("doing");
let round = 0;

async function rank() {
  const mine = ++round;
  steps.setAttribute("aria-busy", "true");
  doing.hidden = false;
  const begun = await send(`/next/steps${query()}`);
  if (begun.ok) here.revision = begun.told.revision;
  const tell = (words) => { doing.textContent = `Computed anew through all questions. Now ${words} …`; };
  const answer = begun.ok ? await follow(begun, tell, () => mine === round) : begun;
  if (answer === null || mine !== round) return;
  steps.removeAttribute("aria-busy");
  doing.hidden = true;
  if (answer.status === 410) {
    await rank(); // the notebook was opened anew meanwhile
  } else if (answer.ok) {
    steps.innerHTML = answer.told.html;
    say("");
  } else {
    say(answer.told.problem);
  }
}

// The notebook finds what is to be tried in this tab's own memory.
steps.addEventListener("click", (event) => {
  const button = event.target.closest("button.try");
  if (!button) return;
  sessionStorage.setItem("to-try", JSON.stringify({
    variant: here.variant, keys: JSON.parse(button.dataset.keys), what: button.dataset.do,
  }));
  location.assign(`/${query()}`);
});

setInterval(async () => {
  if (document.hidden || steps.hasAttribute("aria-busy")) return;
  const { ok, told } = await send("/revision");
  if (!ok || told.revision === here.revision || steps.hasAttribute("aria-busy")) return;
  say("The files were changed; the steps are ranked anew.");
  await rank();
}, 3000);

document.getElementById("print").addEventListener("click", () => window.print());
window.addEventListener("beforeprint", () => {
  for (const one of steps.querySelectorAll("details")) one.open = true;
});
rank();
