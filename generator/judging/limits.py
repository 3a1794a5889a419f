"""What is allowed and on whose word: thresholds and severities of every check, as data.

Thresholds are inclusive: what stands here is still inside. The published values were set for supervised
training; every message that rests on one says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .sources import ASSUMED, COMMON_PRACTICE, FIGURE_MODEL, FORMAT, PROGRAMME, Published

MINUTE_SECONDS = 60

SESSIONS_A_WEEK = range(2, 4)
_TWO_TO_THREE = "2 to 3 sessions a week"
SESSIONS = Published((("csep-2008", _TWO_TO_THREE), ("nsca-2009", _TWO_TO_THREE)))
_APART = f"{_TWO_TO_THREE} on days that are not consecutive"
APART = Published((("csep-2008", _APART), ("consensus-2014", _APART)))
LEAST_WARM_UP, USUAL_WARM_UP = 5 * 60, 10 * 60
"""Seconds."""
WARM_UP_SHORT = Published((("nsca-2009", "a warm-up of 5 to 10 min"),))
WARM_UP_UNUSUAL = Published((("aap-2008", "a warm-up of 10 to 15 min"),))
LEAST_COOL_DOWN = 5 * 60
"""Seconds; habit."""
COOL_DOWN = Published((("aap-2008", "a cool-down of 10 to 15 min"),))
MOST_SETS, MOST_FIRST_SETS = 4, 2
SETS = Published((("csep-2008", f"up to {MOST_SETS} sets"),))
FIRST_SETS = Published((("csep-2008", f"1 to {MOST_FIRST_SETS} sets at first"),))
LEAST_REPS, MOST_REPS = 6, 15
FEW_REPS_ARE_USUAL = frozenset({"jump", "land"})
"""Patterns of power, for which NSCA 2009 has 3 to 6 reps."""
REPS = Published((("nsca-2009", "6 to 15 reps a set"), ("csep-2008", "8 to 15")))
MOST_EXERCISES = 12
EXERCISES = Published((("csep-2008", f"8 to {MOST_EXERCISES} exercises"),))
LEAST_REST = 60
"""Seconds from the end of a bout to the next bout of the same exercise."""
REST = Published((("consensus-2014", "about 1 min between sets"),))
LEAST_REST_AFTER_HIGH_LANDINGS = 120
"""The same, of exercises with high landings."""
REST_AFTER_HIGH_LANDINGS = Published(
    (("consensus-2014", "2 to 3 min where skill, force or power is higher"),)
)
REST_THAT_MAY_DO = "Chu & Myer 2013: 1 to 2 min may do between sets of jumps of the young"
"""Another statement of the same, which asks for less."""
MOST_HARD_LANDINGS = 10
"""Medium or high landings of one set, per side."""
LANDINGS_A_SET = Published((("acsm-plyometric", f"6 to {MOST_HARD_LANDINGS} reps a set"),))
LEAST_FREE_DAYS, USUAL_FREE_DAYS = 1, 2
"""Days of a week without session or match."""
FREE_DAYS = Published((("aap-2024", "at least 1 to 2 days off a week"),))

BEGINNER_START_CONTACTS = 60
BEGINNER_START_CONTACTS_A_WEEK = 120
START_WEEKS = range(1, 3)
"""Of the first phase that lands."""
YOUNG = 14
"""An audience that begins younger than this is held to the row of beginners at every level."""
MOST_CONTACTS = {"beginner": 100, "intermediate": 120, "advanced": 140}
"""Landings in one session."""
START_CONTACTS = Published((("johnson-2011", f"start at 50 to {BEGINNER_START_CONTACTS} at ages 5 to 14"),))
START_CONTACTS_A_WEEK = Published(
    (("johnson-2011", f"start at 50 to {BEGINNER_START_CONTACTS} twice a week at ages 5 to 14"),)
)
CONTACTS = {
    experience: Published((("essentials-plyometric", f"at most {most} for {experience} adults"),))
    for experience, most in MOST_CONTACTS.items()
}
HARD_LANDINGS = ("medium", "high")
HOURS_BETWEEN_JUMPS = 48
JUMPS_APART = Published(
    (("essentials-plyometric", f"{HOURS_BETWEEN_JUMPS} to 72 h between sessions with jumps"),)
)
LAND_FIRST = Published((("lloyd-2011", "landing is learned before jumping"),))
TIRED = Decimal("0.5")
"""Share of the day's work that may come before its landings."""

