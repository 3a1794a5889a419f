"""What a session takes at most without the timer. Pure.

At most every changeover is doubled and every rest a quarter longer: an assumption, no source. A block that
ends by the clock (every minute, time cap) takes no longer.
"""

from __future__ import annotations

from decimal import Decimal

from ..reading.amounts import Number
from ..reading.amounts.numbers import number
from .resolve import PlannedBlock, PlannedSession

CHANGEOVERS_LONGER = 1
"""So many times its length is added to a changeover."""
RESTS_LONGER = Decimal("0.25")
"""So many times its length is added to a rest."""


def seconds_more(session: PlannedSession) -> Number:
    """Seconds that come on top of those of the running order; whole ones are an int."""
    own = [_in(block) for block in session.blocks]
    rests = sum([rest for rest, _ in own]) + sum([block.rest_after for block in session.blocks[:-1]])
    changeovers = sum([changeover for _, changeover in own])
    return number(rests * RESTS_LONGER + changeovers * CHANGEOVERS_LONGER)


def _in(block: PlannedBlock) -> tuple[Number, Number]:
    """Seconds of rest and of changeovers within a block that may take longer."""
    between_stations = (len(block.stations) - 1) * block.changeover
    if block.kind == "circuit":
        return (block.times - 1) * block.rest, block.times * between_stations
    if block.kind == "straight sets":
        return sum([(station.sets - 1) * station.rest for station in block.stations]), between_stations
    return 0, 0
