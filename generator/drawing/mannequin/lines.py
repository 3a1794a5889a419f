"""What a drawing is made of: named lines on the picture's plane, and limbs that are drawn as one."""

from __future__ import annotations

from typing import NamedTuple

from .camera import Point


class Line(NamedTuple):
    """One path of one or more strokes of joined points; `kind` is how thick it is and whether it is filled."""

    name: str
    kind: str
    strokes: tuple[tuple[Point, ...], ...]

    @property
    def points(self) -> tuple[Point, ...]:
        """All of its points."""
        return tuple(point for stroke in self.strokes for point in stroke)


class Limb(NamedTuple):
    """Lines that are drawn as one, so that no joint of it is parted. `look`: see `LOOKS`."""

    look: str
    lines: tuple[Line, ...]


LOOKS = {"plain": ("",), "near": ("h", ""), "far": ("h", "", "b"), "back": ("", "b")}
"""How often a limb is drawn, each time over the former: h leaves a gap round it, b leaves it hollow."""
CLOSED = ("trunk", "foot", "bag", "mat", "solid")
