"""A club's own repository, as `new club` writes it: its workflows are valid, and their steps do what they should.

The steps are run as the forges run them, in a clone, with the wheel of this checkout as the tool. pip installs it for
real, and finds what it needs of others in the environment of the tests, which has the same pins: nothing is downloaded.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.fixtures import wheels

from .conftest import ROOT
from .test_workflows import fits_schema, git, loaded, surroundings

WORKFLOWS = {"github": ".github/workflows/publish.yml", "gitlab": ".gitlab-ci.yml"}
SCHEMAS = {"github": "vendor.github-workflows", "gitlab": "vendor.gitlab-ci"}
FORGES = [*WORKFLOWS]
FIRST = "programmes/first-strength/1.0.yaml"
Done = "subprocess.CompletedProcess[str]"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return wheels.wheel(tmp_path_factory)


@pytest.fixture(scope="module")
def tools(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What stands first in PATH on the runner."""
    folder = tmp_path_factory.mktemp("runner")
    tools = folder / "tools"
    tools.mkdir()
    wheels.interpreter(tools, wheels.third_party(folder / "of-others"))
    return tools


class Runner:
    """A folder in which a forge runs the steps of a club's workflow; there is no index to download from."""

    def __init__(self, folder: Path, tools: Path) -> None:
        self.club = folder / "club"
        self.summary = folder / "summary.md"
        self._path = f"{tools}:{os.environ['PATH']}"

    def step(self, command: str, **more: str) -> Done:
        env = surroundings() | {
            "PATH": self._path,
            "PIP_NO_INDEX": "1",
            "PIP_DISABLE_PIP_VERSION_CHECK": "1",
            "GITHUB_STEP_SUMMARY": str(self.summary),
            **more,
        }
        env.pop("PYTHONPATH", None)
        words = ["bash", "-e", "-o", "pipefail", "-c", command]
        return subprocess.run(words, cwd=self.club, env=env, capture_output=True, text=True, check=False)

    def job(self, name: str) -> "dict[str, Done]":
        """All steps of a job of the first forge, also after one that failed."""
        steps = [
            one for one in loaded(self.club / WORKFLOWS["github"])["jobs"][name]["steps"] if "run" in one
        ]
        return {one["name"]: self.step(one["run"], **one.get("env", {})) for one in steps}

    def script(self, name: str) -> Done:
        """A job of the second forge, whose lines are one script, for the branch `spring`."""
        git(self.club, "update-ref", "refs/remotes/origin/main", "main")
        git(self.club, "switch", "--quiet", "--force", "--detach", "spring")
        jobs = loaded(self.club / WORKFLOWS["gitlab"])
        job = jobs.get(jobs[name].get("extends"), {}) | jobs[name]
        lines = [*_flat(job.get("before_script", [])), *job["script"]]
        commit = git(self.club, "rev-parse", "spring")
        target = {"CI_MERGE_REQUEST_TARGET_BRANCH_NAME": "main", "CI_COMMIT_SHA": commit}
        return self.step("\n".join(lines), **target, **job.get("variables", {}))

    def branch(self, name: str, change: Callable[[Path], None]) -> None:
        git(self.club, "switch", "--quiet", "--create", name, "main")
        change(self.club)
        git(self.club, "add", "--all", "--force")
        git(self.club, "commit", "--quiet", "-m", name.capitalize())
        git(self.club, "switch", "--quiet", "main")

    def merge(self, name: str) -> None:
        git(self.club, "switch", "--quiet", "--detach", "main")
        git(self.club, "merge", "--quiet", "--no-ff", "--no-edit", name)


def _flat(lines: list[Any]) -> list[str]:
    """A list within a list of commands is taken as its commands, as the forge does (from memory)."""
    return [line for one in lines for line in (_flat(one) if isinstance(one, list) else [one])]


