"""The random trees are worth comparing on: they repeat, keep the rules of the format and reach its corners."""

import re
from datetime import timedelta
from itertools import pairwise

import pytest

from . import oracle, trees
from .test_oracle import SEEDS, read
from .tree_blocks import MEASURES, leaves


@pytest.fixture(scope="module")
def forest(grown):
    """The tree of every seed that is compared, read."""
    return [read(grown(seed)) for seed in SEEDS]


def plans(tree):
    return [plan for versions in tree["programmes"].values() for plan in versions.values()]


def stations(forest):
    """(tree, station) of every station of every day of every version."""
    return [
        (tree, station)
        for tree in forest
        for plan in plans(tree)
        for day in plan["days"]
        for block in day["blocks"]
        for station in block["stations"]
    ]


@pytest.fixture(scope="module")
def walks(forest):
    """(day, segments) of every session of every version."""
    return [
        (day, oracle.Session(tree, level, week).walk(day).segments)
        for tree in forest
        for plan in plans(tree)
        for day in plan["days"]
        for level in plan["levels"]
        for week in range(1, plan["weeks"] + 1)
    ]


# --- they repeat and keep the rules --------------------------------------------------------------------


def test_a_seed_gives_the_same_files_again(tmp_path):
    def texts(folder):
        return {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*.yaml")}

    first = texts(trees.write_tree(tmp_path / "first", 7))
    assert texts(trees.write_tree(tmp_path / "again", 7)) == first
    assert texts(trees.write_tree(tmp_path / "other", 8)) != first


def test_every_station_has_one_dose_that_suits_its_exercises(forest):
    for tree, station in stations(forest):
        (dose,) = MEASURES.keys() & station.keys()
        used = [tree["exercises"][name] for name in leaves(station["exercise"])]
        assert {one["measure"] for one in used} <= set(MEASURES[dose])
        assert dose != "hold" or (
            "tempo" not in station and all(one["sides"] != "alternating" for one in used)
        )
        assert dose != "distance" or "takes" in station


def test_only_loadable_exercises_carry_a_load(forest):
    for tree, station in stations(forest):
        for level, name in levelled(station["exercise"]):
            loads = leaves(for_level(station.get("load", "0 kg"), level))
            assert tree["exercises"][name].get("loadable") or set(loads) == {"0 kg"}


def levelled(written):
    return written.items() if isinstance(written, dict) else [(None, written)]


def for_level(written, level):
    return written[level] if isinstance(written, dict) and level in written else written


def test_phases_start_on_mondays_and_do_not_overlap(forest):
    for tree in forest:
        for versions in tree["programmes"].values():
            newest = {name.split(".")[0]: plan for name, plan in sorted(versions.items())}
            spans = [
                (one["starts"], one["starts"] + timedelta(weeks=one["weeks"])) for one in newest.values()
            ]
            assert all(start.weekday() == 0 for start, _ in spans)
            assert all(end <= start for (_, end), (start, _) in pairwise(spans))


def test_no_work_is_longer_than_its_minute(walks):
    found = 0
    for day, segments in walks:
        for letter, block in zip("ABCD", day["blocks"], strict=False):
            if block["kind"] == "every minute":
                here = [part for part in segments if part["block"] == letter and part["kind"] != "rest"]
                starts = [part["start"] - here[0]["start"] for part in here]
                assert {part["kind"] for part in here} <= {"work", "side change", "wait"}
                assert set(range(0, int(sum(part["length"] for part in here)), 60)) <= set(starts)
                found += len(here)
    assert found > 100


# --- they reach the corners ----------------------------------------------------------------------------


def test_the_time_caps_cut_every_piece_of_a_bout(walks):
    met = {cut for _, segments in walks for cut in cuts(segments)}
    assert met == {"only side", "left side", "side change", "right side"}


def cuts(segments):
    """Which piece the cap fell into, for every bout that was cut."""
    for part, after in pairwise([*segments, None]):
        if part.get("cut") and not (after and after.get("cut")):
            names = {"left": "left side", "right": "right side", None: "only side"}
            yield "side change" if part["kind"] == "side change" else names[part["side"]]


def test_amounts_of_0_leave_out_stations_and_whole_blocks_of_every_kind(walks):
    met = {kind for day, segments in walks for kind in left_out(day, segments)}
    assert met >= {
        (what, kind) for what in ("station", "block") for kind in ("circuit", "straight sets", "every minute")
    } | {("station", "timed rounds")}


def left_out(day, segments):
    done = {part["station"] for part in segments}
    for letter, block in zip("ABCD", day["blocks"], strict=False):
        missing = [n for n, _ in enumerate(block["stations"], 1) if f"{letter}{n}" not in done]
        if missing:
            yield "block" if len(missing) == len(block["stations"]) else "station", block["kind"]


def test_amounts_vary_in_every_shape(forest):
    shapes = {shape(value) for _, station in stations(forest) for value in station.values()}
    shapes |= {shape(block[key]) for tree in forest for plan in plans(tree) for day in plan["days"]
               for block in day["blocks"] for key in block.keys() - {"stations", "kind"}}  # fmt: skip
    assert shapes == {"same", "per week", "per level", "per level with other", "both", "both with other"}


def shape(value):
    if isinstance(value, dict):
        name = "both" if any(isinstance(one, list) for one in value.values()) else "per level"
        return name + " with other" * ("other" in value)
    return "per week" if isinstance(value, list) else "same"


def test_durations_are_written_in_every_form_that_is_allowed(grown):
    text = "".join(
        path.read_text(encoding="utf-8") for seed in SEEDS
        for path in grown(seed).rglob("*.yaml")
    )  # fmt: skip
    for form in [
        r" 45 s",
        r" 2 min[,\]}\n]",
        r" \d min \d+ s",
        r'"\d:\d\d"',
        r" \d:\d\d",
        r" \d+\.5 s",
        r" \d\.5 min",
    ]:
        assert re.search(form, text), form


def test_every_kind_of_segment_side_and_landing_occurs(forest, walks):
    parts = [part for _, segments in walks for part in segments]
    assert {part["kind"] for part in parts} == {"work", "side change", "changeover", "rest", "wait"}
    assert {part["side"] for part in parts} == {"left", "right", None}
    assert any(part["kind"] == "work" and part["length"] == 60 for part in parts)
    landings = [one["contacts"] for tree in forest for plan in oracle.report(tree)["versions"]
                for one in plan["sessions"]]  # fmt: skip
    assert all(any(one[key] for one in landings) for key in ("all", "low", "medium", "high"))
    assert all(one["all"] == one["low"] + one["medium"] + one["high"] for one in landings)
