"""Trees of programme files by chance: a sound tree, and steps that change it."""

import functools
import os
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random
from typing import NamedTuple

from phasepress.reading.source import read

from tests.fixtures.trees import GOOD
from tests.fuzz import data, octets, odd
from tests.oracle.trees import write_tree


class Link(NamedTuple):
    """A symlink to a place that is written as it stands here."""

    to: bytes


PIPE, FOLDER = Link(b"\0pipe"), Link(b"\0folder")
Tree = dict[bytes, bytes | Link]
"""What stands under each name below the tree; a name may be any bytes that a file system takes."""
MOST_BYTES = 1_000_001
SMALL = 2
"""The first seeds of `sound` are the small good tree, which is quick to check; the second has something to accept."""


@functools.cache
def _files(seed: int) -> tuple[tuple[bytes, bytes], ...]:
    if seed < SMALL:
        return tuple((name, text if seed == 0 else _accepting(name, text)) for name, text in _read(GOOD))
    with tempfile.TemporaryDirectory() as folder:
        return _read(write_tree(folder, seed))


def _accepting(name: bytes, text: bytes) -> bytes:
    if name == b"home/programme.yaml":
        return text.replace(b"session: 45 min", b"session: 5 min")
    accepted = b"accept: [{check: session-length, because: weighed}]\n"
    return text + accepted if name.startswith(b"home/") else text


def _read(folder: Path) -> tuple[tuple[bytes, bytes], ...]:
    files = sorted(folder.rglob("*.yaml"))
    return tuple((os.fsencode(file.relative_to(folder)), file.read_bytes()) for file in files)


def sound(seed: int) -> Tree:
    """A tree without an error."""
    return dict(_files(seed))


@functools.lru_cache(maxsize=500)
def _parsed(text: bytes) -> object:
    return read("x", text).data


def hostile(seed: int, steps: Sequence[int], *, mild: bool = False, of: int | None = None) -> Tree:
    """A tree after steps, each of which has a chance of its own, so that some may be left out.

    `of`: which sound tree it was; by the seed, where it is not said.
    """
    tree = sound(Random(f"tree {seed}").randrange(6) if of is None else of)
    for step in steps:
        rng = Random(f"{seed} {step}")
        if mild or rng.random() < 0.6:
            _change_data(tree, rng, mild=mild)
        else:
            rng.choice([_change_bytes, _change_bytes, *ODD])(tree, rng)
    return _bounded(tree)


def _bounded(tree: Tree) -> Tree:
    """The tree without the files that would make it more than what the bounds are promised for."""
    left, kept = MOST_BYTES, dict(tree)
    for name, content in tree.items():
        size = len(content) if isinstance(content, bytes) else 0
        if size > left:
            del kept[name]
        else:
            left -= size
    return kept


def _some(tree: Tree, rng: Random) -> bytes:
    """A file; versions are met as often as all the exercises together."""
    files = [name for name, content in tree.items() if isinstance(content, bytes)]
    if not files:
        tree[b"club.yaml"] = b"club: x\n"
        return b"club.yaml"
    few = [name for name in files if not name.startswith(b"exercises/")]
    return rng.choice(few if few and rng.random() < 0.7 else files)


def _change_data(tree: Tree, rng: Random, *, mild: bool) -> None:
    name, other = _some(tree, rng), _some(tree, rng)
    graft = _parsed(_bytes(tree, other))
    tree[name] = data.written(data.changed(_parsed(_bytes(tree, name)), rng, graft, mild=mild), rng)


def _bytes(tree: Tree, name: bytes) -> bytes:
    content = tree[name]
    assert isinstance(content, bytes)
    return content


def _change_bytes(tree: Tree, rng: Random) -> None:
    name, other = _some(tree, rng), _some(tree, rng)
    tree[name] = octets.changed(_bytes(tree, name), rng, _bytes(tree, other))


# --- folders and names --------------------------------------------------------------------------------------

