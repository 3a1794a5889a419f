"""A caption that the drawing does not keep is told, with the number that the drawing has."""

import pytest
from phasepress.drawing.mannequin.captions import captions
from phasepress.reading.model import Exercise

from tests.fixtures.demo_files import demo_exercises

DEMO = demo_exercises()

STAND = {"view": "side", "shows": "x", "planted": {"feet": "floor"}}


def told(says="x", joints=None, cues=("a", "b"), **figure):
    """What is told of a stand with these joints and words."""
    parts = {**STAND, "positions": [{"says": says, "joints": joints or {}}], **figure}
    raw = {
        "name": "X", "pattern": "squat", "sides": "both", "measure": "hold",
        "setup": ["s"], "cues": list(cues), "cautions": ["c"], "figure": parts,
    }  # fmt: skip
    return [(one.path, one.what) for one in captions(Exercise.model_validate(raw))]


@pytest.mark.parametrize("name", DEMO)
def test_the_demo_keeps_its_captions(name):
    assert list(captions(DEMO[name])) == []


@pytest.mark.parametrize(
    ("says", "joints", "kept"),
    [
        ("arms straight", {"elbow": 19}, True),
        ("arms straight", {"elbow": 22}, False),
        ("arms straight", {"right elbow": 40}, False),
        ("one arm long", {"right elbow": 40}, True),
        ("with straight arms", {"left elbow": 30}, False),
        ("thighs level", {"hip": 90, "knee": 90}, True),
        ("thighs are level", {"hip": 60, "knee": 70}, False),
        ("legs straight", {"knee": 35, "hip": 17}, False),
        ("knees at a right angle", {"hip": 60, "knee": 80}, True),
        ("knees at a right angle", {"hip": 60, "knee": 60}, False),
        ("one straight line", {"hip": 5}, True),
        ("one straight line", {"hip": 40, "lean": 30}, False),
    ],
)
def test_an_angle_in_words_is_held_against_the_drawn_joints(says, joints, kept):
    assert (told(says, joints) == []) is kept


def test_what_is_told_has_the_words_and_the_angle_and_where_they_stand():
    ((path, what),) = told("arms straight", {"elbow": 50})
    assert path == ("figure", "positions", 0, "says")
    assert "“arms straight”, but the elbow is bent by 50°" in what


def test_a_cue_has_to_be_so_at_one_position_alone():
    ways = [{"says": "a", "joints": {"elbow": 90}}, {"says": "b"}]
    assert told(cues=("Push until your arms are straight.", "b"), positions=ways) == []
    ((path, _),) = told(cues=("b", "Push until your arms are straight."), positions=ways[:1])
    assert path == ("cues", 1)


SIT = {"says": "touch the seat softly", "joints": {"lean": 42, "hip": 114, "knee": 87}}


def test_what_is_said_to_touch_does():
    chair = {"props": ["chair"], "places": {"chair": -46}}
    planted = {"feet": "floor", "seat": "chair"}
    assert told(positions=[{**SIT, "planted": planted}], **chair) == []
    ((_, what),) = told(positions=[SIT], **chair)
    assert "nothing is planted there" in what


@pytest.mark.parametrize(("wall", "kept"), [(-33, True), (-60, False)])
def test_hips_that_are_said_to_reach_the_wall_do(wall, kept):
    low = {"says": "hips to the wall", "joints": {"lean": 74, "hip": 97, "knee": 26}}
    assert (told(positions=[low], props=["wall"], places={"wall": wall}) == []) is kept


@pytest.mark.parametrize(("elbow", "kept"), [(0, True), (60, False)])
def test_a_planted_hand_that_overrides_the_elbow_of_the_file_is_told(elbow, kept):
    plank = {"toes": "floor", "hands": "floor"}
    ways = [
        {"says": "a", "joints": {"lean": 70, "shoulder": 66, "heel": 75}},
        {"says": "b", "joints": {"lean": 70, "shoulder": 66, "heel": 75, "elbow": elbow}},
    ]
    found = told(planted=plank, positions=ways)
    assert (found == []) is kept
    if not kept:
        assert ("figure", "positions", 1, "joints", "elbow") in [path for path, _ in found]
