"""Words of training that a 13-year-old may not know, each in a sentence, for a tap in the guided session.

Ours, in plain English; for a club that writes in another language there are none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

TERMS = {
    "arch": "The arch is the hollow on the inner side of your foot.",
    "ball of the foot": "The ball of the foot is the padded part just behind your toes.",
    "blades": "The shoulder blades are the two flat bones at the back of your shoulders.",
    "brace": (
        "To brace is to tighten your belly all round, as if someone was about to poke it, and to breathe on."
    ),
    "calf": "The calf is the back of your lower leg.",
    "forearm": "The forearm is your arm from elbow to hand.",
    "glute": "The glutes are the muscles you sit on.",
    "hinge": (
        "To hinge is to bend at the hips with a long back: your bottom goes back, your knees bend a little."
    ),
    "hip-width": "Hip-width: your feet are right under your hips, a hand's length apart.",
    "landing": "A landing is your feet coming down: soft, quiet, knees over toes.",
    "lunge": "A lunge is a long step in which both knees bend.",
    "plank": "A plank is a straight line from head to heels that you hold still.",
    "rep": "A rep is the movement once through, there and back.",
    "shin": "The shin is the front of your lower leg.",
    "squat": "To squat is to sit down and stand up again, with knees over toes.",
    "thigh": "The thigh is your leg from hip to knee.",
    "tuck": "To tuck your hips is to pull your tail bone under, so that your lower back gets flat.",
}
"""Word → its sentence. It is found with an ending too: glutes, squats, braced."""
_ENDING = "(?:s|es|d|ed)?"
_LANGUAGE = "en"


def found_in(texts: Iterable[str], language: str) -> dict[str, str]:
    """The terms that stand in some texts of a club that writes in a language."""
    if language.split("-")[0] != _LANGUAGE:
        return {}
    whole = "\n".join(texts)
    return {
        word: says
        for word, says in TERMS.items()
        if re.search(rf"\b{re.escape(word)}{_ENDING}\b", whole, re.IGNORECASE)
    }
