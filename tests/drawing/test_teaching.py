"""What a figure has to teach: the sides, right and not so, thumbnails, and where each figure of the demo has its limbs."""

import gzip
import re
from itertools import combinations
from math import dist

import pytest
from phasepress.drawing.mannequin import draw, stills
from phasepress.drawing.mannequin.draw import limbs_of
from phasepress.drawing.mannequin.motion import movement
from phasepress.drawing.mannequin.pair import HIPS, KNEES, pair
from phasepress.drawing.mannequin.sides import in_turn, mirrored, shown
from phasepress.drawing.mannequin.tempo import schedule
from PIL import Image, ImageChops, ImageDraw

from tests.fixtures.demo_files import demo_exercises

DEMO = demo_exercises()
MOVES = {name: movement(exercise.figure) for name, exercise in DEMO.items()}


def keys(name):
    return [key.pose.at for key in MOVES[name].keys]


# --- where a practitioner looks: common practice, no source ----------------------------------------------------


def test_an_ankle_bounce_is_on_the_front_of_the_feet_for_more_than_half_of_its_time():
    times = schedule(MOVES["ankle-bounce"].figure, None, 1)
    flat = 0.0
    for way, seconds in zip(MOVES["ankle-bounce"].ways, times.moves, strict=True):
        lows = [pose.at["right heel"][1] < 2.5 for pose in way]
        flat += seconds * sum(lows) / len(lows)
    assert flat < 0.5 * times.seconds


def test_side_hop_stands_on_a_leg_in_line_and_its_free_foot_is_clear():
    for at, side, free in ((keys("side-hop")[0], "right", "left"), (keys("side-hop")[2], "left", "right")):
        hip, knee, ankle = (at[f"{side} {joint}"][2] for joint in ("hip", "knee", "ankle"))
        assert abs(knee - (hip + ankle) / 2) < 2
        assert abs(hip - ankle) < 6
        assert min(at[f"{free} toe"][1], at[f"{free} heel"][1]) > 8


def test_the_toe_glides_low_when_a_lunge_steps_back():
    for pose in MOVES["step-back"].ways[0]:
        assert pose.at["left toe"][1] < 12


def test_side_steps_stay_at_one_height_and_low():
    heights = [pose.at["head"][1] for pose in MOVES["side-steps"].frames()]
    assert max(heights) - min(heights) < 2
    assert max(heights) < 0.85 * 150


@pytest.mark.parametrize("name", ["floor-push-up"])
def test_at_the_bottom_of_a_push_up_the_elbow_is_over_the_hand(name):
    at = keys(name)[1]
    assert abs(at["right elbow"][0] - at["right wrist"][0]) < 6
    assert at["right elbow"][2] > at["right shoulder"][2]


def test_the_legs_of_a_side_plank_are_in_line_with_the_body():
    at = keys("side-plank")[0]
    for side in ("right", "left"):
        line = dist(at["chest"], at[f"{side} ankle"])
        assert dist(at["chest"], at["pelvis"]) + dist(at["pelvis"], at[f"{side} ankle"]) - line < 3


def test_the_legs_of_a_suitcase_carry_never_cross():
    for pose in MOVES["suitcase-carry"].frames():
        assert pose.at["right ankle"][2] - pose.at["left ankle"][2] > 5


def test_the_bag_of_a_row_hangs_above_the_floor_from_a_straight_arm_and_the_other_arm_supports():
    move = MOVES["bag-row"]
    low = move.keys[0].pose
    assert low.bend("left", "elbow") < 20
    for limb in limbs_of(move, [low])[0]:
        for line in limb.lines:
            if line.name == "bag":
                assert max(y for _, y in line.points) < -2


def test_a_face_is_seen_but_of_who_looks_away():
    def order(name):
        (limbs,) = limbs_of(MOVES[name], [MOVES[name].keys[0].pose])
        return [line.kind for limb in limbs for line in limb.lines]

    seen, hidden = order("wall-sit"), order("lying-towel-pull")
    assert seen.index("face") > seen.index("head")
    assert hidden.index("face") < hidden.index("head")


# --- left and right ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["bag-row", "side-hop", "towel-chop"])
def test_the_mirror_image_of_a_mirror_image_is_the_pose_itself(name):
    for key in MOVES[name].keys:
        again = mirrored(mirrored(key.pose))
        assert (again.at, again.values) == (key.pose.at, key.pose.values)
        assert mirrored(key.pose).at["left knee"][2] == pytest.approx(-key.pose.at["right knee"][2])


@pytest.mark.parametrize("name", DEMO)
def test_a_mirrored_picture_is_as_wide_and_its_words_are_not_mirrored(name):
    move = MOVES[name]
    one, other = (draw.strip(move, "x", flip) for flip in (False, True))
    assert (one.width, one.height) == (other.width, other.height)
    assert re.findall(r">([^<]+)</text>", one.text) == re.findall(r">([^<]+)</text>", other.text)
    assert "scale(" not in other.text
    assert one.text != other.text


