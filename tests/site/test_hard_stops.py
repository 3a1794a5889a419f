"""Killed, asked to stop, or with nowhere to write: one whole site, a message, and nothing left lying about.

The exit statuses of a stop are those of a shell, 128 and the number of the signal (POSIX, Shell Command
Language, 2.8.2). PHASEPRESS_KILLS=200 makes the long run: so many kills at random moments.
"""

import contextlib
import ctypes
import json
import os
import random
import re
import resource
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest
import yaml
from phasepress.publishing import switching

from tests import stops
from tests.conftest import ROOT
from tests.samples import every, in_turn, size
from tests.stops import RENAMES, Stop, begin, command, digests, end, ended

from . import trees
from .conftest import GOOD

KILLS = int(os.environ.get("PHASEPRESS_KILLS") or size(50, few=6))
ASKED = {
    "Ctrl-C": (signal.SIGINT,),
    "SIGTERM": (signal.SIGTERM,),
    "SIGHUP": (signal.SIGHUP,),
    "Ctrl-C twice": (signal.SIGINT, signal.SIGINT),
}
STOPPED = pytest.mark.parametrize("signals", ASKED.values(), ids=ASKED)
READS = frozenset({"open"})
ACCEPTED = ("balance", "--at", "plan", "--because", "Legs alone, for now.")
FULL, ANSWER = "No space left on device", "what there was to say could not be written: "


def names(folder):
    return sorted(path.name for path in folder.iterdir())


class Two:
    """Two trees, each with its site, and a place where one takes the other's."""

    def __init__(self, folder):
        self.said = folder / "said"
        self.to = folder / "public" / "site"
        self.trees = [trees.write(tree, folder / f"tree-{n}") for n, tree in enumerate(self._both())]
        self.whole = []
        for tree in self.trees:
            self.built(tree)
            self.whole.append(digests(self.to))
        assert self.whole[0] != self.whole[1]

    @staticmethod
    def _both():
        other = trees.small()
        other["exercises/lean.yaml"]["name"] = "Lean far"
        return trees.small(), other

    def words(self, tree):
        return ("build", "--programmes", tree, "--to", self.to)

    def built(self, tree):
        done = ended(command, *self.words(tree), said=self.said)
        assert done.status == 0, done.said
        assert names(self.to.parent) == ["site"]

    def is_whole(self):
        return digests(self.to) in self.whole


@pytest.fixture(scope="module")
def two(tmp_path_factory):
    return Two(tmp_path_factory.mktemp("two"))


def test_kills_at_random_moments_leave_one_whole_site(two):
    """The moments are spread over as long as a build takes here; which they are does not matter."""
    began = time.monotonic()
    two.built(two.trees[1])
    lasts = time.monotonic() - began
    chosen, killed = random.Random(KILLS), 0
    for number in range(KILLS):
        tree = two.trees[number % 2]
        two.said.unlink(missing_ok=True)
        process = begin(command, *two.words(tree), said=two.said)
        process.join(chosen.uniform(0, lasts))
        process.kill()
        process.join()
        killed += process.exitcode == -signal.SIGKILL
        assert two.is_whole(), f"a mix after kill {number}"
        if number % 5 == 4:
            two.built(tree)
            assert digests(two.to) == two.whole[number % 2]
    two.built(two.trees[0])
    assert killed > KILLS / 3


@pytest.mark.parametrize("refused", [False, True], ids=["exchanged", "by two renames"])
def test_a_kill_before_every_rename_leaves_one_whole_site(two, refused):
    """With two renames, the next command that is to build puts the old one back, even if it builds nothing."""
    wrong = two.trees[0].with_name("wrong")
    trees.write(trees.small() | {"plan/1.0.yaml": {"phase": "Begin"}}, wrong)
    events = RENAMES | {"shutil.rmtree"}
    two.built(two.trees[0])
    at, missing = 0, 0
    while True:
        at += 1
        stop = Stop(at, (signal.SIGKILL,), events)
        done = ended(command, *two.words(two.trees[at % 2]), said=two.said, stop=stop, refused=refused)
        missing += not two.to.exists()
        assert refused or two.is_whole(), f"before {at}"
        if at % 2:
            assert ended(command, *two.words(wrong), said=two.said).status == 1
        else:
            two.built(two.trees[0])
        assert two.is_whole(), f"before {at}"
        assert names(two.to.parent) == ["site"]
        if done.status == 0:
            break
        assert done.status == -signal.SIGKILL
    assert at > 2
    assert missing == (1 if refused else 0)


