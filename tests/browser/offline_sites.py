"""Small sites for the tests of what a device keeps: a programme in the middle of its phases, in two builds."""

import contextlib
import hashlib
import json
import os
import re
import time
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from phasepress.cli import main
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import PHONE
from tests.browser.host import copied
from tests.browser.watch import Watch
from tests.site import links, trees
from tests.site.pages import Site

SAVED = "The current phase is saved on this device and works without a network."
PROGRAMME, OTHER = "plan/", "other/"
CURRENT, NEXT = "plan/2.1/", "plan/3.0/"
# An old edition, a phase that is over, one that is far ahead, and an exercise that nothing of the phase leads to.
LEFT_OUT = ("plan/2.0/", "plan/1.0/", "plan/4.0/", "exercises/alone/")
SHARED = ("", "about/", "exercises/", "plan/", "plan/poster/", "plan/versions/")
EXERCISES = ("exercises/sit/", "exercises/lean/", "exercises/perch/", "exercises/stool/")
# All that a site of few pages keeps.
FEW = ("", PROGRAMME, f"{CURRENT}legs/", f"{CURRENT}legs/new/week-1/")
OLD_WORDS, NEW_WORDS = "Sit down", "Sit low"


def monday(weeks: int) -> str:
    """The Monday of this week, or of one before or after it."""
    today = date.today()
    return (today - timedelta(days=today.weekday()) + timedelta(weeks=weeks)).isoformat()


def tree(words: str = OLD_WORDS) -> trees.Tree:
    """`plan` in its second phase of four, which has two editions; `other` with one phase. `words` are on all pages."""
    found = trees.small()
    easier = [{"exercise": "perch", "how": "Higher up."}]
    found["exercises/sit.yaml"] = trees.exercise(words, easier=easier)
    found["exercises/perch.yaml"] = trees.exercise(
        "Perch", easier=[{"exercise": "stool", "how": "Higher still."}]
    )
    found["exercises/stool.yaml"] = trees.exercise("Stool")
    found["exercises/alone.yaml"] = trees.exercise("Alone")
    only = found.pop("plan/1.0.yaml")
    for name, weeks in {"1.0": -8, "2.0": -1, "2.1": -1, "3.0": 2, "4.0": 6}.items():
        changes: trees.Data = {} if name.endswith("0") else {"changes": "Another word."}
        found[f"plan/{name}.yaml"] = only | {"starts": monday(weeks)} | changes
    found["other/programme.yaml"] = found["plan/programme.yaml"] | {"title": "The other"}
    found["other/1.0.yaml"] = only | {"starts": monday(-1)}
    return found


def built(factory: pytest.TempPathFactory, words: str = OLD_WORDS) -> Path:
    """The site of `tree(words)`, built once for all modules. Read it, never write to it."""
    folder = factory.getbasetemp() / f"offline {words}"
    return folder / "site" if folder.exists() else build(folder, words)


def build(folder: Path, words: str = OLD_WORDS, tree_files: trees.Tree | None = None) -> Path:
    """Builds the site of `tree(words)`, or of other files, below a folder."""
    source = trees.write(tree_files or tree(words), folder / "tree")
    done = CliRunner().invoke(main, ["--programmes", str(source), "build", "--to", str(folder / "site")])
    assert done.exit_code == 0, done.output + repr(done.exception)
    patient(folder / "site")
    # In whatever order tests ask for them: a host takes a file for the one that a browser has if it is no younger.
    age = 7200 if words == OLD_WORDS else 3600
    for path in files(folder / "site"):
        os.utime(path, (time.time() - age,) * 2)
    return folder / "site"


def patient(site: Path, back: bool = False) -> None:
    """Lets the worker wait for a new build as long as a busy machine may take; `back`: as built again."""
    worker = site / "sw.js"
    text = worker.read_text(encoding="utf-8")
    one, other = ("PATIENCE=60000", "PATIENCE=2000") if back else ("PATIENCE=2000", "PATIENCE=60000")
    assert text.count(one) == 1
    worker.write_text(text.replace(one, other), encoding="utf-8")


def restyled(site: Path, to: Path) -> Path:
    """A copy of a site as a newer release would build it: its style has another content and so another name."""
    found = copied(site, to)
    (style,) = (found / "assets/css").glob("sheet.*.css")
    text = style.read_text(encoding="utf-8") + "\n.newer{color:red}"
    name = f"sheet.{hashlib.sha256(text.encode()).hexdigest()[:8]}.css"
    style.unlink()
    (found / "assets/css" / name).write_text(text, encoding="utf-8")
    for page in found.rglob("*.html"):
        page.write_text(page.read_text(encoding="utf-8").replace(style.name, name), encoding="utf-8")
    relisted(found)
    return found


def thinned(site: Path, to: Path) -> Path:
    """A copy whose lists name few pages and what they load, for tests that look at no others: it is soon kept."""
    found = copied(site, to)
    wanted = {name.removesuffix("index.html") for name in loaded(Site(found), list(FEW))}
    for path in found.glob("*/offline.json"):
        content = json.loads(path.read_text(encoding="utf-8"))
        for part in (content, *content["phases"]):
            part["files"] = {name: digest for name, digest in part["files"].items() if name in wanted}
        path.write_text(json.dumps(content), encoding="utf-8")
    return found


