"""A pose as limbs on the picture's plane: which, in what order, how thick. Pure.

From the side near limbs are solid and far limbs hollow, so that they are told apart without colour. The head
has a pale face, so that it is seen where it looks: face up, face down, to the side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...reading.model.figure import Figure
from .camera import Point, aside, flat, lies, project
from .lines import Limb, Line
from .pose import SIDES, Pose
from .seen import Seen, seen
from .vectors import UP, Vector, add, minus, mixed, scaled, size, unit

_SIDE = ((-0.02, -5.7), (-0.02, 4.5), (0.72, 8.5), (0.99, 0), (0.88, -4.9), (0.68, -6.0), (0.32, -4.3))
"""The trunk from the side: shares of the way from hip to shoulder, cm forward; its line is thick. The back is
a little hollow above the seat and round at the shoulder blades: a spine that is neither bent nor arched."""
_FRONT = ((-0.07, 9.5), (0.1, 11), (0.42, 8.5), (0.75, 12), (0.97, 14), (1.07, 4))
"""The trunk from the front: the same shares, and cm to either side."""
_SOLE = 2.4
"""Cm from the sole to the middle of the line that draws it."""


def body_lines(figure: Figure, pose: Pose) -> list[Line]:
    """All lines of a pose, those of the farthest limb first."""
    return [line for limb in body_limbs(figure, pose, seen(figure, [pose])) for line in limb.lines]


def body_limbs(figure: Figure, pose: Pose, order: Seen) -> list[Limb]:
    """A pose from the farthest to the nearest limb, in the order that all poses of its movement have."""
    draw = _Draw(figure, pose, order)
    shades = [Limb("plain", tuple(draw.shades()))] if lies(figure) else []
    trunk, head = Limb("plain", draw.trunk()), draw.head()
    held = [Limb(_HELD[line.kind], (line,)) for line in _held(figure, pose)]
    limbs = {name: draw.limb(name) for name in (*order.behind, *order.before)}
    arms_last = [limbs[name] for name in order.before if name.endswith("arm")]
    legs_first = [limbs[name] for name in order.before if name.endswith("leg")]
    middle = [trunk, *head, *legs_first] if not draw.flat else [*legs_first, trunk, *head]
    # Who lies face down has it between body and floor.
    under = held if "head" in figure.holds.values() or (lies(figure) and not order.face) else []
    over = [] if under else held
    return [*shades, *under, *(limbs[name] for name in order.behind), *middle, *over, *arms_last]


class _Draw:
    def __init__(self, figure: Figure, pose: Pose, order: Seen) -> None:
        self.figure, self.pose, self.order = figure, pose, order
        self.aside, self.flat = aside(figure), flat(figure)

    def limb(self, name: str) -> Limb:
        """An arm or a leg by its side and name."""
        side, _, end = name.partition(" ")
        return self.leg(side) if end == "leg" else self.arm(side)

    def line(self, name: str, kind: str, *strokes: Sequence[Vector]) -> Line:
        return Line(
            name, kind, tuple(tuple(project(self.figure, point) for point in stroke) for stroke in strokes)
        )

    def _look(self, side: str, end: str) -> str:
        return "far" if self.aside and side == "left" else "near"

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
            sole = [
                add(heel, lift),
                *(add(add(at, lift), wide, by) for by in (-1, 1) for at in _tip(ball, toe, by)),
            ]
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
        strokes = [(wrist, mixed(wrist, fingers, 0.86))]
        if self._on_side_wall(side):
            strokes = list(_spread(wrist))
        elif not {"hands", f"{side} hand", "chest"} & set(self.figure.holds.values()):
            thumb = add(mixed(wrist, fingers, 0.52), self.pose.thumbs[side], 4.2)
            strokes.append((mixed(wrist, fingers, 0.3), thumb))
        return Limb(
            self._look(side, "arm"),
            (
                self.line(f"{side} arm", "arm", (at[f"{side} shoulder"], at[f"{side} elbow"], wrist)),
                self.line(f"{side} hand", "hand", *strokes),
            ),
        )

    def _on_side_wall(self, side: str) -> bool:
        """Whether the hand reaches out to a wall beside the body, which is behind it in the picture."""
        out = (self.pose.at[f"{side} wrist"][2] - self.pose.at[f"{side} shoulder"][2]) * SIDES[side]
        return self.flat and side == "left" and "side wall" in self.figure.props and out > _REACHES

    def trunk(self) -> tuple[Line, ...]:
        at, pose = self.pose.at, self.pose
        chest_forward = minus(at["chest front"], at["chest"])
        # Seen from elsewhere the hips are as broad as in front, and the side gives depth to the chest alone.
        least = -1.0 if self.flat else 0.35
        side = [
            add(
                mixed(at["pelvis"], at["chest"], max(share, least)),
                chest_forward if share > 0.5 else pose.forward,
                by,
            )
            for share, by in _SIDE
        ]
        if self.flat:
            return (self.line("trunk", "trunk", side),)
        front = [self._from_middle("left", *corner) for corner in _FRONT]
        front += [self._from_middle("right", *corner) for corner in reversed(_FRONT)]
        return self.line("trunk", "trunk", front), self.line("chest", "trunk", side)

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
        return [Limb("plain", tuple([*skull, *face] if self.order.face else [*face, *skull]))]

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


_REACHES = 15.0
"""Cm to the side from which a hand is at the wall there."""
_FAN = ((2.0, 10.0), (8.0, 11.5), (13.0, 7.0), (11.0, 0.5))
"""Fingertips of a flat hand on a wall behind: cm ahead of the wrist and above it, the thumb last."""


def _spread(wrist: Vector) -> Iterator[tuple[Vector, Vector]]:
    """The strokes of a flat hand that is seen from its back."""
    x, y, z = wrist
    palm = (x + 3.5, y + 4.0, z)
    yield wrist, palm
    for ahead, up in _FAN:
        yield palm, (x + ahead, y + up, z)


_ENDS = (("pelvis", "hip"), ("chest", "shoulder"))
_HELD = {"bag": "plain", "towel": "far", "broom": "near"}


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
    if where in ("chest", "back"):
        up, wide = project(figure, pose.up), 10 if figure.view == "side" else 15
        ahead = 19 if where == "chest" else -18
        x, y = project(figure, add(add(pose.at["chest"], pose.up, -14), pose.forward, ahead))
        ux, uy = up
        corners = [(-wide, -17), (-wide, 17), (wide, 17), (wide, -17), (-wide, -17)]
        return tuple((x + a * -uy + b * ux, y + a * ux + b * uy) for a, b in corners)
    x = (hands[0][0] + hands[1][0]) / 2 if where == "hands" else hands[where == "right hand"][0]
    y = (hands[0][1] + hands[1][1]) / 2 if where == "hands" else hands[where == "right hand"][1]
    return ((x, y), (x - 7, y + 9), (x - 9, y + 34), (x + 9, y + 34), (x + 7, y + 9), (x, y))
