"""Every version stays at its address and says what came after it; a programme's own page shows the newest."""

import re
from datetime import date, timedelta
from itertools import pairwise

from . import trees
from .pages import words
from .published import newest_editions, pages_of, published, replaced


def test_the_demo_has_what_these_tests_are_about():
    assert any(replaced(versions) for versions in published().values())
    assert all(len(newest_editions(versions)) > 1 for versions in published().values())


def test_an_older_edition_leads_to_the_one_that_replaced_it(demo):
    for versions in published().values():
        for old, new in replaced(versions):
            for page in pages_of(demo, old):
                banner = page.one("p", "older")
                assert f"This is edition {old.phase}.{old.edition}." in words(banner)
                assert f"replaced by {new.phase}.{new.edition}" in words(banner)
                assert page.leads_to(page.one("a", within=banner)) == new.address
                assert "data-until" not in banner.attrib, "a replaced edition is so on any day"


def test_an_older_phase_leads_to_the_programme_once_the_next_has_begun(demo):
    for programme, versions in published().items():
        for version, following in pairwise(newest_editions(versions)):
            for page in pages_of(demo, version):
                banner = page.one("p", "older")
                assert f"Phase {following.phase}, " in words(banner)
                assert page.leads_to(page.one("a", within=banner)) == f"{programme}/"
                assert banner.get("data-until") == following.starts
                assert "hidden" not in banner.attrib, "without script it is better said too early than never"


def test_the_newest_phase_has_no_banner(demo):
    for versions in published().values():
        for page in pages_of(demo, newest_editions(versions)[-1]):
            assert page.all(mark="older") == [], page.address


def test_the_archive_has_every_version_newest_first(demo):
    for programme, versions in published().items():
        page = demo[f"{programme}/versions/"]
        links = [page.all("a", within=item)[0] for item in page.one("ol", "archive")]
        assert [page.leads_to(link) for link in links] == [one.address for one in reversed(versions)]


def test_the_archive_says_what_changed_and_compares_with_the_version_before(demo):
    for programme, versions in published().items():
        page = demo[f"{programme}/versions/"]
        for item, version in zip(page.one("ol", "archive"), reversed(versions), strict=True):
            assert " ".join(version.changes.split()) in words(item)
            assert ("the version before" in words(item)) == (version != versions[0])


def test_the_page_of_a_programme_shows_the_newest_phase_without_script(demo):
    for programme, versions in published().items():
        page = demo[f"{programme}/"]
        (shown,) = [one for one in page.all("section", "phase") if "hidden" not in one.attrib]
        newest = newest_editions(versions)[-1]
        assert shown.get("data-starts") == newest.starts
        ways = {page.leads_to(link) for link in page.all("a", within=shown)}
        days = {one.address for one in pages_of(demo, newest) if one.kind == "day"}
        assert days | {newest.address} <= ways


def test_the_first_page_names_the_newest_phase_of_every_programme(demo):
    page = demo[""]
    for programme, versions in published().items():
        (card,) = [one for one in page.all("a") if page.leads_to(one) == f"{programme}/"]
        (shown,) = [one for one in page.all("span", "[data-phase]", card) if "hidden" not in one.attrib]
        assert shown.get("data-starts") == newest_editions(versions)[-1].starts


def test_a_replaced_edition_is_not_among_the_phases_of_its_programme(demo):
    for programme, versions in published().items():
        page = demo[f"{programme}/"]
        ways = {page.leads_to(link) for link in page.all("a")}
        assert not ways & {old.address for old, _ in replaced(versions)}
        assert {version.address for version in newest_editions(versions)} <= ways


# --- more than the demo has ----------------------------------------------------------------------------


FIRST = date(2031, 1, 6)
MONDAYS = [f"{FIRST + timedelta(weeks=week)}" for week in range(11)]


def phases(many):
    """A small tree with this many phases of a week each, one after another."""
    tree = trees.small()
    first = tree.pop("plan/1.0.yaml")
    for number, monday in enumerate(MONDAYS[:many], 1):
        tree[f"plan/{number}.0.yaml"] = first | {"phase": f"Part {number}", "weeks": 1, "starts": monday}
    return tree


