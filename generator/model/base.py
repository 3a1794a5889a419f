"""What all file kinds share: keys are those of the YAML, nothing unknown passes, values never change."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """A mapping in a file. A key with spaces or hyphens is the field's alias."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, hide_input_in_errors=True, arbitrary_types_allowed=True
    )


class FileModel(Model):
    """The mapping at the top of a file."""
