"""Random blocks, stations and doses for the trees: every written form of an amount, every way it may vary."""

from .oracle import one_rep
from .yaml_text import Quoted

MINUTE = 60
SIDE_CHANGE = 5
# What an exercise may be dosed by, from the measure it has: reps and time may stand for each other.
MEASURES = {"reps": ("reps", "time"), "work": ("time", "reps"), "hold": ("hold",), "distance": ("distance",)}
KINDS = ["circuit", "straight sets", "every minute", "timed rounds"]


def maybe(rng, share, make):
    """What `make` gives, or no keys: a key that has a default is left out at random."""
    return make() if rng.random() < share else {}


def duration(rng, low, high):
    """A time between two whole numbers of seconds, in any of its written forms."""
    total = rng.randint(low, high)
    if rng.random() < 0.4:
        total = max(low, total - total % 30)
    if rng.random() < 0.1 and total < high:
        return f"{total}.5 s"
    minutes, rest = divmod(total, 60)
    forms = [f"{total} s", f"{total} s", f"{minutes}:{rest:02d}", Quoted(f"{minutes}:{rest:02d}")]
    if minutes:
        forms += [f"{minutes} min {rest} s" if rest else f"{minutes} min"] * 2
    if rest == 30:
        forms.append(f"{minutes}.5 min")
    return rng.choice(forms)


def tempo(rng):
    """Four counts, whole or half seconds or X; never all of them zero."""
    lowering = rng.choice(["1", "2", "3", "4", "2.5", "X"])
    pause_low, pause_high = rng.choice(["0", "1", "0.5", "2"]), rng.choice(["0", "0", "1", "1.5", "X"])
    return "-".join([lowering, pause_low, rng.choice(["1", "2", "1.5", "X", "X"]), pause_high])


def leaves(written):
    """Every single value of an amount that varies."""
    if isinstance(written, dict):
        return [leaf for one in written.values() for leaf in leaves(one)]
    if isinstance(written, list):
        return [leaf for one in written for leaf in leaves(one)]
    return [written]


class Blocks:
    """Makes blocks for one version: `levels` and `weeks` are None for a routine, whose amounts do not vary."""

    def __init__(self, rng, exercises, levels=None, weeks=None):
        self.rng, self.exercises, self.levels, self.weeks = rng, exercises, levels, weeks

    # How an amount varies.

    def vary(self, write, zero=None):
        """The amount once, per week, per level, or per level and week; a leaf is now and then `zero`."""
        shape = self.rng.choice(["same", "same", "weeks", "levels", "both"]) if self.levels else "same"
        if shape == "same":
            return write()

        def leaf():
            return zero if zero is not None and self.rng.random() < 0.12 else write()

        def weekly():
            return [leaf() for _ in range(self.weeks)]

        if shape == "weeks":
            return weekly()
        if shape == "levels":
            return self.by_level(leaf)
        return self.by_level(lambda: weekly() if self.rng.random() < 0.8 else leaf())

    def by_level(self, make):
        names = list(self.levels)
        if len(names) > 1 and self.rng.random() < 0.4:
            names = [*self.rng.sample(names, self.rng.randint(1, len(names) - 1)), "other"]
        return {name: make() for name in names}

    def time(self, low, high, zero=None):
        return self.vary(lambda: duration(self.rng, low, high), zero)

    def whole(self, low, high, zero=None):
        return self.vary(lambda: self.rng.randint(low, high), zero)

    # Blocks.

    def block(self, kind=None, stations=None):
        kind = kind or self.rng.choice(KINDS)
        stations = stations or self.rng.randint(1, 4)
        made = {"kind": kind, **self.block_keys(kind)}
        made |= maybe(self.rng, 0.5, lambda: {"rest after": self.time(0, 150, "0 s")})
        return made | {"stations": [self.station(kind) for _ in range(stations)]}

    def block_keys(self, kind):
        if kind == "every minute":
            return {"minutes": self.whole(1, 8, zero=0)}
        changeover = maybe(self.rng, 0.5, lambda: {"changeover": self.time(0, 40, "0 s")})
        if kind == "timed rounds":
            return {"lasts": self.time(20, 420), **changeover}
        if kind == "straight sets":
            return changeover
        rest = maybe(self.rng, 0.5, lambda: {"rest": self.time(0, 100, "0 s")})
        return {"rounds": self.whole(1, 3, zero=0), **rest, **changeover}

    def station(self, kind):
        made = None
        while made is None:
            made = self.try_station(minute=kind == "every minute")
        if kind == "straight sets":
            made["sets"] = self.whole(1, 4, zero=0)
            made |= maybe(self.rng, 0.5, lambda: {"rest": self.time(0, 100, "0 s")})
        return made

    # Stations.

    def try_station(self, minute):
        """A station without its sets, or None when no rep of it fits into a minute."""
        dose = self.rng.choice(["reps", "reps", "reps", "hold", "work", "distance"])
        fitting = [name for name, one in self.exercises.items() if one["measure"] in MEASURES[dose]]
        exercise = self.which(fitting)
        chosen = [self.exercises[name] for name in leaves(exercise)]
        made = {"exercise": exercise, **self.tempo_of(dose, chosen)}
        amount = self.amount(dose, chosen, made.get("tempo"), minute)
        return amount and {**made, **amount, **self.load(exercise, chosen)}

    def which(self, fitting):
        if self.levels and self.rng.random() < 0.25:
            return self.by_level(lambda: self.rng.choice(fitting))
        return self.rng.choice(fitting)

    def tempo_of(self, dose, chosen):
        """A tempo of the station's own: at random, and always where an exercise gives no rep length."""
        if dose not in ("reps", "work"):
            return {}
        needed = dose == "reps" and any(one_rep(one) is None for one in chosen)
        return {"tempo": self.vary(lambda: tempo(self.rng))} if needed or self.rng.random() < 0.25 else {}

    def amount(self, dose, chosen, tempos, minute):
        if dose == "distance":
            metres = self.vary(lambda: f"{self.rng.choice([5, 10, 12.5, 20])} m", zero="0 m")
            return {"distance": metres, "takes": self.time(5, 60 if minute else 75)}
        sided = any(one["sides"] == "each" for one in chosen)
        room = MINUTE - SIDE_CHANGE if sided else MINUTE
        if dose in ("hold", "work"):
            most = (room // 2 if sided else room) if minute else 80
            return {dose: self.time(5, most, zero="0 s")}
        most = self.most_reps(chosen, tempos, room) if minute else 12
        if most > 2 and self.rng.random() < 0.1:
            return {"reps": f"{self.rng.randint(1, min(most, 12) - 1)}-{min(most, 12)}"}
        return {"reps": self.whole(1, min(most, 12), zero=0)} if most else None

    def most_reps(self, chosen, tempos, room):
        slowest = max(
            one_rep(one, tempo) * (1 if one["sides"] == "both" else 2)
            for one in chosen
            for tempo in (leaves(tempos) if tempos else [None])
        )
        return int(room // slowest)

    def load(self, exercise, chosen):
        """A load where every exercise takes one; 0 kg for the levels whose exercise takes none."""
        takes = [bool(one.get("loadable")) for one in chosen]
        if not any(takes) or self.rng.random() < 0.4:
            return {"load": "0 kg"} if self.rng.random() < 0.05 else {}
        if all(takes):
            return {"load": self.vary(self.mass, zero="0 kg")}
        return {
            "load": {
                level: self.mass() if one else "0 kg" for level, one in zip(exercise, takes, strict=True)
            }
        }

    def mass(self):
        return f"{self.rng.choice([0.5, 1, 2, 2.5, 4, 7.25])} kg"