def test_ten_phases_are_in_the_order_of_their_numbers(build, tmp_path):
    site = build(trees.write(phases(11), tmp_path / "tree"), tmp_path / "site")
    page = site["plan/versions/"]
    told = [words(page.one("a", within=item)) for item in page.one("ol", "archive")]
    assert [text.split()[0] for text in told] == [f"{number}.0" for number in range(11, 0, -1)]
    (shown,) = [one for one in site["plan/"].all("section", "phase") if "hidden" not in one.attrib]
    assert words(site["plan/"].one("h2", within=shown)) == "Phase 11: Part 11"


def test_a_phase_that_is_trained_earlier_than_its_number_is_followed_by_the_next_in_time(build, tmp_path):
    tree = phases(3)
    tree["plan/2.0.yaml"]["starts"], tree["plan/3.0.yaml"]["starts"] = MONDAYS[2], MONDAYS[1]
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    assert site["plan/1.0/"].one("p", "older").get("data-until") == MONDAYS[1]
    assert re.search("Phase 3, Part 3, follows", words(site["plan/1.0/"].one("p", "older")))
    assert site["plan/2.0/"].all(mark="older") == []
    (shown,) = [one for one in site["plan/"].all("section", "phase") if "hidden" not in one.attrib]
    assert shown.get("data-starts") == MONDAYS[2]


# --- what changed --------------------------------------------------------------------------------------


def _two_editions(**more):
    tree = trees.small()
    first = tree["plan/1.0.yaml"]
    legs = trees.day(
        "legs", trees.circuit({"exercise": "sit", "reps": 10}, {"exercise": "lean", "hold": "20 s"})
    )
    tree["plan/1.1.yaml"] = {**first, "days": [legs], "changes": "Two more.", **more}
    return tree


def test_the_page_of_an_edition_says_what_changed_in_words_and_figures(build, tmp_path):
    site = build(trees.write(_two_editions(), tmp_path / "tree"), tmp_path / "site")
    page = site["plan/1.1/"]
    told = page.words
    assert "What changed Two more. Legs Sit down: 8 → 10 reps" in told
    assert "Against" not in told
    cells = [words(cell) for cell in page.all("td")]
    # Two reps of 3 s more; the lean takes 20 + 5 + 20 s. The warm-up has ten reps, then a minute's rest.
    assert "16 → 20 reps" not in cells
    assert any(re.fullmatch(r"64 → 70 s \+6, \+9 %", cell) for cell in cells), cells
    assert page.leads_to(next(a for a in page.all("a") if words(a) == "To version 1.0")) == "plan/1.0/"


def test_the_archive_says_the_same(build, tmp_path):
    site = build(trees.write(_two_editions(), tmp_path / "tree"), tmp_path / "site")
    newest, first = site["plan/versions/"].one("ol", "archive")
    assert "Legs: Sit down: 8 → 10 reps" in words(newest)
    assert "New: time +0.1 min" in words(newest)
    assert "The first version of this programme." in words(first)


def test_an_edition_without_another_dose_says_so(build, tmp_path):
    tree = trees.small()
    tree["plan/1.1.yaml"] = {**tree["plan/1.0.yaml"], "changes": "Words."}
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    assert "No dose and no time differs from version 1.0." in site["plan/1.1/"].words
    assert "New: as much as before" in site["plan/versions/"].words


def test_the_first_version_has_nothing_that_changed(demo):
    assert "What changed" not in demo["home-strength/1.0/"].words


def test_the_fingerprint_is_on_every_page_and_sheet_of_a_version(demo, demo_report):
    for version in demo_report:
        top = f"{version['programme']}/{version['version']}/"
        own = [page for address, page in demo.pages.items() if address.startswith(top)]
        assert len(own) > 15
        for page in own:
            if page.address in demo.read:
                assert f"plan {version['plan']}" in page.words, page.address
