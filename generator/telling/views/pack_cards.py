"""The exercise cards of a pack."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...computing.facts import ComputedSession, exercises_of
from .base import Site
from .exercises import ExercisePage, ExerciseViews


def cards(site: Site, facts: Iterable[ComputedSession]) -> list[ExercisePage]:
    """The exercises of the sessions, by name."""
    used = exercises_of(one for one in facts if one.plan.is_trained)
    views = ExerciseViews(site)
    pages = (replace(views.page(name), pair=site.figures.pair(name, paper=True)) for name in used)
    return sorted(pages, key=lambda page: (page.name.lower(), page.id))
