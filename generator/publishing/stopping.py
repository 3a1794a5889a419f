"""Requests to stop, by Ctrl-C or the system: an exception where the work is, so that it is cleared up."""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

# SIGHUP comes when a terminal is closed; some systems have none.
_NAMES = [name for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
_ENDING = 5.0
"""Seconds after a request in which another one changes nothing: the command is ending already."""


class Stopped(BaseException):
    """The command was asked to stop; `number` is the signal. No `except Exception` takes it for a fault."""

    def __init__(self, number: int) -> None:
        """`status` is the usual one of a shell: 128 and the number."""
        super().__init__(signal.Signals(number).name)
        self.number = number
        self.status = 128 + number


class _Requests:
    """What was asked so far: the signals that wait, the sections that hold them back, when one was raised."""

    def __init__(self) -> None:
        self.waiting: list[int] = []
        self.raised: list[int] = []
        self.sections: list[Callable[[], None]] = []
        self.at = 0.0

    def take(self, number: int, frame: FrameType | None) -> None:
        if self.sections:
            self.waiting.append(number)
            self.sections[-1]()
        elif not self.raised or time.monotonic() - self.at > _ENDING:
            self.stop(number)

    def stop(self, number: int) -> None:
        self.waiting.clear()
        self.raised.append(number)
        self.at = time.monotonic()
        raise Stopped(number)


_requests = _Requests()


@contextmanager
def heeded() -> Iterator[None]:
    """Within it a request to stop raises Stopped; what was ignored when it was started stays ignored."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    global _requests
    outer, _requests = _requests, _Requests()
    told, before = sys.unraisablehook, {}

    def tell(dropped: sys.UnraisableHookArgs) -> None:
        if not isinstance(dropped.exc_value, Stopped):
            told(dropped)

    try:
        sys.unraisablehook = tell
        for name in _NAMES:
            number = getattr(signal, name)
            if signal.getsignal(number) is not signal.SIG_IGN:
                before[number] = signal.signal(number, _requests.take)
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        sys.unraisablehook = told
        _requests = outer


@contextmanager
def held_back(told: Callable[[], None] = lambda: None) -> Iterator[list[int]]:
    """Within it requests wait, and the list has something in it as soon as one does. At the end it is raised.

    `told` is called at once, for what may be hurried.
    """
    requests = _requests
    requests.sections.append(told)
    try:
        yield requests.waiting
    finally:
        requests.sections.pop()
        if requests.waiting and not requests.sections:
            requests.stop(requests.waiting[0])


def heed() -> None:
    """Raise a request that was lost: Python drops what is raised while it destroys an object."""
    if _requests.raised:
        raise Stopped(_requests.raised[-1])
