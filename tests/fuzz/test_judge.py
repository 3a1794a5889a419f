"""The judge sees what it is to see, or nothing that a run says would mean anything."""

import json
import os
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT
from tests.fuzz import judge, logs
from tests.fuzz.children import Child, DiedError
from tests.fuzz.judge import Found

FINDING = dict.fromkeys(judge.FINDING, "") | {"line": 1, "column": 1, "severity": "error"}


def answer(out: str = "", **more: Any) -> dict[str, Any]:
    return {"status": 0, "out": out, "err": "", "long": False, "traceback": "", "tried": []} | more


@pytest.mark.parametrize(
    ("told", "shape", "rule"),
    [
        (answer(status=3), "text", "exit status"),
        (answer(traceback='File "x.py", line 1\nValueError: x'), "text", "a traceback"),
        (answer(tried=["open '/etc/x'"]), "text", "it reached out of its folder"),
        (answer("a\x1b[2Jb"), "text", "a sign that acts"),
        (answer(err="a\u202eb"), "text", "a sign that acts"),
        (answer("a\u2028b"), "json", "a sign that acts"),
        (answer("ok\n  ::error::x"), "text", "a forged command"),
        (answer("::error::x"), "github", "a forged command"),
        (answer("ok ##[error]x"), "text", "a forged command"),
        (answer("topsecret-9f3a"), "text", "it tells of a file outside the tree"),
        (answer("{"), "json", "check json is no JSON"),
        (answer('{"findings": [], "errors": NaN, "warnings": 0}'), "json", "check json is no JSON"),
        (answer('{"findings": [], "errors": 0}'), "json", "check lacks a key"),
        (answer('{"findings": [{}], "errors": 0, "warnings": 0}'), "json", "check lacks a key"),
        (
            answer(json.dumps({"findings": [FINDING], "errors": 0, "warnings": 0})),
            "json",
            "errors are miscounted",
        ),
        (
            answer(json.dumps({"findings": [FINDING], "errors": 1, "warnings": 0})),
            "json",
            "errors are miscounted",
        ),
        (answer("[{}]"), "gitlab", "gitlab lacks a key"),
    ],
)
def test_a_broken_rule_is_seen(told: dict[str, Any], shape: str, rule: str) -> None:
    with pytest.raises(Found) as found:
        judge.answered(told, ["check", "--format", shape])
    assert found.value.rule.startswith(rule)


@pytest.mark.parametrize(
    ("told", "shape"),
    [
        (answer("::error file=a.yaml,line=1,col=1,title=key::words"), "github"),
        (answer(json.dumps({"findings": [FINDING], "errors": 1, "warnings": 0}), status=1), "json"),
        (answer("a.yaml:1:1: error key: words\n    a hint: ::x"), "text"),
    ],
)
def test_what_is_right_is_let_pass(told: dict[str, Any], shape: str) -> None:
    judge.answered(told, ["check", "--format", shape])


def test_a_hole_in_a_running_order_is_seen() -> None:
    segments = [
        dict.fromkeys(judge.SEGMENT) | {"start": 0, "length": 5},
        dict.fromkeys(judge.SEGMENT) | {"start": 6, "length": 1},
    ]
    with pytest.raises(Found, match="a hole"):
        judge.answered(
            answer(json.dumps({"segments": segments, "seconds": 7})), ["order", "--format", "json"]
        )


@pytest.mark.parametrize("change", ["new", "changed", "gone", "link"])
def test_a_file_that_is_made_changed_or_taken_away_is_seen(tmp_path: Path, change: str) -> None:
    (tmp_path / "kept").write_text("1")
    before = judge.digests(tmp_path)
    if change in ("new", "changed"):
        (tmp_path / ("kept" if change == "changed" else "new")).write_text("2")
    else:
        (tmp_path / "kept").unlink()
    if change == "link":
        (tmp_path / "kept").symlink_to("elsewhere")
    with pytest.raises(Found, match=r"kept|new"):
        judge.same(before, judge.digests(tmp_path), "a file was changed")


def test_a_log_that_lost_what_was_noted_here_is_seen() -> None:
    lost = {**logs.HERE, "note": "Another."}
    told = {
        "fault": "",
        "polluted": [],
        "refused": "No.",
        "kept": {f"log {logs.HOME} here": json.dumps(lost)},
    }
    with pytest.raises(Found, match="lost"):
        logs.judged(told)
    told["kept"] = {f"log {logs.HOME} here": json.dumps(logs.HERE)}
    assert logs.judged(told) == "refused"


PROGRAMS = {
    "processor time": "while True: pass",
    "status 3": "sys.exit(3)",
    "SIGKILL": "os.kill(os.getpid(), 9)",
    "MemoryError": "limit_memory(); answer(len(bytearray(2_000_000_000)))",
}


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux bounds another process")
@pytest.mark.parametrize("why", PROGRAMS)
def test_a_child_that_takes_too_much_or_dies_is_told_of_and_started_again(
    why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.fuzz.children.CPU_SECONDS", 1)
    program = (
        "import json, os, sys\nfrom tests.fuzz.children import limit_memory\n"
        "def answer(what): print(json.dumps(what), flush=True)\n"
        "answer({})\nfor line in sys.stdin:\n    if json.loads(line): answer('well')\n"
        "    else:\n        try:\n            "
        + PROGRAMS[why]
        + "\n        except MemoryError: answer('MemoryError')\n"
    )
    child = Child([sys.executable, "-c", program], os.environ | {"PYTHONPATH": str(ROOT)}, ROOT)
    try:
        assert child.ask({"go": 1}) == "well"
        try:
            told = child.ask({})
        except DiedError as error:
            told = str(error)
        assert why in told
        assert child.ask({"go": 1}) == "well"
    finally:
        child.close()