@pytest.fixture(scope="module")
def clubs(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A club for each forge, committed on main."""
    made = {}
    for forge in FORGES:
        club = tmp_path_factory.mktemp(forge) / "club"
        words = ["new", "club", str(club), "--name", "Fenn Juniors", "--forge", forge, "--tool", str(wheel)]
        words += ["--address", "https://fenn-juniors.club/strength/"]
        subprocess.run(
            [sys.executable, "-m", "phasepress", *words], cwd=ROOT, check=True, capture_output=True
        )
        git(club, "init", "--quiet", "--initial-branch", "main")
        git(club, "add", "--all")
        git(club, "commit", "--quiet", "-m", "Begun")
        made[forge] = club
    return made


@pytest.fixture
def runner(clubs: dict[str, Path], tools: Path, tmp_path: Path) -> Callable[[str], Runner]:
    def made(forge: str) -> Runner:
        one = Runner(tmp_path, tools)
        shutil.copytree(clubs[forge], one.club, symlinks=True)
        return one

    return made


@pytest.mark.parametrize("forge", FORGES)
def test_a_workflow_fits_the_schema_of_its_forge(clubs: dict[str, Path], forge: str) -> None:
    assert fits_schema(clubs[forge] / WORKFLOWS[forge], SCHEMAS[forge])


@pytest.mark.parametrize("forge", FORGES)
def test_a_workflow_trusts_what_ours_trusts_and_no_more(clubs: dict[str, Path], forge: str) -> None:
    """Actions, image, rights and events are those of this repository's own, which test_workflows looks at."""
    own, theirs = (place / WORKFLOWS[forge] for place in (ROOT, clubs[forge]))
    uses = r"(?:uses|image): *(.*)"
    assert set(re.findall(uses, theirs.read_text())) == set(re.findall(uses, own.read_text())) != set()
    assert not re.search(r"secrets\.|TOKEN|PASSWORD|pull_request_target", theirs.read_text())
    one, other = loaded(own), loaded(theirs)
    for key in ("on", "permissions", "workflow", True):
        assert one.get(key) == other.get(key)
    if forge == "github":
        rights = [
            {name: job.get("permissions") for name, job in each["jobs"].items()} for each in (one, other)
        ]
        assert rights[0] == rights[1]


def test_every_forge_has_one_who_must_agree_to_all_but_programmes(clubs: dict[str, Path]) -> None:
    for club in clubs.values():
        lines = [
            line.split() for line in (club / "CODEOWNERS").read_text().splitlines() if line and line[0] != "#"
        ]
        assert lines == [["*", "@your-club/keepers"], ["/programmes/"]]


def _next_edition(club: Path) -> None:
    words = [sys.executable, "-m", "phasepress", "new", "edition", "first-strength"]
    subprocess.run(words, cwd=club, check=True, capture_output=True, env=surroundings())


def _change_a_dose(club: Path) -> None:
    text = (club / FIRST).read_text()
    (club / FIRST).write_text(text.replace("reps: 8", "reps: 9", 1))


def _everything_else(club: Path) -> None:
    """A request that would have its own way with the tool: settings, pins, workflow, and the wheel itself."""
    _next_edition(club)
    (club / "mkdocs.yml").write_text("site_name: taken\nhooks: [hook.py]\nplugins: [phasepress]\n")
    (club / "hook.py").write_text("open('/taken', 'w')\n")
    (club / "tool.txt").write_text("./evil-1.0-py3-none-any.whl\n")
    (club / "requirements.txt").write_text("evil==1.0\n")
    shutil.rmtree(club / "tool")


def test_a_pull_request_is_checked_compared_and_built_by_the_wheel(runner: Callable[[str], Runner]) -> None:
    forge = runner("github")
    forge.branch("spring", _next_edition)
    forge.merge("spring")
    for name, done in forge.job("check").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert "first-strength 1.1 Beginning: new; against 1.0" in forge.summary.read_text()
    page = forge.club / "site/first-strength/1.1/first-day/starter/week-1/index.html"
    assert "https://fenn-juniors.club/strength/first-strength/1.1/first-day/" in page.read_text(
        encoding="utf-8"
    )
    where = "import phasepress; print(phasepress.__file__)"
    ran = forge.step(f".venv/bin/python -c '{where}'").stdout.strip()
    assert ran.startswith(f"{forge.club}/.venv/lib/"), "what ran is what the wheel brought"


def test_of_a_request_nothing_is_used_but_its_programmes(runner: Callable[[str], Runner]) -> None:
    forge = runner("github")
    forge.branch("spring", _everything_else)
    forge.merge("spring")
    for name, done in forge.job("check").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert "Files outside programmes/ that are changed too: 5." in forge.summary.read_text()
    assert not (forge.club / "hook.py").exists()
    assert (forge.club / "site/first-strength/1.1/index.html").is_file()


def test_a_request_that_changes_what_is_published_is_stopped_at_its_line(
    runner: Callable[[str], Runner],
) -> None:
    forge = runner("github")
    forge.branch("spring", _change_a_dose)
    forge.merge("spring")
    done = forge.job("check")["Check, with every finding at its file and line"]
    assert done.returncode == 1
    assert re.search(rf"^::error file={FIRST},line=\d+,col=\d+,title=published::", done.stdout, re.MULTILINE)


def test_what_is_merged_is_built(runner: Callable[[str], Runner]) -> None:
    forge = runner("github")
    for name, done in forge.job("build").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert (forge.club / "site/first-strength/1.0/index.html").is_file()


def test_a_merge_request_is_checked_and_built(runner: Callable[[str], Runner]) -> None:
    forge = runner("gitlab")
    forge.branch("spring", _everything_else)
    done = forge.script("check")
    assert done.returncode == 0, done.stdout + done.stderr
    assert json.loads((forge.club / "findings.json").read_text()) == []
    assert "first-strength 1.1 Beginning: new; against 1.0" in (forge.club / "what-changes.md").read_text()
    done = forge.script("preview")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "preview/first-strength/1.1/index.html").is_file()


