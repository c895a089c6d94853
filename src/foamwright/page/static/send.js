// Asking the server: JSON there and back, one sentence where it cannot be reached.

export const here = {
  revision: document.body.dataset.revision ?? "",
  variant: document.body.dataset.variant ?? "",
};

export async function send(path, body) {
  try {
    const answer = await fetch(path, {
      method: body === undefined ? "GET" : "POST",
      headers: { "content-type": "application/json", accept: "application/json" },
      body: body === undefined ? undefined : JSON.stringify(body),
    });
    const text = await answer.text();
    let told = {};
    try {
      told = JSON.parse(text);
    } catch {
      told = { problem: text.trim() || "the notebook gave no answer" };
    }
    return { ok: answer.ok, status: answer.status, told };
  } catch {
    return {
      ok: false,
      status: 0,
      told: { problem: "the notebook is closed; what was written is kept. Open it again, then look again." },
    };
  }
}

export function say(words) {
  const said = document.getElementById("said");
  if (said) said.textContent = words;
}

export const query = () => (here.variant ? `?variant=${encodeURIComponent(here.variant)}` : "");
