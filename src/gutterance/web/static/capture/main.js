// Puts the capture page together: the phone's store, the sender with its reasons to start, and what is shown.

import { Box } from "./box.js";
import { Chooser } from "./chooser.js";
import { Drafts } from "./drafts.js";
import { offerDrafts } from "./draft_view.js";
import { make, symbol } from "./elements.js";
import { JobPage } from "./job_page.js";
import { Jobs } from "./jobs.js";
import { Keeping } from "./keeping.js";
import { Office } from "./office.js";
import { Outbox } from "./outbox.js";
import { tested } from "./phone.js";
import { ReadBack } from "./read_back.js";
import { Receipts } from "./receipts.js";
import { Sender } from "./sender.js";
import { Tabs } from "./tabs.js";
import { ThisPhone } from "./this_phone.js";

const A_MINUTE = 60000;

const keeping = new Keeping();
const office = new Office();
const outbox = new Outbox(keeping);
const tabs = new Tabs();
const parts = {
  outbox,
  office,
  tabs,
  drafts: new Drafts(keeping),
  jobs: new Jobs(keeping),
  readBack: new ReadBack(keeping, office),
  receipts: new Receipts(outbox, office),
  phone: null,
  news: (words) => {
    document.getElementById("news").textContent = words;
  },
  warn,
};
const page = new JobPage(parts);
parts.sender = new Sender({ ...parts, tell: heard });
parts.box = new Box({
  drafts: parts.drafts,
  keep: (job, texts, draft) => page.keep(job, texts, draft),
  keepAnswer: (job, question, says, draft) => page.keepAnswer(job, question, says, draft),
  straight: (job, texts) => page.sendStraight(job, texts),
});
const chooser = new Chooser(parts, go);
const thisPhone = new ThisPhone(parts, () => page.job, async () => {
  await page.reload();
  parts.sender.start();
});

function heard(news) {
  page.hear(news);
  if (news.changed) tabs.say({ changed: news.changed.job });
  if (news.lost) {
    warn(`The office no longer had ${news.lost.length} of what it had receipted: it is being sent once more.`);
  }
  if (news.standing?.is === "all sent") page.listen();
}

/** A warning stays until it is read. One that was read with `once` is not told again while this tab is open. */
function warn(words, { once = false } = {}) {
  if (once && wasRead(words)) return;
  const there = [...document.querySelectorAll("#warnings p")];
  if (there.some((one) => one.textContent.includes(words))) return;
  const warning = make("p", { class: "warning", role: "alert" }, symbol("mind"), words, " ");
  const read = () => {
    if (once) markRead(words);
    warning.remove();
  };
  const close = make("button", { type: "button", class: "plain", onclick: read }, "OK");
  warning.append(close);
  document.getElementById("warnings").append(warning);
}

function wasRead(words) {
  try {
    return sessionStorage.getItem(`read ${words}`) !== null;
  } catch {
    return false;
  }
}

function markRead(words) {
  try {
    sessionStorage.setItem(`read ${words}`, "yes");
  } catch {
    // It is told once more then.
  }
}

/** Opens a walk, or the list of them, within this page: leaving it would need a signal. */
function go(job) {
  history.pushState(null, "", job === null ? "/capture" : `/jobs/${encodeURIComponent(job)}/capture`);
  return show();
}

let showing = Promise.resolve();

/** Shows what the address asks for; one after the other, and the last one stays. */
function show() {
  showing = showing.then(showAddress);
  return showing;
}

async function showAddress() {
  const found = /^\/jobs\/([^/]+)\/capture$/.exec(location.pathname);
  const job = found ? decodeURIComponent(found[1]) : null;
  await parts.box.open(job);
  await chooser.show(job === null);
  await page.open(job);
  await thisPhone.show();
  if (job === null) return;
  page.showTitle();
  await offerDrafts(parts, job);
}

async function sendAgain({ photos = true } = {}) {
  await outbox.tryRefusedAgain({ photos }).catch(() => 0);
  await page.reload();
  parts.sender.start();
}

function listenToReasons() {
  const start = () => parts.sender.start();
  for (const reason of ["focus", "online", "pageshow"]) addEventListener(reason, start);
  document.addEventListener("visibilitychange", () => document.hidden || start());
  // A photo that was refused is large: it goes again by hand, or when the page is opened.
  setInterval(() => sendAgain({ photos: false }), A_MINUTE);
  document.getElementById("send-now").addEventListener("click", () => sendAgain());
  addEventListener("popstate", show);
  for (const link of [document.getElementById("to-jobs"), document.querySelector(".home")]) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      go(null);
    });
  }
  tabs.listen(({ changed, whoseDraft }) => {
    if (changed && changed === page.job) page.reload();
    if (whoseDraft) tabs.say({ myDraft: parts.drafts.id });
  });
}

async function testPhone() {
  parts.phone = await tested(keeping);
  if (!parts.phone.keeps) {
    warn(`This phone cannot keep lines: ${parts.phone.why} Keep this page open, and send each line straight to the office.`);
  } else if (parts.phone.persistent === false) {
    warn("The browser may clear what is kept here when the phone runs full. Add this page to the home screen, or send before the day ends.", { once: true });
  }
}

async function offerShell() {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/capture-worker.js", { scope: "/" });
    const before = navigator.serviceWorker.controller;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      // The words in the box are saved, and come back with the newer page.
      if (before) warn("A newer version of this page is ready: load it again when it suits you.");
    });
    await navigator.serviceWorker.ready;
    parts.phone.opensAlone = true;
    await thisPhone.show();
  } catch {
    // The page works without; it says so under "This phone".
  }
}

listenToReasons();
await testPhone();
await show();
await sendAgain();
document.body.dataset.ready = "yes";
await offerShell();
