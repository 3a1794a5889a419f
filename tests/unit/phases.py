"""Programmes of any phases written as YAML, sound in all that a test does not say: for checks of soundness."""

from collections.abc import Mapping
from pathlib import Path

from generator.findings import Finding
from tests.unit import sessions, trees

# Each exercise takes 3 s a rep on two feet unless it says otherwise; jumps and landings land once a rep.
EXERCISES = {
    "ready": "pattern: locomotion, sides: both, measure: time",
    "squat": "pattern: squat, sides: both, measure: reps, tempo: 2-0-1-0, loadable: true",
    "split": "pattern: lunge, sides: each, measure: reps, tempo: 2-0-1-0",
    "step": "pattern: lunge, sides: alternating, measure: reps, tempo: 2-0-1-0",
    "bridge": "pattern: hinge, sides: both, measure: reps, tempo: 2-0-1-0, loadable: true",
    "push": "pattern: push, sides: both, measure: reps, tempo: 2-0-1-0",
    "pull": "pattern: pull, sides: both, measure: reps, tempo: 2-0-1-0, loadable: true",
    "brace": "pattern: brace, sides: both, measure: hold",
    "plank": "pattern: brace, sides: each, measure: hold",
    "bounce": "pattern: jump, sides: both, measure: reps, seconds per rep: 3, contacts: 1, landing: low",
    "jump": "pattern: jump, sides: both, measure: reps, seconds per rep: 3, contacts: 1, landing: medium",
    "hop": "pattern: jump, sides: each, measure: reps, seconds per rep: 3, contacts: 1, landing: high",
    "drop": "pattern: land, sides: both, measure: reps, seconds per rep: 3, contacts: 1, landing: low",
    "step-off": "pattern: land, sides: both, measure: reps, seconds per rep: 3, contacts: 1, landing: medium",
}
LEVELS = "levels: [{id: starter, name: Starter, experience: beginner}]"
TWO_LEVELS = (
    "levels: [{id: starter, name: Starter, experience: beginner}, "
    "{id: steady, name: Steady, experience: intermediate}]"
)
WARM_UP = "- {kind: circuit, rounds: 1, stations: [{exercise: ready, work: 10 min}]}"


def version(
    *days: str, starts: str = "2027-01-11", weeks: int = 1, keys: str = "", changes: str = "Once more."
) -> str:
    """A version file of these days; `keys` are further lines."""
    head = f"phase: Trial\naim: To be tried.\nstarts: {starts}\nweeks: {weeks}\nchanges: {changes}\n{keys}\n"
    return f"{head}days:\n{''.join(days)}"


def day(*blocks: str, name: str = "day", on: str = "[mon, thu]") -> str:
    """A day of these blocks, each a YAML mapping on one line."""
    lines = "".join(f"      - {block}\n" for block in blocks)
    return f"  - id: {name}\n    title: Day\n    on: {on}\n    warm-up: ready\n    blocks:\n{lines}"


def sets(*stations: str, rest: str = "60 s") -> str:
    """A block of straight sets of stations such as `squat, sets: 2, reps: 8`."""
    listed = ", ".join(f"{{exercise: {each}, rest: {rest}}}" for each in stations)
    return f"{{kind: straight sets, stations: [{listed}]}}"


def planted(
    to: Path,
    versions: Mapping[str, str],
    programme: str = LEVELS,
    exercises: Mapping[str, str] | None = None,
    warm_up: str = WARM_UP,
    nothing_easier: str = "",
) -> Path:
    """A tree with one programme, `trial`, of versions by name; one exercise may have `nothing_easier`."""
    files = {
        "club.yaml": "club: Fennmouth Juniors\nkit: [{item: bottle, holds: 0.1 l}, {item: can, holds: 1 l}]\n",
        "routines/ready.yaml": sessions.routine("warm-up", warm_up),
        "trial/programme.yaml": f"title: Trial\n{programme}\n",
    }
    for name, text in {**EXERCISES, **(exercises or {})}.items():
        easier = "" if name == nothing_easier else "easier: [{how: do less}]\n"
        files[f"exercises/{name}.yaml"] = sessions.exercise(text) + easier
    for name, text in versions.items():
        files[f"trial/{name}.yaml"] = text
    for name, text in files.items():
        path = to / "programmes" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return to / "programmes"


def found(tree: Path, check: str, version: str = "") -> list[Finding]:
    """What one check raises, in a version if one is named; the tree must have no errors."""
    findings = trees.checked(tree).findings
    assert [each.message for each in findings if each.severity == "error"] == []
    return [each for each in findings if each.check == check and each.file.endswith(f"{version}.yaml")]


def one_day(to: Path, *blocks: str, programme: str = LEVELS, name: str = "1.0", **words: object) -> Path:
    """A tree with one version of one day, trained on Monday and Thursday."""
    return planted(to, {name: version(day(*blocks), **words)}, programme)  # type: ignore[arg-type]


def says_what_a_published_value_has_to(finding: Finding, *authors: str) -> None:
    """Names its sources, says outside and not unsafe, and for what training the values were set."""
    assert "outside" in finding.message
    assert "unsafe" not in finding.message
    assert "set for supervised training" in finding.message
    assert all(author in finding.source for author in authors), finding.source
    assert finding.hint


def says_that_it_is_habit(finding: Finding) -> None:
    """Common practice, and no source."""
    assert "common practice, no source" in finding.message
    assert finding.source == "common practice, no source"
    assert finding.severity == "note"
    assert finding.hint