def test_a_build_that_is_asked_to_stop_clears_up_and_says_so(two):
    """At moments that lie further and further apart, each time by the next of the signals, or by all of them."""
    events = RENAMES | {"shutil.rmtree", "os.rmdir", "os.mkdir"}
    at, moments, asked, ran_through = 3, 0, set(), False
    while not ran_through:
        for way in in_turn(ASKED, moments, few=1):
            signals = ASKED[way]
            stop = Stop(at, signals, events)
            done = ended(command, *two.words(two.trees[at % 2]), said=two.said, stop=stop)
            assert two.is_whole()
            assert names(two.to.parent) == ["site"]
            ran_through = done.status == 0
            if ran_through:
                break
            assert done.status == 128 + signals[0]
            assert done.said.endswith(f"phasepress: stopped by {signals[0].name}\n")
            assert "Traceback" not in done.said
            asked.add(way)
        moments += 1
        at += moments + 1
    assert asked == {*ASKED}


def test_a_second_build_says_that_it_waits_and_then_builds(two):
    """The test has the lock until the build has said so. (Two at once, in tests/test_switching.py.)"""
    two.built(two.trees[0])
    two.said.write_text("")
    with switching.work(two.to):
        waiting = begin(command, *two.words(two.trees[1]), said=two.said)
        last = time.monotonic() + stops.PATIENCE
        while f"another build into {two.to} is under way" not in two.said.read_text("utf-8"):
            assert time.monotonic() < last, two.said.read_text("utf-8")
            assert waiting.is_alive(), two.said.read_text("utf-8")
            time.sleep(0.02)
        assert digests(two.to) == two.whole[0]
    done = end(waiting, two.said)
    assert done.status == 0, done.said
    assert digests(two.to) == two.whole[1]
    assert names(two.to.parent) == ["site"]


def test_a_build_that_waits_for_another_can_be_stopped(two):
    two.built(two.trees[0])
    two.said.write_text("")
    with switching.work(two.to):
        waiting = begin(command, *two.words(two.trees[1]), said=two.said)
        last = time.monotonic() + stops.PATIENCE
        while "is under way" not in two.said.read_text("utf-8"):
            assert time.monotonic() < last, two.said.read_text("utf-8")
            time.sleep(0.02)
        os.kill(waiting.pid, signal.SIGTERM)
        assert end(waiting, two.said).status == 143
        assert ".site.phasepress-work" in names(two.to.parent), "the lock of the other was taken away"
    assert names(two.to.parent) == ["site"]
    assert digests(two.to) == two.whole[0]


@STOPPED
@pytest.mark.parametrize("at", [1, 3, 5])
@pytest.mark.parametrize("verb", ["check", "report", "new", "accept", "schema"])
def test_other_verbs_that_are_asked_to_stop_say_so(two, tmp_path, signals, at, verb):
    more = {"new": ["another-plan"], "accept": ACCEPTED, "schema": ["--to", tmp_path / "schemas"]}.get(
        verb, []
    )
    before = digests(two.trees[0])
    stop = Stop(at, signals, READS | ({"open for writing"} if verb == "schema" else set()))
    done = ended(command, verb, "--programmes", two.trees[0], *more, said=tmp_path / "said", stop=stop)
    if verb == "schema" and done.status == 0:
        pytest.fail("never reached")
    assert done.status == 128 + signals[0], done.said
    assert done.said == f"phasepress: stopped by {signals[0].name}\n"
    assert digests(two.trees[0]) == before


@pytest.mark.parametrize("words", [("accept", *ACCEPTED), ("new", "exercise", "slow-lean")], ids=" ".join)
@pytest.mark.parametrize("signals", [(signal.SIGKILL,), (signal.SIGTERM,)], ids=["killed", "asked"])
def test_one_file_that_is_being_written_is_whole_or_as_it_was(tmp_path, words, signals):
    """What a kill leaves beside it is hidden, and the next command takes it away."""
    tree, said = line_by_line(trees.write(trees.small(), tmp_path / "tree")), tmp_path / "said"
    before, at, results = digests(tree), 0, []
    while not results or results[-1] == before:
        at += 1
        stop = Stop(at, signals, stops.CHANGES)
        done = ended(command, *words, "--programmes", tree, said=said, stop=stop)
        assert done.status in (0, -signal.SIGKILL, 128 + signal.SIGTERM), done.said
        assert "Traceback" not in done.said
        results.append({name: digest for name, digest in digests(tree).items() if "/." not in f"/{name}"})
        assert done.status != 0 or results[-1] != before
    assert at > 3, "it was stopped before it wrote"
    shutil.rmtree(tree)
    line_by_line(trees.write(trees.small(), tree))
    done = ended(command, *words, "--programmes", tree, said=said)
    assert (done.status, results[-1]) == (0, digests(tree)), "what was written is the whole file"


