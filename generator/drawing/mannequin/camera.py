"""From where a figure is looked at: points of space on the picture's plane, and how near they are. Pure."""

from __future__ import annotations

from math import cos, radians, sin

from ...reading.model.figure import Figure
from .vectors import Vector

Point = tuple[float, float]
"""Across and down, in cm."""
STEEP = 0.5
"""From above one looks aslant, so that what is lifted leaves its shade: cm in the picture for a cm up."""
FRONT_RAISED = 14.0
"""Degrees from which the front is looked down on where the file says nothing: enough to see feet that point here."""


def project(figure: Figure, point: Vector) -> Point:
    """From the figure's right side, from its front, or from above; `turned` to its left as it says."""
    x, y, z = _turned(figure, point)
    if figure.view == "above":
        return x + STEEP * y, z - STEEP * y
    across, near = (x, z) if figure.view == "side" else (-z, x)
    raised = radians(height(figure))
    return across, near * sin(raised) - y * cos(raised)


def nearness(figure: Figure, point: Vector) -> float:
    """Cm by which a point is nearer to who looks than the origin."""
    x, y, z = _turned(figure, point)
    if figure.view == "above":
        return y
    near, raised = z if figure.view == "side" else x, radians(height(figure))
    return near * cos(raised) + y * sin(raised)


def height(figure: Figure) -> float:
    """Degrees from which one looks down on the figure."""
    if figure.raised is not None:
        return figure.raised
    return FRONT_RAISED if figure.view == "front" else 0.0


def lies(figure: Figure) -> bool:
    """Whether the floor is seen as a plane, on which a mat is drawn, and not as a line."""
    return figure.view == "above" or height(figure) > FRONT_RAISED


def _turned(figure: Figure, point: Vector) -> Vector:
    (x, y, z), angle = point, radians(figure.turned)
    return x * cos(angle) + z * sin(angle), y, z * cos(angle) - x * sin(angle)
