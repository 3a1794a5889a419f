"""What must hold for every command, whatever it was run on."""

import hashlib
import json
import os
import re
import stat
from collections.abc import Collection
from pathlib import Path
from typing import Any, NoReturn
from xml.etree import ElementTree

from tests.fuzz import odd

ACTING = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
"""Signs that a terminal or a forge acts on: controls but the end of a line, line separators, turned text, halves of pairs."""
COMMAND = re.compile(r"^\s*::|##\[")
"""A line that a forge's runner obeys (GitHub, "Workflow commands"; the second, older form stands anywhere; from memory)."""
OWN_COMMAND = re.compile(r"::(error|warning|notice) file=[^,:]+,line=\d+,col=\d+,title=[a-z-]+::.")
FINDING = {"check", "severity", "file", "line", "column", "at", "message", "hint", "source"}
SESSION = {
    "day", "level", "week", "seconds", "work_seconds", "sets", "reps", "tension_seconds", "contacts", "load_volume_kg",
    "density", "patterns",
}  # fmt: skip
SEGMENT = {"start", "length", "kind", "block", "station", "exercise", "round", "side", "reps"}
ISSUE = {"description", "check_name", "fingerprint", "severity", "location"}


class Found(AssertionError):  # noqa: N818 - it is what a run finds, not an error of it
    """What does not hold. `rule` is the same for every case that breaks it in the same way."""

    def __init__(self, rule: str, about: str = "") -> None:
        super().__init__(f"{rule}: {about}" if about else rule)
        self.rule = rule


def answered(answer: dict[str, Any], words: list[str]) -> None:
    """How the command ended and what it said."""
    if answer["traceback"]:
        last = answer["traceback"].strip().splitlines()
        place = next((line.strip() for line in reversed(last) if line.strip().startswith("File")), "")
        raise Found(f"a traceback, {last[-1][:60]} {place[-60:]}", answer["traceback"])
    if answer["status"] not in (0, 1, 2):
        raise Found("exit status", str(answer["status"]))
    if answer["tried"]:
        raise Found("it reached out of its folder", "; ".join(answer["tried"]))
    shape = words[words.index("--format") + 1] if "--format" in words else "text"
    for stream in ("out", "err"):
        _quiet(answer[stream], f"{words[0]} {shape} {stream}", own=shape == "github" and stream == "out")
    if odd.SECRET in (answer["out"] + answer["err"]).replace("--programmes", ""):
        raise Found("it tells of a file outside the tree", _around(answer["out"] + answer["err"], odd.SECRET))
    if answer["status"] != 2 and not answer["long"] and shape in ("json", "gitlab") and answer["out"]:
        _shape(words[0], shape, answer["out"], answer["status"])


def _around(text: str, part: str) -> str:
    at = text.index(part)
    return repr(text[max(0, at - 200) : at + 200])


def _quiet(text: str, where: str, *, own: bool) -> None:
    acting = ACTING.search(text)
    if acting:
        raise Found(f"a sign that acts, in {where}", _around(text, acting[0]))
    for line in text.split("\n"):
        if own and OWN_COMMAND.match(line):
            continue
        if COMMAND.search(line):
            raise Found(f"a forged command, in {where}", repr(line[:300]))


def _shape(verb: str, shape: str, text: str, status: int) -> None:
    """JSON as documented."""
    try:
        read = json.loads(text, parse_constant=_no_number)
    except ValueError as error:
        raise Found(f"{verb} {shape} is no JSON", f"{error}: {text[:200]!r}") from None
    if shape == "gitlab":
        _issues(read)
    else:
        {"check": _findings, "report": _figures, "order": _timetable, "review": _nothing_more}[verb](
            read, status
        )


def _nothing_more(read: dict[str, Any], status: int) -> None:
    """What else holds for a review is in `reviews`."""


def _issues(read: list[dict[str, Any]]) -> None:
    for one in read:
        _keys(one, ISSUE, "gitlab")
        if one["location"]["lines"]["begin"] < 1:
            raise Found("a line below 1", repr(one))


