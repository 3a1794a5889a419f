"""A new folder or file comes to its place whole, or the old one stays, however the process ends.

Expected values are the promise itself; renameat2(2) and flock(2) say what the system does for it.
"""

import errno
import hashlib
import os
import shutil
import signal
import sys

import pytest
from phasepress.publishing import switching
from phasepress.publishing.stopping import Stopped, heeded

from tests import stops
from tests.samples import every
from tests.stops import CHANGES, Stop, begin, digests, end, ended

OLD = {"index.html": b"old", "day/index.html": b"old day", "day/only-old.html": b"gone in the new one"}
NEW = {"index.html": b"new", "day/index.html": b"new day", "week/index.html": b"only in the new one"}
HIDDEN = ".site.phasepress-work"
ASKED = [(signal.SIGINT,), (signal.SIGTERM,), (signal.SIGHUP,), (signal.SIGINT, signal.SIGINT)]


def write(folder, files):
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)


def told(files):
    return {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}


def switched(to, files):
    with switching.work(to) as work:
        write(work.new, files)
        work.switch()


def asked(work, *arguments):
    """Does it as a command does: a request to stop is an exception."""
    with heeded():
        try:
            work(*arguments)
        except Stopped as stop:
            sys.exit(stop.status)


def a_file(to, content):
    switching.replace_file(to, content)


def a_new_file(to, content):
    switching.create_file(to, content)


def a_new_folder(to):
    switching.create_folder(to, {"programme.yaml": b"title: T\n", "1.0.yaml": b"phase: P\n"})


def names(folder):
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def public(tmp_path):
    """A folder with the old site and what belongs to somebody else."""
    write(tmp_path / "public" / "site", OLD)
    write(tmp_path / "public", {".site-tool/kept": b"another tool's", ".other.phasepress-work/kept": b"x"})
    return tmp_path / "public"


def kept(public):
    """What is beside the site; that of others is as it was."""
    assert digests(public / ".site-tool").keys() == {"kept"}
    assert digests(public / ".other.phasepress-work").keys() == {"kept"}
    return [name for name in names(public) if name not in (".site-tool", ".other.phasepress-work")]


@pytest.mark.parametrize("refused", [False, True], ids=["exchanged", "by two renames"])
def test_what_is_new_takes_the_place_and_nothing_else_stays(public, tmp_path, refused):
    site = public / "site"
    assert ended(switched, site, NEW, said=tmp_path / "said", refused=refused) == (0, "")
    assert digests(site) == told(NEW)
    assert kept(public) == ["site"]


@pytest.mark.parametrize("there", ["nothing", "an empty folder"])
def test_a_first_site_needs_none_before_it(tmp_path, there):
    site = tmp_path / "site"
    if there == "an empty folder":
        site.mkdir()
    switched(site, NEW)
    assert digests(site) == told(NEW)
    assert names(tmp_path) == ["site"]


@pytest.mark.parametrize("refused", [False, True], ids=["exchanged", "by two renames"])
def test_a_kill_before_any_change_leaves_one_whole_site(public, tmp_path, refused):
    """With two renames there is a moment without a site: the next one to look puts the old one back."""
    site, said = public / "site", tmp_path / "said"
    missing, at = 0, 0
    while True:
        at += 1
        stop = Stop(at, (signal.SIGKILL,), CHANGES)
        done = ended(switched, site, NEW, said=said, stop=stop, refused=refused)
        missing += not site.exists()
        assert refused or site.exists(), f"no site after a kill before change {at}"
        switching.recover(site)
        assert digests(site) in (told(OLD), told(NEW)), f"a mix after a kill before change {at}"
        assert kept(public) == ["site"], f"left after a kill before change {at}"
        if done.status == 0:
            break
        assert done == (-signal.SIGKILL, "")
        switched(site, OLD)
        assert digests(site) == told(OLD)
    assert at > 12, "fewer changes than a switch makes: the kills miss them"
    assert missing == (1 if refused else 0)


@pytest.mark.parametrize(
    ("refused", "signals"),
    # Each signal in one of the ways, and the second request in that with more moments.
    every(
        [(refused, signals) for refused in (False, True) for signals in ASKED],
        few=[(turn % 2 == 1, signals) for turn, signals in enumerate(ASKED)],
    ),
    ids=lambda own: (
        "+".join(one.name for one in own)
        if isinstance(own, tuple)
        else ("by two renames" if own else "exchanged")
    ),
)
def test_a_request_to_stop_before_any_change_clears_up_by_itself(public, tmp_path, signals, refused):
    site, at, stopped = public / "site", 0, 0
    while True:
        at += 1
        stop = Stop(at, signals, CHANGES)
        done = ended(asked, switched, site, NEW, said=tmp_path / "said", stop=stop, refused=refused)
        assert done in ((0, ""), (128 + signals[0], "")), f"before change {at}"
        assert digests(site) in (told(OLD), told(NEW)), f"a mix after a stop before change {at}"
        assert kept(public) in (["site"], [HIDDEN, "site"]), f"before change {at}"
        stopped += done.status != 0
        switched(site, OLD)
        assert kept(public) == ["site"]
        if done.status == 0:
            break
    assert stopped > 10


