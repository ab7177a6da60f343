// The review page with script: forms sent without leaving the page, keys, linked words, live readings.
// Without it every form and link works by itself.

import { whenSwapped, swapTo, sendForm } from "./swapping.js";
import { linkWords } from "./linking.js";
import { readAsTyped } from "./reading.js";
import { listenForKeys } from "./keys.js";
import { chooseItem, chosenItem, firstOpen } from "./items.js";
import { watchForOthers } from "./watching.js";
import { ownTimes } from "../times.js";

document.documentElement.classList.add("scripted");

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || !form.closest("#live")) return;
  event.preventDefault();
  sendForm(form, event.submitter);
});

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-swap]");
  if (link === null || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  swapTo(link.href, { from: link });
});

linkWords();
readAsTyped();
listenForKeys();
watchForOthers();

whenSwapped(() => {
  ownTimes();
  for (const steps of document.querySelectorAll(".steps")) steps.hidden = false;
  if (chosenItem() === null) chooseItem(firstOpen(), { focus: false });
});
