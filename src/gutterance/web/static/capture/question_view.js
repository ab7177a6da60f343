// The next question with its answers, the others folded behind it, and the count against complete.

import { counted, make, symbol } from "./elements.js";

/** How far the sheet is: parts of the house with nothing open, questions, parts that wait for an answer. */
export function countWords({ done, open, held }) {
  if (done + open + held === 0) return "Nothing measured yet.";
  const complete = `${counted(done, "part")} complete`;
  if (open + held === 0) return `All ${complete}: nothing is open.`;
  return `${complete}, ${counted(open, "question")} open, ${counted(held, "part")} on hold.`;
}

export function questionsView(questions) {
  if (questions.length === 0) return [];
  const [first, ...others] = questions;
  return [
    make("h2", {}, "Next question"),
    questionView(first),
    others.length
      ? make(
          "details",
          { class: "more-questions" },
          make("summary", {}, counted(others.length, "more question")),
          ...others.map((question) => questionView(question)),
        )
      : null,
  ].filter(Boolean);
}

function questionView(question) {
  const answers = question.answers ?? [];
  return make(
    "div",
    { class: "question" },
    make("p", { class: "asks" }, symbol("mind"), question.asks),
    answers.length
      ? make("ul", { class: "offers" }, ...answers.map(({ value, why }) => make("li", {}, `${value} (${why})`)))
      : null,
  );
}
