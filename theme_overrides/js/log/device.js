// The ways out of the page that a device may offer: each may be missing, and nothing leaves by them by itself.

/**
 * The text of a file. Throws a SyntaxError in words where it is none that we could have written.
 * @param {File} file
 * @param {number} [most]
 */
export async function readFile(file, most = 20e6) {
  if (file.size > most) throw new SyntaxError("This file is too large to be a log of this site.");
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
  } catch (error) {
    if (!(error instanceof TypeError)) throw new SyntaxError("This file could not be read. Choose it again.");
    throw new SyntaxError(
      "This file is not UTF-8 text. Bring in the file as this page saved it, or save the sheet as CSV in UTF-8.",
    );
  }
}

export const canShare = () => typeof navigator.share === "function";
/**
 * Whether the share sheet takes this file.
 * @param {File} file
 */
export const canShareFile = (file) => canShare() && !!navigator.canShare?.({ files: [file] });
export const canCopy = () => typeof navigator.clipboard?.writeText === "function";

/**
 * Opens the device's own share sheet. Gives "" or why it was not shared; turning back is no fault.
 * @param {string} title
 * @param {string} text
 */
export function share(title, text) {
  return told(() => navigator.share({ title, text }), "This device did not share it. Copy it, or save it as a file.");
}

/**
 * Gives "" or why the file was not shared.
 * @param {File} file
 */
export function shareFile(file) {
  return told(() => navigator.share({ files: [file] }), "This device did not share it. Save it as a file instead.");
}

/**
 * Gives "" or why it was not copied.
 * @param {string} text
 */
export function copy(text) {
  return told(
    () => navigator.clipboard.writeText(text),
    "This browser did not copy it. Select the text, or save it as a file.",
  );
}

/**
 * @param {() => Promise<void>} go
 * @param {string} why
 */
async function told(go, why) {
  try {
    await go();
    return "";
  } catch (error) {
    return /** @type {Error} */ (error).name === "AbortError" ? "Not shared." : why;
  }
}
