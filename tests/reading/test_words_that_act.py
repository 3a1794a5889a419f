"""A tree whose every text tries to act, through every command in every form: nobody obeys, and each form stays whole.

Names of exercises, titles, reasons and the like hold commands for forges' logs, marks, addresses and line breaks; a
second tree is wrong in every place that a message quotes; a third has such names of files.
"""

import json
import logging
import shutil
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from phasepress import cli
from phasepress.publishing.mkdocs_door.settings import logged
from phasepress.reading.source import read

from tests.fixtures import clones, trees
from tests.fixtures.reading_forges import obeyed, references, rendered

WORDS = [
    "\n::error file=x::boo", "\n::add-mask::coach", "##[add-mask]coach", "##vso[task.x]y", "\n##[error]x", "@coach and @all",
    "#1 !2 $3 %4 &5 ~l", "$x$ :tada: GH-1 AB-12", "http://a.example www.b.example", "c@d.example", "<img src=x onerror=y>",
    "**b** __b__ ~~s~~", "`c` ``", "| a | b |", "[x](y) ![x](y)", "\\ \\| \\` &lt;", "\n- [ ] x", "\n> [!NOTE]\n> x", "[^1]\n\n[^1]: x",
    "\n# x", "\n---\n", "=1+1", "a, b; c: d", "0a1b2c3d4e", "\t::debug::x",
]  # fmt: skip
TEXTS = {"title", "summary", "phase", "aim", "name", "who", "club", "sport", "contact", "item", "because", "changes", "how"}  # fmt: skip
LISTS = {"setup", "cues", "faults", "cautions", "works", "needs"}
FORMS = [
    (verb, "--format", form)
    for verb, forms in {"check": ("text", "json", "github", "gitlab"), "report": ("text", "json")}.items()
    for form in forms
]


BRANCH = "a|@coach/#1-$x$"
"""A name that git allows."""


class Acting:
    """Texts that try to act: the words in turn, the same for the same text."""

    def __init__(self) -> None:
        self._number = count()
        self._known: dict[str, str] = {}

    def text(self, text: str) -> str:
        if text not in self._known:
            number = next(self._number)
            odd = f"{WORDS[number % len(WORDS)]} {WORDS[(number * 7 + 3) % len(WORDS)]}"
            self._known[text] = f"::error::{text[:30]} {odd}"
        return self._known[text]

    def data(self, data: Any, key: str = "") -> Any:
        if isinstance(data, dict):
            return {self.text(k) if key == "instead" else k: self.data(v, k) for k, v in data.items()}
        if isinstance(data, list):
            return [
                self.text(one) if key in LISTS and isinstance(one, str) else self.data(one) for one in data
            ]
        return self.text(data) if key in TEXTS and isinstance(data, str) else data