def test_what_is_merged_is_published_by_the_other_forge_too(runner: Callable[[str], Runner]) -> None:
    forge = runner("gitlab")
    git(forge.club, "branch", "spring")
    done = forge.script("pages")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "public/first-strength/1.0/index.html").is_file()


def test_a_wheel_that_is_another_than_its_hash_says_is_not_installed(runner: Callable[[str], Runner]) -> None:
    forge = runner("github")
    (found,) = (forge.club / "tool").glob("*.whl")
    found.write_bytes(found.read_bytes() + b"\0")
    done = forge.job("build")
    assert done["Get ready"].returncode != 0
    assert "hash" in done["Get ready"].stderr.lower()
    assert not (forge.club / "site").exists()


def test_a_newer_tool_is_one_line_and_one_command(runner: Callable[[str], Runner]) -> None:
    """As the club's README says it: the line in tool.txt, and `phasepress pins`."""
    forge = runner("github")
    pinned = (forge.club / "requirements.txt").read_text()
    older = pinned.replace("segno==1.6.6", "segno==1.6.5")
    assert older != pinned
    (forge.club / "requirements.txt").write_text(older)
    ready = "python3.11 -m venv .venv && .venv/bin/python -m pip install --quiet --no-deps -r tool.txt"
    done = forge.step(f"{ready} && .venv/bin/phasepress pins && .venv/bin/phasepress check")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "requirements.txt").read_text() == pinned


def test_the_wheel_begins_a_club_of_its_own(runner: Callable[[str], Runner]) -> None:
    """Installed from a wheel it knows which one, brings the library along, and needs nothing of this checkout."""
    forge = runner("github")
    ready = "python3.11 -m venv .venv && .venv/bin/python -m pip install --quiet --no-deps -r tool.txt"
    done = forge.step(
        f"{ready} && .venv/bin/phasepress new club ../other --name Other --address https://other-juniors.club/"
    )
    assert done.returncode == 0, done.stdout + done.stderr
    other = forge.club.parent / "other"
    assert (other / "tool.txt").read_text() == (forge.club / "tool.txt").read_text()
    ours = {path.name for path in (ROOT / "programmes/exercises").iterdir()}
    assert {path.name for path in (other / "programmes/exercises").iterdir()} == ours
    assert (
        forge.step("cd ../other && ../club/.venv/bin/phasepress check").stdout
        == "no errors, no warnings, no notes\n"
    )
