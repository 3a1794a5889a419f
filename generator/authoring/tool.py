"""Which phasepress a club uses: one line that pip reads, and the wheel where that lies in the repository."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

_PACKAGE = "phasepress"
_WHEEL = re.compile(rf"{_PACKAGE}-[0-9A-Za-z.+_]+-py3-none-any\.whl")
_SHA256 = re.compile("[0-9a-f]{64}")
_FOLDER = "tool"


class UnknownToolError(Exception):
    """Nothing says from where the club would get this phasepress, or what was said is no wheel of it."""


class Tool(NamedTuple):
    """The line of `tool.txt`, and files that go with it, by their place in the club's repository."""

    line: str
    files: Mapping[str, bytes]


def installed_tool() -> Tool:
    """The wheel from which the running phasepress was installed, by the record that pip keeps of it.

    That record is `direct_url.json` (PyPA, "Recording the Direct URL Origin of installed distributions");
    there is none of what came from an index. Raises UnknownToolError.
    """
    try:
        record = json.loads(distribution(_PACKAGE).read_text("direct_url.json") or "{}")
    except PackageNotFoundError:
        record = {}
    where = urlsplit(record.get("url", ""))
    hashes = record.get("archive_info", {}).get("hashes", {})
    if where.scheme == "https" and "sha256" in hashes:
        return _at(record["url"], hashes["sha256"])
    path = Path(unquote(where.path))
    if where.scheme == "file" and _WHEEL.fullmatch(path.name) and path.is_file():
        return _here(path)
    raise UnknownToolError("nothing says from which wheel this phasepress was installed")


def tool_from(said: str) -> Tool:
    """The wheel that is named: a file, or `https://…whl#sha256=…`. Raises UnknownToolError."""
    where = urlsplit(said)
    if where.scheme == "https":
        return _at(where._replace(fragment="").geturl(), where.fragment.removeprefix("sha256="))
    return _here(Path(said))


def _at(address: str, digest: str) -> Tool:
    name = unquote(urlsplit(address).path).rpartition("/")[2]
    if not _WHEEL.fullmatch(name) or re.search(r"\s", address):
        raise UnknownToolError(f"{address} is not the address of a wheel of {_PACKAGE}")
    if not _SHA256.fullmatch(digest):
        raise UnknownToolError(f"{address} has no hash behind it, such as #sha256= and 64 digits")
    return Tool(f"{_PACKAGE} @ {address} --hash=sha256:{digest}", {})


def _here(path: Path) -> Tool:
    if not _WHEEL.fullmatch(path.name):
        raise UnknownToolError(f"{path} is not the name of a wheel of {_PACKAGE}")
    try:
        content = path.read_bytes()
    except OSError as error:
        raise UnknownToolError(f"{path} cannot be read: {error.strerror}") from None
    place = f"{_FOLDER}/{path.name}"
    return Tool(f"./{place} --hash=sha256:{hashlib.sha256(content).hexdigest()}", {place: content})
