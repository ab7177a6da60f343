// Shows views anew and leaves alone what is as it was: a finger, a focus or an open fold may be on it.

export class Showing {
  // How each part looked when it was made, by its id.
  #looks = new Map();

  /** The element for a view: the one that is there, where it looks the same, else the view in its place. */
  element(view) {
    const there = document.getElementById(view.id);
    if (there !== null && this.#looks.get(view.id) === view.outerHTML) return there;
    this.#looks.set(view.id, view.outerHTML);
    return there === null ? view : replaced(there, view);
  }

  /** Fills a place with views, unless it looks the same already. An open fold stays open. */
  fill(place, views) {
    const look = views.map((view) => view.outerHTML).join("");
    if (this.#looks.get(place.id) === look) return;
    this.#looks.set(place.id, look);
    const open = place.querySelector("details")?.open ?? false;
    place.replaceChildren(...views);
    const fold = place.querySelector("details");
    if (fold !== null) fold.open = open;
  }
}

/** Puts elements into a place in that order, and moves none that stands right. */
export function inOrder(place, elements) {
  elements.forEach((element, at) => {
    if (place.children[at] !== element) place.insertBefore(element, place.children[at] ?? null);
  });
  while (place.children.length > elements.length) place.lastElementChild.remove();
}

/** Puts a view in place of an older one of the same line, with its fold as open and its focus where it was. */
function replaced(there, view) {
  const wasOpen = there.querySelector("details.more")?.open ?? false;
  const held = there.contains(document.activeElement) ? document.activeElement.textContent : null;
  there.replaceWith(view);
  const fold = view.querySelector("details.more");
  if (fold !== null) fold.open = wasOpen;
  if (held !== null) {
    const all = [...view.querySelectorAll("button, summary, input")];
    (all.find((one) => one.textContent === held) ?? all[0])?.focus();
  }
  return view;
}