def _findings(read: dict[str, Any], status: int) -> None:
    _keys(read, {"findings", "errors", "warnings"}, "check")
    for one in read["findings"]:
        _keys(one, FINDING, "check")
        if min(one["line"], one["column"]) < 1:
            raise Found("a place below 1", repr(one))
    errors = [one["severity"] for one in read["findings"]].count("error")
    if read["errors"] != errors or (status == 1) != bool(errors):
        raise Found("errors are miscounted", f"{read['errors']} told, {errors} found, status {status}")


def _figures(read: dict[str, Any], status: int) -> None:
    for version in read["versions"]:
        _keys(version, {"programme", "version", "phase", "plan", "sessions"}, "report")
        for one in version["sessions"]:
            _keys(one, SESSION, "report")


def _no_number(word: str) -> NoReturn:
    raise ValueError(f"{word} is no number of JSON")


def _keys(one: Any, needed: Collection[str], verb: str) -> None:
    if not isinstance(one, dict) or not one.keys() >= set(needed):
        raise Found(f"{verb} lacks a key of its format", repr(one)[:500])


def _timetable(read: dict[str, Any], status: int) -> None:
    """Segments follow one another without a hole, and the session is as long as they are."""
    at = 0
    for one in read["segments"]:
        _keys(one, SEGMENT, "order")
        if abs(one["start"] - at) > 1e-6:
            raise Found("a hole in a running order", repr(one))
        at = one["start"] + one["length"]
    if abs(read["seconds"] - at) > 1e-6:
        raise Found("a session's length is not that of its segments", f"{read['seconds']} and {at}")


def digests(folder: Path, but: Collection[str] = ()) -> dict[str, str]:
    """What every entry below a folder is, by path; `but`: names at the top that are left out."""
    found: dict[str, str] = {}
    for where, folders, files in os.walk(folder):
        if where == str(folder):
            folders[:] = [name for name in folders if name not in but]
            files = [name for name in files if name not in but]
        for name in (*folders, *files):
            path = os.path.join(where, name)
            found[os.path.relpath(path, folder)] = _digest(path)
    return found


def _digest(path: str) -> str:
    mode = os.lstat(path).st_mode
    if stat.S_ISLNK(mode):
        return f"link to {os.readlink(path)}"
    if not stat.S_ISREG(mode):
        return f"mode {stat.S_IFMT(mode):o}"
    with open(path, "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()


def same(before: dict[str, str], after: dict[str, str], rule: str) -> None:
    """Nothing was made, changed or taken away."""
    if before != after:
        differing = sorted(one for one in {*before, *after} if before.get(one) != after.get(one))
        raise Found(rule, ", ".join(differing[:10]))


def whole_site(site: Path) -> None:
    """A site with its first page and mark, in which every address in a page leads to a file of it."""
    for name in (".phasepress-site", "index.html", "offline.json", "sw.js"):
        if not (site / name).is_file():
            raise Found("the site is not whole", f"{name} is missing")
    for page in sorted(one for one in site.rglob("*") if one.is_file()):
        try:
            _readable(page)
        except (ValueError, ElementTree.ParseError) as error:
            raise Found(
                f"a {page.suffix} file that cannot be read", f"{page.relative_to(site)}: {error}"
            ) from None


def _readable(page: Path) -> None:
    """By the rules of its format; and no author's word became markup or a line of its own."""
    if page.suffix in (".json", ".webmanifest"):
        json.loads(page.read_bytes(), parse_constant=_no_number)
    elif page.suffix in (".atom", ".xml", ".svg"):
        ElementTree.fromstring(page.read_bytes())
    elif page.suffix == ".ics" and re.search(rb"^(ATTENDEE|BEGIN:VALARM)", page.read_bytes(), re.MULTILINE):
        raise ValueError("a forged line")
    elif page.suffix == ".html":
        text = page.read_bytes().decode("utf-8")
        forged = [mark for mark in ("<script>alert", "<img src=x", 'href="javascript:') if mark in text]
        if forged or "\0" in text:
            raise ValueError(f"an author's word acts: {forged}")
