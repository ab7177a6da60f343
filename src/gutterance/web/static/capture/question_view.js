// The next question with its answers, the others folded behind it, and the count against complete.

import { counted, make, symbol } from "./elements.js";

/** How far the sheet is: parts of the house with nothing open, questions, parts that wait for an answer. */
export function countWords({ done, open, held }) {
  if (done + open + held === 0) return "Nothing measured yet.";
  const complete = `${counted(done, "part")} complete`;
  if (open + held === 0) return `All ${complete}: nothing is open.`;
  return `${complete}, ${counted(open, "question")} open, ${counted(held, "part")} on hold.`;
}

/**
 * `given(question)` is the state, in words, of an answer that was given here and is not read back yet, or null;
 * `does` has `take(question, number, value)` for an offer and `answer(question)` for words of one's own.
 */
export function questionsView(questions, given, does) {
  if (questions.length === 0) return [];
  const [first, ...others] = questions.map((question) => questionView(question, given(question), does));
  if (others.length === 0) return [make("h2", {}, "Next question"), first];
  const more = make("summary", {}, counted(others.length, "more question"));
  return [make("h2", {}, "Next question"), first, make("details", { class: "more-questions" }, more, ...others)];
}

function questionView(question, given, does) {
  const asks = make("p", { class: "asks" }, symbol("mind"), question.asks);
  if (given !== null) return make("div", { class: "question" }, asks, make("p", { class: "given" }, given));
  const offers = (question.answers ?? []).map(({ value, why }, at) =>
    make(
      "button",
      { type: "button", onclick: () => does.take(question, at + 1, value) },
      value,
      why ? make("span", { class: "why" }, why) : null,
    ),
  );
  const own = make("button", { type: "button", class: "plain", onclick: () => does.answer(question) }, "Say the answer");
  return make("div", { class: "question" }, asks, make("div", { class: "doing" }, ...offers, own));
}