def relisted(site: Path) -> None:
    """Writes the lists of a changed site anew, without the generator."""
    names = {
        re.sub(r"(^|(?<=/))index\.html$", "", path.relative_to(site).as_posix()): path for path in files(site)
    }
    style = next(name for name in names if re.fullmatch(r"assets/css/sheet\.\w+\.css", name))
    lists = {path: json.loads(path.read_text(encoding="utf-8")) for path in site.glob("*/offline.json")}
    for content in lists.values():
        for part in (content, *content["phases"]):
            part["files"] = {
                name: hashlib.sha256(names[name].read_bytes()).hexdigest()[:16]
                for name in (
                    style if name.startswith("assets/css/sheet.") else name for name in part["files"]
                )
            }
    new = hashlib.sha256(json.dumps([one["files"] for one in lists.values()]).encode()).hexdigest()[:16]
    for path, content in lists.items():
        path.write_text(json.dumps(content | {"build": new}), encoding="utf-8")
    root = site / "offline.json"
    root.write_text(
        json.dumps(json.loads(root.read_text(encoding="utf-8")) | {"build": new}), encoding="utf-8"
    )


def files(site: Path) -> list[Path]:
    return [path for path in site.rglob("*") if path.is_file()]


def current(site: Site) -> list[str]:
    """Every address that has to work without a network, read from the site's own pages."""
    phases = [address for address in site.pages if address.startswith((CURRENT, NEXT))]
    assert len(phases) == 2 * (3 + 1 + 2 * 2), (
        "a version, its numbers and kit, its day, two levels of two weeks"
    )
    return [*SHARED, *EXERCISES, *phases]


def loaded(site: Site, addresses: list[str]) -> dict[str, bytes]:
    """What these pages ask for, by name: the pages, their styles, scripts, icons and manifests."""
    found: dict[str, bytes] = {}
    for address in addresses:
        found |= links.requests(site, site[address], later=True)
    return found


@contextlib.contextmanager
def visiting(browser: Browser, expected: str = "") -> Iterator[BrowserContext]:
    """A phone on which a worker may work, watched; requests that find no network are no problem here.

    `expected` is a pattern of further problems that are none.
    """
    context = browser.new_context(**PHONE, service_workers="allow")
    watch = Watch(context)
    try:
        yield context
    finally:
        context.close()
    noticed = unexpected(watch.problems(), expected)
    assert noticed == [], noticed


def unexpected(problems: list[str], expected: str = "") -> list[str]:
    """The problems without those of requests that find no network, and without what `expected` is a pattern of."""
    harmless = re.compile(
        rf"(failed: |console error: Failed to load resource: ).*ERR_(INTERNET_DISCONNECTED|CONNECTION_\w+|SOCKET_NOT_CONNECTED|FAILED)$|{expected or '$.'}"
    )
    return [problem for problem in problems if not harmless.search(problem)]


def saved(page: Page, url: str) -> None:
    """Visits the address and waits until the page says that the programme is kept."""
    page.goto(url)
    expect(page.get_by_text(SAVED)).to_be_visible(timeout=30_000)


def build_in_force(page: Page) -> str:
    """The build that the device has in force, as the worker says."""
    return str(ask(page, "")["build"])


def ask(page: Page, wish: str) -> dict[str, Any]:
    script = """(message) => new Promise((go) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = ({ data }) => go(data);
        navigator.serviceWorker.controller.postMessage(message, [port2]);
    })"""
    found: dict[str, Any] = page.evaluate(script, {"programme": PROGRAMME.strip("/"), "wish": wish})
    return found


def words_of(page: Page, url: str) -> str:
    """What the page at an address says, in one line."""
    page.goto(url)
    return " ".join(page.locator("body").inner_text().split())


def until(page: Page, script: str, given: object = None) -> None:
    """Waits until a function of the page that may be async says true of what is given.

    `wait_for_function` takes every promise for true. Asked again and again: one that a page is left with may never
    be kept.
    """
    asked = f"""async (given) => {{
        for (let time = 0; time < 300; time += 1) {{
            const later = new Promise((go) => setTimeout(go, 1000));
            if (await Promise.race([({script})(given), later])) return true;
            await new Promise((go) => setTimeout(go, 100));
        }}
        return false;
    }}"""
    assert page.evaluate(asked, given), f"never came true: {script}"


def everything_kept(page: Page) -> list[str]:
    """Every address that any cache of the host holds, with its query."""
    script = """async () => {
        const found = [];
        for (const name of await caches.keys()) {
            for (const request of await (await caches.open(name)).keys()) found.push(request.url);
        }
        return found;
    }"""
    found: list[str] = page.evaluate(script)
    return found


def kept_addresses(page: Page) -> set[str]:
    """What any cache of the host holds, but not the record of it all."""
    return {url for url in everything_kept(page) if "?record" not in url}
