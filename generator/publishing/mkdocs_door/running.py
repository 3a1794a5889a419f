"""MkDocs is run: a whole build beside the old site, and the preview."""

from __future__ import annotations

import logging
import tempfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from mkdocs.commands import build as building
from mkdocs.commands import serve as serving
from mkdocs.exceptions import Abort, ConfigurationError

from ...judging import Checked
from .. import switching
from ..private import MARK
from ..stopping import held_back
from .plugin import PhasepressPlugin
from .settings import NAME, BuildFailedError, logged, read, source

_LAST_PORT = 65535


def build(
    checked: Checked,
    tree: Path,
    to: Path,
    progress: Callable[[int, int], None],
    waits: Callable[[], None] = lambda: None,
) -> str:
    """Build the site of a checked tree beside `to` and switch it in when it is complete.

    Gives its public address, if it has one. Where another build into `to` is under way, calls `waits` and
    waits. Raises BuildFailedError and leaves what was there.
    """
    to = to.absolute()
    _may_be_replaced(to)
    _is_apart(to, tree.absolute())
    with ExitStack() as stack:
        try:
            to.parent.mkdir(parents=True, exist_ok=True)
            work = stack.enter_context(switching.work(to, waits))
        except OSError as error:
            raise BuildFailedError(f"cannot write beside {to}: {error.strerror}") from None
        try:
            config = read(tree, work.new)
            plugin = config.plugins[NAME]
            assert isinstance(plugin, PhasepressPlugin)
            plugin.checked, plugin.progress = checked, progress
            with logged(logging.WARNING):
                building.build(config)
            _may_be_replaced(to)
            work.switch()
            return config.site_url or ""
        except (Abort, ConfigurationError, OSError) as error:
            why = error.strerror if isinstance(error, OSError) else error
            raise BuildFailedError(f"the site could not be built: {why}") from None


def _may_be_replaced(to: Path) -> None:
    if to.is_symlink() or (to.exists() and not to.is_dir()):
        raise BuildFailedError(f"{to} is not a folder; name another with --to DIR")
    if to.is_dir() and not (to / MARK).exists() and any(to.iterdir()):
        raise BuildFailedError(f"{to} holds files that no build put there; name another with --to DIR")


def _is_apart(to: Path, tree: Path) -> None:
    if to.is_relative_to(tree) or tree.is_relative_to(to):
        raise BuildFailedError(f"{to} and the programme files lie one in the other; name another with --to")


def serve(tree: Path, address: str) -> None:
    """Preview the tree at `address` (host:port) until interrupted. Raises BuildFailedError."""
    host, _, port = address.rpartition(":")
    if not host or not port.isdecimal() or int(port) > _LAST_PORT:
        raise BuildFailedError(f"cannot serve at {address}; write it like 127.0.0.1:8000")
    try:
        with logged(logging.INFO), _scratch():
            read(tree, Path(tempfile.gettempdir(), "site"))
            serving.serve(
                config_file=source(tree),  # type: ignore[arg-type]
                docs_dir=str(tree.absolute()),
                dev_addr=address,
            )
    except (Abort, ConfigurationError) as error:
        raise BuildFailedError(str(error)) from None
    except OSError as error:
        raise BuildFailedError(f"cannot serve at {address}: {error.strerror}") from None


@contextmanager
def _scratch() -> Iterator[None]:
    """The preview's site goes with it, also where MkDocs is stopped before it takes care of that itself."""
    before = tempfile.tempdir
    folder = tempfile.TemporaryDirectory(prefix="phasepress-", ignore_cleanup_errors=True)
    try:
        tempfile.tempdir = folder.name
        yield
    finally:
        tempfile.tempdir = before
        with held_back():
            folder.cleanup()
