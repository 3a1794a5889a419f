"""Running git so that nothing in the checkout, nor around it, can make it run anything else."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import threading
from contextlib import suppress
from pathlib import Path
from typing import IO, NamedTuple

from ..escaping import printable

MOST_NAMES = 100_000
"""Files and folders of a commit; an archive of 1,000 versions has some 2,000."""
MOST_TEXT = 64_000_000
"""Bytes of all its programme files together; 1,000 versions have some 5,000,000."""
_PIECE = 1 << 16
TOO_MANY = f"the other commit has more than {MOST_NAMES:,} names, which is too much to compare with"
MISSING = "a file of the other commit is not in this clone; fetch it: git fetch --refetch"
_MOST_SAID = 10_000
_SETTINGS = {
    "core.fsmonitor": "false",
    "core.hooksPath": os.devnull,
    "core.alternateRefsCommand": "",
    "core.askPass": "",
    "core.gitProxy": "",
    "core.sshCommand": "false",
    "core.pager": "cat",
    "credential.helper": "",
    "diff.external": "",
    "protocol.allow": "never",
    "safe.bareRepository": "explicit",
}
"""What the settings of the checkout may not say. `GIT_ALLOW_PROTOCOL` outweighs `protocol.NAME.allow`."""
_SURROUNDINGS = {
    "HOME": os.devnull,
    "LC_ALL": "C",
    "GIT_ALLOW_PROTOCOL": "",
    "GIT_ATTR_NOSYSTEM": "1",
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_NOSYSTEM": "1",
    "GIT_LITERAL_PATHSPECS": "1",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_PAGER": "cat",
    "GIT_SSH_COMMAND": "false",
    "GIT_TERMINAL_PROMPT": "0",
}


class HistoryError(Exception):
    """The other tree cannot be read: why, and what to do."""


class Clone(NamedTuple):
    """A checkout: its top folder, the folder of its repository, and whether that is kept by another one."""

    top: Path
    git: Path
    is_module: bool


def git(clone: Clone, *words: str, asked: bytes = b"", most: int = MOST_TEXT * 2) -> bytes:
    """What git prints.

    Git is told which repository is meant, so that it looks for none, and runs in that folder. Nothing is
    heard of the surroundings or of this machine's settings, and of the repository's own nothing that could
    run. Raises HistoryError with what git says when it fails, or when that is more than `most` bytes.
    """
    settings = [word for name, value in _SETTINGS.items() for word in ("-c", f"{name}={value}")]
    where = [f"--git-dir={clone.git}", f"--work-tree={clone.top}"]
    try:
        with subprocess.Popen(
            [_program(), "--no-pager", *settings, *where, *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            cwd=clone.git,
            env=_surroundings(),
        ) as running:
            told, said = _talk(running, asked, most)
    except OSError as error:
        message = f"git cannot be run ({error.strerror}); --base reads the other tree from it"
        raise HistoryError(f"{message}: install git, or leave --base out") from None
    if len(told) > most:
        raise HistoryError(TOO_MANY)
    if running.returncode:
        if b"promisor" in said:
            raise HistoryError(MISSING)
        lines = said.decode("utf-8", "replace").strip().split("\n")
        text = next((line for line in lines if line.startswith("fatal: ")), lines[0]).removeprefix("fatal: ")
        raise HistoryError(f"git says: {printable(text)}" if text else "git gave no answer")
    return told


def _talk(running: subprocess.Popen[bytes], asked: bytes, most: int) -> tuple[bytes, bytes]:
    """What a program answers and says, at most so many bytes; then it is ended."""
    assert running.stdin
    assert running.stdout
    assert running.stderr
    said: list[bytes] = []
    threads = [
        threading.Thread(target=_ask, args=(running.stdin, asked), daemon=True),
        threading.Thread(target=_hear, args=(running.stderr, said), daemon=True),
    ]
    for thread in threads:
        thread.start()
    try:
        told = _heard(running.stdout, most)
        if len(told) > most:
            running.kill()
    except BaseException:
        running.kill()
        raise
    for thread in threads:
        thread.join()
    return told, b"".join(said)


def _heard(pipe: IO[bytes], most: int) -> bytes:
    """What comes, or somewhat more than `most` bytes; in pieces, which take no room before they come."""
    pieces, size = [], 0
    while size <= most and (piece := pipe.read(_PIECE)):
        pieces.append(piece)
        size += len(piece)
    return b"".join(pieces)


def _ask(pipe: IO[bytes], asked: bytes) -> None:
    # One that has ended listens no more; why, it says itself.
    with suppress(OSError):
        pipe.write(asked)
    with suppress(OSError):
        pipe.close()


def _hear(pipe: IO[bytes], said: list[bytes]) -> None:
    said.append(pipe.read(_MOST_SAID))
    while pipe.read(_MOST_SAID):
        pass


def _program() -> str:
    """Git, from a folder that is named in full: others would be taken from where the command is run."""
    folders = [one for one in os.environ.get("PATH", os.defpath).split(os.pathsep) if os.path.isabs(one)]
    found = shutil.which("git", path=os.pathsep.join(folders)) if folders else None
    if found is None:
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))
    return found


def _surroundings() -> dict[str, str]:
    """New ones: only where programs are, and what a system needs to run any."""
    kept = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT", "TMPDIR") if name in os.environ}
    return {**kept, **_SURROUNDINGS}
