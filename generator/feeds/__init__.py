"""What programs read: a calendar, a feed of changes, the plan as open data, a sitemap.

Dates come from the programme files alone, so that every build of the same files gives the same bytes.
"""

from generator.feeds.calendar import Training, calendar, trainings
from generator.feeds.changes import changes
from generator.feeds.plan import plan_json
from generator.feeds.plan_schema import PLAN_SCHEMA
from generator.feeds.sitemap import sitemap

__all__ = ["PLAN_SCHEMA", "Training", "calendar", "changes", "plan_json", "sitemap", "trainings"]
