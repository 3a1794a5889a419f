"""The pack of a version as one PDF file: what is in it, how it is found in it, and that nothing of it is cut."""

import contextlib
import fcntl
import os
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from phasepress.drawing.mannequin.pair import pair
from phasepress.publishing import pdf
from phasepress.reading.catalogue import load
from playwright.sync_api import Page
from pypdf import PdfReader

from tests.browser import full_tree
from tests.browser.conftest import OpenPage, Run
from tests.browser.demo import Day, Session, Tree, Version, demo, near, recipe_kg
from tests.browser.paper import clock_times, colours, missing_in_order
from tests.browser.pdfs import Bookmark, Box, Pdf, overlaps
from tests.conftest import shared_between_workers
from tests.samples import every
from tests.site import trees
from tests.stops import stoppable

TREE = demo()
# The phase with the most levels, which is the fullest pack.
VERSION = max(TREE.versions, key=lambda one: (len(one.levels), one.starts))
# ISO 216, and ANSI/ASME Y14.1 size A, in mm. Browsers lay pages out in whole pixels: a third of a mm.
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
PIXEL_MM = 25.4 / 96
# Common practice, no source: office printers leave about 4 mm white at the edges.
EDGE_MM = 4.0
BEFORE = 2  # cover and contents
FOUR = 4  # cards on a page
STOP = (
    "Stop if something hurts, if you feel dizzy or unwell, or if you can no longer do the movement right. "
    "Tell an adult."
)
PAIRS = {
    entry.model.name: found
    for entry in load(TREE.folder).catalogue.exercises.values()
    if (found := pair(entry.model))
}
# The weeks that are printed of it: `make test` takes the first and the last.
WEEKS = every(range(1, VERSION.weeks + 1), few=2)
CHOSEN = [] if len(WEEKS) == VERSION.weeks else [f"--week={week}" for week in WEEKS]


class Printed(NamedTuple):
    path: Path
    pdf: Pdf
    version: Version


def printed(run: Run, tree: Tree, version: Version, to: Path, *more: str) -> Printed:
    done = run("print", version.programme, version.name, "--to", to, "--programmes", tree.folder, *more)
    assert done.exit_code == 0, done.stderr
    found = Pdf(to)
    assert done.stdout == f"{to} has {len(found)} pages\n"
    return Printed(to, found, version)


def printed_once(run: Run, tree: Tree, version: Version, to: Path, *more: str) -> Printed:
    """Printed by the first worker that asks, and read by all."""
    with to.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        return Printed(to, Pdf(to), version) if to.exists() else printed(run, tree, version, to, *more)


@pytest.fixture(scope="module", params=every(PAPERS, few=["a4"]))
def pack(
    request: pytest.FixtureRequest, phasepress: Run, tmp_path_factory: pytest.TempPathFactory
) -> Printed:
    """The pack of the demo's fullest version, on each paper."""
    to = shared_between_workers(tmp_path_factory) / f"pack-{request.param}.pdf"
    return printed_once(phasepress, TREE, VERSION, to, "--paper", request.param, *CHOSEN)


@pytest.fixture(scope="module")
def long_names(tmp_path_factory: pytest.TempPathFactory) -> Tree:
    """A tree that is read at once and printed for long."""
    return Tree(full_tree.write(tmp_path_factory.mktemp("full") / "tree"))


@pytest.fixture(scope="module", params=["every level", "every week"])
def full(
    request: pytest.FixtureRequest,
    phasepress: Run,
    long_names: Tree,
    tmp_path_factory: pytest.TempPathFactory,
) -> Printed:
    """A pack of long names in both directions: all levels in two weeks, or one level in all weeks."""
    more = {
        "every level": ("--week", "1", "--week", "2", "--paper", "letter"),
        "every week": ("--level", "l1"),
    }
    version = long_names.version(full_tree.PROGRAMME, full_tree.VERSION)
    to = shared_between_workers(tmp_path_factory) / f"pack-{request.param}.pdf"
    return printed_once(phasepress, long_names, version, to, *more[request.param])


