"""`phasepress new` and its verbs: a club's own repository that is sound at once, and nothing that is overwritten."""

import hashlib
import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from phasepress.authoring.club import PINS_BEGIN, Wishes, new_club
from phasepress.authoring.tool import Tool, UnknownToolError, tool_from
from phasepress.cli import main
from phasepress.judging import check
from phasepress.reading.catalogue import load
from ruamel.yaml import YAML

from tests.fixtures import trees
from tests.samples import every

ROOT = Path(__file__).resolve().parents[2]
WHEEL = "phasepress-1.2.3-py3-none-any.whl"
TOOL = Tool("./tool/x.whl --hash=sha256:0", {})
MONDAY = date(2031, 1, 6)


def run(where: Path, *words: str) -> Result:
    return CliRunner().invoke(main, ["--programmes", str(where / "programmes"), *words])


@pytest.fixture
def wheel(tmp_path: Path) -> Path:
    path = tmp_path / WHEEL
    path.write_bytes(b"not opened here")
    return path


def made(tmp_path: Path, wheel: Path, *words: str) -> Path:
    to = tmp_path / "fenn"
    done = CliRunner().invoke(main, ["new", "club", str(to), "--tool", str(wheel), *words])
    assert done.exit_code == 0, done.output
    return to


@pytest.mark.parametrize("forge", ["github", "gitlab"])
def test_a_new_club_is_sound_to_the_last_note(tmp_path: Path, wheel: Path, forge: str) -> None:
    club = made(tmp_path, wheel, "--forge", forge, "--address", "https://strength.club.org/")
    assert run(club, "check").output == "no errors, no warnings, no notes\n"
    assert len(load(club / "programmes").catalogue.programmes["first-strength"].versions) == 1


def test_a_new_club_without_an_address_is_told_so_and_nothing_else(tmp_path: Path, wheel: Path) -> None:
    told = run(made(tmp_path, wheel), "check").output
    assert "mkdocs.yml:1:1: warning address: no site_url" in told
    assert told.endswith("no errors, 1 warning, no notes\n")


@pytest.mark.parametrize("week", every(range(0, 53, 4), few=4))
def test_it_is_sound_whenever_it_is_made(week: int) -> None:
    """What is found may hang on dates; new_club refuses what has a finding."""
    new_club(Wishes("", "", "", "github", TOOL), date.fromisocalendar(2031, week + 1 if week < 52 else 52, 1))


def test_it_holds_only_what_is_the_club_s(tmp_path: Path, wheel: Path) -> None:
    club = made(tmp_path, wheel)
    top = {path.name for path in club.iterdir()}
    assert top == {
        ".github",
        ".gitignore",
        "CODEOWNERS",
        "README.md",
        "mkdocs.yml",
        "programmes",
        "requirements.txt",
        "tool",
        "tool.txt",
    }
    assert [path.relative_to(club).as_posix() for path in (club / ".github").rglob("*.yml")] == [
        ".github/workflows/publish.yml"
    ]
    for folder in ("exercises", "routines", ".schema"):
        ours = {path.name: path.read_bytes() for path in (ROOT / "programmes" / folder).iterdir()}
        assert {path.name: path.read_bytes() for path in (club / "programmes" / folder).iterdir()} == ours
    assert {path.name for path in (club / "programmes").iterdir()} == {
        ".schema",
        "club.yaml",
        "exercises",
        "first-strength",
        "routines",
    }
    for never in ("/site/", "/.phasepress-cache/", "/logs/", "/reviews/"):
        assert never in (club / ".gitignore").read_text().splitlines()


def test_what_the_coach_says_stands_in_the_files_and_the_rest_waits(tmp_path: Path, wheel: Path) -> None:
    words = [
        "--name",
        'Fenn "Juniors": #1',
        "--sport",
        "handball",
        "--address",
        "https://fenn.example/strength",
    ]
    club = made(tmp_path, wheel, *words)
    settings = YAML(typ="safe").load(club / "mkdocs.yml")
    assert settings == {
        "site_name": 'Fenn "Juniors": #1',
        "site_url": "https://fenn.example/strength/",
        "docs_dir": "programmes",
        "exclude_docs": "*",
        "theme": {"name": "material", "font": False},
        "plugins": ["phasepress"],
    }
    data = YAML(typ="safe").load(club / "programmes/club.yaml")
    assert (data["club"], data["sport"]) == ('Fenn "Juniors": #1', "handball")


