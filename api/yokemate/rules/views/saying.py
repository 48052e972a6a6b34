"""A refusal shown before it happens: what stands in the way of a button, in the words of the refusal itself.

`says` and `way_on` are the templates of `refusals`; `params` fills them. A parameter whose name ends in
`person` or `people` holds ids, in `_ms` a moment: the phone puts in names and local times.
"""

from __future__ import annotations

from typing import Any

from yokemate.rules.refusals import REFUSALS
from yokemate.rules.views.frame import ViewPart


class Saying(ViewPart):
    code: str
    rule: str
    says: str
    way_on: str
    params: dict[str, Any] = {}


def saying(code: str, params: dict[str, Any] | None = None) -> Saying:
    refusal = REFUSALS[code]
    return Saying(code=code, rule=refusal.rule, says=refusal.says, way_on=refusal.way_on, params=params or {})
