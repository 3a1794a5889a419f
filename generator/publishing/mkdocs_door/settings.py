"""The settings of a build as MkDocs reads them, and what it says meanwhile."""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError

from ...reading.club_folder import SETTINGS, settings_of
from ...reading.escaping import terminal

NAME, THEME_NAME = "phasepress", "material"
_DEFAULTS = f"""
site_name: phasepress
exclude_docs: "*"
theme: {{name: {THEME_NAME}, font: false}}
plugins: [{NAME}]
"""
"""The settings of a tree that none lie beside: it has no public address."""


class BuildFailedError(Exception):
    """A site that could not be built, or not put in its place; nothing was changed."""


class _Printable(logging.Formatter):
    """Names of files and addresses that browsers asked for stand in this log too."""

    def format(self, record: logging.LogRecord) -> str:
        """Each line of a record as one that neither a terminal nor a forge obeys."""
        return "\n".join(map(terminal, super().format(record).split("\n")))


@contextmanager
def logged(level: int) -> Iterator[None]:
    """What MkDocs says goes to the standard error stream, through the door for terminals."""
    handler = logging.StreamHandler()
    handler.setFormatter(_Printable("%(message)s"))
    logger = logging.getLogger("mkdocs")
    before = logger.level
    logger.addHandler(handler)
    logger.setLevel(level)
    try:
        yield
    finally:
        logger.removeHandler(handler)
        logger.setLevel(before)


class _Defaults(io.BytesIO):
    """Settings that are read again before each build of a preview, as a file's are."""

    def close(self) -> None:
        """Stay open."""


def source(tree: Path) -> str | _Defaults:
    """What MkDocs reads them from: the file beside the tree, or those of a tree that none lie beside."""
    found = settings_of(tree)
    return str(found) if found else _Defaults(_DEFAULTS.encode())


def read(tree: Path, site: Path) -> MkDocsConfig:
    """The settings beside the tree, never those of the place where the code lies."""
    with logged(logging.WARNING):
        try:
            config = load_config(config_file=source(tree), docs_dir=str(tree.absolute()), site_dir=str(site))
        except ValueError as error:
            # Signs that are no UTF-8, an address with half a bracket.
            raise ConfigurationError(f"{SETTINGS}: {error}") from None
    if NAME not in config.plugins:
        raise ConfigurationError(
            f"{SETTINGS} has no {NAME} among its plugins; add the line plugins: [{NAME}]"
        )
    return config


def public_address(tree: Path) -> str:
    """The `site_url` of the settings beside the tree, or nothing. Raises BuildFailedError."""
    try:
        return read(tree, Path(tree.absolute().parent, "site")).site_url or ""
    except (Abort, ConfigurationError, OSError) as error:
        why = error.strerror if isinstance(error, OSError) else error
        raise BuildFailedError(f"{SETTINGS} cannot be read: {why}") from None
