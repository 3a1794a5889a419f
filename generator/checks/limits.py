"""What is allowed and on whose word: thresholds, severities and sources of every check, as data.

The published values were set for supervised training; every message that rests on one says so.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """A published statement. `short` is how a message names it; `known` how its values were verified."""

    short: str
    full: str
    known: str


SOURCES = {
    "csep-2008": Source(
        "CSEP 2008",
        "Behm DG, Faigenbaum AD, Falk B, Klentrou P (2008). Canadian Society for Exercise Physiology "
        "position paper: resistance training in children and adolescents. "
        "Appl Physiol Nutr Metab 33(3):547-561.",
        "values seen in the published abstract",
    ),
    "consensus-2014": Source(
        "2014 International Consensus",
        "Lloyd RS et al. (2014). Position statement on youth resistance training: the 2014 International "
        "Consensus. Br J Sports Med 48(7):498-505.",
        "values second-hand",
    ),
    "johnson-2011": Source(
        "Johnson 2011",
        "Johnson BA, Salzberg CL, Stevenson DA (2011). A systematic review: plyometric training programs for "
        "young children. J Strength Cond Res 25(9):2623-2633.",
        "values seen in the published abstract (ages 5 to 14; start at 50 to 60 jumps a session)",
    ),
    "essentials-plyometric": Source(
        "Essentials, plyometric table (adults)",
        "Potach DH, Chu DA. Plyometric training. In: Essentials of Strength Training and Conditioning "
        "(Haff & Triplett, 4th ed., 2016): appropriate plyometric volumes.",
        "beginner row second-hand, other rows from memory; written for adults",
    ),
}

PROGRAMME = "the programme's own limit"
COMMON_PRACTICE = "common practice, no source"
FORMAT = "the file format"


@dataclass(frozen=True, slots=True)
class Rule:
    """One check as `/about/` lists it. `rests_on` has keys of SOURCES or one of the three phrases above."""

    check: str
    when: str
    severity: str
    rests_on: tuple[str, ...]


MINUTE_SECONDS = 60
BEGINNER_START_CONTACTS = 60
MOST_CONTACTS = {"beginner": 100, "intermediate": 120, "advanced": 140}
"""Landings in one session, inclusive."""

RULES = (
    Rule("minute", "work in an every-minute block longer than its minute", "error", (FORMAT,)),
    Rule("warm-up", "a day without a warm-up", "error", (COMMON_PRACTICE,)),
    Rule("session-length", "a session longer than the programme's limit", "warning", (PROGRAMME,)),
    Rule(
        "days-apart",
        "no choice of the suggested weekdays keeps sessions off neighbouring days",
        "warning",
        ("csep-2008", "consensus-2014"),
    ),
    Rule(
        "contacts",
        f"landings in a session: a beginner over {BEGINNER_START_CONTACTS} (note); over "
        + ", ".join(f"{most} ({who})" for who, most in MOST_CONTACTS.items()),
        "note or warning",
        ("johnson-2011", "essentials-plyometric"),
    ),
    Rule("kit", "a load that no recipe of the club's kit reaches", "warning", (COMMON_PRACTICE,)),
)

ACCEPTABLE = frozenset(
    {
        "session-length",
        "sessions-per-week",
        "days-apart",
        "warm-up-length",
        "sets",
        "reps",
        "exercises",
        "rest",
        "contacts",
        "jump-days-apart",
        "land-first",
        "jumps-when-tired",
        "load-step",
        "week-step",
        "balance",
        "match-near",
        "easy-week",
        "age",
        "ladder",
        "kit",
    }
)
"""Ids that `accept` may name: every warning or note of the format, judged here or not yet."""


def outside(source: str, statement: str) -> str:
    """The sentence by which a message names a published value."""
    return f"outside {SOURCES[source].short}: {statement}; set for supervised training"


def cited(*sources: str) -> str:
    """The full citations, for the `source` of a finding."""
    return " | ".join(SOURCES[source].full if source in SOURCES else source for source in sources)
