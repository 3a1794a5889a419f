"""The registry of pages: each address is of one kind, takes its ids from authors, and is counted before it is made."""

import re
from itertools import combinations
from pathlib import Path

import pytest
from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.files import FILES
from phasepress.publishing.pages import PAGES, kind_of
from phasepress.publishing.site import Renderer
from phasepress.reading.addresses import Address, reserved
from phasepress.reading.catalogue import load
from phasepress.reading.model import ID_PATTERN

from tests.site import trees

PUBLISHED = {
    "",
    "about/",
    "log/",
    "exercises/",
    "exercises/figures/",
    "exercises/{exercise}/",
    "{programme}/",
    "{programme}/versions/",
    "{programme}/poster/",
    "{programme}/{version}/",
    "{programme}/{version}/numbers/",
    "{programme}/{version}/kit/",
    "{programme}/{version}/{day}/",
    "{programme}/{version}/{day}/{level}/week-{week}/",
    "plan.schema.json",
    "sitemap.xml",
    "{programme}/calendar.ics",
    "{programme}/changes.atom",
    "{programme}/app.webmanifest",
    "{programme}/{version}/plan.json",
}
"""Addresses that sheets, bookmarks, calendars and other programs hold. None ever goes; new ones need not be here."""
IDS = {"programme": "plan", "version": "1.0", "day": "legs", "level": "new", "week": 2, "exercise": "sit"}


def test_no_address_that_was_ever_published_is_gone() -> None:
    assert {form.value for form in Address} >= PUBLISHED


def test_a_page_has_a_folder_of_its_own_and_a_file_has_none() -> None:
    assert {kind.name for kind in PAGES if not f"/{kind.address}".endswith("/")} == set()
    assert {kind.name for kind in FILES if kind.address.endswith("/")} == set()


@pytest.mark.parametrize("kind", PAGES, ids=lambda kind: kind.name)
def test_an_address_is_known_by_its_kind(kind) -> None:
    assert kind_of(kind.address.at(**IDS)) is kind


def test_what_is_no_page_has_no_kind() -> None:
    for address in (
        "404.html",
        "plan/calendar.ics",
        "plan/1.0/plan.json",
        "plan/1.0/legs/new/week-two/",
        "a/b/c/",
    ):
        assert kind_of(address) is None, address


def may_meet(one: str, other: str) -> bool:
    """Whether both pieces of two addresses can be the same text, with the ids that an author may choose."""
    if "{" not in one + other:
        return one == other
    if "{" in one and "{" in other:
        return "{version}" not in (one, other) or one == other
    literal, name = (other, one) if "{" in one else (one, other)
    is_id = re.fullmatch(ID_PATTERN, literal) and re.fullmatch(r"\{(?!version)\w+\}", name)
    return bool(is_id) and literal not in reserved(name.strip("{}"))


def test_no_two_pages_can_ever_have_one_address() -> None:
    for one, other in combinations(PAGES, 2):
        pieces, others = one.address.value.split("/"), other.address.value.split("/")
        if len(pieces) == len(others):
            assert not all(map(may_meet, pieces, others)), (one.name, other.name)


def named(tree: trees.Tree, what: str, name: str) -> trees.Tree:
    """The tree with a programme, a day or an exercise that has this id."""
    if what == "programme":
        return {key.replace("plan/", f"{name}/"): value for key, value in tree.items()}
    if what == "exercise":
        return {**tree, f"exercises/{name}.yaml": trees.exercise("Another")}
    tree["plan/1.0.yaml"]["days"][0]["id"] = name
    return tree


@pytest.mark.parametrize(
    ("what", "taken"),
    [
        (what, taken)
        for what in ("programme", "day", "exercise")
        # The tree itself has a folder of this name, with the exercises in it.
        for taken in sorted(reserved(what) - {"exercises"})
    ],
)
def test_an_id_that_a_page_takes_is_refused(what: str, taken: str, tmp_path: Path) -> None:
    assert load(trees.write(named(trees.small(), what, "own"), tmp_path / "own")).findings == []
    (finding,) = [
        one for one in load(trees.write(named(trees.small(), what, taken), tmp_path / "tree")).findings
    ]
    assert finding.severity == "error"
    assert f"{taken}" in finding.message
    assert "the address of another page of the site" in finding.message


def test_the_ids_that_pages_take_are_known() -> None:
    assert reserved("programme") >= {"about", "assets", "exercises", "log"}
    assert reserved("day") >= {"kit", "numbers"}
    assert reserved("exercise") >= {"figures"}
    assert reserved("level") == frozenset()


def grown(
    *, days: int = 1, weeks: int = 2, levels: tuple[str, ...] = ("new", "used"), editions: int = 1
) -> trees.Tree:
    """A tree whose only phase has so many days, weeks, levels and editions."""
    tree = trees.small()
    block = trees.circuit({"exercise": "sit", "reps": 8})
    for edition in range(editions):
        week = [trees.day(f"day-{number}", block, on=["mon"]) for number in range(days)]
        changes = {"changes": "Other weeks."} if edition else {}
        tree[f"plan/1.{edition}.yaml"] = trees.phase(*week, weeks=weeks, levels=list(levels), **changes)
    return tree


def without_versions(tree: trees.Tree) -> trees.Tree:
    return {name: data for name, data in tree.items() if not re.fullmatch(r"\w+/\d+\.\d+\.yaml", name)}


SHAPES = {
    "one version": grown(),
    "many days": grown(days=5),
    "one week of one level": grown(weeks=1, levels=("new",)),
    "twelve weeks": grown(weeks=12),
    "three editions": grown(editions=3),
    "nothing published": without_versions(grown()),
    "nothing but the library": {name: data for name, data in grown().items() if not name.startswith("plan/")},
    "a programme beside one that waits": {
        **grown(days=2),
        "other/programme.yaml": grown()["plan/programme.yaml"],
    },
}


@pytest.mark.parametrize("site_url", ["", "https://club.example/"], ids=["without an address", "public"])
@pytest.mark.parametrize("shape", SHAPES)
def test_as_many_pages_are_made_as_are_counted_before(shape: str, site_url: str, tmp_path: Path) -> None:
    checked = check(load(trees.write(SHAPES[shape], tmp_path / "tree")))
    assert checked.count("error") == 0, checked.findings
    renderer = Renderer(checked.catalogue, assets(), site_url)
    before = renderer.count()
    made = [f"{page.address}{page.file}" for page in renderer.pages()]
    assert len(made) == len(set(made)) == before
    assert ("sitemap.xml" in made) == bool(site_url)


def test_search_engines_hear_of_no_sheet_and_of_no_version_that_is_replaced(tmp_path: Path) -> None:
    checked = check(load(trees.write(SHAPES["three editions"], tmp_path / "tree")))
    pages = list(Renderer(checked.catalogue, assets(), "https://club.example/").pages())
    (text,) = [page.text for page in pages if page.file == "sitemap.xml"]
    listed = set(re.findall(r"<loc>https://club\.example/(.*?)</loc>", text))
    assert {kind_of(address).name for address in listed} == {kind.name for kind in PAGES} - {"session"}
    assert {address.split("/")[1] for address in listed if address.startswith("plan/1.")} == {"1.2"}