@pytest.fixture(scope="module")
def plan(plans: dict[tuple[str, str], str]) -> str:
    """The fingerprint of the version, as the report has it."""
    return plans[VERSION.programme, VERSION.name]


def chosen(day: Day) -> list[Session]:
    """The sessions of the day that are printed."""
    return [session for session in day.sessions if session.week in WEEKS]


def sheets(version: Version) -> list[Session]:
    return [session for day in version.days for session in chosen(day)]


def exercises(version: Version) -> list[dict[str, Any]]:
    """The exercises of all sessions, in the alphabetical order of their names."""
    used = {row.exercise for session in sheets(version) for row in session.rows}
    files = version.tree.files["exercises"]
    return sorted((files[name] for name in used), key=lambda one: one["name"].lower())


def day_page(day: Day) -> int:
    titles = [one.title for one in day.version.days]
    return BEFORE + titles.index(day.title) + 1


def sheet_page(session: Session) -> int:
    version = session.version
    addresses = [one.address for one in sheets(version)]
    return BEFORE + len(version.days) + addresses.index(session.address) + 1


def card_page(version: Version, name: str) -> int:
    names = [one["name"] for one in exercises(version)]
    return BEFORE + len(version.days) + len(sheets(version)) + names.index(name) // FOUR + 1


