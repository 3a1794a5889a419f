// Elements from code. Texts become text nodes alone, so that nothing in them is ever markup.

/** @typedef {Record<string, string | number | boolean | null | ((event: any) => void)>} Attributes */
/** @typedef {Node | string | null} Part */
/** @typedef {Part | Part[]} Content */

const template = document.createElement("template");
template.innerHTML = "<svg></svg>";
const SVG = /** @type {Element} */ (template.content.firstChild).namespaceURI;

/**
 * An element with its attributes (true: without a value; false, null: left out) and listeners, then its content.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Attributes} [attributes]
 * @param {...Content} content
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, attributes = {}, ...content) {
  return filled(document.createElement(tag), attributes, content);
}

/**
 * @param {string} tag
 * @param {Attributes} [attributes]
 * @param {...Content} content
 * @returns {Element}
 */
export function drawn(tag, attributes = {}, ...content) {
  return filled(document.createElementNS(SVG, tag), attributes, content);
}

/**
 * @template {Element} E
 * @param {E} element
 * @param {Attributes} attributes
 * @param {Content[]} content
 * @returns {E}
 */
function filled(element, attributes, content) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value !== false && value !== null) element.setAttribute(name, value === true ? "" : String(value));
  }
  // One by one: a call may not have as many arguments as a long session has stations.
  for (const one of content.flat()) {
    if (one !== null && one !== "") element.append(/** @type {Node | string} */ (one));
  }
  return element;
}

/**
 * @param {string} words
 * @param {() => unknown} click
 * @param {Attributes} [attributes]
 */
export function button(words, click, attributes = {}) {
  return make("button", { type: "button", click, ...attributes }, words);
}

/**
 * Asks in a dialog; the way that loses nothing has the focus. Gives a promise of true or false.
 * @param {string} question
 * @param {string} yes
 * @param {string} no
 * @returns {Promise<boolean>}
 */
export function ask(question, yes, no) {
  return new Promise((resolve) => {
    /** @param {string} value */
    const answer = (value) => () => dialog.close(value);
    /** @type {HTMLDialogElement} */
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
