// Edits: one after the other, written at once, taken back in order.

import { here, send, say, query } from "./send.js";

const KEPT = 200;
const store = () => `taken-back:${location.host}:${here.variant}`;
const undo = document.getElementById("undo");
let past = JSON.parse(sessionStorage.getItem(store()) ?? "[]");
let last = Promise.resolve();

function remember() {
  sessionStorage.setItem(store(), JSON.stringify(past.slice(-KEPT)));
  undo.disabled = past.length === 0;
}

// Write one edit; resolves to what the server told, with `ok`.
export function write(edit, { changed, quietly = false }) {
  last = last.then(async () => {
    const { ok, status, told } = await send("/edit", {
      variant: here.variant, revision: here.revision, ...edit,
    });
    if (ok) {
      here.revision = told.revision;
      if (!quietly) past.push(told.undo);
      remember();
      say("");
    } else if (status === 409) {
      here.revision = told.revision ?? here.revision;
      say(`Not written: ${told.problem}. Look at it as it is now, then decide again.`);
    } else {
      say(`Not written: ${told.problem}`);
    }
    await changed({ ok, status, told });
    return { ok, status, told };
  });
  return last;
}

export function wire({ changed }) {
  remember();
  undo.addEventListener("click", async () => {
    const step = past.pop();
    if (!step) return;
    const { ok, status } = await write(step, { changed, quietly: true });
    if (ok) say("Taken back.");
    // What somebody else changed meanwhile is not taken back blindly; it can be asked for again.
    else if (status === 409 || status === 0) past.push(step);
    remember();
  });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest("input, select, textarea");
    if (event.key === "z" && (event.ctrlKey || event.metaKey) && !typing) {
      event.preventDefault();
      undo.click();
    }
  });
}

// A file changed outside is noticed.
export function watch({ changed }) {
  const lookNow = async () => {
    if (document.hidden) return;
    const before = here.revision;
    const { ok, told } = await send("/revision");
    if (!ok || told.revision === here.revision || before !== here.revision) return;
    const busy = document.querySelector(".moving, .field.typing");
    if (busy) return;
    here.revision = told.revision;
    say("plane.toml was changed elsewhere; this is how it is now.");
    await changed({ ok: true, status: 200, told });
  };
  setInterval(lookNow, 3000);
  document.addEventListener("visibilitychange", lookNow);
}

export const state = () => send(`/state${query()}`);
