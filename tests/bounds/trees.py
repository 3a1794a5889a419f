"""Hostile trees of up to a megabyte: each wants as much as it can of one thing that a program can run out of.

A tree is a mapping of file names to texts. `python -m tests.bounds.trees FOLDER [NAME…]` writes them out.
"""

import sys
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

from phasepress.judging.work import MOST_SESSIONS, MOST_STATIONS

MOST_BYTES = 1_000_000
Tree = dict[str, str]
TREES: dict[str, Callable[[], Tree]] = {}

SAID = "setup: [a]\ncues: [a, b]\ncautions: [a]\n"
HOLD = f"name: a\npattern: brace\nsides: both\nmeasure: hold\n{SAID}"
REPS = f"name: b\npattern: squat\nsides: both\nmeasure: reps\nseconds per rep: 2\nloadable: true\n{SAID}"
JUMP = f"name: c\npattern: jump\nsides: both\nmeasure: reps\nseconds per rep: 1\ncontacts: 1\nlanding: high\n{SAID}"
LEVELS = [f"l{n}" for n in range(12)]
BASE = {
    "club.yaml": "club: c\nkit: [{item: bottle, holds: 1 l}]\n",
    "exercises/h.yaml": HOLD,
    "exercises/r.yaml": REPS,
    "exercises/j.yaml": JUMP,
    "routines/w.yaml": "name: w\nkind: warm-up\nblocks: [{kind: circuit, rounds: 1, stations: [{exercise: h, hold: 1 s}]}]\n",
}


def tree(make: Callable[[], Tree]) -> Callable[[], Tree]:
    """Register a maker under its name, and hold its tree to the size that is promised."""

    def made() -> Tree:
        files = make()
        size = sum(len(name.encode()) + len(text.encode()) for name, text in files.items())
        assert size <= MOST_BYTES, f"{make.__name__} has {size:,} bytes"
        return files

    TREES[make.__name__.replace("_", " ")] = made
    return made


def programme(levels: int = 1) -> str:
    """A programme with so many levels, beginners all."""
    own = ", ".join(f"{{id: {level}, name: a, experience: beginner}}" for level in LEVELS[:levels])
    return f"title: t\nlevels: [{own}]\n"


def version(days: str, weeks: int = 1, number: int = 0, head: str = "") -> str:
    """A version file whose days are given in flow style; `number` puts one phase after another."""
    starts = date(2027, 1, 11) + timedelta(weeks=weeks * number)
    return f"phase: p\naim: a\nstarts: {starts}\nweeks: {weeks}\n{head}days: [{days}]\n"


def day(name: str, blocks: str, on: str = "mon") -> str:
    """A day in flow style; `blocks` stands between the brackets."""
    return f"{{id: {name}, title: t, on: [{on}], warm-up: w, blocks: [{blocks}]}}"


def circuit(stations: str, rounds: str = "1", more: str = "") -> str:
    """A circuit without rests or changeovers, so that all that there is is stations."""
    return f"{{kind: circuit, rounds: {rounds}, rest: 0 s, changeover: 0 s, {more}stations: [{stations}]}}"


def straight_sets(stations: str) -> str:
    """Straight sets without changeovers."""
    return f"{{kind: straight sets, changeover: 0 s, stations: [{stations}]}}"


def filled(make: Callable[[int], Tree], room: int = MOST_BYTES - 3000, versions: int = 1_000_000) -> Tree:
    """As many pieces as there is room for, after the files that all trees have."""
    files = dict(BASE)
    size = 0
    for number in range(versions):
        more = make(number)
        size += sum(len(name.encode()) + len(text.encode()) for name, text in more.items())
        if size > room:
            return files
        files |= more
    return files


def many(text: str, times: int) -> str:
    """The text so many times, with commas."""
    return ", ".join([text] * times)


def by_week(values: Iterator[int] | range, unit: str = "") -> str:
    """A list with an entry a week."""
    return "[" + ",".join(f"{value}{unit}" for value in values) + "]"


def of(programmes: Tree, levels: int = 1) -> Tree:
    """The files of programme `p` on top of those that all trees have."""
    return {**BASE, "p/programme.yaml": programme(levels), **programmes}


# --- segments, stations, sessions ------------------------------------------------------------------------------


@tree
def a_small_file_of_very_many_segments() -> Tree:
    """14 days × 2 blocks × 40 stations × 50 rounds × 52 weeks × 8 levels in a few kilobytes."""
    block = circuit(many("{exercise: h, hold: 1 s}", 40), "50")
    days = ", ".join(day(f"d{n}", many(block, 2)) for n in range(14))
    return of({"p/1.0.yaml": version(days, 52)}, 8)


