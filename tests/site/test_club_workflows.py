"""A club's own repository, as `new club` writes it: its workflows are valid, and their steps do what they should.

The steps are run as the forges run them, in a clone, with the wheel of this checkout as the tool. pip installs it for
real, and finds what it needs of others in the environment of the tests, which has the same pins: nothing is downloaded.
What the same lines have made before, for the same wheel and pins, is put in place and not made again; where the lines
could be led astray, they are run.
"""

import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from phasepress.cli import main

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


_MAKES_AN_ENVIRONMENT = re.compile(r"-m venv \.venv|-m pip install")


class Runner:
    """A folder in which a forge runs the steps of a club's workflow; there is no index to download from.

    `made` has the environments that are kept, by the lines that made each; they fit a club in this same folder alone.
    """

    def __init__(self, folder: Path, tools: Path, made: dict[str, Path]) -> None:
        self.club = folder / "club"
        self.summary = folder / "summary.md"
        self._path = f"{tools}:{os.environ['PATH']}"
        self._made = made

    def step(self, command: str, *, afresh: bool = False, **more: str) -> Done:
        """One step; `afresh`: its environment is made by its own lines, whatever was made before."""
        making = [line for line in command.splitlines() if _MAKES_AN_ENVIRONMENT.search(line)]
        lines = "\n".join(making)
        if not making:
            return self._run(command, **more)
        if lines in self._made and not afresh:
            return self._run(_in_their_place(command, making, f"cp -a {self._made[lines]} .venv"), **more)
        done = self._run(command, **more)
        if done.returncode == 0 and lines not in self._made:
            kept = self._made[lines] = self.club.parent.parent / f"environment-{len(self._made)}"
            shutil.copytree(self.club / ".venv", kept, symlinks=True)
        return done

    def _run(self, command: str, **more: str) -> Done:
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

    def job(self, name: str, *, afresh: bool = False) -> "dict[str, Done]":
        """The steps of a job of the first forge; after one that failed those alone that ask for it."""
        done: dict[str, Done] = {}
        for step in loaded(self.club / WORKFLOWS["github"])["jobs"][name]["steps"]:
            failed = any(one.returncode for one in done.values())
            if "run" in step and (not failed or "if" in step):
                done[step["name"]] = self.step(step["run"], afresh=afresh, **step.get("env", {}))
        return done

    def script(self, name: str, *, afresh: bool = False) -> Done:
        """A job of the second forge, whose lines are one script, for the branch `spring`."""
        git(self.club, "update-ref", "refs/remotes/origin/main", "main")
        git(self.club, "switch", "--quiet", "--force", "--detach", "spring")
        jobs = loaded(self.club / WORKFLOWS["gitlab"])
        job = jobs.get(jobs[name].get("extends"), {}) | jobs[name]
        lines = [*_flat(job.get("before_script", [])), *job["script"]]
        commit = git(self.club, "rev-parse", "spring")
        target = {"CI_MERGE_REQUEST_TARGET_BRANCH_NAME": "main", "CI_COMMIT_SHA": commit}
        return self.step("\n".join(lines), afresh=afresh, **target, **job.get("variables", {}))

    def branch(self, name: str, change: Callable[[Path], None]) -> None:
        git(self.club, "switch", "--quiet", "--create", name, "main")
        change(self.club)
        git(self.club, "add", "--all", "--force")
        git(self.club, "commit", "--quiet", "-m", name.capitalize())
        git(self.club, "switch", "--quiet", "main")

    def merge(self, name: str) -> None:
        git(self.club, "switch", "--quiet", "--detach", "main")
        git(self.club, "merge", "--quiet", "--no-ff", "--no-edit", name)


def _in_their_place(command: str, lines: list[str], one: str) -> str:
    """The command with one line in the place of the first of these, and without the others."""
    kept = [one if line == lines[0] else line for line in command.splitlines()]
    return "\n".join(line for line in kept if line not in lines)


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
        done = CliRunner().invoke(main, words)
        assert done.exit_code == 0, done.output
        git(club, "init", "--quiet", "--initial-branch", "main")
        git(club, "add", "--all")
        git(club, "commit", "--quiet", "-m", "Begun")
        made[forge] = club
    return made


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the runner's folder of each test is, one after the other, and beside it the environments that are kept."""
    return tmp_path_factory.mktemp("runner-of-a-club")


@pytest.fixture(scope="module")
def made() -> dict[str, Path]:
    """The environments that the tests of this file have made, by the lines that made them."""
    return {}


Runners = Callable[[str], Runner]


