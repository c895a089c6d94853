// Slow work: begun, then asked about now and then, so that a phone may sleep meanwhile.

import { send } from "./send.js";

const SOONEST = 250;
const LATEST = 1500;
const TRIES = 20;
const pause = (time) => new Promise((resolve) => setTimeout(resolve, time));

// Follow work to its end; `tell` hears what is being done. Resolves as `send` does.
export async function follow(begun, tell, wanted = () => true) {
  let answer = begun;
  let wait = SOONEST;
  let missed = 0;
  const name = begun.told.errand;
  while (wanted()) {
    if (answer.status === 0 && missed < TRIES) {
      missed += 1; // the notebook may be opened again
    } else if (!answer.ok) {
      return answer;
    } else {
      missed = 0;
      if (answer.told.done) return { ...answer, told: answer.told.told };
      tell(answer.told.doing);
    }
    await pause(wait);
    wait = Math.min(wait * 1.25, LATEST);
    answer = await send(`/slow/${name}`);
  }
  return null;
}
