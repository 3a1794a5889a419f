// Brings hostile files into the log by the log's own scripts. A line of JSON in, a line out.
//
// {"home", "write": records} gives the JSON and the CSV of the records.
// {"home", "text", "here": record} brings a text in, twice, where the log has a record already.

/** As a browser's: keys are its own properties, of texts alone. */
class Store {
  get length() {
    return Object.keys(this).length;
  }
  key(index) {
    return Object.keys(this)[index] ?? null;
  }
  getItem(key) {
    return Object.hasOwn(this, key) ? this[key] : null;
  }
  setItem(key, text) {
    Object.defineProperty(this, key, { value: String(text), configurable: true, enumerable: true, writable: true });
  }
  removeItem(key) {
    delete this[key];
  }
}

/** `log` has the functions of the log's modules, `store` what a browser keeps for the site. */
export function answer({ home, write, text, here }, log, store) {
  if (write) return { json: log.toJson(write), csv: log.toCsv(write) };
  store.setItem(log.keyOf(home, here.id), JSON.stringify(here));
  const found = { fault: "", refused: "", counts: null, again: null };
  try {
    found.counts = log.importSessions(home, log.fromText(text));
    found.again = log.importSessions(home, log.fromText(text));
    found.refused = found.counts.why ?? "";
    shown(log, log.records(home));
  } catch (error) {
    // A refusal is a SyntaxError in words for the athlete; all else is a fault of the scripts.
    if (error instanceof SyntaxError) found.refused = error.message;
    else found.fault = error.stack ?? String(error);
  }
  const keys = Array.from({ length: store.length }, (_, index) => store.key(index));
  found.kept = Object.fromEntries(keys.map((key) => [key, store.getItem(key)]));
  const odd = [{}, [], "", 0].flatMap((one) => { const own = []; for (const key in one) own.push(key); return own; });
  found.polluted = odd.concat(Object.getOwnPropertyNames(Object.prototype).length > 12 ? ["prototype"] : []);
  return found;
}

/** What the page says of the records, and the files that it saves. */
function shown(log, records) {
  log.shareText("club", records, log.weeks(records, Date.UTC(2027, 0, 20), 12));
  for (const record of records) [log.sessionWords, log.placeWords].forEach((words) => words(record));
  log.toJson(records);
  log.toCsv(records);
}

async function serve() {
  const { createInterface } = await import("node:readline");
  const modules = await Promise.all(
    ["transfer", "import", "records", "weeks", "words"].map((name) => import(`./log/${name}.js`)),
  );
  const log = Object.assign({}, ...modules);
  process.stdout.write("{}\n");
  for await (const line of createInterface({ input: process.stdin })) {
    globalThis.localStorage = new Store();
    process.stdout.write(`${JSON.stringify(answer(JSON.parse(line), log, globalThis.localStorage))}\n`);
  }
}

if (globalThis.process?.argv) await serve();
