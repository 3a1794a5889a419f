"""Merging publishes: the workflows of two forges are valid, may do little, and their steps do what they should.

The schemas are those of the forges' own formats as the public schema store keeps them, shipped with
check-jsonschema. The steps are run here in a clone of this repository, whose programmes are those of the small good
tree, with the environment that the forge gives. An interpreter that stands in for `python3.11` makes environments without the network: what they run is the checkout that
they are made in, and what they were told to install is written down.
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

import check_jsonschema
import pytest
from click.testing import CliRunner
from phasepress.cli import main
from ruamel.yaml import YAML

from .conftest import GOOD

ROOT = Path(__file__).resolve().parents[2]
GITHUB = ROOT / ".github/workflows/publish.yml"
TEST = ROOT / ".github/workflows/test.yml"
GITLAB = ROOT / ".gitlab-ci.yml"
SCHEMAS = {
    GITHUB: "vendor.github-workflows",
    TEST: "vendor.github-workflows",
    GITLAB: "vendor.gitlab-ci",
}
WHO = ("-c", "user.name=Coach", "-c", "user.email=coach@club.example", "-c", "commit.gpgsign=false")
BUILT = "home/1.2/index.html"
LOCK_TOOL = (ROOT / "lock-tool.txt").read_text()


def loaded(path: Path) -> dict[str, Any]:
    return YAML(typ="safe").load(path)


# --- what they are -------------------------------------------------------------------------------------


def fits_schema(path: Path, schema: str) -> bool:
    words = ["--builtin-schema", schema, str(path)]
    return CliRunner().invoke(check_jsonschema.main, words).exit_code == 0


@pytest.mark.parametrize("path", SCHEMAS, ids=lambda path: path.name)
def test_a_workflow_fits_the_schema_of_its_forge(path: Path, tmp_path: Path) -> None:
    assert fits_schema(path, SCHEMAS[path])
    wrong = tmp_path / path.name
    wrong.write_text(path.read_text().replace("paths:", "pathes:").replace("runs-on:", "runs-onn:"))
    assert not fits_schema(wrong, SCHEMAS[path]), "a slip is noticed"


def test_every_action_is_pinned_to_a_commit_with_its_version_beside_it() -> None:
    uses = re.findall(r"uses: *(.*)", GITHUB.read_text() + TEST.read_text())
    assert len(uses) >= 7
    for use in uses:
        assert re.fullmatch(r"actions/[a-z-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+", use), use


def test_the_image_of_the_other_forge_is_an_exact_one() -> None:
    images = re.findall(r"image: *(.*)", GITLAB.read_text())
    assert len(images) == 1
    assert re.fullmatch(r"python:3\.11\.\d+-[a-z]+(@sha256:[0-9a-f]{64})?", images[0])


@pytest.mark.parametrize(
    ("path", "allowed"),
    [(GITHUB, {"deploy": {"pages": "write", "id-token": "write"}}), (TEST, {})],
    ids=lambda one: one.name if isinstance(one, Path) else "",
)
def test_a_job_may_only_read_but_for_the_one_that_publishes(path: Path, allowed: dict[str, Any]) -> None:
    workflow = loaded(path)
    assert workflow["permissions"] == {"contents": "read"}
    more = {name: job["permissions"] for name, job in workflow["jobs"].items() if "permissions" in job}
    assert more == allowed
    steps = [step for job in workflow["jobs"].values() for step in job["steps"]]
    checkouts = [step for step in steps if "checkout" in step.get("uses", "")]
    assert checkouts
    assert all(step["with"]["persist-credentials"] is False for step in checkouts)


def test_everything_but_programmes_has_somebody_who_must_agree() -> None:
    """As both forges read it (from memory): the last line that fits decides, and without a name nobody has to."""
    lines = [line for line in (ROOT / "CODEOWNERS").read_text().splitlines() if line and line[0] != "#"]
    (everything, owner), programmes = lines[0].split(), lines[1].split()
    assert len(lines) == 2
    assert everything == "*"
    assert re.fullmatch(r"@[\w/-]+", owner)
    assert programmes == ["/programmes/"]
    for place in (".github", "docs", ".gitlab"):
        assert not (ROOT / place / "CODEOWNERS").exists(), "one of the forges would read that one instead"


def test_the_tool_that_writes_the_pins_is_pinned_itself() -> None:
    [pinned] = re.findall(
        r"^(\S+) \\$((?:\n    --hash=sha256:[0-9a-f]{64}(?: \\)?$)+)", LOCK_TOOL, re.MULTILINE
    )
    assert re.fullmatch(r"uv==\d+\.\d+\.\d+", pinned[0])
    dry = subprocess.run(
        ["make", "--dry-run", "--old-file", ".venv/.ready", "lock"],
        cwd=ROOT,
        env=surroundings(),
        capture_output=True,
        text=True,
        check=True,
    ).stdout.replace("\\\n", " ")
    installs = [line for line in dry.splitlines() if "pip" in line and " install " in line]
    assert len(installs) == 1
    assert "--require-hashes" in installs[0]
    assert installs[0].endswith("--requirement lock-tool.txt")


def test_only_what_is_merged_is_published() -> None:
    workflow = loaded(GITHUB)
    events = workflow["on"] if "on" in workflow else workflow[True]
    assert events == {"pull_request": None, "push": {"branches": ["main"]}}
    assert "push" in workflow["jobs"]["build"]["if"]
    assert workflow["jobs"]["deploy"]["needs"] == "build"
    pages = loaded(GITLAB)["pages"]
    assert pages["rules"] == [{"if": "$CI_COMMIT_BRANCH == $CI_DEFAULT_BRANCH"}]
    assert pages["artifacts"]["paths"] == ["public"]


@pytest.mark.parametrize("path", SCHEMAS, ids=lambda path: path.name)
def test_no_secret_is_asked_for_and_no_text_of_a_stranger_gets_into_a_command(path: Path) -> None:
    text = path.read_text()
    assert not re.search(r"secrets\.|TOKEN|PASSWORD|pull_request_target", text)
    assert _commands(path)
    for command in _commands(path):
        assert "${{" not in command, "a title or a branch name must not become part of a command"


def _commands(path: Path) -> list[str]:
    if path != GITLAB:
        return [s["run"] for job in loaded(path)["jobs"].values() for s in job["steps"] if "run" in s]
    jobs = [job for name, job in loaded(path).items() if name != "default" and isinstance(job, dict)]
    return [line for job in jobs for key in ("before_script", "script") for line in job.get(key, [])]


# --- what they do --------------------------------------------------------------------------------------


def git(where: Path, *words: str) -> str:
    return subprocess.run(
        ["git", *WHO, *words], cwd=where, capture_output=True, text=True, check=True
    ).stdout.strip()


# What `make` takes for an interpreter. `pip` writes down what it is to install; to install the checkout is to make a
# program that runs the generator of that checkout, as an editable install does.
INTERPRETER = """#!/bin/sh
case "$*" in
  "-m venv --clear .venv") mkdir -p .venv/bin && cp "$0" .venv/bin/python ;;
  *"-m pip "*"--requirement requirements.lock") cat requirements.lock >> "$INSTALLED" ;;
  *"-m pip "*"--editable .") cat > .venv/bin/phasepress <<'END' && chmod +x .venv/bin/phasepress ;;