NEXT_PHASE, NEW_PROGRAMME = "home", "another-plan"


@pytest.mark.parametrize(
    ("programme", "signals"),
    every(
        [
            (name, (number,))
            for name in (NEXT_PHASE, NEW_PROGRAMME)
            for number in (signal.SIGKILL, signal.SIGTERM)
        ],
        few=[(NEXT_PHASE, (signal.SIGKILL,)), (NEW_PROGRAMME, (signal.SIGTERM,))],
    ),
)
def test_new_that_is_stopped_before_any_change_wrote_whole_files_or_none(tmp_path, programme, signals):
    tree, said, at = shutil.copytree(GOOD, tmp_path / "tree"), tmp_path / "said", 0
    before, events = digests(tree), stops.CHANGES
    words = ("new", "--programmes", tree, programme)
    whole = None
    results = []
    while whole is None:
        at += 1
        done = ended(command, *words, said=said, stop=Stop(at, signals, events))
        after = {name: digest for name, digest in digests(tree).items() if "/." not in f"/{name}"}
        results.append(after)
        assert done.status in (0, -signal.SIGKILL, 128 + signal.SIGTERM), done.said
        if done.status == 0:
            whole = after
        for path in sorted(tree.rglob("*"), reverse=True):
            name = path.relative_to(tree).as_posix()
            if path.is_file() and name not in before and name in after:
                path.unlink()
        if (tree / programme).is_dir() and not names(tree / programme):
            (tree / programme).rmdir()
    assert len(results) > 4
    assert all(after in (before, whole) for after in results)
    assert before in results
    assert digests(tree) == before, "something is left after the next command"


def with_its_scratch_in(folder, *words):
    """What it makes for itself alone lies in this folder, and each line that it says is written at once."""
    os.environ["TMPDIR"], tempfile.tempdir = str(folder), None
    sys.stdout.reconfigure(line_buffering=True)
    command(*words)


@STOPPED
def test_a_preview_that_is_stopped_leaves_nothing_behind(two, tmp_path, signals):
    """Ctrl-C is how a preview is ended, so that is no failure."""
    scratch, said = tmp_path / "scratch", tmp_path / "said"
    scratch.mkdir()
    said.touch()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    words = ["serve", "--programmes", two.trees[0], "--at", f"127.0.0.1:{port}"]
    serving = begin(with_its_scratch_in, scratch, *words, said=said)
    end_at = time.monotonic() + stops.PATIENCE
    while "Serving on" not in said.read_text("utf-8"):
        assert time.monotonic() < end_at, said.read_text("utf-8")
        assert serving.is_alive(), said.read_text("utf-8")
        time.sleep(0.02)
    assert names(scratch) != []
    for number in signals:
        os.kill(serving.pid, number)
    assert end(serving, said).status == (0 if signals[0] == signal.SIGINT else 128 + signals[0])
    assert names(scratch) == []
    assert "Traceback" not in said.read_text("utf-8")
    if signals[0] != signal.SIGINT:
        assert said.read_text("utf-8").endswith(f"phasepress: stopped by {signals[0].name}\n")


def into_full(stream, *words):
    """Nothing can be written to this stream; full(4)."""
    full = os.open("/dev/full", os.O_WRONLY)
    os.dup2(full, stream)
    command(*words)


def into_closed_pipe(stream, *words):
    """Whoever read this stream has gone."""
    ours, theirs = os.pipe()
    os.close(ours)
    os.dup2(theirs, stream)
    command(*words)


def into_nothing(stream, *words):
    """The stream was closed before the command began."""
    os.close(stream)
    setattr(sys, {1: "stdout", 2: "stderr"}[stream], None)
    command(*words)


VERBS = [
    *("check", "check-json", "report", "order", "build", "new", "new-exercise", "accept", "review", "schema"),
    *("help", "version"),
]


def line_by_line(tree):
    """The programme's file as a coach has it: `accept` writes into none whose keys stand in braces."""
    file = tree / "plan/programme.yaml"
    file.write_text(yaml.safe_dump(json.loads(file.read_text("utf-8"))), encoding="utf-8")
    return tree


