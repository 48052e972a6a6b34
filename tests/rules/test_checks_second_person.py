"""The second person: fresh eyes, each fastener, an allowed method, their own PIN, exactly these readings
(R13, R14).
"""

from __future__ import annotations

import pytest

from rules.torque_shop import Shop, group_row, looked, task_row
from yokemate.planfile.model import Step
from yokemate.rules.rows import Check, Countersign, Group


def test_r13_a_countersign_from_plan_to_signature() -> None:
    """R13: checked without PIN first, then signed with it, for exactly the digest that was seen."""
    shop = Shop()
    digest = shop.make_final()
    check = shop.look()
    assert check.state == "pin_due"
    (sign,) = shop.sign(check)
    assert (sign.by, sign.group, sign.readings_digest, sign.check) == ("sofia", "G1", digest, check.id)
    assert shop.group().countersign == sign.id
    assert shop.state.get(Check, check.id).state == "signed"


@pytest.mark.parametrize(
    ("who", "code"),
    [
        ("aled", "fresh_eyes"),
        ("bram", "fresh_eyes"),
        ("kofi", "minor_cannot"),
        ("priya", "may_not_countersign"),
        ("vera", "viewer"),
    ],
)
def test_r13_no_one_who_touched_it_no_minor_no_one_without_the_right(who, code) -> None:
    """R13, R8: the doer, who had joined the task, an under-18, who may not countersign, a viewer."""
    shop = Shop()
    shop.make_final()
    shop.refused(
        code,
        who,
        "torque.note_check",
        group="G1",
        readings_digest=shop.group().readings_digest,
        bolts=looked(shop.group()),
    )


@pytest.mark.parametrize("how", ["helped", "typed", "ran_in", "read_an_early_pass", "joined_later", "lead"])
def test_r13_every_way_of_having_touched_it(how) -> None:
    """R13: held the other end, typed it for the doer, ran in, read one early pass, joined the task; no role
    overrides.
    """
    who = "ines" if how == "lead" else "sofia"
    shop = Shop()
    if how == "ran_in":
        shop.do(who, "torque.run_in", group="G1", bolts=[1], how="run_in")
    if how == "read_an_early_pass":
        shop.read(1, who=who, pass_no=1, task=None)
    more = {"helped": [who]} if how in ("helped", "lead") else {"typed_by": who} if how == "typed" else {}
    shop.make_final(**more)
    if how == "joined_later":
        task = shop.state.rows["task"]["T1"]
        shop.state.rows["task"]["T1"] = task.model_copy(update={"worked": ["aled", who]})
        shop.first.rows["task"]["T1"] = shop.state.rows["task"]["T1"]
    shop.refused(
        "fresh_eyes",
        who,
        "torque.note_check",
        group="G1",
        readings_digest=shop.group().readings_digest,
        bolts=looked(shop.group()),
    )


def test_r13_somebody_else_may() -> None:
    """R13: the positive of the above: Ines, who did not touch it, may check and sign."""
    shop = Shop()
    shop.make_final()
    assert shop.sign(shop.look("ines"), who="ines")[0].by == "ines"


def test_r13_since_it_was_last_undone() -> None:
    """R13: after undoing, who ran it in before may check; the doer of this round may not."""
    shop = Shop(group_row("G2"))
    shop.do("sofia", "torque.run_in", group="G2", bolts=[1, 2, 3], how="run_in")
    shop.make_final("G2")
    shop.do("aled", "torque.report_loosened", group="G2", bolts=[1, 2, 3])
    shop.make_final("G2", who="bram")
    shop.look("sofia", "G2")


def test_r13_each_fastener() -> None:
    """R13: a bolt without a word keeps the whole check back, and is named."""
    shop = Shop()
    shop.make_final()
    params = shop.refused(
        "bolts_missing",
        "sofia",
        "torque.note_check",
        group="G1",
        readings_digest=shop.group().readings_digest,
        bolts=looked(shop.group())[:2],
    )
    assert params["bolts"] == [3]


def test_r13_by_a_method_allowed_for_that_group() -> None:
    """R13: paint marks don't do where the plan names other ways."""
    shop = Shop()
    shop.make_final()
    params = shop.refused(
        "method_not_allowed",
        "sofia",
        "torque.note_check",
        group="G1",
        readings_digest=shop.group().readings_digest,
        bolts=looked(shop.group(), how="paint_mark_seen"),
    )
    assert params["allowed"] == ["torque_wrench_again", "watched"]


