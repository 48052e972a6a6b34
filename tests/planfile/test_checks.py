"""One fault at a time in a plan that is otherwise whole: its code, its place, its remedy (R24, R32)."""

from copy import deepcopy
from typing import Any

import pytest

from yokemate.planfile.check import check
from yokemate.planfile.findings import Finding
from yokemate.planfile.model import Plan

WHOLE: dict[str, Any] = {
    "name": "Whole",
    "manual": {"title": "Manual", "revision": "A"},
    "skills": [{"id": "brakes", "say": "Brakes"}],
    "options": [
        {
            "id": "heater",
            "say": "Heater",
            "default": "yes",
            "choices": [{"id": "yes", "say": "With"}, {"id": "no", "say": "Without"}],
        }
    ],
    "stages": [{"id": "S1", "name": "One"}],
    "zones": [{"id": "bay", "name": "Bay", "people_at_most": 4}],
    "specs": [
        {
            "id": "J1",
            "thread": "M10x1.5",
            "lubrication": "dry",
            "target": {"torque": "44", "unit": "n_m"},
            "passes_percent": [50, 100],
            "source": "invented",
        }
    ],
    "groups": [
        {
            "id": "arm",
            "name": "Arm",
            "spec": "J1",
            "seen_from": "above",
            "up": "nose",
            "critical": True,
            "countersign": True,
            "check_methods": ["watched"],
            "fasteners": [{"n": 1, "x": "0", "y": "0"}, {"n": 2, "x": "50", "y": "0"}],
        }
    ],
    "lifts": [
        {
            "id": "L1",
            "title": "Shell",
            "mass_kg": "20",
            "cg_x_mm": "0",
            "cg_y_mm": "0",
            "guides": 1,
            "supports": [
                {"id": "a", "say": "A", "kind": "lifter", "x_mm": "-500", "y_mm": "0"},
                {"id": "b", "say": "B", "kind": "lifter", "x_mm": "500", "y_mm": "0"},
            ],
        }
    ],
    "loose_ends": [
        {"id": "O1", "what": "Arm snug only", "kind": "snugged", "gate": "G1"},
        {"id": "O2", "what": "Hose off", "kind": "opened", "gate": "G2"},
    ],
    "gates": [
        {
            "id": "G1",
            "name": "Rolling",
            "standing": [{"task_closed": "T3"}, {"lag_over": "T3"}],
            "guards": ["T4"],
        },
        {
            "id": "G2",
            "name": "Crank",
            "standing": [{"gate_open": "G1"}, {"task_closed": "T4"}],
            "guards": ["T5"],
        },
    ],
    "tools": [
        {
            "id": "W1",
            "name": "Torque wrench",
            "torque_wrench": {"unit": "n_m", "lowest": "20", "highest": "100", "step": "1"},
        }
    ],
    "parts": [{"id": "clip", "name": "Clip", "count": 4, "source": "kit"}],
    "cuts": [
        {
            "id": "C1",
            "what": "Hose",
            "unit": "mm",
            "stock_length": "1000",
            "pieces": [{"n": 1, "length": "400", "to": "pump"}],
        },
        {
            "id": "C2",
            "what": "Vacuum hose",
            "unit": "in",
            "stock_length": "72",
            "plus": "1/8",
            "pieces": [{"n": 1, "length": "9 5/8", "to": "gauge"}],
        },
    ],
    "tasks": [
        {
            "id": "T1",
            "title": "Hang",
            "stage": "S1",
            "zone": "bay",
            "minutes": [1, 2, 3],
            "lead_skill": "brakes",
            "steps": [{"id": "s1", "say": "Snug", "kind": "snug", "group": "arm", "opens": ["O1"]}],
        },
        {
            "id": "T2",
            "title": "Shell over",
            "stage": "S1",
            "zone": "bay",
            "minutes": [1, 2, 3],
            "lift": "L1",
            "minors": "watch",
            "must_people": 4,
            "after": [{"task": "T1"}],
            "steps": [{"id": "s1", "say": "Lift", "kind": "lift"}],
        },
        {
            "id": "T3",
            "title": "Final",
            "stage": "S1",
            "zone": "bay",
            "minutes": [1, 2, 3],
            "after": [{"task": "T2"}],
            "lag_after": {"hours": "24", "why": "cure"},
            "uses": [{"part": "clip", "count": 4}],
            "steps": [{"id": "s1", "say": "Tighten", "kind": "tighten", "group": "arm", "puts_back": ["O1"]}],
        },
        {
            "id": "T4",
            "title": "Hoses",
            "stage": "S1",
            "zone": "bay",
            "minutes": [1, 2, 3],
            "after": [{"task": "T3"}],
            "steps": [
                {"id": "s1", "say": "Hose off", "kind": "open", "opens": ["O2"]},
                {
                    "id": "s2",
                    "say": "Measure",
                    "kind": "measure",
                    "measure": {"say": "Gap", "unit": "mm", "low": "1", "nominal": "2", "high": "3"},
                },
                {"id": "s3", "say": "Cut", "kind": "cut", "cut": "C1"},
                {"id": "s4", "say": "Hose on", "kind": "put_back", "puts_back": ["O2"]},
            ],
        },
        {
            "id": "T5",
            "title": "Crank",
            "stage": "S1",
            "zone": "bay",
            "minutes": [1, 2, 3],
            "steps": [{"id": "s1", "say": "Crank"}],
        },
    ],
}