def words_of(verb, tree, folder):
    order = ("order", "plan", "1.0", "legs", "--level", "new", "--week", "1")
    if verb == "accept" and tree.is_dir():
        line_by_line(tree)
    words = {
        "check": ("check",),
        "check-json": ("check", "--format", "json"),
        "report": ("report",),
        "order": order,
        "build": ("build", "--to", folder / "site"),
        "new": ("new", "another-plan"),
        "new-exercise": ("new", "exercise", "slow-lean"),
        "accept": ("accept", *ACCEPTED),
        "review": ("review", "--template", "plan", "1.0"),
        "schema": ("schema", "--to", folder / "schemas"),
    }
    if verb in words:
        return (*words[verb], "--programmes", tree)
    return (f"--{verb}",)


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize(
    ("how", "why"), [(into_full, FULL), (into_closed_pipe, "Broken pipe")], ids=["full", "closed pipe"]
)
def test_an_output_that_cannot_be_written_is_told(tmp_path, verb, how, why):
    tree = trees.write(trees.small(), tmp_path / "tree")
    done = ended(how, 1, *words_of(verb, tree, tmp_path), said=tmp_path / "said")
    assert done.status == 2
    assert done.said.endswith(f"phasepress: {ANSWER}{why}\n")
    assert done.said.count("phasepress: ") == 1
    assert "Traceback" not in done.said
    assert [name for name in names(tmp_path) if name.startswith(".")] == []


@pytest.mark.parametrize("how", [into_full, into_closed_pipe])
@pytest.mark.parametrize("verb", ["build", "wrong", "nonsense"])
def test_messages_that_cannot_be_written_are_told_where_the_output_goes(tmp_path, verb, how):
    """`build` says what it found there; the others have a message to give."""
    tree = trees.write(trees.small(), tmp_path / "tree")
    if verb == "wrong":
        (tree / "club.yaml").unlink()
    words = ("check", "--nonsense") if verb == "nonsense" else words_of("build", tree, tmp_path)
    done = ended(how, 2, *words, said=tmp_path / "said")
    assert done.status == 2
    told = "No such option" if verb == "nonsense" else f"phasepress: {ANSWER}"
    assert told in done.said
    assert "Traceback" not in done.said
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize("stream", [1, 2])
@pytest.mark.parametrize("verb", ["check", "report", "build", "version"])
def test_a_stream_that_is_closed_from_the_start_is_no_fault(tmp_path, verb, stream):
    tree = trees.write(trees.small(), tmp_path / "tree")
    done = ended(into_nothing, stream, *words_of(verb, tree, tmp_path), said=tmp_path / "said")
    assert done.status == 0, done.said


