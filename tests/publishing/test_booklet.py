"""What a pack is made of, before a browser prints it: which doses, which parts, what stands on each page."""

from pathlib import Path
from xml.etree import ElementTree

import pytest
from phasepress.computing.phases import computed_sessions
from phasepress.publishing.assets import assets
from phasepress.publishing.booklet import Choice, NothingPlannedError, Pack, pack
from phasepress.publishing.booklet.lettering import lettered
from phasepress.publishing.booklet.styles import as_parts, page_styles
from phasepress.reading.catalogue import Catalogue, load
from phasepress.telling.views.base import Site
from phasepress.telling.views.pack_choice import whose
from phasepress.telling.views.pack_doses import Dose, DoseSheet, dose_sheet

from tests.conftest import ROOT
from tests.site import trees


def catalogue(folder: Path, weeks: int = 2, **dose: object) -> Catalogue:
    """The small tree with other weeks, and what is given of its first station."""
    data = trees.small()
    stations = [{"exercise": "sit", "reps": 8} | dose, {"exercise": "lean", "hold": "20 s"}]
    data["plan/1.0.yaml"] = trees.phase(trees.day("legs", trees.circuit(*stations)), weeks=weeks)
    loaded = load(trees.write(data, folder / "tree"))
    assert loaded.findings == []
    return loaded.catalogue


def choice(known: Catalogue, *levels: str, weeks: tuple[int, ...] = ()) -> Choice:
    version = known.programmes["plan"].versions[0]
    everybody = tuple(level.id for level in version.levels)
    return Choice(levels or everybody, weeks or tuple(version.weeks))


def doses(known: Catalogue, chosen: Choice | None = None) -> DoseSheet:
    version = known.programmes["plan"].versions[0]
    chosen = chosen or choice(known)
    facts = chosen.facts(computed_sessions(known, version))
    day = version.model.days[0]
    return dose_sheet(Site(known), version, day, "plan/1.0/legs/", facts, whose(version, chosen))


def made(known: Catalogue, chosen: Choice | None = None) -> Pack:
    version = known.programmes["plan"].versions[0]
    return pack(known, assets(), "", version, chosen or choice(known), "a4")


def test_weeks_of_the_same_dose_are_one_and_levels_that_share_theirs_stand_together(tmp_path: Path) -> None:
    reps = {"new": [6, 6, 8, 6], "used": 10}
    table = doses(catalogue(tmp_path, weeks=4, reps=reps)).tables[1]
    sit, lean = table.rows
    assert sit.levels == (
        ("New", (Dose(2, "6 reps", ()), Dose(1, "8 reps", ()), Dose(1, "6 reps", ()))),
        ("Used", (Dose(4, "10 reps", ()),)),
    )
    assert sit.always == ("tempo 2-0-1-0",)
    assert lean.levels == (("", (Dose(4, "hold 20 s each side", ("40 s in total",)),)),)
    assert table.by_level
    assert not table.same


def test_a_block_in_which_nothing_differs_is_told_once(tmp_path: Path) -> None:
    tables = doses(catalogue(tmp_path, weeks=12)).tables
    assert [(table.same, table.by_level, table.weeks) for table in tables] == 2 * [
        (True, False, tuple(range(1, 13)))
    ]


def test_what_varies_stands_beside_its_dose_and_what_does_not_beside_the_name(tmp_path: Path) -> None:
    known = catalogue(tmp_path, tempo={"new": "2-0-1-0", "used": ["2-0-1-0", "3-0-1-0"]})
    (sit, _) = doses(known).tables[1].rows
    assert sit.always == ()
    assert sit.levels[1] == (
        "Used",
        (Dose(1, "8 reps", ("tempo 2-0-1-0",)), Dose(1, "8 reps", ("tempo 3-0-1-0",))),
    )


def test_many_weeks_are_in_tables_as_even_as_can_be_and_only_the_first_has_the_title(tmp_path: Path) -> None:
    tables = doses(catalogue(tmp_path, weeks=7, reps=[6, 7, 8, 9, 10, 11, 12])).tables[1:]
    assert [table.weeks for table in tables] == [(1, 2, 3, 4), (5, 6, 7)]
    assert [(table.mark, len(table.titles)) for table in tables] == [("A", 1), ("", 0)]


def test_a_station_that_is_left_out_in_a_week_has_no_dose_there(tmp_path: Path) -> None:
    (sit, _) = doses(catalogue(tmp_path, reps={"new": [0, 8], "used": 8})).tables[1].rows
    assert sit.levels[0] == ("New", (Dose(1, "", ()), Dose(1, "8 reps", ())))


def test_another_exercise_at_the_same_station_has_no_mark_of_its_own(tmp_path: Path) -> None:
    data = trees.small()
    data["exercises/squat.yaml"] = trees.exercise("Squat")
    station = {"exercise": {"new": "sit", "used": "squat"}, "reps": 8}
    data["plan/1.0.yaml"] = trees.phase(trees.day("legs", trees.circuit(station)))
    known = load(trees.write(data, tmp_path / "tree")).catalogue
    rows = doses(known).tables[1].rows
    assert [(row.mark, row.name, row.levels[0][0]) for row in rows] == [
        ("A1", "Sit down", "New"),
        ("", "Squat", "Used"),
    ]


