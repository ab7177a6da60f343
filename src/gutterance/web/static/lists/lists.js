// The lists with script: a tick is sent without leaving the page, and what others tick shows by itself.

import { sendForm, whenSwapped } from "../review/swapping.js";
import { watchForOthers } from "../review/watching.js";
import { ownTimes } from "../times.js";

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || !form.closest("#live")) return;
  event.preventDefault();
  sendForm(form, event.submitter);
});

watchForOthers();
whenSwapped(() => ownTimes());
