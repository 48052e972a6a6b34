"""The checker finds each kind of break: one good plan, broken in one way at a time."""

import ast
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from yokemate.planning import check as checker
from yokemate.planning.check import check
from yokemate.planning.problem import After, Fixed, Need, Person, Problem, Schedule, Span, Stint, Task, Use

DAYS = (Span(96, 204), Span(384, 492))
PEOPLE = (
    Person("ann", DAYS, frozenset({"brakes", "check"})),
    Person("ben", DAYS, frozenset({"brakes", "check"})),
    Person("cat", (Span(96, 150), DAYS[1])),
    Person("kid", DAYS, minor=True),
)
TASKS = (
    Task("held", 12, 1, fixed=Fixed(96, ("cat",), ("ben",)), tools=(Use("jack"),)),
    Task("torque", 12, 2, needs=(Need("brakes"),), not_last=True, joiners=frozenset({"kid"}), zone="bay", tools=(Use("wrench"),)),
    Task("sign", 2, needs=(Need("check"),), eligible=frozenset({"ann", "ben"}), independent_of=("torque",), after=(After("torque", 6),)),
    Task("under", 12, hazards=frozenset({"under_car"}), present=2, release=100),
    Task("jacking", 6, hazards=frozenset({"jacking"}), tools=(Use("jack"),)),
    Task("wire", 24, part=8, zone="bay"),
    Task("pipe", 10, 2, needs=(Need("brakes"),), with_learner=14),
    Task("loom", 16, 2, needs=(Need("brakes"),), with_learner=20, part=8, holders=frozenset({"ann"})),
)  # fmt: skip
PROBLEM = Problem(
    TASKS, PEOPLE, DAYS, tools={"jack": 1, "wrench": 1}, zones={"bay": 3},
    never_beside=frozenset({frozenset({"under_car", "jacking"})}), now=96,
)  # fmt: skip
GOOD = {
    "held": Stint("held", 96, 108, ("cat",)),
    "torque": Stint("torque", 108, 120, ("ann", "cat"), ("kid",)),
    "sign": Stint("sign", 126, 128, ("ben",)),
    "under": Stint("under", 130, 142, ("cat",)),
    "jacking": Stint("jacking", 142, 148, ("cat",)),
    "wire": Stint("wire", 142, 158, ("ann",)),
    "wire/2": Stint("wire", 384, 392, ("ben",)),
    "pipe": Stint("pipe", 400, 414, ("ann", "cat")),
    "loom": Stint("loom", 420, 432, ("ann", "cat")),
    "loom/2": Stint("loom", 440, 448, ("ann", "ben")),
}


def schedule(**changed: Stint | None) -> Schedule:
    stints = {**GOOD, **{name.replace("__", "/"): stint for name, stint in changed.items()}}
    return Schedule(tuple(s for s in stints.values() if s is not None))


def with_(name: str, **fields: object) -> Callable[[], Schedule]:
    return lambda: schedule(**{name: replace(GOOD[name], **fields)})  # type: ignore[arg-type]


