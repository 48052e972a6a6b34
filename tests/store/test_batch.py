"""A phone's outbox: in order, each command alone; refused asks are kept as evidence, in bundles."""

from __future__ import annotations

from typing import Any

import pytest

from support.service import BUILD, Service, command_id
from support.small_plan import load_small_plan
from yokemate.handle import Answer
from yokemate.handle.batch import Batch
from yokemate.rules.commands.lifts import SayReady, TakePlace
from yokemate.rules.commands.tasks import TakeTask
from yokemate.rules.frame import Command, Deciding
from yokemate.rules.refusals import Refused
from yokemate.rules.rows import Evidence, Task, Visit
from yokemate.store import payloads


@pytest.fixture
def crew(service: Service) -> Service:
    """A small plan is loaded; Bram and Kofi have joined and all are in."""
    service.join("bram", "ines", role="builder")
    service.join("kofi", "ines")
    load_small_plan(service)
    for name in ("ines", "bram", "kofi"):
        service.do(name, "crew.sign_in")
    return service


def item(kind: str, /, *, id: str | None = None, after: str | None = None, **body: Any) -> dict[str, Any]:
    made: dict[str, Any] = {"id": id or command_id(), "kind": kind, "body": body}
    return made | ({"after": after} if after else {})


def hand_over(service: Service, who: str, *items: Any) -> list[Answer]:
    return Batch(service.handler, BUILD, service.phones[who]).run(items)


def evidence(service: Service) -> list[Evidence]:
    loaded = service.handler.states.current(BUILD)
    assert loaded is not None
    return list(loaded.state.all(Evidence))


def test_what_waited_is_done_in_its_order(crew: Service) -> None:
    """R3: the outbox is judged in the order it was made, whatever the phone's clock said."""
    answers = hand_over(
        crew, "bram", item("task.take", task="T1"), item("task.tick", task="T1", steps=["a"]), item("task.stuck", task="T1", reason="cold")
    )  # fmt: skip

    assert [one.status for one in answers] == ["accepted"] * 3
    heads = [one.entries for one in answers if one.entries]
    assert heads == sorted(heads)


def test_handed_over_twice_done_once(crew: Service) -> None:
    """R3: a phone whose answer was lost hands the same over again and hears the same."""
    items = [
        item("task.take", task="T1"),
        item("task.take", task="nowhere"),
        item("crew.visitor_in", what="child"),
    ]
    first = hand_over(crew, "bram", *items)
    head = max(one.head for one in first)

    again = hand_over(crew, "bram", *items)

    assert again == first
    assert crew.do("bram", "crew.sign_in").entries == (head + 1, head + 1)


def test_poison_in_the_outbox_jams_nothing(crew: Service) -> None:
    """R32: what can't be read is refused by itself; what stands behind it is done."""
    good = item("crew.visitor_in", what="visitor")
    poison: list[Any] = [
        5, None, [], {"id": "x"}, {"kind": "task.take"}, item("task.take", task=7),
        item("task.take"), {**item("crew.sign_in"), "device_ms": 2**60}, item("crew.visitor_in", what="child", name_text="\x00"),
        item("crew.visitor_in", what="visitor", with_person="\ud800"), {**item("crew.sign_in"), "surprise": True, "device_ms": -1},
    ]  # fmt: skip

    answers = hand_over(crew, "bram", *poison, good)

    assert [one.code for one in answers] == ["bad_input"] * len(poison) + [None]
    loaded = crew.handler.states.current(BUILD)
    assert loaded is not None
    assert len(list(loaded.state.all(Visit))) == 1