def acting(to: Path) -> Path:
    """The good tree with such texts, and a finding that is accepted with one of them."""
    tree, words = trees.copy_of_good(to), Acting()
    for path in sorted(tree.rglob("*.yaml")):
        data = words.data(read(path.name, path.read_bytes()).data)
        if path.name == "programme.yaml":
            data["limits"]["session"] = "10 min"
        if path.name == "2.0.yaml":
            data["accept"] = [{"check": "session-length", "because": words.text("why\n::error::not")}]
        path.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
    return tree


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A checkout: the good tree on `main`, and such texts in every file and in a new edition."""
    tree = clones.clone_of_good(tmp_path_factory.mktemp("club"))
    clones.git(tree.parent, "branch", BRANCH)
    acting(tree.parent / "made")
    for made in (tree.parent / "made/programmes").rglob("*.yaml"):
        shutil.copy(made, tree / made.relative_to(tree.parent / "made/programmes"))
    text = (tree / "home/1.1.yaml").read_text(encoding="utf-8")
    assert '"rounds": 2' in text
    (tree / "home/1.2.yaml").write_text(text.replace('"rounds": 2', '"rounds": 3'), encoding="utf-8")
    return tree


def run(tree: Path, *words: str, findings: bool = False) -> Result:
    """The command; it ends by itself and nothing it says is obeyed."""
    done = trees.run(tree, *words)
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exc_info
    assert obeyed(done.output, findings=findings) == []
    return done


@pytest.mark.parametrize("words", [*FORMS, *((*form, "--base", BRANCH) for form in FORMS)])
def test_no_form_of_check_and_report_is_obeyed(tree: Path, words: tuple[str, ...]) -> None:
    done = run(tree, *words, findings="github" in words)
    assert done.output
    if "json" in words or "gitlab" in words:
        json.loads(done.stdout)


def test_the_reason_of_what_is_accepted_is_one_line(tree: Path) -> None:
    told = run(tree, "check", "--accepted").output
    assert "    because ::error::why ::error::not" in told


def test_the_report_of_a_merge_shows_text_alone(tree: Path) -> None:
    told = run(tree, "report", "--base", BRANCH, "--format", "markdown").stdout
    assert told.count("\n| ") > 3
    for shown in rendered(told):
        known = {"h2", "h3", "p", "ul", "li", "strong", "code", "table", "thead", "tbody", "tr", "th", "td"}
        assert set(shown.elements) <= known | {"details", "summary"}
        assert references(shown) == []
        assert BRANCH in shown.all_words
        assert "::error::Groundwork" in shown.all_words
        rows = shown.elements.count("tr")
        assert shown.elements.count("td") + shown.elements.count("th") == 7 * rows


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_timetable_is_not_obeyed(tree: Path, form: str) -> None:
    done = run(tree, "order", "home", "1.0", "legs", "--level", "starter", "--week", "1", "--format", form)
    assert done.exit_code == 0


def test_a_build_and_its_findings_are_not_obeyed(tree: Path, tmp_path: Path) -> None:
    assert run(tree, "build", "--to", str(tmp_path / "::error::x")).exit_code == 0
    assert run(tree, "schema", "--to", str(tmp_path / "##[x]")).exit_code == 0


ODD = "x\n::error::\u202e\x1b[31m##[add-mask]y"


@pytest.mark.parametrize(
    "words",
    [
        (ODD,),
        ("::error::x",),
        (f"--{ODD}",),
        ("check", ODD),
        ("check", f"--{ODD}"),
        ("check", "--format", ODD),
        ("check", "--base", ODD),
        ("report", "--base", ODD),
        ("order", ODD, ODD, ODD, "--level", ODD, "--week", "1"),
        ("order", "home", "1.0", "legs", "--level", ODD, "--week", "1"),
        ("order", "home", "1.0", "legs", "--level", "starter", "--week", ODD),
        ("print", "home", ODD, "--to", "x.pdf"),
        ("print", "home", "1.0", "--to", ODD),
        ("print", "home", "1.0", "--to", "x.pdf", "--paper", ODD),
        ("new", ODD),
        ("new", "home", "--starts", ODD),
        ("new", "away", "--title", ODD),
        ("build", "--to", "programmes/home"),
        ("serve", "--at", ODD),
    ],
    ids=ascii,
)
def test_a_wrong_call_is_quoted_but_not_obeyed(words: tuple[str, ...], tree: Path) -> None:
    assert run(tree, *words).exit_code == 2
    assert not (tree / "away").exists()


def test_a_folder_by_such_a_name_is_quoted_but_not_obeyed(tmp_path: Path) -> None:
    for verb in ("check", "report", "build", "serve", "schema"):
        assert run(tmp_path / ODD.replace("/", ""), verb).exit_code == 2
    tree = trees.copy_of_good(tmp_path).rename(tmp_path / "::error::x")
    trees.change(tree / "home/2.0.yaml", "weeks: 1", "weeks: one")
    assert run(tree, "check").exit_code == 1
    assert run(tree, "check", "--format", "github", findings=True).exit_code == 1
    assert run(tree, "report").exit_code == 1


def quoting(to: Path) -> Path:
    """The good tree with such texts for every key, id and amount in turn, so that messages quote them."""
    tree = trees.copy_of_good(to)
    for path in sorted(tree.rglob("*.yaml")):
        data = read(path.name, path.read_bytes()).data
        path.write_text(json.dumps(_wrong(data), ensure_ascii=False), encoding="utf-8")
    return tree


def _wrong(data: Any) -> Any:
    if isinstance(data, dict):
        return {
            **{key: _wrong(one) for key, one in data.items()},
            f"::error::{WORDS[len(data) % len(WORDS)]}": None,
        }
    if isinstance(data, list):
        return [_wrong(one) for one in data]
    return f"::error::{WORDS[hash(str(data)) % len(WORDS)]}"


@pytest.mark.parametrize("form", ["text", "json", "github", "gitlab"])
def test_findings_quote_but_are_not_obeyed(form: str, tmp_path: Path) -> None:
    done = run(quoting(tmp_path), "check", "--format", form, findings=form == "github")
    assert done.exit_code == 1
    assert done.output.count("boo") + done.output.count("coach") > 1
    assert run(tmp_path / "programmes", "report").exit_code == 1


@pytest.mark.parametrize("form", ["text", "json", "github", "gitlab"])
def test_names_of_files_are_quoted_but_not_obeyed(form: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    for number, odd in enumerate([*WORDS, ODD, "\u2028", "\u2066", "\x85"]):
        name = odd.replace("/", "")
        (tree / ("", "home", "exercises", "routines")[number % 4] / f"{name}.yaml").write_text("a: b\n")
    (tree / "::error::y").mkdir()
    (tree / "\n::error::z").mkdir()
    done = run(tree, "check", "--format", form, findings=form == "github")
    assert done.exit_code == 1
    assert done.output.count("means nothing here") >= len(WORDS)


def test_the_log_of_a_preview_is_not_obeyed(capsys: pytest.CaptureFixture[str]) -> None:
    """Names of files, and addresses that browsers asked for."""
    with logged(logging.INFO):
        logging.getLogger("mkdocs.livereload").warning('"GET %s" code 404', "/\n::error::x\x1b[31m##[x]")
        logging.getLogger("mkdocs").info("::add-mask::%s", "x")
    said = capsys.readouterr().err
    assert said.count("\n") == 3
    assert obeyed(said) == []


def test_the_reader_sees_what_would_be_obeyed() -> None:
    for line in ("::error::x", "  ::debug::x", "\u200d::x", "a ##[x]", "\x1b[31m", "a\u2028b", "a\r::x"):
        assert obeyed(line)
    ours = "::error file=a,line=1,col=2,title=key::x"
    assert obeyed(ours)
    assert obeyed(ours, findings=True) == []
    assert obeyed(f"{ours}\n::error::x", findings=True) == ["::error::x"]
    assert obeyed("a :: b [::1] # x [") == []


@pytest.mark.parametrize(
    "text",
    ["@coach", "x #1", "www.b.example", "http://x", "a@b.c", ":tada:", "AB-12", "$x$", "!1", "a1b2c3d"],
)
def test_the_reader_sees_what_a_forge_would_look_for(text: str) -> None:
    assert all(references(shown) or "a" in shown.elements for shown in rendered(f"- {text}"))
    assert all(references(shown) == [] and "a" not in shown.elements for shown in rendered(f"- `{text}`"))


def test_every_line_is_printed_through_the_door() -> None:
    """`click.echo` stands in the functions that go through `escaping`, and nowhere else."""
    sources = [path.read_text(encoding="utf-8") for path in sorted(Path(cli.__file__).parent.glob("*.py"))]
    lines = [line.strip() for source in sources for line in source.splitlines()]
    places = [line for line in lines if "click.echo" in line or "click.secho" in line]
    assert len(places) == 5
    assert sum("terminal(" in line for line in places) == 3
    # Of a review: its page, which a template escapes, and the table for paper, which holds words of the tree alone.
    assert sum("say_made(" in line for line in lines) == 6
