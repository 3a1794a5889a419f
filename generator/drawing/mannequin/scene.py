"""A pose as limbs on the picture's plane: which, in what order, how thick. Pure.

From the side near limbs are solid and far limbs hollow, so that they are told apart without colour. The head has a
pale face, so that it is seen where it looks: face up, face down, to the side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...reading.model.figure import Figure
from .camera import Point, lies, nearness, project
from .lines import Limb, Line
from .pose import SIDES, Pose
from .vectors import UP, Vector, add, minus, mixed, scaled, size, unit

_SIDE = ((-0.07, -4), (0.05, 5), (0.72, 8), (0.98, 2), (0.98, -4), (0.7, -7), (0.12, -8))
"""The trunk from the side: shares of the way from hip to shoulder, and cm forward; the line round it is thick."""
_FRONT = ((-0.07, 9.5), (0.1, 11), (0.42, 8.5), (0.75, 12), (0.97, 14), (1.07, 4))
"""The trunk from the front: the same shares, and cm to either side."""
_SOLE = 2.4
"""Cm from the sole to the middle of the line that draws it."""
_FACES = -0.35
"""How far a face may be turned away, as a cosine, and is still seen."""


def body_lines(figure: Figure, pose: Pose) -> list[Line]:
    """All lines of a pose, those of the farthest limb first."""
    return [line for limb in body_limbs(figure, pose, [pose]) for line in limb.lines]


def body_limbs(figure: Figure, pose: Pose, all_poses: Sequence[Pose]) -> list[Limb]:
    """A pose from the farthest to the nearest limb, in an order that is right for the poses it moves through."""
    draw = _Draw(figure, pose, all_poses)
    shades = [Limb("plain", tuple(draw.shades()))] if lies(figure) else []
    trunk, head = Limb("plain", (draw.trunk(),)), draw.head()
    held = [Limb(_HELD[line.kind], (line,)) for line in _held(figure, pose)]
    limbs = {f"{side} {end}": getattr(draw, end)(side) for side in SIDES for end in ("leg", "arm")}
    behind, before = draw.order()
    arms_last = [limbs[name] for name in before if name.endswith("arm")]
    legs_first = [limbs[name] for name in before if name.endswith("leg")]
    middle = [trunk, *head, *legs_first] if not draw.flat else [*legs_first, trunk, *head]
    under = held if "head" in figure.holds.values() else []
    over = [] if under else held
    return [*shades, *under, *(limbs[name] for name in behind), *middle, *over, *arms_last]


class _Draw:
    def __init__(self, figure: Figure, pose: Pose, all_poses: Sequence[Pose]) -> None:
        self.figure, self.pose, self.all = figure, pose, all_poses
        self.flat = figure.view == "side" and not lies(figure) and abs(figure.turned) < _ASKEW
        """From the side: limbs are near or far, and near legs and trunk are one shape."""

    def line(self, name: str, kind: str, *strokes: Sequence[Vector]) -> Line:
        return Line(
            name, kind, tuple(tuple(project(self.figure, point) for point in stroke) for stroke in strokes)
        )

    def order(self) -> tuple[list[str], list[str]]:
        """Names of the limbs behind the trunk and before it, each from the farthest to the nearest."""
        found = {}
        for side in SIDES:
            found[f"{side} leg"] = self._before(f"{side} knee", f"{side} ankle") - _LEGS_BACK
            found[f"{side} arm"] = self._before(f"{side} elbow", f"{side} wrist") + (0 if self.flat else _ARMS_FORTH)
        if self.flat:
            return ["left arm", "left leg"], ["right leg", "right arm"]
        names = sorted(found, key=lambda name: found[name])
        if not lies(self.figure):
            legs, arms = ([name for name in names if name.endswith(end)] for end in ("leg", "arm"))
            return [*(name for name in arms if found[name] < 0), *legs], [name for name in arms if found[name] >= 0]
        return [name for name in names if found[name] < 0], [name for name in names if found[name] >= 0]

    def _before(self, *joints: str) -> float:
        """Cm by which joints are nearer than the trunk, as a mean over all poses."""
        total = 0.0
        for pose in self.all:
            ends = [nearness(self.figure, pose.at[joint]) for joint in joints]
            trunk = [nearness(self.figure, pose.at[joint]) for joint in ("pelvis", "chest")]
            total += sum(ends) / len(ends) - sum(trunk) / 2
        return total / len(self.all)

    def _look(self, side: str, end: str) -> str:
        if not self.flat:
            return "near"
        if side == "left":
            return "far"
        return "near"

    def leg(self, side: str) -> Limb:
        at = self.pose.at
        hip, knee, ankle = (at[f"{side} {name}"] for name in ("hip", "knee", "ankle"))
        heel, ball, toe = (at[f"{side} {name}"] for name in ("heel", "ball", "toe"))
        lift = scaled(unit(minus(ankle, mixed(heel, ball, 0.32))), _SOLE)
        tip = add(toe, lift) if size(minus(toe, ball)) > 4 and toe[1] != ball[1] else add(toe, UP, _SOLE)
        instep = mixed(knee, ankle, 0.94)
        sole = [add(heel, lift), add(ball, lift), tip]
        if not self.flat:
            wide = scaled(unit(_cross(minus(toe, heel), minus(ankle, mixed(heel, ball, 0.32)))), _FOOT)
            sole = [add(heel, lift), *(add(add(at, lift), wide, by) for by in (-1, 1) for at in _tip(ball, toe, by))]
        return Limb(
            self._look(side, "leg"),
            (
                self.line(f"{side} thigh", "thigh", (hip, knee)),
                self.line(f"{side} shank", "shank", (knee, ankle)),
                self.line(f"{side} foot", "foot", (instep, *sole)),
            ),
        )

    def arm(self, side: str) -> Limb:
        at = self.pose.at
        wrist, fingers = at[f"{side} wrist"], at[f"{side} fingers"]
        palm = mixed(wrist, fingers, 0.3)
        thumb = add(mixed(wrist, fingers, 0.52), self.pose.thumbs[side], 4.2)
        return Limb(
            self._look(side, "arm"),
            (
                self.line(f"{side} arm", "arm", (at[f"{side} shoulder"], at[f"{side} elbow"], wrist)),
                self.line(f"{side} hand", "hand", (wrist, mixed(wrist, fingers, 0.86)), (palm, thumb)),
            ),
        )

    def trunk(self) -> Line:
        at, pose = self.pose.at, self.pose
        chest_forward = minus(at["chest front"], at["chest"])
        side = [
            add(mixed(at["pelvis"], at["chest"], share), chest_forward if share > 0.5 else pose.forward, by)
            for share, by in _SIDE
        ]
        if self.flat:
            return self.line("trunk", "trunk", side)
        front = [self._from_middle("left", *corner) for corner in _FRONT]
        front += [self._from_middle("right", *corner) for corner in reversed(_FRONT)]
        return self.line("trunk", "trunk", front, side)

    def _from_middle(self, side: str, share: float, wide: float) -> Vector:
        """A point of the trunk, by its share of the way from hip to shoulder and cm to the side."""
        at = self.pose.at
        middle = mixed(at["pelvis"], at["chest"], share)
        aside = [unit(minus(at[f"{side} {joint}"], at[end])) for end, joint in _ENDS]
        return add(middle, aside[share > 0.6], wide)

    def head(self) -> list[Limb]:
        at = self.pose.at
        head, looks = at["head"], unit(minus(at["nose"], at["head"]))
        crown = unit(minus(head, at["chest"]))
        middle = add(add(head, looks, 3.6), crown, -1.6)
        aside = scaled(_cross(looks, crown), 3.0)
        eyes = [add(add(add(head, looks, 7.0), crown, 0.8), aside, by) for by in (-1, 1)]
        nose = (add(head, looks, 7.5), add(add(head, looks, 10.8), crown, -1.0))
        skull = [
            self.line("neck", "neck", (at["chest"], head)),
            self.line("nose", "nose", nose),
            self.line("head", "head", (head, head)),
        ]
        face = [
            self.line("face", "face", (middle, middle)),
            self.line("eyes", "eyes", *([eye, eye] for eye in eyes)),
        ]
        return [Limb("plain", tuple([*skull, *face] if self._sees_face() else [*face, *skull]))]

    def _sees_face(self) -> bool:
        """Whether the face is turned here, as a mean over all poses."""
        total = 0.0
        for pose in self.all:
            nose, head = (nearness(self.figure, pose.at[name]) for name in ("nose", "head"))
            total += (nose - head) / size(minus(pose.at["nose"], pose.at["head"]))
        return total / len(self.all) > _FACES

    def shades(self) -> Iterator[Line]:
        at = self.pose.at
        for side in SIDES:
            joints = [at[f"{side} {name}"] for name in ("shoulder", "elbow", "wrist", "fingers")]
            yield self.line(f"{side} shade", "shade", [(x, 0.0, z) for x, _, z in joints])


_FOOT = 2.4
"""Cm by which the front of a foot reaches to either side, besides its line."""


def _tip(ball: Vector, toe: Vector, by: int) -> tuple[Vector, Vector]:
    """The front of a foot round its edge: to the toes on one side, back on the other."""
    return (ball, toe) if by < 0 else (toe, ball)


_ENDS = (("pelvis", "hip"), ("chest", "shoulder"))
_HELD = {"bag": "plain", "towel": "far", "broom": "near"}
_ASKEW = 60.0
_LEGS_BACK, _ARMS_FORTH = 8.0, 6.0
"""Cm in doubt: a leg rather joins the trunk, an arm rather lies before it."""


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _held(figure: Figure, pose: Pose) -> Iterator[Line]:
    for thing, where in figure.holds.items():
        for points in _thing(figure, pose, thing, where):
            yield Line(thing, thing, (points,))


def _thing(figure: Figure, pose: Pose, thing: str, where: str) -> Iterator[tuple[Point, ...]]:
    at = pose.at
    hands = [project(figure, mixed(at[f"{s} wrist"], at[f"{s} fingers"], 0.4)) for s in ("left", "right")]
    if thing == "bag":
        yield _bag(figure, pose, where, hands)
    elif where == "feet":
        soles = project(figure, at["right ball"])
        yield (hands[1], soles, hands[0])
    elif where == "head":
        x, y = project(figure, at["nose"])
        yield ((x - 7, y), (x + 7, y))
    else:
        (x, y), (u, v) = hands
        far = 0.35 if thing == "broom" else 0.12
        yield ((x - far * (u - x), y - far * (v - y)), (u + far * (u - x), v + far * (v - y)))


def _bag(figure: Figure, pose: Pose, where: str, hands: list[Point]) -> tuple[Point, ...]:
    if where == "chest":
        up, wide = project(figure, pose.up), 10 if figure.view == "side" else 15
        x, y = project(figure, add(add(pose.at["chest"], pose.up, -14), pose.forward, 19))
        ux, uy = up
        corners = [(-wide, -17), (-wide, 17), (wide, 17), (wide, -17), (-wide, -17)]
        return tuple((x + a * -uy + b * ux, y + a * ux + b * uy) for a, b in corners)
    x = (hands[0][0] + hands[1][0]) / 2 if where == "hands" else hands[where == "right hand"][0]
    y = (hands[0][1] + hands[1][1]) / 2 if where == "hands" else hands[where == "right hand"][1]
    return ((x, y), (x - 7, y + 9), (x - 9, y + 34), (x + 9, y + 34), (x + 7, y + 9), (x, y))
