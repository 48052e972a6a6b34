"""Somebody who only reads the entries: who touched what, who holds what, what each signature was given for.

Written from the rules' text, without the rooms that decide, so that it can contradict them.
"""

from __future__ import annotations

from typing import Any

from yokemate.rules.frame import Entry, State
from yokemate.rules.rows import Group, Lift, Member, Reading, Under, Visit

GROUP, ITS_TASK, BOLTS = "G1", "T1", {1, 2, 3}
TWO_LIFT_KG = 33.3  # HSE L23, para 120: two thirds of 25 + 25; nobody gives a reason here for more (R20)
ROLL_GOOD_MS = 5 * 60_000  # R18: within the last five minutes


class Witness:
    def __init__(self) -> None:
        self.holder: dict[str, str] = {}
        self.touched: set[str] = set()  # readings on the group since it was last undone
        self.worked: set[str] = set()  # had its task, or joined it, since then
        self.checks: dict[str, Entry] = {}
        self.basis: dict[str, Any] = {}  # countersign -> the readings and the target it was given for

    def saw(self, entries: list[Entry], before: State, after: State) -> None:
        for entry in entries:
            look = getattr(self, "_" + entry.kind.replace(".", "_"), None)
            if look is not None:
                look(entry, before, after)

    # --- who has it (R6)

    def _task_taken(self, entry: Entry, before: State, after: State) -> None:
        task = entry.data["task"]
        assert task not in self.holder, f"R6: {task} was taken while {self.holder[task]} had it"
        self._has(task, entry.by)

    def _task_taken_over(self, entry: Entry, before: State, after: State) -> None:
        self._has(entry.data["task"], entry.by)

    def _task_passed_on(self, entry: Entry, before: State, after: State) -> None:
        self._has(entry.data["task"], entry.data["to"])

    def _task_joined(self, entry: Entry, before: State, after: State) -> None:
        if entry.data["task"] == ITS_TASK:
            self.worked.add(entry.by)

    def _task_handed_back(self, entry: Entry, before: State, after: State) -> None:
        self.holder.pop(entry.data["task"], None)

    def _task_undone(self, entry: Entry, before: State, after: State) -> None:
        if entry.data["state"] != "taken":
            self.holder.pop(entry.data["task"], None)
        if entry.data["task"] == ITS_TASK and entry.data["whole"]:
            self.worked = set()

    def _has(self, task: str, person: str) -> None:
        self.holder[task] = person
        if task == ITS_TASK:
            self.worked.add(person)

    # --- the group and its second person (R13, R14)

    def _torque_read(self, entry: Entry, before: State, after: State) -> None:
        for reading in entry.data["readings"]:
            self.touched |= {entry.by, *reading["helped"]}

    def _torque_corrected(self, entry: Entry, before: State, after: State) -> None:
        self.touched.add(entry.by)

    def _group_undone(self, entry: Entry, before: State, after: State) -> None:
        if entry.data["whole"]:
            self.touched, self.worked = set(), set()

    def _check_noted(self, entry: Entry, before: State, after: State) -> None:
        self.checks[entry.data["id"]] = entry

    def _countersign_signed(self, entry: Entry, before: State, after: State) -> None:
        signer = before.get(Member, entry.by)
        assert signer.may_countersign and signer.minor is None and not signer.left, "R13: may not countersign"
        assert entry.by not in self.touched | self.worked, f"R13: {entry.by} touched what they sign"
        check = self.checks[entry.data["check"]]
        assert check.by == entry.by, "R13: somebody else's check"
        assert {bolt["n"] for bolt in check.data["bolts"]} == BOLTS, "R13: not each fastener"
        assert all(bolt["found"] == "holds" for bolt in check.data["bolts"])
        methods = before.get(Group, GROUP).plan.check_methods
        assert all(bolt["how"] in methods for bolt in check.data["bolts"]), "R13: by another method"
        self.basis[entry.data["id"]] = what_counts(after)

    # --- lifting (R18)

    def _lift_lifted(self, entry: Entry, before: State, after: State) -> None:
        lift = before.get(Lift, entry.data["lift"])
        people = lift.places
        assert set(people) == {"front", "rear", "caller"} and len(set(people.values())) == 3
        assert entry.by == people["caller"], "R18: the caller says it"
        assert all(before.get(Member, person).minor is None for person in people.values()), "R18: a minor"
        for place in ("front", "rear"):
            tick = lift.roll[place]
            assert tick.person == people[place] and entry.at_ms - tick.at_ms <= ROLL_GOOD_MS
            assert people[place] in lift.ready
        assert not list(before.all(Under)), "R18: somebody is beneath"
        children = [v for v in before.all(Visit) if v.what == "child" and v.out_ms is None]
        assert lift.children_out or not children, "R18: children are in"
        assert float(lift.plan.mass_kg or "inf") <= TWO_LIFT_KG, "R20: more than two lift"

    def _lift_went_on(self, entry: Entry, before: State, after: State) -> None:
        self._lift_lifted(entry, before, after)

    def _lift_weighed(self, entry: Entry, before: State, after: State) -> None:
        lift = after.get(Lift, entry.data["lift"])
        assert not (lift.places or lift.ready or lift.roll), "R21: asked anew"
        assert float(entry.data["mass_kg"]) <= TWO_LIFT_KG or lift.state in ("drafted", "stood_down")

    def _lift_reported_by_voice(self, entry: Entry, before: State, after: State) -> None:
        was = before.get(Lift, entry.data["lift"])
        if was.state in ("held", "landed") or (was.state == "lifting" and not was.by_voice):
            assert after.get(Lift, was.id) == was, "R18, R19: a report took the load from those who hold it"

    def _lift_stopped(self, entry: Entry, before: State, after: State) -> None:
        was, now = before.get(Lift, entry.data["lift"]), after.get(Lift, entry.data["lift"])
        assert now.state == ("held" if was.state in ("lifting", "held") else now.state) != "in_place"
        assert not now.roll or was.state not in ("crewed", "in_place", "lifting", "held"), (
            "R19: the roll call"
        )


def what_counts(state: State) -> Any:
    """The readings of the last pass that stand, with their values, and the target they were judged by."""
    group = state.get(Group, GROUP)
    last = [bolt.passes.get(str(group.passes)) for bolt in group.bolts]
    readings = [state.get(Reading, id) if id is not None else None for id in last]
    values = [(r.id, r.set_value, r.value, r.counts) if r is not None else None for r in readings]
    return values, group.spec.target, group.tolerance
