"""Movement figures on pages: which files there are, how large they are shown, and what they say in words."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from ...drawing.mannequin import draw, ink, stills
from ...drawing.mannequin.mechanics import off_balance
from ...drawing.mannequin.motion import Key, movement
from ...drawing.mannequin.pair import pair
from ...drawing.mannequin.shares import shares
from ...drawing.mannequin.sides import shown
from ...drawing.mannequin.tempo import schedule
from ...reading.amounts import Number, Tempo
from ...reading.catalogue import Catalogue
from ...reading.model import Exercise

_TALL, _WIDE = 132, 240
"""Pixels that a figure takes on a day page at most; the file itself is sharp at any size."""
_STRIP_WIDE = 330
_NEAREST = 0.6
"""Pixels for a unit at most, so that who lies is not much larger than who stands."""
_LARGE = 2.6


class Picture(NamedTuple):
    """One file with the size at which it is shown, in pixels."""

    address: str
    width: int
    height: int


class Strip(NamedTuple):
    """The strip of an exercise's key positions, black on white where it is light, and what is to be seen."""

    picture: Picture
    words: str


class FigureView(NamedTuple):
    """An exercise's figure: moving where it moves, its strip, what is to be seen, and its positions."""

    moves: Picture | None
    strip: Picture
    words: str
    positions: tuple[str, ...]


class PairView(NamedTuple):
    """Right and not so: one picture of both, and what each of the two is in words."""

    picture: Picture
    right: str
    wrong: str

    @property
    def words(self) -> str:
        """What is to be seen."""
        return f"Right: {self.right}. Not so: {self.wrong}."


class Angles(NamedTuple):
    """A key position and how far its joints are bent."""

    position: str
    joints: str


