"""The computed figures and what a merge changes: documented JSON, text for people, Markdown for a forge."""

from generator.report.merge_json import merge_json
from generator.report.merge_markdown import merge_markdown
from generator.report.merge_text import merge_text
from generator.report.sessions import columns, order, order_text, plain, report, report_text

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