#!{python}
import importlib.util
import sys
from pathlib import Path
code = Path(__file__).resolve().parents[2] / "generator"
spec = importlib.util.spec_from_file_location("phasepress", code / "__init__.py", submodule_search_locations=[str(code)])
sys.modules["phasepress"] = importlib.util.module_from_spec(spec)
spec.loader.exec_module(sys.modules["phasepress"])
from phasepress.cli import main
main()
END
  *"-m pip --version") ;;
  *) exec {python} "$@" ;;
esac
"""


@pytest.fixture(scope="module")
def repository(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """This repository as it stands, with a small club's programmes, committed on main. Read it, never write to it."""
    club = tmp_path_factory.mktemp("forge") / "club"
    listed = git(ROOT, "ls-files", "--cached", "--others", "--exclude-standard", "-z").split("\0")
    for name in filter(None, listed):
        if (ROOT / name).is_file() and not name.startswith(("tests/", "programmes/")):
            (club / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, club / name)
    shutil.copytree(GOOD, club / "programmes")
    settings = (club / "mkdocs.yml").read_text()
    (club / "mkdocs.yml").write_text(settings.replace("ravelmouth.example", "fennmouth.club"))
    git(club, "init", "--quiet", "--initial-branch", "main")
    git(club, "add", "--all")
    git(club, "commit", "--quiet", "-m", "Published")
    return club


