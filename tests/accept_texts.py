"""Rewrite every `expected.txt` below tests/data/bad with what `check` says now: `python -m tests.accept_texts`.

Read the difference before it is committed: the texts are what a coach has to work with.
"""

import tempfile
from pathlib import Path

from tests.fixtures import trees


def accept() -> list[str]:
    """Rewrite the texts that differ; the names of their folders."""
    rewritten = []
    for fault in trees.faults():
        with tempfile.TemporaryDirectory() as folder:
            text = trees.check_text(trees.tree_of(fault, Path(folder)))
        expected = fault / trees.EXPECTED
        if not expected.exists() or expected.read_text(encoding="utf-8") != text:
            expected.write_text(text, encoding="utf-8")
            rewritten.append(fault.name)
    return rewritten


if __name__ == "__main__":
    print("\n".join(accept()) or "nothing has changed")
