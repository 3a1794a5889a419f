"""Totals: the body against published values, poses that stay planted, and the drawing."""

import gzip
import re
from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from phasepress.drawing.mannequin import draw
from phasepress.drawing.mannequin.body import HAT, LENGTHS, PAIRED, RANGES, SEGMENTS, length
from phasepress.drawing.mannequin.breaks import breaks
from phasepress.drawing.mannequin.mechanics import (
    above_the_knees,
    hands_range,
    hands_share,
    leaning_hold,
    off_balance,
    press_up,
)
from phasepress.drawing.mannequin.motion import contact_of, movement
from phasepress.drawing.mannequin.pose import SIDES, body, spread
from phasepress.drawing.mannequin.scene import body_lines
from phasepress.drawing.mannequin.tempo import schedule
from phasepress.reading.amounts import tempo
from phasepress.reading.model import Exercise, validate
from phasepress.reading.model.figure import JOINT_NAMES, Figure
from pydantic import ValidationError

from tests.fixtures.demo_files import demo_exercises
from tests.samples import size

DEMO = demo_exercises()

# --- the body: Winter (2009), Table 4.1 and Fig. 4.1 (Drillis & Contini 1966) -------------------------------


def test_the_segment_masses_sum_to_one():
    assert SEGMENTS["trunk, head and neck"].mass + 2 * sum(
        SEGMENTS[name].mass for name in PAIRED
    ) == pytest.approx(1)


def test_head_arms_and_trunk_are_the_trunk_and_two_arms():
    arm = sum(SEGMENTS[name].mass for name in ("hand", "forearm", "upper arm"))
    assert HAT.mass == pytest.approx(SEGMENTS["trunk, head and neck"].mass + 2 * arm)


# Rows of the same table that are wholes of other rows: mass, and centre from the proximal end over the length named.
# They were measured apart, so they agree with the sums of their parts to 0.02 of that length and no closer.
WHOLES = {
    "forearm and hand": (0.022, 0.682, 0.146, {"forearm": 0.0, "hand": 0.146}),
    "total arm": (0.050, 0.530, 0.332, {"upper arm": 0.0, "forearm": 0.186, "hand": 0.332}),
    "total leg": (0.161, 0.447, 0.491, {"thigh": 0.0, "shank": 0.245, "foot": 0.491}),
}


@pytest.mark.parametrize("whole", WHOLES)
def test_the_parts_of_a_limb_make_up_the_row_of_the_whole(whole):
    mass, centre, long, parts = WHOLES[whole]
    assert sum(SEGMENTS[name].mass for name in parts) == pytest.approx(mass)
    # The foot hangs below the ankle by half the ankle's height, at most; a choice of ours.
    reach = {name: 0.039 / 2 if name == "foot" else SEGMENTS[name].centre * LENGTHS[name] for name in parts}
    middle = sum(SEGMENTS[name].mass * (start + reach[name]) for name, start in parts.items()) / mass
    assert middle / long == pytest.approx(centre, abs=0.02)


# Published fractions times 150 cm, as the reference works them out.
AT_150 = {
    "foot": 22.80, "shank": 36.90, "thigh": 36.75, "upper arm": 27.90, "forearm": 21.90, "hand": 16.20,
    "knee height": 42.75, "hip height": 79.50, "shoulder height": 122.70,
}  # fmt: skip


@pytest.mark.parametrize("name", AT_150)
def test_lengths_at_a_stature_of_150_cm(name):
    assert length(name) == pytest.approx(AT_150[name], abs=0.005)


def test_the_segments_stack_up_to_the_stature():
    chain = ("ankle height", "shank", "thigh", "trunk", "neck", "head")
    assert sum(LENGTHS[name] for name in chain) == pytest.approx(1)


def test_a_standing_figure_has_its_joints_at_the_published_heights():
    pose = movement(figure({"planted": {"feet": "floor"}, "positions": [{"says": "stand"}]})).keys[0].pose
    assert pose.at["pelvis"][1] == pytest.approx(AT_150["hip height"])
    assert pose.at["chest"][1] == pytest.approx(AT_150["shoulder height"])
    assert pose.at["right knee"][1] == pytest.approx(AT_150["knee height"])


