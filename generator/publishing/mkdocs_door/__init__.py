"""The door to MkDocs, which nothing else names: pages ready for it, its build and its preview."""

import os

# Before anything of its theme is read, which prints a notice about another product's future.
os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")

from .running import build, serve
from .settings import BuildFailedError, public_address

__all__ = ["BuildFailedError", "build", "public_address", "serve"]
