// The flights: a log or a card is read, looked at, then kept with the plane or set aside.

import { filled, mark } from "./card.js";
import { forgetSaid, saidOf, wireColumns } from "./columns.js";
import { here, say, send } from "./send.js";
import { follow } from "./slow.js";
import { takeLogs } from "./taking.js";
import { sizeOf, stop, upload } from "./upload.js";

const byId = (name) => document.getElementById(name);
const told = byId("told");
const kept = byId("kept");
const doing = byId("doing");
const sending = byId("sending");

let log = null; // the file in hand, so that it can be sent again
let flight = null; // what the notebook calls the flight in hand
let before = []; // kept flights from before a change, that it is held beside
let round = 0;

function show(words) {
  doing.hidden = !words;
  doing.textContent = words;
}

// --- Taking a log in --------------------------------------------------------------------------

async function sent(file) {
  sending.hidden = false;
  const bar = byId("sent");
  bar.value = 0;
  byId("sent-words").textContent = `${file.name}, ${sizeOf(file.size)}`;
  const answer = await upload(file, (done, all) => {
    bar.value = all ? done / all : 0;
    byId("sent-words").textContent = `${file.name}: ${sizeOf(done)} of ${sizeOf(all)}`;
  });
  sending.hidden = true;
  return answer;
}

async function bring(file) {
  const mine = ++round;
  say("");
  await forget();
  const answer = await sent(file);
  if (mine !== round) return;
  if (!answer.ok) {
    say(answer.told.problem ? `Not taken in: ${answer.told.problem}` : "Stopped; nothing was taken in.");
    return;
  }
  log = file;
  flight = answer.told.flight;
  byId("read-card").textContent = "Read them beside the log";
  await read({});
}

async function forget() {
  const old = flight;
  flight = null;
  log = null;
  before = [];
  told.hidden = true;
  told.innerHTML = "";
  forgetSaid();
  byId("read-card").textContent = "Read these numbers";
  if (old) await send("/flights/aside", { flight: old });
}

// --- Reading it -------------------------------------------------------------------------------

async function read(takes, again = true) {
  const mine = ++round;
  told.setAttribute("aria-busy", "true");
  show("Reading the flight …");
  const wish = { flight: log ? flight : null, takes, card: filled(), before };
  const begun = await send("/flights/read", wish);
  const tell = (words) => show(`${words[0].toUpperCase()}${words.slice(1)} …`);
  const answer = begun.ok ? await follow(begun, tell, () => mine === round) : begun;
  if (answer === null || mine !== round) return false;
  told.removeAttribute("aria-busy");
  show("");
  if (answer.status === 410 && log && again) {
    return (await sendAgain()) && read(takes, false);
  }
  mark(answer);
  if (!answer.ok) {
    say(`Not read: ${answer.told.problem}`);
    return false;
  }
  say("");
  const old = flight;
  flight = answer.told.flight;
  if (old && old !== flight) await send("/flights/aside", { flight: old });
  told.innerHTML = answer.told.html;
  told.hidden = false;
  wireColumns(told, read);
  const change = told.querySelector("#change-title");
  if (before.length && change) {
    change.scrollIntoView({ block: "start" });
    return true;
  }
  told.focus({ preventScroll: true });
  told.scrollIntoView({ block: "start" });
  return true;
}

// The notebook was closed and opened anew: what lay in its hands is given again.
async function sendAgain() {
  const answer = await sent(log);
  if (answer.ok) flight = answer.told.flight;
  else say(`Not taken in: ${answer.told.problem}`);
  return answer.ok;
}

async function readAnew() {
  if (await read(saidOf(told))) {
    say("The notebook was opened anew, so the flight was read again: look at it, then decide.");
  }
}

// --- Deciding ---------------------------------------------------------------------------------

async function keep() {
  const mine = ++round;
  told.setAttribute("aria-busy", "true");
  const begun = await send("/flights/keep", { flight });
  const tell = (words) => show(`${words[0].toUpperCase()}${words.slice(1)} …`);
  const answer = begun.ok ? await follow(begun, tell, () => mine === round) : begun;
  told.removeAttribute("aria-busy");
  show("");
  if (answer === null) return;
  if (answer.status === 410) {
    await readAnew();
  } else if (!answer.ok) {
    say(`Not kept: ${answer.told.problem}`);
  } else {
    flight = null;
    await forget();
    say("");
    show(`Kept with the plane: ${answer.told.written.join(", ")}. The answers start from it now.`);
    byId("card").reset();
    await renew(true);
  }
}

async function confirm(button) {
  const { ok, status, told: answer } = await send("/flights/columns", { flight });
  if (status === 410) {
    await readAnew();
  } else if (!ok) {
    say(`Not remembered: ${answer.problem}`);
  } else {
    button.disabled = true;
    button.textContent = "The columns are remembered";
    show(`Remembered in ${answer.file}, for every log with the same header.`);
  }
}

told.addEventListener("click", async (event) => {
  const button = event.target.closest("button");
  if (!button || told.getAttribute("aria-busy") === "true") return;
  if (button.matches(".keep-flight")) await keep();
  else if (button.matches(".confirm")) await confirm(button);
  else if (button.matches(".hold-beside")) {
    before = [...told.querySelectorAll("[name=before]:checked")].map((one) => one.value);
    await read(saidOf(told));
  }
  else if (button.matches(".set-aside")) {
    round += 1;
    await forget();
    show("Set aside; nothing was written.");
    byId("file").focus();
  }
});

// --- What was kept before ---------------------------------------------------------------------

async function renew(open = false) {
  const { ok, told: answer } = await send("/flights/kept");
  kept.removeAttribute("aria-busy");
  if (!ok) {
    say(answer.problem);
    return;
  }
  const opened = [...kept.querySelectorAll("details[open]")].map((one) => one.dataset.flight);
  const held = kept.contains(document.activeElement)
    ? document.activeElement.closest("details")?.dataset.flight
    : undefined;
  here.revision = answer.revision;
  kept.innerHTML = answer.html;
  for (const one of kept.querySelectorAll("details")) {
    one.open = opened.includes(one.dataset.flight);
    if (held && one.dataset.flight === held) one.querySelector("summary").focus();
  }
  const first = kept.querySelector("details");
  if (open && first) {
    first.open = true;
    first.querySelector("summary").focus();
  }
}

setInterval(async () => {
  if (document.hidden || told.getAttribute("aria-busy") === "true") return;
  const { ok, told: answer } = await send("/revision");
  if (ok && answer.revision !== here.revision) await renew();
}, 3000);

// --- Hands ------------------------------------------------------------------------------------

takeLogs(bring);
byId("stop").addEventListener("click", stop);
byId("card").addEventListener("submit", (event) => {
  event.preventDefault();
  read(saidOf(told));
});
byId("print").addEventListener("click", () => window.print());
window.addEventListener("beforeprint", () => {
  for (const one of document.querySelectorAll("#told details, #kept details")) one.open = true;
});

if (kept.getAttribute("aria-busy") === "true") renew();