NAMES = [
    b"club.yaml", b"programme.yaml", b"1.0.yaml", b"2.0.yaml", b"3.0.yaml", b"9999.9999.yaml", b"10000.0.yaml", b"01.0.yaml",
    b"wall-sit.yaml", b"figures.yaml", b"x.yml", b"X.yaml", b".hidden.yaml", b"x.yaml~", b"x", b" .yaml", b"a b.yaml",
    b"\xff\xfe.yaml", b"a\nb.yaml", b"\n::error::forged.yaml", b"::error::forged.yaml", b"\x1b[2J.yaml",
    b"\xe2\x80\xaeforged.yaml", b"\xe2\x80\xa8x.yaml", b"\xc2\x85.yaml", b"-.yaml", b"--help", b"w" * 250, b"%0A::error::x",
    b"..yaml", b"...", b"\\.yaml", b"con.yaml", b"config", b"HEAD", b"index.html", b"1.0", b"mkdocs.yml",
]  # fmt: skip
FOLDERS = [
    b"",
    b"exercises/",
    b"routines/",
    b"home/",
    b"new/",
    b"about/",
    b"log/",
    b"assets/",
    b"exercises/deep/",
    b"X/",
]
OUTSIDE = [
    b"../outside/" + odd.SECRET.encode() + b".yaml", b"../outside", b"..", b"/", b"/etc/passwd", b"/dev/zero", b"/dev/stdin",
    b"/proc/self/environ", b"nowhere", b".", b"club.yaml", b"../.git", b"loop",
]  # fmt: skip


def _new_name(tree: Tree, rng: Random) -> bytes:
    folder = rng.choice(FOLDERS) if rng.random() < 0.7 else rng.choice(list(tree)).rpartition(b"/")[0] + b"/"
    return folder.removeprefix(b"/") + rng.choice(NAMES)


def _moved(tree: Tree, rng: Random) -> None:
    content = tree.pop(rng.choice(list(tree)))
    tree[_new_name(tree, rng)] = content


def _copied(tree: Tree, rng: Random) -> None:
    tree[_new_name(tree, rng)] = tree[rng.choice(list(tree))]


def _exchanged(tree: Tree, rng: Random) -> None:
    one, other = rng.choice(list(tree)), rng.choice(list(tree))
    tree[one], tree[other] = tree[other], tree[one]


def _gone(tree: Tree, rng: Random) -> None:
    if len(tree) > 1:
        del tree[rng.choice(list(tree))]


def _linked(tree: Tree, rng: Random) -> None:
    """A file, or a whole folder, becomes a link."""
    name = rng.choice([rng.choice(list(tree)), _new_name(tree, rng)])
    folder, slash, _ = name.rpartition(b"/")
    if slash and rng.random() < 0.3:
        for below in [one for one in tree if one.startswith(folder + b"/")]:
            del tree[below]
        name = folder
    tree[name] = Link(b"../" * name.count(b"/") + rng.choice(OUTSIDE))


def _special(tree: Tree, rng: Random) -> None:
    tree[rng.choice([rng.choice(list(tree)), _new_name(tree, rng)])] = rng.choice(
        [PIPE, FOLDER, b"", b"\0" * 5000]
    )


def _crowd(tree: Tree, rng: Random) -> None:
    """Many more files of one kind."""
    content = tree[rng.choice(list(tree))]
    form = rng.choice(
        [b"exercises/more-%d.yaml", b"routines/more-%d.yaml", b"home/%d.0.yaml", b"club-%d/programme.yaml"]
    )
    for number in range(10, 10 + rng.choice([20, 20, 300])):
        tree[form % number] = content


ODD: list[Callable[[Tree, Random], None]] = [
    _moved, _copied, _exchanged, _gone, _linked, _linked, _special, _crowd,
]  # fmt: skip


def write(tree: Tree, to: Path) -> None:
    """The tree as files; where two names do not go together, the later one is left out."""
    to.mkdir()
    top = os.path.realpath(os.fsencode(to))
    for name, content in tree.items():
        path = os.path.join(top, name)
        folder = os.path.dirname(path)
        if os.path.realpath(folder) != folder:
            # A link of an earlier name leads elsewhere, maybe out of the tree.
            continue
        try:
            os.makedirs(folder, exist_ok=True)
            _put(path, content)
        except (FileExistsError, IsADirectoryError, NotADirectoryError):
            continue


def _put(path: bytes, content: bytes | Link) -> None:
    if content is PIPE:
        os.mkfifo(path)
    elif content is FOLDER:
        os.mkdir(path)
    elif isinstance(content, Link):
        os.symlink(content.to, path)
    else:
        flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_NOFOLLOW | os.O_NONBLOCK
        with open(os.open(path, flags, 0o644), "wb") as file:
            file.write(content)
