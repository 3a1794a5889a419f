"""What others propose, and what lies in the checkout, neither runs anything, nor hides a change, nor leaves its place."""

import os
import shutil
import subprocess
from itertools import product
from pathlib import Path

import pytest
from click.testing import CliRunner
from phasepress.cli import main

from tests.computing.test_fingerprint import VERSION
from tests.fixtures import clones, trees
from tests.samples import every, in_turn

OTHER_PLAN = "home 1.0 is published at main and has another plan here"


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    return clones.clone_of_good(tmp_path / "club")


@pytest.fixture
def trap(tmp_path: Path) -> Path:
    """A file that exists only if a command was run."""
    return tmp_path / "was-run"


def with_another_dose(tree: Path) -> None:
    trees.change(tree / VERSION, "reps: 10,", "reps: 12,")


def raw_object(where: Path, kind: str, content: bytes) -> str:
    """Write an object as it is, though git itself would never make it."""
    words = ["git", "hash-object", "-w", "-t", kind, "--literally", "--stdin"]
    return (
        subprocess.run(words, cwd=where, input=content, capture_output=True, check=True)
        .stdout.decode()
        .strip()
    )


def raw_tree(where: Path, *entries: tuple[str, bytes, str]) -> str:
    """A folder of mode, name and object, in any order and with any name."""
    lines = [mode.encode() + b" " + name + b"\0" + bytes.fromhex(sha) for mode, name, sha in entries]
    return raw_object(where, "tree", b"".join(lines))


def main_becomes(club: Path, programmes: str) -> None:
    """Put a folder of programme files, by its object, into the newest commit of `main`."""
    top = raw_tree(club, ("40000", b"programmes", programmes))
    commit = clones.git(club, "commit-tree", "-m", "x", top).strip()
    clones.git(club, "update-ref", "refs/heads/main", commit)


def entries_of(club: Path) -> list[tuple[str, bytes, str]]:
    """The folder of programme files as it is committed."""
    found = []
    for line in clones.git(club, "ls-tree", "HEAD:programmes").splitlines():
        about, name = line.split("\t")
        mode, _, sha = about.split()
        found.append((mode.lstrip("0"), name.encode(), sha))
    return found


# --- nothing runs --------------------------------------------------------------------------------------


def a_bare_repository(to: Path, trap: Path) -> None:
    """Files that git takes for a repository, whose settings fetch what is missing by a command."""
    for name in ("objects/info", "objects/pack", "refs/heads"):
        (to / name).mkdir(parents=True)
        (to / name / "keep").touch()
    (to / "HEAD").write_text("ref: refs/heads/main\n")
    (to / "refs/heads/main").write_text("1" * 40 + "\n")
    (to / "config").write_text(running(trap, "."))


def running(trap: Path, top: str) -> str:
    """Settings of a repository that run a command whenever git heeds any of them."""
    command = f"touch {trap}"
    return f"""
[core]
	repositoryformatversion = 1
	bare = false
	worktree = {top}
	fsmonitor = {command}
	sshCommand = {command}
	gitProxy = {command}
	pager = {command}
	askPass = {command}
	editor = {command}
	hooksPath = {trap.parent}/hooks
	alternateRefsCommand = {command}
[extensions]
	partialClone = origin
[remote "origin"]
	promisor = true
	url = ext::{command}
	fetch = +refs/heads/*:refs/remotes/origin/*
	uploadpack = {command}
[protocol]
	allow = always
[protocol "ext"]
	allow = always
[credential]
	helper = !{command}
[diff]
	external = {command}
[alias]
	rev-parse = !{command}
	cat-file = !{command}
	ls-tree = !{command}
[pager]
	rev-parse = {command}
	cat-file = {command}
	ls-tree = {command}
"""