def test_r13_nothing_to_check_before_it_is_final() -> None:
    """R13: readings that do not make the group final are no ground for a check."""
    shop = Shop()
    shop.read(1, 2, 3, pass_no=1)
    shop.refused(
        "nothing_to_check",
        "sofia",
        "torque.note_check",
        group="G1",
        readings_digest="",
        bolts=looked(shop.group()),
    )


def test_r13_their_own_pin() -> None:
    """R13, R29: no PIN, a wrong PIN: nothing is signed."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    fields = {"checks": [check.id], "readings_digests": {"G1": check.readings_digest}}
    shop.refused("pin_needed", "sofia", "torque.countersign", **fields)
    shop.refused("pin_wrong", "sofia", "torque.countersign", pin=False, **fields)


def test_r13_somebody_elses_check_is_not_signed() -> None:
    """R13: what Sofia found, Sofia signs."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    shop.refused(
        "check_missing",
        "ines",
        "torque.countersign",
        pin=True,
        checks=[check.id],
        readings_digests={"G1": check.readings_digest},
    )


def test_r13_who_joins_between_check_and_pin_does_not_sign() -> None:
    """R13: judged again at the signature."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    task = shop.state.rows["task"]["T1"].model_copy(update={"worked": ["aled", "sofia"]})
    shop.state.rows["task"]["T1"] = shop.first.rows["task"]["T1"] = task
    shop.refused(
        "fresh_eyes",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[check.id],
        readings_digests={"G1": check.readings_digest},
    )


def test_r13_one_pin_for_a_walk_round_of_several_groups_listed() -> None:
    """R13: one command, one walk id, a signature per group; one that fails signs none."""
    shop = Shop(group_row("G2"), task_row("T2", 2, Step(id="s1", say="x", kind="tighten", group="G2")))
    shop.make_final("G1")
    shop.make_final("G2")
    checks = [shop.look(), shop.look(group="G2")]
    shop.refused(
        "readings_changed",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[c.id for c in checks],
        readings_digests={"G1": checks[0].readings_digest, "G2": "0" * 64},
    )
    assert list(shop.state.all(Countersign)) == []
    signs = shop.sign(*checks)
    assert [s.group for s in signs] == ["G1", "G2"]
    assert signs[0].walk == signs[1].walk


def test_r13_a_group_with_unsent_readings_says_so() -> None:
    """R13: the phone names the groups whose readings it still holds; none of these is signed."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    shop.refused(
        "unsent_readings",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[check.id],
        readings_digests={"G1": check.readings_digest},
        unsent_groups=["G1"],
    )


def test_a_pin_over_an_open_network_is_marked() -> None:
    """3-architecture: PIN acts over plain HTTP are recorded so."""
    shop = Shop()
    shop.make_final()
    check = shop.look()
    shop.do(
        "sofia",
        "torque.countersign",
        pin=True,
        facts={"over_open_network": True},
        checks=[check.id],
        readings_digests={"G1": check.readings_digest},
    )
    assert next(shop.state.all(Countersign)).open_network


def test_r14_a_new_reading_lapses_the_countersign_with_the_reason() -> None:
    """R14: it holds for exactly the readings it was given for."""
    shop = Shop()
    sign = shop.countersigned()
    shop.read(1)
    lapsed = shop.state.get(Countersign, sign.id)
    assert (lapsed.lapsed_why, lapsed.lapsed_by) == ("new_reading", "aled")
    assert shop.group().countersign is None
    assert shop.group().state == "final"


def test_r14_a_new_reading_that_does_not_count_lapses_it_too() -> None:
    """R14: somebody had a torque wrench on it; the second person looks again."""
    shop = Shop()
    shop.countersigned()
    shop.read(1, who="ines", task="T1")
    assert shop.group().countersign is None


def test_r14_a_re_check_that_holds_keeps_it() -> None:
    """R14: the same readings, looked at again, did not move."""
    shop = Shop()
    sign = shop.countersigned()
    again = shop.look("ines")
    assert again.state == "still_holds"
    assert shop.group().countersign == sign.id


