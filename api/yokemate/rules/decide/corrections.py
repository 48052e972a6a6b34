"""Typed wrong is not turned again (R17): a correction crosses out and replaces, visibly, and lapses what
rested on it.
"""

from __future__ import annotations

from yokemate.rules.commands.torque import CorrectReading
from yokemate.rules.decide.group_changes import as_json, lapse, settle_group, state_of, touch
from yokemate.rules.decide.ready_made import propose_unfit_wrench
from yokemate.rules.decide.torque import bolt_after, with_verdict
from yokemate.rules.frame import Deciding, State, decides
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Group, Reading, TorqueWrench
from yokemate.rules.rows.torque import Bolt
from yokemate.rules.tightening import is_final, taken_ms


@decides(CorrectReading)
def correct_reading(d: Deciding, cmd: CorrectReading) -> None:
    """The new one is judged as if it had been typed right at the time of the old one."""
    old = d.get(Reading, cmd.reading)
    if old.crossed_out_by is not None:
        raise Refused(
            "bad_input",
            field="reading",
            problem="it is crossed out already.",
            remedy="Correct the one that stands.",
        )
    group = d.get(Group, old.group)
    wrench = d.get(TorqueWrench, old.wrench) if old.wrench is not None else None
    _of_its_kind(cmd, old)
    bolt = next(b for b in group.bolts if b.n == old.bolt)
    in_force = bolt.passes.get(str(old.pass_no)) == old.id
    reading, verdict = with_verdict(
        d,
        group,
        wrench,
        old.model_copy(
            update={
                "id": d.new_id(f"b{old.bolt}"),
                "value": cmd.value,
                "set_value": cmd.set_value or old.set_value,
                "unit": cmd.unit or old.unit,
                "angle_deg": cmd.angle_deg or old.angle_deg,
                "replaces": old.id,
                "counts": True,
                "why_not": None,
                "why_params": {},
            }
        ),
        clicks=2 if old.why_not == "one_by_one" else 1,
        instead_of=old,
    )
    overtaken = not in_force and _read_again(d, old)
    if verdict.counts and overtaken:
        reading = reading.model_copy(update={"counts": False, "why_not": "superseded"})
    was_final = group.state == "final"
    emptied = _without(group, bolt, old)
    after = None if overtaken else bolt_after(emptied, reading, verdict, group)
    changed = [] if overtaken else [b for b in [after or emptied] if b != bolt]
    d.tell(
        "torque.corrected",
        group=group.id,
        old=old.id,
        reading=reading.model_dump(mode="json"),
        bolts=as_json(changed),
        touched=touch(d, group, []),
        state=group.state if not changed or (was_final and changed[0].final) else state_of(group, changed),
    )
    lapse(d, group.id, "corrected")
    if verdict.deviation is not None and wrench is not None and reading.counts:
        propose_unfit_wrench(d, group.id, reading.task, wrench, verdict.deviation)
    settle_group(d, group.id, was_final)


def _of_its_kind(cmd: CorrectReading, old: Reading) -> None:
    """A turn is corrected by an angle, and by nothing that a torque wrench shows."""
    if old.wrench is not None:
        return
    if cmd.value is not None or cmd.set_value is not None or cmd.unit is not None or cmd.angle_deg is None:
        raise Refused(
            "bad_input",
            field="angle_deg",
            problem="this pass turned the fastener; it has no torque.",
            remedy="Say only by how many degrees it was turned.",
        )


def _without(group: Group, bolt: Bolt, old: Reading) -> Bolt:
    """The fastener as if the old reading had not been taken."""
    if bolt.passes.get(str(old.pass_no)) == old.id:
        kept = {k: v for k, v in bolt.passes.items() if k != str(old.pass_no)}
        return bolt.model_copy(update={"passes": kept, "final": is_final(group, kept)})
    was_the_outside_one = bolt.outside and (old.why_not or "").startswith("outside")
    return bolt.model_copy(update={"outside": False}) if was_the_outside_one else bolt


def _read_again(state: State, old: Reading) -> bool:
    """Whether this fastener was read again in this pass after that reading."""
    return any(
        r.group == old.group
        and r.round == old.round
        and r.bolt == old.bolt
        and r.pass_no == old.pass_no
        and r.id != old.id
        and r.crossed_out_by is None
        and (taken_ms(r), r.at_ms) > (taken_ms(old), old.at_ms)
        for r in state.all(Reading)
    )