@pytest.mark.parametrize("command", ["check", "report"])
def test_a_folder_that_poses_as_a_repository_runs_nothing_and_hides_nothing(
    command: str, tree: Path, trap: Path
) -> None:
    with_another_dose(tree)
    a_bare_repository(tree, trap)
    result = trees.run(tree, command, "--base", "main")
    assert not trap.exists()
    assert result.exit_code == 1, result.output
    assert "programmes/config: " in result.output.replace(":1:1", "")
    if command == "check":
        assert OTHER_PLAN in result.output


def test_a_link_into_a_folder_that_poses_as_a_repository_runs_nothing(tree: Path, trap: Path) -> None:
    with_another_dose(tree)
    data = tree.parent / ".data"
    a_bare_repository(data, trap)
    tree.rename(data / "programmes")
    tree.symlink_to(".data/programmes")
    result = clones.check(tree)
    assert not trap.exists()
    assert result.exit_code == 1, result.output
    assert "programmes:1:1: error reference: a link" in result.output
    assert "home 1.0 is published at main and is gone here" in result.output


def test_the_settings_of_the_checkout_run_nothing_either(tree: Path, trap: Path) -> None:
    """One object is missing, so that git would fetch it."""
    hooks = trap.parent / "hooks"
    hooks.mkdir()
    for name in ("post-index-change", "reference-transaction", "post-checkout"):
        (hooks / name).write_text(f"#!/bin/sh\ntouch {trap}\n")
        (hooks / name).chmod(0o755)
    missing = clones.git(tree.parent, "rev-parse", f"main:programmes/{VERSION}").strip()
    (tree.parent / ".git/config").write_text(running(trap, ".."))
    assert clones.check(tree).exit_code == 0
    (tree.parent / ".git/objects" / missing[:2] / missing[2:]).unlink()
    result = clones.check(tree)
    assert not trap.exists()
    assert result.exit_code == 2, result.output
    assert "is not in this clone" in result.output


def test_a_program_called_git_in_the_checkout_is_not_run(
    tree: Path, trap: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for folder in (tree, tree.parent):
        (folder / "git").write_text(f"#!/bin/sh\ntouch {trap}\n")
        (folder / "git").chmod(0o755)
    monkeypatch.setenv("PATH", f".:programmes::{os.environ['PATH']}")
    clones.check(tree)
    assert not trap.exists()


def test_a_partial_clone_is_never_filled_up_over_the_network(tree: Path, tmp_path: Path) -> None:
    with_another_dose(tree)
    clones.committed(tree.parent)
    clones.git(tree.parent, "config", "uploadpack.allowFilter", "true")
    clones.git(tmp_path, "clone", "--quiet", "--filter=blob:none", f"file://{tree.parent}", "partial")
    partial = tmp_path / "partial" / "programmes"
    result = clones.check(partial, "HEAD~1")
    assert result.exit_code == 2, result.output
    assert "a file of the other commit is not in this clone; fetch it: git fetch --refetch" in result.output
    assert clones.check(partial, "HEAD").exit_code == 0


# --- nothing hides -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "ref",
    ["^main", "main..main", "main...main", "..main", "main^!", "main^@", "main^-", "-x", "--all", "", "main\n", "main\nHEAD", "main\0", " ", ":/A step", "main:programmes", "main^{tree}", "main^{/A}", "@{", "é\udcff"],
)  # fmt: skip
def test_what_names_no_single_commit_is_wrong_usage(ref: str, tree: Path) -> None:
    with_another_dose(tree)
    result = trees.run(tree, "check", f"--base={ref}")
    assert result.exit_code == 2, result.output
    assert result.output.count("\n") == 1


def test_a_folder_that_is_moved_behind_a_link_hides_nothing(tree: Path) -> None:
    with_another_dose(tree)
    (tree.parent / "data").mkdir()
    clones.git(tree.parent, "mv", "programmes", "data/programmes")
    tree.symlink_to("data/programmes")
    clones.git(tree.parent, "switch", "--quiet", "--create", "proposal")
    clones.committed(tree.parent)
    result = clones.check(tree)
    assert result.exit_code == 1, result.output
    assert "error published" in result.output


