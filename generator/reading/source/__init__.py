"""File to plain data: the strict YAML dialect, with a line and a column for every value.

YAML 1.2 core types (https://yaml.org/spec/1.2.2/, section 10.3.2), so `on`, `no` and `1:30` are strings.
"""

from .document import MOST_BYTES, Document, read

__all__ = ["MOST_BYTES", "Document", "read"]