# --- shares of body weight --------------------------------------------------------------------------------

# Ebben WP et al. (2011), J Strength Cond Res 25(10):2891-2894: peak force over body weight, heights in cm.
# 0.64, 0.41 and 0.74 second-hand; 0.55 and 0.70 from memory. H = 1.75 m, arms at right angles to the trunk.
EBBEN = [(0, 0, 0.64), (30.48, 0, 0.55), (60.96, 0, 0.41), (0, 30.48, 0.70), (0, 60.96, 0.74)]


@pytest.mark.parametrize(("hands", "feet", "measured"), EBBEN)
def test_the_press_up_is_within_six_hundredths_of_what_was_measured(hands, feet, measured):
    assert press_up(hands / 175, feet / 175) == pytest.approx(measured, abs=0.06)


def test_how_far_the_heights_miss_is_what_the_guide_says():
    off = [round(press_up(hands / 175, feet / 175) - measured, 2) for hands, feet, measured in EBBEN]
    assert off == [-0.05, -0.03, 0.04, -0.05, -0.02]


def test_hands_and_feet_at_any_height_come_in_the_measured_order():
    hands_60, hands_30, floor, feet_30, feet_60 = (
        press_up(h / 175, f / 175) for h, f in ((60.96, 0), (30.48, 0), (0, 0), (0, 30.48), (0, 60.96))
    )
    assert hands_60 < hands_30 < floor < feet_30 < feet_60
    assert press_up(0, 0, knees=True) < floor


def test_with_upright_arms_the_floor_is_near_the_published_start_loads():
    # Gouvali & Boudolos (2005): 0.664, n = 8 men; Mier et al. (2014), static up: 0.670 men, 0.651 women.
    ours = press_up(0, 0, upright_arms=True)
    assert [round(ours - one, 3) for one in (0.664, 0.670, 0.651)] == [0.001, -0.005, 0.014]


# Worked out by another reader, apart from this project, from the same published lengths and masses: Winter's table, the
# force under the palm, half of the way from wrist to knuckle. In the order of EBBEN; then the floor and the knees.
APART = [0.586, 0.523, 0.449, 0.648, 0.719]


def test_the_press_up_is_what_another_reader_works_out_with_the_force_under_the_palm():
    ours = [press_up(hands / 175, feet / 175) for hands, feet, _ in EBBEN]
    assert ours == pytest.approx(APART, abs=0.002)
    assert press_up(0, 0, upright_arms=True) == pytest.approx(0.666, abs=0.002)
    assert press_up(0, 0, knees=True, upright_arms=True) == pytest.approx(0.560, abs=0.002)


def test_floor_and_knees_are_within_0_045_of_what_was_measured():
    # Gouvali & Boudolos (2005), Mier et al. (2014), static up, men and women.
    for measured in (0.664, 0.670, 0.651):
        assert press_up(0, 0, upright_arms=True) == pytest.approx(measured, abs=0.045)
    for measured in (0.529, 0.525, 0.515):
        assert press_up(0, 0, knees=True, upright_arms=True) == pytest.approx(measured, abs=0.045)


def test_how_far_the_knees_miss_is_what_the_guide_says():
    # Gouvali & Boudolos (2005): 0.529; Mier et al. (2014), static up: 0.525 men, 0.515 women. Lower legs on the floor.
    upright, square = press_up(0, 0, knees=True, upright_arms=True), press_up(0, 0, knees=True)
    assert (round(upright, 3), round(square, 3)) == (0.560, 0.411)
    assert round(upright - 0.529, 2) == 0.03
    assert round(square - 0.529, 2) == -0.12


def test_on_the_knees_the_order_that_was_measured_is_missed_as_the_guide_says():
    # Ebben (2011): knees 0.49 (partly second-hand), hands at 60.96 cm 0.41.
    assert (round(press_up(0, 0, knees=True), 2), round(press_up(60.96 / 175, 0), 2)) == (0.41, 0.45)


def test_a_push_up_on_the_knees_as_drawn_is_the_stiff_body_with_upright_arms():
    parts = {"planted": {"knees": "floor", "hands": "floor"}}
    parts["positions"] = [{"says": "x", "joints": {"lean": 54, "shoulder": 54, "knee": 60}}]
    drawn = hands_share(movement(figure(parts)).keys[0])
    assert drawn == pytest.approx(press_up(0, 0, knees=True, upright_arms=True), abs=0.005)


