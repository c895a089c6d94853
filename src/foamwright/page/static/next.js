// The next steps: ranked in the background, told while it goes on, asked anew when a file changed.

import * as bench from "./bench.js";
import { here, query, say, send } from "./send.js";
import { follow } from "./slow.js";

const steps = document.getElementById("steps");
const doing = document.getElementById("doing");
const outdated = document.getElementById("outdated");
let round = 0;
let ranked = ""; // the revision that the list in sight was ranked for

function tellOutdated() {
  outdated.hidden = steps.hasAttribute("aria-busy") || here.revision === ranked;
}

async function rank() {
  const mine = ++round;
  steps.setAttribute("aria-busy", "true");
  doing.hidden = false;
  outdated.hidden = true;
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
    ranked = begun.told.revision;
    tellOutdated();
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

// A note leaves the list as it is, so that several can be entered; it is ranked anew when asked.
bench.wire({ changed: tellOutdated });
document.getElementById("content").addEventListener("click", async (event) => {
  if (!event.target.closest("button.rank-anew")) return;
  document.getElementById("content").scrollIntoView({ block: "start" });
  await rank();
});

const followAddress = () => bench.goTo(decodeURIComponent(location.hash.slice(1)));
window.addEventListener("hashchange", followAddress);
steps.addEventListener("click", (event) => {
  const link = event.target.closest("a.enter");
  if (link && link.hash === location.hash) followAddress(); // the same once more
});

setInterval(async () => {
  const occupied = () => document.hidden || steps.hasAttribute("aria-busy") || bench.busy();
  if (occupied()) return;
  const before = here.revision;
  const { ok, told } = await send("/revision");
  if (!ok || occupied() || before !== here.revision || told.revision === before) return;
  say("The files were changed; the steps are ranked anew.");
  await rank();
}, 3000);

document.getElementById("print").addEventListener("click", () => window.print());
window.addEventListener("beforeprint", () => {
  for (const one of steps.querySelectorAll("details")) one.open = true;
});
rank();
// A browser that goes to an address by itself takes the focus along: only then is it ours.
window.addEventListener("load", () => setTimeout(followAddress));
if (document.readyState === "complete") followAddress();
