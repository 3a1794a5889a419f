"""Runs cases, makes those that find something smaller, and says how to run one again alone."""

import shutil
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tests.fuzz.judge import Found
from tests.fuzz.kinds import KINDS, Kind


@dataclass
class Tally:
    """What became of the cases of one kind: how they went, and the first case of each rule that was broken."""

    went: Counter[str] = field(default_factory=Counter)
    broken: dict[str, str] = field(default_factory=dict)


def again(kind: Kind, seed: int, steps: Sequence[int]) -> str:
    """How to run a case alone."""
    numbers = ",".join(map(str, steps))
    return f".venv/bin/python -m tests.fuzz {kind.name}:{seed}:{numbers}"


def attempt(kind: Kind, seed: int, steps: Sequence[int]) -> tuple[str, Found | None]:
    """How a case went, and what it found."""
    try:
        return kind.run(seed, steps), None
    except Found as found:
        return "found", found


def smaller(kind: Kind, seed: int, steps: Sequence[int], found: Found) -> tuple[Sequence[int], Found]:
    """The case without the steps that it does not need to break the same rule."""
    for step in steps:
        fewer = [one for one in steps if one != step]
        _, other = attempt(kind, seed, fewer)
        if other and other.rule == found.rule:
            steps, found = fewer, other
    return steps, found


def many(kind: Kind, seeds: Iterable[int]) -> Tally:
    """Run a case for each seed."""
    tally = Tally()
    for seed in seeds:
        went, found = attempt(kind, seed, kind.steps(seed))
        tally.went[went] += 1
        if found and found.rule not in tally.broken:
            steps, found = smaller(kind, seed, kind.steps(seed), found)
            tally.broken[found.rule] = f"{found}\n  alone: {again(kind, seed, steps)}"
    return tally


def opened(name: str, room: Path) -> Kind:
    """A kind of this name whose cases lie below the folder `room`, which is emptied."""
    shutil.rmtree(room, ignore_errors=True)
    room.mkdir(parents=True)
    return KINDS[name](room / name)
