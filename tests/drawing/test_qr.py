"""Codes of addresses against ISO/IEC 18004, read by a decoder that did not draw them."""

import re

import pytest
from phasepress.drawing.qr import MOST, QUIET, symbol

from tests.qr_reading import codes, drawn, strokes, texts


def code(address: str) -> str:
    return symbol(address, label="a code", module_mm=0.6).svg


def address_of(length: int) -> str:
    return ("https://club.example/" + "abc-1/" * length)[:length]


@pytest.mark.parametrize("length", [22, 62, 85, 150, MOST])
def test_a_code_says_its_address(length: int) -> None:
    (read,) = codes(drawn(code(address_of(length))))
    assert read.text == address_of(length)
    assert str(read.format).rpartition(".")[2].replace(" ", "") in ("QRCode", "QRCodeModel2")


def test_letters_beyond_ascii_are_kept() -> None:
    assert texts(drawn(code("https://vereinsstärke.example/übung/"))) == [
        "https://vereinsstärke.example/übung/"
    ]


# ISO/IEC 18004, capacity of 8-bit bytes at level M in versions 2 to 10 (from memory of its table 7).
CAPACITY_M = {2: 26, 3: 42, 4: 62, 5: 84, 6: 106, 7: 122, 8: 152, 9: 180, 10: 213}


@pytest.mark.parametrize("version", CAPACITY_M)
def test_it_is_as_small_as_level_m_allows(version: int) -> None:
    """A symbol of version v has 17 + 4 v modules a side."""
    for length, expected in ((CAPACITY_M[version], version), (CAPACITY_M[version] + 1, version + 1)):
        side = int(re.findall(r'viewBox="0 0 (\d+) ', code(address_of(length)))[0])
        assert side == 17 + 4 * expected + 2 * 4


@pytest.mark.parametrize("length", range(22, 120, 7))
def test_errors_are_corrected_at_level_m_or_better(length: int) -> None:
    (read,) = codes(drawn(code(address_of(length))))
    assert read.ec_level in ("M", "Q", "H")


def test_four_modules_around_it_are_white() -> None:
    svg = code(address_of(85))
    side = int(re.findall(r'viewBox="0 0 (\d+) ', svg)[0])
    found = strokes(svg)
    assert QUIET == 4
    assert min(left for left, _, _ in found) == min(row for _, row, _ in found) == 4
    assert max(right for _, _, right in found) == max(row for _, row, _ in found) + 1 == side - 4


def test_a_damaged_code_is_read_all_the_same() -> None:
    """Level M restores about 15 % of the codewords; here a corner of 4 % of the symbol is covered."""
    image = drawn(code(address_of(85)))
    side = image.width
    image.paste(255, (side * 6 // 10, side * 6 // 10, side * 8 // 10, side * 8 // 10))
    assert texts(image) == [address_of(85)]


def test_a_ruined_code_is_not_read() -> None:
    image = drawn(code(address_of(85)))
    image.paste(255, (0, 0, image.width // 2, image.height // 2))
    assert texts(image) == []


def test_the_same_address_gives_the_same_code_and_its_size_in_millimetres() -> None:
    assert code(address_of(62)) == code(address_of(62))
    assert 'width="24.6mm"' in code(address_of(62))


def test_an_address_too_long_for_a_sheet_has_none() -> None:
    assert code(address_of(MOST + 1)) == ""
