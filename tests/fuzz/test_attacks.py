"""Attacks that chance would seldom find, each by itself; what must hold is what must hold for every case."""

import json
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from tests.browser.log_records import record, station
from tests.fuzz import logs, odd, repos, trees
from tests.fuzz.kinds import SESSION, TREE, Commands, Log
from tests.fuzz.repos import Entry, Repo
from tests.fuzz.trees import Link, Tree
from tests.samples import every, in_turn


def file(name: bytes) -> bytes:
    """A file of the good tree."""
    content = trees.sound(0)[name]
    assert isinstance(content, bytes)
    return content


VERSION = file(b"home/2.0.yaml")


@pytest.fixture(scope="module")
def commands(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Commands]:
    kind = Commands(tmp_path_factory.mktemp("commands") / "room")
    yield kind
    kind.close()


@pytest.fixture
def case(commands: Commands) -> Path:
    return commands.fresh()


def given(case: Path, **files: bytes | Link) -> None:
    """The good tree with other files, named by their last name without `.yaml`, with `_` for a full stop."""
    tree: Tree = trees.sound(0)
    names = {
        name.rpartition(b"/")[2].removesuffix(b".yaml").replace(b".", b"_").decode(): name for name in tree
    }
    trees.write(
        tree | {names.get(key.removeprefix("v"), key.encode()): one for key, one in files.items()},
        case / "programmes",
    )


def committed(case: Path, *more: Entry, of: Tree | None = None) -> Repo:
    """A repository whose `main` has the good tree, and more entries in its folder."""
    repo = Repo(case)
    entries = [*repo.tree(of or trees.sound(0)), *more]
    repo.commit(repo.folder([(b"40000", b"programmes", repo.folder(entries))]))
    return repo


def other_dose() -> bytes:
    assert b"reps: 7" in VERSION
    return VERSION.replace(b"reps: 7", b"reps: 9")


# --- small files that are much work -------------------------------------------------------------------------

STATIONS = "stations: [" + "{exercise: march, work: 1 s}, " * 40 + "]"
BLOCKS = f"      - {{kind: circuit, rounds: 2, rest: 1 s, {STATIONS}}}\n" * 2


def much_work(days: int, rounds: int) -> bytes:
    """A phase of 52 weeks within every bound of a single session (5,000 segments)."""
    head = VERSION.partition(b"days:")[0].replace(b"weeks: 1", b"weeks: 52").decode()
    blocks = BLOCKS.replace("rounds: 2", f"rounds: {rounds}")
    own = [
        f"  - id: day-{n}\n    title: Day {n}\n    on: [mon]\n    warm-up: warm-up\n    blocks:\n{blocks}"
        for n in range(days)
    ]
    return f"{head}days:\n{''.join(own)}".encode()


LEVELS = b"title: Home strength\nsummary: x\naudience: {ages: [13, 16]}\nlevels:\n" + b"".join(
    b"  - {id: %s, name: L%d, experience: beginner, who: all}\n" % (b"l%d" % n if n else b"starter", n)
    for n in range(8)
)


@pytest.mark.parametrize(
    "words", [("check",), ("report",), SESSION, ("build", "--to", "site")], ids=lambda words: words[0]
)
def test_fifty_kilobytes_of_work_are_refused_before_they_are_done(
    commands: Commands, case: Path, words: tuple[str, ...]
) -> None:
    given(case, programme=LEVELS, v2_0=much_work(14, 30))
    for name in ("1.0", "1.1"):
        (case / f"programmes/home/{name}.yaml").unlink()
    answer = commands.call(case, [*words, *TREE])
    assert answer["status"] == 1
    assert "2.0.yaml" in answer["out"] + answer["err"]


# --- another commit -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "dress", [*dict.fromkeys(repos.DRESSES)], ids=lambda dress: dress.__name__.strip("_")
)
@pytest.mark.parametrize("seed", every(range(6), few=2))
def test_another_dose_of_a_published_version_passes_in_no_dress(
    commands: Commands, case: Path, dress: repos.Dress, seed: int
) -> None:
    committed(case)
    given(case, v2_0=other_dose())
    dress(case, Random(seed))
    answer = commands.call(case, ["check", *TREE, "--base", "main"])
    assert answer["status"] in (1, 2), answer["out"]


