// Elements and symbols, made without markup: words of a note are only ever text.

const SVG = "http://www.w3.org/2000/svg";

// Our own, on a grid of 20: an empty phone, an arrow on its way, a house with a full roof.
const SYMBOLS = {
  phone: [["rect", { x: 5, y: 1.5, width: 10, height: 17, rx: 1.5, fill: "none", "stroke-width": 2 }]],
  sending: [
    ["path", { d: "M2 10h12", fill: "none", "stroke-width": 2.4 }],
    ["path", { d: "M11 4l8 6-8 6z", "stroke-width": 0 }],
  ],
  office: [
    ["path", { d: "M1 10l9-8 9 8z", "stroke-width": 1 }],
    ["path", { d: "M4 10v8.5h12V10", fill: "none", "stroke-width": 2 }],
    ["path", { d: "M7 13.5l2.4 2.4 4-4.6", fill: "none", "stroke-width": 2 }],
  ],
  more: [
    ["path", { d: "M2 10h3M8.5 10h3M15 10h3", fill: "none", "stroke-width": 3 }],
  ],
  mind: [
    ["path", { d: "M10 1.5l9 16.5H1z", fill: "none", "stroke-width": 2 }],
    ["path", { d: "M10 7.5v5M10 14.5v1.6", fill: "none", "stroke-width": 2.2 }],
  ],
};

export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

export function symbol(name) {
  const picture = document.createElementNS(SVG, "svg");
  picture.setAttribute("viewBox", "0 0 20 20");
  picture.setAttribute("class", `symbol symbol-${name}`);
  picture.setAttribute("aria-hidden", "true");
  for (const [tag, attributes] of SYMBOLS[name]) {
    const part = document.createElementNS(SVG, tag);
    for (const [key, value] of Object.entries(attributes)) part.setAttribute(key, value);
    picture.append(part);
  }
  return picture;
}

/** A clock time of the office, as the phone's place and habit write it. */
export function clock(moment) {
  return new Date(moment).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hour12: false });
}

export function day(moment) {
  return new Date(moment).toLocaleDateString([], { day: "numeric", month: "short", year: "numeric" });
}

export function counted(count, one, several = `${one}s`) {
  return `${count} ${count === 1 ? one : several}`;
}
