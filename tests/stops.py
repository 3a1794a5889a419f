"""Commands that are stopped at a moment of the test's choice: just before the n-th change they make to files.

Each runs in a process of its own, forked from one that has read all modules already and built a site
(tests/fixtures/read_before.py), so that hundreds are cheap.
"""

import contextlib
import errno
import hashlib
import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, NamedTuple

# Names of Python's audit events, which come before the act itself.
RENAMES = frozenset({"os.rename", "os.link", "ctypes.dlsym/renameat2"})
CHANGES = RENAMES | {"os.mkdir", "os.rmdir", "os.remove", "shutil.rmtree", "open for writing"}
PATIENCE = 120


class Stop(NamedTuple):
    """Before the event `at` (from 1) of these kinds, the process sends these signals to itself."""

    at: int
    signals: tuple[int, ...]
    events: frozenset[str] = RENAMES


class Ended(NamedTuple):
    """How a command ended: its exit status, below 0 for the signal that killed it, and all it printed."""

    status: int | None
    said: str


_forks = multiprocessing.get_context("forkserver")
# The one from which all are forked is started with the first of them.
_forks.set_forkserver_preload(["tests.stops", "tests.fixtures.read_before"])


def begin(
    work: Callable[..., object], *arguments: Any, said: Path, stop: Stop | None = None, refused: bool = False
) -> BaseProcess:
    """Start `work(*arguments)`. `refused`: on a file system that knows no exchange of two folders."""
    process = _forks.Process(target=_run, args=(work, arguments, said, stop, refused), daemon=True)
    process.start()
    return process


def end(process: BaseProcess, said: Path) -> Ended:
    """Wait for its end."""
    process.join(PATIENCE)
    assert process.exitcode is not None, f"still at work; it said: {said.read_text('utf-8')}"
    return Ended(process.exitcode, said.read_text("utf-8", "replace"))


def ended(work: Callable[..., object], *arguments: Any, said: Path, **how: Any) -> Ended:
    """Start it and wait for its end."""
    said.unlink(missing_ok=True)
    return end(begin(work, *arguments, said=said, **how), said)


def command(*words: object) -> None:
    """The program with these words behind its name."""
    from phasepress.cli import main

    main([str(word) for word in words], prog_name="phasepress")


@contextlib.contextmanager
def stoppable() -> Iterator[None]:
    """What runs or is started within heeds Ctrl-C and a closed terminal. A shell has its background jobs ignore
    them, and what they start inherits that."""
    before = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGHUP)}
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def digests(folder: Path) -> dict[str, str]:
    """Every file below a folder with the digest of its content."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _run(
    work: Callable[..., object], arguments: Sequence[Any], said: Path, stop: Stop | None, refused: bool
) -> None:
    out = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    os.dup2(out, 1)
    os.dup2(out, 2)
    if refused:
        from phasepress.publishing import switching

        switching._exchange = _refuse  # type: ignore[attr-defined]
    if stop is not None:
        _arm(stop)
    with stoppable():
        work(*arguments)


def _refuse(*_: object) -> None:
    raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))


def _arm(stop: Stop) -> None:
    seen = 0

    def hear(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal seen
        if _named(event, arguments) not in stop.events:
            return
        seen += 1
        if seen == stop.at:
            for number in stop.signals:
                os.kill(os.getpid(), number)

    sys.addaudithook(hear)


def _named(event: str, arguments: tuple[Any, ...]) -> str:
    if event == "ctypes.dlsym":
        return f"{event}/{arguments[1]}"
    if event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR):
        return "open for writing"
    return event
