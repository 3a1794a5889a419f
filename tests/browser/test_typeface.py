"""The same on every machine: a pack has its own typeface, and a page fits in whatever a machine has."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright
from pypdf import PdfReader

from tests.browser.conftest import Run
from tests.browser.demo import Session, Tree, demo
from tests.browser.geometry import cut_off, overlaps, too_wide
from tests.browser.paper import FORMATS, printed
from tests.browser.preview import small_tree
from tests.fixtures import typefaces
from tests.samples import every

TREE = demo()
MM = 96 / 25.4
A4_WIDE = 210 - 2 * 11
# Those that fontconfig gives for a page's own list of typefaces on one machine or another. The bold of the same
# family comes with each.
FAMILIES = {
    regular.partition("-")[0].removesuffix(".ttf"): (regular, bold) for regular, bold in typefaces.USUAL
}


def with_fonts(folder: Path, fonts: list[Path]) -> Path:
    """Settings of fontconfig for a machine that has these fonts and no other."""
    own = folder / "fonts"
    own.mkdir(parents=True)
    for font in fonts:
        (own / font.name).symlink_to(font)
    settings = folder / "fonts.conf"
    settings.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">'
        f"<fontconfig><dir>{own}</dir><cachedir>{folder / 'cache'}</cachedir></fontconfig>",
        encoding="utf-8",
    )
    return settings


@pytest.fixture(scope="session")
def odd_fonts() -> list[Path]:
    """Two fonts of this machine that look like nothing usual, as different from each other as can be."""
    every = sorted(typefaces.installed_files())
    if len(every) < 2:
        pytest.fail("two fonts are needed that differ; Debian: apt-get install fonts-dejavu-core")
    widths = sorted(every, key=typefaces.width_of_a_line)
    return [widths[0], widths[-1]]


@pytest.fixture(params=every(["small", "demo"], few=["small"]))
def words(request: pytest.FixtureRequest, tmp_path: Path) -> list[str]:
    """What prints a pack, as far as the name of its file: of a small tree with a figure, or one week of the demo."""
    tree = TREE if request.param == "demo" else Tree(small_tree(tmp_path / "small" / "tree"))
    version = tree.versions[-1]
    level = next(iter(version.levels))
    choice = ["--level", level, "--week", "1", "--to"]
    return ["--programmes", str(tree.folder), "print", version.programme, version.name, *choice]


def test_machines_with_different_fonts_print_the_same_bytes(
    phasepress: Run, odd_fonts: list[Path], words: list[str], tmp_path: Path
) -> None:
    packs = []
    for number, font in enumerate(odd_fonts):
        settings = with_fonts(tmp_path / str(number), [font])
        to = tmp_path / f"{number}.pdf"
        done = phasepress(*words, to, FONTCONFIG_FILE=str(settings))
        assert done.exit_code == 0, done.stderr
        packs.append(to.read_bytes())
    assert packs[0] == packs[1]
    reader = PdfReader(tmp_path / "0.pdf")
    assert {name.partition("-")[0] for page in reader.pages for name in fonts_of(page)} == {"FiraGO"}


def fonts_of(page: Any) -> Iterator[str]:
    """The fonts of a page, without the mark of a part of a font that stands before the name."""
    for font in page["/Resources"]["/Font"].values():
        yield str(font.get_object()["/BaseFont"]).rpartition("+")[2].removeprefix("/")


def test_a_machine_without_any_font_is_told_to_get_one(
    phasepress: Run, words: list[str], tmp_path: Path
) -> None:
    settings = with_fonts(tmp_path / "none", [])
    done = phasepress(*words, tmp_path / "pack.pdf", FONTCONFIG_FILE=str(settings))
    assert done.exit_code == 2
    assert "typeface" in done.stderr
    assert not (tmp_path / "pack.pdf").exists()


def fullest() -> list[Session]:
    """The three sheets with the most stations and times, each of another day."""
    by_day = [max(day.sessions, key=fullness) for day in TREE.days]
    return sorted(by_day, key=fullness)[-3:]


def fullness(session: Session) -> int:
    return sum(1 + len(row.times) for row in session.rows)


@pytest.fixture(params=every(FAMILIES, few=["NimbusSans", "DejaVuSans"]))
def browser_with_one_family(
    request: pytest.FixtureRequest,
    playwright: Playwright,
    launch_options: dict[str, Any],
    tmp_path: Path,
) -> Iterator[Browser]:
    found = typefaces.installed(FAMILIES[request.param])
    if len(found) < 2:
        pytest.skip("this machine does not have it")
    env = os.environ | {"FONTCONFIG_FILE": str(with_fonts(tmp_path, list(found.values())))}
    started = playwright.chromium.launch(**launch_options, env=env)
    yield started
    started.close()


def test_the_fullest_sheets_are_one_page_in_any_usual_typeface(
    browser_with_one_family: Browser, site_url: str
) -> None:
    page = browser_with_one_family.new_page()
    for session in every(fullest(), few=2):
        page.goto(site_url + session.address)
        page.emulate_media(media="null")
        for paper in FORMATS:
            assert len(printed(page, paper).pages) == 1, f"{session} on {paper}"
        page.emulate_media(media="print")
        page.set_viewport_size({"width": round(A4_WIDE * MM), "height": 1200})
        assert too_wide(page) == [], session
        assert cut_off(page) == [], session
        assert overlaps(page) == [], session