@pytest.mark.parametrize("name", ["split-squat", "worktop-push-up", "side-hop"])
def test_a_mirrored_still_is_the_mirror_image(name):
    one, other = (stills.thumbnail(MOVES[name], flip) for flip in (False, True))
    wide = int(re.search(r'viewBox="0 0 (\d+)', one)[1])
    paths = [re.findall(r'd="([^"]+)"', svg) for svg in (one, other)]
    for here, there in zip(*paths, strict=True):
        for stroke, mirror in zip(re.findall(r"M[^M]+", here), re.findall(r"M[^M]+", there), strict=True):
            if "h" in stroke:
                continue
            for (x, y), (u, v) in zip(absolute(stroke), absolute(mirror), strict=True):
                assert abs(wide - x - u) <= 1
                assert y == v


IN_TURN = [name for name, exercise in DEMO.items() if exercise.sides == "alternating"]


@pytest.mark.parametrize("name", IN_TURN)
def test_who_alternates_shows_both_sides_in_turn(name):
    seen = shown(DEMO[name])

    def differs(pose):
        return max(dist(at, mirrored(pose).at[joint]) for joint, at in pose.at.items()) > 10

    def alike(one, other):
        return all(dist(at, other.at[joint]) < 3 for joint, at in moved(one).items())

    def moved(pose):
        return {
            name: tuple(a - b for a, b in zip(at, pose.pelvis, strict=True)) for name, at in pose.at.items()
        }

    poses = [key.pose for key in seen.move.keys]
    lopsided = [pose for pose in poses if differs(pose)]
    assert lopsided
    for pose in lopsided:
        other = moved(mirrored(pose))
        assert any(all(dist(at, other[joint]) < 3 for joint, at in moved(one).items()) for one in poses)


def test_both_sides_in_turn_take_two_reps_and_a_figure_that_alternates_itself_takes_one():
    assert [shown(DEMO[name]).reps for name in ("dead-bug", "shoulder-tap", "side-hop")] == [2, 2, 1]
    assert shown(DEMO["chair-squat"]).move.keys == MOVES["chair-squat"].keys


def test_what_is_planted_stays_where_it_is_while_the_sides_change():
    move = in_turn(MOVES["shoulder-tap"])
    for way in move.ways:
        for pose in way:
            assert dist(pose.at["right ball"], MOVES["shoulder-tap"].keys[0].pose.at["right ball"]) < 3.5


@pytest.mark.parametrize("name", IN_TURN)
def test_a_picture_of_both_sides_keeps_the_bound_of_a_figure(name):
    exercise, seen = DEMO[name], shown(DEMO[name])
    rep = exercise.rep_seconds(None)
    drawn = draw.moving(seen.move, schedule(seen.move.figure, exercise.tempo, rep and rep * seen.reps), "x")
    assert len(gzip.compress(drawn.text.encode(), 9, mtime=0)) <= 4096


# --- right and not so --------------------------------------------------------------------------------------------

PAIRS = {name: found for name, exercise in DEMO.items() if (found := pair(exercise))}


def test_landings_squats_lunges_step_ups_and_push_ups_have_their_pair():
    on_legs = {
        name for name, exercise in DEMO.items() if exercise.pattern in ("squat", "lunge", "jump", "land")
    }
    # Nobody bends a knee to rise onto the toes.
    on_legs -= {"toe-rise", "bag-calf-raise"}
    assert on_legs <= PAIRS.keys()
    assert {name for name in PAIRS if PAIRS[name].says_wrong == HIPS[1]} == {
        "floor-push-up", "wall-push-up", "worktop-push-up",
    }  # fmt: skip


def test_a_hinge_on_one_leg_has_its_pair_and_one_on_both_has_none():
    assert PAIRS["one-leg-hinge"].says_wrong == KNEES[1]
    assert "bag-hinge" not in PAIRS


@pytest.mark.parametrize("name", [name for name in PAIRS if PAIRS[name].says_right == KNEES[0]])
def test_right_has_the_knee_over_the_foot_and_not_so_has_it_inside(name):
    found = PAIRS[name]
    worst = 0.0
    for side, out in (("right", 1), ("left", -1)):
        foot = sum(found.right.at[f"{side} {part}"][2] for part in ("ankle", "toe")) / 2
        if found.right.at[f"{side} knee"] == found.wrong.at[f"{side} knee"]:
            continue
        assert abs(found.right.at[f"{side} knee"][2] - foot) < 7, side
        worst = max(worst, out * (found.right.at[f"{side} knee"][2] - found.wrong.at[f"{side} knee"][2]))
        assert found.right.at[f"{side} ankle"] == pytest.approx(found.wrong.at[f"{side} ankle"], abs=0.1)
    assert worst > 5 or DEMO[name].figure.positions[0].joints.get("knee", 0) < 30


