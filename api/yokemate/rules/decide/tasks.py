"""Taking, joining, leaving, handing over (R5 to R8, R10, R27, R28)."""

from __future__ import annotations

from yokemate.rules.commands.tasks import (
    GiveBack,
    GoHome,
    GoOn,
    HavePart,
    JoinTask,
    LeaveTask,
    PassOn,
    Stuck,
    TakeOver,
    TakeTask,
    WantHelp,
)  # fmt: skip
from yokemate.rules.decide.group_changes import interrupt_groups
from yokemate.rules.decide.task_changes import hand_back
from yokemate.rules.frame import Deciding, decides
from yokemate.rules.gatekeeper import is_deputy
from yokemate.rules.hazard_pairs import NEVER_ALONE
from yokemate.rules.presence import is_alone, is_in
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Member, Part, Task
from yokemate.rules.taking import (
    has_skill,
    minor_level,
    need_no_harm,
    need_ready,
    need_suits,
    needs,
    not_on,
    people_on,
)
from yokemate.rules.transitions import need_state


@decides(TakeTask)
def take(d: Deciding, cmd: TakeTask) -> None:
    task = d.get(Task, cmd.task)
    if task.state == "taken":
        if d.who in people_on(task):
            raise Refused("already_yours")
        raise Refused("taken_by", task=task.id, holder_person=task.holder, taken_ms=task.taken_at_ms)
    if task.state == "left_out":
        raise Refused("left_out", task=task.id)
    need_state(task, "task.take")
    _need_may_lead(d, task, d.get(Member, d.who))
    d.tell("task.taken", task=task.id)


def _need_may_lead(d: Deciding, task: Task, member: Member) -> None:
    need_suits(d, task, member, leads=True)
    need_ready(d, task, d.now_ms)
    need_no_harm(d, task, member.id, d.now_ms)


@decides(TakeOver)
def take_over(d: Deciding, cmd: TakeOver) -> None:
    task = d.get(Task, cmd.task)
    need_state(task, "task.take_over")
    member = d.get(Member, d.who)
    if task.holder == d.who:
        raise Refused("already_yours")
    if not _stuck_or_left(d, task) and d.get(Member, d.who).role != "lead":
        raise Refused("not_stuck_or_left", holder_person=task.holder)
    need_suits(d, task, member, leads=True)
    need_no_harm(d, task, d.who, d.now_ms)
    interrupt_groups(d, task, "taken_over")
    d.tell("task.taken_over", task=task.id, before=task.holder, reason=cmd.reason)


@decides(JoinTask)
def join(d: Deciding, cmd: JoinTask) -> None:
    task = d.get(Task, cmd.task)
    if task.state != "taken":
        raise Refused("not_taken", task=task.id)
    if d.who in people_on(task):
        raise Refused("already_yours")
    member = d.get(Member, d.who)
    level = minor_level(task, member)
    if level == "no":
        raise Refused("minor_no", task=task.id, ask_person=task.holder)
    if level == "watch" and not cmd.learner:
        raise Refused("minor_watch")
    if not cmd.learner:
        _need_room(d, task, member)
    if NEVER_ALONE & set(task.plan.hazards) and is_alone(d, d.who, d.now_ms):
        raise Refused("alone")
    d.tell("task.joined", task=task.id, learner=cmd.learner or not has_skill(task, member))
    if task.help_wanted and len(people_on(task)) + 1 >= max(task.plan.must_people, task.plan.better_people):
        d.tell("task.help_wanted", task=task.id, wanted=False)


def _need_room(d: Deciding, task: Task, member: Member) -> None:
    """One more than the work asks for is enough; not where it lacks just this person, or somebody is stuck (R6 to R8)."""
    most = max(task.plan.must_people, task.plan.better_people, 2 if task.plan.buddy else 1) + 1
    hands = 1 + sum(not mate.learner for mate in task.mates)
    if hands >= most and not needs(d, task, member):
        raise Refused("enough_here", count=hands)


@decides(LeaveTask)
def leave(d: Deciding, cmd: LeaveTask) -> None:
    task = d.get(Task, cmd.task)
    if d.who not in [mate.person for mate in task.mates]:
        raise not_on(task)
    d.tell("task.mate_left", task=task.id, person=d.who)


@decides(WantHelp)
def want_help(d: Deciding, cmd: WantHelp) -> None:
    task = _mine(d, cmd.task)
    if task.help_wanted != cmd.wanted:
        d.tell("task.help_wanted", task=task.id, wanted=cmd.wanted)