def test_how_far_the_floor_push_up_as_drawn_misses_is_what_the_guide_says():
    # Mier et al. (2014), static, men and women: up 0.670 and 0.651, down 0.746 and 0.703.
    up, down = (hands_share(key) for key in movement(DEMO["floor-push-up"].figure).keys)
    assert (round(up, 2), round(down, 2)) == (0.70, 0.75)
    assert up - 0.670 < 0.06
    assert down - 0.746 < 0.06


def press_up_drawn(on, lean, **more):
    parts = {"props": [on] * (on != "floor"), "planted": {"toes": "floor", "hands": on}}
    joints = {"lean": lean, "shoulder": 80, "heel": 75, **more}
    return movement(figure({**parts, "positions": [{"says": "x", "joints": joints}]})).keys[0]


def test_a_share_is_one_number_on_the_level_and_a_range_on_a_slope():
    # The direction of the force is free where friction takes a part of it: from square to the support to along the arm.
    least, most = hands_range(press_up_drawn("floor", 70))
    assert least == most
    least, most = hands_range(press_up_drawn("worktop", 30))
    assert 0.02 < most - least < 0.2
    assert least < hands_share(press_up_drawn("worktop", 30)) < most


def test_low_on_the_knees_nothing_is_said():
    # There the estimate is off by up to 0.11 (Mier et al. 2014, static, knees: down 0.601 men, 0.566 women).
    def knees(lean, elbow):
        parts = {"planted": {"knees": "floor", "hands": "floor"}}
        parts["positions"] = [
            {"says": "x", "joints": {"lean": lean, "shoulder": 54, "knee": 60, "elbow": elbow}}
        ]
        return hands_range(movement(figure(parts)).keys[0])

    assert knees(54, 0) is not None
    assert knees(80, 90) is None


@pytest.mark.parametrize(("hands", "lean", "height"), [("floor", 70, 0), ("chair", 51, 45), ("step", 63, 18)])
def test_a_drawn_push_up_at_any_height_lies_near_the_stiff_body_between_its_two_kinds_of_arms(
    hands, lean, height
):
    parts = {"props": [hands] * (hands != "floor"), "planted": {"toes": "floor", "hands": hands}}
    parts["positions"] = [{"says": "x", "joints": {"lean": lean, "shoulder": 80, "heel": 75}}]
    drawn = hands_share(movement(figure(parts)).keys[0])
    square, upright = (press_up(height / 150, 0, upright_arms=arms) for arms in (False, True))
    assert square - 0.1 < drawn < upright + 0.1


HANG = {"props": ["rail"], "planted": {"feet": "floor", "hands": "rail"}}


@pytest.mark.parametrize(("lean", "share"), [(-45, 0.5288), (-60, 0.6808)])
def test_a_drawn_hold_that_leans_back_carries_what_was_measured_at_its_angle(lean, share):
    # Melrose & Dawes (2015), by the angle from upright of the line from the feet to the shoulders.
    hold = {"lean": lean, "ankle": -lean, "shoulder": 90 + lean / 2}
    key = movement(figure({**HANG, "positions": [{"says": "x", "joints": hold}]})).keys[0]
    assert hands_share(key) == pytest.approx(share, abs=0.03)


def test_a_hand_that_rests_on_a_rail_carries_no_share():
    key = movement(figure({**HANG, "positions": [{"says": "x", "joints": {"shoulder": 60}}]})).keys[0]
    assert hands_share(key) is None


def test_more_than_seven_eighths_of_the_body_are_above_the_knees():
    # 1 - 2(leg + foot) of Winter's table; the convention of about 88 % (Dugan et al. 2004) is from memory.
    assert above_the_knees() == pytest.approx(0.878)


# Melrose & Dawes (2015): % body mass at arm's length by lean from upright, n = 40.
@pytest.mark.parametrize(("lean", "share"), [(30, 0.3744), (45, 0.5288), (60, 0.6808), (75, 0.7938)])
def test_a_leaning_hold_has_the_four_published_nodes(lean, share):
    assert leaning_hold(lean) == pytest.approx(share, abs=1e-12)


