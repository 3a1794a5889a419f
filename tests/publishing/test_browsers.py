"""Which Chromium prints and is tested with: the one that is asked for, else one without windows, else any."""

from pathlib import Path

import pytest
from phasepress.publishing import pdf

from tests.browser import chromium


def program(path: Path, status: int = 0) -> str:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\nexit {status}\n", encoding="utf-8")
    path.chmod(0o755)
    return str(path)


def test_one_without_windows_is_taken_before_any_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program(tmp_path / "chromium")
    shell = program(tmp_path / "chromium-headless-shell")
    monkeypatch.setenv("PATH", f"{tmp_path}")
    assert chromium.find({}) == shell
    assert pdf.NAMES[0] == "chromium-headless-shell"


def test_where_that_one_does_not_run_another_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = program(tmp_path / "chromium")
    program(tmp_path / "chromium-headless-shell", status=1)
    monkeypatch.setenv("PATH", f"{tmp_path}")
    assert chromium.find({}) == other


def test_the_one_that_is_asked_for_is_taken_before_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program(tmp_path / "chromium-headless-shell")
    asked = program(tmp_path / "elsewhere" / "chrome")
    monkeypatch.setenv("PATH", f"{tmp_path}")
    assert chromium.find({"PHASEPRESS_CHROMIUM": asked}) == asked


def test_one_that_is_asked_for_and_does_not_run_is_told(tmp_path: Path) -> None:
    with pytest.raises(chromium.NoChromiumError, match="does not run"):
        chromium.find({"PHASEPRESS_CHROMIUM": str(tmp_path / "none")})


def test_of_those_that_the_driver_keeps_the_one_of_its_own_revision_comes_first(tmp_path: Path) -> None:
    """Folders as playwright 1.65 names them in `playwright install --only-shell --dry-run chromium`."""
    name = "chrome-headless-shell-linux64/chrome-headless-shell"
    older, own = (program(tmp_path / f"chromium_headless_shell-{number}" / name) for number in (1001, 1255))
    program(tmp_path / "chromium_headless_shell-1255/chrome-headless-shell-linux64/LICENSE")
    assert chromium.shells(tmp_path / "chromium-1255/chrome-linux64/chrome") == [own, older]
    assert chromium.shells(tmp_path / "nothing/chrome") == []


def test_what_a_headless_shell_has_not_is_tested_in_a_whole_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shell = program(tmp_path / "chromium-headless-shell")
    whole = program(tmp_path / "chromium")
    other = program(tmp_path / "elsewhere" / "chrome")
    monkeypatch.setenv("PATH", f"{tmp_path}")
    assert chromium.find_whole({}) == whole
    assert chromium.find_whole({"PHASEPRESS_CHROMIUM": shell}) == whole
    assert chromium.find_whole({"PHASEPRESS_CHROMIUM": other}) == other