def test_a_choice_is_told_by_what_it_leaves_out(tmp_path: Path) -> None:
    known = catalogue(tmp_path, weeks=4)
    version = known.programmes["plan"].versions[0]
    assert whose(version, choice(known)) == ""
    assert whose(version, choice(known, "used")) == "Used"
    assert whose(version, choice(known, weeks=(2, 3, 4))) == "weeks 2 to 4"
    assert whose(version, choice(known, "new", weeks=(1,))) == "New, week 1"


def test_a_day_shows_no_dose_that_is_not_chosen(tmp_path: Path) -> None:
    known = catalogue(tmp_path, reps={"new": [6, 7], "used": [11, 12]})
    (sit, _) = doses(known, choice(known, "used", weeks=(2,))).tables[1].rows
    assert sit.levels == (("", (Dose(1, "12 reps", ()),)),)


def test_the_outline_has_every_sheet_under_its_day_and_every_card(tmp_path: Path) -> None:
    top = {one.title: one.below for one in made(catalogue(tmp_path)).bookmarks}
    assert list(top) == ["Cover", "In this pack", "Days", "Session sheets", "Exercise cards"]
    (legs,) = top["Session sheets"]
    assert legs.title == "Legs"
    assert [one.title for one in legs.below] == ["New, week 1", "New, week 2", "Used, week 1", "Used, week 2"]
    assert legs.below[0].part == legs.part == "plan/1.0/legs/new/week-1/"
    assert [one.title for one in top["Exercise cards"]] == ["Lean", "Sit down"]


def test_every_part_that_a_bookmark_leads_to_is_in_the_document(tmp_path: Path) -> None:
    document = made(catalogue(tmp_path))
    text = document.text({})
    parts = [document.bookmarks[0]]
    for part in parts:
        parts.extend(part.below)
    assert [one.part for one in parts if f'id="{one.part}"' not in text] == []


def test_the_contents_have_the_numbers_of_pages_that_are_known(tmp_path: Path) -> None:
    text = made(catalogue(tmp_path)).text({"plan/1.0/legs/": 41})
    assert '<a class="at" href="#plan/1.0/legs/">41</a>' in text


def test_an_edition_that_was_replaced_says_so_on_its_cover_and_its_sheets(tmp_path: Path) -> None:
    data = trees.small()
    data["plan/1.1.yaml"] = data["plan/1.0.yaml"] | {"changes": "Mended."}
    text = made(load(trees.write(data, tmp_path / "tree")).catalogue).text({})
    assert text.count("This is edition 1.0. It was replaced by 1.1.") == 1 + 4


def test_a_choice_of_which_nothing_is_left_is_refused(tmp_path: Path) -> None:
    data = trees.small()
    station = {"exercise": "sit", "reps": 8}
    data["plan/1.0.yaml"] = trees.phase(trees.day("legs", trees.circuit(station, rounds=[1, 0])))
    known = load(trees.write(data, tmp_path / "tree")).catalogue
    with pytest.raises(NothingPlannedError):
        made(known, choice(known, weeks=(2,)))


def test_text_around_a_page_cannot_end_its_string() -> None:
    """CSS Syntax 3, 4.3.7: a backslash and the number of a sign stand for the sign."""
    styles = page_styles(['Legs"}\n</style>\\'], "Plan 1", "a4")
    assert r"Legs\22 \7d \a \3c \2f style\3e \5c " in styles
    assert '"Plan\\20 1"' in styles


@pytest.mark.parametrize(("paper", "size"), [("a4", "210mm 297mm"), ("letter", "215.9mm 279.4mm")])
def test_pages_have_the_size_of_their_paper(paper: str, size: str) -> None:
    """ISO 216; ANSI/ASME Y14.1, size A."""
    assert f"@page{{size:{size};" in page_styles(["Legs"], "Plan", paper)


def test_what_styles_say_of_the_body_of_a_page_holds_for_a_part() -> None:
    styles = b"body.day,body.session{margin:0}body{color:red}"
    assert as_parts(styles) == b"section.day,section.session{margin:0}body{color:red}"


def test_a_picture_has_its_degrees_drawn_since_it_cannot_use_the_typeface_of_the_pack() -> None:
    before, after = "<svg><title>90° each</title><path/>", "<path/></svg>"
    drawn = lettered(f'{before}<text x="-4" y="52">118°</text>{after}'.encode()).decode()
    assert drawn.startswith(before)
    assert drawn.endswith(after)
    assert "<text" not in drawn
    signs = ElementTree.fromstring(drawn)[2:-1]
    assert len(signs) == 4
    places = [float(sign.attrib["transform"].split("(")[1].split()[0]) for sign in signs]
    assert places == sorted(places)
    assert places[0] == -4


def test_all_pictures_of_a_pack_are_without_letters_to_set() -> None:
    known = load(ROOT / "programmes").catalogue
    version = known.programmes["home-strength"].versions[-1]
    everything = Choice(tuple(level.id for level in version.levels), tuple(version.weeks))
    files = pack(known, assets(), "", version, everything, "a4").files
    pictures = [content.decode() for name, content in files.items() if name.endswith(".svg")]
    assert len(pictures) > 10
    assert [picture for picture in pictures if "<text" in picture] == []
    assert any("scale(0.022 -0.022)" in picture for picture in pictures)
