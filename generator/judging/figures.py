"""Whether figures show what a body can do, and whether easier and harder are in the order of their shares."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawing.mannequin.breaks import breaks
from ..drawing.mannequin.captions import captions
from ..drawing.mannequin.shares import kneels, share
from ..reading.catalogue import Catalogue, Entry
from ..reading.findings import Fault, Finding, Path, Severity
from ..reading.model import Exercise
from .sources import COMMON_PRACTICE, FIGURE_MODEL, cited

_NO_COUNTS = "no position at: high or low, so it cannot move in the tempo of a dose"
_MARK = "mark the highest position with at: high and the lowest with at: low"
_MEND = "move the option to the other list, or mend the figures"
LEEWAY = 0.02
"""Share of body weight by which an easier exercise may carry more: the model is no finer."""
MOST_POSITIONS = 2_000
"""Bound on the positions of all figures, each of which takes some milliseconds."""
_Carried = tuple[float | None, bool]
KNEELING = 0.10
"""The same between one on the knees and one on the feet: so far off the model is for the knees."""


def figure_findings(catalogue: Catalogue) -> Iterator[Finding]:
    """What is wrong with the figures of all exercises, each in its exercise's file."""
    too_many = _too_many_positions(catalogue)
    if too_many:
        yield too_many
        return
    carried: dict[str, _Carried] = {}
    for entry in catalogue.exercises.values():
        yield from _of_a_figure(entry)
        if entry.model.easier or entry.model.harder:
            for path, message in _steps_the_wrong_way(catalogue, entry, carried):
                fault = Fault("ladder-order", path, message, _MEND)
                yield entry.document.finding(fault, "warning", entry.id, cited(FIGURE_MODEL))


def _too_many_positions(catalogue: Catalogue) -> Finding | None:
    total = 0
    for entry in catalogue.exercises.values():
        total += len(entry.model.figure.positions) if entry.model.figure else 0
        if total > MOST_POSITIONS:
            message = f"with it the figures of the whole tree have more than {MOST_POSITIONS:,} positions"
            fault = Fault("value", ("figure", "positions"), message, "take figures out, or positions")
            return entry.document.finding(fault)
    return None


def _of_a_figure(entry: Entry[Exercise]) -> Iterator[Finding]:
    figure = entry.model.figure
    for one in (*breaks(figure), *captions(entry.model)) if figure else ():
        fault = Fault("figure", one.path, one.what, one.hint)
        severity: Severity = "warning" if one.grave else "note"
        yield entry.document.finding(fault, severity, entry.id, cited(COMMON_PRACTICE))
    if entry.model.tempo and figure and len(figure.positions) > 1 and not any(p.at for p in figure.positions):
        fault = Fault("figure", ("figure", "positions"), _NO_COUNTS, _MARK)
        yield entry.document.finding(fault, "note", entry.id, cited(COMMON_PRACTICE))


def _carry(entry: Entry[Exercise], carried: dict[str, _Carried]) -> _Carried:
    """The share of an exercise and whether it is done on the knees, worked out once for a tree."""
    if entry.id not in carried:
        carried[entry.id] = share(entry.model), kneels(entry.model)
    return carried[entry.id]


def _steps_the_wrong_way(
    catalogue: Catalogue, entry: Entry[Exercise], carried: dict[str, _Carried]
) -> Iterator[tuple[Path, str]]:
    own, kneeling = _carry(entry, carried)
    for way in ("easier", "harder"):
        for index, option in enumerate(getattr(entry.model, way)):
            other = catalogue.exercises.get(option.exercise or "")
            if other is None or other.model.pattern != entry.model.pattern or own is None:
                continue
            theirs, kneels_too = _carry(other, carried)
            if theirs is None:
                continue
            more = theirs - own if way == "easier" else own - theirs
            if more > (LEEWAY if kneeling == kneels_too else KNEELING):
                message = (
                    f"{other.id} is given as {way}, but its hands carry about {_percent(theirs)} of body "
                    f"weight and those of this exercise about {_percent(own)} (estimate, adult data)"
                )
                yield (way, index, "exercise"), message


def _percent(part: float) -> str:
    return f"{part * 100:.0f} %"