@pytest.mark.parametrize("lean", [0, 29.9, 75.1, 90])
def test_a_leaning_hold_says_nothing_beyond_what_was_measured(lean):
    assert leaning_hold(lean) is None


def test_a_leaning_hold_rises_between_the_nodes():
    assert leaning_hold(30) < leaning_hold(40) < leaning_hold(45) < leaning_hold(52)


def test_heights_that_no_body_spans_are_refused():
    with pytest.raises(ValueError, match="span"):
        press_up(1.5, 0)


# --- poses ---------------------------------------------------------------------------------------------------

ANGLES = st.fixed_dictionaries({name: st.floats(*limits) for name, limits in RANGES.items()})


@given(ANGLES)
@settings(max_examples=size(200, few=60), deadline=None)
def test_segments_keep_their_lengths_at_any_angles(angles):
    at = body(spread(angles)).at
    for side in SIDES:
        for name, first, last in (
            ("thigh", "hip", "knee"), ("shank", "knee", "ankle"),
            ("upper arm", "shoulder", "elbow"), ("forearm", "elbow", "wrist"), ("hand", "wrist", "fingers"),
        ):  # fmt: skip
            assert dist(at[f"{side} {first}"], at[f"{side} {last}"]) == pytest.approx(length(name))
        assert dist(at[f"{side} heel"], at[f"{side} toe"]) == pytest.approx(length("foot"))
    assert dist(at["pelvis"], at["chest"]) == pytest.approx(length("trunk"))


@given(st.floats(0, 140), st.floats(0, 150))
@settings(max_examples=100, deadline=None)
def test_joints_are_bent_by_what_is_written(hip, knee):
    pose = body(spread({"hip": hip, "knee": knee, "elbow": knee}))
    for side in SIDES:
        assert pose.bend(side, "hip") == pytest.approx(hip, abs=1e-4)
        assert pose.bend(side, "knee") == pytest.approx(knee, abs=1e-4)
        assert pose.bend(side, "elbow") == pytest.approx(knee, abs=1e-4)


def test_knees_bend_back_and_elbows_forward():
    at = body(spread({"knee": 90, "elbow": 90})).at
    assert at["right ankle"][0] < at["right knee"][0]
    assert at["right wrist"][0] > at["right elbow"][0]


def test_a_named_side_overrules_the_word_for_both():
    values = spread({"left knee": 10}, {"knee": 50, "right knee": 70})
    assert (values["left knee"], values["right knee"]) == (50, 70)


@pytest.mark.parametrize("name", DEMO)
def test_planted_parts_stay_planted_in_every_frame(name):
    move = movement(DEMO[name].figure)
    for index, way in enumerate(move.ways):
        first, last = move.keys[index], move.keys[(index + 1) % len(move.keys)]
        if len(way) < 3:
            continue
        for part, contact in first.planted.items():
            still = last.planted.get(part)
            limb = part.endswith(("foot", "toes", "hand"))
            if (
                limb
                and still
                and not contact.moves
                and still.support == contact.support
                and dist(contact.at, still.at) < 0.5
            ):
                for pose in way:
                    assert dist(contact_of(pose, part, contact.support), contact.at) < 3.5, (part, index)


@pytest.mark.parametrize("name", DEMO)
def test_segments_keep_their_lengths_in_every_frame(name):
    for pose in movement(DEMO[name].figure).frames():
        for side in SIDES:
            assert dist(pose.at[f"{side} hip"], pose.at[f"{side} knee"]) == pytest.approx(length("thigh"))
            assert dist(pose.at[f"{side} knee"], pose.at[f"{side} ankle"]) == pytest.approx(length("shank"))
            assert dist(pose.at[f"{side} shoulder"], pose.at[f"{side} elbow"]) == pytest.approx(
                length("upper arm")
            )
            assert dist(pose.at[f"{side} elbow"], pose.at[f"{side} wrist"]) == pytest.approx(
                length("forearm")
            )


@pytest.mark.parametrize("name", DEMO)
def test_no_demo_figure_breaks(name):
    assert [one.what for one in breaks(DEMO[name].figure)] == []


