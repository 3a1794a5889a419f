"""The live preview: a saved file is on the screen by itself, a faulty one leaves the last good page."""

import io
import re
import shutil
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Locator, Page, expect
from ruamel.yaml import YAML

from tests.browser.conftest import OpenContext, public_address
from tests.browser.demo import Session, Tree
from tests.browser.preview import Preview, previewed
from tests.fixtures.settings import beside

# What the preview is meant to keep is a second; a machine with other work to do may be much slower.
BOUND_SECONDS = 100
GOOD_REPS, LATER_REPS = 17, 19


@pytest.fixture
def page(preview: Preview, tree: Tree, open_context: OpenContext) -> Page:
    """The session page of the first station that is done in reps."""
    page = open_context(preview=True).new_page()
    page.goto(preview.url + session(tree).address)
    return page


def session(tree: Tree) -> Session:
    return tree.versions[-1].days[0].sessions[0]


def place_of_reps(session: Session) -> tuple[int, int]:
    """Which block and station of the day is the first that is done in reps and in the session."""
    return next(
        (block_at, at)
        for block_at, block in enumerate(session.day.plan["blocks"])
        for at, station in enumerate(block["stations"])
        if "reps" in station and session.row(label(block_at, at)).dose
    )


def label(block: int, station: int) -> str:
    return f"{chr(ord('A') + block)}{station + 1}"


def dose(page: Page, tree: Tree) -> Locator:
    """The dose of that station."""
    row = page.locator("tbody tr").filter(
        has=page.get_by_text(label(*place_of_reps(session(tree))), exact=True)
    )
    return row.locator("strong")


def file_of(tree: Tree) -> Path:
    """The file of the version."""
    version = session(tree).version
    return tree.folder / version.programme / f"{version.name}.yaml"


def save(tree: Tree, reps: object) -> str:
    """Saves the version with this dose at that station; gives the file's name."""
    file = file_of(tree)
    yaml = YAML()
    plan = yaml.load(file.read_text(encoding="utf-8"))
    block, station = place_of_reps(session(tree))
    plan["days"][0]["blocks"][block]["stations"][station]["reps"] = reps
    text = io.StringIO()
    yaml.dump(plan, text)
    file.write_text(text.getvalue(), encoding="utf-8")
    return file.relative_to(tree.folder).as_posix()


def seconds_until(page: Page, tree: Tree, reps: int) -> float:
    """How long it takes until the page shows this dose, by itself."""
    start = time.perf_counter()
    shown = dose(page, tree).filter(has_text=re.compile(rf"^{reps} "))
    shown.wait_for(timeout=BOUND_SECONDS * 1000)
    return time.perf_counter() - start


def shows(page: Page, tree: Tree, reps: int) -> bool:
    return dose(page, tree).inner_text(timeout=1000).startswith(f"{reps} ")


def assert_policy_of_a_preview(page: Page) -> None:
    policy = page.locator("meta[http-equiv='Content-Security-Policy']").get_attribute("content")
    assert policy
    rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split(";")}
    assert rules["script-src"] == ["'self'", "'unsafe-inline'"]
    assert rules["connect-src"] == ["'self'"]
    assert "http" not in policy


def test_a_saved_dose_is_on_the_screen_by_itself(
    page: Page, tree: Tree, record_property: Callable[[str, object], None]
) -> None:
    """The content security policy lets the preview's own script run for that, and lets no other site in."""
    assert_policy_of_a_preview(page)
    assert not shows(page, tree, GOOD_REPS)
    save(tree, GOOD_REPS)
    first = seconds_until(page, tree, GOOD_REPS)
    save(tree, LATER_REPS)
    again = seconds_until(page, tree, LATER_REPS)
    record_property("preview", f"saved to shown: {first:.2f} s, then {again:.2f} s")


