"""Structure-aware changes of plain data, and the changed data as YAML or JSON."""

import copy
import json
import re
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from tests.fuzz import odd
from tests.fuzz.odd import Bare

Place = tuple[Any, Any]
"""A mapping or a list, and a key or a position in it."""
MOST_ITEMS = 3000


def places(data: Any) -> Iterator[Place]:
    """Every place below the top, in the order of the file."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, one in list(items):
        yield data, step
        yield from places(one)


def changed(data: Any, rng: Random, graft: Any = None, *, mild: bool = False) -> Any:
    """A copy with one change. `mild` ones often leave a sound file. `graft`: data from which a part may be taken."""
    data = copy.deepcopy(data)
    every = list(places(data))
    if not every:
        return rng.choice([None, [], {}, "text", 5])
    rng.choice(MILD if mild else MILD + WILD)(*rng.choice(every), rng, graft if graft is not None else data)
    return data


# --- changes that often leave a sound file ------------------------------------------------------------------


def _other_text(parent: Any, step: Any, rng: Random, _: Any) -> None:
    if isinstance(parent[step], str):
        parent[step] = rng.choice([rng.choice(odd.WORDS), f"{parent[step]} {rng.choice(odd.WORDS)}"])


def _other_amount(parent: Any, step: Any, rng: Random, _: Any) -> None:
    """The same unit or the same type with another number."""
    old = parent[step]
    if isinstance(old, bool):
        parent[step] = not old
    elif isinstance(old, int):
        parent[step] = max(0, old + rng.choice([-1, 1, 2, 10]))
    elif isinstance(old, str):
        new = rng.choice(["0", "1", "2.5", "7", "30", "90", "600"])
        parent[step] = re.sub(r"\d+(\.\d+)?", new, old, count=1)


def _doubled(parent: Any, step: Any, rng: Random, _: Any) -> None:
    if isinstance(parent, list):
        parent.insert(step, copy.deepcopy(parent[step]))


def _lost(parent: Any, step: Any, rng: Random, _: Any) -> None:
    del parent[step]


def _shuffled(parent: Any, step: Any, rng: Random, _: Any) -> None:
    if isinstance(parent[step], list):
        rng.shuffle(parent[step])


def _by_week(parent: Any, step: Any, rng: Random, _: Any) -> None:
    parent[step] = [copy.deepcopy(parent[step]) for _ in range(rng.choice([1, 2, 3, 52]))]


def _by_level(parent: Any, step: Any, rng: Random, _: Any) -> None:
    words = rng.sample(["starter", "steady", "other", "strong"], rng.randint(1, 3))
    parent[step] = {word: copy.deepcopy(parent[step]) for word in words}


# --- changes that seldom do ---------------------------------------------------------------------------------


def _replaced(parent: Any, step: Any, rng: Random, _: Any) -> None:
    parent[step] = odd.scalar(rng)


def _grafted(parent: Any, step: Any, rng: Random, graft: Any) -> None:
    """A part of this or another file in this place."""
    every = list(places(graft))
    if every:
        source, at = rng.choice(every)
        parent[step] = copy.deepcopy(source[at])


def _swapped_type(parent: Any, step: Any, rng: Random, _: Any) -> None:
    old = parent[step]
    parent[step] = rng.choice([[old], {"x": old}, [], {}, None, True, 0, -1, "", [[old]], {str(step): old}])


def _nested(parent: Any, step: Any, rng: Random, _: Any) -> None:
    deep = rng.choice([5, 36, 41, 500, 5000])
    begin, end = rng.choice([("[", "]"), ("{a: ", "}")])
    parent[step] = Bare(begin * deep + "x" + end * deep)


def _other_key(parent: Any, step: Any, rng: Random, _: Any) -> None:
    if isinstance(parent, dict):
        new = rng.choice(
            [rng.choice(odd.WORDS), step[:-1], f"{step}s", step.upper(), rng.choice(list(parent))]
        )
        parent[new] = parent.pop(step)


def _two_keys(parent: Any, step: Any, rng: Random, _: Any) -> None:
    if isinstance(parent[step], dict) and parent[step]:
        text = as_yaml(parent[step])
        parent[step] = Bare(f"{text[:-1]}, {text[1:]}")


def _aliases(parent: Any, step: Any, rng: Random, _: Any) -> None:
    """An anchor and what refers to it: before it, inside it, many times over, or as a key."""
    text = as_yaml(parent[step])
    forms = [
        "&a {0}",
        "*a",
        "&a [{0}, *a]",
        "[&a {0}, *a, *a]",
        "[&a {0}" + ", *a" * 500 + "]",
        "{{*a : {0}}}",
    ]
    parent[step] = Bare(rng.choice(forms).format(text))


def _many(parent: Any, step: Any, rng: Random, _: Any) -> None:
    """Thousands of items; the whole stays below the bound on the size of a file or not."""
    one = parent[step]
    items = one if isinstance(one, list) and one else [one]
    fitting = max(1, min(MOST_ITEMS, 200_000 // max(1, len(as_yaml(items)))))
    parent[step] = [*items] * rng.choice([2, 40, 41, 500, fitting])


def _many_keys(parent: Any, step: Any, rng: Random, _: Any) -> None:
    parent[step] = {f"key {number}": 1 for number in range(rng.choice([2, 100, MOST_ITEMS]))}


def _tagged(parent: Any, step: Any, rng: Random, _: Any) -> None:
    tag = rng.choice(
        ["!!python/object/apply:os.system", "!!binary", "!x", "!!int", "!!set", "!<tag:x,2000:y>"]
    )
    parent[step] = Bare(f"{tag} {as_yaml(parent[step])}")


Change = Callable[[Any, Any, Random, Any], None]
MILD: list[Change] = [
    _other_text, _other_text, _other_amount, _other_amount, _doubled, _lost, _shuffled, _by_week, _by_level,
]  # fmt: skip
WILD: list[Change] = [
    _replaced, _replaced, _replaced, _grafted, _grafted, _swapped_type, _nested, _other_key, _two_keys, _aliases, _many,
    _many_keys, _tagged,
]  # fmt: skip

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 -]*[A-Za-z0-9]")


def as_yaml(value: Any) -> str:
    """The data in flow style, as one line; texts are quoted where they might be read as something else."""
    if isinstance(value, Bare):
        return str(value)
    if isinstance(value, dict):
        return "{" + ", ".join(f"{as_yaml(str(key))}: {as_yaml(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(as_yaml, value)) + "]"
    if isinstance(value, str) and _PLAIN.fullmatch(value) and value.lower() not in ("null", "true", "false"):
        return value
    # Text outside ASCII stands as it is: YAML has no pairs of escapes for one sign.
    return json.dumps(value, ensure_ascii=not isinstance(value, str))


def written(data: Any, rng: Random) -> bytes:
    """The data as a file, a line for each key of the top so that findings have different places."""
    if not isinstance(data, dict) or not data or rng.random() < 0.1:
        text = as_yaml(data)
    else:
        text = "\n".join(f"{as_yaml(str(key))}: {as_yaml(one)}" for key, one in data.items())
    if rng.random() < 0.3:
        # The same signs as escapes, which reach further than the literal ones.
        text = re.sub(r"[^\x00-\x7f]", lambda sign: _escape(sign[0]), text)
    return text.encode("utf-8", "surrogatepass") + b"\n"


def _escape(sign: str) -> str:
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x10000 else f"\\U{ord(sign):08x}"