DROP = object()
Path = tuple[str | int, ...]


def changed(*changes: tuple[Path, Any]) -> Plan:
    data = deepcopy(WHOLE)
    for path, value in changes:
        here: Any = data
        for key in path[:-1]:
            here = here[key]
        if value is DROP:
            del here[path[-1]]
        elif path[-1] == "+":
            here.append(value)
        else:
            here[path[-1]] = value
    return Plan.model_validate(data)


def found(plan: Plan, **chosen: str) -> list[Finding]:
    return check(plan, chosen)


GROUP, SPEC, LIFT, T1, T2, T3, T4 = (
    ("groups", 0),
    ("specs", 0),
    ("lifts", 0),
    *(("tasks", n) for n in range(4)),
)

WRENCH = ("tools", 0, "torque_wrench")

# change, level, code, field in plan words
ONE_FAULT: list[tuple[Path, Any, str, str, str]] = [
    # specs and groups
    ((*GROUP, "countersign"), False, "error", "critical_without_countersign", "bolt group arm, countersign"),
    ((*GROUP, "check_methods"), [], "error", "no_check_method", "bolt group arm, check_methods"),
    (
        (*GROUP, "check_methods"),
        ["paint_mark_seen"],
        "error",
        "paint_not_made",
        "bolt group arm, check_methods",
    ),
    ((*GROUP, "order"), [1, 1], "error", "order_incomplete", "bolt group arm, order"),
    ((*GROUP, "order"), [1], "error", "order_incomplete", "bolt group arm, order"),
    ((*GROUP, "fasteners", 1, "n"), 1, "error", "number_twice", "bolt group arm, fasteners"),
    ((*GROUP, "fasteners", 1, "x"), "0.0", "error", "place_twice", "bolt group arm, fasteners"),
    ((*GROUP, "fasteners", 1, "x"), "100.5", "error", "place_outside", "bolt group arm, fasteners"),
    ((*SPEC, "passes_percent"), [100, 50], "error", "passes", "spec J1, passes_percent"),
    ((*SPEC, "passes_percent"), [50, 90], "error", "passes", "spec J1, passes_percent"),
    ((*SPEC, "passes_percent"), [], "error", "passes", "spec J1, passes_percent"),
    ((*SPEC, "tolerance"), {"minus": "-1", "plus": "2"}, "error", "tolerance", "spec J1, tolerance"),
    ((*SPEC, "tolerance"), {"minus": "44", "plus": "2"}, "error", "tolerance", "spec J1, tolerance"),
    ((*SPEC, "target", "torque"), "0", "error", "torque_not_positive", "spec J1, target, torque"),
    ((*SPEC, "target", "kind"), "castle", "error", "target_incomplete", "spec J1, target"),
    ((*SPEC, "target", "kind"), "gap", "error", "target_incomplete", "spec J1, target"),
    ((*SPEC, "target", "kind"), "torque_angle", "error", "target_incomplete", "spec J1, target"),
    ((*SPEC, "target", "angles_deg"), ["90"], "error", "angle_unasked", "spec J1, target, kind"),
    ((*SPEC, "target", "torque_max"), "44", "error", "castle_range", "spec J1, target, torque_max"),
    ((*SPEC, "target", "torque"), "101", "doubt", "no_torque_wrench", "bolt group arm, spec"),
    # 1 lbf·ft = 1.355818 N·m (exact definitions of pound, g and foot): 74 lbf·ft is 100.33 N·m, just out of 20 to 100.
    (
        (*SPEC, "target"),
        {"torque": "74", "unit": "lbf_ft"},
        "doubt",
        "no_torque_wrench",
        "bolt group arm, spec",
    ),
    ((*SPEC, "target", "torque"), "999999999", "error", "torque_too_large", "spec J1, target, torque"),
    (
        (*SPEC, "target", "torque_max"),
        "999999999",
        "error",
        "torque_too_large",
        "spec J1, target, torque_max",
    ),
    (
        (*SPEC, "tolerance"),
        {"minus": "1", "plus": "999999999"},
        "error",
        "torque_too_large",
        "spec J1, tolerance, plus",
    ),
    # torque wrenches
    ((*WRENCH, "highest"), "999999999", "error", "torque_wrench_highest", "tool W1, torque_wrench, highest"),
    ((*WRENCH, "lowest"), "100", "error", "torque_wrench_highest", "tool W1, torque_wrench, highest"),
    ((*WRENCH, "lowest"), "-1", "error", "torque_wrench_highest", "tool W1, torque_wrench, highest"),
    (("default_tolerance_percent",), "-1", "error", "default_tolerance", "default_tolerance_percent"),
    (("default_tolerance_percent",), "100", "error", "default_tolerance", "default_tolerance_percent"),
    ((*WRENCH, "step"), "999999999", "error", "torque_wrench_step", "tool W1, torque_wrench, step"),
    ((*WRENCH, "step"), "0.000001", "error", "torque_wrench_step", "tool W1, torque_wrench, step"),
    ((*WRENCH, "step"), "0", "error", "torque_wrench_step", "tool W1, torque_wrench, step"),
    ((*WRENCH, "arm_mm"), "0", "error", "torque_wrench_arm_mm", "tool W1, torque_wrench, arm_mm"),
    (
        (*WRENCH, "checked_on"),
        "04.05.2026",
        "error",
        "torque_wrench_checked_on",
        "tool W1, torque_wrench, checked_on",
    ),
    (
        (*WRENCH, "checked_on"),
        "2026-02-30",
        "error",
        "torque_wrench_checked_on",
        "tool W1, torque_wrench, checked_on",
    ),
    (
        (*WRENCH, "check_months"),
        0,
        "error",
        "torque_wrench_check_months",
        "tool W1, torque_wrench, check_months",
    ),
    (
        (*WRENCH, "check_months"),
        10**9,
        "error",
        "torque_wrench_check_months",
        "tool W1, torque_wrench, check_months",
    ),
    # steps
    ((*T4, "minutes"), [3, 2, 1], "error", "minutes_order", "task T4, minutes"),
    ((*T4, "steps", 1, "measure"), DROP, "error", "step_without_measure", "task T4, step 2"),
    ((*T4, "steps", 2, "cut"), DROP, "error", "step_without_cut", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "harvest", "error", "step_without_part", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "confirm_side", "error", "step_without_side", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "lift", "error", "step_without_lift", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "loosen", "error", "step_without_opens", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "put_back", "error", "step_without_puts_back", "task T4, step 3"),
    ((*T4, "steps", 2, "kind"), "run_in", "error", "step_without_group", "task T4, step 3"),
    ((*T4, "steps", 2, "group"), "arm", "error", "group_on_other_step", "task T4, step 3, group"),
    ((*T4, "steps", 1, "measure", "low"), "2.5", "error", "measure_limits", "task T4, step 2, measure"),
    ((*T2, "steps", 0, "kind"), "plain", "doubt", "lift_without_step", "task T2, lift"),
    # needs
    ((*T4, "skilled_people"), 2, "error", "more_skilled_than_people", "task T4, skilled_people"),
    ((*T4, "must_people"), 5, "error", "zone_too_small", "task T4, zone"),
    (
        (*LIFT, "lookout"),
        True,
        "error",
        "zone_too_small",
        "task T2, zone",
    ),  # 2 lifters, guide, caller, lookout = 5
    ((*T2, "minors"), "with_adult", "doubt", "minor_in_lift", "task T2, minors"),
    ((*T4, "lift"), "L1", "error", "lift_twice", "lift L1"),
    ((*LIFT, "mass_kg"), None, "doubt", "load_unknown", "lift L1"),
    ((*LIFT, "cg_above_hands_mm"), "-2001", "error", "tilt_out_of_range", "lift L1, cg_above_hands_mm"),
    (
        (*LIFT, "phases"),
        [{"say": "Up", "supports": ["a", "b"], "tilt_deg": "61"}],
        "error",
        "tilt_out_of_range",
        "lift L1, phase 1, tilt_deg",
    ),
    (
        (*LIFT, "phases"),
        [{"say": "Up", "supports": ["a", "b"]}, {"say": "Up", "supports": ["b"]}],
        "error",
        "phase_twice",
        "lift L1, phase 2, say",
    ),
    (("parts", 0, "count"), 3, "doubt", "too_few_parts", "part clip, count"),
    # gates
    (("gates", 1, "guards"), [], "doubt", "guards_nothing", "gate G2"),
    (
        ("gates", 0, "standing", 1),
        {"lag_over": "T2"},
        "error",
        "no_lag",
        "gate G1, standing condition 2, lag_over",
    ),
    (
        ("gates", 0, "standing", 0),
        {"task_closed": "T3", "gate_open": "G1"},
        "error",
        "one_condition",
        "gate G1, standing condition 1",
    ),
    (
        ("gates", 0, "standing", "+"),
        {"gate_open": "G2"},
        "error",
        "gate_order",
        "gate G1, standing condition 3, gate_open",
    ),
    # cuts
    (("cuts", 1, "unit"), "mm", "error", "fraction_not_inches", "cut list C2, piece 1, length"),
    (
        ("cuts", 0, "pieces", 0, "length"),
        "1001",
        "error",
        "longer_than_stock",
        "cut list C1, piece 1, length",
    ),
    (("cuts", 1, "pieces", 0, "length"), "9 5/7", "error", "not_a_length", "cut list C2, piece 1, length"),
    (("cuts", 0, "kerf"), "-2", "error", "not_a_length", "cut list C1, kerf"),
    # names
    ((*T4, "zone"), "bye", "error", "unknown_reference", "task T4, zone"),
    ((*T1, "lead_skill"), "brake", "error", "unknown_reference", "task T1, lead_skill"),
    ((*T1, "when"), {"heating": "yes"}, "error", "unknown_reference", "task T1, when"),
    ((*T1, "when"), {"heater": "maybe"}, "error", "unknown_reference", "task T1, when, heater"),
    (("options", 0, "default"), "perhaps", "error", "unknown_reference", "option heater, default"),
    ((*T4, "steps", 1, "id"), "s1", "error", "id_twice", "task T4, step 2"),
    (
        (*LIFT, "phases"),
        [{"say": "Up", "supports": ["c"]}],
        "error",
        "unknown_reference",
        "lift L1, phase 1, supports",
    ),
    ((*T4, "tools"), ["W9"], "error", "unknown_reference", "task T4, tools"),
    # the order of work
    ((*T1, "after"), [{"task": "T4"}], "error", "loop", "task T1"),
    ((*T1, "after"), [{"task": "T1"}], "error", "loop", "task T1"),
    ((*T3, "steps", 0, "puts_back"), [], "error", "never_put_back", "task T1, step 1, opens"),
    ((*T3, "steps", 0, "kind"), "plain", "error", "never_tightened", "bolt group arm"),
    ((*T3, "after"), [], "error", "put_back_too_early", "task T1, step 1, opens"),
    ((*T3, "after"), [], "error", "final_too_early", "task T1, step 1"),
    (
        ("gates", 0, "standing"),
        [{"task_closed": "T2"}],
        "error",
        "put_back_after_gate",
        "task T1, step 1, opens",
    ),
    (("gates", 0, "standing"), [{"task_closed": "T2"}], "error", "final_after_gate", "task T1, step 1"),
]