def test_a_kill_in_the_clearing_up_after_a_kill_loses_nothing(public, tmp_path):
    """The old site lies in the hidden folder and nothing in its place: killed again at every step."""
    site, hidden, said = public / "site", public / HIDDEN, tmp_path / "said"
    at = 0
    while True:
        at += 1
        hidden.mkdir()
        (hidden / "phasepress-lock").touch()
        site.rename(hidden / "old")
        write(hidden / "new-1", NEW)
        done = ended(switching.recover, site, said=said, stop=Stop(at, (signal.SIGKILL,), CHANGES))
        switching.recover(site)
        assert digests(site) == told(OLD), f"after a kill before change {at}"
        assert kept(public) == ["site"]
        if done.status == 0:
            break
    assert at > 4


def test_an_old_site_that_is_half_removed_is_never_put_back(public, tmp_path):
    """Killed while the old one is removed; then somebody takes the new one away."""
    site, said, at = public / "site", tmp_path / "said", 0
    while True:
        at += 1
        done = ended(switched, site, NEW, said=said, stop=Stop(at, (signal.SIGKILL,), CHANGES), refused=True)
        if site.exists() and digests(site) == told(NEW):
            site.rename(tmp_path / f"taken-{at}")
        switching.recover(site)
        assert not site.exists() or digests(site) == told(OLD), f"after a kill before change {at}"
        if done.status == 0:
            break
        switched(site, OLD)


def stays(to, open_, shut):
    """At work until the test lets go; pipes, so that nobody waits for a time."""
    with switching.work(to) as work:
        write(work.new, NEW)
        open_.send("at work")
        shut.recv()
        work.switch()


def tells(to, waiting):
    with switching.work(to, lambda: waiting.send("waits")) as work:
        write(work.new, OLD)
        work.switch()


def test_the_work_of_a_living_process_is_left_alone_and_the_next_one_waits(public, tmp_path):
    site, said = public / "site", tmp_path / "said"
    here, there = stops._forks.Pipe()
    go, gone = stops._forks.Pipe()
    first = begin(stays, site, there, gone, said=said)
    assert here.recv() == "at work"
    before = digests(public)
    switching.recover(site)
    assert digests(public) == before
    heard, mouth = stops._forks.Pipe()
    second = begin(tells, site, mouth, said=said)
    assert heard.recv() == "waits"
    assert digests(public) == before
    go.send("go on")
    assert end(first, said) == (0, "")
    assert end(second, said) == (0, "")
    assert digests(site) == told(OLD)
    assert kept(public) == ["site"]


def test_many_at_once_end_well_one_after_another(public, tmp_path):
    site, said = public / "site", tmp_path / "said"
    versions = [{f"page-{at}-{n}.html": b"x" for n in range(40)} for at in range(8)]
    every = [begin(switched, site, files, said=said) for files in versions]
    assert [end(one, said) for one in every] == [(0, "")] * len(every)
    assert digests(site) in [told(files) for files in versions]
    assert kept(public) == ["site"]


def test_a_hidden_folder_that_goes_while_it_is_asked_for_is_made_anew(public, monkeypatch):
    """mkdir(2) finds it, and the process that clears up takes it away before it is looked at."""
    hidden, made = public / HIDDEN, os.mkdir
    hidden.mkdir()

    def finds_it_and_it_goes(path, *mode, **how):
        try:
            made(path, *mode, **how)
        except FileExistsError:
            hidden.rmdir()
            raise

    monkeypatch.setattr(os, "mkdir", finds_it_and_it_goes)
    switched(public / "site", NEW)
    assert digests(public / "site") == told(NEW)


@pytest.mark.parametrize("what", ["a folder", "a link to a folder", "a file"])
def test_what_has_the_name_of_the_hidden_folder_and_is_not_ours_is_left_alone(public, what):
    site, hidden = public / "site", public / HIDDEN
    if what == "a folder":
        write(hidden, {"thesis.txt": b"years of work"})
    elif what == "a link to a folder":
        hidden.symlink_to(".site-tool")
    else:
        hidden.write_bytes(b"years of work")
    before = digests(public)
    switching.recover(site)
    with pytest.raises(OSError, match=r"not made for this|exists|Not a directory"):
        switched(site, NEW)
    assert digests(public) == before


@pytest.mark.parametrize("number", sorted({errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM}))
def test_where_the_exchange_is_refused_two_renames_do_it(public, monkeypatch, number):
    def refuse(one, other):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(switching, "_exchange", refuse)
    switched(public / "site", NEW)
    assert digests(public / "site") == told(NEW)
    assert kept(public) == ["site"]


def test_an_exchange_that_fails_for_another_reason_is_told(public, monkeypatch):
    def fail(one, other):
        raise OSError(errno.EBUSY, os.strerror(errno.EBUSY))

    monkeypatch.setattr(switching, "_exchange", fail)
    with pytest.raises(OSError, match="busy"):
        switched(public / "site", NEW)
    assert digests(public / "site") == told(OLD)
    assert kept(public) == ["site"]


