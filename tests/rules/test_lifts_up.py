"""From in place to landed: R18, R19, R22."""

from __future__ import annotations

import pytest

from rules.lift_yard import CREW, EVERYBODY, Yard, lift_plan
from rules.torque_shop import NOON, member, task_row
from yokemate.planfile.model import Step
from yokemate.rules.frame import ROLES
from yokemate.rules.rows import LooseEnd, Under, Visit


def test_r18_lift_is_allowed_when_everybody_answered_a_moment_ago() -> None:
    yard = Yard().in_place()
    assert yard.lift().state == "in_place"
    yard.act("desmond", "lift")
    assert yard.lift().state == "lifting"
    assert yard.lift().there == sorted(CREW.values())


def test_r18_only_the_caller_says_lift() -> None:
    """The lead who called it does not, nor does a lifter."""
    yard = Yard().in_place()
    for who in ("ines", "aled"):
        assert yard.no("only_the_caller", who, "lift") == {"caller_person": "desmond"}


def test_r18_every_place_must_have_somebody() -> None:
    yard = Yard().in_place()
    yard.act("priya", "leave_place")
    assert yard.lift().state == "called"
    assert yard.no("place_empty", "desmond", "lift") == {"place": "guide 1"}


def test_r18_a_lookout_is_called_too_where_the_plan_says_so() -> None:
    """Without their answer the roll call is not whole; without a lookout there is no such place."""
    yard = Yard().in_place()
    yard.act("desmond", "roll", place="lookout", here=False)
    assert yard.no("roll_missing", "desmond", "lift") == {"person": "sofia"}
    plain = Yard(plan=lift_plan(lookout=False)).called()
    assert plain.no("unknown", "sofia", "take_place", place="lookout")["what"] == "place"


def test_r18_each_has_said_ready() -> None:
    """Not ready takes the answer to the roll call back too."""
    yard = Yard().in_place()
    yard.act("bram", "ready", ready=False)
    assert yard.lift().state == "crewed"
    assert "fr" not in yard.lift().roll
    assert yard.no("not_ready_person", "desmond", "lift") == {"person": "bram"}
    assert yard.no("not_ready_person", "desmond", "roll", place="fr") == {"person": "bram"}


def test_r18_the_roll_call_is_good_for_five_minutes() -> None:
    """At five minutes to the millisecond it is good; one later it is not."""
    yard = Yard().in_place()
    ticked = yard.lift().roll["fl"].at_ms
    yard.now_ms = ticked + 300_001 - 60_000
    yard.no("roll_old", "desmond", "lift")
    yard.now_ms = ticked + 300_000 - 60_000
    yard.act("desmond", "lift")


def test_r18_only_the_caller_ticks_and_only_people_who_hold_a_place() -> None:
    yard = Yard().crewed()
    yard.act("aled", "ready")
    yard.no("only_the_caller", "ines", "roll", place="fl")
    yard.no("only_the_caller", "ines", "clear_floor", children_out=True, nobody_beneath=True)
    yard.no("unknown", "desmond", "roll", place="roof")
    yard.act("desmond", "roll", place="fl")
    assert yard.lift().roll["fl"].person == "aled"


def test_r18_somebody_who_changes_place_is_called_again() -> None:
    yard = Yard().in_place()
    yard.act("aled", "leave_place")
    yard.act("aled", "take_place", place="fl")
    assert yard.lift().state == "crewed"
    assert yard.no("not_ready_person", "desmond", "lift") == {"person": "aled"}


def test_r18_nobody_is_under() -> None:
    yard = Yard(Under(id="carla", since_ms=1)).in_place()
    assert yard.no("somebody_under", "desmond", "lift") == {"under_person": "carla"}


@pytest.mark.parametrize("state", ["lifting", "held"])
def test_r27_nobody_goes_under_while_a_load_is_up(state: str) -> None:
    """Work under the car is not taken and names the caller; *I'm under* has happened, and says beside what. Down it is over."""
    under = task_row("T5", 5, Step(id="s1", say="Exhaust"))
    under = under.model_copy(update={"plan": under.plan.model_copy(update={"hazards": ["under_car"]})})
    yard = Yard(under, *(member(who, in_since_ms=NOON) for who in ("aled", "desmond"))).in_place()
    clash = {"person": "desmond", "theirs": "load_up", "ours": "under_car", "task": "T9"}
    assert yard.do("carla", "hazard.under")[0].data["beside"] == []
    yard.do("carla", "hazard.out")
    yard.quick("desmond", "lift")
    if state == "held":
        yard.act("bram", "stop")
    refused = yard.refused("hazard_clash", "aled", "task.take", task="T5")
    assert (refused["holder_person"], refused["at_it"]) == ("desmond", "has a load up")
    for who in ("carla", "desmond"):
        assert yard.do(who, "hazard.under")[0].data["beside"] == [clash]
        assert yard.view("lift", "desmond", lift="L1").under == [who]
        yard.do(who, "hazard.out")
    yard.act("desmond", "set_down")
    assert yard.do("carla", "hazard.under")[0].data["beside"] == []
    yard.do("carla", "hazard.out")
    yard.do("aled", "task.take", task="T5")


