"""`figure: {like: …}`: the figure of another exercise, with what differs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..findings import Fault, nearest, shown
from . import raw

BY_NAME = ("joints", "places", "planted", "holds")
"""Keys of which a file says what differs alone; any other one replaces the other exercise's."""
MOST_STEPS = 8
"""Bound on the exercises that one figure is like, one after another."""
_PATH = ("figure", "like")


def resolved(exercises: Mapping[str, raw.Mapping]) -> Iterator[tuple[str, Fault]]:
    """Write each figure that is like another one out, in place; gives file id and fault where it cannot be.

    One that cannot be is taken out of its file's data, since all that is missing in it would be told as well.
    """
    whole = {name: _own(data) for name, data in exercises.items()}
    done: dict[str, raw.Mapping] = {}
    for name in [name for name, figure in whole.items() if "like" in figure]:
        found = _written_out(name, whole)
        if isinstance(found, Fault):
            yield name, found
        done[name] = {} if isinstance(found, Fault) else found
    for name, figure in done.items():
        if figure:
            exercises[name]["figure"] = figure
        else:
            del exercises[name]["figure"]


def _own(data: raw.Mapping) -> raw.Mapping:
    return raw.mapping(data.get("figure"))


def _written_out(name: str, whole: Mapping[str, raw.Mapping]) -> raw.Mapping | Fault:
    """The figure of one exercise with all that it is like filled in."""
    layers, seen = [whole[name]], [name]
    while "like" in layers[-1]:
        like = layers[-1]["like"]
        if not isinstance(like, str):
            return Fault(
                "value", _PATH, f"like: found {shown(like)}, allowed the id of an exercise", "write one"
            )
        if like in seen or len(seen) > MOST_STEPS:
            message = f"like: {shown(like)} leads back to a figure that is like this one"
            if like not in seen:
                message = f"like: more than {MOST_STEPS} exercises one after another"
            return Fault("reference", _PATH, message, "write its positions out")
        if like not in whole:
            hint = nearest(like, whole) or "write the id of an exercise that has a figure"
            return Fault("reference", _PATH, f"like: unknown exercise {shown(like)}", hint)
        if not whole[like]:
            hint = "name one that has a figure, or write positions: out"
            return Fault("reference", _PATH, f"like: the exercise {shown(like)} has no figure", hint)
        layers.append(whole[like])
        seen.append(like)
    figure: raw.Mapping = {}
    for layer in reversed(layers):
        figure = _over(figure, layer)
    return figure


def _over(figure: raw.Mapping, layer: raw.Mapping) -> raw.Mapping:
    """A figure with what a layer says of it."""
    merged = {**figure, **layer}
    for key in BY_NAME:
        if isinstance(figure.get(key), dict) and isinstance(layer.get(key), dict):
            merged[key] = {**figure[key], **layer[key]}
    return merged
