"""Reading the other tree from git: where it is, what is followed, and what is said when it is not there."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from phasepress.reading.git_tree import Committed, HistoryError, past
from phasepress.reading.source import MOST_BYTES

from tests.fixtures import clones, trees


def files(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    return clones.clone_of_good(tmp_path / "club")


def files_at(tree: Path, ref: str) -> dict[str, bytes]:
    """The files of a tree at a commit, by their names below it."""
    found = past(tree, ref, MOST_BYTES).tree
    assert found is not None, "the tree is there"
    return dict(contents(found, tree, tree))


def contents(found: Committed, tree: Path, folder: Path) -> Iterator[tuple[str, bytes]]:
    for name, kind in found.entries(folder).items():
        if kind == "folder":
            yield from contents(found, tree, folder / name)
        else:
            yield str((folder / name).relative_to(tree)), found.content(folder / name, MOST_BYTES)


def test_the_files_are_those_of_the_commit_and_not_those_on_the_disk(tree: Path) -> None:
    was = files(tree)
    trees.change(tree / "home/1.0.yaml", "reps: 10,", "reps: 11,")
    (tree / "club.yaml").unlink()
    assert files_at(tree, "main") == was


@pytest.mark.parametrize("folder", ["clubs/juniors", "ümlaut and space"])
def test_the_tree_may_lie_in_a_sub_folder_of_the_checkout(folder: str, tmp_path: Path) -> None:
    tree = clones.clone_of_good(tmp_path / "club", folder)
    assert files_at(tree, "main") == files(trees.GOOD)


def test_the_tree_may_be_the_whole_checkout(tmp_path: Path) -> None:
    shutil.copytree(trees.GOOD, tmp_path / "club")
    clones.git(tmp_path / "club", "init", "--quiet", "--initial-branch", "main")
    clones.committed(tmp_path / "club")
    assert files_at(tmp_path / "club", "HEAD") == files(trees.GOOD)


def test_a_commit_may_be_named_in_any_way_that_git_knows(tree: Path) -> None:
    clones.git(tree, "tag", "-m", "spring", "spring")
    clones.committed(tree)
    commit = clones.git(tree, "rev-parse", "HEAD").strip()
    for ref in ("main", "HEAD", "HEAD~1", "HEAD^1", "main^0", "@", "main@{0}", "spring", "tags/spring", commit, commit[:9], "refs/heads/main"):  # fmt: skip
        assert files_at(tree, ref) == files(trees.GOOD), ref


def test_a_worktree_a_module_and_a_clone_that_borrows_objects_have_the_history_too(
    tree: Path, tmp_path: Path
) -> None:
    club = tree.parent
    clones.git(club, "gc", "--quiet")
    clones.git(club, "worktree", "add", "--quiet", "-b", "side", str(tmp_path / "side"))
    assert files_at(tmp_path / "side/programmes", "main") == files(trees.GOOD)
    clones.git(tmp_path, "clone", "--quiet", "--shared", str(club), "shared")
    assert files_at(tmp_path / "shared/programmes", "origin/main") == files(trees.GOOD)
    outer = tmp_path / "outer"
    outer.mkdir()
    clones.git(outer, "init", "--quiet", "--initial-branch", "main")
    clones.git(outer, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(club), "club")
    clones.committed(outer)
    assert files_at(outer / "club/programmes", "main") == files(trees.GOOD)


def test_a_commit_without_the_folder_has_no_tree(tmp_path: Path) -> None:
    club = tmp_path / "club"
    club.mkdir()
    clones.git(club, "init", "--quiet", "--initial-branch", "main")
    clones.committed(club)
    assert past(trees.copy_of_good(club), "main", MOST_BYTES).tree is None


def test_what_a_hook_says_of_its_own_checkout_is_not_heard(
    tree: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_WORK_TREE", "/nowhere")
    monkeypatch.setenv("GIT_OBJECT_DIRECTORY", "/nowhere")
    monkeypatch.setenv("GIT_CONFIG_PARAMETERS", "'core.bare'='nonsense'")
    assert files_at(tree, "main") == files(trees.GOOD)


def test_attributes_that_leave_files_out_of_archives_leave_none_out_here(tree: Path) -> None:
    (tree.parent / ".gitattributes").write_text("*.yaml export-ignore\n")
    clones.committed(tree.parent)
    assert files_at(tree, "main") == files(trees.GOOD)


# --- links ---------------------------------------------------------------------------------------------


def test_links_inside_the_commit_are_followed_there(tree: Path) -> None:
    shared = tree.parent / "shared"
    shutil.move(tree / "exercises", shared)
    (tree / "exercises").symlink_to("../shared")
    (shared / "march.yaml").rename(tree.parent / "march.yaml")
    clones.committed(tree.parent)
    (shared / "wall-sit.yaml").write_text("changed")
    (tree / "routines" / "warm-up.yaml").rename(tree.parent / "w.yaml")
    (tree / "routines" / "warm-up.yaml").symlink_to("../../w.yaml")
    clones.git(tree.parent, "add", "programmes", "w.yaml")
    clones.git(tree.parent, "commit", "--quiet", "-m", "link")
    good = files(trees.GOOD)
    del good["exercises/march.yaml"]
    assert files_at(tree, "main") == good


def test_a_folder_that_is_a_link_at_the_commit_is_read_where_it_leads(tree: Path) -> None:
    (tree.parent / "data").mkdir()
    tree.rename(tree.parent / "data/programmes")
    tree.symlink_to("data/programmes")
    clones.committed(tree.parent)
    tree.unlink()
    (tree.parent / "data/programmes").rename(tree)
    assert files_at(tree, "main") == files(trees.GOOD)


@pytest.mark.parametrize(
    ("target", "said"),
    [("/etc/hostname", "out of the checkout"), ("nothing", "to nothing"), ("9.0.yaml", "to itself")],
)
def test_a_version_whose_link_cannot_be_followed_in_the_commit_is_told_as_not_compared(
    target: str, said: str, tree: Path
) -> None:
    (tree / "home" / "9.0.yaml").symlink_to(target)
    clones.committed(tree.parent)
    (tree / "home" / "9.0.yaml").unlink()
    result = clones.check(tree)
    assert result.exit_code == 0, "the merge that mends it must be able to pass"
    assert "warning published: 9.0 cannot be read at main and was not compared" in result.output
    assert f"home/9.0.yaml:1:1: cannot be read: a link that leads {said}" in result.output


def test_a_repository_inside_the_tree_is_told(tree: Path, tmp_path: Path) -> None:
    other = clones.clone_of_good(tmp_path / "other").parent
    clones.git(tree.parent, "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(other), "programmes/exercises/all")  # fmt: skip
    clones.committed(tree.parent)
    with pytest.raises(HistoryError, match="exercises/all is a repository inside this one"):
        files_at(tree, "main")


# --- what is not there ---------------------------------------------------------------------------------


def said(tree: Path, base: str) -> str:
    result = clones.check(tree, base)
    assert result.exit_code == 2, result.output
    assert result.output.count("\n") == 1
    return result.output


def test_a_folder_that_is_no_checkout_is_told(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    assert "programmes lies in no git checkout" in said(tree, "main")


def test_a_machine_without_git_is_told(tree: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    assert "git cannot be run" in said(tree, "main")
    assert "install git" in said(tree, "main")


def test_an_unknown_name_is_told_with_the_nearest_one(tree: Path) -> None:
    assert "no commit called 'mian'; did you mean \"main\"?" in said(tree, "mian")
    assert "fetch it first: git fetch origin release" in said(tree, "release")


def test_a_branch_that_is_only_at_the_origin_is_named_as_it_is_there(tree: Path, tmp_path: Path) -> None:
    clones.git(tree.parent, "branch", "stable")
    clones.git(tmp_path, "clone", "--quiet", str(tree.parent), "mine")
    assert "did you mean origin/stable?" in said(tmp_path / "mine" / "programmes", "stable")


@pytest.mark.parametrize("name", ["--help", "-n", ""])
def test_an_option_is_no_name_of_a_commit(name: str, tree: Path) -> None:
    result = trees.run(tree, "check", f"--base={name}")
    assert result.exit_code == 2
    assert "is no name of a branch, a tag or a commit" in result.output


def test_a_shallow_clone_without_the_base_says_how_to_fetch_it(tree: Path, tmp_path: Path) -> None:
    club = tree.parent
    clones.git(club, "switch", "--quiet", "--create", "spring")
    clones.committed(club)
    clones.git(tmp_path, "clone", "--quiet", "--depth=1", "--branch=spring", f"file://{club}", "shallow")
    shallow = tmp_path / "shallow" / "programmes"
    told = said(shallow, "main")
    assert "it is a shallow clone, which holds the newest commits only" in told
    assert "git fetch --depth=1 origin main, then compare with FETCH_HEAD" in told
    assert "git fetch --unshallow" in said(shallow, "HEAD~1")
    # What it says does help.
    clones.git(shallow, "fetch", "--quiet", "--depth=1", "origin", "main")
    assert clones.check(shallow, "FETCH_HEAD").exit_code == 0