def test_a_folder_above_that_is_moved_behind_a_link_hides_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tree = clones.clone_of_good(tmp_path / "club", "juniors")
    with_another_dose(tree)
    (tmp_path / "club/juniors").rename(tmp_path / "club/data")
    (tmp_path / "club/juniors").symlink_to("data")
    monkeypatch.chdir(tmp_path / "club")
    result = CliRunner().invoke(main, ["check", "--base", "main", "--programmes", "juniors/programmes"])
    assert result.exit_code == 2, result.output
    assert "juniors is a link; name the folder itself" in result.output
    assert "error published: main has home 1.0" in clones.check(tmp_path / "club/data/programmes").output


@pytest.mark.parametrize("name", ["plans", "Programmes", "data/programmes"])
def test_a_folder_that_has_another_name_here_hides_nothing(name: str, tree: Path) -> None:
    other = tree.parent / name
    other.parent.mkdir(exist_ok=True)
    tree.rename(other)
    result = clones.check(other)
    assert result.exit_code == 1, result.output
    assert (
        "error published: main has home 1.0, home 1.1 and home 2.0 in programmes, which are gone here"
        in result.output
    )


@pytest.mark.parametrize("settings", [True, False], ids=["settings beside it", "no settings"])
def test_the_files_of_a_submodule_do_not_say_what_was_published(
    settings: bool, tree: Path, tmp_path: Path
) -> None:
    """The proposal makes the folder a repository of its own, with a `main` of its own."""
    other = tmp_path / "other"
    shutil.copytree(tree, other)
    with_another_dose(other)
    clones.git(other, "init", "--quiet", "--initial-branch", "main")
    clones.committed(other)
    club = tree.parent
    clones.git(club, "switch", "--quiet", "--create", "proposal")
    clones.git(club, "rm", "-r", "--quiet", "programmes")
    shutil.rmtree(tree, ignore_errors=True)
    clones.git(
        club, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(other), "programmes"
    )
    clones.committed(club)
    if settings:
        (club / "mkdocs.yml").touch()
    result = clones.check(tree)
    if settings:
        assert result.exit_code == 1, result.output
        assert OTHER_PLAN in result.output
    else:
        assert result.exit_code == 2, result.output
        assert "programmes is a repository of its own here, and a folder of" in result.output


def test_a_folder_above_that_became_a_submodule_is_told(tmp_path: Path) -> None:
    tree = clones.clone_of_good(tmp_path / "club", "juniors")
    club = tmp_path / "club"
    other = tmp_path / "other"
    shutil.copytree(club / "juniors", other)
    with_another_dose(other / "programmes")
    (other / "mkdocs.yml").touch()
    clones.git(other, "init", "--quiet", "--initial-branch", "main")
    clones.committed(other)
    clones.git(club, "rm", "-r", "--quiet", "juniors")
    shutil.rmtree(club / "juniors", ignore_errors=True)
    clones.git(club, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(other), "juniors")
    result = clones.check(tree)
    assert result.exit_code == 2, result.output
    assert "juniors is a repository of its own here, and a folder of" in result.output


def test_a_tag_with_the_name_of_the_branch_is_told(tree: Path) -> None:
    with_another_dose(tree)
    clones.git(tree.parent, "switch", "--quiet", "--create", "proposal")
    clones.committed(tree.parent)
    clones.git(tree.parent, "tag", "main")
    for ref in ("main", "main~0"):
        result = clones.check(tree, ref)
        assert result.exit_code == 2, result.output
        assert "'main' means more than one commit here: refs/tags/main and refs/heads/main" in result.output
    assert OTHER_PLAN.replace("main", "refs/heads/main") in clones.check(tree, "refs/heads/main").output