def test_the_whole_plan_has_no_finding() -> None:
    """The checks don't cry wolf, under either choice of the option."""
    assert found(changed()) == []
    assert found(changed(), heater="no") == []


@pytest.mark.parametrize(("path", "value", "level", "code", "field"), ONE_FAULT)
def test_one_fault_is_found_where_it_stands(
    path: Path, value: Any, level: str, code: str, field: str
) -> None:
    """R24, R32: level, code and the place in plan words, with a remedy."""
    said = [(one.level, one.code, one.field) for one in found(changed((path, value)))]
    assert (level, code, field) in said, said
    assert all(one.remedy.endswith(".") for one in found(changed((path, value))))


def test_an_unused_group_is_doubted() -> None:
    """A bolt group that no step touches would never be tightened."""
    spare = {**WHOLE["groups"][0], "id": "spare"}
    assert [(f.level, f.code) for f in found(changed((("groups", "+"), spare)))] == [
        ("doubt", "group_unused")
    ]


def test_what_turns_the_fastener_is_no_check_of_one_that_is_never_turned_again() -> None:
    """R15: a staked or glued fastener is looked at and not turned."""
    plan = changed(((*GROUP, "retighten"), False), ((*GROUP, "check_methods"), ["watched", "first_movement"]))
    assert [f.code for f in found(plan)] == ["check_turns_it"]


