// Comma-separated values as RFC 4180 has them, safe to open in a spreadsheet. Pure.

/** @typedef {{ line: number, cells: string[] }} Row */
/** @typedef {{ body: string, at: number, line: number, separator: string, end: RegExp }} Reader */

/** More than any spreadsheet has columns (16,384). */
const MOST_CELLS = 20_000;
/** A spreadsheet takes a cell that begins so, some after spaces, for a formula; an apostrophe before it makes it text. */
const FORMULA = /^'* *[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;
const QUOTED = /[",;\t\r\n]|^\s|\s$/;

/**
 * Rows of texts to one text. Every line ends in CR LF.
 * @param {string[][]} rows
 */
export function write(rows) {
  return rows.map((cells) => `${cells.map(cell).join(",")}\r\n`).join("");
}

/** @param {string} text */
function cell(text) {
  const safe = FORMULA.test(text) ? `'${text}` : text;
  return QUOTED.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** @param {string} text */
const plain = (text) => (text.startsWith("'") && FORMULA.test(text) ? text.slice(1) : text);

/**
 * A text to its rows, each {line, cells}; `line` is where it begins, from 1. Lines may end in LF alone and cells may
 * be parted by semicolons or tabs, as some spreadsheets save them. Throws a SyntaxError that names the line.
 * @param {string} text
 * @returns {Row[]}
 */
export function read(text) {
  const body = text.replace(/^\ufeff/, "");
  const mark = separator(body);
  const reader = { body, at: 0, line: 1, separator: mark, end: new RegExp(`[${mark}\r\n]|$`, "g") };
  const rows = [];
  while (reader.at < body.length) {
    const { line } = reader;
    const cells = row(reader);
    if (cells.length > 1 || cells[0] !== "") rows.push({ line, cells });
  }
  return rows;
}

/**
 * The one that stands most often in the first line.
 * @param {string} body
 */
function separator(body) {
  const [first] = body.split(/[\r\n]/, 1);
  /** @param {string} mark */
  const times = (mark) => first.split(mark).length;
  return [",", ";", "\t"].reduce((most, mark) => (times(mark) > times(most) ? mark : most));
}

/** @param {Reader} reader */
function row(reader) {
  const cells = [];
  for (;;) {
    cells.push(plain(reader.body[reader.at] === '"' ? quoted(reader) : unquoted(reader)));
    const end = reader.body[reader.at];
    if (end !== reader.separator) break;
    if (cells.length === MOST_CELLS) throw new SyntaxError(`line ${reader.line}: more than ${MOST_CELLS} cells`);
    reader.at += 1;
  }
  endOfLine(reader);
  return cells;
}

/** @param {Reader} reader */
function unquoted(reader) {
  const start = reader.at;
  reader.at = endOfCell(reader);
  const text = reader.body.slice(start, reader.at);
  if (text.includes('"')) throw new SyntaxError(`line ${reader.line}: a quotation mark in the middle of a cell`);
  return text;
}

/** @param {Reader} reader */
function endOfCell(reader) {
  reader.end.lastIndex = reader.at;
  return /** @type {RegExpExecArray} */ (reader.end.exec(reader.body)).index;
}

/** @param {Reader} reader */
function quoted(reader) {
  const parts = [];
  const opened = reader.line;
  for (;;) {
    const close = reader.body.indexOf('"', reader.at + 1);
    if (close < 0) throw new SyntaxError(`line ${opened}: a quotation mark is never closed`);
    const part = reader.body.slice(reader.at + 1, close);
    parts.push(part);
    reader.line += part.split("\n").length - 1;
    reader.at = close + 1;
    if (reader.body[reader.at] !== '"') break;
  }
  if (endOfCell(reader) !== reader.at) {
    throw new SyntaxError(`line ${reader.line}: text after a closing quotation mark`);
  }
  return parts.join('"');
}

/** @param {Reader} reader */
function endOfLine(reader) {
  if (reader.body[reader.at] === "\r") reader.at += 1;
  if (reader.body[reader.at] === "\n") reader.at += 1;
  reader.line += 1;
}