class Forge:
    """A runner's folder: a checkout of the club's repository, with what stands around it.

    `bytecode` is where Python keeps what it compiled, so that each checkout in the same folder need not be compiled
    anew; Python compiles again what is of another size or second.
    """

    def __init__(self, repository: Path, folder: Path, bytecode: Path) -> None:
        self._bytecode = bytecode
        self.club = folder / "club"
        self.summary = folder / "summary.md"
        self.installed = folder / "installed.txt"
        self.tools = folder / "tools"
        self.tools.mkdir()
        python = self.tools / "python3.11"
        python.write_text(INTERPRETER.replace("{python}", sys.executable))
        python.chmod(0o755)
        shutil.copytree(repository, self.club, symlinks=True)

    def git(self, *words: str) -> str:
        return git(self.club, *words)

    def branch(self, name: str, change: Callable[[Path], None], start: str = "main") -> None:
        """A branch with a change, and main checked out again."""
        self.git("switch", "--quiet", "--create", name, start)
        change(self.club)
        self.git("add", "--all", "--force")
        self.git("commit", "--quiet", "-m", name.capitalize())
        self.git("switch", "--quiet", "main")

    def merge(self, name: str) -> None:
        """The checkout of a pull request: the merge of its branch, which no branch holds."""
        self.git("switch", "--quiet", "--detach", "main")
        self.git("merge", "--quiet", "--no-ff", "--no-edit", name)

    def step(self, command: str, **more: str) -> "subprocess.CompletedProcess[str]":
        """One step as the runners run it: bash that stops at the first failure."""
        env = surroundings() | {
            "PATH": f"{self.tools}:{os.environ['PATH']}",
            "GITHUB_STEP_SUMMARY": str(self.summary),
            "INSTALLED": str(self.installed),
            "PYTHONPYCACHEPREFIX": str(self._bytecode),
            **more,
        }
        return subprocess.run(
            ["bash", "-e", "-o", "pipefail", "-c", command],
            cwd=self.club,
            env=env,
            capture_output=True,
            text=True,
            check=False,
        )

    def job(self, name: str, *, to_the_end: bool = False) -> "dict[str, subprocess.CompletedProcess[str]]":
        """Runs the steps of a job of the first forge; after one that failed those alone that ask for it, or all."""
        done: dict[str, subprocess.CompletedProcess[str]] = {}
        for step in loaded(GITHUB)["jobs"][name]["steps"]:
            failed = any(one.returncode for one in done.values())
            if "run" in step and (to_the_end or not failed or "if" in step):
                done[step["name"]] = self.step(step["run"], **step.get("env", {}))
        return done

    def script(self, name: str) -> "subprocess.CompletedProcess[str]":
        """Runs a job of the second forge, whose lines are one script, for the branch `spring`."""
        self.git("update-ref", "refs/remotes/origin/main", "main")
        # Nothing may hang on what the runner's folder holds before.
        self.git("switch", "--quiet", "--force", "--detach", "spring")
        jobs = loaded(GITLAB)
        job = jobs.get(jobs[name].get("extends"), {}) | jobs[name]
        return self.step(
            "\n".join([*job.get("before_script", []), *job["script"]]),
            CI_MERGE_REQUEST_TARGET_BRANCH_NAME="main",
            CI_COMMIT_SHA=self.git("rev-parse", "spring"),
            **job.get("variables", {}),
        )


def surroundings() -> dict[str, str]:
    """Those of a runner; the tests themselves may run below `make`, which tells what it starts, and a machine may be
    set to keep no bytecode."""
    not_of_a_runner = ("MAKE", "MFLAGS", "PYTHONDONTWRITEBYTECODE")
    mine = {name: value for name, value in os.environ.items() if not name.startswith(not_of_a_runner)}
    return mine | {"NO_MKDOCS_2_WARNING": "1"}


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the runner's folder of each test is, one after the other, and the bytecode, which stays."""
    return tmp_path_factory.mktemp("runner")


@pytest.fixture
def forge(repository: Path, place: Path) -> Forge:
    """A runner's folder that holds nothing of the tests before."""
    folder = place / "folder"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    return Forge(repository, folder, place / "bytecode")


def _next_edition(club: Path, version: str = "1.1") -> None:
    words = ["new", "home", "--from", version, "--edition", "--programmes", str(club / "programmes")]
    done = CliRunner().invoke(main, words)
    assert done.exit_code == 0, done.output


