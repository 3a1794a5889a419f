"""`report --base` begins with what is not allowed and with three sentences; figures come last.

The minutes expected are worked out by hand, by the rules of `computing`.
"""

from pathlib import Path

import pytest
from phasepress.comparing.in_short import InShort, in_short
from phasepress.comparing.versions import Side, side
from phasepress.computing.phases import computed_sessions
from phasepress.reading.catalogue import load

from tests.comparing.test_merge import changes, next_edition, published, text, tree
from tests.conftest import ROOT
from tests.fixtures import clones, trees
from tests.fixtures.phases import LEVELS, TWO_LEVELS, day, planted, sets, version

__all__ = ["published", "tree"]


def told(now: str, before: str | None, to: Path, levels: str = LEVELS) -> InShort:
    """The sentences for a plan against another."""
    name = "1.1" if before else "1.0"
    files = {name: now} | ({"1.0": before} if before else {})
    catalogue = load(planted(to, files, levels)).catalogue

    def of(name: str) -> Side:
        entry = catalogue.programmes["trial"].version(name)
        assert entry
        return side(catalogue, entry, tuple(computed_sessions(catalogue, entry)))

    return in_short(of("1.0") if before else None, of(name))


def plan(*stations: str) -> str:
    return version(day(sets(*stations)))


def test_the_parts_stand_in_their_order(tree: Path) -> None:
    trees.change(tree / "home/2.0.yaml", "reps: 8", "reps: 9")
    next_edition(tree, ("rounds: 2", "rounds: [2, 3]"))
    report = text(tree, status=1)
    heads = ["not allowed:", "in short:", "home 1.2 Groundwork: new; against 1.1", "figures, means of"]
    assert [report.index(head) for head in heads] == sorted(report.index(head) for head in heads)
    markdown = text(tree, "--format", "markdown", status=1)
    heads = ["### Not allowed", "### In short", "### home 1.2", "<details><summary>Figures", "| Legs |"]
    assert [markdown.index(head) for head in heads] == sorted(markdown.index(head) for head in heads)
    assert markdown.rstrip().endswith("</details>")


def test_what_is_not_allowed_comes_with_file_line_and_a_way_to_mend_it(tree: Path) -> None:
    (tree / "home/2.0.yaml").unlink()
    line = "programmes/home/2.0.yaml:1:1: error published: home 2.0 is published at main and is gone here"
    report = text(tree, status=1)
    assert line in report
    assert "put 2.0.yaml back" in report
    (finding,) = changes(tree, status=1)["not_allowed"]
    assert (finding["check"], finding["severity"], finding["line"]) == ("published", "error", 1)


def test_a_new_edition_in_three_sentences(tree: Path) -> None:
    next_edition(tree, ("rounds: 2", "rounds: [2, 3]"))
    (told,) = changes(tree)["versions"]
    assert told["short"].keys() == {"minutes", "harder", "why"}
    assert "than before" in told["short"]["minutes"]
    assert "harder, with more work or load" in told["short"]["harder"]
    assert told["short"]["why"].startswith("Why: ")


def test_minutes_are_those_of_a_mean_week(tmp_path: Path) -> None:
    """Warm-up 600 s and 2 × 8 × 3 s with 60 s between: 756 s; a third set 108 s more; both twice a week."""
    before, now = plan("squat, sets: 2, reps: 8"), plan("squat, sets: 3, reps: 8")
    short = told(now, before, tmp_path)
    assert short.minutes == "A week takes about 29 minutes, 3 more than before."
    assert short.harder == "Trial gets harder, with more work or load."
    assert short.why == "Why: Once more."


def test_levels_that_change_differently_say_so_each(tmp_path: Path) -> None:
    """Starter as above; a second level keeps its two sets: 756 s, twice a week."""
    before = version(day(sets("squat, sets: 2, reps: 8")), keys="levels: [starter, steady]")
    now = version(
        day(sets("squat, sets: {starter: 3, steady: 2}, reps: 8")), keys="levels: [starter, steady]"
    )
    minutes = told(now, before, tmp_path, TWO_LEVELS).minutes
    assert minutes == (
        "A week takes about 29 minutes at Starter (3 more than before) and 26 at Steady (as long as before)."
    )


def test_a_first_version_says_how_long_and_what_for(tmp_path: Path) -> None:
    short = told(plan("squat, sets: 2, reps: 8"), None, tmp_path)
    assert "nothing gets harder" in short.harder
    assert "than before" not in short.minutes
    assert short.why.startswith("What it is for: ")


@pytest.mark.parametrize(
    ("before", "now", "says"),
    [
        (["squat, sets: 2, reps: 8"], ["squat, sets: 3, reps: 8"], "gets harder"),
        (["squat, sets: 3, reps: 8"], ["squat, sets: 3, reps: 6"], "gets easier"),
        (["squat, sets: 3, reps: 8"], ["squat, sets: 4, reps: 4"], "is done another way"),
        (["squat, sets: 2, reps: 8"], ["squat, sets: 2, reps: 8, load: 2 kg"], "gets harder"),
        # 120 kg of load-volume and 90; 192 kg and 192.
        (["squat, sets: 2, reps: 10, load: 6 kg"], ["squat, sets: 3, reps: 10, load: 3 kg"], "another way"),
        (["squat, sets: 3, reps: 8, load: 8 kg"], ["squat, sets: 3, reps: 16, load: 4 kg"], "gets harder"),
        (["squat, sets: 2, reps: 8"], ["squat, sets: 2, reps: 8, setting: deep"], "is done another way"),
        (["squat, sets: 2, reps: 8"], ["squat, sets: 2, reps: 8"], "No exercise gets harder or easier."),
    ],
)
def test_more_work_is_harder_and_less_is_easier(
    before: list[str], now: list[str], says: str, tmp_path: Path
) -> None:
    assert says in told(plan(*now), plan(*before), tmp_path).harder


def test_a_picture_of_the_base_is_no_finding_that_goes(tree: Path) -> None:
    (tree / "media").mkdir()
    (tree / "media/crest.png").write_bytes(ROOT.joinpath("programmes/media/crest.png").read_bytes())
    trees.change(tree / "club.yaml", "club: ", "look: {crest: crest.png}\nclub: ")
    clones.committed(tree.parent)
    assert changes(tree)["findings"] == {"new": [], "resolved": []}
