// Words that a page which is gone had not kept yet: offered openly, never taken or thrown away by themselves.

import { make } from "./elements.js";

export async function offerDrafts({ drafts, tabs, box, warn }, job) {
  const place = document.getElementById("drafts");
  const inUse = await tabs.draftsOfOthers();
  if (inUse.has(drafts.id)) drafts.startAnew();
  const left = (await drafts.all()).filter((one) => one.job === job && one.id !== drafts.id && !inUse.has(one.id));
  place.replaceChildren(
    ...left.map((draft) => {
      const gone = async () => {
        try {
          await drafts.throwAway(draft.id);
          offer.remove();
        } catch (fault) {
          warn(fault.message);
        }
      };
      const use = () => {
        box.put(draft.text);
        gone();
      };
      const offer = make(
        "div",
        { class: "draft", "data-draft": draft.id },
        make("p", {}, "Begun and not kept: ", make("q", {}, draft.text)),
        make("div", { class: "doing" }, make("button", { type: "button", onclick: use }, "Put it in the box"),
          make("button", { type: "button", class: "plain", onclick: gone }, "Throw it away")),
      );
      return offer;
    }),
  );
}
