"""What is counted and worked out without a segment is what the segments come to."""

import difflib
import random
import re
from collections.abc import Iterator
from decimal import Decimal
from itertools import islice
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from phasepress.computing.load_recipe import Kit
from phasepress.computing.phases import computed_sessions
from phasepress.computing.resolve import PlannedSession, PlannedStation
from phasepress.computing.running_order import RunningOrder, running_order, segments_by_block
from phasepress.judging import run, work
from phasepress.judging.doses import _short_rests
from phasepress.judging.landings import _late_jump, lands_hard
from phasepress.judging.limits import LEAST_REST, LEAST_REST_AFTER_HIGH_LANDINGS, TIRED
from phasepress.judging.load import _first_like, one_slip
from phasepress.reading.amounts import Number
from phasepress.reading.catalogue import load
from phasepress.reading.findings import nearest
from phasepress.reading.model import Club

from tests.computing.test_properties import sessions
from tests.fixtures import trees
from tests.oracle import trees as random_trees
from tests.samples import every

# --- segments ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", every(range(12), few=4))
def test_the_segments_that_are_counted_are_those_of_the_running_order(seed: int, tmp_path: Path) -> None:
    catalogue = load(random_trees.write_tree(tmp_path, seed)).catalogue
    versions = [version for one in catalogue.programmes.values() for version in one.versions]
    assert versions
    for version in versions:
        for facts in computed_sessions(catalogue, version):
            counted = list(segments_by_block(facts.plan))
            numbers = facts.order.block_numbers
            assert counted == [numbers.count(block) for block in range(len(facts.plan.blocks))]
            assert sum(counted) == facts.order.many == len(facts.order.segments)


@given(sessions())
def test_of_any_session_as_many_segments_are_counted_as_there_are(session: PlannedSession) -> None:
    assert sum(segments_by_block(session)) == len(running_order(session).segments)


