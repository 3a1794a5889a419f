"""The registry of files that programs read: an entry for each kind, with its text."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from ..hearing import form
from ..reading.addresses import Address
from ..telling.feeds import PLAN_SCHEMA, calendar, changes, plan_json, sitemap
from .kinds import SCOPES, FileKind
from .scopes import OfLevel, OfProgramme, OfSite, OfVersion

FILES: list[FileKind] = []
"""Every kind of file; each is made after the pages of its scope."""
Text = Callable[[Any], str]


def _file(address: Address, *, public: bool = False) -> Callable[[Text], Text]:
    """Enters what a function writes into the registry."""

    def enter(text: Text) -> Text:
        FILES.append(FileKind(address=address, text=text, public=public))
        return text

    return enter


@_file(Address.CALENDAR, public=True)
def _calendar(of: OfProgramme) -> str:
    """The calendar of a programme. It has to name whole addresses."""
    name, address = f"{of.title}, {of.top.site.club_name}", Address.CALENDAR.at(**of.ids)
    return calendar(name, of.planned, of.top.site_url, address, of.top.site.language).decode()


@_file(Address.CHANGES, public=True)
def _changes(of: OfProgramme) -> str:
    """The feed of new phases and editions."""
    site, top = of.top.site, Address.PROGRAMME.at(**of.ids)
    title = f"{of.title}, {site.club_name}"
    return changes(title, site.club_name, site.language, of.dated, of.top.site_url, top, of.top.mark).decode()


@_file(Address.PLAN)
def _plan(of: OfVersion) -> str:
    """A version as open data."""
    return plan_json(of.top.site, of.within.programme, of.version, of.sessions, of.page.plan)


@_file(Address.GUIDE)
def _guide(of: OfLevel) -> str:
    """What the guided session shows beside the sheet."""
    return json.dumps(of.guide, ensure_ascii=False, separators=(",", ":"))


@_file(Address.STILLS)
def _stills(of: OfLevel) -> str:
    """The drawings of the sheets of all its weeks, which paper alone shows."""
    return of.stills


@_file(Address.SITEMAP, public=True)
def _sitemap(of: OfSite) -> str:
    """What search engines may list."""
    return sitemap(of.listed, of.site_url).decode()


@_file(Address.PLAN_SCHEMA)
def _plan_schema(of: OfSite) -> str:
    """The form of the open data."""
    return f"{json.dumps(PLAN_SCHEMA, indent=1)}\n"


@_file(Address.LOG_SCHEMA)
def _log_schema(of: OfSite) -> str:
    """The form of the logs that the page Your log saves."""
    return f"{json.dumps(form.schema(), indent=1)}\n"


FILES_OF = {scope: tuple(kind for kind in FILES if kind.scope == scope) for scope in SCOPES.values()}