@decides(Stuck)
def stuck(d: Deciding, cmd: Stuck) -> None:
    task = d.get(Task, cmd.task)
    if task.state != "taken" or d.who not in people_on(task):
        _kept(d, task, "stuck", cmd.note_text, cmd.photo)
        return
    interrupt_groups(d, task, "stuck")
    d.tell("task.stuck", task=task.id, reason=cmd.reason, note=cmd.note_text, photo=cmd.photo)


@decides(GoOn)
def go_on(d: Deciding, cmd: GoOn) -> None:
    task = _mine(d, cmd.task)
    if task.stuck is None:
        raise Refused("not_stuck", task=task.id)
    need_no_harm(d, task, d.who, d.now_ms)
    d.tell("task.went_on", task=task.id)


@decides(GiveBack)
def give_back(d: Deciding, cmd: GiveBack) -> None:
    task = d.get(Task, cmd.task)
    if task.state != "taken" or task.holder != d.who:
        _left_or_kept(d, task, "gave_back", cmd.note_text, None)
        return
    hand_back(d, task, "gave_back", cmd.reason, note=cmd.note_text)


@decides(GoHome)
def go_home(d: Deciding, cmd: GoHome) -> None:
    task = d.get(Task, cmd.task)
    if task.state != "taken" or task.holder != d.who:
        _left_or_kept(d, task, "went_home", cmd.note_text, cmd.photo)
        return
    hand_back(
        d, task, "went_home", cmd.reason, step=cmd.step, loose=list(cmd.loose), note=cmd.note_text, photo=cmd.photo,
        tag_on_car=cmd.tag_on_car,
    )  # fmt: skip


@decides(PassOn)
def pass_on(d: Deciding, cmd: PassOn) -> None:
    task = d.get(Task, cmd.task)
    need_state(task, "task.pass_on")
    if task.holder != d.who and not _may_move(d, task):
        raise Refused("not_yours_to_pass", holder_person=task.holder)
    to = d.find(Member, cmd.to_person)
    if to is None or to.left or to.role == "viewer":
        raise Refused("not_on_the_crew", gone_person=cmd.to_person)
    if to.guest_until_ms is not None and d.now_ms >= to.guest_until_ms:
        raise Refused("guest_gone", guest_person=to.id)
    if to.id == task.holder:
        raise Refused("has_it_already", holder_person=to.id)
    need_suits(d, task, to, leads=True)
    if task.stuck is not None:  # passing on ends it, as *Go on* does
        need_no_harm(d, task, to.id, d.now_ms)
    interrupt_groups(d, task, "passed_on")
    d.tell("task.passed_on", task=task.id, to=to.id, note=cmd.note_text, by=d.who)


def _may_move(d: Deciding, task: Task) -> bool:
    """A lead moves work from one to another; the deputy of the day what is stuck, or whose holder is not here (R30)."""
    member = d.get(Member, d.who)
    return member.role == "lead" or (is_deputy(member, d.now_ms) and _stuck_or_left(d, task))


def _stuck_or_left(d: Deciding, task: Task) -> bool:
    return task.stuck is not None or not is_in(d.find(Member, task.holder or ""), d.now_ms)


@decides(HavePart)
def have_part(d: Deciding, cmd: HavePart) -> None:
    """Yes corrects the stock upwards: whoever holds it in the hand is right, not the count (R5)."""
    task, part = d.get(Task, cmd.task), d.get(Part, cmd.part)
    wanted = next((use.count for use in task.plan.uses if use.part == part.id), 1)
    stock = max(part.in_stock, wanted) if cmd.have else min(part.in_stock, wanted - 1)
    if part.id in task.used_up:  # it is in the car: said late, it is no word on the shelf
        stock = part.in_stock
    d.tell("task.part_answered", task=task.id, part=part.id, have=cmd.have, in_stock=stock)


def _mine(d: Deciding, task_id: str) -> Task:
    task = d.get(Task, task_id)
    if task.state != "taken" or d.who not in people_on(task):
        raise not_on(task)
    return task


def _left_or_kept(d: Deciding, task: Task, what: str, note: str | None, photo: str | None) -> None:
    """A mate who gives back or goes home only leaves; anybody else's word is kept as a note."""
    if d.who in [mate.person for mate in task.mates]:
        d.tell("task.mate_left", task=task.id, person=d.who)
        if note is None and photo is None:
            return
    _kept(d, task, what, note, photo)


def _kept(d: Deciding, task: Task, what: str, note: str | None, photo: str | None) -> None:
    d.tell(
        "task.report_kept",
        id=d.new_id("note"),
        task=task.id,
        what=what,
        why_not="not_on_it",
        note=note,
        photo=photo,
    )