def test_r14_a_re_check_that_moved_lapses_it_and_the_bolts_are_not_final() -> None:
    """R14: only the bolt that moved loses its reading; the group is a loose end again."""
    shop = Shop()
    sign = shop.countersigned()
    shop.look("ines", moved=(2,))
    assert shop.state.get(Countersign, sign.id).lapsed_why == "moved"
    assert [b.final for b in shop.group().bolts] == [True, False, True]
    assert (shop.group().state, shop.group().readings_digest) == ("started", "")
    assert [e.kind for e in shop.ends(closed=None)] == ["undone"]


def test_r14_a_check_that_moved_is_not_signed() -> None:
    """R14: the bolt that moved is tightened and read again first."""
    shop = Shop()
    shop.make_final()
    check = shop.look(moved=(1,))
    assert check.state == "sent_back"
    shop.refused(
        "check_moved",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[check.id],
        readings_digests={"G1": check.readings_digest},
    )


def test_r14_having_found_one_that_moved_the_rest_may_wait() -> None:
    """R14: the find counts at once; nobody is asked to go on with a check that has failed."""
    shop = Shop()
    shop.make_final()
    shop.do(
        "sofia",
        "torque.note_check",
        group="G1",
        readings_digest=shop.group().readings_digest,
        bolts=[{"n": 1, "found": "moved", "how": "watched"}],
    )
    assert not shop.bolt(1).final


def test_r13_send_it_back_says_which_bolt_and_why() -> None:
    """R13: the second person is not satisfied; that bolt is read again; whoever touched it can't send it
    back.
    """
    shop = Shop()
    shop.countersigned()
    shop.refused("fresh_eyes", "bram", "torque.send_back", group="G1", bolts=[3], reason="not_clear")
    shop.do("sofia", "torque.send_back", group="G1", bolts=[3], reason="not_clear")
    assert not shop.bolt(3).final
    assert shop.group().countersign is None
    shop.refused("nothing_to_check", "sofia", "torque.send_back", group="G1", bolts=[3], reason="not_clear")


def test_r13_a_check_value_is_not_a_reading() -> None:
    """What is kept: a check value stands in the check and changes no reading."""
    shop = Shop()
    digest = shop.make_final()
    bolts = [b | {"value": "24.5", "unit": "n_m"} for b in looked(shop.group())]
    check = shop.look(bolts=bolts)
    assert check.bolts[0].value == "24.5"
    assert shop.group().readings_digest == digest


def test_r32_a_walk_needs_something_to_sign() -> None:
    """R32: nothing listed, a check that is not there, one group listed twice."""
    shop = Shop()
    shop.make_final()
    shop.refused("bad_input", "sofia", "torque.countersign", pin=True, checks=[], readings_digests={})
    shop.refused("unknown", "sofia", "torque.countersign", pin=True, checks=["c99"], readings_digests={})
    one, two = shop.look(), shop.look()
    shop.refused(
        "bad_input",
        "sofia",
        "torque.countersign",
        pin=True,
        checks=[one.id, two.id],
        readings_digests={"G1": one.readings_digest},
    )


def test_the_digest_tells_readings_apart() -> None:
    """R14: another value, torque wrench or reading gives another digest."""
    digests = set()
    for value, wrench in (("24", "W1"), ("24.1", "W1")):
        shop = Shop()
        shop.read(1, 2, 3, pass_no=1)
        shop.read((1, value), (2, "24"), (3, "24"), wrench=wrench)
        digests.add(shop.state.get(Group, "G1").readings_digest)
    assert len(digests) == 2


def test_r13_who_corrected_a_figure_does_not_sign_under_it() -> None:
    """A figure typed anew is a reading that this person had a hand in, also when the value stays the same."""
    shop = Shop()
    shop.make_final()
    shop.do("sofia", "torque.correct", reading=shop.bolt(1).passes["2"], value="24")
    assert shop.group().state == "final"
    shop.refused(
        "fresh_eyes", "sofia", "torque.note_check", group="G1",
        readings_digest=shop.group().readings_digest, bolts=looked(shop.group()),
    )  # fmt: skip


def test_r8_a_minor_sends_nothing_back() -> None:
    shop = Shop()
    shop.make_final()
    shop.refused("minor_cannot", "kofi", "torque.send_back", group="G1", bolts=[1], reason="not_clear")
