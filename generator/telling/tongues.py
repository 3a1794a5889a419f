"""Which language each text of a page is in: the club's own words in the club's, ours in English.

Templates mark a club's words by `dir="auto"` or `<bdi>`, for their direction. Here both get a `lang` too, and
what a club has written gets one inside our own sentences, such as "Kniebeuge: 8 to 10 reps". A club that
writes in our language has nothing of it. What has no element of its own, such as a title in a tab or the text
of a picture, stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping

from markupsafe import escape

from ..reading.catalogue import Catalogue

OURS = "en"
"""The language of the interface."""
OWN_KEYS = frozenset((
    "club", "sport", "signed", "if hurt", "cautions", "item", "name", "setup", "cues", "faults", "how",
    "shows", "works", "needs", "side is", "tempo words", "title", "summary", "who", "phase", "aim", "says",
    "changes", "say", "setting", "because",
))  # fmt: skip
"""Keys of the files below which stands what people read, in the club's language."""
_LEAST = 2
"""Signs of a text that is looked for inside our sentences."""
_TOKENS = re.compile(r"<!--.*?-->|<(script|style|textarea|title)\b[^>]*>.*?</\1>|<[^>]*>", re.DOTALL)
_TAG = re.compile(r"<(/?)([a-zA-Z][-a-zA-Z0-9]*)")
_OWN = re.compile(r"""\sdir=("auto"|'auto'|auto\b)""")
_LANG = re.compile(r"\slang=")
_VOID = frozenset(("area", "br", "col", "hr", "img", "input", "link", "meta", "source", "use", "wbr"))
_TYPED_IN = frozenset(("input", "textarea"))
_WORD = re.compile(r"\w+")
Mark = Callable[[str], str]


def spoken_in(language: str) -> str:
    """The language without its country."""
    return language.split("-")[0].lower()


def marking(catalogue: Catalogue) -> Mark:
    """What marks a page of a tree, or leaves it as it is where the club writes in our language."""
    language = catalogue.club.model.language if catalogue.club else OURS
    if spoken_in(language) == OURS:
        return str
    return _Marking(language, _texts(catalogue)).page


def ours(catalogue: Catalogue) -> str:
    """What a template puts into an element of ours that stands where a club's words stand otherwise."""
    language = catalogue.club.model.language if catalogue.club else OURS
    return "" if spoken_in(language) == OURS else f' lang="{OURS}"'


class _Marking:
    """Marks whole pages, and may be given what it has marked already."""

    def __init__(self, language: str, texts: Iterable[str]) -> None:
        self.language, self.lang = language, f' lang="{escape(language)}"'
        self._by_word: dict[str, list[str]] = {}
        for text in sorted(set(texts), key=lambda text: (-len(text), text)):
            shown = _as_shown(text)
            first = _WORD.search(shown)
            if first and len(text) >= _LEAST:
                self._by_word.setdefault(first[0], []).append(shown)

    def page(self, html: str) -> str:
        """The HTML with the language of every text of the club's."""
        walk, made, at = _Walk(self), [], 0
        for found in _TOKENS.finditer(html):
            made.append(walk.text(html[at : found.start()]))
            at = found.end()
            # A comment, and a script with all that is in it, is one token.
            named = None if found[1] else _TAG.match(found[0])
            made.append(walk.tag(found[0], named, html[at : html.find("<", at)]) if named else found[0])
        return "".join([*made, html[at:]])

    def is_one(self, text: str) -> bool:
        """Whether a text is the club's as it stands."""
        first = _WORD.search(text)
        return first is not None and text.strip() in self._by_word.get(first[0], ())

    def sentence(self, text: str) -> str:
        """A text of ours, with the club's words in it marked."""
        made, at = [], 0
        for word in _WORD.finditer(text):
            found = self._found(text, word) if word.start() >= at else None
            if found is not None:
                start, end = found
                made += [text[at:start], f"<bdi{self.lang}>", text[start:end], "</bdi>"]
                at = end
        return "".join([*made, text[at:]])

    def _found(self, text: str, word: re.Match[str]) -> tuple[int, int] | None:
        """Where the longest text of the club's stands of which this is the first word."""
        for own in self._by_word.get(word[0], ()):
            start = word.start() - own.index(word[0])
            end = start + len(own)
            if start >= 0 and text[start:end] == own and not text[end : end + 1].isalnum():
                return start, end
        return None


class _Walk:
    """Where one page has been read to: `_within` is the element of the club's that is open, if any."""

    def __init__(self, marking: _Marking) -> None:
        self._marking = marking
        self._within, self._depth, self._last, self._drawn = "", 0, "", False

    def text(self, text: str) -> str:
        """What stands between two tags."""
        if self._within or self._drawn or self._last == "option" or not text.strip():
            return text
        return self._marking.sentence(text)

    def tag(self, token: str, named: re.Match[str], following: str) -> str:
        """A tag; `following` is the text behind it."""
        closes, self._last = bool(named[1]), named[2].lower()
        if self._last == "svg":
            self._drawn = not closes
        if self._within:
            self._deeper(-1 if closes else 1)
            return token
        return token if closes else self._opened(token, named.end(), following)

    def _deeper(self, by: int) -> None:
        if self._last == self._within:
            self._depth += by
            self._within = self._within if self._depth else ""

    def _opened(self, token: str, name_ends: int, following: str) -> str:
        marking, tag = self._marking, self._last
        if tag == "html" and "data-language" not in token:
            return f'{token[:-1]} data-language="{escape(marking.language)}">'
        marked = marking.lang in token
        own = tag == "bdi" or bool(_OWN.search(token)) or (tag == "option" and marking.is_one(following))
        if tag in _TYPED_IN or not (marked or (own and not _LANG.search(token))):
            return token
        if tag not in _VOID:
            self._within, self._depth = tag, 1
        return token if marked else f"{token[:name_ends]}{marking.lang}{token[name_ends:]}"


def _as_shown(text: str) -> str:
    """As it stands in HTML that a template has escaped."""
    return str(escape(" ".join(text.split())))


def _texts(catalogue: Catalogue) -> Iterator[str]:
    entries: list[Mapping[str, object]] = [
        *({"": one.document.data} for one in catalogue.exercises.values()),
        *({"": one.document.data} for one in catalogue.routines.values()),
    ]
    if catalogue.club:
        entries.append({"": catalogue.club.document.data})
    for programme in catalogue.programmes.values():
        entries.append({"": programme.document.data})
        entries += ({"": version.document.data} for version in programme.versions)
    for entry in entries:
        yield from _below(entry, own=False)


def _below(data: object, *, own: bool) -> Iterator[str]:
    if isinstance(data, str):
        if own:
            yield data
    elif isinstance(data, list):
        for one in data:
            yield from _below(one, own=own)
    elif isinstance(data, Mapping):
        for key, value in data.items():
            yield from _below(value, own=own or key in OWN_KEYS)
