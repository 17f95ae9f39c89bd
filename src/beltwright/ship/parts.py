"""What every part of the description is made of: the strict base model, and the types of words, places and heights."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Word = Annotated[str, StringConstraints(min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]*$")]
Reason = Annotated[str, StringConstraints(min_length=10, max_length=500, pattern=r"^[^\x00-\x1f\x7f]*$")]
FileName = Annotated[str, StringConstraints(min_length=1, max_length=120, pattern=r"^[A-Za-z0-9][A-Za-z0-9._ -]*$")]
Height = Annotated[float, Field(ge=-5.0, le=60.0)]
Position = Annotated[float, Field(ge=-60.0, le=500.0)]
Frame = Annotated[float, Field(ge=-200.0, le=2000.0)]


class Part(BaseModel):
    """A part of the description: unknown keys, NaN and silent conversions are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, strict=True)


class Where(Part):
    """A part of the shell, by any of hull area, zone, frames and levels; what is not given is not limited."""

    hull_area: Word | None = Field(default=None, description="hull area code")
    zone: Word | None = Field(default=None, description="framing zone")
    from_frame: Frame | None = Field(default=None, description="aft end")
    to_frame: Frame | None = Field(default=None, description="forward end")
    from_level: Word | None = Field(default=None, description="lower level; the keel where not given")
    to_level: Word | None = Field(default=None, description="upper level")
