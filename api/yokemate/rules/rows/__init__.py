"""The kinds of row a build's state is made of, one file per subject.

`ROWS` is the closed list. Phones mirror these rows; `routes` and `store` filter what each person may see (R31).
"""

from yokemate.rules.frame import Row
from yokemate.rules.rows.crew import Build, Invite, Member, Visit
from yokemate.rules.rows.days import DaysPlan
from yokemate.rules.rows.gates import Gate, LooseEnd, Proposal
from yokemate.rules.rows.hazards import Tag, Under
from yokemate.rules.rows.lifts import Lift
from yokemate.rules.rows.notes import Deviation, Evidence, Note, Snag, Withdrawal
from yokemate.rules.rows.stores import Part, Tool, TorqueWrench
from yokemate.rules.rows.tasks import Task
from yokemate.rules.rows.torque import Check, Countersign, Group, Reading

__all__ = [
    "ROWS",
    "Build",
    "Check",
    "Countersign",
    "DaysPlan",
    "Deviation",
    "Evidence",
    "Gate",
    "Group",
    "Invite",
    "Lift",
    "LooseEnd",
    "Member",
    "Note",
    "Part",
    "Proposal",
    "Reading",
    "Snag",
    "Tag",
    "Task",
    "Tool",
    "TorqueWrench",
    "Under",
    "Visit",
    "Withdrawal",
]

ROWS: dict[str, type[Row]] = {
    row.KIND: row
    for row in (
        Build, Member, Invite, Visit, Task, Group, Reading, Check, Countersign, TorqueWrench, Tool, Part,
        Lift, LooseEnd, Gate, Proposal, Under, Tag, Deviation, Snag, Note, Withdrawal, Evidence, DaysPlan,
    )
}  # fmt: skip