@pytest.mark.parametrize("name", [name for name in PAIRS if PAIRS[name].says_right == HIPS[0]])
def test_hips_that_sag_are_below_the_line_from_shoulder_to_heel(name):
    def above(pose):
        (x, y, _), (u, v, _), (s, t, _) = (pose.at[joint] for joint in ("chest", "right ankle", "pelvis"))
        return t - (v + (y - v) * (s - u) / (x - u))

    assert abs(above(PAIRS[name].right)) < 3
    assert above(PAIRS[name].wrong) < -6


def test_a_pair_is_told_by_two_marks_as_well():
    drawn = stills.fault(PAIRS["chair-squat"], "Right: a. Not so: b.").text
    assert drawn.count('class="verdict"') == 2
    assert "<title>Right: a. Not so: b.</title>" in drawn
    assert len(gzip.compress(drawn.encode(), 9, mtime=0)) <= 4096


# --- thumbnails --------------------------------------------------------------------------------------------------

WIDTHS = {"l": 9, "a": 6, "h": 13, "b": 4, "t": 4, "o": 18, "w": 10, "g": 3, "k": 4, "s": 0}


def raster(svg, wide=64, fit=True):
    """The thumbnail as the page's styles draw it, in three greys, in a frame of `wide` by three quarters of it."""
    box = [int(number) for number in re.search(r'viewBox="0 0 (\d+) (\d+)"', svg).groups()]
    scale = min(wide / box[0], wide * 0.75 / box[1])
    size = (wide, round(wide * 0.75)) if fit else (round(box[0] * scale), round(box[1] * scale))
    image = Image.new("L", size, 255)
    pen = ImageDraw.Draw(image)
    left, top = ((size[0] - box[0] * scale) / 2, (size[1] - box[1] * scale) / 2)
    for kinds, data in re.findall(r'<path class="([^"]+)" d="([^"]+)"/>', svg):
        kind, _, look = kinds.partition(" ")
        ink = 255 if look or kind == "w" else 200 if kind == "s" else 0
        broad = max(1, round((WIDTHS[look or kind] if look != "b" or kind == "l" else 3) * scale))
        for stroke in re.findall(r"M[^M]+", data):
            points = absolute(stroke)
            places = [(left + x * scale, top + y * scale) for x, y in points]
            if "z" in stroke and kind in "ts":
                pen.polygon(places, fill=ink)
            pen.line(places, fill=ink, width=broad, joint="curve")
            for x, y in (places[0], places[-1]):
                pen.ellipse((x - broad / 2, y - broad / 2, x + broad / 2, y + broad / 2), fill=ink)
    return image


def absolute(stroke):
    numbers = [int(number) for number in re.findall(r"-?\d+", stroke)]
    if "h" in stroke:
        return [(numbers[0], numbers[1]), (numbers[0] + numbers[2], numbers[1])]
    points = [(numbers[0], numbers[1])]
    for x, y in zip(numbers[2::2], numbers[3::2], strict=True):
        points.append((points[-1][0] + x, points[-1][1] + y))
    return points


def different(one, other):
    """The share of what is drawn in either that is not the same in both."""
    apart = sum(ImageChops.difference(one, other).histogram()[64:])
    drawn = sum(ImageChops.darker(one, other).histogram()[:128])
    return apart / max(drawn, 1)


@pytest.mark.parametrize("name", DEMO)
def test_a_thumbnail_is_at_most_1_kb_and_has_no_style_script_or_id_of_its_own(name):
    svg = stills.thumbnail(MOVES[name])
    assert len(svg.encode()) <= stills.MOST
    assert not re.search(r"<style|<script|\sstyle=|\sid=|href", svg)
    assert 'aria-hidden="true"' in svg


def test_thumbnails_tell_any_two_exercises_apart():
    drawn = {name: raster(stills.thumbnail(move)) for name, move in MOVES.items()}
    alike = {
        (one, other): round(different(drawn[one], drawn[other]), 2)
        for one, other in combinations(drawn, 2)
        if different(drawn[one], drawn[other]) < 0.25
    }
    assert alike == {}


def test_the_same_thumbnail_twice_is_no_difference():
    one = raster(stills.thumbnail(MOVES["step-up"]))
    assert different(one, raster(stills.thumbnail(MOVES["step-up"]))) == 0


def test_the_position_that_tells_is_the_one_that_the_file_marks_else_the_last_one_shown():
    assert MOVES["jump-and-freeze"].keys[stills.telling(MOVES["jump-and-freeze"])].position.says == "jump up"
    assert stills.telling(MOVES["chair-squat"]) == 1
    assert not MOVES["step-off-landing"].keys[stills.telling(MOVES["step-off-landing"])].position.between