LOAD_STEP = 10
"""Per cent."""
LOADS = Published((("nsca-2009", f"steps of 5 to {LOAD_STEP} %"),))
NO_TEN_PER_CENT = "a rule of 10 % had no effect on injuries in a trial (Buist 2008)"
BALANCE = 2
"""The larger side may be so many times the smaller."""
BALANCED = (
    ("push", ("push",), "pull", ("pull",)),
    ("squat and lunge", ("squat", "lunge"), "hinge", ("hinge",)),
)
"""Two sides each, with the patterns that make them up."""
LEGS = frozenset({"squat", "lunge", "hinge", "jump"})
LEGS_SHARE = 3
"""The sets of the day may be so many times those of the legs, or more, on the day before a match."""
EASY_WEEK = 4
"""So many weeks in a row with none lighter than the one before are told."""
YOUNGEST = 7
AGE = Published((("aap-2008", "not before about 7 to 8 years"),))


@dataclass(frozen=True, slots=True)
class Rule:
    """One check as `/about/` lists it. `rests_on` has keys of SOURCES, or one of the phrases beside them."""

    check: str
    when: str
    severity: str
    rests_on: tuple[str, ...]


_LANDINGS = ", ".join(f"{most} ({who})" for who, most in MOST_CONTACTS.items())

