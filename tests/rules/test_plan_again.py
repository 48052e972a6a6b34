"""A later version of the plan meets work that is done: what stays, what lapses, what comes back (R5, R9, R11, R14, R26)."""

from __future__ import annotations

import pytest

from rules import world as w
from rules.world import World
from yokemate.planfile.model import Plan, Step
from yokemate.rules.rows import Build, Group, LooseEnd, Reading, Task

TIGHTEN = Step(id="t", say="Tighten", kind="tighten", group="G1")


def version(*, critical: bool = False, torque: str = "24", tasks: list | None = None, **more) -> Plan:
    fields = {
        "specs": [w.spec(torque=torque)],
        "groups": [w.group(critical=critical)],
        "gates": [w.gate()],
        "tools": [w.wrench()],
        **more,
    }
    return w.plan(*(tasks or [w.task("T1", TIGHTEN, "Clean"), w.task("T2", "Fit it")]), **fields)


def tightened(world: World, wrench: str = "W1", torque: str = "24") -> Group:
    """Aled takes T1 and turns all four, in as many passes as the group has."""
    if world.get(Task, "T1").state == "open":
        world.do("aled", "task.take", task="T1")
    group = world.get(Group, "G1")
    for pass_no in range(1, group.passes + 1):
        last = pass_no == group.passes
        for bolts in [[n] for n in group.order] if last and group.plan.critical else [group.order]:
            world.do(
                "aled", "torque.read", group="G1", task="T1", pass_no=pass_no, wrench=wrench, unit="n_m",
                set_value=torque, bolts=[{"n": n} for n in bolts],
                **({"faces": "clean", "threads": "clean_dry"} if pass_no == 1 else {}),
            )  # fmt: skip
    return world.get(Group, "G1")


def countersigned(world: World) -> None:
    group = tightened(world)
    looks = [{"n": bolt.n, "found": "holds", "how": "watched"} for bolt in group.bolts]
    world.do("sofia", "torque.note_check", group="G1", readings_digest=group.readings_digest, bolts=looks)
    world.do(
        "sofia",
        "torque.countersign",
        checks=[f"c{world._count}"],
        readings_digests={"G1": group.readings_digest},
    )
    assert world.get(Group, "G1").countersign is not None


@pytest.mark.parametrize(
    "change",
    [
        {"torque": "28"},
        {"specs": [w.spec(lubrication="oiled")]},
        {"specs": [w.spec(thread="M8x1")]},
        {"specs": [w.spec(tolerance={"minus": "1", "plus": "0"})]},
        {"groups": [w.group(count=5, critical=True)]},
    ],
    ids=["torque", "lubrication", "thread", "tolerance", "one bolt more"],
)
def test_r14_a_changed_target_lapses_the_countersign(new_world, change) -> None:
    """R14: another figure, thread, lubrication, tolerance or count asks for another tightening; the signature lapses."""
    world: World = new_world(version(critical=True))
    countersigned(world)
    read = {reading.id: reading.wrench for reading in world.all(Reading)}
    world.load(version(**{"critical": True, **change}))
    group = world.get(Group, "G1")
    assert group.countersign is None
    assert group.state != "final"
    assert {"countersign.lapsed", "group.not_final"} <= set(world.told())
    assert [end.group for end in world.all(LooseEnd) if end.closed is None] == ["G1"]
    assert {reading.id: reading.wrench for reading in world.all(Reading)} == read, "nothing typed is lost"


def test_r14_words_may_change_without_a_signature_lapsing(new_world) -> None:
    """R14: a new title, another step's words and tasks in another order leave what was signed alone."""
    world: World = new_world(version(critical=True))
    countersigned(world)
    other = [
        w.task("T2", "Fit it, gently", title="Fit the cover"),
        w.task("T1", TIGHTEN.model_copy(update={"say": "Tighten in a star"}), "Clean"),
    ]
    world.load(version(critical=True, tasks=other))
    assert world.get(Group, "G1").countersign is not None
    assert world.get(Group, "G1").state == "final"
    assert world.get(Task, "T2").order == 0


def test_r11_a_group_that_becomes_critical_is_tightened_anew(new_world) -> None:
    """R11: with a torque wrench past its check a reading counts on an ordinary group, with a deviation; the same
    reading counts no longer once the plan calls the group critical, for there is no exception there.
    """
    out = w.wrench("W9", checked_on="2020-01-01")
    world: World = new_world(version(tools=[w.wrench(), out]))
    assert tightened(world, "W9").state == "final"
    world.load(version(critical=True, tools=[w.wrench(), out]))
    group = world.get(Group, "G1")
    assert group.plan.critical
    assert group.state != "final"
    assert [end.group for end in world.all(LooseEnd) if end.closed is None] == ["G1"]
    assert tightened(world).state == "final"


def test_r5_a_task_that_nobody_touched_goes_and_one_that_was_signed_is_to_be_undone(new_world) -> None:
    """R5: what a later version has no more: untouched it goes; signed it stays, left out, to be undone; it can come back."""
    world: World = new_world(version())
    tightened(world)
    world.do("aled", "task.tick", task="T1", steps=["s2"])
    world.do("aled", "task.sign_off", task="T1")
    assert world.get(Task, "T1").state == "closed"
    world.load(version(tasks=[w.task("T3", TIGHTEN)]))
    assert {task.id for task in world.all(Task)} == {"T1", "T3"}
    kept = world.get(Task, "T1")
    assert (kept.state, kept.retired, kept.to_be_undone) == ("left_out", True, True)
    world.load(version())
    back = world.get(Task, "T1")
    assert (back.state, back.retired, back.to_be_undone) == ("closed", False, False)
    assert world.get(Task, "T2").state == "open"


