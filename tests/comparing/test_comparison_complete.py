"""No difference between two plans is overlooked: another fingerprint has words, an equal one has none."""

from dataclasses import fields, replace
from decimal import Decimal
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from phasepress.comparing import Side, compare, side
from phasepress.comparing.changes import changes
from phasepress.computing.fingerprint import fingerprint, resolved
from phasepress.computing.phases import computed_sessions
from phasepress.computing.resolve import PlannedBlock, PlannedSession, PlannedStation, sessions
from phasepress.reading.amounts import tempo
from phasepress.reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry

from tests.fixtures import trees
from tests.oracle.trees import write_tree

SEEDS = range(8)
OTHER: dict[str, Any] = {
    "exercise": "march",
    "sides": "each",
    "measure": "time",
    "landing": "high",
    "tempo": tempo("1-1-1-1"),
    "kind": "circuit",
}
"""Values that no first station and no first block of the good tree's days has; other fields are numbers."""
WORDS = ("label", "section", "pattern", "stations")


def version_of(catalogue: Catalogue, name: str = "1.0") -> VersionEntry:
    version = catalogue.programmes["home"].version(name)
    assert version is not None
    return version


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    return trees.checked(trees.copy_of_good(tmp_path_factory.mktemp("good"))).catalogue


def other(name: str, value: Any) -> Any:
    return OTHER[name] if name in OTHER else (value or 0) + 1


def with_last_block(plan: PlannedSession, block: PlannedBlock) -> PlannedSession:
    return replace(plan, blocks=(*plan.blocks[:-1], block))


def assert_told(
    catalogue: Catalogue, new: list[PlannedSession], old: list[PlannedSession] | None = None
) -> None:
    version = version_of(catalogue)
    old = old or list(sessions(catalogue, version))
    assert fingerprint(resolved(version, old)) != fingerprint(resolved(version, new))
    found = changes(version, old, version, new)
    assert found
    assert all(change.before != change.after for change in found)


@pytest.mark.parametrize("name", [name for name in PlannedStation._fields if name not in WORDS])
def test_every_value_of_a_station_that_is_another_is_told(name: str, catalogue: Catalogue) -> None:
    plans = list(sessions(catalogue, version_of(catalogue)))
    for at, plan in enumerate(plans):
        block = plan.blocks[-1]
        station = block.stations[-1]
        if name == "metres":
            station = station._replace(measure="distance", metres=10)
        changed = station._replace(**{name: other(name, getattr(station, name))})
        if changed == station:
            continue
        old, new = (
            [
                *plans[:at],
                with_last_block(plan, replace(block, stations=(*block.stations[:-1], one))),
                *plans[at + 1 :],
            ]
            for one in (station, changed)
        )
        assert_told(catalogue, new, old)


@pytest.mark.parametrize("name", [field.name for field in fields(PlannedBlock) if field.name not in WORDS])
def test_every_value_of_a_block_that_is_another_is_told(name: str, catalogue: Catalogue) -> None:
    plans = list(sessions(catalogue, version_of(catalogue)))
    at = next(n for n, plan in enumerate(plans) if plan.blocks[-1].kind == "every minute")
    block = plans[at].blocks[-1]
    changed = replace(block, **{name: other(name, getattr(block, name))})
    # A block of every minute has no rest and no changeover of its own: these hold for the other kinds.
    if name in ("rest", "changeover"):
        at = next(n for n, plan in enumerate(plans) if plan.blocks[-2].kind == "straight sets")
        changed = replace(changed, kind="circuit")
    assert_told(catalogue, [*plans[:at], with_last_block(plans[at], changed), *plans[at + 1 :]])


def test_half_a_second_is_told(catalogue: Catalogue) -> None:
    plans = list(sessions(catalogue, version_of(catalogue)))
    block = plans[0].blocks[-1]
    changed = replace(block, rest_after=block.rest_after + Decimal("0.5"))
    assert_told(catalogue, [with_last_block(plans[0], changed), *plans[1:]])


def sides(catalogue: Catalogue, programme: ProgrammeEntry) -> list[Side]:
    return [
        side(catalogue, version, tuple(computed_sessions(catalogue, version)))
        for version in programme.versions
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_any_two_versions_can_be_compared_and_only_equal_plans_have_no_difference(
    seed: int, tmp_path: Path
) -> None:
    """Trees of every shape that the format allows, of phases that have nothing to do with each other."""
    write_tree(tmp_path / "programmes", seed)
    catalogue = trees.checked(tmp_path / "programmes").catalogue
    every = [one for programme in catalogue.programmes.values() for one in sides(catalogue, programme)]
    assert every
    for before, now in product(every, every):
        plans = [[one.plan for one in each.facts] for each in (before, now)]
        marks = [
            fingerprint(resolved(each.version, own)) for each, own in zip((before, now), plans, strict=True)
        ]
        found = changes(before.version, plans[0], now.version, plans[1])
        assert bool(found) == (marks[0] != marks[1])
        compared = compare(before, now)
        for told in compared.told:
            assert all(line and "None" not in line for line in told.lines)
        if before is now:
            assert compared.equal
            assert all(not d.more for row in compared.rows for d in row.totals.values())