def test_r18_the_caller_says_that_nobody_is_beneath() -> None:
    yard = Yard().in_place()
    yard.quick("desmond", "clear_floor", children_out=True, nobody_beneath=False)
    yard.no("floor_not_clear", "desmond", "lift")


def test_r18_nobody_is_beneath_is_a_word_of_the_last_five_minutes() -> None:
    """As old as the roll call may be: people walk about while places are called anew."""
    yard = Yard().in_place()
    yard.now_ms += 5 * 60_000 + 1
    for place in ("fl", "fr", "guide-1", "lookout"):
        yard.quick("desmond", "roll", place=place)
    yard.no("floor_not_clear", "desmond", "lift")


def test_r18_children_are_out() -> None:
    """One who is in stops the lift until the caller says that they are out of the way; one who comes after
    stops it again."""
    yard = Yard(Visit(id="v1", what="child", in_since_ms=1)).in_place()
    yard.quick("desmond", "clear_floor", children_out=False, nobody_beneath=True)
    assert yard.no("children_in", "desmond", "lift") == {"count": 1}
    yard.now_ms -= 60_000
    yard.quick("desmond", "clear_floor", children_out=True, nobody_beneath=True)
    before = yard.lift()
    assert before.floor_ms is not None
    late = Yard(Visit(id="v1", what="child", in_since_ms=before.floor_ms + 120_000)).in_place()
    late.no("children_in", "desmond", "lift")
    yard.act("desmond", "lift")


def test_r18_one_word_of_the_floor_leaves_the_other() -> None:
    """Two ticks pressed one after the other, the second before the screen has heard of the first: both stand."""
    yard = Yard().in_place()
    yard.quick("desmond", "clear_floor", children_out=False, nobody_beneath=False)
    yard.quick("desmond", "clear_floor", children_out=True)
    yard.quick("desmond", "clear_floor", nobody_beneath=True)
    assert (yard.lift().children_out, yard.lift().nobody_beneath) == (True, True)
    yard.no("bad_input", "desmond", "clear_floor")


def test_r18_a_child_who_came_since_is_not_among_those_who_were_sent_out() -> None:
    """Another word of the floor does not speak for a child who signed in after the word about children."""
    yard = Yard().in_place()
    said_ms = yard.lift().floor_ms
    assert said_ms is not None
    yard = Yard(Visit(id="v1", what="child", in_since_ms=said_ms + 1)).in_place()
    assert not yard.view("lift", "desmond", lift="L1").children_out, "the tick is off, not only *Lift*"
    yard.quick("desmond", "clear_floor", nobody_beneath=True)
    yard.no("children_in", "desmond", "lift")


def test_r18_words_of_the_floor_older_than_the_roll_call_are_unsaid() -> None:
    """After five minutes the caller's screen has the ticks off: each is pressed once, as the roll is read again."""
    yard = Yard().in_place()
    said_ms = yard.lift().floor_ms
    assert said_ms is not None
    yard.now_ms = said_ms + 5 * 60_000
    view = yard.view("lift", "desmond", lift="L1")
    assert (view.children_out, view.nobody_beneath) == (True, True)
    yard.now_ms += 1
    view = yard.view("lift", "desmond", lift="L1")
    assert (view.children_out, view.nobody_beneath) == (False, False)
    yard.quick("desmond", "clear_floor", nobody_beneath=True)
    assert not yard.lift().children_out, "what no longer counts is not carried on"


def test_r18_a_visitor_is_no_child() -> None:
    yard = Yard(Visit(id="v1", what="visitor", in_since_ms=1)).in_place()
    yard.quick("desmond", "clear_floor", children_out=False, nobody_beneath=True)
    yard.act("desmond", "lift")


@pytest.mark.parametrize("silent", ["desmond", "sofia"])
def test_r18_the_phones_of_caller_and_lookout_are_alive(silent: str) -> None:
    yard = Yard().in_place()
    alive = [who for who in EVERYBODY if who != silent]
    assert yard.no("phone_silent", "desmond", "lift", alive=alive) == {"person": silent}


def test_r18_a_lifter_needs_no_phone() -> None:
    yard = Yard().in_place()
    yard.act("desmond", "lift", alive=["desmond", "sofia"])