@pytest.fixture(scope="module")
def runner(clubs: dict[str, Path], tools: Path, place: Path, made: dict[str, Path]) -> Runners:
    """`runner(forge)`: a folder with the club of that forge, and nothing of the tests before."""

    def new(forge: str) -> Runner:
        folder = place / "folder"
        shutil.rmtree(folder, ignore_errors=True)
        one = Runner(folder, tools, made)
        shutil.copytree(clubs[forge], one.club, symlinks=True)
        return one

    return new


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
    words = ["new", "edition", "first-strength", "--programmes", str(club / "programmes")]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output


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


def test_a_pull_request_is_checked_compared_and_built_by_the_wheel_and_nothing_of_it_used_but_its_programmes(
    runner: Runners,
) -> None:
    forge = runner("github")
    forge.branch("spring", _everything_else)
    forge.merge("spring")
    for name, done in forge.job("check", afresh=True).items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    summary = forge.summary.read_text()
    assert "first-strength 1.1 Beginning: new; against 1.0" in summary
    assert "Files outside programmes/ that are changed too: 5." in summary
    assert not (forge.club / "hook.py").exists()
    page = forge.club / "site/first-strength/1.1/first-day/starter/week-1/index.html"
    assert "https://fenn-juniors.club/strength/first-strength/1.1/first-day/" in page.read_text(
        encoding="utf-8"
    )
    where = "import phasepress; print(phasepress.__file__)"
    ran = forge.step(f".venv/bin/python -c '{where}'").stdout.strip()
    assert ran.startswith(f"{forge.club}/.venv/lib/"), "what ran is what the wheel brought"


def test_a_request_that_changes_what_is_published_is_stopped_at_its_line(
    runner: Runners,
) -> None:
    forge = runner("github")
    forge.branch("spring", _change_a_dose)
    forge.merge("spring")
    ran = forge.job("check")
    assert "outside programmes/" not in forge.summary.read_text()
    done = ran["Check, with every finding at its file and line"]
    assert done.returncode == 1
    assert re.search(rf"^::error file={FIRST},line=\d+,col=\d+,title=published::", done.stdout, re.MULTILINE)


def test_what_is_merged_is_built(runner: Runners) -> None:
    forge = runner("github")
    for name, done in forge.job("build").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert (forge.club / "site/first-strength/1.0/index.html").is_file()


def test_a_merge_request_is_checked_and_built(runner: Runners) -> None:
    forge = runner("gitlab")
    forge.branch("spring", _everything_else)
    done = forge.script("check", afresh=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert json.loads((forge.club / "findings.json").read_text()) == []
    assert "first-strength 1.1 Beginning: new; against 1.0" in (forge.club / "what-changes.md").read_text()
    done = forge.script("preview")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "preview/first-strength/1.1/index.html").is_file()


def test_what_is_merged_is_published_by_the_other_forge_too(runner: Runners) -> None:
    forge = runner("gitlab")
    git(forge.club, "branch", "spring")
    done = forge.script("pages")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "public/first-strength/1.0/index.html").is_file()


def test_a_wheel_that_is_another_than_its_hash_says_is_not_installed(runner: Runners) -> None:
    forge = runner("github")
    (found,) = (forge.club / "tool").glob("*.whl")
    found.write_bytes(found.read_bytes() + b"\0")
    # One pin of the many is enough to come to the wheel.
    pins = forge.club / "requirements.txt"
    pins.write_text(re.search(r"^\S+==(?:.*\\\n)+.*\n", pins.read_text(), re.MULTILINE)[0])
    done = forge.job("build", afresh=True)
    assert done["Get ready"].returncode != 0
    assert "hash" in done["Get ready"].stderr.lower()
    assert "Check and build" not in done
    assert not (forge.club / "site").exists()


READY = "python3.11 -m venv .venv && .venv/bin/python -m pip install --quiet --no-deps -r tool.txt"


def test_a_newer_tool_is_one_line_and_one_command(runner: Runners) -> None:
    """As the club's README says it: the line in tool.txt, and `phasepress pins`."""
    forge = runner("github")
    pinned = (forge.club / "requirements.txt").read_text()
    older = pinned.replace("segno==1.6.6", "segno==1.6.5")
    assert older != pinned
    (forge.club / "requirements.txt").write_text(older)
    assert forge.step(READY).returncode == 0
    done = forge.step(".venv/bin/phasepress pins && .venv/bin/phasepress check")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (forge.club / "requirements.txt").read_text() == pinned


def test_the_wheel_begins_a_club_of_its_own(runner: Runners) -> None:
    """Installed from a wheel it knows which one, brings the library along, and needs nothing of this checkout."""
    forge = runner("github")
    assert forge.step(READY).returncode == 0
    done = forge.step(
        ".venv/bin/phasepress new club ../other --name Other --address https://other-juniors.club/"
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