BREAKS: dict[str, list[Callable[[], Schedule]]] = {
    "undated": [lambda: schedule(late=Stint("late", 460, 466, ("ann",)))],
    "missing": [lambda: schedule(jacking=None)],
    "unknown": [lambda: schedule(other=Stint("other", 160, 161, ("ann",))), with_("under", team=("zoe",))],
    "twice": [lambda: Schedule(schedule().stints, ("jacking",))],
    "length": [
        with_("jacking", end=147), with_("pipe", end=410), lambda: schedule(wire__2=None),
        with_("loom", end=428),  # 16 in two stretches, but cat learns in one of them: 20
        with_("loom/2", end=450),  # longer than both figures
    ],
    "part": [
        lambda: schedule(jacking=Stint("jacking", 142, 145, ("cat",)), more=Stint("jacking", 145, 148, ("cat",))),
        lambda: schedule(wire=Stint("wire", 142, 162, ("ann",)), wire__2=Stint("wire", 384, 388, ("ben",))),
    ],
    "order": [lambda: schedule(wire__2=Stint("wire", 150, 158, ("ben",)))],
    "hours": [with_("under", start=148, end=160), with_("torque", start=200, end=212)],
    "early": [with_("under", start=98, end=110, team=("ann",))],
    "day": [with_("wire", start=200, end=216)],
    "tired": [with_("torque", start=190, end=202, team=("ann", "ben"))],
    "team_size": [with_("torque", team=("ann",)), with_("torque", team=("ann", "ann"))],
    "skill": [with_("sign", team=("cat",))],
    "not_eligible": [with_("sign", team=("cat",))],
    "holder": [with_("loom/2", team=("ben", "cat"))],
    "minor": [with_("jacking", team=("kid",)), with_("torque", team=("ann", "kid"))],
    "asked": [with_("pipe", start=107, end=117, team=("ann", "ben")), with_("jacking", start=107, end=113, team=("ben",))],
    "double_booked": [with_("jacking", start=141, end=147), with_("wire", start=110, end=126)],
    "before": [with_("sign", start=125, end=127)],
    "not_independent": [with_("sign", team=("ann",))],
    "tool": [with_("jacking", start=100, end=106, team=("ben",))],
    "zone": [with_("wire", start=112, end=128, team=("ben",))],
    "hazard": [with_("jacking", start=136, end=142, team=("ben",))],
    "alone": [with_("under", start=420, end=432, team=("cat",))],
    "fixed": [with_("held", start=97, end=109), with_("held", team=("ben",))],
    "joiner": [with_("jacking", joiners=("kid",)), with_("torque", joiners=("ben",))],
}  # fmt: skip


def test_every_kind_of_break_that_there_is_stands_above() -> None:
    """Read off the checker's source: a code without a broken plan here could be dropped and nobody would notice."""
    source = ast.parse(Path(checker.__file__).read_text(encoding="utf-8"))
    called = [
        n for n in ast.walk(source) if isinstance(n, ast.Call) and getattr(n.func, "id", "") == "Finding"
    ]
    said = [call.args[0] for call in called]
    plain = {code.value for code in said if isinstance(code, ast.Constant)}
    worked_out = [ast.unparse(code) for code in said if not isinstance(code, ast.Constant)]

    assert worked_out == ["kind"]  # what is held: a tool or a zone
    assert plain | {"tool", "zone"} == set(BREAKS)


def test_the_good_plan_keeps_every_rule() -> None:
    """Else the breaks below would prove nothing."""
    assert check(PROBLEM, schedule()) == []


@pytest.mark.parametrize(
    ("code", "n"), [(code, n) for code, ways in BREAKS.items() for n in range(len(ways))]
)
def test_each_kind_of_break_is_found(code: str, n: int) -> None:
    """R8, R13, R27, R28 among them."""
    problem = PROBLEM
    if code == "alone":  # nobody else has work that day
        people = tuple(replace(p, hours=(*p.hours, Span(600, 700))) for p in PEOPLE)
        problem = replace(PROBLEM, people=people, days=(*DAYS, Span(600, 700)))
        broken = schedule(under=Stint("under", 620, 632, ("cat",)))
    else:
        broken = BREAKS[code][n]()
    if code == "undated":
        problem = replace(PROBLEM, tasks=(*TASKS, Task("late", 6, undated=("pump",))))

    assert code in {finding.code for finding in check(problem, broken)}


def test_stretches_without_a_learner_take_the_shorter_figure() -> None:
    """8 and 8 by two who are both skilled."""
    stints = {"loom": Stint("loom", 420, 428, ("ann", "ben")), "loom__2": GOOD["loom/2"]}

    assert check(PROBLEM, schedule(**stints)) == []


def test_company_counts_against_being_alone() -> None:
    """R28: somebody asked along is there."""
    people = tuple(replace(p, hours=(*p.hours, Span(600, 700))) for p in PEOPLE)
    problem = replace(PROBLEM, people=people, days=(*DAYS, Span(600, 700)))

    assert check(problem, schedule(under=Stint("under", 620, 632, ("cat",), (), ("ann",)))) == []


def test_what_is_fixed_is_not_judged_by_other_rules() -> None:
    """A called lift outside somebody's hours stands."""
    fixed = replace(TASKS[0], fixed=Fixed(160, ("cat",)))
    problem = replace(PROBLEM, tasks=(fixed, *TASKS[1:]))

    assert check(problem, schedule(held=Stint("held", 160, 172, ("cat",)))) == []