def test_r18_no_minor_holds_a_place_also_when_they_became_one() -> None:
    """The lead corrects an age group after the places were taken: the place is free again."""
    yard = Yard().in_place()
    yard.do("ines", "crew.change_member", person="bram", minor="with_adult")
    assert "fr" not in yard.lift().places and "bram" not in yard.lift().ready and "fr" not in yard.lift().roll
    assert yard.lift().state == "called"
    yard.no("place_empty", "desmond", "lift")


def test_r18_a_load_that_is_up_is_not_lifted_on_by_one_who_became_a_minor() -> None:
    yard = Yard().lifting()
    yard.do("ines", "crew.change_member", person="bram", minor="with_adult")
    assert yard.lift().places["fr"] == "bram"
    yard.act("vera", "stop")
    yard.roll()
    assert yard.no("minor_no_place", "desmond", "go_on") == {"person": "bram"}


def test_r18_somebody_who_left_the_crew_leaves_an_empty_place() -> None:
    yard = Yard().in_place()
    yard.do("ines", "crew.leave", person="priya")
    assert yard.lift().state == "called"
    yard.no("place_empty", "desmond", "lift")


def test_r18_the_answer_of_one_who_left_is_not_the_answer_of_who_came_instead() -> None:
    yard = Yard().in_place()
    yard.do("ines", "crew.leave", person="priya")
    yard.act("carla", "take_place", place="guide-1")
    yard.act("carla", "ready")
    assert yard.lift().state == "crewed"
    assert yard.no("roll_missing", "desmond", "lift") == {"person": "carla"}


def test_r18_lifters_and_guides_must_be_as_many_as_the_task_wants() -> None:
    """The caller and the lookout come on top: five people, of whom three count."""
    yard = Yard()
    task = yard.state.rows["task"]["T9"]
    yard.state.rows["task"]["T9"] = task.model_copy(
        update={"plan": task.plan.model_copy(update={"must_people": 4})}
    )
    yard.in_place()
    assert yard.no("too_few", "desmond", "lift") == {"have": 3, "need": 4}


@pytest.mark.parametrize("who", ["aled", "vera", "kofi", "ines", "carla"])
def test_r19_anybody_stops_it(who: str) -> None:
    """Lifter, viewer, minor, lead, a helper without a place: it is held, and the roll call is empty."""
    yard = Yard().lifting()
    yard.act(who, "stop")
    lift = yard.lift()
    assert lift.state == "held"
    assert lift.held is not None
    assert lift.held.by == who
    assert lift.roll == {}
    assert not lift.nobody_beneath


def test_r19_stop_is_open_to_every_role() -> None:
    from yokemate.rules.frame import COMMANDS

    spec = COMMANDS["lift.stop"]
    assert spec.who == frozenset(ROLES)
    assert (spec.act, spec.sent, spec.refusals) == ("report", "stop", ())


@pytest.mark.parametrize("begin", ["called", "crewed", "in_place"])
def test_r19_before_lifting_stop_empties_the_roll_call(begin: str) -> None:
    yard = Yard()
    getattr(yard, begin)()
    yard.act("vera", "stop")
    lift = yard.lift()
    assert lift.state == ("called" if begin == "called" else "crewed")
    assert lift.roll == {}
    assert lift.held is None
    assert lift.stopped is not None
    if begin == "in_place":
        yard.no("roll_missing", "desmond", "lift")


def test_r19_stop_is_kept_where_there_is_nothing_to_stop() -> None:
    yard = Yard()
    entry = yard.act("vera", "stop")[0]
    assert entry.data == {"lift": "L1", "effect": "none"}
    assert yard.lift().state == "drafted"


def test_r19_go_on_wants_a_fresh_roll_call() -> None:
    """Nothing of the roll call before STOP counts; with a new one it goes on."""
    yard = Yard().lifting()
    yard.act("bram", "stop")
    assert yard.no("roll_missing", "desmond", "go_on")["person"] == "aled"
    yard.roll()
    yard.no("only_the_caller", "aled", "go_on")
    yard.no("phone_silent", "desmond", "go_on", alive=["desmond"])
    yard.act("desmond", "go_on")
    assert yard.lift().state == "lifting"
    assert yard.lift().held is None


def test_r19_lift_is_no_way_round_held() -> None:
    yard = Yard().lifting()
    yard.act("bram", "stop")
    yard.roll()
    yard.no("not_in_state", "desmond", "lift")


def test_r19_lower_from_held_is_the_callers_word() -> None:
    yard = Yard().lifting()
    yard.act("desmond", "lower")
    assert not yard.lift().lowering
    yard.act("bram", "stop")
    yard.act("aled", "lower")
    assert not yard.lift().lowering
    yard.act("desmond", "lower")
    assert yard.lift().lowering
    yard.act("aled", "stop")
    assert not yard.lift().lowering


