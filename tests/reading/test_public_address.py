"""Names that are kept for examples: RFC 2606, sections 2 and 3."""

from pathlib import Path

import pytest
from phasepress.reading.catalogue import load
from phasepress.reading.public_address import DEMO, is_reserved, warning

from tests.conftest import ROOT


@pytest.mark.parametrize(
    "host",
    ["ravelmouth.example", "example", "a.b.test", "x.invalid", "localhost", "LOCALHOST:8000", "example.com",
     "www.EXAMPLE.net", "example.org.", "me@club.example"],
)  # fmt: skip
def test_a_name_kept_for_examples_is_known(host: str) -> None:
    assert is_reserved(f"https://{host}/training/")


@pytest.mark.parametrize(
    "host",
    ["fenn.club", "example.de", "myexample.com", "test.fenn.club", "example.com.fenn.club", "127.0.0.1", "latest", ""],
)  # fmt: skip
def test_any_other_name_is_a_clubs_own(host: str) -> None:
    assert not is_reserved(f"https://{host}/example/test")


def test_what_is_no_address_is_no_matter_of_this() -> None:
    assert not is_reserved("")
    assert not is_reserved("https://[half/")


def test_the_demo_is_known_by_its_name_and_alone_is_not_warned() -> None:
    club = load(ROOT / "programmes").catalogue.club
    assert club is not None
    assert club.model.club == DEMO
    assert warning("https://ravelmouth.example/", DEMO) == ""
    assert warning("https://fenn.club/", "Fenn") == ""
    assert warning("", "Fenn") == ""
    told = warning("https://ravelmouth.example/", "Fenn")
    assert "https://ravelmouth.example/" in told
    assert "RFC 2606" in told


def test_the_demo_has_such_an_address() -> None:
    settings = Path(ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    assert "site_url: https://ravelmouth.example/" in settings