RULES = (
    Rule("minute", "Work in an every-minute block is longer than its minute", "error", (FORMAT,)),
    Rule("warm-up", "A day has no warm-up", "error", (COMMON_PRACTICE,)),
    Rule("published", "What is published has another plan, or is gone", "error", (FORMAT,)),
    Rule(
        "session-length",
        "A session is longer than the programme's limit (warning); longer only without the timer, with "
        "every changeover "
        "doubled and every rest a quarter longer (note)",
        "warning or note",
        (PROGRAMME, ASSUMED),
    ),
    Rule(
        "sessions-per-week",
        "More sessions in a week than the programme's limit (warning); fewer than 2 or more than 3 (note)",
        "warning or note",
        (PROGRAMME, *SESSIONS.sources),
    ),
    Rule(
        "days-apart",
        "No choice of the suggested weekdays keeps sessions off neighbouring days, Sunday to Monday too",
        "warning",
        APART.sources,
    ),
    Rule(
        "warm-up-length",
        "A warm-up of less than 5 min (warning) or less than 10 min (note), from its start to its end",
        "warning or note",
        (*WARM_UP_SHORT.sources, *WARM_UP_UNUSUAL.sources),
    ),
    Rule(
        "cool-down-length",
        "A cool-down of less than 5 min, where there is one, from its start to its end",
        "note",
        (COMMON_PRACTICE, *COOL_DOWN.sources),
    ),
    Rule(
        "sets",
        f"More than {MOST_SETS} sets of an exercise in a session (warning); more than {MOST_FIRST_SETS} for "
        "beginners in week 1 of phase 1 (note)",
        "warning or note",
        SETS.sources,
    ),
    Rule(
        "reps",
        f"More than {MOST_REPS} reps a set, or fewer than {LEAST_REPS} unless of a jump or landing; more "
        "than "
        f"{MOST_HARD_LANDINGS} with medium or high landings; per side",
        "note",
        (*REPS.sources, *LANDINGS_A_SET.sources),
    ),
    Rule("exercises", f"More than {MOST_EXERCISES} exercises in a session", "note", EXERCISES.sources),
    Rule(
        "rest",
        f"Less than {LEAST_REST} s from the end of a bout to the next bout of the same exercise, or than "
        f"{LEAST_REST_AFTER_HIGH_LANDINGS} s with high landings",
        "note",
        (*REST.sources, "chu-myer-2013"),
    ),
    Rule(
        "contacts",
        f"Landings in a session: over {_LANDINGS}, or over {MOST_CONTACTS['beginner']} at any level where "
        "the audience "
        f"begins under {YOUNG} (warning); a beginner over {BEGINNER_START_CONTACTS} in a session or over "
        f"{BEGINNER_START_CONTACTS_A_WEEK} in a week, in weeks 1 and 2 of the first phase that lands (note)",
        "note or warning",
        ("johnson-2011", "essentials-plyometric"),
    ),
    Rule(
        "jump-days-apart",
        f"Sessions with medium or high landings less than {HOURS_BETWEEN_JUMPS} h apart",
        "warning",
        JUMPS_APART.sources,
    ),
    Rule(
        "land-first",
        "Medium or high landings in jumps before any landing exercise has been trained",
        "note",
        LAND_FIRST.sources,
    ),
    Rule(
        "jumps-when-tired",
        "Medium or high landings after more than half of the day's work",
        "note",
        (COMMON_PRACTICE,),
    ),
    Rule(
        "load-step",
        f"A load goes up by more than {LOAD_STEP} % on the week before, or on the most of the phase before",
        "note",
        LOADS.sources,
    ),
    Rule(
        "week-step",
        "Sets, time under tension or landings of a week go up by more than the programme's limit, which is a "
        "convention: a 10 % rule had no effect in a trial",
        "warning",
        (PROGRAMME, "buist-2008"),
    ),
    Rule(
        "balance",
        f"Sets of push to pull in a week, or of squat and lunge to hinge, further apart than 1 : {BALANCE}",
        "note",
        (COMMON_PRACTICE,),
    ),
    Rule(
        "match-near",
        "The day before a match has more than a third of its sets in squat, lunge, hinge or jump",
        "note",
        (COMMON_PRACTICE,),
    ),
    Rule(
        "easy-week",
        f"{EASY_WEEK} or more weeks in a row with none lighter than the one before",
        "note",
        (COMMON_PRACTICE,),
    ),
    Rule(
        "rest-days",
        f"A week whose sessions and match days leave fewer than {USUAL_FREE_DAYS} days free (note), or "
        "none (warning)",
        "note or warning",
        FREE_DAYS.sources,
    ),
    Rule(
        "two-at-once",
        "Two programmes whose ages and dates overlap have more than 3 sessions a week together",
        "note",
        SESSIONS.sources,
    ),
    Rule(
        "address",
        "The public address is missing, or is a name kept for examples while the club is not the demo",
        "warning",
        ("rfc-2606",),
    ),
    Rule(
        "unused",
        "A routine that no day uses, or an exercise that nothing names, and that is not the library's own",
        "note",
        (FORMAT,),
    ),
    Rule("twice", "Two exercises with one name; a station that stands twice in a block", "note", (FORMAT,)),
    Rule("age", f"The audience is younger than {YOUNGEST}", "warning", AGE.sources),
    Rule("ladder", "An exercise for beginners has no easier option", "note", (COMMON_PRACTICE,)),
    Rule(
        "kit",
        "A load that no recipe of the club's kit reaches (warning); a thing that one exercise needs, and "
        "whose word is one slip from that of another (note)",
        "warning or note",
        (FORMAT,),
    ),
    Rule(
        "figure",
        "A figure with a joint past its range, a planted part off its place, a limb inside floor or wall; "
        "or the middle of its weight outside what it stands on (note)",
        "warning or note",
        (COMMON_PRACTICE,),
    ),
    Rule(
        "ladder-order",
        "An easier exercise whose figure has the hands carry a larger share, or a harder one a smaller",
        "warning",
        (FIGURE_MODEL,),
    ),
    Rule(
        "sides",
        "An exercise with a left and a right side that does not say what left means (`side is`)",
        "note",
        (COMMON_PRACTICE,),
    ),
)

OF_NO_VERSION = {
    "address": "it is of the site and no programme's, so no file has a place to accept it: write the club's "
    "own site_url into mkdocs.yml",
    "unused": "it is of a file that no programme has, so no file has a place to accept it: name the file in "
    "a day, a station or an option, or take it out",
}
"""What is told of a tree and belongs to no version or programme, in whose file it could be accepted: why, and
what to do."""
_NEVER_ACCEPTED = OF_NO_VERSION.keys() | {rule.check for rule in RULES if rule.severity == "error"}
ACCEPTABLE = frozenset(rule.check for rule in RULES) - _NEVER_ACCEPTED
"""Ids that `accept` may name: every warning or note."""