def test_angle_tightened_groups_are_never_turned_again() -> None:
    """R15: an angle target with `retighten: true` contradicts itself."""
    target = {"kind": "torque_angle", "torque": "44", "angles_deg": ["90", "90"], "unit": "n_m"}
    assert [f.code for f in found(changed(((*SPEC, "target"), target)))] == ["angle_turned_again"]
    turned = changed(
        ((*SPEC, "target"), {**target, "angles_deg": ["90", "361", "0.9"]}), ((*GROUP, "retighten"), False)
    )
    assert [(f.code, f.field) for f in found(turned)] == [
        ("angle_range", "spec J1, target, angles_deg, entry 361"),
        ("angle_range", "spec J1, target, angles_deg, entry 0.9"),
    ]


def test_an_option_can_break_the_order_of_work() -> None:
    """R24 for the chosen options: with the only put-back dropped, the loose end stays open under that choice only."""
    plan = changed(((*T3, "when"), {"heater": "yes"}))
    assert [f.code for f in found(plan, heater="yes")] == []
    codes = {f.code for f in found(plan, heater="no")}
    assert {"never_put_back", "never_tightened", "condition_left_out"} <= codes


def test_a_group_loose_past_an_earlier_gate_is_doubted() -> None:
    """R24: the named gate waits for the final pass, and an earlier gate opens with the group only snug."""
    plan = changed(
        (("gates", 0, "standing"), [{"task_closed": "T2"}]),
        (("gates", 1, "standing", "+"), {"task_closed": "T3"}),
        (("loose_ends", 0, "gate"), "G2"),
    )
    assert [(f.level, f.code, f.field) for f in found(plan)] == [
        ("doubt", "loose_past_gate", "task T1, step 1")
    ]