def test_a_pack_has_a_page_for_each_day_and_each_sheet_and_four_cards_to_a_page(pack: Printed) -> None:
    version = pack.version
    cards = -(-len(exercises(version)) // FOUR)
    assert len(pack.pdf) == BEFORE + len(version.days) + len(sheets(version)) + cards


def test_every_page_is_of_the_paper_that_is_asked_for(pack: Printed) -> None:
    wide, high = PAPERS[pack.path.stem.removeprefix("pack-")]
    for size in pack.pdf.sizes:
        assert size == (pytest.approx(wide, abs=PIXEL_MM), pytest.approx(high, abs=PIXEL_MM))


def test_every_page_has_its_number_the_programme_the_version_and_the_fingerprint(
    pack: Printed, plan: str
) -> None:
    title = TREE.programmes[VERSION.programme]["title"]
    for number, text in enumerate(pack.pdf.texts, 1):
        assert f"{number} of {len(pack.pdf)}" in text
        assert f"{title} · version {VERSION.name} · plan {plan}" in text


def test_the_cover_says_what_the_programme_is_what_it_needs_and_when_to_stop(
    pack: Printed, plan: str
) -> None:
    text = pack.pdf.texts[0]
    programme = TREE.programmes[VERSION.programme]
    head = [programme["title"], f"{VERSION.heading}", VERSION.plan["aim"], f"{VERSION.weeks} weeks"]
    days = [day.title for day in VERSION.days]
    assert (
        missing_in_order(text, [*head, *days, *VERSION.levels.values(), STOP, *TREE.club["cautions"]]) is None
    )
    assert plan in text
    kit = {thing for exercise in exercises(VERSION) for thing in exercise.get("needs", ())}
    assert [thing for thing in kit if thing not in text] == []
    loads = {row.load for session in sheets(VERSION) for row in session.rows if row.load}
    assert loads
    names = [thing["item"] for thing in TREE.club["kit"]]
    for kg in loads:
        found = re.search(rf"(?<![\d.]){float(kg):g} kg: (.{{1,120}})", text)
        assert found, f"no recipe for {kg} kg"
        recipes = [found[1][:end] for end in range(121) if found[1][:end].endswith(tuple(names))]
        assert any(near(recipe_kg(TREE.club, recipe), kg) for recipe in recipes), found[0]


def test_the_contents_name_the_page_of_every_day_sheet_and_card(pack: Printed) -> None:
    text = pack.pdf.texts[1]
    for day in VERSION.days:
        assert f"{day.title} {day_page(day)}" in text
        rows = []
        for level, name in VERSION.levels.items():
            of_level = [day.session(level, week) for week in WEEKS]
            rows += [name, *(f"page {sheet_page(one)} {one.minutes} min" for one in of_level)]
        assert missing_in_order(text, [day.title, *rows]) is None
    for exercise in exercises(VERSION):
        assert f"{exercise['name']} {card_page(VERSION, exercise['name'])}" in text


@pytest.mark.parametrize("day", VERSION.days, ids=repr)
def test_a_day_has_the_doses_of_all_levels_and_weeks_on_one_page(pack: Printed, day: Day) -> None:
    text = pack.pdf.texts[day_page(day) - 1]
    assert day.title in text
    for part in (STOP, *TREE.club["cautions"], "Ask your coach, physiotherapist or doctor"):
        assert part in text
    for session in chosen(day):
        for row in session.rows:
            assert row.name in text
            assert row.dose in text
            assert not row.tempo or f"tempo {row.tempo}" in text
            assert not row.load or f"{float(row.load):g} kg" in text


@pytest.mark.parametrize("day", VERSION.days, ids=repr)
def test_every_sheet_is_one_page_with_all_of_its_times(pack: Printed, day: Day) -> None:
    for session in chosen(day):
        text = pack.pdf.texts[sheet_page(session) - 1]
        assert day.title in text
        assert f"{session.level_name}, week {session.week}" in text
        assert STOP in text
        found = clock_times(text)
        wanted = sorted(time for row in session.rows for time in row.times)
        assert sorted(found) == sorted(["0:00", *wanted]), session
        for row in session.rows:
            assert row.name in text, session


def test_a_card_has_figure_start_cues_faults_cautions_and_the_stop_rule(pack: Printed) -> None:
    with_figure = 0
    for exercise in exercises(VERSION):
        page = card_page(VERSION, exercise["name"])
        text = pack.pdf.texts[page - 1]
        lines = [*exercise["setup"], *exercise["cues"], *exercise.get("faults", ()), *exercise["cautions"]]
        assert [line for line in lines if line not in text] == []
        assert (
            missing_in_order(text, [exercise["name"], *exercise["cues"], *exercise["cautions"], STOP]) is None
        )
        if "figure" in exercise:
            with_figure += 1
            assert exercise["figure"]["positions"][0]["says"] in text
    pages = range(card_page(VERSION, exercises(VERSION)[0]["name"]), len(pack.pdf) + 1)
    assert sum(pack.pdf.tags(page).count("Figure") for page in pages) == with_figure > 0


def test_a_card_tells_right_and_not_so_where_the_exercise_has_a_pair(pack: Printed) -> None:
    found = 0
    for exercise in exercises(VERSION):
        if told := PAIRS.get(exercise["name"]):
            text = pack.pdf.texts[card_page(VERSION, exercise["name"]) - 1]
            assert f"Right: {told.says_right}" in text, exercise["name"]
            assert f"Not so: {told.says_wrong}" in text, exercise["name"]
            found += 1
    cards = pack.pdf.texts[card_page(VERSION, exercises(VERSION)[0]["name"]) - 1 :]
    assert sum(text.count("Not so:") for text in cards) == found > 5


def test_the_outline_leads_to_every_part_and_card(pack: Printed) -> None:
    names = [exercise["name"] for exercise in exercises(VERSION)]
    first_day, first_sheet = VERSION.days[0], chosen(VERSION.days[0])[0]
    wanted = [
        Bookmark(0, "Cover", 1),
        Bookmark(0, "In this pack", 2),
        Bookmark(0, "Days", day_page(first_day)),
    ]
    wanted += [Bookmark(1, day.title, day_page(day)) for day in VERSION.days]
    wanted.append(Bookmark(0, "Session sheets", sheet_page(first_sheet)))
    for day in VERSION.days:
        wanted.append(Bookmark(1, day.title, sheet_page(chosen(day)[0])))
        for session in chosen(day):
            wanted.append(Bookmark(2, f"{session.level_name}, week {session.week}", sheet_page(session)))
    wanted.append(Bookmark(0, "Exercise cards", card_page(VERSION, names[0])))
    wanted += [Bookmark(1, name, card_page(VERSION, name)) for name in names]
    assert pack.pdf.bookmarks == wanted


def test_the_document_has_its_title_its_language_and_tags(pack: Printed) -> None:
    title = TREE.programmes[VERSION.programme]["title"]
    assert pack.pdf.title == f"{title}, phase {VERSION.name.split('.')[0]}: {VERSION.phase}"
    assert pack.pdf.language == TREE.club.get("language", "en")
    assert pack.pdf.tagged
    root = PdfReader(pack.path).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    # ISO 14289-1, 7.1: the title is shown, not the name of the file.
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    for page in range(1, len(pack.pdf) + 1):
        tags = pack.pdf.tags(page)
        assert {"H1", "H2"} & set(tags), f"page {page} has no heading: {tags}"
    sheet = pack.pdf.tags(sheet_page(chosen(VERSION.days[0])[0]))
    assert {"Table", "TR", "TH", "TD", "P"} <= set(sheet)


def test_its_date_is_the_first_day_of_the_phase(pack: Printed) -> None:
    """Nothing comes from the clock, so that equal files are equal packs."""
    about = PdfReader(pack.path).metadata
    assert about is not None
    assert about["/CreationDate"] == about["/ModDate"] == f"D:{VERSION.starts:%Y%m%d}000000Z"


def test_links_stay_in_the_pack_or_lead_to_nothing_else(pack: Printed) -> None:
    reader = PdfReader(pack.path)
    places = set(reader.named_destinations)
    links = [note.get_object() for page in reader.pages for note in page.get("/Annots", ())]
    wanted = [
        link["/Dest"] if "/Dest" in link else link["/A"] for link in links if link["/Subtype"] == "/Link"
    ]
    assert len(wanted) > len(sheets(VERSION))
    assert [one for one in wanted if not isinstance(one, str) or one not in places] == []


def test_a_pack_is_black_and_white_with_no_large_dark_areas(pack: Printed) -> None:
    assert colours(PdfReader(pack.path)) == set()
    for page in range(1, len(pack.pdf) + 1):
        greys = pack.pdf.greys(page)
        assert min(greys) < 40, f"page {page} is pale"
        assert sum(grey < 128 for grey in greys) < 0.16 * len(greys), f"page {page} eats ink"


def check_layout(pdf: Pdf) -> Iterator[str]:
    for page in range(1, len(pdf) + 1):
        wide, high = pdf.sizes[page - 1]
        boxes = pdf.boxes(page)
        for box in boxes:
            if (
                box.left < EDGE_MM
                or box.top < EDGE_MM
                or box.right > wide - EDGE_MM
                or box.bottom > high - EDGE_MM
            ):
                yield f"page {page}: {box} at the edge"
        yield from (f"page {page}: {one} on {other}" for one, other in overlaps(boxes))


def test_no_text_is_at_the_edge_or_on_another(pack: Printed) -> None:
    assert list(check_layout(pack.pdf)) == []


def test_text_on_text_and_text_at_the_edge_would_be_noticed(page: Page, tmp_path: Path) -> None:
    page.set_content(
        "<style>@page{margin:0}p{position:absolute;margin:0;left:50mm;top:50mm}p+p{top:51mm}"
        "p+p+p{left:0;top:90mm}</style><p>First</p><p>Second</p><p>Edge</p>"
    )
    page.pdf(path=tmp_path / "bad.pdf")
    found = list(check_layout(Pdf(tmp_path / "bad.pdf")))
    assert any("at the edge" in line for line in found)
    assert any(" on " in line for line in found)


def test_nothing_of_a_full_pack_is_at_the_edge_or_on_another(full: Printed) -> None:
    assert list(check_layout(full.pdf)) == []


def squeezed(text: str) -> str:
    """The text without spaces, since a long word is broken where it has to be."""
    return "".join(text.split())


def test_nothing_of_a_full_pack_is_cut(full: Printed) -> None:
    texts = [squeezed(text) for text in full.pdf.texts]
    whole = "".join(texts)
    left_to_right = [name for name in full_tree.NAMES if name.isascii() or name.startswith(("Donau", "Rind"))]
    assert len(left_to_right) == len(full_tree.NAMES) - 2
    for words in (*left_to_right, full_tree.TITLE, full_tree.PHASE, full_tree.DAY, full_tree.LEVELS[0]):
        assert squeezed(words) in whole, words
    cards = "".join(texts[-2:])
    for words in (full_tree.LONG, full_tree.CAUTION, "Breathe.", "The heel lifts: take a longer step."):
        assert cards.count(squeezed(words)) >= full_tree.STATIONS, words
    # Another engine may give letters of a word that runs from right to left in either order.
    for word in (*full_tree.RIGHT_TO_LEFT.split(), *full_tree.NAMES[3].split()):
        found = word.strip(".,")
        assert found in whole or found[::-1] in whole, found


def test_a_full_day_goes_on_under_its_title(full: Printed) -> None:
    first_sheet = min(one.page for one in full.pdf.bookmarks if one.level == 2)
    pages = full.pdf.texts[BEFORE : first_sheet - 1]
    assert len(pages) > 1
    assert all(squeezed(full_tree.DAY) in squeezed(text) for text in pages)


def test_every_time_of_a_full_sheet_is_on_it(full: Printed) -> None:
    starts = [one for one in full.pdf.bookmarks if one.level == 2]
    ends = [
        *(one.page for one in starts[1:]),
        next(b.page for b in full.pdf.bookmarks if b.title == "Exercise cards"),
    ]
    names = {name: level for level, name in full.version.levels.items()}
    day = full.version.days[0]
    assert len(starts) > 1
    for bookmark, end in zip(starts, ends, strict=True):
        name, _, week = bookmark.title.rpartition(", week ")
        session = day.session(names[name], int(week))
        text = " ".join(full.pdf.texts[bookmark.page - 1 : end - 1])
        wanted = [time for row in session.rows for time in row.times]
        assert sorted(clock_times(text)) == sorted(["0:00", *wanted]), bookmark


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Tree:
    """A tree of one day, two levels and two weeks, in the last of which one level does not train."""
    data = trees.small()
    stations = [{"exercise": "sit", "reps": 8}, {"exercise": "lean", "hold": "20 s"}]
    rounds = {"new": [1, 2], "used": [1, 0]}
    data["plan/1.0.yaml"] = trees.phase(trees.day("legs", trees.circuit(*stations, rounds=rounds)))
    return Tree(trees.write(data, tmp_path_factory.mktemp("small") / "tree"))


def test_the_same_files_make_the_same_bytes_whatever_the_clock_says(
    phasepress: Run, chromium_path: str, small: Tree, tmp_path: Path
) -> None:
    first = printed(phasepress, small, small.version("plan", "1.0"), tmp_path / "1.pdf")
    time.sleep(1.1)
    # As people call it: a process of its own.
    again = tmp_path / "2.pdf"
    command = [
        sys.executable,
        "-m",
        "phasepress",
        "--programmes",
        small.folder,
        "print",
        "plan",
        "1.0",
        "--to",
        again,
    ]
    env = os.environ | {"PHASEPRESS_CHROMIUM": chromium_path}
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=False, timeout=300)
    assert (done.returncode, done.stdout) == (0, f"{again} has {len(first.pdf)} pages\n"), done.stderr
    assert first.path.read_bytes() == again.read_bytes()
    assert b"HeadlessChrome" not in first.path.read_bytes()
    texts = first.pdf.texts
    assert len(texts) == BEFORE + 1 + 3 + 1, "a sheet for each session that is trained"
    assert "no session" in texts[1]
    assert "No session for Used in week 2." in texts[2]
    assert not any("Nothing is planned" in text for text in texts)