def test_r19_a_stop_after_set_down_takes_that_word_back() -> None:
    yard = Yard().lifting()
    yard.act("desmond", "set_down")
    yard.act("aled", "stop")
    assert yard.lift().state == "held"
    assert yard.lift().set_down is None
    yard.no("not_in_state", "aled", "sign_landed")


def test_r22_set_down_by_the_caller_and_signed_by_another_who_was_there() -> None:
    yard = Yard().lifting()
    yard.no("not_in_state", "aled", "sign_landed")
    yard.act("desmond", "set_down")
    assert yard.lift().state == "lifting"
    yard.no("somebody_else", "desmond", "sign_landed")
    yard.no("was_not_there", "ines", "sign_landed")
    yard.act("aled", "sign_landed")
    assert yard.lift().state == "landed"


def test_r22_set_down_from_held_too() -> None:
    yard = Yard().lifting()
    yard.act("aled", "stop")
    yard.act("desmond", "lower")
    yard.act("desmond", "set_down")
    yard.act("aled", "sign_landed")
    assert yard.lift().state == "landed"


def test_r19_r22_what_is_set_down_does_not_go_on() -> None:
    """Else it would be lifting and set down at once, and be signed as landed while it is up. STOP takes the word back."""
    yard = Yard().lifting()
    yard.act("aled", "stop")
    yard.act("desmond", "set_down")
    yard.roll()
    assert yard.no("is_set_down", "desmond", "go_on") == {"lift": "Shell on"}
    assert "lift.go_on" not in yard.view("lift", "desmond", lift="L1").can
    yard.act("aled", "stop")
    yard.roll()
    yard.act("desmond", "go_on")
    assert (yard.lift().state, yard.lift().set_down) == ("lifting", None)


def test_r22_set_down_by_another_who_is_there_counts_and_is_marked() -> None:
    """The caller's phone may be dead; then the caller may be the second."""
    yard = Yard().lifting()
    yard.act("carla", "set_down")
    assert yard.lift().set_down is None
    yard.act("bram", "set_down")
    assert not yard.lift().set_down_by_caller
    yard.no("somebody_else", "bram", "sign_landed")
    yard.act("desmond", "sign_landed")
    assert yard.lift().state == "landed"


def test_r22_set_down_before_lifting_is_kept_without_effect() -> None:
    yard = Yard().in_place()
    yard.act("desmond", "set_down")
    assert yard.lift().state == "in_place"
    assert yard.ends() == []


def test_r22_what_was_propped_is_a_loose_end() -> None:
    """Said twice (a stop came between), it is opened once."""
    yard = Yard().lifting()
    yard.act("desmond", "set_down")
    yard.act("aled", "stop")
    yard.act("desmond", "set_down")
    ends = yard.ends(kind="propped")
    assert [(end.plan_id, end.gate, end.zone) for end in ends] == [("P1", "roll", "bay")]


def test_r19_landing_elsewhere_opens_a_loose_end() -> None:
    yard = Yard().lifting()
    yard.act("desmond", "set_down", elsewhere_text="p-7")
    end = yard.ends(kind="landed_elsewhere")[0]
    assert (end.gate, end.note) == ("crank", "p-7")
    assert yard.lift().landed_elsewhere == "p-7"
    assert isinstance(end, LooseEnd)


def test_r18_one_who_lifts_may_call_only_where_the_lift_says_so() -> None:
    """Then one person holds both places and needs to be ready, but is not read out to themselves."""
    plain = Yard().called()
    plain.act("desmond", "take_place", place="caller")
    plain.no("one_place", "desmond", "take_place", place="fl")
    yard = Yard(plan=lift_plan(caller_lifts=True, lookout=False, guides=0)).called()
    yard.act("desmond", "take_place", place="caller")
    yard.act("desmond", "take_place", place="fl")
    yard.act("bram", "take_place", place="fr")
    yard.act("bram", "ready")
    yard.quick("desmond", "roll", place="fr")
    yard.quick("desmond", "clear_floor", children_out=True, nobody_beneath=True)
    assert yard.no("not_ready_person", "desmond", "lift") == {"person": "desmond"}
    yard.now_ms -= 60_000
    yard.act("desmond", "ready")
    yard.act("desmond", "lift")


def test_r18_a_guest_and_a_new_member_may_lift() -> None:
    yard = Yard(member("guest", role="helper")).called()
    yard.act("guest", "take_place", place="fl")
    assert yard.lift().places == {"fl": "guest"}