def test_what_git_is_told_to_read_instead_of_a_commit_is_not_read(tree: Path) -> None:
    club = tree.parent
    was = clones.git(club, "rev-parse", "HEAD").strip()
    with_another_dose(tree)
    clones.git(club, "switch", "--quiet", "--create", "proposal")
    clones.committed(club)
    clones.git(club, "replace", was, "HEAD")
    assert OTHER_PLAN in clones.check(tree).output


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may give files away")
def test_a_checkout_that_belongs_to_somebody_else_is_compared_all_the_same(tree: Path) -> None:
    with_another_dose(tree)
    for path in (tree.parent, *tree.parent.rglob("*")):
        os.chown(path, 12345, 12345)
    result = clones.check(tree)
    assert OTHER_PLAN in result.output


def test_when_git_fails_it_is_not_said_that_nothing_is_published(tree: Path) -> None:
    folder = clones.git(tree.parent, "rev-parse", "main:programmes").strip()
    (tree.parent / ".git/objects" / folder[:2] / folder[2:]).unlink()
    result = clones.check(tree)
    assert result.exit_code == 2, result.output
    assert "has no folder" not in result.output


# --- nothing of the base leaves its place ----------------------------------------------------------------


def everything(folder: Path) -> set[Path]:
    return {path for path in folder.rglob("*") if ".git" not in path.parts}


NAMES = [
    b"..",
    b".",
    b".git",
    b".GIT",
    b".Git",
    b"git~1",
    b"../../x.yaml",
    b"/x.yaml",
    b"a\\b.yaml",
    b"..\\x.yaml",
    b".g\xe2\x80\x8cit",
]


