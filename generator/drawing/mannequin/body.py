"""The jointed body: published segment lengths, masses and mass centres, and how far joints go.

One table of lengths and one of masses, both as Winter prints them; no other table is mixed in. They are
averages of adults. Children differ: a longer head, shorter legs (Jensen 1986).
"""

from __future__ import annotations

from typing import NamedTuple

STATURE = 150.0
"""Height of the drawn figure in cm. Things in the picture are measured on the same scale."""

LENGTHS_SOURCE = (
    "Drillis R, Contini R (1966). Body Segment Parameters, NYU TR 1166.03, as in Winter DA (2009). "
    "Biomechanics and Motor Control of Human Movement, 4th ed., Fig. 4.1."
)
LENGTHS = {
    "ankle height": 0.039,
    "shank": 0.246,
    "thigh": 0.245,
    "trunk": 0.288,
    "upper arm": 0.186,
    "forearm": 0.146,
    "hand": 0.108,
    "foot": 0.152,
    "neck": 0.052,
    "head": 0.130,
    "shoulder breadth": 0.259,
    "hip breadth": 0.191,
    "foot breadth": 0.055,
    "knee height": 0.285,
    "hip height": 0.530,
    "shoulder height": 0.818,
}
"""Fractions of stature. The head's is from memory."""


class Segment(NamedTuple):
    """Share of the body's mass, and where its centre lies: a fraction of the length from the proximal end."""

    mass: float
    centre: float


MASSES_SOURCE = (
    "Winter DA (2009). Biomechanics and Motor Control of Human Movement, 4th ed., Table 4.1 (after Dempster)."
)
SEGMENTS = {
    "hand": Segment(0.006, 0.506),
    "forearm": Segment(0.016, 0.430),
    "upper arm": Segment(0.028, 0.436),
    "foot": Segment(0.0145, 0.500),
    "shank": Segment(0.0465, 0.433),
    "thigh": Segment(0.100, 0.433),
    "trunk, head and neck": Segment(0.578, 0.660),
}
"""Trunk, head and neck: from the greater trochanter (hip) towards the shoulder."""
HAT = Segment(0.678, 0.626)
"""Head, arms and trunk as one, on the same length: the same table's row for all that the legs carry."""
PAIRED = ("hand", "forearm", "upper arm", "foot", "shank", "thigh")

TOES = 0.08
"""Fractions of stature. From the ankle forward to where raised heels let the foot press; a choice of ours."""
HEEL = 0.038
"""From the ankle back to the end of the heel: a quarter of the foot; a choice of ours."""

HIPS = 0.104
"""Fraction of stature between the middles of the hip joints: breadths above are of the whole body. From memory, after
Bell AL et al. (1990), J Biomech 23:617: 0.72 of the distance of the iliac spines."""
SHOULDERS = 0.214
"""The same between the shoulder joints: the breadth less half an arm on either side; a choice of ours."""

PALM = 0.0248
"""Fraction of stature from the wrist to where the hand presses: half of the way to the knuckles, 86.2 mm of 1741 mm in
de Leva P (1996), J Biomech 29:1223, men; both lengths from memory."""


def length(name: str) -> float:
    """A segment's length in cm on the drawn figure. Raises KeyError."""
    return LENGTHS[name] * STATURE


RANGES_SOURCE = (
    "normal ranges after the American Academy of Orthopaedic Surgeons (1965), from memory; "
    "the ankle under load, and 20 degrees of hip and shoulder that pelvis and shoulder blade add, "
    "are common practice, no source"
)
RANGES = {
    "lean": (-180.0, 180.0),
    "tilt": (-100.0, 100.0),
    "twist": (-60.0, 60.0),
    "neck": (-60.0, 50.0),
    "hip": (-30.0, 140.0),
    "hip out": (-30.0, 60.0),
    "hip turn": (-45.0, 60.0),
    "knee": (-5.0, 150.0),
    "ankle": (-60.0, 45.0),
    "heel": (0.0, 100.0),
    "shoulder": (-75.0, 185.0),
    "shoulder out": (-50.0, 180.0),
    "shoulder turn": (-110.0, 110.0),
    "elbow": (-5.0, 155.0),
}
"""Degrees, by the names of the file format."""
