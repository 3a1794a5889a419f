"""What a device keeps of each programme (its precache), so that its current version works without a network.

The names of the files of a finished site go in, and what is in those that count; lists of addresses with
digests come out, which `theme_overrides/worker/sw.js` reads. Which phase is current is for the device to say,
by its date: a list has the phases apart.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from ..reading.addresses import Address
from ..reading.catalogue import Catalogue
from ..telling.views.base import version_address
from ..telling.views.programmes import MOST_PHASES
from .kinds import Scope
from .pages import PAGES_OF, kind_of

_DIGITS = 16
"""Hexadecimal digits of SHA-256 that are enough to tell the files of a club's builds apart."""
_EXERCISE = re.compile(rb"""href="(?:\.\./|\./)*(exercises/[^/"]+/)["#]""")
OFF = {Address.OFFLINE_BUILD.at(): b'{"off": true}\n'}
"""What stands in the place of the lists where nothing is to be kept: the worker leaves the device."""

_OF_LEVELS = tuple(one.value[one.value.rindex("/") :] for one in (Address.GUIDE, Address.STILLS))

Read = Callable[[str], bytes]


@dataclass(frozen=True, slots=True)
class Phase:
    """The newest edition of a phase: the day it starts (ISO 8601) and its address."""

    starts: str
    address: str


@dataclass(frozen=True, slots=True)
class Precached:
    """A programme, with the phases among which the browser finds the current one, by their dates."""

    id: str
    phases: tuple[Phase, ...]


def precached(catalogue: Catalogue) -> tuple[Precached, ...]:
    """Every programme with the phases that its page shows."""
    found = []
    for programme in catalogue.programmes.values():
        shown = programme.newest_editions()[-MOST_PHASES:]
        phases = tuple(Phase(one.model.starts.isoformat(), version_address(one)) for one in shown)
        found.append(Precached(programme.id, phases))
    return tuple(found)


def lists(programmes: Iterable[Precached], names: Collection[str], read: Read) -> dict[str, bytes]:
    """The lists of a site by the names of their files: one for each programme, one that names the build.

    `names` are all files of the site, `read` gives the content of one. The build's name comes from
    the content of all that is in the lists: nothing else can matter to a device that keeps them.
    """
    files = _Files(names, read)
    found = {programme.id: files.of_programme(programme) for programme in programmes}
    build = hashlib.sha256(_json(found)).hexdigest()[:_DIGITS]
    texts = {
        Address.OFFLINE.at(programme=name): _json({"build": build, **content})
        for name, content in found.items()
    }
    return {**texts, Address.OFFLINE_BUILD.at(): _json({"build": build, "programmes": sorted(found)})}


class _Files:
    """The files of a site by their addresses; each is read once."""

    def __init__(self, names: Collection[str], read: Read) -> None:
        self._names = {re.sub(r"(^|(?<=/))index\.html$", "", name): name for name in names}
        self._read = read
        self._digests: dict[str, str] = {}
        self._led: dict[str, frozenset[str]] = {}
        self._assets = [address for address in self._names if address.startswith(Address.ASSETS)]
        self._pages = sorted(address for address, name in self._names.items() if address != name)

    def of_programme(self, programme: Precached) -> dict[str, Any]:
        """`{"files", "phases"}`, the files of all phases and of each, as address to digest."""
        own = [*_always("site"), *_always("programme"), Address.MANIFEST]
        always = [*self._assets, *(form.at(programme=programme.id) for form in own)]
        phases = [
            {"starts": one.starts, "files": self._list([*self._of_phase(one), *self._of_levels(one)])}
            for one in programme.phases
        ]
        return {"files": self._list(always), "phases": phases}

    def _of_phase(self, phase: Phase) -> Iterator[str]:
        """Its pages, the exercises that they lead to, and those that these lead to as easier or harder."""
        seen: set[str] = set()
        ahead = [address for address in self._pages if address.startswith(phase.address)]
        while ahead:
            address = ahead.pop()
            if address not in seen and address in self._names and _may_be_kept(address):
                seen.add(address)
                yield address
                self._digest(address)
                ahead += self._led[address]

    def _of_levels(self, phase: Phase) -> Iterator[str]:
        """What its guided sessions fetch, and the drawings of its sheets."""
        for name in self._names.values():
            if name.startswith(phase.address) and name.endswith(_OF_LEVELS):
                yield name

    def _list(self, addresses: Iterable[str]) -> dict[str, str]:
        return {address: self._digest(address) for address in sorted(addresses) if address in self._names}

    def _digest(self, address: str) -> str:
        if address not in self._digests:
            content = self._read(self._names[address])
            self._digests[address] = hashlib.sha256(content).hexdigest()[:_DIGITS]
            self._led[address] = frozenset(found.decode() for found in _EXERCISE.findall(content))
        return self._digests[address]


def _always(scope: Scope) -> list[Address]:
    return [kind.address for kind in PAGES_OF[scope] if kind.precached == "always"]


def _may_be_kept(address: str) -> bool:
    kind = kind_of(address)
    return kind is not None and kind.precached != "never"


def _json(content: object) -> bytes:
    return json.dumps(content, separators=(",", ":"), sort_keys=True).encode()
