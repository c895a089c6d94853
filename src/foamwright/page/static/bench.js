// Results of tests: filled in, noted once, judged; what is wrong is told beside its field.

import { here, say, send } from "./send.js";
import { follow } from "./slow.js";

const tests = document.getElementById("tests");
const noted = document.getElementById("noted");
const count = document.getElementById("noted-count");
let number = 0;
let underWay = 0;

// Whether a note is being written: the files change then, and nobody else did it.
export const busy = () => underWay > 0;

// A request that is sent twice, by a tired finger or a phone that woke up, is noted once.
const mark = () => `${Date.now()}-${Math.random()}-${number += 1}`;

function filled(form) {
  const fields = {};
  for (const holder of form.querySelectorAll("[data-key]")) {
    const value = holder.querySelector("input, select").value.trim();
    if (value) fields[holder.dataset.key] = value;
  }
  return { test: form.dataset.test, fields, day: form.elements.day.value, note: form.elements.note.value };
}

// Tell what is wrong beside its field, or below all of them where it is about no single one.
function tell(form, answer) {
  const [finding] = answer.ok ? [] : answer.told.findings ?? [];
  const holder = [...form.querySelectorAll("[data-key]")].find((one) => one.dataset.key === finding?.key);
  for (const one of form.querySelectorAll("[data-key]")) {
    const problem = one.querySelector(".problem");
    const input = one.querySelector("input, select");
    const wrong = one === holder;
    problem.hidden = !wrong;
    problem.textContent = wrong ? [finding.what, finding.expected].filter(Boolean).join("; ") : "";
    problem.id = `why:${input.id}`;
    input.setAttribute("aria-invalid", String(wrong));
    if (wrong) input.setAttribute("aria-describedby", problem.id);
    else input.removeAttribute("aria-describedby");
  }
  const whole = form.querySelector(".problem.whole");
  whole.hidden = answer.ok || Boolean(holder);
  whole.textContent = whole.hidden ? "" : `Not noted: ${answer.told.problem}`;
  holder?.querySelector("input, select").focus();
}

function empty(form) {
  for (const input of form.querySelectorAll("[data-key] input, [name=note]")) input.value = "";
  const item = form.querySelector("select[name=item]");
  if (item && item.selectedIndex + 1 < item.length) item.selectedIndex += 1;
}

async function renew() {
  const { ok, told } = await send("/next/noted");
  if (!ok) return;
  noted.innerHTML = told.html;
  count.textContent = told.count;
}

export function wire({ changed }) {
  tests.addEventListener("submit", async (event) => {
    event.preventDefault();
    const form = event.target;
    const button = form.querySelector("[type=submit]");
    if (button.disabled) return;
    button.disabled = true;
    const words = button.textContent;
    button.textContent = "Holding it against the plan …";
    underWay += 1;
    const begun = await send("/next/note", { ...filled(form), once: mark() });
    const answer = begun.ok ? await follow(begun, () => {}) : begun;
    button.disabled = false;
    button.textContent = words;
    if (answer.ok) here.revision = answer.told.revision;
    underWay -= 1;
    tell(form, answer);
    if (!answer.ok) return;
    const says = form.closest(".test").querySelector(".says");
    says.innerHTML = answer.told.html;
    empty(form);
    says.focus({ preventScroll: true });
    says.scrollIntoView({ block: "nearest" });
    changed();
    await renew();
  });
  tests.addEventListener("click", async (event) => {
    const button = event.target.closest("button.take-out");
    if (!button || button.disabled) return;
    button.disabled = true;
    const body = { list: button.dataset.list, told: JSON.parse(button.dataset.told) };
    underWay += 1;
    const { ok, told } = await send("/next/note/back", body);
    if (ok) here.revision = told.revision;
    underWay -= 1;
    if (!ok) {
      button.disabled = false;
      say(`Not taken back: ${told.problem}`);
      return;
    }
    say("Taken back; bench.toml is as it was before that note.");
    noted.innerHTML = told.html;
    count.textContent = told.count;
    const same = (one) => one.dataset.told === button.dataset.told;
    for (const one of tests.querySelectorAll(".says .take-out")) {
      if (same(one)) one.closest(".says").replaceChildren();
    }
    changed();
  });
}

// Open the form an address names, and go to its first field.
export function goTo(name) {
  const test = name.startsWith("test-") ? document.getElementById(name) : null;
  if (!test) return;
  test.open = true;
  test.scrollIntoView({ block: "start" });
  test.querySelector("input, select").focus({ preventScroll: true });
}
