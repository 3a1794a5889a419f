"""Where hands, chest and things are in figures that were once misread. Common practice, no source."""

import pytest
from phasepress.drawing.mannequin import draw
from phasepress.drawing.mannequin.draw import limbs_of
from phasepress.drawing.mannequin.motion import movement
from phasepress.drawing.mannequin.pair import pair

from tests.fixtures.demo_files import demo_exercises

DEMO = demo_exercises()


def drawn(name, position):
    """The lines of a key position in the order in which they are drawn."""
    move = movement(DEMO[name].figure)
    (limbs,) = limbs_of(move, [move.keys[position].pose])
    return [line for limb in limbs for line in limb.lines]


def test_a_towel_that_is_pulled_to_the_collarbone_lies_below_head_and_trunk():
    kinds = [line.kind for line in drawn("lying-towel-pull", 1)]
    assert kinds.index("towel") < kinds.index("trunk") < kinds.index("head")
    at = movement(DEMO["lying-towel-pull"].figure).keys[1].pose.at
    assert abs(at["right wrist"][0] - at["chest"][0]) < 4


@pytest.mark.parametrize("name", ["wall-push-up", "worktop-push-up"])
def test_the_chest_comes_to_the_wall_and_to_the_edge_with_the_elbows_before_it(name):
    move = movement(DEMO[name].figure)
    (place,) = move.places.values()
    at = move.keys[1].pose.at
    assert place - at["chest"][0] < 15
    assert place - at["right elbow"][0] > 3


@pytest.mark.parametrize("name", ["split-squat", "one-leg-hinge"])
def test_the_hand_at_a_wall_beside_the_body_is_seen_whole(name):
    for position in range(2):
        (hand,) = [line for line in drawn(name, position) if line.name == "left hand"]
        xs, ys = zip(*hand.points, strict=True)
        assert max(xs) - min(xs) > 10
        assert max(ys) - min(ys) > 8


def test_a_hand_holds_the_knee_of_a_one_leg_bridge():
    for key in movement(DEMO["one-leg-bridge"].figure).keys:
        assert key.planted["left hand"].support == "knees"
        assert key.pose.gaps.get("left hand", 0) < 0.5


def test_treads_are_drawn_over_the_foot_that_stands_on_them():
    svg = draw.strip(movement(DEMO["step-up"].figure), "x").text
    first = svg[svg.index("<g>") : svg.index("</g>")]
    ground = first[first.rindex('<path class="edge"') :]
    assert ground.count("M") == 3
    assert first.rindex('class="foot') < first.rindex('<path class="edge"')


@pytest.mark.parametrize("name", ["floor-push-up", "wall-push-up", "worktop-push-up"])
def test_hips_sag_from_hands_that_stay_and_arms_that_stay_nearly_straight(name):
    found = pair(DEMO[name])
    assert max(found.wrong.gaps.values(), default=0) <= 0.5
    assert found.wrong.bend("right", "elbow") < 30