def test_the_second_rename_that_fails_brings_the_old_site_back(public, monkeypatch):
    def refuse(one, other):
        raise OSError(errno.EINVAL, "no")

    rename, calls = os.rename, []

    def second_fails(one, other):
        calls.append(one)
        if len(calls) == 2:
            raise OSError(errno.EACCES, "no")
        rename(one, other)

    monkeypatch.setattr(switching, "_exchange", refuse)
    monkeypatch.setattr(os, "rename", second_fails)
    with pytest.raises(OSError, match="no"):
        switched(public / "site", NEW)
    assert digests(public / "site") == told(OLD)
    assert kept(public) == ["site"]


@pytest.mark.parametrize("gone", ["the new folder", "the hidden folder", "the lock", "everything"])
def test_what_is_removed_while_it_is_made_is_not_switched_in_by_halves(public, tmp_path, gone):
    site = public / "site"
    places = {
        "the new folder": lambda work: work.new,
        "the hidden folder": lambda work: work.new.parent,
        "the lock": lambda work: work.new.parent / "phasepress-lock",
        "everything": lambda work: public,
    }

    def built():
        with switching.work(site) as work:
            write(work.new, {"index.html": b"new"})
            place = places[gone](work)
            shutil.rmtree(place) if place.is_dir() else place.unlink()
            write(work.new, {"day/index.html": b"made the folder anew"})
            work.switch()

    with pytest.raises(OSError, match="is gone"):
        built()
    if gone == "everything":
        assert names(public) == []
    else:
        assert digests(site) == told(OLD)
        assert kept(public) == ["site"]


@pytest.mark.parametrize("work", [a_file, a_new_file])
def test_a_kill_before_any_change_leaves_a_whole_file_or_none(tmp_path, work):
    to, said, at = tmp_path / "here" / "pack.pdf", tmp_path / "said", 0
    to.parent.mkdir()
    content = b"%PDF" + bytes(200_000)
    while True:
        at += 1
        to.unlink(missing_ok=True)
        if work is a_file:
            to.write_bytes(b"older")
        done = ended(work, to, content, said=said, stop=Stop(at, (signal.SIGKILL,), CHANGES))
        if work is a_file:
            assert to.read_bytes() in (b"older", content)
        else:
            assert not to.exists() or to.read_bytes() == content
        switching.recover(to)
        assert [name for name in names(to.parent) if name != to.name] == []
        if done.status == 0:
            break
    assert at > 4
    assert to.read_bytes() == content


def test_a_kill_before_any_change_leaves_a_whole_new_folder_or_none(tmp_path):
    to, said, at = tmp_path / "tree" / "plan", tmp_path / "said", 0
    to.parent.mkdir()
    while True:
        at += 1
        done = ended(a_new_folder, to, said=said, stop=Stop(at, (signal.SIGKILL,), CHANGES))
        assert not to.exists() or names(to) == ["1.0.yaml", "programme.yaml"]
        if done.status == 0:
            break
        if to.exists():
            switching.remove_folder(to)
        switching.recover(to)
        assert names(to.parent) == []
    assert at > 6


@pytest.mark.parametrize("links", [True, False], ids=["", "without second names for a file"])
def test_a_new_file_never_takes_the_place_of_one_that_is_there(tmp_path, monkeypatch, links):
    def refuse(one, other):
        raise PermissionError(errno.EPERM, "no links here")

    if not links:
        monkeypatch.setattr(os, "link", refuse)
    switching.create_file(tmp_path / "1.0.yaml", b"mine")
    with pytest.raises(FileExistsError):
        switching.create_file(tmp_path / "1.0.yaml", b"another")
    with pytest.raises(FileExistsError):
        switching.create_folder(tmp_path / "1.0.yaml", {"a": b"another"})
    assert (tmp_path / "1.0.yaml").read_bytes() == b"mine"
    assert names(tmp_path) == ["1.0.yaml"]


def test_what_was_started_deaf_to_a_signal_stays_so() -> None:
    """As nohup(1) does with SIGHUP."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with heeded():
            os.kill(os.getpid(), signal.SIGHUP)
            assert signal.getsignal(signal.SIGHUP) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGHUP, before)


def test_a_request_that_python_drops_is_heeded_before_the_switch(public, capsys):
    """What is raised while an object is destroyed goes nowhere (sys.unraisablehook)."""

    class Last:
        def __del__(self):
            os.kill(os.getpid(), signal.SIGTERM)

    def built():
        with heeded(), switching.work(public / "site") as work:
            write(work.new, NEW)
            last = Last()
            del last
            work.switch()

    with pytest.raises(Stopped) as stopped:
        built()
    assert stopped.value.status == 143
    assert digests(public / "site") == told(OLD)
    assert capsys.readouterr().err == ""


def test_a_second_request_does_not_disturb_the_end_that_the_first_began() -> None:
    cleared = []

    def work():
        with heeded():
            try:
                os.kill(os.getpid(), signal.SIGINT)
            finally:
                os.kill(os.getpid(), signal.SIGINT)
                cleared.append("all")

    with pytest.raises(Stopped):
        work()
    assert cleared == ["all"]
