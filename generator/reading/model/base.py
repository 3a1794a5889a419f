"""What all file kinds share: keys are those of the YAML, nothing unknown passes, values never change."""

from __future__ import annotations

from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler
from pydantic_core import CoreSchema

T = TypeVar("T")


class _Written:
    """Annotation of a key that may be left out but not be left empty: null is no value of the format."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        schema = handler(source)
        return schema["schema"] if schema["type"] == "nullable" else schema


Maybe = Annotated[T | None, _Written()]
"""The type of a key that may be left out; it is None then."""


class Model(BaseModel):
    """A mapping in a file. A key with spaces or hyphens is the field's alias."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, hide_input_in_errors=True, arbitrary_types_allowed=True
    )


class FileModel(Model):
    """The mapping at the top of a file."""
