"""What the archive says of doses that it has no room for: "more" only where some stand above."""

from types import SimpleNamespace

import pytest
from phasepress.publishing.templates import Templates

ROW = {
    "name": "2.0", "phase": "Load", "dates": "January", "address": "plan/2.0/", "plan": "abc", "changes": "",
    "change": SimpleNamespace(before=SimpleNamespace(words="version 1.0"), weeks=()),
}  # fmt: skip
PROGRAMME = SimpleNamespace(id="plan", model=SimpleNamespace(title="Plan"))


@pytest.mark.parametrize(
    ("lines", "left", "says"),
    [
        (("Sit: 8 → 9 reps",), 3, "And 3 more, on the page of 2.0"),
        ((), 3, "3 doses over all weeks, on the page of 2.0"),
        ((), 1, "1 dose over all weeks, on the page of 2.0"),
        ((), 0, "No dose and no time."),
    ],
)
def test_more_is_said_only_below_something(lines: tuple[str, ...], left: int, says: str) -> None:
    row = SimpleNamespace(**ROW, lines=lines, left=left)
    text = Templates().text("versions.html", "plan/versions/", programme=PROGRAMME, rows=[row])
    assert says in text
    assert (" more," in text) == bool(lines)
