"""An exercise file to begin with: every key, and a line of what belongs there; or another exercise's text."""

from __future__ import annotations

from ..reading.source import Document
from .programme import quoted
from .text import Text

_SCHEMA = "# yaml-language-server: $schema=../.schema/exercise.schema.json\n"
_TEXT = """\
name: {name}
pattern: squat        # squat lunge hinge push pull brace rotate jump land carry locomotion mobility
sides: both           # both; each: first one side, then the other; alternating: from side to side
measure: reps         # reps, hold, time or distance
tempo: 2-0-1-0        # seconds of lowering, pause low, lifting, pause high; X is as fast as control allows
# seconds per rep: 2  # instead of a tempo
# begins: lifting     # what a rep begins with; a pull begins with lifting, all else with lowering
# parts: 1            # positions that make up one rep; each takes one tempo
# contacts: 0         # landings of one rep
# landing: none       # none, low, medium or high: how hard they are
works: [thighs]       # muscles, for people
needs: []             # things, such as bag, chair, hand towel
loadable: false       # whether it may have a load
setup:                # how to get into the start position
  - Stand with your feet as wide as your hips.
cues:                 # 2 to 6 short instructions that make the movement right
  - Write what to do.
  - Write what it looks like when it is right.
faults:               # what goes wrong, and what to do then
  - "Write the fault: write how to mend it."
cautions:             # what can hurt; at least one
  - Stop if something hurts, and tell an adult.
easier:               # exercise: and an id, how: and what to change, or both
  - {{how: half as deep}}
# harder:
#   - {{how: slower}}
# instead: {{bag: {id}-without}}   # an exercise to do without that thing, or on a day without jumps
# side is: the leg in front       # what left and right mean where sides: is not both
# tempo words: {{lowering: reach, lifting: come back}}   # where lower and lift would puzzle
# figure:             # joints and positions: see programmes/README.md
# photos: [{{file: {id}-1.jpg, shows: The low position.}}]   # files in media/
# clip: https://clips.example/{id}   # a link that opens when it is tapped
"""


def new_exercise(exercise: str, name: str) -> str:
    """The text of a new exercise, which passes check and says what to write."""
    return _SCHEMA + _TEXT.format(name=quoted(name), id=exercise)


def like(document: Document, name: str) -> str:
    """The text of another exercise under a name of its own. Raises UncopyableError."""
    text = Text(document)
    text.write("name", quoted(name), after="name")
    return str(text)
