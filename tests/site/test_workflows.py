"""Merging publishes: the workflows of two forges are valid, may do little, and their steps do what they should.

The schemas are those of the forges' own formats as the public schema store keeps them, shipped with
check-jsonschema. The steps are run here in a clone of this repository, with the environment that the forge gives.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

ROOT = Path(__file__).resolve().parents[2]
GITHUB = ROOT / ".github/workflows/publish.yml"
GITLAB = ROOT / ".gitlab-ci.yml"
SCHEMAS = {GITHUB: "vendor.github-workflows", GITLAB: "vendor.gitlab-ci"}
WHO = ("-c", "user.name=Coach", "-c", "user.email=coach@club.example", "-c", "commit.gpgsign=false")
BUILT = "home-strength/1.2/index.html"


def loaded(path: Path) -> dict[str, Any]:
    return YAML(typ="safe").load(path)


# --- what they are -------------------------------------------------------------------------------------


def fits_schema(path: Path, schema: str) -> bool:
    words = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", schema, str(path)]
    return subprocess.run(words, capture_output=True, check=False).returncode == 0


@pytest.mark.parametrize("path", SCHEMAS, ids=lambda path: path.name)
def test_a_workflow_fits_the_schema_of_its_forge(path: Path, tmp_path: Path) -> None:
    assert fits_schema(path, SCHEMAS[path])
    wrong = tmp_path / path.name
    wrong.write_text(path.read_text().replace("paths:", "pathes:").replace("steps:", "stepps:"))
    assert not fits_schema(wrong, SCHEMAS[path]), "a slip is noticed"


def test_every_action_is_pinned_to_a_commit_with_its_version_beside_it() -> None:
    uses = re.findall(r"uses: *(.*)", GITHUB.read_text())
    assert len(uses) >= 5
    for use in uses:
        assert re.fullmatch(r"actions/[a-z-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+", use), use


def test_a_job_may_only_read_but_for_the_one_that_publishes() -> None:
    workflow = loaded(GITHUB)
    assert workflow["permissions"] == {"contents": "read"}
    more = {name: job["permissions"] for name, job in workflow["jobs"].items() if "permissions" in job}
    assert more == {"deploy": {"pages": "write", "id-token": "write"}}
    steps = [step for job in workflow["jobs"].values() for step in job["steps"]]
    checkouts = [step for step in steps if "checkout" in step.get("uses", "")]
    assert all(step["with"]["persist-credentials"] is False for step in checkouts)


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
    for command in _commands(path):
        assert "${{" not in command, "a title or a branch name must not become part of a command"


def _commands(path: Path) -> list[str]:
    if path == GITHUB:
        return [s["run"] for job in loaded(path)["jobs"].values() for s in job["steps"] if "run" in s]
    return [line for job in loaded(path).values() if "script" in job for line in job["script"]]


# --- what they do --------------------------------------------------------------------------------------


def git(where: Path, *words: str) -> str:
    return subprocess.run(
        ["git", *WHO, *words], cwd=where, capture_output=True, text=True, check=True
    ).stdout.strip()


@pytest.fixture(scope="module")
def repository(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """This repository as it stands, committed on main; ready, as `make` would make it."""
    club = tmp_path_factory.mktemp("forge") / "club"
    listed = git(ROOT, "ls-files", "--cached", "--others", "--exclude-standard", "-z").split("\0")
    for name in filter(None, listed):
        if (ROOT / name).is_file() and not name.startswith("tests/"):
            (club / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, club / name)
    git(club, "init", "--quiet", "--initial-branch", "main")
    git(club, "add", "--all")
    git(club, "commit", "--quiet", "-m", "Published")
    (club / ".git/info/exclude").write_text(
        "/.venv\n/public\n/preview\n/summary.md\n/findings.json\n/what-changes.md\n"
    )
    _make_ready(club)
    return club


def _make_ready(club: Path) -> None:
    """An environment that is newer than what it is made from, so that `make` finds nothing to do."""
    for name in ("requirements.lock", "pyproject.toml"):
        os.utime(club / name, (0, 0))
    (club / ".venv/bin").mkdir(parents=True)
    (club / ".venv/.ready").touch()
    (club / ".venv/bin/phasepress").symlink_to(Path(sys.executable).parent / "phasepress")


@pytest.fixture
def merge(repository: Path, tmp_path: Path) -> Path:
    """A clone at the merge of a branch that has a second edition more."""
    return _merged(
        repository,
        tmp_path / "club",
        lambda club: _phasepress(club, "new", "home-strength", "--from", "1.1", "--edition"),
    )


@pytest.fixture
def frozen(repository: Path, tmp_path: Path) -> Path:
    """A clone at the merge of a branch that changes a dose of a published version."""
    return _merged(repository, tmp_path / "club", _change_a_dose)


def _change_a_dose(club: Path) -> None:
    path = club / "programmes/home-strength/1.0.yaml"
    path.write_text(path.read_text().replace("hold: {starter: [20 s,", "hold: {starter: [25 s,"))


def _phasepress(club: Path, *words: str) -> None:
    subprocess.run([club / ".venv/bin/phasepress", *words], cwd=club, check=True, capture_output=True)


def _merged(repository: Path, club: Path, change: Any) -> Path:
    shutil.copytree(repository, club, symlinks=True)
    git(club, "switch", "--quiet", "--create", "spring")
    change(club)
    git(club, "add", "--all")
    git(club, "commit", "--quiet", "-m", "Spring")
    git(club, "switch", "--quiet", "--detach", "main")
    git(club, "merge", "--quiet", "--no-ff", "--no-edit", "spring")
    return club


def step(club: Path, command: str, **surroundings: str) -> "subprocess.CompletedProcess[str]":
    """One step as the runners run it: bash that stops at the first failure."""
    env = {**os.environ, "NO_MKDOCS_2_WARNING": "1", **surroundings}
    return subprocess.run(
        ["bash", "-e", "-o", "pipefail", "-c", command],
        cwd=club,
        env=env,
        capture_output=True,
        text=True,
        check=False,
    )


def github_steps(job: str) -> dict[str, str]:
    return {s["name"]: s["run"] for s in loaded(GITHUB)["jobs"][job]["steps"] if "run" in s}


def test_a_pull_request_is_checked_compared_and_built(merge: Path) -> None:
    for name, command in github_steps("check").items():
        done = step(merge, command, GITHUB_STEP_SUMMARY=str(merge / "summary.md"))
        assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    assert "home-strength 1.2 Groundwork: new; against 1.1" in (merge / "summary.md").read_text()
    assert (merge / "site" / BUILT).is_file()


def test_a_pull_request_that_changes_what_is_published_is_stopped_at_file_and_line(frozen: Path) -> None:
    steps = github_steps("check")
    check = step(frozen, steps["Check, with every finding at its file and line"])
    assert check.returncode == 1
    assert re.search(
        r"^::error file=programmes/home-strength/1\.0\.yaml,line=\d+,col=\d+,title=published::home-strength 1\.0 is "
        r"published at HEAD\^1 and has another plan here; .*hold each side from 20 s to 25 s%0Aput it back",
        check.stdout,
        re.MULTILINE,
    )
    summary = step(frozen, steps["What a merge changes"], GITHUB_STEP_SUMMARY=str(frozen / "summary.md"))
    assert summary.returncode == 0
    assert "hold 20 s → 25 s each side in week 1" in (frozen / "summary.md").read_text()


def test_what_is_merged_is_built(merge: Path) -> None:
    for command in github_steps("build").values():
        assert step(merge, command).returncode == 0
    assert (merge / "site" / BUILT).is_file()


def gitlab_script(job: str) -> str:
    """The lines of a job are one script, which stops at the first failure."""
    return "\n".join(loaded(GITLAB)[job]["script"])


def test_a_merge_request_is_checked_compared_and_built(merge: Path) -> None:
    base = git(merge, "merge-base", "spring", "main")
    done = step(merge, gitlab_script("check"), CI_MERGE_REQUEST_DIFF_BASE_SHA=base)
    assert done.returncode == 0, done.stdout + done.stderr
    assert json.loads((merge / "findings.json").read_text()) == []
    assert "home-strength 1.2 Groundwork: new; against 1.1" in (merge / "what-changes.md").read_text()
    assert step(merge, gitlab_script("preview")).returncode == 0
    assert (merge / "preview" / BUILT).is_file()


def test_a_merge_request_that_changes_what_is_published_is_stopped(frozen: Path) -> None:
    base = git(frozen, "merge-base", "spring", "main")
    done = step(frozen, gitlab_script("check"), CI_MERGE_REQUEST_DIFF_BASE_SHA=base)
    assert done.returncode == 1
    assert "error published: home-strength 1.0" in done.stdout
    (entry,) = json.loads((frozen / "findings.json").read_text())
    assert (entry["check_name"], entry["severity"]) == ("published", "critical")
    assert entry["location"]["path"] == "programmes/home-strength/1.0.yaml"
    assert re.fullmatch("[0-9a-f]{64}", entry["fingerprint"])
    assert "25 s" in (frozen / "what-changes.md").read_text()


def test_what_is_merged_is_built_where_the_other_forge_serves_it(merge: Path) -> None:
    assert step(merge, gitlab_script("pages")).returncode == 0
    assert (merge / "public" / BUILT).is_file()
