"""Field types that commands share. Values are kept as typed (R16); the patterns say what a number may look like."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints

Id = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_.:-]{1,80}$")]
Number = Annotated[
    str,
    StringConstraints(pattern=r"^-?\d{1,9}([.,]\d{1,6})?$|^\d{0,4} ?\d{1,2}/\d{1,2}$"),
    Field(
        description="a number as typed, with comma or point; inches also as 12 7/16", examples=["92", "92,5"]
    ),
]
Text = Annotated[
    str, StringConstraints(min_length=1, max_length=2000), Field(description="free words; kept as a payload")
]
LAST_MS = 253_402_300_799_999  # the end of the year 9999: no calendar of the machine goes further
Moment = Annotated[int, Field(ge=0, le=LAST_MS, description="milliseconds since 1970, UTC")]
PhotoId = Annotated[
    str, StringConstraints(pattern=r"^[0-9a-f]{64}$"), Field(description="SHA-256 of a photo")
]
Digest = Annotated[
    str, StringConstraints(pattern=r"^[0-9a-f]{0,64}$"), Field(description="SHA-256 as it was shown, hex")
]
Label = Annotated[
    str, StringConstraints(min_length=1, max_length=80), Field(description="what something is called")
]
Reason = Literal[
    "time", "cold", "tired", "no_part", "no_tool", "no_skill", "does_not_fit", "damaged", "waiting_for_somebody",
    "not_clear", "hurt", "other",
]  # fmt: skip


def words_moved(said: Any, field: str, to: str) -> Any:
    """What a phone with the app of before sends: free words in a field that now takes them elsewhere (R1)."""
    if not isinstance(said, dict) or field not in said or to in said:
        return said
    return {name: value for name, value in said.items() if name != field} | {to: said[field]}
