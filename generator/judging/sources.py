"""The published statements that checks rest on, in full, and how the values of each were verified.

All of them were set for training that a qualified adult supervises.
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
    "nsca-2009": Source(
        "NSCA 2009",
        "Faigenbaum AD et al. (2009). Youth resistance training: updated position statement paper from the "
        "National Strength and Conditioning Association. J Strength Cond Res 23(5 Suppl):S60-S79.",
        "1 to 3 sets second-hand; sessions a week, warm-up minutes, reps and the step of load from memory",
    ),
    "consensus-2014": Source(
        "2014 International Consensus",
        "Lloyd RS et al. (2014). Position statement on youth resistance training: the 2014 International "
        "Consensus. Br J Sports Med 48(7):498-505.",
        "values second-hand",
    ),
    "aap-2008": Source(
        "AAP 2008",
        "American Academy of Pediatrics Council on Sports Medicine and Fitness, McCambridge TM, Stricker PR "
        "(2008). Strength training by children and adolescents. Pediatrics 121(4):835-840.",
        "values second-hand; a revision of 2020 replaces it, whose doses were not seen",
    ),
    "johnson-2011": Source(
        "Johnson 2011",
        "Johnson BA, Salzberg CL, Stevenson DA (2011). A systematic review: plyometric training programs for "
        "young children. J Strength Cond Res 25(9):2623-2633.",
        "values seen in the published abstract (ages 5 to 14; start at 50 to 60 jumps a session, twice a "
        "week, more each "
        "week); landings a week are derived from that",
    ),
    "lloyd-2011": Source(
        "Lloyd, Meyers & Oliver 2011",
        "Lloyd RS, Meyers RW, Oliver JL (2011). The natural development and trainability of plyometric "
        "ability during childhood. Strength Cond J 33(2):23-32.",
        "the paper was located; the order of its stages is from memory",
    ),
    "essentials-plyometric": Source(
        "Essentials, plyometric table (adults)",
        "Potach DH, Chu DA. Plyometric training. In: Essentials of Strength Training and Conditioning "
        "(Haff & Triplett, 4th ed., 2016): appropriate plyometric volumes.",
        "beginner row second-hand, other rows and the hours between sessions from memory; written for adults",
    ),
    "acsm-plyometric": Source(
        "ACSM on youth plyometrics",
        "Faigenbaum AD, Chu DA (2001). Plyometric training for children and adolescents. American "
        "College of Sports "
        "Medicine, Current Comment.",
        "values seen (1 to 3 sets of 6 to 10 reps, twice a week on days that are not consecutive)",
    ),
    "chu-myer-2013": Source(
        "Chu & Myer 2013",
        "Chu DA, Myer GD (2013). Plyometrics. Human Kinetics.",
        "values seen in a published excerpt",
    ),
    "aap-2024": Source(
        "AAP 2024",
        "Brenner JS, Watson A, American Academy of Pediatrics Council on Sports Medicine and Fitness "
        "(2024). Overuse "
        "injuries, overtraining, and burnout in young athletes. Pediatrics 153(2):e2023065129.",
        "values seen (at least 1 to 2 days off a week, 2 to 3 months a year)",
    ),
    "rfc-2606": Source(
        "RFC 2606",
        "Eastlake D, Panitz A (1999). Reserved Top Level DNS Names. RFC 2606, sections 2 and 3.",
        "names from the published text, from memory",
    ),
    "buist-2008": Source(
        "Buist 2008",
        "Buist I et al. (2008). No effect of a graded training program on the number of running-related "
        "injuries in novice runners: a randomized controlled trial. Am J Sports Med 36(1):33-39.",
        "values seen in the published abstract (532 adult beginners in running: 20.8 % injured with a 10 % "
        "rule, 20.3 % without)",
    ),
}

PROGRAMME = "the programme's own limit"
COMMON_PRACTICE = "common practice, no source"
ASSUMED = "an assumption, no source"
FORMAT = "the file format"
FIGURE_MODEL = "the figures' model: segment masses of adults (Winter 2009, Table 4.1)"


@dataclass(frozen=True, slots=True)
class Published:
    """What one or more sources say of one thing: pairs of a key of SOURCES and its statement."""

    says: tuple[tuple[str, str], ...]

    @property
    def outside(self) -> str:
        """The sentence by which a message names them: a place beside a range, not a judgement of risk."""
        named: dict[str, list[str]] = {}
        for source, statement in self.says:
            named.setdefault(statement, []).append(SOURCES[source].short)
        told = ", and ".join(f"{' and '.join(names)}: {statement}" for statement, names in named.items())
        return f"outside {told}; set for supervised training"

    @property
    def cited(self) -> str:
        """The full citations, for the `source` of a finding."""
        return cited(*self.sources)

    @property
    def sources(self) -> tuple[str, ...]:
        """Their keys."""
        return tuple(source for source, _ in self.says)


def cited(*sources: str) -> str:
    """The full citations of keys of SOURCES; other words as they are."""
    return " | ".join(SOURCES[source].full if source in SOURCES else source for source in sources)
