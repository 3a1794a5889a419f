"""What is about children is written nowhere that publishes it, and no name is in what may reach a forge."""

import os
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from phasepress.publishing.private import MARK

from tests.fuzz.judge import digests
from tests.hearing import squads

NAME = "kimberly-invented"


@pytest.fixture
def room(tmp_path: Path) -> Path:
    squads.tree(tmp_path)
    squads.write(tmp_path, {f"{NAME}.json": [squads.past(1, note="secret note")], "broken.json": "{"})
    return tmp_path


def run(room: Path, *words: str) -> Result:
    found = [str(room / "logs"), "--programmes", str(room / "programmes"), *words]
    return CliRunner().invoke(main, ["review", *found])


def git(folder: Path, *words: str) -> None:
    call = ["git", "-c", "user.name=x", "-c", "user.email=x@example.org", *words]
    subprocess.run(call, cwd=folder, check=True, capture_output=True)


def test_it_is_written_where_nothing_publishes_it(room: Path) -> None:
    done = run(room, "--to", str(room / "review.html"))
    assert done.exit_code == 0, done.output
    assert NAME in (room / "review.html").read_text()


@pytest.mark.parametrize("where", ["programmes/review.html", "programmes/media/review.html"])
def test_it_is_not_written_into_the_programme_files(room: Path, where: str) -> None:
    (room / "programmes/media").mkdir()
    refused(room, where, "the programme files")


def test_it_is_not_written_into_the_programme_files_through_a_link(room: Path) -> None:
    (room / "way").symlink_to(room / "programmes")
    refused(room, "way/review.html", "the programme files")


@pytest.mark.parametrize("where", ["site/review.html", "site/deep/er/review.json"])
def test_it_is_not_written_into_a_built_site(room: Path, where: str) -> None:
    (room / "site/deep/er").mkdir(parents=True)
    (room / "site" / MARK).touch()
    refused(room, where, "a built site")


def test_it_is_not_written_where_git_would_keep_it(room: Path) -> None:
    git(room, "init")
    refused(room, "review.html", "a repository")
    (room / "deep").mkdir()
    refused(room, "deep/review.html", "a repository")


def test_it_is_written_into_a_folder_that_git_keeps_out(room: Path) -> None:
    git(room, "init")
    (room / ".gitignore").write_text("/logs/\n/reviews/\n")
    (room / "reviews").mkdir()
    assert run(room, "--to", str(room / "reviews/review.html")).exit_code == 0


def test_it_is_not_written_over_a_file_that_git_keeps_already(room: Path) -> None:
    git(room, "init")
    (room / ".gitignore").write_text("/reviews/\n")
    (room / "reviews").mkdir()
    (room / "reviews/review.html").write_text("old")
    git(room, "add", "--force", "reviews/review.html")
    refused(room, "reviews/review.html", "a repository")


def test_what_poses_as_a_repository_is_taken_for_one(room: Path) -> None:
    (room / "posing/.git").mkdir(parents=True)
    refused(room, "posing/review.html", "a repository")


def test_settings_and_surroundings_of_a_repository_do_not_run_and_do_not_help(
    room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    git(room, "init")
    (room / "everything").write_text("*\n")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(room / "settings"))
    (room / "settings").write_text(f"[core]\n excludesFile = {room / 'everything'}\n")
    git(room, "config", "core.fsmonitor", f"touch {room / 'ran'}")
    refused(room, "review.html", "a repository")
    assert not (room / "ran").exists()


@pytest.mark.parametrize("where", ["absent/review.html", "logs"])
def test_a_place_that_cannot_be_is_told(room: Path, where: str) -> None:
    refused(room, where, "")


def refused(room: Path, where: str, words: str) -> None:
    before = digests(room)
    done = run(room, "--to", str(room / where))
    assert (done.exit_code, done.stdout) == (2, "")
    assert words in done.stderr
    assert NAME not in done.stderr
    assert digests(room) == before, "nothing was written"


def test_nothing_is_written_anywhere_else(room: Path) -> None:
    before = digests(room)
    for shape in ("text", "json", "html"):
        assert run(room, "--format", shape).exit_code == 0
    assert digests(room) == before


@pytest.mark.parametrize(
    "words",
    [
        [f"{NAME}.json"],
        ["--names", f"{NAME}.csv"],
        ["--since", f"{NAME}"],
        ["--to", f"absent/{NAME}.html"],
        ["--to", f"programmes/{NAME}.html"],
    ],
)
def test_no_error_names_a_file_or_a_folder_of_somebody(
    room: Path, words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(room)
    done = run(room, *words)
    assert done.exit_code == 2
    if words[0] != "--since":
        assert NAME not in done.output
        assert str(room) not in done.output


def test_a_file_that_cannot_be_opened_is_told_in_the_review_and_not_beside_it(room: Path) -> None:
    os.symlink(room / "nowhere", room / f"logs/{NAME}.gone.json")
    done = run(room)
    assert done.exit_code == 0
    assert done.stderr == ""


def test_the_gitignore_of_a_new_club_and_of_this_repository_keeps_logs_and_reviews_out() -> None:
    root = Path(__file__).resolve().parents[2]
    for path in (root / ".gitignore", root / "generator/authoring/club/gitignore"):
        assert {"/logs/", "/reviews/"} <= set(path.read_text().splitlines()), path
