"""When a torque wrench's word counts (R11): not out of use, not dropped since, checked within its interval of time and
of uses, in range.

Judged for the moment of the reading, not for now: a row keeps every check and every drop with its time.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.torque_wrench import CYCLES_LIMIT, usable_range
from yokemate.planfile.model import TorqueUnit, TorqueWrenchPlan
from yokemate.rules.rows.stores import TorqueWrench, WrenchCheck
from yokemate.rules.rows.torque import Reading
from yokemate.rules.tightening import taken_ms
from yokemate.units import convert_exact

DAY_MS = 86_400_000


@dataclass(frozen=True)
class Unfit:
    """Why a torque wrench's reading does not count: a code and what the sentence needs."""

    code: str
    params: dict[str, str | int] = field(default_factory=dict)


def checked_until_ms(checked_on: str, months: int) -> int:
    """The end (UTC) of the day `months` calendar months after an ISO date; a day the month lacks is its last.

    The day itself still counts. 2026-01-31 and 1 month: the end of 2026-02-28.
    """
    day = date.fromisoformat(checked_on)
    years, month = divmod(day.month - 1 + months, 12)
    first = date(day.year + years, month + 1, 1)
    following = date(first.year + first.month // 12, first.month % 12 + 1, 1)
    last = (following - timedelta(days=1)).day
    due = first.replace(day=min(day.day, last))
    return _midnight_ms(due) + DAY_MS


def certificate_of_plan(plan: TorqueWrenchPlan, by: str) -> WrenchCheck | None:
    """The certificate that a plan file or an entry form names by its day, or None."""
    if plan.checked_on is None:
        return None
    return WrenchCheck(
        kind="certificate",
        at_ms=_midnight_ms(date.fromisoformat(plan.checked_on)),
        until_ms=checked_until_ms(plan.checked_on, plan.check_months),
        good=True,
        by=by,
    )


def last_check(wrench: TorqueWrench, at_ms: int) -> WrenchCheck | None:
    """The latest check made by that moment, good or bad."""
    made = [check for check in wrench.checks if check.at_ms <= at_ms]
    return max(made, key=lambda check: check.at_ms) if made else None


def last_good_check_ms(wrench: TorqueWrench, at_ms: int) -> int:
    """When it last passed a check by that moment; 0 if never."""
    return max((check.at_ms for check in wrench.checks if check.good and check.at_ms <= at_ms), default=0)


def unfit_at(wrench: TorqueWrench, at_ms: int, readings: Iterable[Reading]) -> list[Unfit]:
    """What was wrong with the torque wrench itself at that moment. `readings`: those that may have been uses of it by
    then; the one that is judged is none of them.
    """
    found: list[Unfit] = []
    if wrench.retired_ms is not None and wrench.retired_ms <= at_ms:
        found.append(Unfit("wrench_retired"))
    dropped = max((ms for ms in wrench.drops if ms <= at_ms), default=None)
    if dropped is not None and last_good_check_ms(wrench, at_ms) <= dropped:
        found.append(Unfit("wrench_dropped", {"since_ms": dropped}))
    check = last_check(wrench, at_ms)
    if check is None:
        found.append(Unfit("wrench_unchecked"))
    elif not check.good:
        found.append(Unfit("wrench_failed_check", {"since_ms": check.at_ms}))
    elif check.until_ms <= at_ms:
        days = (at_ms - check.until_ms) // DAY_MS + 1
        found.append(Unfit("wrench_overdue", {"until_ms": check.until_ms, "days": days}))
    if check is not None and (uses := uses_since_check(wrench, readings, at_ms)) >= CYCLES_LIMIT:
        found.append(Unfit("wrench_worn", {"uses": uses, "allowed": CYCLES_LIMIT}))
    return found


def uses_since_check(wrench: TorqueWrench, readings: Iterable[Reading], at_ms: int) -> int:
    """How often it was used from its last good check to that moment: by its readings, also those that do not count.

    A correction is no use of its own. What it did in other hands nobody typed in, so it is the least it was used.
    """
    since = last_good_check_ms(wrench, at_ms)
    return sum(
        r.wrench == wrench.id and r.replaces is None and since <= taken_ms(r) <= at_ms for r in readings
    )


def claimed_from(plan: TorqueWrenchPlan) -> Fraction | None:
    """Below which setting the 2003 edition of ISO 6789 claims no accuracy; None where its lowest mark is higher.

    A range is judged by its marks (`out_of_range`), as the 2017 edition has it: down there a reading counts, and is
    warned of. None as well for a scale that no formula covers.
    """
    lowest = Fraction(plan.lowest)
    try:
        claimed = usable_range(Fraction(plan.highest), lowest, "2003").low
    except CalcError:
        return None
    return claimed if claimed > lowest else None


def out_of_range(wrench: TorqueWrench, value: Fraction, unit: TorqueUnit) -> list[Unfit]:
    """Whether a set value or a reading lies outside the marks of the scale: its range by ISO 6789-1:2017."""
    plan = wrench.plan
    own = convert_exact(value, unit, plan.unit)
    if Fraction(plan.lowest) <= own <= Fraction(plan.highest):
        return []
    code = "below_range" if own < Fraction(plan.lowest) else "above_range"
    return [Unfit(code, {"lowest": plan.lowest, "highest": plan.highest, "unit": plan.unit})]


def day_of(ms: int) -> str:
    """The ISO day (UTC) of a moment."""
    return datetime.fromtimestamp(ms // 1000, tz=UTC).date().isoformat()


def _midnight_ms(day: date) -> int:
    return int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()) * 1000