class FigureViews:
    """The figures of a site. `files` holds what was asked for, by address; each is drawn once."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self.files: dict[str, bytes] = {}
        self._views: dict[tuple[str, str, Number | None, bool], FigureView] = {}
        self._pairs: dict[tuple[str, bool], PairView | None] = {}
        self._stills: dict[tuple[str, bool], str] = {}
        self._small: dict[str, stills.Small] = {}

    def view(
        self, exercise_id: str, tempo: Tempo | None, rep: Number | None, flip: bool = False
    ) -> FigureView | None:
        """The figure in the tempo of a dose, or its mirror image for the other side; None without one."""
        exercise = self._catalogue.exercise(exercise_id)
        if exercise.figure is None:
            return None
        key = exercise_id, tempo.written if tempo else "", rep, flip
        if key not in self._views:
            self._views[key] = self._drawn(exercise_id, exercise, tempo, rep, flip)
        return self._views[key]

    def strip(self, exercise_id: str, flip: bool = False) -> Strip | None:
        """The key positions side by side, whatever the dose; None for an exercise without a figure."""
        figure = self._catalogue.exercise(exercise_id).figure
        if figure is None:
            return None
        key = "strip", figure.model_dump_json(), flip
        drawn = self._kept(key, lambda: draw.strip(movement(figure), figure.shows, flip))
        return Strip(self._picture(f"{exercise_id}-strip{_side(flip)}", drawn, _STRIP_WIDE), figure.shows)

    def pair(self, exercise_id: str, paper: bool = False) -> PairView | None:
        """Right and not so, black on white for paper; None for an exercise whose fault is not drawn."""
        key = exercise_id, paper
        if key not in self._pairs:
            self._pairs[key] = self._faulty(exercise_id, paper)
        return self._pairs[key]

    def _faulty(self, exercise_id: str, paper: bool) -> PairView | None:
        found = pair(self._catalogue.exercise(exercise_id))
        if found is None:
            return None
        drawn = stills.fault(found, f"Right: {found.says_right}. Not so: {found.says_wrong}.", paper)
        picture = self._picture(f"{exercise_id}-right-and-not-so", drawn, _STRIP_WIDE)
        return PairView(picture, found.says_right, found.says_wrong)

    def still(self, exercise_id: str, flip: bool = False) -> str:
        """The thumbnail by which an exercise is known, as SVG for the page; nothing without a figure."""
        key = exercise_id, flip
        if key not in self._stills:
            figure = self._catalogue.exercise(exercise_id).figure
            self._stills[key] = stills.thumbnail(movement(figure), flip) if figure else ""
        return self._stills[key]

    def stills(self, exercise_ids: Iterable[str]) -> str:
        """The file of thumbnails that printed sheets show, by the ids of those that have a figure."""
        found = [(name, self._catalogue.exercise(name).figure) for name in sorted(set(exercise_ids))]
        for name, figure in found:
            if figure and name not in self._small:
                self._small[name] = stills.small(movement(figure))
        return stills.for_paper({name: self._small[name] for name, figure in found if figure})

    def _drawn(
        self, exercise_id: str, exercise: Exercise, tempo: Tempo | None, rep: Number | None, flip: bool
    ) -> FigureView:
        seen = shown(exercise)
        assert seen is not None
        figure, moves = seen.move.figure, None
        if seen.move.ways:
            times = schedule(figure, tempo, rep * seen.reps if rep else None)
            name = f"{exercise_id}-{tempo.written}" if tempo else exercise_id
            key = "moves", figure.model_dump_json(), exercise.name, times, flip
            drawn = self._kept(key, lambda: draw.moving(seen.move, times, exercise.name, flip))
            moves = self._picture(f"{name}{_side(flip)}", drawn, _WIDE)
        strip = self.strip(exercise_id, flip)
        assert strip is not None
        assert exercise.figure is not None
        says = tuple(position.says for position in exercise.figure.positions if not position.between)
        return FigureView(moves, *strip, says)

    def _kept(self, key: tuple[object, ...], drawing: Callable[[], ink.Picture]) -> ink.Picture:
        """A picture, drawn once for all builds of a preview as long as nothing of it changes."""
        if len(_KEPT) >= _MOST_KEPT and key not in _KEPT:
            _KEPT.clear()
        if key not in _KEPT:
            _KEPT[key] = drawing()
        return _KEPT[key]

    def _picture(self, name: str, drawn: ink.Picture, wide: int) -> Picture:
        content = drawn.text.encode()
        address = f"assets/figures/{name}.{hashlib.sha256(content).hexdigest()[:8]}.svg"
        self.files[address] = content
        scale = min(_TALL / drawn.height, wide / drawn.width, _NEAREST)
        return Picture(address, round(drawn.width * scale), round(drawn.height * scale))


_MOST_KEPT = 1_000
_KEPT: dict[tuple[object, ...], ink.Picture] = {}
"""Pictures by all that they are drawn from."""


def _side(flip: bool) -> str:
    return "-mirrored" if flip else ""


def large(picture: Picture) -> Picture:
    """The same file, as large as an exercise page shows it."""
    return Picture(picture.address, round(picture.width * _LARGE), round(picture.height * _LARGE))


def share_words(exercise: Exercise) -> str:
    """`about 70 to 75 % of body weight (estimate, adult data)`; nothing where no share is known."""
    found = sorted({5 * round(part * 20) for ends in shares(exercise) for part in ends})
    if not found:
        return ""
    span = f"{found[0]}" if len(found) == 1 else f"{found[0]} to {found[-1]}"
    return f"about {span} % of body weight (estimate, adult data)"


def on_what(exercise: Exercise) -> str:
    """What carries that share, with its verb: `hands carry`, `forearm carries`."""
    figure = exercise.figure
    keys = movement(figure).keys if figure else ()
    for end, word in (("elbow", "forearm"), ("hand", "hand")):
        most = max((sum(part.endswith(end) for part in key.planted) for key in keys), default=0)
        if most:
            return f"{word} carries" if most == 1 else f"{word}s carry"
    return "hands carry"


def balance_words(exercise: Exercise) -> str:
    """Whether the middle of the weight is over what stands on the floor wherever the figure rests."""
    figure = exercise.figure
    if figure is None:
        return ""
    move = movement(figure)
    rests = [key for key in move.keys if key.position.at or key.position.stays or not move.ways]
    tips = [off_balance(key, figure.view) for key in rests]
    if not tips or any(tip is None for tip in tips):
        return ""
    inside = all(not tip for tip in tips)
    return "over what it stands on" if inside else "near the edge of what it stands on"


def angles(exercise: Exercise) -> Iterator[Angles]:
    """How far hip, knee and elbow are bent at each key position; the left side too where it differs."""
    if exercise.figure is None:
        return
    for key in movement(exercise.figure).keys:
        if key.position.between:
            continue
        yield Angles(key.position.says, ", ".join(_bent(key)))


def _bent(key: Key) -> Iterator[str]:
    for joint in ("hip", "knee", "elbow"):
        right, left = (_whole(key.pose.bend(side, joint)) for side in ("right", "left"))
        if abs(right - left) <= 5:
            yield f"{joint} {_told(right)}"
        else:
            yield f"{joint} {_told(right)} right and {_told(left)} left"


def _told(angle: int) -> str:
    return f"{angle}°".replace("-", "−")


def _whole(degrees: float) -> int:
    """To five degrees: an eye sees no finer."""
    return 5 * round(degrees / 5)
