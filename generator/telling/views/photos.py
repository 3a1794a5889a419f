"""A club's own photographs of an exercise: files of the site, drawn anew, and what is to be seen on them."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from typing import NamedTuple

from ...reading.catalogue import Catalogue
from ...reading.pictures import photo
from .figures import Picture


class PhotoView(NamedTuple):
    """One photograph, and what is to be seen on it in words."""

    picture: Picture
    words: str


_KEPT = 64
"""Photographs that a preview does not draw again at each build."""
_drawn = lru_cache(maxsize=_KEPT)(photo)


def photo_views(catalogue: Catalogue, exercise_id: str, files: dict[str, bytes]) -> tuple[PhotoView, ...]:
    """The photographs of an exercise; `files` gets what they are made of, by address."""
    found = []
    for one in catalogue.exercise(exercise_id).photos:
        content, wide, high = _drawn(catalogue.photos[one.file].content)
        name = one.file.rpartition(".")[0]
        address = f"assets/photos/{name}.{hashlib.sha256(content).hexdigest()[:8]}.jpg"
        files[address] = content
        found.append(PhotoView(Picture(address, wide, high), one.shows))
    return tuple(found)
