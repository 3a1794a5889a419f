"""Young people train from these pages alone: what has to stand on them stands there, and nothing else does.

That every session stops at pain, without a number for it, is a decision of this project; no source.
"""

import re
from pathlib import Path

import pytest
from phasepress.publishing.pages import PAGES

from . import trees
from .pages import PRESCRIBING

ROOT = Path(__file__).resolve().parents[2]
# Said in these words, or in words that mean the same: each is one thought that must not get lost.
DUTIES = {
    "stop rule": r"\bStop if something hurts\b",
    "an adult": r"\b[Tt]ell an adult\b",
    "whom to ask": r"\b[Aa]sk your coach, physiotherapist or doctor\b",
    "safeguarding": r"\brules of your club for safeguarding\b",
    "governing body": r"\bsport's governing body come before this page\b",
}
GROWTH = r"\bsore from jumping\b.*\bwhile you grow\b.*\b[Ll]eave the jumps out, tell an adult\b"
# A scale of pain, in either order: "pain 3 of 10", "4/10 pain", "pain below 5".
PAIN_SCORE = (
    r"\b(pain|hurts?|sore(ness)?|ache)\b[^.;]{0,40}?"
    r"(\b\d{1,2}\s*(/|of|out of|on)\s*(a )?(ten|10)\b|\b(below|under|over|above|less than|more than|up to|scale)\s+\w*\s*\d)"
    r"|\b\d{1,2}\s*(/|of|out of)\s*(ten|10)\b[^.;]{0,25}\b(pain|hurts?|sore(ness)?|ache)\b"
)
BODY_TALK = (
    r"\b(calori\w*|kcal|kilojoules?|diet\w*|fat|fatty|overweight|underweight|skinny|slim\w*|toned?|toning|six-?packs?"
    r"|bmi|body[ -]?mass|physiques?|beach|lean body|good-looking|your figure|lose weight|weight loss|burn(?!out)\w*)\b"
    # A share of body weight that an exercise carries is mechanics, when it is called an estimate.
    r"|(?<!% of )\bbody[ -]?weight\b|\bbody weight\b(?! \(estimate(, adult data)?\))"
)


ADVISE_NOBODY = {"log", "exercises", "archive", "numbers"}
"""Kinds of pages that tell no athlete what to do: what was trained, an index, a list, and what is for the coach."""


def test_every_other_kind_of_page_has_to_say_when_to_stop():
    assert {kind.name for kind in PAGES} - set(PRESCRIBING) == ADVISE_NOBODY


def missing_duties(page):
    return sorted(name for name, form in DUTIES.items() if not re.search(form, page.words))


@pytest.mark.parametrize("kind", PRESCRIBING)
def test_every_page_that_prescribes_says_when_to_stop_and_whom_to_ask(demo, kind):
    assert {page.address: missing_duties(page) for page in demo.of_kind(kind) if missing_duties(page)} == {}


def test_the_stop_rule_is_in_sight_and_not_behind_a_tap(demo):
    for page in demo.of_kind(*PRESCRIBING):
        rule = page.all("section", "stop")
        folded = {inner for one in (*page.all("details"), *page.all(mark="[hidden]")) for inner in one.iter()}
        assert rule, page.address
        assert rule[0] not in folded, page.address


def test_the_stop_rule_stands_before_the_first_station(demo):
    for page in demo.of_kind("day", "session"):
        names = list(page.root.iter())
        rule, first = page.one("section", "stop"), page.all(mark="block")[0]
        assert names.index(rule) < names.index(first), page.address


def test_where_anything_lands_the_growth_caution_is_printed(demo, demo_report):
    cautioned = {
        page.address for page in demo.of_kind("version", "day", "session") if re.search(GROWTH, page.words)
    }
    for version in demo_report:
        for session in version["sessions"]:
            if session["contacts"]["all"]:
                top = f"{version['programme']}/{version['version']}/"
                own = f"{top}{session['day']}/{session['level']}/week-{session['week']}/"
                assert {top, f"{top}{session['day']}/", own} & demo.read.keys() <= cautioned


