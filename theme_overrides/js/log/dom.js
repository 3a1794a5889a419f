// Elements from code. Texts become text nodes alone, so that nothing in them is ever markup.

const template = document.createElement("template");
template.innerHTML = "<svg></svg>";
const SVG = template.content.firstChild.namespaceURI;

/** An element with its attributes (true: without a value; false, null: left out) and listeners, then its content. */
export function make(tag, attributes = {}, ...content) {
  return filled(document.createElement(tag), attributes, content);
}

export function drawn(tag, attributes = {}, ...content) {
  return filled(document.createElementNS(SVG, tag), attributes, content);
}

function filled(element, attributes, content) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value !== false && value !== null) element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...content.flat().filter((one) => one !== null && one !== ""));
  return element;
}

export function button(words, click, attributes = {}) {
  return make("button", { type: "button", click, ...attributes }, words);
}

/** Asks in a dialog; the way that loses nothing has the focus. Gives a promise of true or false. */
export function ask(question, yes, no) {
  return new Promise((resolve) => {
    const answer = (value) => () => dialog.close(value);
    const dialog = make(
      "dialog",
      {
        class: "ask",
        "aria-labelledby": "asked",
        close: () => (dialog.remove(), resolve(dialog.returnValue === "yes")),
      },
      make("p", { id: "asked" }, question),
      make("p", { class: "tools" }, button(no, answer("no"), { autofocus: true }), " ", button(yes, answer("yes"))),
    );
    document.body.append(dialog);
    dialog.showModal();
  });
}
