// What an answer means for the entry that was sent. Nothing but the office's receipt ends the waiting; only
// a refusal in the office's own words sets an entry aside; everything else is tried again.

import { isReceiptFor } from "./outbox.js";

/**
 * `{is: "receipt", receipt}`, `{is: "refused", refusal}`, `{is: "job unknown", refusal}` where the office has not
 * the job, or not what an entry is about, `{is: "paused", why}` where the phone has to be paired,
 * `{is: "try later", why, later}` where the next try may do, and `{is: "stumbled", why}` where the office itself
 * failed over this entry.
 */
export function meaningOf(entry, { from, status, body, later }) {
  if (from === "nobody") return { is: "try later", why: "No signal to the office." };
  if (status === 401) return { is: "paused", why: "The office asks this phone to be paired again." };
  if (from === "something else") return elsewhere(entry, status, later);
  if (status === 200 || status === 201) {
    const receipt = receiptIn(entry, body);
    if (isReceiptFor(entry, receipt)) return { is: "receipt", receipt };
    return { is: "try later", why: "The answer was no receipt for this line." };
  }
  if (status === 403) return { is: "paused", why: said(body, "The office does not let this phone write.") };
  if (status === 404 && entry.kind !== "job") return { is: "job unknown", refusal: refusal(status, body, false) };
  if (status === 409) return { is: "refused", refusal: refusal(status, body, true) };
  if (status === 429 || status === 408) return { is: "try later", why: said(body, "The office is busy."), later };
  if (status >= 400 && status < 500) return { is: "refused", refusal: refusal(status, body, false) };
  return { is: "stumbled", why: said(body, `The office failed (${status}).`) };
}

/** The taking back of a line is answered by the revision it made, with no id. */
function receiptIn(entry, body) {
  const taken = entry.kind === "take-back" && Number.isInteger(body.revision);
  return taken ? { ...body, id: entry.id } : body;
}

function elsewhere(entry, status, later) {
  // A proxy that finds the body too large will find it so every time.
  if (status === 413) return { is: "refused", refusal: refusal(status, {}, false) };
  if (status >= 500) return { is: "try later", why: `The office failed (${status}).`, later };
  return { is: "try later", why: "Something other than the office answered: a login page of the network?", later };
}

function refusal(status, body, clash) {
  const words = said(body, status === 413 ? "It is too large for the office." : `The office refused it (${status}).`);
  return { status, clash, words, next: typeof body.next === "string" ? body.next : null };
}

function said(body, otherwise) {
  return typeof body.error === "string" ? body.error : otherwise;
}
