"""The kinds of cases. A case is a kind, a seed and steps; it always does the same, alone or among others."""

import os
import shutil
import sys
from abc import ABC, abstractmethod
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import Any

from tests.conftest import ROOT
from tests.fuzz import judge, logs, odd, repos, reviews, trees
from tests.fuzz.children import Child, DiedError
from tests.fuzz.judge import Found
from tests.fuzz.log_child import LogChild

SESSION = ("order", "home", "2.0", "whole-body", "--level", "starter", "--week", "1")
TREE = ("--programmes", "programmes")


class Kind(ABC):
    """Cases of one kind, run below a folder of their own."""

    name = ""

    def __init__(self, room: Path) -> None:
        self.room = room

    def steps(self, seed: int) -> tuple[int, ...]:
        """The steps of a seed; any of them may be left out."""
        return tuple(range(Random(f"{self.name} {seed}").choice([1, 1, 1, 2, 2, 3, 6])))

    @abstractmethod
    def run(self, seed: int, steps: Sequence[int]) -> str:
        """Try the case; gives in a word how it went. Raises Found, and nothing else."""

    @abstractmethod
    def close(self) -> None:
        """End what runs."""


class Commands(Kind):
    """A command in a child, on a tree beside a folder that is none of its business."""

    def __init__(self, room: Path) -> None:
        super().__init__(room)
        self.temporary = room / "temporary"
        self.temporary.mkdir(parents=True)
        (room / "home").mkdir()
        env = os.environ | {
            "TMPDIR": str(self.temporary), "HOME": str(room / "home"), "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONHASHSEED": "0", "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1", "GIT_CEILING_DIRECTORIES": str(room),
        }  # fmt: skip
        self.child = Child([sys.executable, "-m", "tests.fuzz.commands"], env, room)

    def close(self) -> None:
        self.child.close()

    def fresh(self) -> Path:
        """An empty folder for a case, but for one that is none of the command's business."""
        case = self.room / "case"
        shutil.rmtree(case, ignore_errors=True)
        (case / "outside").mkdir(parents=True)
        (case / "outside" / f"{odd.SECRET}.yaml").write_text(f"name: {odd.SECRET}\n")
        return case

    def run(self, seed: int, steps: Sequence[int]) -> str:
        case, rng = self.fresh(), Random(f"{self.name} words {seed}")
        words = self.prepare(case, seed, steps, rng)
        return self.told(self.call(case, words), case, words)

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        """Write what the command is run on; gives its words."""
        raise NotImplementedError

    def call(
        self, case: Path, words: list[str], may_change: Sequence[str] = (".phasepress-cache",)
    ) -> dict[str, Any]:
        """The answer to the words, held against all that must hold for every command."""
        before = judge.digests(self.room, ("temporary",)), judge.digests(self.temporary)
        try:
            answer: dict[str, Any] = self.child.ask({"cwd": str(case), "words": words})
        except DiedError as error:
            raise Found(str(error), " ".join(words)) from None
        changed = {f"case/{name}" for name in may_change}
        after = judge.digests(self.room, ("temporary",)), judge.digests(self.temporary)
        ours, theirs = (
            {name: one for name, one in found.items() if "/".join(name.split("/")[:2]) not in changed}
            for found in (before[0], after[0])
        )
        judge.answered(answer, words)
        judge.same(ours, theirs, "a file was changed")
        judge.same(before[1], after[1], "a temporary file was left")
        return answer

    def told(self, answer: dict[str, Any], case: Path, words: list[str]) -> str:
        """What else must hold, and how it went in a word."""
        return f"status {answer['status']}"


class Check(Commands):
    """`check` in each format."""

    name = "check"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        trees.write(trees.hostile(seed, steps, mild=seed % 5 == 0), case / "programmes")
        return ["check", *TREE, "--format", rng.choice(["text", "json", "github", "gitlab"])]


class Report(Commands):
    """`report` in each format, on trees that are often sound."""

    name = "report"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        trees.write(trees.hostile(seed, steps, mild=seed % 5 != 0), case / "programmes")
        return ["report", *TREE, "--format", rng.choice(["text", "json"])]


class Order(Commands):
    """`order`, with words that may be odd too."""

    name = "order"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        trees.write(trees.hostile(seed, steps, mild=seed % 5 != 0, of=0), case / "programmes")
        words = [*SESSION]
        if rng.random() < 0.3:
            words[rng.choice([1, 2, 3, 5, 7])] = rng.choice(odd.WORDS)
        return [*words, *TREE, "--format", rng.choice(["text", "json"])]