def jumping():
    tree = trees.small()
    tree["exercises/hop.yaml"] = trees.exercise("Hop", pattern="jump", contacts=1, landing="low")
    hops = trees.day("hops", trees.circuit({"exercise": "hop", "reps": 5}))
    tree["plan/1.0.yaml"]["days"].append(hops | {"on": ["thu"]})
    return tree


def test_where_nothing_lands_there_is_no_growth_caution(build, tmp_path):
    site = build(trees.write(jumping(), tmp_path / "tree"), tmp_path / "site")
    cautioned = {
        page.address for page in site.of_kind("version", "day", "session") if re.search(GROWTH, page.words)
    }
    assert "plan/1.0/hops/" in cautioned
    assert "plan/1.0/hops/used/week-2/" in cautioned
    assert "plan/1.0/" in cautioned
    assert not any("/legs/" in address for address in cautioned)


def test_the_page_of_a_programme_with_jumps_prints_the_growth_caution(build, tmp_path):
    site = build(trees.write(jumping(), tmp_path / "tree"), tmp_path / "site")
    assert re.search(GROWTH, site["plan/"].words)


def test_a_club_that_writes_no_cautions_still_has_them(build, tmp_path):
    tree = trees.small()
    assert "cautions" not in tree["club.yaml"]
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    assert [page.address for page in site.of_kind(*PRESCRIBING) if missing_duties(page)] == []


def test_the_clubs_own_cautions_come_beside_ours(build, tmp_path):
    tree = trees.small()
    tree["club.yaml"]["cautions"] = ["Shoes off the carpet."]
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    for page in site.of_kind("home", "programme", "version", "day", "session"):
        assert "Shoes off the carpet." in page.words, page.address
        assert missing_duties(page) == [], page.address


def test_the_cautions_of_an_exercise_stand_wherever_it_is_taught(demo):
    for page in demo.of_kind("day"):
        stations = page.all("ol", "stations")
        items = [item for station in stations for item in station]
        assert items
        assert all(page.all("p", "careful", within=item) for item in items), page.address


def said_anywhere(demo):
    """(where, text) of every page, template and file of words."""
    for page in demo.read.values():
        yield page.address, page.words
    files = [
        *(ROOT / "theme_overrides").rglob("*.html"),
        *(ROOT / "theme_overrides").rglob("*.js"),
        *(ROOT / "programmes").rglob("*.yaml"),
        *(ROOT / "generator" / "views").rglob("*.py"),
    ]
    for path in files:
        yield path.relative_to(ROOT).as_posix(), " ".join(path.read_text(encoding="utf-8").split())


@pytest.mark.parametrize("talk", [PAIN_SCORE, BODY_TALK], ids=["pain score", "body talk"])
def test_no_page_template_or_file_scores_pain_or_talks_of_bodies(demo, talk):
    found = {where: match[0] for where, text in said_anywhere(demo) if (match := re.search(talk, text, re.I))}
    assert found == {}


@pytest.mark.parametrize(
    "text",
    ["Pain up to 3 of 10 is fine.", "stop at 4/10 pain", "if it hurts more than 5, rest", "soreness below 3"],
)
def test_a_pain_score_is_recognised(text):
    assert re.search(PAIN_SCORE, text, re.I)


@pytest.mark.parametrize(
    "text",
    [
        "burns calories",
        "lose fat",
        "use your body weight",
        "bodyweight squat",
        "40 % of body weight",
        "your BMI",
    ],
)
def test_body_talk_is_recognised(text):
    assert re.search(BODY_TALK, text, re.I)


@pytest.mark.parametrize(
    "text",
    [
        "Pain is not fine. 3 of 10 reps.",
        "Effort 0–10",
        "Stop if something hurts. 10 reps",
        "about 40 % of body weight (estimate)",
        "Add a little weight",
    ],
)
def test_plain_words_are_let_pass(text):
    assert not re.search(f"{PAIN_SCORE}|{BODY_TALK}", text, re.I)
