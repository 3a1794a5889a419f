"""What a journey asks of a browser, whichever engine it has; and what every engine is watched with."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple, Protocol

WATCH = (Path(__file__).parent / "watch.js").read_text(encoding="utf-8")
"""Notes what a page complains of, over all pages of the tab, and keeps the page's audio context at hand."""
PATIENCE = 30.0
"""Seconds in which a state must come about; a busy machine may need many."""
SIZE = (1024, 768)
NARROW = (360, 740)


class Wishes(NamedTuple):
    """Settings of the device."""

    dark: bool = False
    still: bool = False


class NoEngineError(Exception):
    """The engine, or what drives it, is not on this machine; the text says how to get it."""


class Driver(Protocol):
    """One tab of one browser."""

    def open(self, address: str) -> None:
        """Goes there and waits until it is loaded."""

    def open_narrow(self, address: str) -> None:
        """The same in a window of the size `NARROW`."""

    def run(self, body: str, *given: Any) -> Any:
        """What the body of an asynchronous function returns; `given` is its array of arguments."""

    def tap(self, selector: str) -> None:
        """As a person does it: the element is in sight and takes the tap."""

    def press(self, key: str) -> None:
        """A key by its name in the standard: "Tab", "Enter", " ", "ArrowRight"."""

    def picture(self) -> bytes:
        """What is in sight, as PNG."""

    def complaints(self) -> list[str]:
        """What the engine itself has told since the last call, beyond what `WATCH` notes."""

    def close(self) -> None:
        """Ends the browser."""


Begin = Callable[[Wishes], Driver]
"""Begins a browser on a device that nobody has used before."""
