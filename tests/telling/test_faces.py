"""How wide the letters of a line are counted: as its typeface has them, or as the widest of the usual ones."""

from collections.abc import Mapping

import pytest
from fontTools.ttLib import TTFont
from phasepress.publishing import typeface
from phasepress.publishing.booklet.outlines import OUTLINES
from phasepress.telling.views.faces import PACK, USUAL

from tests.fixtures import typefaces

USUAL_FILES = [(name, bold) for names in typefaces.USUAL for bold, name in enumerate(names)]


def wrong(signs: Mapping[str, int], counted: Mapping[str, int], more: int = 0) -> list[str]:
    """Signs that are wider than is counted, or narrower by more than `more` thousandths of an em."""
    return [sign for sign, wide in signs.items() if not 0 <= counted[sign] - wide <= more]


def counted(face: object, signs: Mapping[str, int], bold: int) -> dict[str, int]:
    return {sign: round(1000 * face.ems(sign, bold=bool(bold))) for sign in signs}  # type: ignore[attr-defined]


def of_tables(signs: Mapping[str, int], *ranges: range) -> dict[str, int]:
    return {sign: wide for sign, wide in signs.items() if any(ord(sign) in run for run in ranges)}


@pytest.mark.parametrize("bold", [0, 1], ids=["regular", "bold"])
def test_a_pack_counts_on_the_widths_of_the_typeface_that_it_is_set_in(bold: int) -> None:
    signs = of_tables(typefaces.pack_widths()[bold], *typefaces.EVERYWHERE, *typefaces.FURTHER)
    assert len(signs) > 1500
    assert wrong(signs, counted(PACK, signs, bold)) == []


@pytest.mark.parametrize(("name", "bold"), USUAL_FILES, ids=[name for name, _ in USUAL_FILES])
def test_no_letter_of_a_usual_typeface_is_wider_than_a_page_counts_on(name: str, bold: int) -> None:
    found = typefaces.installed([name])
    if name not in found:
        pytest.skip("this machine does not have it")
    signs = of_tables(typefaces.ems(TTFont(found[name])), *typefaces.EVERYWHERE)
    assert len(signs) > 300
    assert wrong(signs, counted(USUAL, signs, bold), more=2000) == []


def test_the_letters_that_pictures_have_are_those_of_the_typeface() -> None:
    assert typefaces.outlines() == OUTLINES


@pytest.mark.parametrize(
    "text",
    [
        "Zwölf Kniebeugen – ½ × Körpergewicht",
        "Δώδεκα βαθιά καθίσματα",
        "Двенадцать приседаний",
        "اثنا عشر تمرين قرفصاء",
        "שתים עשרה כפיפות ברכיים",
    ],
)
def test_the_typeface_of_a_pack_has_every_letter_of_a_line(text: str) -> None:
    for name, font in typefaces.of_packs().items():
        known = font.getBestCmap()
        assert [sign for sign in text if ord(sign) not in known] == [], name


def test_a_letter_of_no_table_has_a_width_of_its_kind() -> None:
    """East Asian Width (UAX 11): wide signs take an em; what is set on another letter takes nothing."""
    assert USUAL.ems("訓") == PACK.ems("訓") == 1
    assert USUAL.ems("e\u1dc4") == USUAL.ems("e")
    assert 0.4 < USUAL.ems("ꓤ") < 1


def test_a_line_is_as_wide_as_its_letters() -> None:
    assert PACK.ems("Wall sit") == pytest.approx(sum(map(PACK.ems, "Wall sit")))
    assert PACK.ems("Wall", bold=True) > PACK.ems("Wall")


def test_without_its_package_nothing_is_printed_and_the_reason_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(typeface, "myfont", None)
    with pytest.raises(typeface.NoTypefaceError, match="pip install 'phasepress\\[print\\]'"):
        typeface.files()


def test_the_typeface_is_under_an_open_licence() -> None:
    font = typefaces.of_packs()["regular.ttf"]
    (licence, *_) = [str(record) for record in font["name"].names if record.nameID == 13]
    assert "SIL Open Font License, Version 1.1" in licence
