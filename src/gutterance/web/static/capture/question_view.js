// The next question with its answers, the others folded behind it, and the count against complete.

import { counted, make, symbol } from "./elements.js";

/** How far the sheet is, in words: what is complete, what is still open, what waits for an answer. */
export function countWords({ done, open, held }) {
  const whole = done + open + held;
  if (whole === 0) return "Nothing measured yet.";
  if (done === whole) return `All ${counted(whole, "part")} complete. Nothing is open.`;
  const left = [open ? `${open} open` : "", held ? `${held} on hold` : ""].filter(Boolean).join(", ");
  return `${done} of ${whole} parts complete: ${left}.`;
}

export function questionsView(questions, answer) {
  if (questions.length === 0) return [];
  const [first, ...others] = questions;
  return [
    make("h2", {}, "Next question"),
    questionView(first, answer),
    others.length
      ? make(
          "details",
          { class: "more-questions" },
          make("summary", {}, counted(others.length, "more question")),
          ...others.map((question) => questionView(question, answer)),
        )
      : null,
  ].filter(Boolean);
}

function questionView(question, answer) {
  const answers = question.answers ?? [];
  return make(
    "div",
    { class: "question" },
    make("p", { class: "asks" }, symbol("mind"), question.asks),
    answers.length
      ? make(
          "div",
          { class: "answers" },
          ...answers.map((one) =>
            make("button", { type: "button", onclick: () => answer(question, one) }, one.says ?? String(one)),
          ),
        )
      : null,
  );
}
