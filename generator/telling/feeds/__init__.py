"""What programs read: a calendar, a feed of changes, the plan as open data, a sitemap.

Dates come from the programme files alone, so that every build of the same files gives the same bytes.
"""

from .calendar import Training, calendar, trainings
from .changes import changes
from .plan import plan_json
from .plan_schema import PLAN_SCHEMA
from .sitemap import sitemap

__all__ = ["PLAN_SCHEMA", "Training", "calendar", "changes", "plan_json", "sitemap", "trainings"]