def _change_a_dose(club: Path) -> None:
    path = club / "programmes/home/1.0.yaml"
    path.write_text(path.read_text().replace("hold: {starter: [20 s,", "hold: {starter: [30 s,"))


@pytest.fixture
def spring(forge: Forge) -> Forge:
    """A branch that has a second edition more."""
    forge.branch("spring", _next_edition)
    return forge


CHECK, CHANGES = "Check, with every finding at its file and line", "What a merge changes"
STOPPED = re.compile(
    r"^::error file=programmes/home/1\.0\.yaml,line=\d+,col=\d+,title=published::home 1\.0 is "
    r"published at HEAD and has another plan here; .*hold from 20 s to 30 s%0Aput it back",
    re.MULTILINE,
)


def test_a_pull_request_is_checked_compared_and_built(spring: Forge) -> None:
    spring.merge("spring")
    for name, done in spring.job("check").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert "home 1.2 Groundwork: new; against 1.1" in spring.summary.read_text()
    assert "outside programmes/" not in spring.summary.read_text()
    assert (spring.club / "site" / BUILT).is_file()
    assert spring.installed.read_text() == (ROOT / "requirements.lock").read_text(), (
        "what a build needs alone"
    )


def test_what_is_merged_is_built(spring: Forge) -> None:
    spring.merge("spring")
    for name, done in spring.job("build").items():
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert (spring.club / "site" / BUILT).is_file()


def test_a_merge_request_is_checked_as_it_will_be_once_merged_compared_and_built(forge: Forge) -> None:
    """What was published since its branch was begun is not missing from it."""
    forge.branch("spring", lambda club: _next_edition(club, "2.0"))
    forge.branch("more", _next_edition)
    forge.git("merge", "--quiet", "--no-ff", "--no-edit", "more")
    done = forge.script("check")
    assert done.returncode == 0, done.stdout + done.stderr
    assert json.loads((forge.club / "findings.json").read_text()) == []
    changes = (forge.club / "what-changes.md").read_text()
    assert "home 2.1 Load: new; against 2.0" in changes
    assert "gone" not in changes
    assert "home 1.2" not in changes
    assert forge.script("preview").returncode == 0
    assert (forge.club / "preview/home/2.1/index.html").is_file()
    assert (forge.club / "preview" / BUILT).is_file()


def test_a_merge_request_that_cannot_be_merged_is_told_so(forge: Forge) -> None:
    forge.branch("spring", lambda club: _mend(club, "aim: ", "aim: Still, "))
    forge.branch("more", lambda club: _mend(club, "aim: ", "aim: Soon, "))
    forge.git("merge", "--quiet", "--no-ff", "--no-edit", "more")
    done = forge.script("check")
    assert done.returncode == 1
    assert "Bring it up to date first" in done.stderr
    assert not forge.installed.exists(), "nothing is run"


def _mend(club: Path, old: str, new: str) -> None:
    path = club / "programmes/home/2.0.yaml"
    path.write_text(path.read_text().replace(old, new, 1))


def test_what_is_merged_is_built_where_the_other_forge_serves_it(spring: Forge) -> None:
    assert spring.script("pages").returncode == 0
    assert (spring.club / "public" / BUILT).is_file()


# --- a stranger's request ------------------------------------------------------------------------------------


def _attack(marker: Path) -> Callable[[Path], None]:
    """Changes all that checks and builds so that it leaves a marker, and a dose of a published version."""
    leave = f"open({str(marker)!r}, 'a').write(__name__)\n"

    def change(club: Path) -> None:
        for module in ("generator/__init__.py", "generator/cli/__init__.py", "generator/judging/run.py"):
            path = club / module
            future = "from __future__ import annotations\n"
            text = path.read_text()
            path.write_text(
                text.replace(future, future + leave, 1) if future in text else text + "\n" + leave
            )
        for name in ("hook.py", "sitecustomize.py", "usercustomize.py", "click.py"):
            (club / name).write_text(leave)
        settings = club / "mkdocs.yml"
        settings.write_text(f"{settings.read_text()}hooks: [hook.py]\n")
        makefile = club / "Makefile"
        makefile.write_text(f"X := $(shell touch {marker})\n{makefile.read_text()}")
        (club / "GNUmakefile").write_text(f"$(shell touch {marker})\ninclude Makefile\n")
        for name in ("requirements.lock", "requirements-dev.lock", "lock-tool.txt"):
            (club / name).write_text("a-strangers-package==6.6.6\n")
        (club / "pyproject.toml").write_text('[build-system]\nrequires = ["a-strangers-package"]\n')
        (club / ".venv/bin").mkdir(parents=True)
        for name in ("python", "phasepress"):
            (club / ".venv/bin" / name).write_text(f"#!/bin/sh\ntouch {marker}\n")
            (club / ".venv/bin" / name).chmod(0o755)
        (club / ".venv/.ready").touch()
        page = club / "theme_overrides/templates/light.html"
        page.write_text(f"{page.read_text()}<p>a stranger's page</p>")
        for name in ("findings.json", "what-changes.md", "site", "preview"):
            (club / name).symlink_to("generator/cli/__init__.py")
        _change_a_dose(club)

    return change


