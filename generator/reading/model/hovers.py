"""What an editor shows over a key: what it is, its unit, what holds where it is left out, and an example."""

from __future__ import annotations

from typing import Any

Node = dict[str, Any]
_WEEKLY = "One for all, [a list] by week, or {level: a value or list}."
HOVERS = {
    # The club
    "club": "The club's name, on every page. Required. Example: Fennmouth Juniors",
    "sport": "The sport, in words. Left out: not said. Example: handball",
    "contact": "A role's address, never a child's. Left out: none is printed. Example: strength@club.example",
    "language": "The language of the club's own texts. Left out: en. Example: de-CH",
    "look": 'Colour and crest of the pages. Left out: the usual look. Example: {colour: "#0b5e55"}',
    "colour": 'Six hexadecimal digits in quotes, dark enough to read. Example: "#0b5e55"',
    "crest": "A PNG or JPEG file in media/. Left out: no crest. Example: crest.png",
    "signed": "Who answers for the plans; a role. Left out: not said. Example: Head of strength",
    "if hurt": "What to do when something hurts. Left out: the usual words. Example: Call the club doctor.",
    "cautions": "What can hurt, a line each. Required of an exercise. Example: [Stop if your knees hurt.]",
    "kit": "Things of the house. Left out: none. Example: [{item: bottle, holds: 1 l}]",
    "item": "The name of a thing. Required. Example: large bottle",
    "holds": "Litres of water, 1 kg each. Left out: no vessel. Example: 2 l",
    "mass": "Kilograms. Left out: not a load. Example: 2.5 kg",
    "carries": "Whether loads are carried in it; then it counts once. Left out: false. Example: true",
    # The programme
    "title": "The name on pages. Required. Example: Legs and pull",
    "summary": "One or two sentences. Left out: none. Example: Two short sessions a week.",
    "audience": "Whom it is for. Left out: not said. Example: {ages: [13, 16]}",
    "ages": "Youngest and oldest, in years. Required. Example: [13, 16]",
    "levels": "The groups; of a version, a part of them, left out: all. Example: [starter, steady]",
    "id": "Lower-case words joined by hyphens; part of an address. Required. Example: legs-and-pull",
    "name": "The name on pages. Required. Example: Wall sit",
    "experience": "beginner, intermediate or advanced. Required. Example: beginner",
    "who": "For whom the level is. Left out: not said. Example: Your first season.",
    "limits": "What the plans are held to. Left out: not judged. Example: {session: 45 min}",
    "session": "The longest session, in minutes. Left out: not judged. Example: 45 min",
    "sessions per week": "The most sessions of a week. Left out: not judged. Example: 3",
    "week step": "The most that a week's work may grow, in %. Left out: not judged. Example: 25 %",
    "accept": "What you have weighed. Left out: nothing. Example: [{check: kit, because: We bring sand.}]",
    "check": "The id of a warning or note. Required. Example: load-step",
    "at": "The day it is about; of a figure's position, high or low. Left out: all. Example: legs-and-pull",
    "because": "The reason, which the report shows. Required. Example: The bottle is the smallest.",
    "shows": "What is seen, in words, for who does not see it. Required. Example: The back knee up.",
    "lowering": "The word for going down. Left out: lower. Example: reach",
    "lifting": "The word for coming up. Left out: lift. Example: come back",
    # A version
    "phase": "The name of the phase. Required. Example: Groundwork",
    "aim": "What the phase is for. Required. Example: Own the positions.",
    "starts": "The Monday of week 1. Required. Example: 2027-01-11",
    "weeks": "How many weeks. Required. Example: 4",
    "match days": "Weekdays with matches. Left out: none. Example: [sat]",
    "changes": "What this edition changes. Required from edition 1 on. Example: The holds are shorter.",
    "days": "The sessions of a week. Required. Example: a line with - id: legs-and-pull",
    "on": "Weekdays, one entry a session. Required. Example: [mon, thu], or [tue or wed] for a choice",
    "warm-up": "The id of a routine. Required. Example: home-warm-up",
    "cool-down": "The id of a routine. Left out: none. Example: easy-down",
    "effort": f"How hard it is meant to feel, 0 to 10. {_WEEKLY} Left out: not said. Example: 6",
    "say": f"A line of yours for the athlete. {_WEEKLY} Left out: none. Example: Film one set for me.",
    "blocks": "Parts of a day, A, B, C. Required. Example: a line with - kind: circuit",
    "kind": "circuit, straight sets, every minute, timed rounds; a routine: warm-up or cool-down. Required.",
    "rounds": f"Passes through all stations. {_WEEKLY} Required. Example: 3",
    "minutes": f"Minutes of an every-minute block. {_WEEKLY} Required. Example: 6",
    "lasts": f"How long the rounds are repeated. {_WEEKLY} Required. Example: 8 min",
    "rest": f"Seconds between rounds, or between sets. {_WEEKLY} Left out: 60 s. Example: 75 s",
    "changeover": f"From station to station. {_WEEKLY} Left out: 15 s; straight sets 30 s. Example: 20 s",
    "rest after": f"Before the next block. {_WEEKLY} Left out: 60 s. Example: 2 min",
    "stations": "Exercises with their doses, A1, A2. Required. Example: [{exercise: push-up, reps: 8}]",
    "exercise": f"The id of an exercise. {_WEEKLY} Required. Example: wall-sit",
    "sets": f"Bouts of one exercise. {_WEEKLY} Required in straight sets. Example: 3",
    "reps": f"Reps, for each side if one-sided; or a range. {_WEEKLY} Example: 8, or 8-10",
    "hold": f"How long a position is kept. {_WEEKLY} Example: 30 s",
    "work": f"A time for as many good reps as fit. {_WEEKLY} Example: 30 s",
    "distance": f"Metres; takes: says how long. {_WEEKLY} Example: 10 m",
    "takes": f"How long the distance takes. {_WEEKLY} Required with it. Example: 12 s",
    "load": f"Kilograms. {_WEEKLY} Left out: none. Example: 2.5 kg",
    "setting": f"How hard it is set, in words. {_WEEKLY} Left out: none. Example: hands at the rail",
    "tempo": "Seconds of lowering-pause low-lifting-pause high; X is fast. Left out: the exercise's. "
    "Example: 3-0-1-0",
    # An exercise
    "pattern": "The movement: squat, lunge, hinge, push and so on. Required. Example: hinge",
    "works": "Muscles, for people. Left out: none. Example: [thighs, glutes]",
    "sides": "both, each (first left, then right) or alternating. Required. Example: each",
    "measure": "reps, hold, time or distance. Required. Example: reps",
    "seconds per rep": "Seconds of one rep, instead of a tempo. Example: 2",
    "parts": "Positions of one rep, each of which takes one tempo. Left out: 1. Example: 3",
    "begins": "What a rep begins with. Left out: lifting for a pull, else lowering. Example: lifting",
    "contacts": "Landings of one rep. Left out: 0. Example: 1",
    "landing": "none, low, medium or high. Left out: none. Example: low",
    "needs": "Things, in plain words. Left out: none. Example: [bag, hand towel]",
    "loadable": "Whether it may have a load. Left out: false. Example: true",
    "setup": "How to get into the start position, a line each. Required. Example: [Stand tall.]",
    "cues": "2 to 6 short instructions. Required. Example: [Push your hips back., Long back.]",
    "faults": 'What goes wrong, and what to do. Left out: none. Example: ["Heel lifts: shorten the step."]',
    "easier": "Ways to do less. Left out: none. Example: [{how: half as deep}]",
    "harder": "Ways to do more. Left out: none. Example: [{exercise: push-up}]",
    "instead": "Without a thing, this exercise. Left out: none. Example: {bag: hip-hinge}",
    "how": "What to change. Left out: nothing. Example: hold a chair back",
    "side is": "What left means, where sides is not both. Left out: not said. Example: the leg in front",
    "tempo words": "Other words for the counts. Left out: lower and lift. Example: {lowering: reach}",
    "photos": "Pictures of your own, in media/. Left out: none. Example: [{file: a.jpg, shows: The start.}]",
    "clip": "A link that opens on a tap. Left out: none. Example: https://club.example/clip",
    "figure": "Joints and positions. Left out: no drawing. Example: see programmes/README.md",
}


def with_hovers(schema: Node) -> Node:
    """The schema with a text over every key that has one; what a key says itself stays."""
    for node in (schema, *schema.get("$defs", {}).values()):
        for key, value in node.get("properties", {}).items():
            if key in HOVERS:
                value["description"] = HOVERS[key]
    return schema
