"""`build` gives a whole site in one step and says where it is."""

import stat

from . import trees
from .pages import Site, contents


def test_a_build_says_where_the_site_is(run, tree, tmp_path):
    done = run("build", "--programmes", tree, "--to", tmp_path / "site")
    assert done.exit_code == 0
    assert done.stdout == f"the site is in {tmp_path / 'site'}\n"
    *_, found, address = done.stderr.splitlines()
    assert found.startswith("no errors, ")
    assert "a name kept for examples" in address


def test_a_build_without_a_folder_goes_into_site(run, tree, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run("build", "--programmes", "tree").stdout == "the site is in site\n"
    assert (tmp_path / "site" / "index.html").is_file()


def test_the_tree_may_be_named_before_or_after_the_verb(run, tree, tmp_path):
    assert run("--programmes", tree, "build", "--to", tmp_path / "a").exit_code == 0
    assert run("build", "--programmes", tree, "--to", tmp_path / "b").exit_code == 0
    assert contents(tmp_path / "a") == contents(tmp_path / "b")


def test_a_build_into_a_new_nested_folder_makes_it(run, tree, tmp_path):
    to = tmp_path / "a" / "b" / "c"
    assert run("build", "--programmes", tree, "--to", to).exit_code == 0
    assert Site(to)["plan/"].kind == "programme"


def test_a_build_into_an_empty_folder_fills_it(run, tree, tmp_path):
    (tmp_path / "site").mkdir()
    assert run("build", "--programmes", tree, "--to", tmp_path / "site").exit_code == 0
    assert (tmp_path / "site" / "index.html").is_file()


def test_everybody_may_read_what_was_built(old):
    for path in (old, *old.rglob("*")):
        readable = 0o755 if path.is_dir() else 0o644
        assert stat.S_IMODE(path.stat().st_mode) & readable == readable, path


def test_a_new_build_replaces_the_old_one_whole(run, build, tree, old):
    (old / "left-over.html").write_text("from long ago", encoding="utf-8")
    (tree / "exercises" / "lean.yaml").unlink()
    changed = trees.small()
    del changed["exercises/lean.yaml"]
    changed["plan/1.0.yaml"]["days"][0]["blocks"][0]["stations"].pop()
    site = build(trees.write(changed, tree), old)
    assert "left-over.html" not in site.files
    assert "exercises/lean/" not in site.pages
    assert list(old.parent.iterdir()) == [old]


def test_warnings_are_printed_and_the_site_is_built(run, tree, tmp_path):
    limited = trees.small()
    limited["plan/programme.yaml"]["limits"] = {"session": "1 min"}
    trees.write(limited, tree)
    done = run("build", "--programmes", tree, "--to", tmp_path / "site")
    assert done.exit_code == 0
    assert "warning session-length" in done.stderr
    assert (tmp_path / "site" / "index.html").is_file()


def test_the_tree_is_only_read(run, tree, tmp_path):
    before = contents(tree)
    run("build", "--programmes", tree, "--to", tmp_path / "site")
    assert contents(tree) == before


def test_links_in_hidden_folders_lead_a_build_nowhere(run, tree, tmp_path):
    """Two that lead to their own folder would be followed for as good as ever, 2 to the power of 40 ways."""
    hidden = tree / ".hidden"
    hidden.mkdir()
    (hidden / "one").symlink_to(".")
    (hidden / "two").symlink_to(".")
    assert run("build", "--programmes", tree, "--to", tmp_path / "site").exit_code == 0