@pytest.mark.parametrize("name", ["brisk-march", "hug-carry", "suitcase-carry", "side-steps", "stop-step"])
def test_who_walks_has_a_foot_on_the_floor_in_every_frame(name):
    for pose in movement(DEMO[name].figure).frames():
        assert min(pose.at[f"{side} ball"][1] for side in SIDES) < 2


def bends(name, position, side="right"):
    pose = movement(DEMO[name].figure).keys[position].pose
    return {joint: pose.bend(side, joint) for joint in ("hip", "knee", "elbow")}


def test_thighs_are_level_in_the_wall_sit():
    # Common practice, no source: 90 degrees at hip and knee.
    found = bends("wall-sit", 0)
    assert found["hip"] == pytest.approx(90, abs=1)
    assert found["knee"] == pytest.approx(90, abs=1)


@pytest.mark.parametrize(("name", "position"), [("split-squat", 1), ("step-back", 2)])
def test_both_knees_are_near_a_right_angle_at_the_bottom_of_a_lunge(name, position):
    # Common practice, no source.
    assert bends(name, position)["knee"] == pytest.approx(90, abs=12)
    assert bends(name, position, "left")["knee"] == pytest.approx(90, abs=12)


ANGLE = re.compile(
    r"\d\s*(°|degrees?\b)|right angle|\bsquare\b|like an L\b|\b(thighs?|shins?|forearms?) (are )?level\b",
    re.I,
)
NAMED = [
    name
    for name, exercise in DEMO.items()
    if ANGLE.search(" ".join([*exercise.setup, *exercise.cues, exercise.figure.shows]))
]


def test_some_words_of_the_demo_name_an_angle():
    assert {"dead-bug", "towel-chop", "wall-sit"} <= set(NAMED)


@pytest.mark.parametrize("name", [*NAMED, "split-squat", "step-back"])
def test_an_angle_that_the_words_name_is_marked_in_the_strip(name):
    # The knees of a lunge are named in no cue; that they are near 90 degrees is common practice, no source.
    move = movement(DEMO[name].figure)
    marked = sum(len(key.position.marks) for key in move.keys if not key.position.between)
    assert marked >= 2
    assert draw.strip(move, "x").text.count('class="mark"') == marked


def test_a_mark_is_seen_while_the_figure_that_moves_is_at_its_position():
    # Down for 2 s, a pause of 1 s, up for 1 s and a pause of 2 s: the mark of the low position is seen around 4 to 5 s,
    # as the time through begins with the pause high.
    parts = {
        **STAND,
        "positions": [{"says": "a", "at": "high"}, {"says": "b", "at": "low", "joints": {"knee": 90}}],
    }
    parts["positions"][1]["marks"] = ["knee"]
    low = figure(parts)
    text = draw.moving(movement(low), schedule(low, tempo("2-1-1-2"), None), "x").text
    (times,) = re.findall(r'attributeName="opacity".*?keyTimes="([^"]+)" values="0;1;0"', text)
    assert [round(float(one) * 6, 1) for one in times.split(";")] == [0, 3.7, 5.3]
    parts["positions"].reverse()
    low = figure(parts)
    text = draw.moving(movement(low), schedule(low, tempo("2-1-1-2"), None), "x").text
    (times,) = re.findall(r'attributeName="opacity".*?keyTimes="([^"]+)" values="1;0;1"', text)
    assert [round(float(one) * 6, 1) for one in times.split(";")] == [0, 1.3, 5.7]


def test_a_right_angle_has_its_corner_and_another_one_its_arc_with_its_degrees():
    parts = {**STAND, "positions": [{"says": "x", "joints": {"hip": 90, "knee": 91, "elbow": 50}}]}
    parts["positions"][0]["marks"] = ["knee", "elbow"]
    text = draw.strip(movement(figure({**parts, "planted": {}})), "x").text
    corner, arc = (
        len(re.findall(r"\d+", path)) // 2 for path in re.findall(r'class="mark" d="([^"]+)"', text)
    )
    assert (corner, arc) == (3, 7)
    assert re.findall(r">(\d+)°<", text) == ["90", "130"]


