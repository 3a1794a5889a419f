"""The files of a tree in a commit: links followed inside it, sizes known before anything is read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from .commit import GONE, looked_up
from .names import FILES, LINK, Entry, entries, safe
from .program import MISSING, MOST_TEXT, Clone, HistoryError, git

MOST_LINKS = 100
_DEPTH = 2
"""Parts of a name such as home/1.0.yaml."""


def files_of(clone: Clone, commit: str, prefix: str, tree: str, most: int) -> dict[str, bytes | str]:
    """The files of a tree: bytes, or why they cannot be read. Those whose content nobody needs are empty."""
    there = safe(entries(clone, tree))
    links = [name for name, entry in there.items() if entry.mode == LINK and _counts(name)]
    found: dict[str, bytes | str | Entry] = {}
    for name, entry in there.items():
        if entry.mode in FILES:
            found[name] = entry if _counts(name) and name.endswith(".yaml") else b""
    found.update(_followed(clone, commit, prefix, links))
    wanted = {name: entry for name, entry in found.items() if isinstance(entry, Entry)}
    texts = _texts(clone, wanted, most)
    return {name: texts[name] if isinstance(one, Entry) else one for name, one in found.items()}


def _counts(name: str) -> bool:
    """Whether a name may be one of a tree: hidden files belong to tools, and folders are not nested."""
    parts = name.split("/")
    return len(parts) <= _DEPTH and not any(part.startswith(".") for part in parts)


def _followed(
    clone: Clone, commit: str, prefix: str, links: Sequence[str]
) -> Iterator[tuple[str, str | Entry]]:
    """The files that links lead to, each under the name of its link, or why they lead to none."""
    if len(links) > MOST_LINKS:
        raise HistoryError(
            f"the other commit has more than {MOST_LINKS} links; keep the files themselves there"
        )
    plain = [link for link in links if "\n" not in link]
    yield from ((link, "a link whose name has a line break") for link in links if "\n" in link)
    before = f"{prefix}/" if prefix else ""
    for link, target in zip(plain, looked_up(clone, commit, [before + link for link in plain]), strict=True):
        if target.kind == "blob":
            yield link, Entry(FILES[0], target.object)
        elif target.kind == "tree":
            for name, entry in safe(entries(clone, target.object)).items():
                if entry.mode in FILES and "/" not in name:
                    yield f"{link}/{name}", entry
                elif entry.mode == LINK:
                    yield f"{link}/{name}", "a link in a folder that is a link itself"
        else:
            yield link, f"a link that {GONE.get(target.kind, 'leads to nothing')}"


def _texts(clone: Clone, wanted: Mapping[str, Entry], most: int) -> dict[str, bytes | str]:
    """The content of files, or that one is too long."""
    texts: dict[str, bytes | str] = dict.fromkeys(wanted, "it is too long")
    sizes = _sizes(clone, {entry.object for entry in wanted.values()})
    short = [name for name, entry in wanted.items() if sizes[entry.object] <= most]
    if sum(sizes[wanted[name].object] for name in short) > MOST_TEXT:
        raise HistoryError(f"the files of the other commit have more than {MOST_TEXT:,} bytes")
    told, at = git(clone, "cat-file", "--batch", asked=_asked(wanted[name].object for name in short)), 0
    for name in short:
        start = told.index(b"\n", at) + 1
        end = start + sizes[wanted[name].object]
        texts[name] = told[start:end]
        at = end + 1
    return texts


def _sizes(clone: Clone, objects: Iterable[str]) -> dict[str, int]:
    """The bytes of files by their objects, none of which is read for it."""
    told = git(clone, "cat-file", "--batch-check", asked=_asked(objects)).decode("ascii", "replace")
    sizes = {}
    for line in told.splitlines():
        sha, kind, *size = line.split()
        if kind != "blob":
            raise HistoryError(MISSING)
        sizes[sha] = int(size[0])
    return sizes


def _asked(objects: Iterable[str]) -> bytes:
    return "".join(f"{one}\n" for one in objects).encode()
