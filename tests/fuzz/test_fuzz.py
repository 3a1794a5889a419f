"""Cases of every kind from fixed seeds: the same in every run, bounded by their number. `make fuzz` tries new ones."""

from pathlib import Path

import pytest

from tests.fuzz.kinds import KINDS
from tests.fuzz.trying import many, opened
from tests.samples import every, size

CASES = {
    "check": 200,
    "report": 60,
    "order": 40,
    "base": 60,
    "gate": 40,
    "build": 6,
    "log": 300,
    "review": 30,
}
ENOUGH = {
    "check": "status 0",
    "report": "status 0",
    "order": "status 0",
    "base": "status 0",
    "build": "status 0",
    "log": "brought in",
    "review": "status 0",
}
"""How some of the cases must go, or the kind tries only what is refused at the first look. (At the gate nothing may pass.)"""


@pytest.mark.parametrize("name", KINDS)
def test_whatever_a_stranger_sends_the_rules_hold(name: str, tmp_path: Path) -> None:
    kind = opened(name, tmp_path / "room")
    try:
        seeds = every(range(CASES[name]), few=max(3, CASES[name] // 8))
        tally = many(kind, seeds)
    finally:
        kind.close()
    assert not tally.broken, "\n\n".join(tally.broken.values())
    if name in ENOUGH:
        assert tally.went[ENOUGH[name]] >= max(1, len(seeds) // 20)
    assert tally.went.total() == len(seeds)


@pytest.mark.parametrize("name", every(["check", "base", "log"], few=["base", "log"]))
def test_a_case_is_the_same_in_every_run(name: str, tmp_path: Path) -> None:
    went = []
    for number in range(2):
        kind = opened(name, tmp_path / str(number))
        went.append([kind.run(seed, kind.steps(seed)) for seed in range(300, 300 + size(6, few=3))])
        kind.close()
    assert went[0] == went[1]
