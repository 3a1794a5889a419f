"""Every address of the site, said once: for pages, for links to them, and for the ids that they take.

It stands left of all that knows pages, since a tree is read and checked without them: an id that would be the
address of another page is refused where it is written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from functools import cache

_SEGMENT = {"version": r"[0-9]+\.[0-9]+", "week": "[0-9]+"}
_ANY_ID = "[^/]+"
_PLACEHOLDER = re.compile(r"\{(\w+)\}")


class Address(StrEnum):
    """A form of address; names in braces are filled in. One that ends with a slash is a page, another a file.

    Addresses stand on printed sheets, in bookmarks and calendars: none is changed or taken away.
    """

    HOME = ""
    ABOUT = "about/"
    LOG = "log/"
    EXERCISES = "exercises/"
    FIGURES = "exercises/figures/"
    POSITIONS = "exercises/positions/"
    EXERCISE = "exercises/{exercise}/"
    PROGRAMME = "{programme}/"
    ARCHIVE = "{programme}/versions/"
    POSTER = "{programme}/poster/"
    PARENTS = "{programme}/for-parents/"
    VERSION = "{programme}/{version}/"
    NUMBERS = "{programme}/{version}/numbers/"
    KIT = "{programme}/{version}/kit/"
    DAY = "{programme}/{version}/{day}/"
    SESSION = "{programme}/{version}/{day}/{level}/week-{week}/"

    ASSETS = "assets/"
    OFFLINE_BUILD = "offline.json"
    SITEMAP = "sitemap.xml"
    PLAN_SCHEMA = "plan.schema.json"
    LOG_SCHEMA = "log.schema.json"
    CALENDAR = "{programme}/calendar.ics"
    CHANGES = "{programme}/changes.atom"
    MANIFEST = "{programme}/app.webmanifest"
    OFFLINE = "{programme}/offline.json"
    PLAN = "{programme}/{version}/plan.json"
    GUIDE = "{programme}/{version}/{day}/{level}/guide.json"
    STILLS = "{programme}/{version}/{day}/{level}/stills.svg"

    def at(self, **ids: object) -> str:
        """The address with its names filled in; more may be given than it has. Raises KeyError."""
        return self.value.format_map(ids)

    def below(self, other: Address, **ids: object) -> str:
        """The same, relative to `other`, below which it lies."""
        return self.value.removeprefix(other.value).format_map(ids)

    @property
    def names(self) -> frozenset[str]:
        """What is to be filled in."""
        return frozenset(_PLACEHOLDER.findall(self.value))

    def is_form_of(self, address: str) -> bool:
        """Whether an address has this form; `exercises/figures/` has two."""
        return _pattern(self).fullmatch(address) is not None


@cache
def _pattern(form: Address) -> re.Pattern[str]:
    pieces = _PLACEHOLDER.split(form.value)
    # Between what stands as it is, the names of what is filled in.
    pieces[::2] = map(re.escape, pieces[::2])
    pieces[1::2] = [_SEGMENT.get(name, _ANY_ID) for name in pieces[1::2]]
    return re.compile("".join(pieces))


def reserved(name: str) -> frozenset[str]:
    """The ids that may not be filled in for `name` (`programme`, `day`): another address has them there."""
    return frozenset(_literals(f"{{{name}}}"))


def _literals(placeholder: str) -> Iterator[str]:
    folders = [form.value.split("/")[:-1] for form in Address]
    for own in folders:
        if placeholder in own:
            at = own.index(placeholder)
            yield from (
                other[at]
                for other in folders
                if other[:at] == own[:at] and len(other) > at and not _PLACEHOLDER.search(other[at])
            )