def test_only_the_chosen_levels_and_weeks_are_printed(phasepress: Run, small: Tree, tmp_path: Path) -> None:
    to = tmp_path / "pack.pdf"
    to.write_bytes(b"an older pack")
    pack = printed(phasepress, small, small.version("plan", "1.0"), to, "--level", "new", "--week", "2")
    assert list(tmp_path.iterdir()) == [to]
    texts = pack.pdf.texts
    assert len(texts) == BEFORE + 1 + 1 + 1
    assert "This pack New, week 2 only" in texts[0]
    assert "Legs New, week 2 · Monday" in texts[2]
    assert "New, week 2" in texts[3]
    for text in texts:
        assert "Used" not in text
        assert not re.search(r"week 1\b", text)


def test_a_choice_of_which_nothing_is_left_is_not_printed(
    phasepress: Run, small: Tree, tmp_path: Path
) -> None:
    words = ("print", "plan", "1.0", "--to", tmp_path / "pack.pdf", "--level", "used", "--week", "2")
    done = phasepress("--programmes", small.folder, *words)
    assert done.exit_code == 2
    assert done.stderr == (
        "phasepress: nothing is planned in 1.0 for this choice of levels and weeks; nothing was printed\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_a_browser_that_is_named_and_does_not_run_is_told(
    phasepress: Run, small: Tree, tmp_path: Path
) -> None:
    words = ("--programmes", small.folder, "print", "plan", "1.0", "--to", tmp_path / "pack.pdf")
    done = phasepress(*words, PHASEPRESS_CHROMIUM="/nowhere/chromium")
    assert done.exit_code == 2
    assert (
        done.stderr
        == "phasepress: PHASEPRESS_CHROMIUM=/nowhere/chromium does not run; correct it or unset it\n"
    )
    assert list(tmp_path.iterdir()) == []


