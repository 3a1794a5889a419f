"""Hostile commits, written object by object, since no git command would make them."""

import hashlib
import os
import zlib
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random

from tests.fuzz import odd, trees
from tests.fuzz.trees import Tree

Entry = tuple[bytes, bytes, str]
"""Mode, name and object of what stands in a folder."""
WHO = b"Coach <coach@club.example> 1800000000 +0000"
REFS = [
    "main", "HEAD", "refs/heads/main", "main~0", "main^0", "main^{tree}", "main:programmes", "^main", "main..main",
    "main...main", "-main", "--all", "--output=forged", "--exec=forged", "", " ", "main\n", "main\x1b[2J", "@{-1}", "@{0}",
    "main@{yesterday}", ":/coach", ":0:mkdocs.yml", "../main", "*", "\u202emain", "/", "main/..", "FETCH_HEAD", "x" * 5000,
    "::error::forged", "main~99999", "\udcff",
]  # fmt: skip
TREE_NAMES = [
    b"..", b".", b".git", b".GIT", b"git~1", b"/dev/null/abs", b"a/b", b"../outside/forged.yaml", b"a\\b", b"..\\x", b"a\nb",
    b"\n::error::forged.yaml", b"\x1b[2J.yaml", b"\xff.yaml", b"\xe2\x80\xaex.yaml", b"w" * 5000, b"x" * 255 + b".yaml", b"",
    b"HEAD", b"config", b"club.yaml", b"exercises", b"1.0.yaml", b".gitmodules", b".gitattributes",
]  # fmt: skip
MODES = [b"100644", b"100755", b"120000", b"160000", b"40000", b"100600", b"0", b"140000"]
TARGETS = [
    b"../../outside/" + odd.SECRET.encode() + b".yaml", b"../outside", b"/etc/passwd", b"/dev/zero", b".git/config", b"loop", b".",
    b"..", b"../programmes", b"club.yaml", b"exercises", b"", b"a\nb", b"w" * 5000, b"\xff",
]  # fmt: skip


class Repo:
    """A repository beside a working tree."""

    def __init__(self, top: Path) -> None:
        self.git = top / ".git"
        for folder in ("objects", "refs/heads"):
            (self.git / folder).mkdir(parents=True)
        (self.git / "HEAD").write_text("ref: refs/heads/main\n")
        (self.git / "config").write_text("[core]\n\trepositoryformatversion = 0\n\tbare = false\n")

    def put(self, kind: bytes, content: bytes) -> str:
        """Store an object; gives its name."""
        whole = kind + b" %d\0" % len(content) + content
        name = hashlib.sha1(whole, usedforsecurity=False).hexdigest()
        path = self.git / "objects" / name[:2] / name[2:]
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(zlib.compress(whole, 1))
        return name

    def folder(self, entries: Sequence[Entry]) -> str:
        """A tree object with the entries as they are given."""
        return self.put(b"tree", b"".join(b"%s %s\0%s" % (m, n, bytes.fromhex(o)) for m, n, o in entries))

    def tree(self, files: Tree) -> list[Entry]:
        """The entries of a folder with these files and links, in git's order; pipes are nothing to git."""
        below: dict[bytes, Tree] = {}
        entries: list[Entry] = []
        for path, content in files.items():
            name, slash, rest = path.partition(b"/")
            if slash:
                below.setdefault(name, {})[rest] = content
            elif isinstance(content, bytes):
                entries.append((b"100644", name, self.put(b"blob", content)))
            elif content not in (trees.PIPE, trees.FOLDER):
                entries.append((b"120000", name, self.put(b"blob", content.to)))
        entries += [(b"40000", name, self.folder(self.tree(inner))) for name, inner in below.items()]
        return sorted(entries, key=lambda one: one[1] + (b"/" if one[0] == b"40000" else b""))

    def commit(self, tree: str, parents: Sequence[str] = ()) -> str:
        """A commit, which `main` is from now on."""
        before = b"".join(b"parent %s\n" % parent.encode() for parent in parents)
        about = b"tree %s\n%sauthor %s\ncommitter %s\n\nA step\n" % (tree.encode(), before, WHO, WHO)
        name = self.put(b"commit", about)
        (self.git / "refs/heads/main").write_text(f"{name}\n")
        return name


def hostile(top: Path, base: Tree, seed: int, steps: Sequence[int]) -> None:
    """A repository at `top` whose `main` holds `base` under `programmes`, with a hostile entry for each step."""
    repo, rng = Repo(top), Random(f"repository {seed}")
    entries = repo.tree(base)
    for step in steps:
        entries = _twisted(repo, entries, Random(f"{seed} base {step}"))
    top_entries: list[Entry] = [(b"40000", b"programmes", repo.folder(entries))]
    if rng.random() < 0.1:
        top_entries = [(b"120000", b"programmes", repo.put(b"blob", rng.choice(TARGETS)))]
    parents = ["1" * 40] if rng.random() < 0.2 else []
    name = repo.commit(repo.folder(top_entries), parents)
    if parents and rng.random() < 0.8:
        (repo.git / "shallow").write_text(f"{name}\n")


