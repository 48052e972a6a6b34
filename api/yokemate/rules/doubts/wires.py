"""Wires: the fuse against the load and against the wire it protects, and the voltage lost on the way."""

from __future__ import annotations

from fractions import Fraction

from yokemate.calc.errors import CalcError
from yokemate.calc.wire import LOOM_MM2, drop_allowed, fuse_for, loom_current, voltage_drop
from yokemate.planfile.findings import Loc
from yokemate.planfile.model import Plan, Wire
from yokemate.planfile.told import Told

SUPPLY_V = 12
DROP_PERCENT = 5  # ordinary circuits: common practice; no law for road vehicles sets one
CHART = "Half the chassis wiring chart's figure for a taped loom: common practice, charts disagree."
UNFUSED_A = 100  # a starter's main cable has no fuse (common practice)


def wire_doubts(plan: Plan, told: Told) -> None:
    for n, wire in enumerate(plan.wires):
        _fuse(wire, ("wires", n), told)
        _drop(wire, ("wires", n), told)


def _fuse(wire: Wire, loc: Loc, told: Told) -> None:
    load = Fraction(wire.current_a)
    if wire.fuse_a is None:
        if 0 < load < UNFUSED_A:
            told.doubt(
                "wire_without_fuse", loc, f"{wire.circuit}: {wire.current_a} A and no fuse.", "Write `fuse_a: ...`.",
                "A fuse protects the wire; only a starter's main cable goes without (common practice).",
            )  # fmt: skip
        return
    _wire_protected(wire, Fraction(wire.fuse_a), (*loc, "fuse_a"), told)
    _load_carried(wire, Fraction(wire.fuse_a), load, (*loc, "fuse_a"), told)


def _wire_protected(wire: Wire, fuse: Fraction, loc: Loc, told: Told) -> None:
    """The fuse protects the wire, whatever hangs on it. A wire below the chart bears no more than the chart's least."""
    least, most = LOOM_MM2
    size = float(wire.size_mm2)
    if size > most:
        told.doubt(
            "fuse_not_judged", loc,
            f"{wire.circuit}: whether a fuse of {wire.fuse_a} A protects {wire.size_mm2} mm² is not judged: the chart here "
            f"ends at {most:g} mm².",
            "Look up what this cable bears, as it is laid, in its maker's sheet; the fuse may not be larger.", CHART,
        )  # fmt: skip
        return
    bears = loom_current(max(size, least))
    if fuse > Fraction(bears):
        said = f"{bears:g} A" if size >= least else f"less than {bears:g} A, the least of the chart,"
        told.doubt(
            "fuse_over_wire", loc,
            f"{wire.circuit}: a fuse of {wire.fuse_a} A does not protect {wire.size_mm2} mm², which bears {said} in "
            "a taped loom.",
            "Take a larger wire, donor tail too, or a smaller fuse.", CHART,
        )  # fmt: skip


def _load_carried(wire: Wire, fuse: Fraction, load: Fraction, loc: Loc, told: Told) -> None:
    if fuse >= load / Fraction("0.8"):
        return
    try:
        wanted = Fraction(fuse_for(load, max(load, Fraction(1))).fuse_a)
    except CalcError:  # no blade fuse is made for it
        wanted = load / Fraction("0.8")
    if fuse < wanted:
        told.doubt(
            "fuse_too_small", loc,
            f"{wire.circuit}: {wire.current_a} A is more than 80 % of its fuse of {wire.fuse_a} A.",
            f"Take {float(wanted):g} A, if the wire bears it.", "ISO 8820-3 sizes; 80 % is common practice.",
        )  # fmt: skip


def _drop(wire: Wire, loc: Loc, told: Told) -> None:
    """Out and back, as if the return were as long; where the frame is the return it is less."""
    loop_m = 2 * (float(wire.donor_tail_m) + float(wire.added_m))
    try:
        drop = _lost(wire, loop_m)
    except CalcError:
        return
    if drop[1] > DROP_PERCENT:
        told.doubt(
            "volts_lost", (*loc, "size_mm2"),
            f"{wire.circuit}: {wire.current_a} A over {loop_m:g} m out and back lose {drop[0]:.2f} V in {wire.size_mm2} mm², "
            f"{drop[1]:.1f} % of {SUPPLY_V} V.",
            "Take a larger wire, or an earth near by.",
            "IEC 60228 class 5 greatest resistance at 20 °C; 5 % for ordinary circuits is common practice, where boats allow "
            f"{drop_allowed('safety'):g} % if safety hangs on it and {drop_allowed('other'):g} % else (ABYC E-11).",
        )  # fmt: skip


def _lost(wire: Wire, loop_m: float) -> tuple[float, float]:
    current, size = float(wire.current_a), float(wire.size_mm2)
    try:
        drop = voltage_drop(current, loop_m, size, SUPPLY_V, table="class 5")
    except CalcError:
        drop = voltage_drop(current, loop_m, size, SUPPLY_V)
    return drop.drop_v, drop.percent