DIP = {
    "props": ["chair"],
    "planted": {"feet": "floor", "hands": "chair"},
    "places": {"chair": -62},
    "positions": [
        {"says": "up", "joints": {"lean": 0, "hip": 68, "knee": 68, "shoulder": -10}},
        {"says": "down", "joints": {"lean": 2, "hip": 92, "knee": 80, "shoulder": -50, "elbow": 90}},
    ],
}


def test_elbows_are_near_a_right_angle_at_the_bottom_of_a_chair_dip_and_the_hands_carry_part_of_the_weight():
    # Common practice, no source: 90 degrees. A dip's share has no published value.
    low = movement(figure(DIP)).keys[1]
    assert low.pose.bend("right", "elbow") == pytest.approx(90, abs=15)
    assert 0.2 < hands_share(low) < 0.95


def test_the_push_up_ladder_of_the_demo_rises():
    wall, worktop, floor = (
        max(filter(None, (hands_share(key) for key in movement(DEMO[f"{name}-push-up"].figure).keys)))
        for name in ("wall", "worktop", "floor")
    )
    assert wall < worktop < floor


def test_who_leans_too_far_is_off_balance():
    upright = movement(figure({"planted": {"feet": "floor"}, "positions": [{"says": "x"}]})).keys[0]
    fallen = movement(
        figure({"planted": {"feet": "floor"}, "positions": [{"says": "x", "joints": {"lean": 40}}]})
    )
    assert off_balance(upright, "side") == 0
    assert off_balance(fallen.keys[0], "side") > 10


# --- times and drawing -----------------------------------------------------------------------------------------


def test_a_figure_moves_in_the_counts_of_the_dose():
    times = schedule(DEMO["chair-squat"].figure, tempo("3-1-2-1"), None)
    assert (times.stays, times.moves) == ((1, 1), (3, 2))


TEMPOS = st.tuples(st.integers(1, 9), st.integers(0, 9), st.integers(1, 9), st.integers(0, 9))
IN_COUNTS = [name for name, exercise in DEMO.items() if exercise.tempo]


@pytest.mark.parametrize("name", IN_COUNTS)
@given(TEMPOS)
@settings(max_examples=size(20, few=5), deadline=None)
def test_a_time_through_is_the_tempo_of_the_dose_to_a_hundredth(name, counts):
    exercise = DEMO[name]
    written = "-".join(map(str, counts))
    text = draw.moving(movement(exercise.figure), schedule(exercise.figure, tempo(written), None), "x").text
    (lasts,) = set(re.findall(r'dur="([^"]+)s"', text))
    assert float(lasts) == pytest.approx(sum(counts) * (exercise.parts or 1), abs=0.005)


@pytest.mark.parametrize("name", IN_COUNTS)
def test_in_its_own_tempo_a_figure_takes_as_long_as_a_rep_of_the_plan(name):
    exercise = DEMO[name]
    times = schedule(exercise.figure, exercise.tempo, None)
    assert times.seconds == pytest.approx(float(exercise.rep_seconds(None)))


def test_a_count_of_nothing_is_drawn_in_a_quarter_of_a_second():
    times = schedule(DEMO["chair-squat"].figure, tempo("2-0-0-1"), None)
    assert (times.stays, times.moves) == ((1, 0), (2, 0.25))


def test_a_way_through_another_position_shares_the_count():
    times = schedule(DEMO["step-back"].figure, tempo("2-0-1-0"), None)
    assert times.moves == (1, 1, 1)


def test_a_flight_lasts_as_long_whatever_the_seconds_of_a_rep():
    figure_ = DEMO["jump-and-freeze"].figure
    short, long = schedule(figure_, None, 5), schedule(figure_, None, 8)
    assert short.moves == long.moves
    assert (short.seconds, long.seconds) == (pytest.approx(5), pytest.approx(8))


def pictures(exercise: Exercise):
    move = movement(exercise.figure)
    yield draw.strip(move, "x < y")
    if move.ways:
        yield draw.moving(
            move, schedule(exercise.figure, exercise.tempo, exercise.rep_seconds(None)), "x < y"
        )


@pytest.mark.parametrize("name", DEMO)
def test_a_picture_is_small_and_has_no_script_style_attribute_or_raster(name):
    for picture in pictures(DEMO[name]):
        assert len(gzip.compress(picture.text.encode(), 9, mtime=0)) <= 4096
        assert not re.search(r"<script|\sstyle=|<image|<foreignObject|\son\w+=", picture.text)
        assert "x &lt; y" in picture.text