@tree
def segments_up_to_the_bound() -> Tree:
    """Sessions of nearly 5,000 segments each, all different, until the bound."""
    rounds = by_week(range(1, 51))
    files = {}
    for number in range(60):
        stations = ", ".join(f"{{exercise: h, hold: {n + 1} s}}" for n in range(39))
        varied = f"{{exercise: r, reps: {rounds}}}"
        files[f"p/{number + 1}.0.yaml"] = version(
            day("d", many(circuit(f"{stations}, {varied}", "50"), 2)), 50, number
        )
    return of(files)


@tree
def a_cap_of_hours_and_of_thousandths_of_seconds() -> Tree:
    cap = "{kind: timed rounds, lasts: 240 min, changeover: 0 s, stations: [{exercise: h, hold: 0.001 s}]}"
    return of({"p/1.0.yaml": version(day("d", many(cap, 26)), 52)}, 12)


@tree
def stations_that_differ_in_every_session() -> Tree:
    """As many stations as there may be: another load in every week and other reps at every level."""
    reps = "{" + ", ".join(f"{level}: {n + 5}" for n, level in enumerate(LEVELS[:4])) + "}"
    fit = MOST_STATIONS // (52 * 4 * 31)

    def one(number: int) -> Tree:
        stations = ", ".join(
            f"{{exercise: r, reps: {reps}, load: {by_week(range(number + k, number + k + 52), ' kg')}}}"
            for k in range(10)
        )
        return {f"p/{number + 1}.0.yaml": version(day("d", many(circuit(stations), 3)), 52, number)}

    return {**filled(one, versions=fit), "p/programme.yaml": programme(4)}


