"""Puts a new folder or file in its place in one step, so that the old or the new one is whole in any case.

The new one is made in a hidden folder beside its place. That folder holds a file that is locked while its
process lives: by the file a later process knows the folder as ours, and by the lock whether somebody is at
work there. Of a dead process it puts back what was there, and removes the rest.
"""

from __future__ import annotations

import ctypes
import errno
import os
import secrets
import shutil
import stat
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from .stopping import heed, held_back

try:
    import fcntl
except ImportError:  # A system without these locks; two builds into one place must not overlap there.
    fcntl = None  # type: ignore[assignment]

_KEY, _OLD = "phasepress-lock", "old"
# From linux/fcntl.h and linux/fs.h.
_HERE, _EXCHANGE = -100, 2
_REFUSED = {errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM}
"""What a file system, an older kernel or a sandbox answers that knows no exchange; renameat2(2)."""


class Work:
    """What is made for a place: the folder `new` is empty at first."""

    def __init__(self, to: Path, folder: Path, key: int) -> None:
        """The lock is held by the file descriptor `key`."""
        self._to, self._folder, self._key = to, folder, key
        self.new = folder / _name("new")
        self.new.mkdir()
        # Open, so that its number cannot become that of another folder.
        self._made = os.open(self.new, os.O_RDONLY)

    def switch(self) -> None:
        """Put the folder `new` in its place; what was there goes. Raises OSError; nothing is changed then."""
        with held_back():
            self.check()
            if not os.path.lexists(self._to):
                os.rename(self.new, self._to)
                return
            try:
                _exchange(self.new, self._to)
            except OSError as error:
                if error.errno not in _REFUSED:
                    raise
                # Where we end between the two, or the second fails, the old one is put back in clearing up.
                os.rename(self._to, self._folder / _OLD)
                os.rename(self.new, self._to)

    def check(self) -> None:
        """Whether `new` is still what was made here. Raises OSError, or Stopped where that was asked for."""
        heed()
        if not (_is_at(self._key, self._folder / _KEY) and _is_at(self._made, self.new)):
            raise OSError(errno.ENOENT, "the folder in which it was being made is gone", str(self.new))

    def close(self) -> None:
        """Take away what is still there; something is where it was not switched in, or is the old one."""
        os.close(self._made)
        _remove(self.new)


@contextmanager
def work(to: Path, waits: Callable[[], None] = lambda: None) -> Iterator[Work]:
    """Work on what is to come to `to`, whose folder exists; `waits` is called where another is at work on it.

    Raises OSError; FileExistsError where something that is not ours has the name of the hidden folder.
    """
    folder, key, made = _beside(to), None, None
    try:
        key = _locked(folder, waits)
        _clear(folder, to)
        made = Work(to, folder, key)
        yield made
    finally:
        with held_back():
            if key is not None:
                _leave(folder, to, key)
            if made is not None:
                made.close()
            with suppress(OSError):
                folder.rmdir()


def recover(to: Path) -> None:
    """Clear up after work that was killed, if there was any; that of a living process is left alone.

    Raises OSError where what was there cannot be put back.
    """
    if not to.name:
        return
    folder = _beside(to)
    with held_back():
        key = _key_of_a_dead_one(folder)
        if key is not None:
            _leave(folder, to, key)
        with suppress(OSError):
            folder.rmdir()


def replace_file(to: Path, content: bytes) -> None:
    """Write a whole file, over one that is there. Raises OSError, and nothing is changed then."""
    with work(to) as made:
        new = made.new / to.name
        new.write_bytes(content)
        made.check()
        os.replace(new, to)


def create_file(to: Path, content: bytes) -> None:
    """Write a whole new file. Raises OSError; FileExistsError where something is there."""
    with work(to) as made:
        new = made.new / to.name
        new.write_bytes(content)
        made.check()
        try:
            os.link(new, to)
        except FileExistsError:
            raise
        except OSError:
            # A file system without second names for a file.
            if os.path.lexists(to):
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(to)) from None
            os.rename(new, to)


def create_folder(to: Path, files: Mapping[str, bytes]) -> None:
    """Write a new folder with these files, also in folders of its own, or nothing.

    Raises OSError; FileExistsError where one is there.
    """
    with work(to) as made:
        for name, content in files.items():
            path = made.new / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        if os.path.lexists(to):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(to))
        made.switch()


def remove_folder(to: Path) -> None:
    """Take a folder away, all or nothing. Raises OSError."""
    with work(to) as made:
        os.rename(to, made.new)


def _name(kind: str) -> str:
    return f"{kind}-{secrets.token_hex(4)}"


def _beside(to: Path) -> Path:
    return to.with_name(f".{to.name}.phasepress-work")


def _locked(folder: Path, waits: Callable[[], None]) -> int:
    """The lock of the folder, which is made if need be; waits until no other process has it."""
    while True:
        with suppress(FileNotFoundError):
            # Whoever had the lock may have removed the folder meanwhile; then there is another try.
            # Not `exist_ok`: of one that goes in that moment it says that it is there.
            with suppress(FileExistsError):
                folder.mkdir()
            _is_ours(folder)
            key = os.open(folder / _KEY, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o644)
            try:
                if not _taken(key):
                    waits()
                    waits = _nothing
                    _wait(key)
                if _is_at(key, folder / _KEY):
                    return key
            except BaseException:
                os.close(key)
                raise
            os.close(key)


def _nothing() -> None:
    """What is said once is not said again."""


def _is_ours(folder: Path) -> None:
    is_folder = stat.S_ISDIR(folder.lstat().st_mode)
    names = os.listdir(folder) if is_folder else []
    if not is_folder or (names and _KEY not in names):
        message = f"{folder.name} is there, and was not made for this; move it away"
        raise FileExistsError(errno.EEXIST, message, str(folder))


def _key_of_a_dead_one(folder: Path) -> int | None:
    try:
        key = os.open(folder / _KEY, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    except OSError:
        return None
    if not folder.is_symlink() and _taken(key) and _is_at(key, folder / _KEY):
        return key
    os.close(key)
    return None


def _taken(key: int) -> bool:
    """Whether the lock could be taken; it goes by itself when the process ends, however it does."""
    if fcntl is None:
        return True
    try:
        fcntl.flock(key, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _wait(key: int) -> None:
    fcntl.flock(key, fcntl.LOCK_EX)


def _leave(folder: Path, to: Path, key: int) -> None:
    """Clear up and give the lock back. The file by which the folder is ours goes last."""
    try:
        if _is_at(key, folder / _KEY):
            _clear(folder, to)
            if os.listdir(folder) == [_KEY]:
                os.unlink(folder / _KEY)
    finally:
        os.close(key)


def _clear(folder: Path, to: Path) -> None:
    """Put back what two renames took away without a successor; remove everything else but the lock."""
    old, gone = folder / _OLD, folder / _name("gone")
    if old.exists() and not os.path.lexists(to):
        os.rename(old, to)
    for name in set(os.listdir(folder)) - {_KEY, _OLD}:
        _remove(folder / name)
    if old.exists():
        # Half removed it must never be taken for what has to be put back.
        os.rename(old, gone)
        _remove(gone)


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        with suppress(OSError):
            path.unlink()


def _is_at(opened: int, path: Path) -> bool:
    """Whether what is open is still what lies at `path`."""
    with suppress(OSError):
        return os.path.samestat(os.fstat(opened), path.lstat())
    return False


def _exchange(one: Path, other: Path) -> None:
    """Exchange two folders in one step: renameat2(2), Linux 3.15. Raises OSError."""
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS)) from None
    if renameat2(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE):
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number), str(one), None, str(other))