def test_a_picture_lasts_one_rep_of_the_dose_and_its_clock_never_runs_back():
    move = movement(DEMO["bag-squat"].figure)
    text = draw.moving(move, schedule(move.figure, tempo("3-1-X-0"), None), "x").text
    assert set(re.findall(r'dur="([^"]+)"', text)) == {"5s"}
    for clock in re.findall(r'keyTimes="([^"]+)"', text):
        at = [float(one) for one in clock.split(";")]
        assert at == sorted(at)
        assert (at[0], at[-1]) == (0, 1)


def test_a_position_between_is_moved_through_but_not_in_the_strip():
    parts = {**STAND, "positions": [{"says": "a"}, {"says": "b", "joints": {"shoulder": 90}}, {"says": "c"}]}
    through = {**parts, "positions": [*parts["positions"][:2], {"says": "c", "between": True}]}
    three, two = (movement(figure(one)) for one in (parts, through))
    assert (three.keys[2].pose.at, len(three.ways)) == (two.keys[2].pose.at, len(two.ways))
    assert [draw.strip(one, "x").text.count('class="arrow"') for one in (three, two)] == [2, 1]


def test_what_is_lifted_leaves_its_shade_when_seen_from_above():
    parts = {
        "view": "above",
        "positions": [{"says": "x", "joints": {"lean": 90, "shoulder": 90, "shoulder out": 80}}],
    }
    low = movement(figure(parts)).keys[0].pose
    parts["positions"][0]["joints"]["shoulder out"] = 105
    high = movement(figure(parts)).keys[0].pose

    def apart(pose):
        lines = {line.name: line.points for line in body_lines(figure(parts), pose)}
        return dist(lines["right arm"][2], lines["right shade"][2])

    assert apart(high) - apart(low) > 8


def test_far_limbs_are_hollow_and_near_ones_solid():
    text = draw.strip(movement(DEMO["dead-bug"].figure), "x").text
    # Arm and hand, thigh, shank and foot, at two positions.
    assert len(re.findall(r'class="\w+ b"', text)) == 2 * 5
    assert len(re.findall(r'class="(?:arm|hand|thigh|shank|foot)"', text)) == 2 * 2 * 5


# --- findings ----------------------------------------------------------------------------------------------------


def figure(parts: dict) -> Figure:
    return Figure.model_validate({"view": "side", "shows": "x", **parts})


def said(parts: dict) -> str:
    return "\n".join(one.what for one in breaks(figure(parts)))


STAND = {"planted": {"feet": "floor"}}


@pytest.mark.parametrize(
    ("parts", "what"),
    [
        ({**STAND, "positions": [{"says": "x", "joints": {"knee": 170}}]}, "knee at 170°, past what the joint does"),
        ({**STAND, "joints": {"left elbow": -60}, "positions": [{"says": "x"}]}, "left elbow at -60°"),
        ({"planted": {"right foot": "floor"}, "positions": [{"says": "x", "joints": {"left knee": 0, "right knee": 60, "right hip": 30}}]}, "inside the floor"),
        ({**STAND, "props": ["wall"], "places": {"wall": 5}, "positions": [{"says": "x", "joints": {"shoulder": 90}}]}, "inside the wall"),
        ({"planted": {"feet": "floor", "hands": "floor"}, "positions": [{"says": "x"}]}, "hand misses what it is planted on by"),
        ({"planted": {"feet": "floor", "hands": "wall"}, "positions": [{"says": "x", "joints": {"shoulder": 90}}]}, "hands planted on the wall, which is not among the props"),
        ({"props": ["worktop"], "places": {"worktop": 60}, "planted": {"feet": "floor", "hands": "worktop"}, "positions": [{"says": "x", "joints": {"shoulder": 80, "elbow": 60}}]}, "right hand is 27 cm beside the worktop"),
        ({"props": ["worktop"], "planted": {"feet": "floor", "hands": "worktop"}, "positions": [{"says": "x", "joints": {"lean": -25, "hip": 20, "knee": 60, "shoulder": -70}}]}, "right shoulder has to bend to -12"),
        ({**STAND, "props": ["chair"], "positions": [{"says": "x"}]}, "nothing is planted on the chair"),
        ({**STAND, "view": "front", "props": ["wall"], "positions": [{"says": "x"}]}, "a wall is drawn in the view from the side alone"),
        ({**STAND, "places": {"step": 4}, "positions": [{"says": "x"}]}, "a place for the step, which is not among the props"),
        ({**STAND, "positions": [{"says": "x", "steps": ["hands"]}]}, "steps with the hands, which is not planted"),
        ({"positions": [{"says": "x", "rise": 30}]}, "rests in the air, 30 cm above the floor"),
        ({**STAND, "positions": [{"says": "x", "at": "high"}, {"says": "y"}]}, "no position at: low"),
        ({**STAND, "positions": [{"says": "x", "joints": {"lean": 60}}]}, "cm outside what it stands on"),
    ],
)  # fmt: skip
def test_what_breaks_is_told(parts, what):
    assert what in said(parts)


