"""Points and directions in space: x forward, y up, z to the figure's right. Pure."""

from __future__ import annotations

from math import cos, radians, sin, sqrt

Vector = tuple[float, float, float]
ZERO: Vector = (0.0, 0.0, 0.0)
UP: Vector = (0.0, 1.0, 0.0)
AHEAD: Vector = (1.0, 0.0, 0.0)


def add(a: Vector, b: Vector, by: float = 1.0) -> Vector:
    """`a` and `by` times `b`."""
    return a[0] + by * b[0], a[1] + by * b[1], a[2] + by * b[2]


def minus(a: Vector, b: Vector) -> Vector:
    """From `b` to `a`."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def scaled(a: Vector, by: float) -> Vector:
    """`by` times `a`."""
    return a[0] * by, a[1] * by, a[2] * by


def dot(a: Vector, b: Vector) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def size(a: Vector) -> float:
    """The length."""
    return sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """The direction; that of x for a point."""
    long = size(a)
    return scaled(a, 1 / long) if long > 1e-9 else (1.0, 0.0, 0.0)


def mixed(a: Vector, b: Vector, share: float) -> Vector:
    """On the way from `a` to `b`."""
    return add(scaled(a, 1 - share), b, share)


def turned(a: Vector, b: Vector, degrees: float) -> tuple[Vector, Vector]:
    """Two directions at right angles, turned in their plane: `a` goes towards `b`, `b` away from `a`."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return add(scaled(a, c), b, s), add(scaled(b, c), a, -s)


def across(a: Vector, axis: Vector) -> Vector:
    """What of `a` lies at right angles to the direction `axis`."""
    return add(a, axis, -dot(a, axis))