def test_a_rule_that_breaks_down_jams_nothing(crew: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    """R32: a fault of the program over one command is said, leaves no receipt, and the next one is done."""
    monkeypatch.setitem(_decides(), "task.stuck", _broken)
    items = [
        item("task.take", task="T1"),
        item("task.stuck", task="T1", reason="cold"),
        item("crew.sign_out"),
    ]

    answers = hand_over(crew, "bram", *items)
    monkeypatch.undo()
    again = hand_over(crew, "bram", *items)

    assert [one.code for one in answers] == [None, "fault", None]
    assert [one.status for one in again] == ["accepted"] * 3


def test_what_builds_on_an_ask_that_broke_down_waits_with_it(
    crew: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    """R3, R4: it is not refused for what that ask could not do; whatever has nothing to do with it goes on."""
    monkeypatch.setitem(_decides(), "task.take", _broken)
    items = [
        item("task.take", task="T1"),
        item("task.tick", task="T1", steps=["a"]),
        item("crew.sign_out"),
    ]

    answers = hand_over(crew, "bram", *items)
    monkeypatch.undo()
    again = hand_over(crew, "bram", *items)

    assert [one.code for one in answers] == ["fault", "behind_fault", None]
    assert [one.status for one in again] == ["accepted"] * 3


@pytest.mark.parametrize(
    ("newer", "what"),
    [
        (item("task.weigh", task="T1"), "the command task.weigh"),
        (item("task.take", task="T1", hurry=True), "the field hurry"),
        ({**item("task.take", task="T1"), "signed": "abc"}, "the field signed"),
        (item("task.give_back", task="T1", reason="earthquake"), "“earthquake” for reason"),
    ],
)
def test_what_a_newer_app_says_waits_and_what_builds_on_it_with_it(
    crew: Service, newer: dict[str, Any], what: str
) -> None:
    """R3: nothing is wrong with it, so it has no receipt and goes once this service knows it; nothing else waits."""
    take, after = item("task.take", task="T1"), item("task.take", task="T2", after=newer["id"])
    items = [newer, take, after, item("task.stuck", task="T1", reason="cold"), item("crew.sign_out")]

    answers = hand_over(crew, "bram", *items)
    [alone] = hand_over(crew, "bram", take)

    assert [one.code for one in answers] == ["other_version", "behind_fault", "behind_fault", None, None]
    assert answers[0].params == {"what": what}
    assert alone.status == "accepted"
    assert evidence(crew) == []


@pytest.mark.parametrize("kind", ["gate.propose", "lift.lift", "torque.countersign", "crew.invite"])
def test_what_is_sent_at_once_never_waits(crew: Service, kind: str) -> None:
    """R18, R25: a command of the moment is not taken from an outbox."""
    bodies: dict[str, dict[str, Any]] = {
        "gate.propose": {"gate": "G1", "confirmed": []}, "lift.lift": {"lift": "L1"},
        "torque.countersign": {"checks": [], "readings_digests": {}}, "crew.invite": {"invite": "x", "role": "viewer"},
    }  # fmt: skip

    [answer] = hand_over(crew, "ines", item(kind, **bodies[kind]))

    assert (answer.status, answer.code) == ("refused", "now_only")


@pytest.mark.parametrize(
    "kind", ["evidence.keep", "build.make", "crew.join", "crew.recover_lead", "crew.renew_pin"]
)
def test_nobody_hands_over_what_the_service_makes_itself(crew: Service, kind: str) -> None:
    """R29: evidence, membership and the lead's way back are not made by writing them into an outbox."""
    bodies: dict[str, dict[str, Any]] = {
        "evidence.keep": {"code": "x", "asks": []}, "build.make": {"name": "x"}, "crew.join": {"invite": "x"},
        "crew.recover_lead": {"person": "person-bram"},
        "crew.renew_pin": {"person": "person-bram"},
    }  # fmt: skip

    [answer] = hand_over(crew, "bram", item(kind, **bodies[kind]))

    assert (answer.status, answer.code) == ("refused", "bad_input")


def test_a_refused_ask_and_what_built_on_it_are_one_bundle(crew: Service) -> None:
    """R4: one refusal is shown, not three; all that was typed is kept beside the task by one entry."""
    crew.do("ines", "task.take", task="T1")
    take, tick, sign = (
        item("task.take", task="T1"),
        item("task.tick", task="T1", steps=["a"]),
        item("task.sign_off", task="T1"),
    )

    answers = hand_over(crew, "bram", take, tick, sign)

    [bundle] = evidence(crew)
    assert [one.status for one in answers] == ["refused", "kept_as_evidence", "kept_as_evidence"]
    assert len({one.entries for one in answers}) == 1
    assert (bundle.task, bundle.by, bundle.code) == ("T1", "person-bram", "taken_by")
    assert [one["kind"] for one in bundle.asks] == ["task.take", "task.tick", "task.sign_off"]


def test_what_names_a_refused_one_is_not_tried(crew: Service) -> None:
    """R4: an ask that says it builds on a refused one is kept with it, even where it could have been done."""
    crew.do("ines", "task.take", task="T1")
    take = item("task.take", task="T1")
    other = item("task.take", task="T2", after=take["id"])

    answers = hand_over(crew, "bram", take, other)

    loaded = crew.handler.states.current(BUILD)
    assert loaded is not None
    assert [one.status for one in answers] == ["refused", "kept_as_evidence"]
    assert loaded.state.get(Task, "T2").holder is None
    assert len(evidence(crew)) == 1


def test_a_bundle_goes_on_over_several_exchanges(crew: Service) -> None:
    """R4: more than one exchange holds, or each by itself: what was made before the refusal could be known is one
    bundle. What was made since is another, and so is what somebody else made.
    """
    crew.do("ines", "task.take", task="T1")
    made = {"device_ms": crew.clock()}
    take, tick, sign, elsewhere = (
        item("task.take", task="T1") | made,
        item("task.tick", task="T1", steps=["a"]) | made,
        item("task.sign_off", task="T1") | made,
        item("task.sign_off", task="T2") | made,
    )
    crew.clock.wait(60)

    [refused] = hand_over(crew, "bram", take)
    rest = hand_over(crew, "bram", tick, sign, elsewhere)
    hand_over(crew, "kofi", item("task.take", task="T1") | made)
    crew.clock.wait(60)
    later = item("task.take", task="T1") | {"device_ms": crew.clock()}
    [since] = hand_over(crew, "bram", later)

    of_bram, of_t2, of_kofi, of_later = evidence(crew)
    assert refused.code == "taken_by"
    assert [(one.status, one.notes) for one in rest[:2]] == [
        ("kept_as_evidence", ["another_has_it"]),
        ("kept_as_evidence", ["only_the_holder"]),
    ]
    assert (rest[2].status, since.status) == ("refused", "refused")
    assert [one["id"] for one in of_bram.asks] == [take["id"], tick["id"], sign["id"]]
    assert [one["id"] for one in of_t2.asks] == [elsewhere["id"]]
    assert (of_bram.by, of_bram.code, of_kofi.by) == ("person-bram", "taken_by", "person-kofi")
    assert [one["id"] for one in of_later.asks] == [later["id"]]
    assert hand_over(crew, "bram", take, tick, sign) == [refused, *rest[:2]]


def test_what_names_a_refused_one_of_an_earlier_exchange_is_not_tried(crew: Service) -> None:
    """R4: it joins the bundle that was kept then, even where it could have been done."""
    crew.do("ines", "task.take", task="T1")
    take = item("task.take", task="T1")
    hand_over(crew, "bram", take)

    [answer] = hand_over(crew, "bram", item("task.take", task="T2", after=take["id"]))

    loaded = crew.handler.states.current(BUILD)
    assert loaded is not None
    [bundle] = evidence(crew)
    assert (answer.status, answer.notes) == ("kept_as_evidence", ["built_on_refused"])
    assert loaded.state.get(Task, "T2").holder is None
    assert [one["kind"] for one in bundle.asks] == ["task.take", "task.take"]


def test_reports_among_refused_asks_are_kept_as_reports(crew: Service) -> None:
    """R4: what has happened is kept as what it is, whatever became of the ask before it."""
    crew.do("ines", "task.take", task="T1")
    take = item("task.take", task="T1")

    answers = hand_over(crew, "bram", take, item("loose.report", after=take["id"], kind="dropped", task="T1"))

    assert [one.status for one in answers] == ["refused", "accepted"]


def test_a_report_about_what_is_not_there_any_more_is_kept_as_evidence(crew: Service) -> None:
    """R4: a plan was loaded without the group while somebody tightened it without a signal; what they typed stays."""
    read = {
        "group": "gone",
        "pass_no": 1,
        "wrench": "W1",
        "set_value": "44",
        "unit": "n_m",
        "bolts": [{"n": 1}],
    }
    words = item("task.stuck", task="gone-too", reason="other", note_text="the bracket is bent")

    first, second, other = hand_over(
        crew, "bram", item("torque.read", **read), item("torque.read", **read), words
    )

    of_group, of_task = evidence(crew)
    assert [one.status for one in (first, second, other)] == ["refused", "kept_as_evidence", "refused"]
    assert (first.code, other.code) == ("unknown", "unknown")
    assert first.entries == second.entries is not None
    assert [one["kind"] for one in of_group.asks] == ["torque.read", "torque.read"]
    assert of_group.asks[0]["body"]["set_value"] == "44"
    with crew.database.read() as connection:
        kept = payloads.find(connection, BUILD, of_task.asks[0]["body"]["note_text"])
    assert kept is not None
    assert kept.body == "the bracket is bent"


def test_a_refusal_stands_though_the_service_stopped_before_the_exchange_ended(
    crew: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    """R3, R4: what was refused ahead of a report is not judged again behind it. The same refusal is heard, from
    either phone, and the evidence is kept once.
    """
    crew.do("ines", "task.take", task="T1")
    items = [item("task.take", task="T1"), item("task.sign_off", task="T1"), item("crew.sign_in")]
    with monkeypatch.context() as stopped:
        stopped.setattr(Batch, "_keep", _broken)
        with pytest.raises(ZeroDivisionError):
            hand_over(crew, "bram", *items)
    crew.do("ines", "task.give_back", task="T1", reason="other")  # now it could be taken

    other = crew.second_phone("bram")
    answers = Batch(crew.handler, BUILD, other).run(items)
    again = hand_over(crew, "bram", *items)

    [bundle] = evidence(crew)
    assert [one.code for one in answers] == ["taken_by", "only_the_holder", None]
    assert [one["kind"] for one in bundle.asks] == ["task.take", "task.sign_off"]
    assert again == answers


def test_words_typed_with_a_refused_ask_are_kept_as_a_payload(crew: Service) -> None:
    """R1, R4: evidence holds the digest of free words; the words stand outside the ledger."""
    crew.do("ines", "task.take", task="T1")
    [answer] = hand_over(
        crew, "bram", item("task.pass_on", task="T1", to_person="person-kofi", note_text="gone home")
    )

    [bundle] = evidence(crew)
    with crew.database.read() as connection:
        kept = payloads.find(connection, BUILD, bundle.asks[0]["body"]["note_text"])
    assert answer.status == "refused"
    assert kept is not None
    assert kept.body == "gone home"


@pytest.mark.parametrize("code", ["does_not_suit", "figure_unsaid"])
def test_a_place_beyond_a_private_limit_leaves_no_trace(
    crew: Service, monkeypatch: pytest.MonkeyPatch, code: str
) -> None:
    """R21: an entry about it would tell the crew; what was refused before for another reason is kept as ever."""
    unsuited = {TakePlace: code, SayReady: "no_place", TakeTask: "taken_by"}

    def refuse(d: Deciding, cmd: Command) -> None:
        raise Refused(unsuited[type(cmd)], task="T1", holder_person="person-ines", taken_ms=0)

    for kind in ("lift.take_place", "lift.ready", "task.take"):
        monkeypatch.setitem(_decides(), kind, refuse)
    take = item("lift.take_place", lift="L1", place="front")
    after = item("lift.ready", lift="L1", after=take["id"])
    answers = hand_over(
        crew, "bram", take, after, item("lift.ready", lift="L1"), item("task.take", task="T1")
    )
    again = hand_over(crew, "bram", take, after)
    # An exchange that failed as a whole comes one by one.
    [alone] = hand_over(crew, "bram", item("lift.take_place", lift="L2", place="front"))
    [behind] = hand_over(crew, "bram", item("lift.ready", lift="L2"))

    [bundle] = evidence(crew)
    assert [(one.code, one.entries) for one in (alone, behind)] == [(code, None), ("no_place", None)]
    assert [one.entries is None for one in answers] == [True, True, True, False]
    assert [one.code for one in answers[:2]] == [code, "built_on_refused"]
    assert [one["kind"] for one in bundle.asks] == ["task.take"]
    assert again == answers[:2]


def test_a_viewers_refused_asks_leave_no_trace(crew: Service) -> None:
    """R30: a viewer changes nothing, not even by being refused."""
    crew.person("vera")
    crew.join("vera", "ines", role="viewer")

    [answer] = hand_over(crew, "vera", item("task.take", task="T1"))

    assert (answer.status, answer.code, answer.entries) == ("refused", "viewer", None)
    assert evidence(crew) == []


def _decides() -> dict[str, Any]:
    from yokemate.rules import frame

    return frame._DECIDES


def _broken(_deciding: Deciding, _command: object) -> None:
    raise ZeroDivisionError
