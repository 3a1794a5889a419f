"""Faults that only the computed times show: errors, in any week of any level."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from ..computing.resolve import BlockPlans, PlannedBlock
from ..computing.running_order import work_seconds
from ..reading.amounts import spoken
from ..reading.catalogue import Catalogue, VersionEntry, raw
from ..reading.catalogue.versions import phase_of
from ..reading.findings import Fault, Path
from ..reading.model import AnyBlock, EveryMinute, block_alone
from ..reading.source import Document
from .limits import MINUTE_SECONDS


def long_minutes(catalogue: Catalogue, version: VersionEntry) -> Iterator[tuple[Document, Fault]]:
    """`minute` faults of a version and of the routines it uses."""
    levels = [level.id for level in version.levels]
    for index, day in enumerate(version.model.days):
        yield from _in_blocks(catalogue, day.blocks, ("days", index), version.document, levels, version.weeks)
        for name in (day.warm_up, day.cool_down):
            if name:
                routine = catalogue.routines[name]
                blocks, document = routine.model.blocks, routine.document
                yield from _in_blocks(catalogue, blocks, (), document, levels, version.weeks)


def long_minutes_despite_faults(
    catalogue: Catalogue, document: Document, known_levels: list[str]
) -> Iterator[tuple[Document, Fault]]:
    """`minute` faults of a version that has others too, in those of its blocks that can be read."""
    phase = phase_of(document.name, document.data, known_levels)
    weeks = range(1, (phase.weeks or 0) + 1)
    for place in raw.blocks(document.data):
        block = block_alone(place.data) if place.data.get("kind") == "every minute" else None
        if isinstance(block, EveryMinute):
            yield from _in_block(catalogue, block, place.path, document, list(phase.levels), weeks)


def work_despite_faults(document: Document, known_levels: list[str]) -> int:
    """How many stations that looks at: those of every-minute blocks, for each level and week."""
    phase = phase_of(document.name, document.data, known_levels)
    blocks = (place.data for place in raw.blocks(document.data) if place.data.get("kind") == "every minute")
    stations = sum(sum(1 for _ in raw.entries(block, "stations")) for block in blocks)
    return stations * len(phase.levels) * (phase.weeks or 0)


def _in_blocks(
    catalogue: Catalogue,
    blocks: tuple[AnyBlock, ...],
    path: Path,
    document: Document,
    levels: list[str],
    weeks: range,
) -> Iterator[tuple[Document, Fault]]:
    for index, block in enumerate(blocks):
        if isinstance(block, EveryMinute):
            at = (*path, "blocks", index)
            yield from _in_block(catalogue, block, at, document, levels, weeks)


def _in_block(
    catalogue: Catalogue, block: EveryMinute, path: Path, document: Document, levels: list[str], weeks: range
) -> Iterator[tuple[Document, Fault]]:
    """One fault a station, with the first level and week in which it does not fit."""
    seen: set[str] = set()
    try:
        plans = BlockPlans(catalogue, block, "day", "A", "A")
    except LookupError:
        # A station without a dose has a fault of its own, which is reported already.
        return
    judged: set[PlannedBlock] = set()
    for level in levels:
        for week in weeks:
            # A block that cannot be resolved has faults of its own, which are reported already.
            with suppress(LookupError):
                planned = plans.at(level, week)
                if planned is None or planned in judged:
                    continue
                judged.add(planned)
                for station in planned.stations:
                    seconds = work_seconds(station)
                    if seconds > MINUTE_SECONDS and station.label not in seen:
                        seen.add(station.label)
                        message = (
                            f"{station.exercise}: {spoken(seconds)} of work for {level} in week {week}, "
                            "in a block that begins a station every minute"
                        )
                        at = (*path, "stations", int(station.label[1:]) - 1)
                        yield (
                            document,
                            Fault("minute", at, message, "take reps out, or choose another kind of block"),
                        )