def test_r9_a_step_that_is_other_work_now_is_ticked_anew(new_world) -> None:
    """R9: a tick holds for the work it was given for; a signed task that gained a step is open again, its sign-off crossed out."""
    plain = [w.task("T1", "Clean", "Grease"), w.task("T2", "Fit it")]
    world: World = new_world(version(tasks=plain, groups=[], specs=[]))
    world.do("aled", "task.take", task="T1")
    world.do("aled", "task.tick", task="T1", steps=["s1", "s2"])
    world.do("aled", "task.sign_off", task="T1")
    measured = Step(
        id="s2", say="Grease", kind="measure", measure={"say": "gap", "unit": "mm", "low": "1", "high": "2"}
    )
    world.load(version(tasks=[w.task("T1", "Clean", measured), w.task("T2", "Fit it")], groups=[], specs=[]))
    task = world.get(Task, "T1")
    assert (task.state, set(task.ticks)) == ("open", {"s1"})
    assert task.signed is None
    assert [pair.by for pair in task.crossed_out] == ["aled"]


def test_r24_a_plan_with_faults_loads_nothing(new_world) -> None:
    """R24, R32: an unknown predecessor: the whole plan is refused and says where."""
    world: World = new_world(version())
    before = world.state
    refused = world.refused(
        "ines", "plan.load", "plan_faulty", plan=version(tasks=[w.task("T1", after=["T9"])]), options={}
    )
    assert world.state is before
    assert "T9" in refused.params["first"]


def test_r4_two_leads_edit_the_plan_and_the_later_one_is_told(new_world) -> None:
    """A plan edit says what it was made on; where the plan changed since, it is refused."""
    world: World = new_world(version())
    seen = world.state.head
    world.load(version(torque="25"))
    world.refused("ines", "plan.load", "changed_since", plan=version(torque="26"), options={}, seen=seen)
    assert world.get(Group, "G1").spec.target.torque == "25"


OPTIONS = [
    {
        "id": "cooling",
        "say": "Cooling",
        "default": "front",
        "choices": [{"id": "front", "say": "Front"}, {"id": "rear", "say": "Rear"}],
    }
]


def with_options() -> Plan:
    tasks = [
        w.task("T1", "Both"),
        w.task("T2", "Front only", when={"cooling": "front"}),
        w.task("T3", "Rear only", when={"cooling": "rear"}),
    ]
    return w.plan(*tasks, options=OPTIONS)


def test_r5_an_option_leaves_work_out_and_gives_it_back_to_the_queue(new_world) -> None:
    """R5: the holder of work that falls away is told by an entry; choosing the other way brings it back."""
    world: World = new_world()
    world.load(with_options(), cooling="front")
    assert {t.id: t.state for t in world.all(Task)} == {"T1": "open", "T2": "open", "T3": "left_out"}
    world.do("aled", "task.take", task="T2")
    world.do("ines", "plan.choose", options={"cooling": "rear"})
    assert {t.id: t.state for t in world.all(Task)} == {"T1": "open", "T2": "left_out", "T3": "open"}
    assert world.get(Task, "T2").holder is None
    assert world.get(Build, "build").options == {"cooling": "rear"}
    world.refused("ines", "plan.choose", "bad_input", options={"cooling": "sideways"})
    world.refused("ines", "plan.choose", "bad_input", options={"heating": "rear"})


def test_r24_other_options_must_leave_a_whole_plan(new_world) -> None:
    """R24: what is opened in work that stays and put back in work that falls away would stay open for ever."""
    opens, puts_back = (
        Step(id="off", say="Take it off", kind="open", opens=["hose"]),
        Step(id="on", say="Push it on", kind="put_back", puts_back=["hose"]),
    )
    tasks = [
        w.task("T1", opens), w.task("T2", puts_back, after=["T1"], when={"cooling": "front"}), w.task("T3", after=["T1"]),
    ]  # fmt: skip
    gates = [w.gate(standing=[{"task_closed": "T1"}, {"task_closed": "T2"}], guards=["T3"])]
    ends = [w.loose_end("hose", gate="crank")]
    world: World = new_world()
    world.load(w.plan(*tasks, options=OPTIONS, gates=gates, loose_ends=ends), cooling="front")
    refused = world.refused("ines", "plan.choose", "options_faulty", options={"cooling": "rear"})
    assert refused.params["count"] == 1
    assert "hose" in refused.params["first"]
    assert world.get(Task, "T2").state == "open"


def test_r5_the_lead_releases_a_task_out_of_order_but_it_cannot_close_early(new_world) -> None:
    """R5: released with a reason it can be taken and signed; it closes only when what comes before has."""
    world: World = new_world(w.plan(w.task("T1"), w.task("T2", after=["T1"])))
    world.refused("aled", "task.take", "waits", task="T2")
    world.refused("aled", "plan.release_task", "role", task="T2", reason_text="Bored")
    world.do("ines", "plan.release_task", task="T2", reason_text="The part for T1 comes on Monday.")
    world.do("aled", "task.take", task="T2")
    world.do("aled", "task.tick", task="T2", steps=["s1"])
    world.do("aled", "task.sign_off", task="T2")
    assert world.get(Task, "T2").state == "done"
    for kind, fields in (("take", {}), ("tick", {"steps": ["s1"]}), ("sign_off", {})):
        world.do("bram", f"task.{kind}", task="T1", **fields)
    assert world.get(Task, "T1").state == "closed"
    assert world.get(Task, "T2").state == "closed"
