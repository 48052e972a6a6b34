"""What is doubtful in the figures of a plan that reads well and holds together: shown when it is loaded, stops nobody.

`planfile` looks at a plan's shape and order and knows no engineering; here its figures are held against `calc`, one
file per subject. A doubt says where, why with figures, what to do, and what judged it.
"""

from __future__ import annotations

from collections.abc import Mapping

from yokemate.planfile.findings import Finding
from yokemate.planfile.model import Plan
from yokemate.planfile.options import plan_for
from yokemate.planfile.told import Told
from yokemate.rules.doubts.belts import belt_doubts
from yokemate.rules.doubts.cuts import cut_doubts
from yokemate.rules.doubts.hoses import hose_doubts
from yokemate.rules.doubts.lifts import lift_doubts
from yokemate.rules.doubts.measures import measure_doubts
from yokemate.rules.doubts.torque import torque_doubts
from yokemate.rules.doubts.wires import wire_doubts


def doubts(plan: Plan, chosen: Mapping[str, str]) -> list[Finding]:
    """Every doubtful figure of `plan`. What another choice of options leaves out is looked at all the same, but for
    who makes a lift: that is read off the tasks which stay.
    """
    told = Told(plan)
    torque_doubts(plan, told)
    lift_doubts(plan, plan_for(plan, chosen), told)
    cut_doubts(plan, told)
    hose_doubts(plan, told)
    wire_doubts(plan, told)
    belt_doubts(plan, told)
    measure_doubts(plan, told)
    return told.findings