@tree
def sessions_that_all_differ() -> Tree:
    """As many sessions as there may be, with one small station each, no two alike."""
    rows = ", ".join(f"{level}: {by_week(range(n * 52, n * 52 + 52))}" for n, level in enumerate(LEVELS))

    def one(number: int) -> Tree:
        text = version(day("d", circuit(f"{{exercise: r, reps: {{{rows}}}}}")), 52, number)
        return {f"p/{number + 1}.0.yaml": text}

    return {**filled(one, versions=MOST_SESSIONS // 624), "p/programme.yaml": programme(12)}


@tree
def sessions_that_are_all_alike() -> Tree:
    """Thousands of days of one station, at twelve levels, for a year."""

    def one(number: int) -> Tree:
        days = ", ".join(day(f"d{n}", circuit("{exercise: h, hold: 1 s}")) for n in range(14))
        return {f"p/{number + 1}.0.yaml": version(days, 52, number)}

    return {**filled(one), "p/programme.yaml": programme(12)}


@tree
def stations_that_a_0_leaves_out() -> Tree:
    """Nothing is trained, and it takes long to find that out."""
    stations = circuit(many("{exercise: r, reps: 0}", 40))
    days = ", ".join(day(f"d{n}", many(stations, 20)) for n in range(14))
    return of({"p/1.0.yaml": version(days, 52)}, 12)


@tree
def sessions_of_every_check() -> Tree:
    """Jumps when tired, short rests, loads that go up, at every station: as many findings as possible."""
    jumps = "{exercise: j, reps: 20, sets: 9, rest: 0 s}"
    up = "{exercise: r, reps: [16, 17, 18, 19], sets: 9, rest: 1 s, load: [1 kg, 3 kg, 7 kg, 15 kg]}"
    block = straight_sets(f"{many(up, 19)}, {many(jumps, 20)}")

    def one(number: int) -> Tree:
        return {f"p/{number + 1}.0.yaml": version(day("d", many(block, 3), "mon, tue, wed"), 4, number)}

    return {**filled(one), "p/programme.yaml": programme(3)}


@tree
def minutes_that_are_too_short() -> Tree:
    """Every-minute blocks whose work does not fit, in files that have other faults too."""
    stations = many("{exercise: r, reps: 99}", 40)
    block = f"{{kind: every minute, minutes: 9, stations: [{stations}]}}"

    def one(number: int) -> Tree:
        days = day("d", many(block, 12))
        return {f"p/{number + 1}.0.yaml": version(days, 52, number, "nonsense: 1\n")}

    return {**filled(one), "p/programme.yaml": programme(12)}


# --- aliases ---------------------------------------------------------------------------------------------------


@tree
def aliases_that_stand_for_days() -> Tree:
    """Each file as large as a file may be, written in a few hundred bytes."""

    def one(number: int) -> Tree:
        stations = "&s {exercise: r, reps: 5}, " + many("*s", 39)
        blocks = "&b " + circuit(stations) + ", " + many("*b", 25)
        days = "&d " + day("d", blocks) + ", " + many("*d", 28)
        return {f"p{number}/1.0.yaml": version(days), f"p{number}/programme.yaml": programme()}

    return filled(one)


@tree
def aliases_in_lists_of_text() -> Tree:
    cautions = "c: &c [" + many("a", 100) + "]\ncautions: [" + many("*c", 900) + "]\n"
    return filled(lambda number: {f"exercises/x{number}.yaml": HOLD + cautions})


# --- faults ----------------------------------------------------------------------------------------------------


@tree
def unknown_words_beside_thousands_of_known_ones() -> Tree:
    """References that are nearly right, each compared with every id."""
    long = "ab" * 26

    def one(number: int) -> Tree:
        files = {f"exercises/{long}{number:05d}.yaml": "name: a\n"}
        if number % 4 == 0:
            options = ", ".join(f"{{exercise: {'ba' * 26}x{number + n}}}" for n in range(4))
            files[f"exercises/{'ba' * 26}{number:05d}.yaml"] = f"{HOLD}easier: [{options}]\n"
        return files

    return filled(one)


@tree
def unknown_keys() -> Tree:
    return filled(lambda n: {f"exercises/e{n}.yaml": "".join(f"tempa{k}: 1\n" for k in range(100))})


@tree
def keys_that_stand_twice() -> Tree:
    return filled(lambda n: {f"exercises/e{n}.yaml": "a: 1\n" * 120})


@tree
def wrong_values_in_long_lists() -> Tree:
    return filled(lambda n: {f"exercises/e{n}.yaml": f"{HOLD}faults: [{'5,' * 90_000}]\n"})


@tree
def wrong_amounts_in_long_lists() -> Tree:
    station = "{exercise: r, reps: [" + "x," * 40_000 + "]}"
    return {
        **filled(lambda n: {f"p/{n + 1}.0.yaml": version(day("d", circuit(station)), 1, n)}),
        "p/programme.yaml": programme(),
    }


@tree
def files_that_hold_nothing() -> Tree:
    return filled(lambda number: {f"exercises/e{number}.yaml": ""})


@tree
def names_that_mean_nothing() -> Tree:
    return filled(lambda number: {f"exercises/E{number}": ""})


@tree
def a_fault_in_every_file_told_out_of_order() -> Tree:
    """Findings in many large files in turn: none may be read again for each."""
    pad = "faults: [" + many("a", 9000) + "]\n"
    files = {f"exercises/e{n}.yaml": REPS.replace("b\n", f"b{n}\n", 1) + pad for n in range(24)}
    stations = ", ".join(f"{{exercise: e{n}, reps: 5}}" for n in range(24))
    for n in range(60):
        files[f"p/{n + 1}.0.yaml"] = version(day("d", circuit(stations)), 1, n)
    return of(files)


# --- lists and graphs ------------------------------------------------------------------------------------------


@tree
def levels_in_a_long_list() -> Tree:
    levels = ", ".join(f"x{n}" for n in range(80_000))
    return of(
        {"p/1.0.yaml": version(day("d", circuit("{exercise: h, hold: 1 s}")), 1, 0, f"levels: [{levels}]\n")}
    )


@tree
def levels_of_a_programme_in_a_long_list() -> Tree:
    levels = ", ".join(f"{{id: x{n}}}" for n in range(20_000))
    own = ", ".join(f"x{n}" for n in range(20_000))
    text = version(day("d", circuit("{exercise: h, hold: 1 s}")), 1, 0, f"levels: [{own}]\n")
    return of({"p/programme.yaml": f"title: t\nlevels: [{levels}]\n", "p/1.0.yaml": text})


@tree
def days_in_a_long_list() -> Tree:
    """40,000 days, and as many acceptances of them."""
    days = ", ".join(f"{{id: d{n}}}" for n in range(25_000))
    accept = ", ".join(f"{{check: reps, at: d{25_000 - n}, because: a}}" for n in range(10_000))
    return of({"p/1.0.yaml": version(days) + f"accept: [{accept}]\n"})


@tree
def acceptances_of_everything() -> Tree:
    stations = straight_sets(many("{exercise: r, reps: 99, sets: 9}", 40))
    days = ", ".join(day(f"d{n}", many(stations, 20)) for n in range(14))
    accept = many("{check: reps, because: a}", 10_000)
    return of({"p/1.0.yaml": version(days) + f"accept: [{accept}]\n"})


@tree
def loads_on_what_takes_none() -> Tree:
    """No load in the last level of the last week, looked for at every station."""
    stations = circuit(many("{exercise: h, hold: 1 s, load: 0 kg}", 40))
    days = ", ".join(day(f"d{n}", many(stations, 26)) for n in range(20))
    return of({"p/1.0.yaml": version(days, 52)}, 12)


@tree
def a_ladder_of_thousands_of_steps() -> Tree:
    def one(number: int) -> Tree:
        return {f"exercises/e{number}.yaml": f"easier: [{{exercise: e{number + 1}}}]\n"}

    return filled(one)


@tree
def ladders_in_circles() -> Tree:
    def one(number: int) -> Tree:
        return {f"exercises/e{number}.yaml": f"easier: [{{exercise: e{number ^ 1}}}]\n"}

    return filled(one)


@tree
def needs_and_instead_in_long_lists() -> Tree:
    words = [f"w{n}" for n in range(45_000)]
    text = f"{HOLD}needs: [{', '.join(words)}]\ninstead: {{{', '.join(f'{word}: h' for word in reversed(words))}}}\n"
    return {**BASE, "exercises/x.yaml": text[:MOST_BYTES]}


@tree
def things_that_differ_by_one_letter() -> Tree:
    words = [f"{'ab' * 20}{n:05d}" for n in range(18_000)]
    files = {}
    for n in range(100):
        own = ", ".join(words[n::100])
        files[f"exercises/e{n}.yaml"] = f"{HOLD.replace('name: a', f'name: a{n}')}needs: [{own}]\n"
    stations = ", ".join(f"{{exercise: e{n}, hold: 1 s}}" for n in range(39))
    files["p/1.0.yaml"] = version(day("d", circuit(stations)))
    return of(files)


@tree
def a_routine_for_phases_of_every_kind() -> Tree:
    """Phases of every length and set of levels use one large routine."""
    stations = ", ".join(f"{{exercise: r, reps: {{l0: 5, other: {n % 9 + 1}}}}}" for n in range(40))
    routine = f"name: w\nkind: warm-up\nblocks: [{many(circuit(stations), 26)}]\n"

    def one(number: int) -> Tree:
        levels = [level for bit, level in enumerate(LEVELS) if number + 1 >> bit & 1]
        head = f"levels: [{', '.join(levels)}]\n"
        text = version(day("d", circuit("{exercise: h, hold: 1 s}")), number % 52 + 1, 0, head)
        return {f"p/1.{number}.yaml": text + "changes: a\n"}

    return {**filled(one, 900_000), "p/programme.yaml": programme(12), "routines/w.yaml": routine}


@tree
def programmes_of_one_version_each() -> Tree:
    text = version(day("d", circuit("{exercise: h, hold: 1 s}")))
    return filled(lambda n: {f"p{n}/1.0.yaml": text, f"p{n}/programme.yaml": programme()})


@tree
def phases_of_one_programme() -> Tree:
    """Phases that run at once, one after the other and far apart."""
    files = filled(lambda n: {
        f"p/{n + 1}.0.yaml": version(day("d", circuit("{exercise: h, hold: 1 s}")), n % 2 + 1, n)
    })  # fmt: skip
    far = version(day("d", circuit("{exercise: h, hold: 1 s}"))).replace("2027-01-11", "9998-12-21")
    return {**files, "p/programme.yaml": programme(), "p/9999.0.yaml": far, "p/9998.0.yaml": far}


@tree
def editions_of_one_phase() -> Tree:
    text = version(day("d", circuit("{exercise: h, hold: 1 s}")), 52)
    return {**filled(lambda n: {f"p/1.{n}.yaml": text + "changes: a\n"}), "p/programme.yaml": programme()}


@tree
def choices_of_weekdays() -> Tree:
    """Fourteen days, each on any of seven weekdays, seven times: 7 to the power of 98 choices."""
    on = many(" or ".join(("mon", "tue", "wed", "thu", "fri", "sat", "sun")), 7)
    days = ", ".join(day(f"d{n}", circuit("{exercise: h, hold: 1 s}"), on) for n in range(14))
    return {
        **filled(lambda n: {f"p/{n + 1}.0.yaml": version(days, 4, n, "match days: [mon, thu]\n")}),
        "p/programme.yaml": programme(),
    }


# --- numbers and texts -----------------------------------------------------------------------------------------


@tree
def a_kit_of_many_kinds_and_thousands_of_loads() -> Tree:
    kit = ", ".join(f"{{item: k{n}, mass: {mass} kg}}" for n, mass in enumerate(_masses()))
    loads = iter(range(10_000, 200_000))

    def one(number: int) -> Tree:
        stations = ", ".join(f"{{exercise: r, reps: 8, load: {next(loads) / 1000} kg}}" for _ in range(20))
        return {f"p/{number + 1}.0.yaml": version(day("d", many(circuit(stations), 1)), 1, number)}

    files = filled(one, 900_000)
    return {**files, "p/programme.yaml": programme(), "club.yaml": f"club: c\nkit: [{kit}]\n"}


def _masses() -> list[float]:
    """Twelve that add up to very many different totals."""
    return [0.001, 0.002, 0.005, 0.011, 0.023, 0.047, 0.101, 0.211, 0.499, 1.009, 3.001, 8.237]


@tree
def numbers_of_hundreds_of_digits() -> Tree:
    numbers = [
        "9" * 299,
        "1e400",
        "-1e400",
        ".1e-400",
        "0x" + "f" * 290,
        "1" + "0" * 298 + ".5",
        "0." + "1" * 290,
    ]

    def one(number: int) -> Tree:
        stations = ", ".join(f"{{exercise: r, reps: {one}, load: '{one} kg'}}" for one in numbers)
        text = REPS.replace("per rep: 2", f"per rep: {numbers[number % 7]}").replace("b\n", f"b{number}\n", 1)
        return {
            f"p/{number + 1}.0.yaml": version(day("d", circuit(stations)), 1, number),
            f"exercises/x{number}.yaml": text,
        }

    return {**filled(one), "p/programme.yaml": programme()}


@tree
def figures_of_many_positions() -> Tree:
    joints = "hip: {0}, knee: {1}, shoulder: {0}, elbow: {1}"
    position = "{{at: {at}, says: s, joints: {{" + joints + "}}, planted: {{feet: floor, hands: rail}}}}"

    def one(number: int) -> Tree:
        own = ", ".join(
            position.format(number % 89 + k, number // 89 + k, at="high" if k else "low") for k in range(8)
        )
        figure = f"figure: {{view: side, shows: s, props: [rail], positions: [{own}]}}\n"
        return {f"exercises/x{number}.yaml": REPS.replace("b\n", f"b{number}\n", 1) + figure}

    return filled(one)


@tree
def figures_of_one_position() -> Tree:
    def one(number: int) -> Tree:
        own = f"[{{says: s, joints: {{hip: {number % 90}, knee: {number // 90}}}}}]"
        figure = f"figure: {{view: side, shows: s, planted: {{feet: floor}}, positions: {own}}}\n"
        return {f"exercises/x{number}.yaml": HOLD.replace(": a\n", f": a{number}\n", 1) + figure}

    return filled(one)


@tree
def long_texts() -> Tree:
    return {**BASE, "club.yaml": "club: c\ncautions: [" + many("a" * 399, 2400) + "]\n"}


@tree
def very_many_short_values() -> Tree:
    return filled(lambda n: {f"exercises/x{n}.yaml": f"{HOLD}faults: [{'a,' * 90_000}]\n"})


@tree
def ladders_told_for_every_version() -> Tree:
    """A note in each of many exercises, raised by each of many versions."""
    names = [f"e{n}" for n in range(900)]
    files = {f"exercises/{name}.yaml": HOLD.replace(": a\n", f": {name}\n", 1) for name in names}
    for n in range(60):
        own = [names[(n * 13 + k) % 900] for k in range(360)]
        blocks = [
            ", ".join(f"{{exercise: {name}, hold: 1 s}}" for name in own[k : k + 40])
            for k in range(0, 360, 40)
        ]
        files[f"p/{n + 1}.0.yaml"] = version(day("d", ", ".join(map(circuit, blocks))), 1, n)
    return of(files)


def write(files: Tree, to: Path) -> Path:
    """Write a tree into the folder, which is made."""
    for name, text in files.items():
        path = to / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return to


if __name__ == "__main__":
    for chosen in sys.argv[2:] or list(TREES):
        write(TREES[chosen](), Path(sys.argv[1]) / chosen.replace(" ", "-"))
