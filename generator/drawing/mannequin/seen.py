"""What of a body is in front of what, said once for all poses of a movement. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ...reading.model.figure import Figure
from .camera import flat, lies, nearness, project
from .pose import SIDES, Pose
from .vectors import minus, size


class Seen(NamedTuple):
    """Names of the limbs behind the trunk and before it, from the farthest on, and whether the face shows."""

    behind: tuple[str, ...]
    before: tuple[str, ...]
    face: bool


_LEGS_BACK, _ARMS_FORTH = 8.0, 6.0
"""Cm in doubt: a leg rather joins the trunk, an arm rather lies before it."""
_APART = 0.25
"""Cm by which a far limb has to leave the near one to be seen."""
_FACES = -0.35
"""How far a face may be turned away, as a cosine, and is still seen."""


def seen(figure: Figure, poses: Sequence[Pose]) -> Seen:
    """The order that is right for all these poses."""
    face = _sees_face(figure, poses)
    if flat(figure):
        behind = [f"left {end}" for end in ("arm", "leg") if not _hidden(figure, poses, end)]
        return Seen(tuple(behind), ("right leg", "right arm"), face)
    near = {}
    for side in SIDES:
        near[f"{side} leg"] = _before(figure, poses, f"{side} knee", f"{side} ankle") - _LEGS_BACK
        near[f"{side} arm"] = _before(figure, poses, f"{side} elbow", f"{side} wrist") + _ARMS_FORTH
    names = sorted(near, key=lambda name: near[name])
    if lies(figure):
        behind = [name for name in names if near[name] < 0]
    else:
        # Who stands has the trunk over both legs.
        legs = [name for name in names if name.endswith("leg")]
        behind = [*(name for name in names if near[name] < 0 and name not in legs), *legs]
    return Seen(tuple(behind), tuple(name for name in names if name not in behind), face)


def _hidden(figure: Figure, poses: Sequence[Pose], end: str) -> bool:
    """Whether a far limb is behind the near one in all poses, so that nobody would miss it."""
    joints = ("hip", "knee", "ankle", "toe") if end == "leg" else ("shoulder", "elbow", "wrist", "fingers")
    return all(
        abs(a - b) < _APART
        for pose in poses
        for joint in joints
        for a, b in zip(*(project(figure, pose.at[f"{side} {joint}"]) for side in SIDES), strict=True)
    )


def _before(figure: Figure, poses: Sequence[Pose], *joints: str) -> float:
    """Cm by which joints are nearer than the trunk, as a mean over all poses."""
    total = 0.0
    for pose in poses:
        ends = [nearness(figure, pose.at[joint]) for joint in joints]
        trunk = [nearness(figure, pose.at[joint]) for joint in ("pelvis", "chest")]
        total += sum(ends) / len(ends) - sum(trunk) / 2
    return total / len(poses)


def _sees_face(figure: Figure, poses: Sequence[Pose]) -> bool:
    """Whether the face is turned here, as a mean over all poses."""
    total = 0.0
    for pose in poses:
        nose, head = (nearness(figure, pose.at[name]) for name in ("nose", "head"))
        total += (nose - head) / size(minus(pose.at["nose"], pose.at["head"]))
    return total / len(poses) > _FACES
