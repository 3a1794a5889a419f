"""Whether figures show what a body can do, and whether easier and harder are in the order of their shares."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawing.mannequin.breaks import breaks
from ..drawing.mannequin.shares import kneels, share
from ..reading.catalogue import Catalogue
from ..reading.findings import Fault, Finding, Path, Severity
from ..reading.model import Exercise
from .sources import COMMON_PRACTICE, FIGURE_MODEL, cited

_NO_COUNTS = "no position at: high or low, so it cannot move in the tempo of a dose"
_MARK = "mark the highest position with at: high and the lowest with at: low"
_MEND = "move the option to the other list, or mend the figures"
LEEWAY = 0.02
"""Share of body weight by which an easier exercise may carry more: the model is no finer."""
KNEELING = 0.10
"""The same between one on the knees and one on the feet: so far off the model is for the knees."""


def figure_findings(catalogue: Catalogue) -> Iterator[Finding]:
    """What is wrong with the figures of all exercises, each in its exercise's file."""
    for entry in catalogue.exercises.values():
        figure = entry.model.figure
        for one in breaks(figure) if figure else ():
            fault = Fault("figure", one.path, one.what, one.hint)
            severity: Severity = "warning" if one.grave else "note"
            yield entry.document.finding(fault, severity, entry.id, cited(COMMON_PRACTICE))
        if (
            entry.model.tempo
            and figure
            and len(figure.positions) > 1
            and not any(p.at for p in figure.positions)
        ):
            fault = Fault("figure", ("figure", "positions"), _NO_COUNTS, _MARK)
            yield entry.document.finding(fault, "note", entry.id, cited(COMMON_PRACTICE))
        for path, message in _steps_the_wrong_way(catalogue, entry.model):
            fault = Fault("ladder-order", path, message, _MEND)
            yield entry.document.finding(fault, "warning", entry.id, cited(FIGURE_MODEL))


def _steps_the_wrong_way(catalogue: Catalogue, exercise: Exercise) -> Iterator[tuple[Path, str]]:
    own = share(exercise)
    for way in ("easier", "harder"):
        for index, option in enumerate(getattr(exercise, way)):
            other = catalogue.exercises.get(option.exercise or "")
            if other is None or other.model.pattern != exercise.pattern or own is None:
                continue
            theirs = share(other.model)
            if theirs is None:
                continue
            more = theirs - own if way == "easier" else own - theirs
            if more > (LEEWAY if kneels(exercise) == kneels(other.model) else KNEELING):
                message = (
                    f"{other.id} is given as {way}, but its hands carry about {_percent(theirs)} of body "
                    f"weight and those of this exercise about {_percent(own)} (estimate, adult data)"
                )
                yield (way, index, "exercise"), message


def _percent(part: float) -> str:
    return f"{part * 100:.0f} %"
