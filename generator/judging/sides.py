"""Whether an exercise with two sides says which of them is meant by left."""

from __future__ import annotations

from collections.abc import Iterator

from ..reading.catalogue import Catalogue
from ..reading.findings import Fault, Finding
from .sources import COMMON_PRACTICE, cited

_MEND = "add side is: and what is left, such as the leg in front"


def side_findings(catalogue: Catalogue) -> Iterator[Finding]:
    """A note in the file of each exercise whose sides nobody could tell apart by its words."""
    for entry in catalogue.exercises.values():
        if entry.model.sides != "both" and entry.model.side_is is None:
            message = f"sides: {entry.model.sides}, but nothing says what left means"
            fault = Fault("sides", ("sides",), message, _MEND)
            yield entry.document.finding(fault, "note", entry.id, cited(COMMON_PRACTICE))