def test_without_a_word_of_the_coach_there_is_no_made_up_address(tmp_path: Path, wheel: Path) -> None:
    club = made(tmp_path, wheel)
    assert "site_url" not in YAML(typ="safe").load(club / "mkdocs.yml")
    assert "# site_url: " in (club / "mkdocs.yml").read_text(encoding="utf-8")
    assert YAML(typ="safe").load(club / "programmes/club.yaml")["club"] == "Example Juniors"


@pytest.mark.parametrize("forge", ["github", "gitlab"])
def test_no_gap_of_a_text_stays_open_and_a_name_like_a_gap_stays_a_name(forge: str) -> None:
    files = new_club(Wishes("@SPORT@ and *stars*", "", "", forge, TOOL), MONDAY)  # type: ignore[arg-type]
    texts = {
        name: text.decode() for name, text in files.items() if not name.startswith("programmes/exercises")
    }
    open_ = {name: found for name, text in texts.items() if (found := re.findall("@[A-Z_]+@", text))}
    assert open_.keys() <= {"README.md", "mkdocs.yml", "programmes/club.yaml"}
    assert {word for found in open_.values() for word in found} == {"@SPORT@"}
    assert texts["README.md"].startswith("# Training of `@SPORT@` and `*stars*`\n")


def test_the_readme_is_one_page_and_says_what_never_goes_into_the_repository() -> None:
    text = new_club(Wishes("", "", "", "github", TOOL), MONDAY)["README.md"].decode()
    assert len(text) < 5_000
    plain = " ".join(text.split())
    for said in (
        "**Never put into this repository**: the name, picture, address or log of a child",
        "## Change a dose",
        "## Add a phase",
        "## What a red check means",
        "safeguarding lead",
        "`.venv/bin/phasepress pins`",
    ):
        assert said in plain
    assert not re.search("terminal|command line", plain.partition("## For whoever sets this up")[0])


@pytest.mark.parametrize("there", ["folder", "file", "link"])
def test_nothing_that_is_there_is_touched(tmp_path: Path, wheel: Path, there: str) -> None:
    to = tmp_path / "fenn"
    if there == "folder":
        to.mkdir()
        (to / "own.txt").write_text("mine")
    elif there == "file":
        to.write_text("mine")
    else:
        to.symlink_to(tmp_path / "nowhere")
    before = sorted((path, path.is_symlink()) for path in tmp_path.rglob("*"))
    done = CliRunner().invoke(main, ["new", "club", str(to), "--tool", str(wheel)])
    assert done.exit_code == 2
    assert "is there already; name a new folder" in done.output
    assert sorted((path, path.is_symlink()) for path in tmp_path.rglob("*")) == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--name", "Fenn\u202eJuniors"], "U+202E"),
        (["--name", "x" * 121], "at most 120 characters"),
        (["--address", "fenn.example"], "--address: found 'fenn.example'"),
        (["--address", "ftp://fenn.example/"], "--address: found"),
        (["--address", "https://a:b@fenn.example/"], "--address: found"),
        (["--forge", "elsewhere"], "'elsewhere' is not one of"),
        (["--tool", "other-1.0-py3-none-any.whl"], "is not the name of a wheel of phasepress"),
        (["--tool", f"missing/{WHEEL}"], "cannot be read"),
        (["--tool", f"https://fenn.example/{WHEEL}"], "has no hash behind it"),
    ],
    ids=lambda one: "" if isinstance(one, str) else f"{one[0]} {one[1][:20]!a}",
)
def test_what_cannot_be_is_told_and_nothing_is_written(
    tmp_path: Path, wheel: Path, words: list[str], said: str
) -> None:
    tool = [] if "--tool" in words else ["--tool", str(wheel)]
    done = CliRunner().invoke(main, ["new", "club", str(tmp_path / "fenn"), *tool, *words])
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())
    assert sorted(path.name for path in tmp_path.iterdir()) == [WHEEL]


def test_a_wheel_that_lies_somewhere_comes_along_with_its_hash(tmp_path: Path, wheel: Path) -> None:
    club = made(tmp_path, wheel)
    digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
    assert (club / "tool.txt").read_text() == f"./tool/{WHEEL} --hash=sha256:{digest}\n"
    assert (club / "tool" / WHEEL).read_bytes() == wheel.read_bytes()


def test_a_wheel_with_an_address_is_named_with_its_hash() -> None:
    digest = "0a" * 32
    tool = tool_from(f"https://fenn.example/{WHEEL}#sha256={digest}")
    assert tool == Tool(f"phasepress @ https://fenn.example/{WHEEL} --hash=sha256:{digest}", {})
    with pytest.raises(UnknownToolError):
        tool_from(f"https://fenn.example/{WHEEL} --index-url=x#sha256={digest}")


