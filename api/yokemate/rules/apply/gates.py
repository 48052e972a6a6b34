"""How gates open and shut, and what is said of the engine."""

from __future__ import annotations

from yokemate.rules.frame import At, Draft, applies
from yokemate.rules.rows.crew import Build
from yokemate.rules.rows.gates import Gate


@applies("gate.opened")
def opened(draft: Draft, at: At, *, gate: str, people: list[str]) -> None:
    draft.change(
        Gate,
        gate,
        state="open",
        opened_ms=at.at_ms,
        opened_by=people,
        shut_ms=None,
        shut_why=[],
        stop_engine=False,
    )


@applies("gate.shut")
def shut(draft: Draft, at: At, *, gate: str, why: list[str], stop_engine: bool) -> None:
    draft.change(Gate, gate, state="shut", shut_ms=at.at_ms, shut_why=why, stop_engine=stop_engine)


@applies("engine.said")
def engine_said(draft: Draft, at: At, *, running: bool, stop: list[str]) -> None:
    draft.change(Build, "build", engine="running" if running else "off", engine_by=at.by)
    for gate in list(draft.all(Gate)):
        if gate.stop_engine != (gate.id in stop):
            draft.change(Gate, gate.id, stop_engine=gate.id in stop)