def test_a_plain_stand_breaks_nothing():
    assert said({**STAND, "positions": [{"says": "x"}]}) == ""


def test_every_joint_of_the_format_has_a_range():
    schema = Figure.model_json_schema()
    names = schema["properties"]["joints"]["propertyNames"]["enum"]
    assert {name.removeprefix("left ").removeprefix("right ") for name in names} == set(RANGES)


def test_a_wrong_key_of_a_figure_is_told_by_its_name():
    raw = {"figure": {"view": "side", "shows": "x", "positions": [{"says": "x", "joints": {"nee": 90}}]}}
    _, faults = validate("exercise", raw)
    assert any(fault.path == ("figure", "positions", 0, "joints", "nee") for fault in faults)


# --- any figure that the format lets through ---------------------------------------------------------------------

JOINTS = st.dictionaries(st.sampled_from(JOINT_NAMES), st.integers(-180, 180), max_size=6)
PLANTED = st.dictionaries(
    st.sampled_from(
        [
            "left foot",
            "right foot",
            "right toes",
            "left knee",
            "hands",
            "left elbow",
            "seat",
            "back",
            "shoulders",
        ]
    ),
    st.sampled_from(["floor", "wall", "chair", "step", "rail", "worktop", "hips", "other shoulder"]),
    max_size=4,
)
POSITIONS = st.fixed_dictionaries(
    {"says": st.just("x"), "joints": JOINTS},
    optional={
        "planted": PLANTED,
        "rise": st.integers(-200, 200),
        "along": st.integers(-200, 200),
        "aside": st.integers(-200, 200),
        "between": st.booleans(),
        "at": st.sampled_from(["high", "low"]),
        "moves": st.sampled_from(["0 s", "0.1 s", "10 min"]),
        "marks": st.lists(st.sampled_from(["hip", "left knee", "right elbow"]), max_size=3),
    },
)
FIGURES = st.fixed_dictionaries(
    {"view": st.sampled_from(["side", "front", "above"]), "shows": st.just("x"), "joints": JOINTS},
    optional={
        "planted": PLANTED,
        "turned": st.integers(-60, 60),
        "props": st.lists(
            st.sampled_from(["wall", "side wall", "chair", "step", "rail", "worktop"]), max_size=3
        ),
        "holds": st.dictionaries(
            st.sampled_from(["bag", "towel", "broom"]), st.sampled_from(["hands", "chest", "feet"])
        ),
    },
)


@given(FIGURES, st.lists(POSITIONS, min_size=1, max_size=3))
@settings(max_examples=size(300, few=80), deadline=None)
def test_whatever_the_format_lets_through_is_judged_and_drawn_in_plain_numbers(parts, positions):
    try:
        wild = Figure.model_validate({**parts, "positions": positions})
    except ValidationError:
        return
    for one in breaks(wild):
        assert one.what
        assert one.hint
    move = movement(wild)
    texts = [draw.strip(move, "x").text]
    if move.ways:
        texts.append(draw.moving(move, schedule(wild, tempo("2-0-1-0"), None), "x").text)
        texts.append(draw.moving(move, schedule(wild, None, 3), "x").text)
    for text in texts:
        assert not re.search(r"nan|inf|\de[+-]?\d", text.partition("</style>")[2])
