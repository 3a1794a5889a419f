"""The review of random squads in random trees has the figures of a second computation that shares no code with it."""

import random
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.fixtures import phases
from tests.hearing import second, squads
from tests.samples import every

LEVELS = ("starter", "steady")
WAYS = ("", "", "", "hold on", "half way")


def block(chance: random.Random) -> str:
    def amount(low: int, high: int) -> str:
        return f"{{starter: {chance.randint(low, high)}, steady: {chance.randint(low, high)}}}"

    kind = chance.choice(["circuit", "sets", "minute", "cap"])
    two = f"[{{exercise: squat, reps: {amount(0, 8)}}}, {{exercise: split, reps: {chance.randint(2, 6)}}}]"
    if kind == "circuit":
        return f"{{kind: circuit, rounds: {amount(1, 4)}, stations: {two}}}"
    if kind == "minute":
        return f"{{kind: every minute, minutes: {chance.randint(1, 7)}, stations: {two}}}"
    if kind == "cap":
        return f"{{kind: timed rounds, lasts: {chance.randint(20, 200)} s, stations: {two}}}"
    return phases.sets(
        f"push, sets: {amount(1, 4)}, reps: 6", f"plank, sets: {chance.randint(1, 2)}, hold: 20 s"
    )


def planted(to: Path, chance: random.Random) -> Path:
    """Two phases with a week between them, the first in two editions."""
    days = lambda: [  # noqa: E731
        phases.day(
            *[block(chance) for _ in range(chance.randint(1, 3))],
            phases.sets("pull, sets: 2, reps: 5"),
            name=name,
            on=on,
        )
        for name, on in (("day", "[mon, thu]"), ("other", "[sat]"))
    ]
    versions = {
        "1.0": phases.version(*days(), weeks=3),
        "1.1": phases.version(*days(), weeks=3),
        "2.0": phases.version(*days(), weeks=2, starts="2027-02-08", keys="levels: [steady]").replace(
            "starter: ", "other: "
        ),
    }
    return phases.planted(to, versions, phases.TWO_LEVELS)


def records(chance: random.Random, name: str) -> list[squads.Record]:
    """Sessions of one athlete, whose level may change in mid-phase."""
    made = []
    for number in range(chance.randint(1, 14)):
        version = chance.choice(["1.0", "1.1", "1.1", "2.0"])
        level = "steady" if version == "2.0" else chance.choice(LEVELS)
        week = chance.randint(1, 2 if version == "2.0" else 3)
        day = chance.choice(["day", "other"])
        moment = datetime(2027, 1, 9, tzinfo=UTC) + timedelta(minutes=chance.randrange(50 * 24 * 60))
        labels = [f"{letter}{place}" for letter in "ABCD" for place in (1, 2)]
        stations = [
            squads.bout(chance.choice([*labels, "warm-up 1"]), chance.randint(0, 6), chance.choice(WAYS))
            for _ in range(chance.choice([0, 3, 12, 30]))
        ]
        made.append(
            squads.record(
                version=version,
                id=f"{name}-{number}",
                address=f"trial/{version}/{day}/{level}/week-{week}/",
                level=level,
                week=week,
                **{"day": day},
                started=int(moment.timestamp() * 1000),
                utc=chance.choice([-720, -210, 0, 60, 840]),
                seconds=chance.choice([0, 900, 2700, 1234.5]),
                effort=chance.choice([None, 0, 3, 6, 10]),
                stations=stations,
            )
        )
    return made


@pytest.mark.parametrize("seed", every(range(25), few=8))
def test_the_figures_of_a_random_squad_are_those_of_the_second_computation(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    tree = planted(tmp_path, chance)
    squad = {f"a{number}": records(chance, f"a{number}") for number in range(chance.randint(1, 5))}
    answer = squads.reviewed(tmp_path, {f"{name}.json": own for name, own in squad.items()}, tree)
    assert squads.faults(answer) == []
    plan = second.Plan(tree)
    for one in answer["athletes"]:
        weeks = {week.pop("monday"): week for week in one["weeks"]}
        close(weeks, second.athlete(squad[one["athlete"]], plan))
    found: dict[tuple[str, ...], list[Any]] = {}
    for row in answer["stations"]:
        key = tuple(row[name] for name in ("programme", "version", "day", "level", "station"))
        found[key] = [row[name] for name in ("planned", "done", "easier", "skipped", "ways")]
    assert found == second.stations([one for own in squad.values() for one in own], plan)


def close(found: dict[str, dict[str, Any]], expected: dict[str, dict[str, Any]]) -> None:
    assert found.keys() == expected.keys()
    for monday, week in found.items():
        assert week == {name: pytest.approx(value) for name, value in expected[monday].items()}, monday


def test_the_second_computation_notices_a_figure_that_is_off(tmp_path: Path) -> None:
    tree = squads.tree(tmp_path)
    records = [squads.record(), squads.record(2, 3)]
    expected = second.athlete(records, second.Plan(tree))
    [one] = squads.reviewed(tmp_path, {"kim.json": [*records, squads.record(3, 4)]}, tree)["athletes"]
    with pytest.raises(AssertionError):
        close({week.pop("monday"): week for week in one["weeks"]}, expected)


def test_the_second_computation_reads_a_date_by_the_athletes_clock() -> None:
    assert second.day_of(squads.record(1, 6, utc=13 * 60)) == date(2027, 1, 18)