def test_a_loop_is_said_all_the_way_round() -> None:
    """The lead reads the whole way round, gates among it, and can cut it anywhere."""
    plan = changed(((*T3, "after", "+"), {"task": "T5"}))
    (loop,) = [f for f in found(plan) if f.code == "loop"]
    assert {"T3", "T5", "T4", "gate G1", "gate G2"} >= {
        w.strip(" .") for w in loop.says.split(":")[1].split(", then")
    }
    assert loop.says.count("then") >= 3


def test_what_a_landed_lift_leaves_propped_must_be_put_back() -> None:
    """R22, R24: `propped` of a lift opens loose ends when it lands."""
    plan = changed(
        (("loose_ends", "+"), {"id": "O3", "what": "Prop", "kind": "propped", "gate": "G2"}),
        ((*LIFT, "propped"), ["O3"]),
    )
    assert [(f.code, f.field) for f in found(plan)] == [("never_put_back", "task T2, step 1, opens")]


def test_a_loose_end_needs_a_gate_that_exists() -> None:
    """The nearest id is offered."""
    (one,) = [f for f in found(changed((("loose_ends", 1, "gate"), "G22"))) if f.code == "unknown_reference"]
    assert one.text() == 'Loose end O2, gate: there is no gate "G22". Nearest: G2.'
