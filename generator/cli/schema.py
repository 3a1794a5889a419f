"""The JSON Schemas, for editors and programs."""

from __future__ import annotations

from pathlib import Path

import click

from ..publishing import switching
from ..reading.escaping import as_json
from ..reading.model import KINDS, json_schema
from ..telling.feeds import PLAN_SCHEMA
from .options import programmes_option
from .saying import misuse, say
from .writing import is_no_link


@click.command("schema")
@programmes_option
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="[default: .schema in the tree]",
)
def command(tree: Path, to: Path | None) -> None:
    """Write the JSON Schema of every file kind, for editors, and that of the site's plan.json."""
    if to is None and not tree.is_dir():
        misuse(f"no folder of programme files at {tree}; name another with --programmes DIR")
    folder = to or tree / ".schema"
    if to is None:
        is_no_link(tree, folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for kind in KINDS:
            content = f"{as_json(json_schema(kind))}\n".encode()
            switching.replace_file(folder / f"{kind}.schema.json", content)
        switching.replace_file(folder / "plan.schema.json", f"{as_json(PLAN_SCHEMA)}\n".encode())
    except OSError as error:
        misuse(f"cannot write to {folder}: {error.strerror}")
    say(f"{len(KINDS) + 1} schemas written to {folder}")
