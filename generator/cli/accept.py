"""A warning or note that the coach has weighed, written where it belongs."""

from __future__ import annotations

from pathlib import Path

import click

from ..authoring import UncopyableError
from ..authoring.acceptance import with_acceptance
from ..judging import Checked, check
from ..judging.limits import ACCEPTABLE, OF_NO_VERSION
from ..publishing import switching
from ..reading.catalogue import Catalogue, load_from
from ..reading.findings import Finding, nearest
from ..reading.source import Document
from .options import programmes_option
from .saying import misuse, say
from .trees import checked_tree, must_be_known, version_of
from .writing import Changed, is_no_link

MOST_PLACES = 8


@click.command("accept")
@click.argument("check_id", metavar="CHECK")
@click.option("--at", required=True, metavar='"PROGRAMME [VERSION [DAY]]"', help="Whose finding it is.")
@click.option("--because", required=True, metavar="TEXT", help="The reason, which the report shows.")
@programmes_option
def command(tree: Path, check_id: str, at: str, because: str) -> None:
    """Accept a warning or note, with the reason.

    The entry is written below "accept" in the file of the version, or of the programme where no version is
    named; comments and all else stay as they are. Only what is found there now can be accepted.
    """
    is_no_link(tree)
    before = checked_tree(tree)
    if check_id not in ACCEPTABLE:
        why = OF_NO_VERSION.get(check_id) or nearest(check_id, ACCEPTABLE)
        hint = why or "an error is mended, not accepted"
        misuse(f"{check_id!r} is no warning or note that can be accepted; {hint}")
    document, file, day = _place(before.catalogue, at)
    try:
        text = with_acceptance(document, check_id, day, because).encode()
    except UncopyableError as error:
        misuse(str(error))
    path = tree / file
    after = check(load_from(Changed(tree, path, text)))
    _must_be_of_use(before, after, check_id)
    switching.replace_file(path, text)
    gone = len(after.accepted) - len(before.accepted)
    say(
        f"wrote {path}: {check_id} is accepted{f' on {day}' if day else ''}, {gone} "
        f"finding{'s' * (gone != 1)}"
    )


def _place(catalogue: Catalogue, at: str) -> tuple[Document, str, str | None]:
    """The file in which to write, its name below the tree, and the day."""
    words = at.split()
    if not 1 <= len(words) <= 3:
        misuse(f'--at: found {at!r}, allowed "PROGRAMME", "PROGRAMME VERSION" or "PROGRAMME VERSION DAY"')
    must_be_known("programme", words[0], catalogue.programmes)
    if len(words) == 1:
        return catalogue.programmes[words[0]].document, f"{words[0]}/programme.yaml", None
    version = version_of(catalogue, words[0], words[1])
    file = f"{version.programme}/{version.name}.yaml"
    if len(words) == 2:
        return version.document, file, None
    must_be_known("day", words[2], [day.id for day in version.model.days])
    return version.document, file, words[2]


def _must_be_of_use(before: Checked, after: Checked, check_id: str) -> None:
    """Nothing may be wrong that was not, and something has to be accepted that was not."""
    new = [finding for finding in after.findings if finding.severity == "error"]
    worse = [finding for finding in new if _what(finding) not in {_what(one) for one in before.findings}]
    if worse:
        misuse(f"{worse[0].message}; nothing was written")
    if len(after.accepted) <= len(before.accepted):
        places = list(dict.fromkeys(one.at for one in before.findings if one.check == check_id and one.at))
        told = "; ".join(places[:MOST_PLACES]) or "nowhere"
        misuse(f"there is no {check_id} to accept there; it is found at: {told}. Nothing was written")


def _what(finding: Finding) -> tuple[str, str, str]:
    return finding.check, finding.file, finding.message