class Base(Commands):
    """`check --base` and `report --base`, where the other commit or the tree here is hostile, or both."""

    name = "base"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        there, here = (rng.choice([(), steps]) for _ in range(2))
        repos.hostile(case, trees.hostile(seed, there, mild=True), seed, there)
        trees.write(trees.hostile(seed, here, mild=True), case / "programmes")
        verb = rng.choice(["check", "report"])
        shapes = {"check": ["text", "json", "github", "gitlab"], "report": ["text", "json", "markdown"]}
        ref = rng.choice(repos.REFS) if rng.random() < 0.2 else "main"
        return [verb, *TREE, f"--base={ref}", "--format", rng.choice(shapes[verb])]


class Gate(Commands):
    """A published version with another dose, dressed up: in whatever dress, `check --base` must not pass it."""

    name = "gate"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        base = trees.sound(0)
        repos.hostile(case, base, seed, ())
        here = trees.hostile(seed, steps, mild=True, of=0) if rng.random() < 0.3 else dict(base)
        here[b"home/2.0.yaml"] = trees.sound(0)[b"home/2.0.yaml"]
        here[b"home/2.0.yaml"] = here[b"home/2.0.yaml"].replace(b"reps: 7", b"reps: 9")
        trees.write(here, case / "programmes")
        rng.choice(repos.DRESSES)(case, rng)
        ref = rng.choice(repos.REFS) if rng.random() < 0.3 else "main"
        return ["check", *TREE, f"--base={ref}", "--format", rng.choice(["text", "json", "github", "gitlab"])]

    def told(self, answer: dict[str, Any], case: Path, words: list[str]) -> str:
        if answer["status"] == 0:
            raise Found("another dose of a published version passes", f"{words}\n{answer['out']}")
        return super().told(answer, case, words)


class Build(Commands):
    """`build` over an old site or over nothing: the new site is whole, or what was there is as it was."""

    name = "build"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        trees.write(trees.hostile(seed, steps[:2], mild=seed % 4 != 0, of=0), case / "programmes")
        if rng.random() < 0.5:
            (case / "site").mkdir()
            (case / "site/.phasepress-site").touch()
            (case / "site/old.html").write_text("old")
        return ["build", *TREE, "--to", "site"]

    def call(
        self, case: Path, words: list[str], may_change: Sequence[str] = (".phasepress-cache",)
    ) -> dict[str, Any]:
        self._before = judge.digests(case / "site") if (case / "site").exists() else None
        return super().call(case, words, (*may_change, "site"))

    def told(self, answer: dict[str, Any], case: Path, words: list[str]) -> str:
        site = case / "site"
        if answer["status"] == 0:
            judge.whole_site(site)
        elif (judge.digests(site) if site.exists() else None) != self._before:
            raise Found("a build that failed changed the site", answer["err"])
        return super().told(answer, case, words)


class Log(Kind):
    """A file that is brought into the log by the log's own scripts."""

    name = "log"

    def __init__(self, room: Path) -> None:
        super().__init__(room)
        self.child = LogChild(room)

    def close(self) -> None:
        self.child.close()

    def run(self, seed: int, steps: Sequence[int]) -> str:
        try:
            source = self.child.ask({"home": logs.HOME, "write": logs.sound(seed)})
            text = logs.hostile(seed, steps, (source["json"], source["csv"]))
            answer = self.child.ask({"home": logs.HOME, "text": text, "here": logs.HERE})
        except DiedError as error:
            raise Found(str(error)) from None
        return logs.judged(answer)


class Review(Commands):
    """`review` in each format, on a folder of hostile logs beside a sound tree."""

    name = "review"

    def prepare(self, case: Path, seed: int, steps: Sequence[int], rng: Random) -> list[str]:
        trees.write(trees.sound(0), case / "programmes")
        reviews.write(case / "logs", seed, steps)
        words = ["review", "logs", *TREE, "--format", rng.choice(["text", "json", "json", "html"])]
        return words + ["--anonymous"] * (rng.random() < 0.2)

    def told(self, answer: dict[str, Any], case: Path, words: list[str]) -> str:
        return reviews.judged(answer, words[words.index("--format") + 1])


KINDS: dict[str, type[Kind]] = {
    one.name: one for one in (Check, Report, Order, Base, Gate, Build, Log, Review)
}
