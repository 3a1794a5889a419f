"""Plain data as YAML text, written the way several people would write it: block or flow, quoted or not."""

import re

SAFE = re.compile(r"[A-Za-z0-9][^:#\[\]{},&*!|>'\"`\\\n]*(?<! )")
CLOCK = re.compile(r"\d+:\d\d")
RESERVED = ("null", "true", "false", "~")


class Quoted(str):
    """Text that is to be written in quotation marks though it could do without."""


def scalar(value):
    """One line of YAML for a string, a number or a truth value."""
    if isinstance(value, bool):
        return str(value).lower()
    if not isinstance(value, str):
        return str(value)
    bare = SAFE.fullmatch(value) or CLOCK.fullmatch(value)
    other_type = re.fullmatch(r"[\d.]+", value) or value.lower() in RESERVED
    if bare and not other_type and not isinstance(value, Quoted):
        return value
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def flow(value):
    """The value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{scalar(key)}: {flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    return scalar(value)


def is_short(value):
    return len(flow(value)) < 90 and not (isinstance(value, dict) and any_nested(value.values()))


def any_nested(values):
    return any(isinstance(one, list) and any(isinstance(two, dict) for two in one) for one in values)


def lines(value, rng, indent=0):
    """The lines of a map or list in block form; short parts of it are sometimes put on one line."""
    room = " " * indent
    for key, one in value.items() if isinstance(value, dict) else ((None, one) for one in value):
        head = f"{room}- " if key is None else f"{room}{scalar(key)}:"
        gap = "" if key is None else " "
        nested = isinstance(one, (dict, list)) and one
        if not nested or (is_short(one) and rng.random() < 0.6):
            yield head + gap + flow(one) + ("   # as agreed" if rng.random() < 0.02 else "")
        elif key is None:
            inner = list(lines(one, rng, indent + 2))
            yield head + inner[0].lstrip()
            yield from inner[1:]
        else:
            yield head
            yield from lines(one, rng, indent + 2)


def document(value, rng):
    """A whole file."""
    return "\n".join(lines(value, rng)) + "\n"