def _twisted(repo: Repo, entries: list[Entry], rng: Random) -> list[Entry]:
    """One entry more, or one that is not what it says, here or in a folder below."""
    blob = rng.choice(entries)[2] if entries else "0" * 40
    kind = rng.randrange(7)
    name = rng.choice(TREE_NAMES)
    if kind == 0:
        return [*entries, (rng.choice(MODES), name, blob)]
    if kind == 1:
        inner = (b"100644", rng.choice([*TREE_NAMES, b"forged.yaml"]), repo.put(b"blob", b"forged: 1\n"))
        return [*entries, (b"40000", name, repo.folder([inner]))]
    if kind == 2:
        own = rng.choice([name, *(one[1] for one in entries)])
        link = (b"120000", own, repo.put(b"blob", rng.choice(TARGETS)))
        return [*(one for one in entries if one[1] != own), link]
    if kind == 3:
        return [*entries, (b"160000", name, "2" * 40)]
    if kind == 4 and entries:
        at = rng.randrange(len(entries))
        mode, own, _ = entries[at]
        return [*entries[:at], (rng.choice([mode, rng.choice(MODES)]), own, "3" * 40), *entries[at + 1 :]]
    if kind == 5 and entries:
        return [*rng.sample(entries, len(entries)), rng.choice(entries)]
    deep = repo.folder([(b"100644", b"x.yaml", repo.put(b"blob", b"x: 1\n"))])
    for _ in range(rng.choice([3, 300])):
        deep = repo.folder([(b"40000", b"d", deep)])
    return [*entries, (b"40000", b"deep", deep)]


# --- dresses for a tree whose published version has another dose ------------------------------------------


def _plain(case: Path, rng: Random) -> None:
    """As it is."""


def _moved_and_linked(case: Path, rng: Random) -> None:
    (case / "data").mkdir()
    (case / "programmes").rename(case / "data/programmes")
    (case / "programmes").symlink_to(rng.choice(["data/programmes", str(case / "data/programmes")]))


def _own_repository(case: Path, rng: Random) -> None:
    """The tree of data is a repository too."""
    _forge(case, rng, case / "programmes", case / "programmes")


def _linked_repository(case: Path, rng: Random) -> None:
    """The tree is a link into a folder that is a repository too."""
    (case / ".data").mkdir()
    (case / "programmes").rename(case / ".data/programmes")
    (case / "programmes").symlink_to(".data/programmes")
    _forge(case, rng, case / ".data", case / ".data/programmes")


def _forge(case: Path, rng: Random, folder: Path, tree: Path) -> None:
    """Make of a folder a repository whose `main` has the other dose already, or lacks objects and runs a program."""
    forged = Repo(case / "forged")
    files = {os.fsencode(file.relative_to(tree)): file.read_bytes() for file in tree.rglob("*.yaml")}
    entries = forged.tree(files)
    forged.commit(forged.folder([*entries, (b"40000", b"programmes", forged.folder(entries))]))
    if rng.random() < 0.5:
        (forged.git / "refs/heads/main").write_text("4" * 40 + "\n")
    where = rng.choice(
        ["bare = true", "bare = false\n\tworktree = .", f"bare = false\n\tworktree = {folder}"]
    )
    program = f"{case}/forged-by-a-program"
    (forged.git / "config").write_text(
        f"[core]\n\trepositoryformatversion = 1\n\t{where}\n\tfsmonitor = touch {program}\n"
        '[extensions]\n\tpartialClone = origin\n[protocol "ext"]\n\tallow = always\n'
        f'[remote "origin"]\n\tpromisor = true\n\turl = ext::sh -c touch% {program}\n'
    )
    form = rng.choice(["bare", "bare", "bare", "folder", "file"])
    if form == "bare":
        for one in forged.git.iterdir():
            one.rename(folder / one.name)
    elif form == "folder":
        forged.git.rename(folder / ".git")
    else:
        forged.git.rename(case / "forged/real")
        (folder / ".git").write_text(f"gitdir: {case}/forged/real\n")


def _file_linked(case: Path, rng: Random) -> None:
    """The version is a link, here, to a file elsewhere in the checkout."""
    version = case / "programmes/home/2.0.yaml"
    version.rename(case / "elsewhere.yaml")
    version.symlink_to(rng.choice(["../../elsewhere.yaml", str(case / "elsewhere.yaml")]))


def _folder_linked(case: Path, rng: Random) -> None:
    (case / "programmes/home").rename(case / "elsewhere")
    (case / "programmes/home").symlink_to("../elsewhere")


Dress = Callable[[Path, Random], None]
DRESSES: list[Dress] = [
    _plain,
    _moved_and_linked,
    _own_repository,
    _own_repository,
    _linked_repository,
    _file_linked,
    _folder_linked,
]