# --- pins ----------------------------------------------------------------------------------------------


def test_pins_writes_what_the_tool_needs_and_says_when_that_is_there_already(
    tmp_path: Path, wheel: Path
) -> None:
    club = made(tmp_path, wheel)
    pinned = (club / "requirements.txt").read_bytes()
    (club / "requirements.txt").write_text(f"{PINS_BEGIN}click==1.0\n")
    assert "was written" in run(club, "pins").output
    assert (club / "requirements.txt").read_bytes() == pinned
    assert "was right already" in run(club, "pins").output


def test_every_pin_has_a_hash_and_is_one_that_our_own_builds_use() -> None:
    text = new_club(Wishes("", "", "", "github", TOOL), MONDAY)["requirements.txt"].decode()
    lines = text.replace(" \\\n", " ").splitlines()[1:]
    assert all(re.search(r"==\S+.*--hash=sha256:[0-9a-f]{64}", line) for line in lines)
    ours = (ROOT / "requirements.lock").read_text().replace(" \\\n", " ").splitlines()
    assert set(lines) <= set(ours)
    needed = re.findall(
        r'^    "([a-z-]+)==', (ROOT / "pyproject.toml").read_text().partition("[project.opt")[0], re.M
    )
    assert len(needed) > 5
    assert set(needed) <= {line.partition("==")[0] for line in lines}


def test_pins_of_somebody_s_own_are_left_alone(tmp_path: Path, wheel: Path) -> None:
    club = made(tmp_path, wheel)
    (club / "requirements.txt").write_text("mine==1\n")
    done = run(club, "pins")
    assert done.exit_code == 2
    assert "was not written by this command" in done.output
    assert (club / "requirements.txt").read_text() == "mine==1\n"


def test_pins_are_of_a_club_s_repository_alone(tmp_path: Path) -> None:
    done = run(tmp_path, "pins")
    assert done.exit_code == 2
    assert "there is no mkdocs.yml in" in " ".join(done.output.split())
    assert list(tmp_path.iterdir()) == []


# --- the other verbs -----------------------------------------------------------------------------------


def names(tree: Path) -> set[str]:
    return {path.relative_to(tree).as_posix() for path in tree.rglob("*.yaml")}


@pytest.mark.parametrize(
    ("verb", "older"),
    [
        (["phase", "home"], ["home"]),
        (
            ["phase", "home", "--from", "1.0", "--starts", "2032-01-05"],
            ["home", "--from", "1.0", "--starts", "2032-01-05"],
        ),
        (["edition", "home"], ["--edition", "home"]),
        (["edition", "home", "--from", "1.0"], ["home", "--from", "1.0", "--edition"]),
        (["programme", "spring", "--title", "In spring"], ["spring", "--title", "In spring"]),
    ],
    ids=lambda one: " ".join(one),
)
def test_a_verb_writes_what_the_older_spelling_writes(
    tmp_path: Path, verb: list[str], older: list[str]
) -> None:
    """Which both stay: the older one stands in the READMEs of clubs."""
    one, other = trees.copy_of_good(tmp_path / "one"), trees.copy_of_good(tmp_path / "other")
    before = names(one)
    assert trees.run(one, "new", *verb).exit_code == 0
    assert trees.run(other, "new", *older).exit_code == 0
    assert names(one) == names(other) != before
    assert all((one / name).read_bytes() == (other / name).read_bytes() for name in names(one))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["phase", "hmoe"], 'did you mean "home"?'),
        (["phase", "spring"], "begin it with phasepress new programme spring"),
        (["edition", "spring"], "there is no programme 'spring' to copy from"),
        (["programme", "home"], "phasepress new phase home goes on with it"),
        (["programme", "media"], "'media' cannot be the id of a programme"),
        (["programme", "club", "--title", "Club"], ""),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, list) else "",
)
def test_a_verb_does_not_do_what_another_one_is_for(tmp_path: Path, words: list[str], said: str) -> None:
    tree = trees.copy_of_good(tmp_path)
    before = names(tree)
    done = trees.run(tree, "new", *words)
    assert said in " ".join(done.output.split())
    assert done.exit_code == (2 if said else 0)
    assert (names(tree) == before) is bool(said)


def test_a_new_programme_has_no_finding_at_all(tmp_path: Path) -> None:
    tree = Path(str(tmp_path / "programmes"))
    for name, content in new_club(Wishes("", "", "", "github", TOOL), MONDAY).items():
        if name.startswith("programmes/"):
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
    assert trees.run(tree, "new", "programme", "autumn").exit_code == 0
    assert check(load(tree)).findings == []
