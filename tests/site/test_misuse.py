"""A call that is wrong ends with status 2 and the nearest right word; one that is right with 0, a faulty tree with 1."""

import pytest

from . import trees


@pytest.fixture(scope="module")
def tree(tmp_path_factory):
    return trees.write(trees.small(), tmp_path_factory.mktemp("misuse") / "tree")


@pytest.fixture(scope="module")
def faulty(tmp_path_factory):
    wrong = trees.small()
    wrong["plan/1.0.yaml"]["weeks"] = "two"
    return trees.write(wrong, tmp_path_factory.mktemp("misuse") / "faulty")


def order(**other):
    """The sound call with one word replaced."""
    word = {"programme": "plan", "version": "1.0", "day": "legs", "level": "new", "week": "1"} | other
    place = word["programme"], word["version"], word["day"]
    return ("order", *place, "--level", word["level"], "--week", word["week"])


def print_(**other):
    """A call of print that is sound but for what is replaced; it would write pack.pdf where it is run."""
    word = {"programme": "plan", "version": "1.0", "level": "new", "week": "1", "to": "pack.pdf"} | other
    place = word["programme"], word["version"]
    return ("print", *place, "--level", word["level"], "--week", word["week"], "--to", word["to"])


ORDER = order()


@pytest.mark.parametrize("call", [("check",), ("report",), ORDER, ("schema",)], ids=lambda call: call[0])
def test_a_sound_call_ends_with_0(run, tree, call, tmp_path):
    more = ("--to", tmp_path) if call[0] == "schema" else ()
    done = run("--programmes", tree, *call, *more)
    assert done.exit_code == 0, done.output


@pytest.mark.parametrize(
    "call",
    [("check",), ("report",), ORDER, ("build", "--to", "x"), print_()],
    ids=lambda call: call[0],
)
def test_a_faulty_tree_ends_with_1_and_the_place_of_the_fault(run, faulty, call, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run("--programmes", faulty, *call)
    assert done.exit_code == 1
    assert f"{faulty}/plan/1.0.yaml:" in done.output
    assert "error value: weeks: " in done.output
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (order(programme="plam"), "unknown programme 'plam', allowed plan; did you mean \"plan\"?"),
        (order(version="1.1"), "unknown version '1.1', allowed 1.0; did you mean \"1.0\"?"),
        (order(day="leg"), "unknown day 'leg', allowed legs; did you mean \"legs\"?"),
        (order(level="newe"), "unknown level 'newe', allowed new or used; did you mean \"new\"?"),
        (order(level="New"), "unknown level 'New', allowed new or used; did you mean \"new\"?"),
        (order(week="3"), "unknown week '3', allowed 1 or 2"),
        (order(week="0"), "unknown week '0', allowed 1 or 2"),
        (order(week="-1"), "unknown week '-1', allowed 1 or 2"),
        (order(week="one"), "Invalid value for '--week': 'one' is not a valid integer."),
        (print_(programme="plam"), "unknown programme 'plam', allowed plan; did you mean \"plan\"?"),
        (print_(version="1.1"), "unknown version '1.1', allowed 1.0; did you mean \"1.0\"?"),
        (print_(level="newe"), "unknown level 'newe', allowed new or used; did you mean \"new\"?"),
        (print_(week="3"), "unknown week '3', allowed 1 or 2"),
        (print_(week="one"), "Invalid value for '--week': 'one' is not a valid integer."),
        (print_(to="pack"), "--to pack is not the name of a PDF file; write it like pack.pdf"),
        (print_(to="no/where.pdf"), "there is no folder no to write where.pdf into; make it first"),
        (print_(to=f"{__file__}/pack.pdf"), f"there is no folder {__file__} to write pack.pdf into"),
        (("print", "plan", "1.0"), "Missing option '--to'."),
        (("print", "plan", "1.0", "--to", "x.pdf", "--paper", "a5"), "'a5' is not one of 'a4', 'letter'."),
        (("order", "plan", "1.0"), "Missing argument 'DAY'."),
        (("order", "plan", "1.0", "legs", "--week", "1"), "Missing option '--level'."),
        (
            ("order", "plan", "1.0", "legs", "--levle", "new"),
            "No such option '--levle'. (Did you mean one of:",
        ),
        (("biuld",), "No such command 'biuld'. Did you mean 'build'?"),
        (("check", "--formt", "json"), "No such option '--formt'. Did you mean '--format'?"),
        (("check", "--format", "jsn"), "'jsn' is not one of 'text', 'json'"),
        (("report", "plan"), "Got unexpected extra argument (plan)"),
        (("build", "--too", "x"), "No such option '--too'. Did you mean '--to'?"),
        (("serve", "--at", "nonsense"), "cannot serve at nonsense; write it like 127.0.0.1:8000"),
        (("serve", "--at", "localhost:http"), "cannot serve at localhost:http; write it like"),
        (("serve", "--at", "127.0.0.1:99999"), "cannot serve at 127.0.0.1:99999; write it like"),
        (("schema", "--to", __file__), "is a file."),
    ],
)
def test_a_wrong_call_ends_with_2_and_a_way_out(run, tree, call, said):
    done = run("--programmes", tree, *call)
    assert done.exit_code == 2
    assert said in done.stderr
    assert done.stdout == ""


@pytest.mark.parametrize(
    "call",
    [("check",), ("report",), ORDER, ("build",), ("serve",), ("schema",), print_()],
    ids=lambda call: call[0],
)
def test_a_tree_that_is_not_there_ends_with_2(run, call, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    done = run(*call)
    assert done.exit_code == 2
    assert (
        done.stderr
        == "phasepress: no folder of programme files at programmes; name another with --programmes DIR\n"
    )
    assert done.stdout == ""
    assert list(tmp_path.iterdir()) == []


def test_a_pack_is_not_written_where_a_folder_is(run, tree, tmp_path):
    to = tmp_path / "pack.pdf"
    to.mkdir()
    done = run("--programmes", tree, *print_(to=to))
    assert done.exit_code == 2
    assert done.stderr == f"phasepress: {to} is a folder; name a file in it, such as {to / 'pack.pdf'}\n"
    assert list(to.iterdir()) == []


def test_a_tree_that_is_a_file_ends_with_2(run):
    assert run("check", "--programmes", __file__).exit_code == 2


def test_help_ends_with_0_and_names_every_verb(run):
    done = run("--help")
    assert done.exit_code == 0
    for verb in ("check", "report", "order", "build", "serve", "schema", "print"):
        assert f"  {verb} " in done.stdout
        assert run(verb, "-h").exit_code == 0
