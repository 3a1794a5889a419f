"""A machine that lacks an engine is told how to get it; nothing is left out in silence."""

from pathlib import Path

import pytest

from . import in_chromium, in_firefox, in_webkit, machine
from .driver import NoEngineError, Wishes


@pytest.fixture
def bare(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No program is found."""
    monkeypatch.setenv("PATH", str(tmp_path))


@pytest.mark.usefixtures("bare")
@pytest.mark.parametrize(
    ("began", "words"),
    [
        (in_webkit.began, "apt-get install webkit2gtk-driver xvfb"),
        (in_firefox.began, "apt-get install firefox-esr"),
    ],
)
def test_a_missing_engine_fails_with_the_way_to_get_it(began, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(NoEngineError, match=words), began(Wishes()):
        pass


def test_a_missing_chromium_does_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.browser.chromium.find", lambda env: None)
    with pytest.raises(NoEngineError, match="apt-get install chromium"), in_chromium.began(Wishes()):
        pass


@pytest.mark.usefixtures("bare")
def test_whoever_may_install_nothing_is_told_the_packages(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert machine.main() == 1
    assert "apt-get install webkit2gtk-driver xvfb firefox-esr" in capsys.readouterr().err
    monkeypatch.setenv("PHASEPRESS_SKIP_BROWSER", "1")
    assert machine.main() == 0


def test_a_firefox_of_another_name_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("WebKitWebDriver", "Xvfb", "firefox"):
        (tmp_path / name).write_text("#!/bin/sh\n", encoding="utf-8")
        (tmp_path / name).chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    assert machine.missing() == []