def test_a_faulty_file_leaves_the_last_good_page_and_says_where(
    page: Page, tree: Tree, preview: Preview
) -> None:
    save(tree, GOOD_REPS)
    good = file_of(tree).read_text(encoding="utf-8")
    seconds_until(page, tree, GOOD_REPS)
    before = len(preview.said())
    name = save(tree, "many")
    preview.wait_for(rf"{re.escape(name)}:\d+:\d+: error ", before)
    page.wait_for_timeout(1000)
    assert shows(page, tree, GOOD_REPS)
    before = len(preview.said())
    file = file_of(tree)
    file.write_text(file.read_text(encoding="utf-8") + "  - [half a list\n", encoding="utf-8")
    preview.wait_for(rf"{re.escape(name)}:\d+:\d+: error ", before)
    assert shows(page, tree, GOOD_REPS)
    assert "Traceback" not in preview.said()
    file.write_text(good, encoding="utf-8")
    save(tree, LATER_REPS)
    seconds_until(page, tree, LATER_REPS)


def test_the_findings_stand_over_the_last_good_page_until_they_are_mended(page: Page, tree: Tree) -> None:
    """Each has a page of its own, which says so when it is mended."""
    save(tree, GOOD_REPS)
    good = file_of(tree).read_text(encoding="utf-8")
    seconds_until(page, tree, GOOD_REPS)
    name = save(tree, "many")
    over = page.locator(".phasepress-findings.wrong")
    expect(over).to_be_visible(timeout=BOUND_SECONDS * 1000)
    expect(over).to_contain_text(re.compile(rf"{re.escape(name)}:\d+:\d+"))
    expect(over).to_contain_text('reps: found "many"')
    expect(over.locator("summary").first).to_contain_text("the page is the last good one")
    assert over.evaluate("box => getComputedStyle(box).position") == "fixed"
    assert shows(page, tree, GOOD_REPS)
    another = page.context.new_page()
    another.goto(page.url)
    another.locator(".phasepress-findings.wrong").get_by_role("link", name=name).first.click()
    expect(another.get_by_role("heading", level=1)).to_have_text("Error: value")
    expect(another.get_by_text("To mend it:")).to_be_visible()
    file_of(tree).write_text(good, encoding="utf-8")
    expect(over).to_have_count(0, timeout=BOUND_SECONDS * 1000)
    expect(another.get_by_text("This is not found any more.")).to_be_visible(timeout=BOUND_SECONDS * 1000)


def test_other_pages_can_be_opened_while_a_file_is_faulty(page: Page, tree: Tree, preview: Preview) -> None:
    before = len(preview.said())
    name = save(tree, "many")
    preview.wait_for(rf"{re.escape(name)}:\d+:\d+: error ", before)
    another = page.context.new_page()
    another.goto(preview.url, timeout=BOUND_SECONDS * 1000)
    expect(another.get_by_role("heading", level=1)).to_have_text(tree.club["club"])


def test_a_preview_that_begins_with_a_fault_shows_it_until_it_is_mended(
    tree: Tree, tmp_path: Path, open_context: OpenContext
) -> None:
    own = Tree(beside(Path(shutil.copytree(tree.folder, tmp_path / "tree"))))
    good = file_of(own).read_text(encoding="utf-8")
    name = save(own, "many")
    with previewed(own.folder, tmp_path / "first.txt", urlsplit(public_address()).path) as running:
        page = open_context(preview=True).new_page()
        page.goto(running.url + session(own).address)
        expect(page.get_by_role("heading", level=1)).to_have_text("What is found in the files")
        expect(page.get_by_text(re.compile(rf"{re.escape(name)}:\d+:\d+"))).to_be_visible()
        page.get_by_role("link", name=name).first.click()
        expect(page.get_by_text('reps: found "many"')).to_be_visible()
        expect(page.locator("mark")).to_contain_text("many")
        page.goto(running.url + session(own).address)
        file_of(own).write_text(good, encoding="utf-8")
        expect(page.get_by_role("heading", level=1)).to_have_text(
            session(own).day.title, timeout=BOUND_SECONDS * 1000
        )
        page.close()
        assert "Traceback" not in running.said()
