"""Gates: opened by two people with every condition true, shut again by whatever makes one false (R25)."""

from __future__ import annotations

from yokemate.rules.commands.gates import ProposeOpen, SayEngine
from yokemate.rules.decide.proposals import need_adult, propose, seconds, still
from yokemate.rules.frame import Deciding, State, decides, settles
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Gate, Member, Proposal
from yokemate.rules.standing import ENGINE_GATES, engine_may_run, gates_in_order, standing, wants_to_open

OPENING_MS = 600_000  # the second of two has ten minutes


@decides(ProposeOpen)
def propose_open(d: Deciding, cmd: ProposeOpen) -> None:
    gate = d.get(Gate, cmd.gate)
    need_adult(d.get(Member, d.who))
    if gate.state == "open":
        raise Refused("gate_open", gate=gate.plan.name, people=gate.opened_by)
    _need_nothing(d, gate)
    missing = [line for line in gate.plan.on_the_day if line not in cmd.confirmed]
    if missing:
        raise Refused("on_the_day_missing", gate=gate.plan.name, missing=missing)
    propose(
        d,
        "open_gate",
        gate.id,
        confirmed=list(gate.plan.on_the_day),
        seen=_named(gate),
        until_ms=d.now_ms + OPENING_MS,
    )


def _named(gate: Gate) -> dict[str, list[str]]:
    """What the first of two looked at: another list is another question."""
    return {"on_the_day": list(gate.plan.on_the_day)}


def _need_nothing(d: Deciding, gate: Gate) -> None:
    wants = wants_to_open(d, gate, d.now_ms)
    if wants:
        raise Refused("gate_wants", gate=gate.plan.name, count=len(wants), wants=[want.key for want in wants])


@still("open_gate")
def still_true(state: State, proposal: Proposal, now_ms: int) -> bool:
    gate = state.get(Gate, proposal.about)
    return gate.state == "shut" and proposal.seen == _named(gate) and not wants_to_open(state, gate, now_ms)


@seconds("open_gate")
def open_gate(d: Deciding, proposal: Proposal) -> None:
    """The second is an adult who may countersign; the conditions were looked at again a moment ago."""
    if not d.get(Member, d.who).may_countersign:
        raise Refused("may_not_countersign")
    d.tell("gate.opened", gate=proposal.about, people=[proposal.by, d.who])


@decides(SayEngine)
def say_engine(d: Deciding, cmd: SayEngine) -> None:
    """A report. Running behind a shut gate: every screen says *stop the engine* (R25)."""
    shut = [
        g.id for g in gates_in_order(d) if g.plan.kind in ENGINE_GATES and _lets_run(g) and g.state == "shut"
    ]
    d.tell("engine.said", running=cmd.running, stop=shut if cmd.running else [])


def _lets_run(gate: Gate) -> bool:
    """An engine may run before its first drive, not before its first crank or start."""
    return gate.plan.kind != "first_drive"


@settles
def shut_what_became_false(d: Deciding) -> None:
    for gate in gates_in_order(d):
        if gate.state != "open":
            continue
        false = standing(d, gate, d.now_ms)
        if false:
            stop = gate.plan.kind in ENGINE_GATES and engine_may_run(d)
            d.tell("gate.shut", gate=gate.id, why=[want.key for want in false], stop_engine=stop)
