"""The computed totals and what a merge changes: documented JSON, text for people, Markdown for a forge."""

from .merge_json import merge_json
from .merge_markdown import merge_markdown
from .merge_text import merge_text
from .sessions import columns, order, order_text, plain, report, report_text

__all__ = [
    "columns",
    "merge_json",
    "merge_markdown",
    "merge_text",
    "order",
    "order_text",
    "plain",
    "report",
    "report_text",
]