def test_without_a_browser_the_ways_to_get_one_are_told(
    phasepress: Run, small: Tree, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No name on the path, none where playwright keeps its own."""
    monkeypatch.setattr(pdf, "NAMES", ("no-such-chromium",))
    to = tmp_path / "pack.pdf"
    words = ("--programmes", small.folder, "print", "plan", "1.0", "--to", to)
    done = phasepress(*words, PHASEPRESS_CHROMIUM=None, PLAYWRIGHT_BROWSERS_PATH=str(tmp_path / "none"))
    assert done.exit_code == 2
    assert done.stderr.startswith("phasepress: no Chromium that runs was found. ")
    for way in (
        "apt-get install chromium-headless-shell",
        "playwright install --only-shell chromium",
        "PHASEPRESS_CHROMIUM=/path/to/chromium",
    ):
        assert way in done.stderr
    assert not to.exists()


@pytest.fixture
def short_folder() -> Iterator[Path]:
    """Chromium makes a socket in the folder of temporary files, whose whole name has to be short."""
    with tempfile.TemporaryDirectory(prefix="pp-") as folder:
        yield Path(folder)


def to_all(process: int, number: int) -> None:
    """As a terminal does: Ctrl-C reaches everything that it has started: command, driver and browser."""
    os.killpg(process, number)


def to_all_twice(process: int, number: int) -> None:
    os.killpg(process, number)
    os.killpg(process, number)


def to_one_twice(process: int, number: int) -> None:
    os.kill(process, number)
    os.kill(process, number)


@pytest.mark.parametrize(
    ("number", "send", "after"),
    every(
        [
            (signal.SIGINT, to_all, 0.2),
            (signal.SIGINT, to_all, 2.0),
            (signal.SIGINT, to_all, 4.0),
            (signal.SIGINT, to_all_twice, 1.0),
            (signal.SIGTERM, os.kill, 0.2),
            (signal.SIGTERM, os.kill, 2.0),
            (signal.SIGTERM, to_one_twice, 3.0),
            (signal.SIGHUP, to_all, 1.0),
        ],
        few=3,
    ),
    ids=lambda one: getattr(one, "__name__", None) or getattr(one, "name", None),
)
def test_a_request_to_stop_leaves_nothing_behind(
    chromium_path: str,
    long_names: Tree,
    short_folder: Path,
    number: signal.Signals,
    send: Callable[[int, int], None],
    after: float,
) -> None:
    """SIGTERM reaches the command alone, which ends the others; the moments are spread over a whole run."""
    out, scratch = short_folder / "out", short_folder / "scratch"
    out.mkdir()
    scratch.mkdir()
    (out / "pack.pdf").write_bytes(b"an older pack")
    command = [sys.executable, "-m", "phasepress", "--programmes", str(long_names.folder), "print"]
    with stoppable():
        started = subprocess.Popen(
            [*command, full_tree.PROGRAMME, full_tree.VERSION, "--to", str(out / "pack.pdf")],
            env=os.environ | {"PHASEPRESS_CHROMIUM": chromium_path, "TMPDIR": str(scratch)},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
    # The scratch folder is made when the browser is about to be started.
    until = time.monotonic() + 60
    while not any(scratch.glob("phasepress-*")) and time.monotonic() < until:
        time.sleep(0.02)
    time.sleep(after)
    send(started.pid, number)
    _, said = started.communicate(timeout=60)
    assert started.returncode == 128 + number, said
    assert said == f"phasepress: stopped by {number.name}\n"
    assert [one.name for one in out.iterdir()] == ["pack.pdf"]
    assert (out / "pack.pdf").read_bytes() == b"an older pack"
    assert list(scratch.iterdir()) == []
    assert nobody_of(started.pid) == []


def nobody_of(session: int) -> list[str]:
    """The commands that are still there of those that the command of this session started; proc(5)."""
    left = []
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError, ProcessLookupError):
            fields = (folder / "stat").read_text("utf-8", "replace").rpartition(")")[2].split()
            if int(fields[3]) == session and fields[0] != "Z":
                left.append((folder / "cmdline").read_text("utf-8", "replace"))
    return left


def test_a_sheet_of_a_pack_has_the_words_of_its_page_in_the_same_order(
    open_page: OpenPage, site_url: str, pack: Printed, tmp_path: Path
) -> None:
    """Every sign, but for the line below it that has the number of the page.

    A pack's own typeface may leave room for the easier ways of a warm-up where a page of the site has none.
    """
    session = chosen(VERSION.days[-1])[-1]
    page = open_page()
    page.goto(site_url + session.address)
    paper = "A4" if pack.path.stem.removeprefix("pack-") == "a4" else "Letter"
    found = []
    for ways in ("inline", "none"):
        page.evaluate(
            """ways => {
                const main = document.querySelector("main");
                main.className = "t1 l1";
                main.style.setProperty("--ways", ways);
            }""",
            ways,
        )
        page.pdf(path=tmp_path / "sheet.pdf", format=paper)
        alone = Pdf(tmp_path / "sheet.pdf")
        assert len(alone) == 1
        found.append(signs(alone.boxes(1), alone.sizes[0][1] - 8))
    assert min(map(len, found)) > 500
    assert signs(pack.pdf.boxes(sheet_page(session)), alone.sizes[0][1] - 8) in found


def signs(boxes: list[Box], foot: float) -> str:
    """All signs above the line at the foot, as they come.

    PDFium gives U+0002 for a hyphen at the end of a line (seen); where lines end hangs on the typeface.
    """
    return "".join(box.sign for box in boxes if box.bottom < foot).replace("\2", "-")
