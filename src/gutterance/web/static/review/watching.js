// Two people on one job: what somebody else changed is shown soon, and never over what one is typing.

import { isTyping, live, swapTo, tell } from "./swapping.js";

const EVERY_MS = 4000;
let told = 0;

/** Ask the server from time to time whether the job has changed. */
export function watchForOthers() {
  setInterval(look, EVERY_MS);
  document.addEventListener("visibilitychange", look);
}

async function look() {
  if (document.hidden) return;
  const seen = Number(live().dataset.revision);
  let job;
  try {
    const answer = await fetch(`/api/jobs/${live().dataset.job}/changes?since=${seen}`);
    if (!answer.ok) return;
    job = await answer.json();
  } catch {
    return;
  }
  if (job.revision === Number(live().dataset.revision)) return;
  const who = job.says.length > 0 ? job.says.join("; ") : "The note has grown";
  if (isTyping()) {
    if (job.revision <= told) return;
    told = job.revision;
    tell(`${who}. It is shown when you have put or left what you are typing.`);
    return;
  }
  await swapTo(live().dataset.url);
  tell(`${who}.`);
}
