"""`python -m tests.site.accept_gold [FOLDER]`: keep the pages of the good tree as they are now."""

import sys
import tempfile
from pathlib import Path

from click.testing import CliRunner
from phasepress.cli import main

from . import gold
from .conftest import GOOD
from .pages import Site


def accept(folder: Path) -> None:
    with tempfile.TemporaryDirectory() as apart:
        to = Path(apart) / "site"
        done = CliRunner().invoke(main, ["build", "--programmes", str(GOOD), "--to", str(to)])
        assert done.exit_code == 0, done.output
        changed = gold.accept(Site(to), folder)
    print(f"accepted: {', '.join(changed)}" if changed else "nothing has changed")


if __name__ == "__main__":
    accept(Path(sys.argv[1]) if len(sys.argv) > 1 else gold.GOLD)