def test_the_bound_lies_where_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As many segments as are allowed pass; one fewer allowed, and the last block of the last version is told."""
    loaded = load(trees.copy_of_good(tmp_path))
    home = loaded.catalogue.programmes["home"]
    every = sum(
        one.order.many for version in home.versions for one in computed_sessions(loaded.catalogue, version)
    )
    monkeypatch.setattr(work, "MOST_SEGMENTS", every)
    assert run.check(loaded).count("error") == 0
    monkeypatch.setattr(work, "MOST_SEGMENTS", every - 1)
    (error,) = [one for one in run.check(loaded).findings if one.severity == "error"]
    assert f"more than {every - 1:,} segments" in error.message
    assert error.file.endswith("home/2.0.yaml")


# --- equal sessions ---------------------------------------------------------------------------------------


def test_sessions_with_equal_plans_are_worked_out_once(tmp_path: Path) -> None:
    """Equal by what is trained, and not by how it is written: a list of equal weeks is no other plan."""
    tree = trees.changed(tmp_path, {"home/2.0.yaml": ("weeks: 1", "weeks: 3")})
    text = (tree / "home/2.0.yaml").read_text(encoding="utf-8")
    trees.change(tree / "home/2.0.yaml", "rounds: 2", "rounds: [2, 3, 2]")
    assert text != (tree / "home/2.0.yaml").read_text(encoding="utf-8")
    catalogue = load(tree).catalogue
    version = catalogue.programmes["home"].version("2.0")
    assert version
    own = [one for one in computed_sessions(catalogue, version) if one.plan.level == version.levels[0].id]
    first, second, third = own[:3]
    assert first.order is third.order
    assert first.totals is third.totals
    assert second.order is not first.order
    assert (first.plan.week, third.plan.week) == (1, 3)


def test_every_session_has_the_running_order_of_its_own_plan(tmp_path: Path) -> None:
    for seed in range(6):
        catalogue = load(random_trees.write_tree(tmp_path / str(seed), seed)).catalogue
        for programme in catalogue.programmes.values():
            for version in programme.versions:
                for facts in computed_sessions(catalogue, version):
                    assert facts.order.segments == running_order(facts.plan).segments


# --- what is asked of all bouts ---------------------------------------------------------------------------


def every_bout(order: RunningOrder) -> Iterator[tuple[PlannedStation, Number, Number, Number]]:
    """Bout by bout, each lap by itself."""
    for starts, bouts, seconds, times in order.laps():
        for lap in range(times):
            now = starts + lap * seconds
            for station, begins, ends, seconds_of_work in bouts:
                yield station, now + begins, now + ends, seconds_of_work


@given(sessions())
def test_short_rests_are_those_that_a_look_at_every_bout_finds(session: PlannedSession) -> None:
    ended: dict[str, Number] = {}
    least: dict[PlannedStation, Number] = {}
    for station, starts, ends, _ in every_bout(running_order(session)):
        if station.section == "day":
            lands_high = station.landing == "high" and station.contacts > 0
            enough = LEAST_REST_AFTER_HIGH_LANDINGS if lands_high else LEAST_REST
            rest = starts - ended.get(station.exercise, starts - enough)
            if rest < least.get(station, enough):
                least[station] = rest
            ended[station.exercise] = ends
    assert dict(_short_rests(running_order(session))) == least


@given(sessions())
def test_the_first_late_jump_is_the_one_that_a_look_at_every_bout_finds(session: PlannedSession) -> None:
    bouts = list(every_bout(running_order(session)))
    half = TIRED * sum(seconds for station, _, _, seconds in bouts if station.section == "day")
    done, other, found = Decimal(0), Decimal(0), None
    for station, _, _, seconds in bouts:
        if lands_hard(station) and done > half and other:
            found = station
            break
        if station.section == "day":
            done += seconds
            other += 0 if lands_hard(station) else seconds
    assert _late_jump(running_order(session)) == found


# --- words ------------------------------------------------------------------------------------------------


def slipped(word: str, rng: random.Random) -> str:
    """A letter lost, added or moved, up to three times."""
    letters = list(word)
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(letters) + 1)
        if rng.random() < 0.4:
            letters.insert(at, rng.choice("abcdefgh-"))
        elif letters:
            one = letters.pop(at % len(letters))
            if rng.random() < 0.5:
                letters.insert(max(0, at - 1), one)
    return "".join(letters)


def in_common(one: str, other: str) -> int:
    """Letters of the longest common subsequence, by the table of the textbooks (Wagner & Fischer 1974)."""
    row = [0] * (len(other) + 1)
    for a in one:
        before = row[:]
        for at, b in enumerate(other, 1):
            row[at] = before[at - 1] + 1 if a == b else max(before[at], row[at - 1])
    return row[-1]


def test_the_nearest_word_is_the_one_that_python_finds_nearest() -> None:
    """Against `difflib.get_close_matches` of Python's library, on slips of the demo's exercise ids.

    That one looks for long pieces first, which may miss letters: another word has to have more in common.
    """
    others = 0
    rng = random.Random(1)
    known = sorted(path.stem for path in Path(__file__).parents[2].glob("programmes/exercises/*.yaml"))
    assert len(known) > 30
    for _ in range(400):
        word = slipped(rng.choice(known), rng)
        begun = [one for one in known if word.startswith(one)]
        close = begun if len(begun) == 1 else difflib.get_close_matches(word, known, n=1, cutoff=0.6)
        found = re.fullmatch(r'did you mean "(.*)"\?|', nearest(word, known))
        assert found
        if (found[1] or "") != (close[0] if close else ""):
            shares = [2 * in_common(word, one) / (len(word) + len(one)) for one in (found[1], close[0])]
            assert shares[0] > shares[1], word
            others += 1
    assert others < 4


def test_a_slip_is_found_among_thousands_of_words() -> None:
    rng = random.Random(2)
    known = sorted({"".join(rng.choices("abcdefghijklmnopqrstuvwxyz", k=12)) for _ in range(5000)})
    for word in rng.sample(known, 40):
        at = rng.randrange(1, 11)
        assert nearest(word[:at] + word[at + 1 :], known) == f'did you mean "{word}"?'


@given(st.lists(st.text("ab", min_size=1, max_size=4), unique=True, max_size=14))
def test_the_first_word_that_is_one_slip_away_is_found_without_trying_all_pairs(words: list[str]) -> None:
    words = sorted(words)
    pairs = {word: next((other for other in words if one_slip(word, other)), None) for word in words}
    assert _first_like(words) == {word: like for word, like in pairs.items() if like}


# --- loads ------------------------------------------------------------------------------------------------


@given(
    st.lists(st.integers(1, 9000), min_size=1, max_size=5),
    st.lists(st.integers(1, 60_000), min_size=1, max_size=6),
)
def test_a_load_is_reached_where_there_is_a_recipe(grams: list[int], loads: list[int]) -> None:
    items = [{"item": f"thing {n}", "mass": f"{gram / 1000:.3f} kg"} for n, gram in enumerate(grams)]
    kit = Kit(Club.model_validate({"club": "c", "kit": items}))
    for load_in_grams in islice(loads, 6):
        kg = Decimal(load_in_grams) / 1000
        assert kit.reaches(kg) == (kit.recipe(kg) is not None)
