"""Every finding in every file, for people, programs and forges."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import click

from ..comparing import published
from ..judging import Checked, address_findings
from ..reading.findings import in_order
from ..telling import findings_formats
from .base import base_of
from .options import base_option, format_option, programmes_option
from .saying import ERRORS, print_findings, say, say_json, say_made, summary
from .trees import judged, loaded_tree


@click.command("check")
@programmes_option
@base_option("what was published there must be the same here, doses and times.")
@format_option("github", "gitlab")
@click.option("--accepted", is_flag=True, help="List also what was accepted, with the reasons.")
def command(tree: Path, base: str | None, shape: str, accepted: bool) -> None:
    """List every finding in every file.

    With --base, also each version that is published there and has another plan here, or is gone. Mended words
    pass. --format github or gitlab prints the findings as these forges read them, to be shown at file and
    line of a merge request.
    """
    loaded = loaded_tree(tree)
    checked = judged(loaded)
    around = address_findings(tree, loaded.catalogue)
    checked = replace(checked, findings=in_order([*checked.findings, *around]))
    if base is not None:
        findings = [*checked.findings, *published(base_of(tree, base), loaded, tree)]
        checked = replace(checked, findings=in_order(findings))
    if shape == "json":
        say_json(_as_json(checked))
    elif shape == "gitlab":
        say_made(findings_formats.gitlab(checked.findings))
    elif shape == "github":
        for line in findings_formats.github(checked.findings):
            say_made(line)
        say(summary(checked))
    else:
        print_findings(checked, accepted=accepted)
    sys.exit(ERRORS if checked.count("error") else 0)


def _as_json(checked: Checked) -> dict[str, object]:
    return {
        "findings": [finding.as_json() for finding in checked.findings],
        "errors": checked.count("error"),
        "warnings": checked.count("warning"),
    }
