"""The demo's plan holds together under every choice of its options, and its figures are those of the trade."""

import itertools
from fractions import Fraction
from pathlib import Path

import pytest

from yokemate.planfile.check import check
from yokemate.planfile.model import Plan
from yokemate.planfile.options import plan_for
from yokemate.planfile.read import read
from yokemate.rules.lift_shares import work_out_shares


@pytest.fixture(scope="module")
def plan(pytestconfig: pytest.Config) -> Plan:
    text = Path(pytestconfig.rootpath, "demo_fixtures/quillback-two.plan.yaml").read_text(encoding="utf-8")
    reading = read(text)
    assert reading.plan is not None, [found.text() for found in reading.findings]
    return reading.plan


def test_no_errors_under_any_choice(plan: Plan) -> None:
    """R24: every loose end is made good before its gate, whatever is chosen."""
    every = itertools.product(*([(o.id, c.id) for c in o.choices] for o in plan.options))
    looked_at = 0
    for chosen in every:
        found = [f.text() for f in check(plan, dict(chosen)) if f.level == "error"]
        assert found == [], chosen
        looked_at += 1
    assert looked_at == 8


def test_86_tasks_in_twelve_stages(plan: Plan) -> None:
    """The whole build, the lift of the body shell among it."""
    assert len(plan_for(plan, {}).tasks) == 86
    assert len({task.stage for task in plan.tasks}) == len(plan.stages) == 12


def test_dropping_the_heater_drops_its_task_and_keeps_its_loose_end(plan: Plan) -> None:
    """R5, R24: without a heater its hoses are still made good before the car is cranked."""
    without = plan_for(plan, {"heater": "no"})
    assert "T903" not in {task.id for task in without.tasks}
    assert [task.id for task in without.tasks for step in task.steps if "O06" in step.puts_back]


def test_a_lost_tightening_step_would_be_found(plan: Plan) -> None:
    """R24: the check looks into this plan: without its final pass a group run in is an error."""
    tasks = [
        task.model_copy(update={"steps": [s for s in task.steps if s.kind != "tighten"]})
        if task.id == "T506"
        else task
        for task in plan.tasks
    ]
    codes = {f.code for f in check(plan.model_copy(update={"tasks": tasks}), {}) if f.level == "error"}
    assert {"never_tightened", "never_put_back"} <= codes


# Proof stress [MPa] of ISO 898-1 table 3 and stress area [mm2] of ISO 724 / ISO 898-1 annex, both from memory.
BOLTS = {"J04": (600, 58.0), "J08": (830, 84.3), "J12": (830, 88.1), "J13": (830, 125.0)}


@pytest.mark.parametrize("spec", BOLTS)
def test_torques_stay_below_proof_load(plan: Plan, spec: str) -> None:
    """T = K*D*F with K = 0.2 (common practice): preload is between 0.4 and 0.8 of the proof load."""
    found = next(one for one in plan.specs if one.id == spec)
    diameter_mm = Fraction(found.thread.removeprefix("M").split("x")[0])
    proof, area_mm2 = BOLTS[spec]
    preload_n = float(Fraction(found.target.torque) * 1000 / (Fraction(1, 5) * diameter_mm))
    assert 0.4 < preload_n / (proof * area_mm2) < 0.8


def test_critical_groups_have_a_second_person(plan: Plan) -> None:
    """R13: a critical group names how the second person checks it."""
    critical = [group for group in plan.groups if group.critical]
    assert len(critical) > 20
    assert all(group.countersign and group.check_methods for group in critical)


def test_sixteen_wheel_nuts_are_four_groups(plan: Plan) -> None:
    """One bolt group per place."""
    wheels = [group for group in plan.groups if group.spec == "J12"]
    assert [len(group.fasteners) for group in wheels] == [4, 4, 4, 4]


def test_the_body_shell_balances(plan: Plan) -> None:
    """R20: 84 kg; with the crane behind the middle it bears 52 kg and each of two in front 16 kg: 52 + 32 = 84."""
    shell = next(lift for lift in plan.lifts if lift.id == "L7")
    shares, unfit, _ = work_out_shares(shell)
    assert unfit is None
    nominal = {share.support: float(share.nominal_kg) for share in shares}
    assert sorted(nominal.values()) == pytest.approx([16, 16, 52], abs=0.1)


def test_every_lift_can_be_worked_out(plan: Plan) -> None:
    """R20: no lift of the demo is unfit, and each phase bears the whole mass."""
    assert len(plan.lifts) >= 7
    for lift in plan.lifts:
        shares, unfit, _ = work_out_shares(lift)
        assert unfit is None, lift.id
        for phase in {share.phase for share in shares}:
            borne = sum(float(share.nominal_kg) for share in shares if share.phase == phase)
            assert borne == pytest.approx(float(lift.mass_kg or 0), abs=0.2), lift.id


def test_every_lift_can_be_drawn(plan: Plan) -> None:
    """Every load has an outline, and its centre of gravity lies within what that spans."""
    for lift in plan.lifts:
        xs, ys = ([Fraction(one[axis]) for one in lift.outline_mm] for axis in (0, 1))
        assert len(xs) >= 3, lift.id
        assert min(xs) <= Fraction(lift.cg_x_mm or 0) <= max(xs), lift.id
        assert min(ys) <= Fraction(lift.cg_y_mm or 0) <= max(ys), lift.id
