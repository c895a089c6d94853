// A plane that did not come back: a log or a typed fix, where to look, looked again when asked.

import { forgetSaid, saidOf, wireColumns } from "./columns.js";
import { say, send } from "./send.js";
import { follow } from "./slow.js";
import { takeLogs } from "./taking.js";
import { sizeOf, stop, upload } from "./upload.js";

const byId = (name) => document.getElementById(name);
const told = byId("told");
const doing = byId("doing");
const typed = byId("typed");
const wind = byId("wind");
const hand = byId("in-hand");

let log = null; // the file in hand, so that it can be sent again
let flight = hand.dataset.flight || null; // what the notebook calls the log in hand
let last = null; // what was looked from: {} with a log, its fields with a typed fix
let round = 0;

function show(words) {
  doing.hidden = !words;
  doing.textContent = words;
}

// What is wrong, beside its field; what has no field is said above.
function mark(answer) {
  const findings = answer.ok ? [] : answer.told.findings ?? [];
  const left = findings.filter(({ key }) => !typed.querySelector(`[data-key="${CSS.escape(key || "?")}"]`));
  let first = null;
  for (const holder of typed.querySelectorAll("[data-key]")) {
    const mine = findings.filter(({ key }) => key === holder.dataset.key);
    const problem = holder.querySelector(".problem");
    const input = holder.querySelector("input");
    problem.textContent = mine.map((one) => [one.what, one.expected].filter(Boolean).join("; ")).join("\n");
    problem.hidden = !mine.length;
    problem.id = `why:${holder.dataset.key}`;
    input.setAttribute("aria-invalid", String(mine.length > 0));
    if (mine.length) input.setAttribute("aria-describedby", problem.id);
    else input.removeAttribute("aria-describedby");
    if (mine.length) first ??= input;
  }
  const windy = left.some(({ what }) => what.startsWith("the wind:"));
  const problem = byId("wind-problem");
  problem.hidden = !windy;
  problem.textContent = windy ? left.map((one) => [one.what, one.expected].filter(Boolean).join("; ")).join("\n") : "";
  wind.setAttribute("aria-invalid", String(windy));
  if (windy) {
    wind.setAttribute("aria-describedby", problem.id);
    first ??= wind;
  } else wind.removeAttribute("aria-describedby");
  if (first && first !== wind) byId("typed-leaf").open = true;
  first?.focus();
  return first !== null;
}

async function look(from, takes = {}, again = true) {
  const mine = ++round;
  last = from;
  say("");
  told.setAttribute("aria-busy", "true");
  show("Letting it fall …");
  const body = { wind: wind.value, ...(from ? { typed: from } : { flight, takes }) };
  const begun = await send("/find/look", body);
  const tell = (words) => show(`${words[0].toUpperCase()}${words.slice(1)} …`);
  const answer = begun.ok ? await follow(begun, tell, () => mine === round) : begun;
  if (answer === null || mine !== round) return;
  told.removeAttribute("aria-busy");
  show("");
  if (answer.status === 410 && log && !from && again) {
    const sentAgain = await sent(log); // the notebook was closed and opened anew
    if (sentAgain.ok) {
      flight = sentAgain.told.flight;
      await look(from, takes, false);
      return;
    }
  }
  if (!answer.ok) {
    if (!mark(answer)) say(`Not searched: ${answer.told.problem}`);
    byId("again").hidden = false;
    return;
  }
  mark(answer);
  told.innerHTML = answer.told.html;
  told.hidden = false;
  byId("again").hidden = false;
  wireColumns(told, (says) => look(null, says));
  told.focus({ preventScroll: true });
  told.scrollIntoView({ block: "start" });
}

async function sent(file) {
  const sending = byId("sending");
  sending.hidden = false;
  const bar = byId("sent");
  bar.value = 0;
  const answer = await upload(file, (done, all) => {
    bar.value = all ? done / all : 0;
    byId("sent-words").textContent = `${file.name}: ${sizeOf(done)} of ${sizeOf(all)}`;
  });
  sending.hidden = true;
  return answer;
}

async function aside() {
  const old = log ? flight : null; // one brought along from the flights stays theirs
  flight = null;
  log = null;
  hand.hidden = true;
  told.hidden = true;
  told.innerHTML = "";
  forgetSaid();
  if (old) await send("/flights/aside", { flight: old });
}

async function bring(file) {
  const mine = ++round;
  say("");
  await aside();
  const answer = await sent(file);
  if (mine !== round) return;
  if (!answer.ok) {
    say(answer.told.problem ? `Not taken in: ${answer.told.problem}` : "Stopped; nothing was taken in.");
    return;
  }
  log = file;
  flight = answer.told.flight;
  hand.querySelector("b").textContent = file.name;
  hand.hidden = false;
  await look(null);
}

told.addEventListener("click", async (event) => {
  if (event.target.closest(".set-aside")) await aside();
});

// --- Hands ------------------------------------------------------------------------------------

takeLogs(bring);
byId("stop").addEventListener("click", stop);
typed.addEventListener("submit", (event) => {
  event.preventDefault();
  look(Object.fromEntries([...typed.querySelectorAll("input")].map((one) => [one.name, one.value])));
});
byId("blows").addEventListener("submit", (event) => {
  event.preventDefault();
  if (last) typed.requestSubmit();
  else if (flight) look(null, saidOf(told));
});
byId("print").addEventListener("click", () => window.print());
window.addEventListener("beforeprint", () => {
  for (const one of told.querySelectorAll("details")) one.open = true;
});

if (flight) look(null);