@pytest.mark.parametrize(
    ("name", "where"),
    [
        (name, where)
        for turn, name in enumerate(NAMES)
        for where in in_turn(["at the top", "in a folder"], turn, few=1)
    ],
)
def test_a_name_that_leads_out_of_the_folder_is_told_and_not_followed(
    name: bytes, where: str, tree: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    club = tree.parent
    scratch = tmp_path / "scratch" / "below"
    scratch.mkdir(parents=True)
    monkeypatch.setenv("TMPDIR", str(scratch))
    monkeypatch.setattr("tempfile.tempdir", str(scratch))
    blob = raw_object(club, "blob", b"escaped")
    folder = raw_tree(club, ("100644", b"escaped.yaml", blob))
    odd = ("40000", name, folder) if b"x.yaml" not in name else ("100644", name, blob)
    if where == "in a folder":
        odd = ("40000", b"odd", raw_tree(club, odd))
    main_becomes(club, raw_tree(club, *entries_of(club), odd))
    before = everything(tmp_path)
    result = clones.check(tree)
    assert everything(tmp_path) == before
    assert result.exit_code == 2, result.output
    assert "which no git checks out" in result.output


def test_a_name_that_stands_twice_is_told(tree: Path) -> None:
    """The second could hide the first."""
    club = tree.parent
    entries = entries_of(club)
    main_becomes(club, raw_tree(club, *entries, entries[-1]))
    result = clones.check(tree)
    assert result.exit_code == 2, result.output
    assert "twice" in result.output


def test_a_base_with_too_many_files_is_told(tree: Path) -> None:
    """A million names in seven objects."""
    club = tree.parent
    folder = raw_object(club, "blob", b"x")
    mode = "100644"
    for _ in range(6):
        folder = raw_tree(club, *((mode, b"%d" % n, folder) for n in range(10)))
        mode = "40000"
    main_becomes(club, raw_tree(club, *entries_of(club), ("40000", b".many", folder)))
    result = clones.check(tree)
    assert result.exit_code == 2, result.output
    assert "more than 100,000 names" in result.output


def test_a_base_with_too_much_text_is_told_before_it_is_read(tree: Path) -> None:
    """Eighty times the same megabyte."""
    club = tree.parent
    blob = raw_object(club, "blob", b"#" * 999_999)
    many = raw_tree(club, *(("100644", b"%d.0.yaml" % n, blob) for n in range(1, 81)))
    main_becomes(club, raw_tree(club, *entries_of(club), ("40000", b"many", many)))
    result = clones.check(tree)
    assert result.exit_code == 2, result.output
    assert "more than 64,000,000 bytes" in result.output


def test_a_file_of_the_base_that_is_too_long_is_not_read(tree: Path) -> None:
    club = tree.parent
    (tree / "home/9.0.yaml").write_bytes(b"#" * 70_000_000)
    clones.committed(club)
    (tree / "home/9.0.yaml").unlink()
    result = clones.check(tree)
    assert result.exit_code == 0, result.output
    assert "warning published: 9.0 cannot be read at main and was not compared" in result.output


# --- links in the tree -----------------------------------------------------------------------------------

SECRET = "root:x:0:0:a very secret line"


@pytest.mark.parametrize(
    "name",
    ["club.yaml", "exercises", "exercises/wall-sit.yaml", "routines", "home", "home/programme.yaml", "home/1.0.yaml", "away", "notes.txt"],
)  # fmt: skip
@pytest.mark.parametrize(
    ("command", "target"),
    every(
        list(
            product(("check", "report"), ("a file outside", "a folder outside", "a file inside", "nothing"))
        ),
        few=[
            ("check", "a file outside"),
            ("check", "nothing"),
            ("report", "a folder outside"),
            ("report", "a file inside"),
        ],
    ),
)
def test_a_link_is_an_error_that_quotes_nothing_of_its_target(
    command: str, name: str, target: str, tmp_path: Path
) -> None:
    tree = trees.copy_of_good(tmp_path)
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret-name.yaml").write_text(SECRET)
    path = tree / name
    if path.is_dir():
        shutil.rmtree(path)
    path.unlink(missing_ok=True)
    targets = {
        "a file outside": outside / "secret-name.yaml",
        "a folder outside": outside,
        "a file inside": tree / "exercises/march.yaml",
    }
    path.symlink_to(targets.get(target, tmp_path / "secret-name"))
    result = trees.run(tree, command)
    assert result.exit_code == 1, result.output
    assert (
        f"programmes/{name}:1:1: error reference: a link, where a file or folder itself is to be"
        in result.output
    )
    assert "secret" not in result.output
    assert "root" not in result.output


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("report",),
        ("order", "home", "2.0", "whole-body", "--level", "starter", "--week", "1"),
        ("build", "--to", "../site"),
    ],
)
def test_the_tree_itself_may_be_no_link(words: tuple[str, ...], tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    real = tree.rename(tmp_path / "real")
    tree.symlink_to(real)
    result = trees.run(tree, *words)
    assert result.exit_code == 1, result.output
    assert "programmes:1:1: error reference: a link, where a file or folder itself is to be" in result.output
    assert not (tmp_path.parent / "site").exists()


def test_nothing_new_is_written_through_a_link(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    real = tree.rename(tmp_path / "real")
    tree.symlink_to(real)
    before = everything(real)
    for words in (("new", "away"), ("schema",)):
        result = trees.run(tree, *words)
        assert result.exit_code == 2, result.output
        assert "programmes is a link" in result.output
    assert everything(real) == before


@pytest.mark.parametrize("name", [".schema", ".schema/version.schema.json", ".schema/plan.schema.json"])
def test_schemas_are_not_written_through_a_link(name: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    outside = tmp_path / "outside"
    if name == ".schema":
        outside.mkdir()
    else:
        outside.write_text("mine")
        (tree / ".schema").mkdir()
    (tree / name).symlink_to(outside)
    result = trees.run(tree, "schema")
    if name == ".schema":
        assert result.exit_code == 2
        assert "programmes/.schema is a link" in result.output
        assert not any(outside.iterdir())
    else:
        assert result.exit_code == 0
        assert outside.read_text() == "mine"
        assert not (tree / name).is_symlink()