@pytest.mark.parametrize("ref", ["^main", "main^{tree}", "main:programmes", "main..main", "--all", ""])
def test_what_is_no_commit_is_a_wrong_call(commands: Commands, case: Path, ref: str) -> None:
    committed(case)
    given(case, v2_0=other_dose())
    assert commands.call(case, ["check", *TREE, f"--base={ref}"])["status"] == 2


@pytest.mark.parametrize("verb", ["check", "report"])
@pytest.mark.parametrize("name", [b"..", b".", b".git", b"a/b", b"../../outside", b"/dev/null/abs"])
def test_a_commit_writes_nowhere_by_the_names_in_it(
    commands: Commands, case: Path, verb: str, name: bytes
) -> None:
    repo = Repo(case)
    inner = repo.folder([(b"100644", b"forged.yaml", repo.put(b"blob", b"forged: 1\n"))])
    entries = [*repo.tree(trees.sound(0)), (b"40000", name, inner)]
    repo.commit(repo.folder([(b"40000", b"programmes", repo.folder(entries))]))
    given(case)
    commands.call(case, [verb, *TREE, "--base", "main"])


# --- files that lead elsewhere, and words that act ----------------------------------------------------------

TO_SECRET = Link(b"../../outside/" + odd.SECRET.encode() + b".yaml")


@pytest.mark.parametrize("verb", ["check", "report", "build"])
def test_a_link_tells_nothing_of_what_it_leads_to(commands: Commands, case: Path, verb: str) -> None:
    given(case, march=TO_SECRET)
    assert commands.call(case, [verb, *TREE])["status"] == 1
    tree = {name: one for name, one in trees.sound(0).items() if not name.startswith(b"exercises/")}
    case = commands.fresh()
    trees.write(tree | {b"exercises": Link(b"../outside")}, case / "programmes")
    assert commands.call(case, [verb, *TREE])["status"] == 1


ACTING = [
    "\\n::error::forged",
    "\\r::add-mask::e",
    "\\u202Eforged",
    "\\u2066x",
    "\\x85::error::x",
    "\\u2028::error::x",
    "\\e[2J",
]


SHAPES = ["text", "json", "github", "gitlab"]


@pytest.mark.parametrize(
    ("word", "shape"),
    [(word, shape) for turn, word in enumerate(ACTING) for shape in in_turn(SHAPES, turn, few=2)],
)
def test_no_word_of_an_author_acts_on_a_terminal_or_a_forge(
    commands: Commands, case: Path, shape: str, word: str
) -> None:
    accepted = f'accept: [{{check: session-length, because: "x{word}"}}]\n'.encode()
    programme = file(b"home/programme.yaml").replace(b"session: 45 min", b"session: 5 min")
    named = file(b"exercises/march.yaml").replace(b"name: ", f'name: "x{word}" # '.encode())
    given(case, programme=programme, march=named, v2_0=VERSION + accepted)
    commands.call(case, ["check", *TREE, "--format", shape])


# --- the log ------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Log]:
    kind = Log(tmp_path_factory.mktemp("log"))
    yield kind
    kind.close()


DAY = 864 * 10**5


@pytest.mark.parametrize("key", ["started", "ended"])
@pytest.mark.parametrize(("moment", "went"), [(logs.LAST, "refused"), (logs.LAST - 8 * DAY, "brought in")])
@pytest.mark.parametrize("sign", [1, -1])
def test_a_session_at_the_end_of_time_does_not_keep_the_log_from_being_saved(
    log: Log, key: str, moment: int, went: str, sign: int
) -> None:
    """West of Greenwich the first moment of all dates has a local date that is none."""
    text = json.dumps(
        {"format": "phasepress log", "version": 1, "sessions": [record(**{key: sign * moment})]}
    )
    assert logs.judged(log.child.ask({"home": logs.HOME, "text": text, "here": logs.HERE})) == went


def test_a_log_with_one_session_twice_and_its_stations_reversed_is_brought_in_at_once(log: Log) -> None:
    """Or refused in words: either is quick."""
    stations = [station(label=f"A{number}", name=f"Station {number}") for number in range(60_000)]
    twice = [record(stations=stations), record(stations=stations[::-1])]
    text = log.child.ask({"home": logs.HOME, "write": twice})["json"]
    logs.judged(log.child.ask({"home": logs.HOME, "text": text, "here": logs.HERE}))