@pytest.fixture
def marker(tmp_path: Path) -> Path:
    return tmp_path / "a-stranger-was-here"


@pytest.fixture
def attacked(forge: Forge, marker: Path) -> Forge:
    forge.branch("spring", _attack(marker))
    assert not marker.exists()
    return forge


def test_the_strangers_changes_would_run_if_they_were_used(attacked: Forge, marker: Path) -> None:
    """Else the tests below could not fail. One after another, each on its own."""
    attacked.git("switch", "--quiet", "--detach", "spring")
    ways = {
        "make": "make -f Makefile help",
        "the other make": "make help",
        "the generator": "git restore --source=main -- Makefile requirements.lock pyproject.toml mkdocs.yml && "
        "rm -rf GNUmakefile .venv && make .venv/.ready && .venv/bin/phasepress check",
        "a hook": "git restore --source=main -- generator && rm site && .venv/bin/phasepress schema && "
        "git restore --source=main -- programmes && git restore --source=spring -- mkdocs.yml && "
        ".venv/bin/phasepress build",
    }
    for name, way in ways.items():
        done = attacked.step(way)
        assert marker.exists(), f"{name}: {done.stdout}{done.stderr}"
        marker.unlink()


def test_nothing_of_a_strangers_pull_request_is_run_and_its_change_of_what_is_published_is_stopped_at_its_line(
    attacked: Forge, marker: Path
) -> None:
    attacked.merge("spring")
    done = attacked.job("check", to_the_end=True)
    assert not marker.exists()
    assert [name for name, one in done.items() if one.returncode] == [CHECK]
    assert STOPPED.search(done[CHECK].stdout)
    assert attacked.installed.read_text() == (ROOT / "requirements.lock").read_text()
    summary = attacked.summary.read_text()
    assert "hold 20 s → 30 s in week 1" in summary
    changed = attacked.git("diff", "--name-only", "main", "spring", "--", ".", ":(exclude)programmes")
    assert f"Files outside programmes/ that are changed too: {len(changed.splitlines())}." in summary
    assert "stranger" not in (attacked.club / "site/index.html").read_text()


def test_nothing_of_a_strangers_merge_request_is_run_and_its_change_of_what_is_published_is_stopped_at_its_line(
    attacked: Forge, marker: Path
) -> None:
    done = attacked.script("check")
    assert done.returncode == 1
    assert "error published: home 1.0" in done.stdout
    [entry] = json.loads((attacked.club / "findings.json").read_text())
    assert (entry["check_name"], entry["severity"]) == ("published", "critical")
    assert entry["location"]["path"] == "programmes/home/1.0.yaml"
    assert re.fullmatch("[0-9a-f]{64}", entry["fingerprint"])
    assert "30 s" in (attacked.club / "what-changes.md").read_text()
    assert attacked.script("preview").returncode == 0
    assert "stranger" not in (attacked.club / "preview/index.html").read_text()
    assert not marker.exists()
    assert attacked.installed.read_text() == (ROOT / "requirements.lock").read_text() * 2
    assert attacked.git("status", "--porcelain", "--", "generator") == ""


def test_a_request_that_takes_all_programmes_away_is_stopped(forge: Forge) -> None:
    forge.branch("spring", lambda club: shutil.rmtree(club / "programmes"))
    forge.merge("spring")
    assert forge.job("check")[CHECK].returncode != 0
    forge.git("switch", "--quiet", "--force", "main")
    assert forge.script("check").returncode != 0