def test_a_reader_that_has_seen_enough_gets_a_message_and_no_traceback(tmp_path):
    program = Path(sys.executable).with_name("phasepress")
    words = f"{program} report --programmes programmes; echo status $? >&2"
    done = subprocess.run(
        ["bash", "-c", f"({words}) | head -1"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.count("\n") == 1
    assert done.stderr in (f"phasepress: {ANSWER}Broken pipe\nstatus 2\n", "status 0\n")
    assert ROOT.joinpath("programmes").is_dir()


def with_small_files(most, *words):
    """No file may become larger: RLIMIT_FSIZE of setrlimit(2), which a full disk resembles."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    command(*words)


@contextlib.contextmanager
def small_disk(folder):
    """A file system of 64 kB; says whether it is one: without the right to mount it, it is a folder."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "small", str(folder)]
    mounted = os.geteuid() == 0 and subprocess.run(mount, capture_output=True, check=False).returncode == 0
    try:
        yield mounted
    finally:
        if mounted:
            subprocess.run(["umount", "--lazy", str(folder)], check=True)


def filled(disk, room):
    """No more than this is left of it."""
    with (disk / "filler").open("wb", buffering=0) as filler:
        with contextlib.suppress(OSError):
            while True:
                filler.write(bytes(1024))
        filler.truncate(filler.tell() - room)


@pytest.mark.parametrize("verb", ["build", "schema", "new"])
def test_a_disk_that_is_full_is_told_and_nothing_stays(tmp_path, verb):
    """Where none may be mounted, no file may become larger than a few hundred bytes or kilobytes."""
    disk = tmp_path / "disk"
    with small_disk(disk) as is_one:
        tree = trees.write(trees.small(), (disk if verb == "new" else tmp_path) / "tree")
        if is_one:
            filled(disk, 0 if verb == "new" else 16_384)
        how = (command,) if is_one else (with_small_files, 300 if verb == "new" else 4_000)
        before = digests(disk)
        done = ended(*how, *words_of(verb, tree, disk), said=tmp_path / "said")
        assert done.status == 2, done.said
        assert re.search(rf"phasepress: .*({FULL}|File too large)", done.said)
        assert "Traceback" not in done.said
        after = digests(disk)
        if verb == "schema":
            for path in (disk / "schemas").iterdir():
                assert path.read_text("utf-8").endswith("}\n"), f"half of {path.name}"
                del after[f"schemas/{path.name}"]
        assert after == before
        assert list(disk.rglob(".*")) == []


def without_the_rights_of_root(*words):
    """Root may write into every folder; so it gives that right up: capset(2), with the numbers of linux/capability.h."""
    if not os.geteuid():
        libc = ctypes.CDLL(None, use_errno=True)
        version_and_process = (ctypes.c_uint32 * 2)(0x20080522, 0)
        # Of 64 rights, the lower 32: those in force, those allowed, those inherited; then the upper 32.
        rights = (ctypes.c_uint32 * 6)()
        assert libc.capget(version_and_process, rights) == 0
        dac_override, dac_read_search = 1 << 1, 1 << 2
        rights[0] &= ~(dac_override | dac_read_search)
        assert libc.capset(version_and_process, rights) == 0
    command(*words)


@pytest.mark.parametrize("verb", ["build", "schema", "new"])
def test_a_folder_that_may_only_be_read_is_told(tmp_path, verb):
    tree, place = trees.write(trees.small(), tmp_path / "tree"), tmp_path / "shut"
    place.mkdir()
    shut = tree if verb == "new" else place
    before = digests(tmp_path)
    shut.chmod(0o555)
    try:
        done = ended(without_the_rights_of_root, *words_of(verb, tree, place), said=tmp_path / "said")
    finally:
        shut.chmod(0o755)
    assert done.status == 2, done.said
    assert re.search(r"phasepress: cannot write .*: Permission denied", done.said)
    assert "Traceback" not in done.said
    (tmp_path / "said").unlink()
    assert digests(tmp_path) == before


ODD = {"newline": "a\nb", "escape": "a\x1b[31mb", "bytes": "a\udcffb", "space": " "}


@pytest.mark.parametrize(
    ("verb", "odd"),
    [
        pytest.param(verb, ODD[kind], id=f"{verb}-{kind}")
        for number, verb in enumerate(VERBS[:-2])
        for kind in in_turn(ODD, number, few=1)
    ],
)
def test_a_path_with_odd_signs_is_a_path(tmp_path, odd, verb):
    tree = trees.write(trees.small(), tmp_path / odd / "tree")
    done = ended(command, *words_of(verb, tree, tmp_path / odd), said=tmp_path / "said")
    assert done.status == 0, done.said
    missing = ended(command, *words_of(verb, tmp_path / odd / "none", tmp_path / odd), said=tmp_path / "said")
    assert missing.status == (0 if verb == "schema" else 2), missing.said
    assert "Traceback" not in missing.said


def strictly(*words):
    """Where the terminal's encoding has no sign for some bytes of a name, as in most languages' settings."""
    sys.stdout.reconfigure(encoding="utf-8", errors="strict")
    command(*words)


def test_a_name_that_the_terminal_cannot_show_is_no_fault(tmp_path):
    tree = trees.write(trees.small(), tmp_path / "tree")
    done = ended(strictly, *words_of("schema", tree, tmp_path / "a\udcff"), said=tmp_path / "said")
    assert done.status == 0, done.said
    assert "a\\udcff/schemas" in done.said


def in_a_folder_that_is_gone(folder, *words):
    os.chdir(folder)
    folder.rmdir()
    command(*words)


@pytest.mark.parametrize("verb", VERBS[:-2])
def test_a_command_in_a_folder_that_is_gone_says_so(tmp_path, verb):
    here = tmp_path / "here"
    here.mkdir()
    words = words_of(verb, Path("tree"), Path("."))
    done = ended(in_a_folder_that_is_gone, here, *words, said=tmp_path / "said")
    assert done.status == 2
    assert re.match(
        r"phasepress: (the folder in which the command was started is gone|no folder of|cannot)", done.said
    )
    assert "Traceback" not in done.said
