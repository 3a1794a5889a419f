"""A site's settings are those of the `mkdocs.yml` beside its tree, and of nothing else."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from phasepress.publishing import mkdocs_door
from phasepress.publishing.private import MARK

from tests.conftest import ROOT
from tests.fixtures import trees

SIX = """\
site_name: Fenn
site_url: {address}
docs_dir: programmes
exclude_docs: "*"
theme: {{name: material, font: false}}
plugins: [phasepress]
"""


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    return trees.copy_of_good(tmp_path / "club")


def settings(tree: Path, text: str) -> None:
    (tree.parent / "mkdocs.yml").write_text(text, encoding="utf-8")


def built(tree: Path) -> Result:
    return CliRunner().invoke(main, ["build", "--programmes", str(tree), "--to", str(tree.parent / "site")])


def test_the_address_is_that_of_the_settings_beside_the_tree(
    tree: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever lies where the command is started, and where the code lies."""
    monkeypatch.chdir(ROOT)
    settings(tree, SIX.format(address="https://fenn.club/plans"))
    assert mkdocs_door.public_address(tree) == "https://fenn.club/plans/"
    done = built(tree)
    assert done.exit_code == 0, done.output
    assert "https://fenn.club/plans/home/" in (tree.parent / "site/sitemap.xml").read_text("utf-8")
    assert "reserved" not in done.output
    assert "RFC 2606" not in done.output


def test_without_settings_there_is_no_public_address(tree: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    assert mkdocs_door.public_address(tree) == ""
    done = built(tree)
    assert done.exit_code == 0, done.output
    assert "mkdocs.yml has no site_url" in done.stderr
    page = (tree.parent / "site/home/index.html").read_text("utf-8")
    assert "ravelmouth" not in page
    assert not (tree.parent / "site/sitemap.xml").exists()


def test_six_lines_bring_templates_description_and_the_page_for_what_is_missing(tree: Path) -> None:
    settings(tree, SIX.format(address="https://fenn.club/plans"))
    assert built(tree).exit_code == 0
    page = (tree.parent / "site/home/index.html").read_text("utf-8")
    assert "Strength sessions to do at home" in (tree.parent / "site/index.html").read_text("utf-8")
    assert 'class="' in page
    assert "fonts.g" not in page
    assert 'href="/plans/"' in (tree.parent / "site/404.html").read_text("utf-8")


def test_a_club_may_describe_its_site_itself(tree: Path) -> None:
    settings(tree, SIX.format(address="https://fenn.club/") + "site_description: For Fenn alone.\n")
    assert built(tree).exit_code == 0
    assert "For Fenn alone." in (tree.parent / "site/index.html").read_text("utf-8")


def test_a_font_of_another_site_is_never_asked_for(tree: Path) -> None:
    settings(tree, SIX.format(address="https://fenn.club/").replace(", font: false", ""))
    assert built(tree).exit_code == 0
    assert "fonts.g" not in (tree.parent / "site/home/index.html").read_text("utf-8")


def test_an_address_kept_for_examples_is_warned_of_and_builds(tree: Path) -> None:
    settings(tree, SIX.format(address="https://fenn.example/"))
    done = built(tree)
    assert done.exit_code == 0
    assert "https://fenn.example/, a name kept for examples (RFC 2606)" in done.stderr


def test_beside_the_site_nothing_stays(tree: Path) -> None:
    settings(tree, SIX.format(address="https://fenn.club/"))
    assert built(tree).exit_code == 0
    assert sorted(path.name for path in tree.parent.iterdir()) == ["mkdocs.yml", "programmes", "site"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (SIX.format(address="https://[half/"), "mkdocs.yml: Invalid IPv6 URL"),
        (SIX.format(address="").replace("plugins: [phasepress]\n", ""), "add the line plugins: [phasepress]"),
        (
            SIX.format(address="").replace("material", "mkdocs"),
            "theme in mkdocs.yml: found mkdocs, allowed material",
        ),
        ("- a\n", "Expected a key-value mapping"),
        ("a: [\n", "error parsing the configuration file"),
        ("", "Required configuration not provided"),
    ],
)
def test_wrong_settings_end_with_a_message_and_leave_the_old_site(tree: Path, text: str, told: str) -> None:
    site = tree.parent / "site"
    site.mkdir()
    (site / MARK).touch()
    settings(tree, text)
    done = built(tree)
    assert done.exit_code == 2
    assert told in done.stderr
    assert "Traceback" not in done.output
    assert [path.name for path in site.iterdir()] == [MARK]


def test_settings_that_lead_to_nothing_are_not_passed_over(tree: Path) -> None:
    (tree.parent / "mkdocs.yml").symlink_to("nowhere.yml")
    done = built(tree)
    assert done.exit_code == 2
    assert "mkdocs.yml' does not exist" in done.stderr
