// The reading of what is being typed, beneath it.

import { live } from "./swapping.js";

const WAIT_MS = 150;
let waiting = 0;
let asked = 0;

/** Show how a field's words are read while they are typed. */
export function readAsTyped() {
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.dataset?.reads) return;
    clearTimeout(waiting);
    waiting = setTimeout(() => read(field), WAIT_MS);
  });
}

async function read(field) {
  const place = document.getElementById(field.getAttribute("aria-describedby"));
  const number = ++asked;
  const text = field.value;
  if (text.trim() === "") {
    show(place, "", "", false);
    return;
  }
  let told;
  try {
    const answer = await fetch("/api/read-value", {
      method: "POST",
      headers: { "X-Gutterance": "1", "Content-Type": "application/json" },
      body: JSON.stringify({ job: live().dataset.job, path: field.dataset.reads.split("|"), text }),
    });
    told = await answer.json();
    if (!answer.ok) throw new Error(told.error);
  } catch {
    if (number === asked) show(place, "", "", false);
    return;
  }
  // an answer to what was typed before is of no use any more
  if (number === asked && field.isConnected) show(place, told.reads, told.why, told.ok);
}

function show(place, reads, why, ok) {
  if (place === null) return;
  place.classList.toggle("refused", !ok && reads !== "");
  place.textContent = reads === "" ? "" : ok ? `reads: ${reads}${why ? ` (${why})` : ""}` : `? ${reads} ${why}`;
}
