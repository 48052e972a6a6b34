"""Calendar feeds, read by another library than the one that writes them (RFC 5545)."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any
from unittest import mock
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
import vobject

from rules.world import lift, plan, task
from support.phones import Garage, Phone
from support.small_plan import SMALL
from yokemate.planfile.model import Step
from yokemate.planfile.write import write
from yokemate.rules.rows import Lift, Member
from yokemate.store import offers

LONDON = ZoneInfo("Europe/London")
WITH_A_LIFT = plan(
    task(
        "T9", Step(id="s1", say="Lift it on", kind="lift"), lift="L1", minutes=(10, 20, 40), hazards=["lift"]
    ),
    lifts=[lift("L1", mass_kg="20")],
)


def moment(*at: int) -> int:
    """A clock time in London as a moment."""
    return int(datetime(*at, tzinfo=LONDON).timestamp() * 1000)  # type: ignore[arg-type]


# The Sunday on which British clocks go back at 2:00 to 1:00: 25 October 2026 (Summer Time Order 2002).
SATURDAY = (moment(2026, 10, 24, 9, 0), moment(2026, 10, 24, 10, 0))
SUNDAY = (moment(2026, 10, 25, 9, 0), moment(2026, 10, 25, 10, 0))


def take(garage: Garage, *blocks: dict[str, Any]) -> None:
    """A plan with these blocks, as if it had been worked out and taken; that they keep every rule is no matter here."""
    data = {
        "blocks": list(blocks), "unplaced": [], "gates": {}, "finish_ms": SUNDAY[1], "chain": [], "odds": [], "by": "list/1",
    }  # fmt: skip
    with garage.service.database.write() as connection:
        offers.keep(connection, garage.build, offer := f"offer-{uuid4()}", json.dumps({"data": data}))
    with mock.patch("yokemate.rules.decide.days.no_longer", return_value=[]):
        garage.phones["ines"].act("/days/take", offer=offer)


def block(task: str, when: tuple[int, int], *team: str, **more: Any) -> dict[str, Any]:
    return {
        "task": task, "check": False, "from_ms": when[0], "to_ms": when[1], "team": list(team), "joiners": [],
        "company": [], **more,
    }  # fmt: skip


@pytest.fixture
def planned(one: Garage) -> Garage:
    ines, bram = one.phones["ines"], one.phones["bram"]
    loaded = ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(SMALL), "options": {}})
    assert "code" not in loaded, loaded
    tasks = [task.id for task in SMALL.tasks]
    take(
        one,
        block(tasks[0], SATURDAY, bram.person),
        block(tasks[1], SUNDAY, ines.person, company=[bram.person]),
    )
    return one


def made(phone: Phone, whose: str = "mine") -> str:
    address = phone.post(f"{phone.home}/feeds/{whose}", {}, 200)["address"]
    assert isinstance(address, str)
    return address.partition("yokemate.test")[2]


def read(garage: Garage, path: str) -> list[Any]:
    answer = garage.phone().ask("GET", path)
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"].startswith("text/calendar")
    calendar = vobject.readOne(answer.text)
    calendar.validate(raiseException=True)
    assert max(len(line.encode()) for line in answer.text.split("\r\n")) <= 75  # RFC 5545, 3.1
    return list(calendar.contents.get("vevent", []))


def test_a_calendar_program_reads_ones_own_days_without_a_cookie(planned: Garage) -> None:
    events = read(planned, made(planned.phones["bram"]))

    assert [event.dtstart.value for event in events] == [
        datetime(2026, 10, 24, 8, 0, tzinfo=UTC),
        datetime(2026, 10, 25, 9, 0, tzinfo=UTC),
    ], "nine o'clock on both days: clocks go back between them"
    assert all(event.dtend.value > event.dtstart.value for event in events)
    assert events[1].summary.value.startswith("In the garage, so that nobody is alone")
    assert len({event.uid.value for event in events}) == 2


def test_the_crews_calendar_holds_everybodys_days_and_is_the_leads_to_make(planned: Garage) -> None:
    assert len(read(planned, made(planned.phones["ines"], "crew"))) == 2
    bram = planned.phones["bram"]
    assert bram.post(f"{bram.home}/feeds/crew", {})["code"] == "role"


def test_r5_the_pieces_of_work_that_stops_at_a_hold_step_are_events_of_their_own(one: Garage) -> None:
    ines = one.phones["ines"]
    hold = Step(id="h", say="Diagonals looked at", kind="hold")
    ines.post(
        f"{ines.home}/plan",
        {"seen": ines.head(), "text": write(plan(task("T1", "Set it up", hold, "Weld it"))), "options": {}},
        200,
    )
    hour = 3_600_000
    at = [(SATURDAY[0] + n * hour, SATURDAY[1] + n * hour) for n in range(3)]
    take(
        one,
        block("T1", at[0], ines.person, step="h"),
        block("T1", at[1], ines.person, check=True, step="h"),
        block("T1", at[2], ines.person),
    )

    events = read(one, made(ines))
    assert [event.summary.value for event in events] == [
        "T1 Task T1",
        "Hold step of T1 Task T1",
        "T1 Task T1",
    ]
    assert len({event.uid.value for event in events}) == 3


def test_a_new_address_ends_the_old_one(planned: Garage) -> None:
    bram = planned.phones["bram"]
    first, second = made(bram), made(bram)

    assert first != second
    assert planned.phone().ask("GET", first).status_code == 404
    assert read(planned, second)
    bram.post(f"{bram.home}/feeds/mine/end", {}, 200)
    assert planned.phone().ask("GET", second).status_code == 404
    assert bram.get(f"{bram.home}/feeds/mine") == {"address": None}


def test_an_address_cannot_be_guessed_from_anothers(planned: Garage) -> None:
    """Another person's id with one's own secret finds nothing; the secret is 256 bits."""
    bram, ines = planned.phones["bram"], planned.phones["ines"]
    mine, hers = made(bram), made(ines)
    secret = mine.rsplit("/", 1)[1].removesuffix(".ics")

    assert len(secret) == 43
    assert planned.phone().ask("GET", hers.rsplit("/", 1)[0] + f"/{secret}.ics").status_code == 404
    assert planned.phone().ask("GET", mine[:-5] + "x.ics").status_code == 404


def lift_in(events: list[Any]) -> tuple[int, str] | None:
    """Minutes and status of the only lift among them."""
    found = [e for e in events if e.summary.value.startswith("Lift: ")]
    assert len(found) <= 1
    return next(
        ((int((e.dtend.value - e.dtstart.value).total_seconds()) // 60, e.status.value) for e in found), None
    )


def test_a_called_lift_is_in_the_calendars_of_who_is_asked_for_as_long_as_it_is_planned(
    planned: Garage,
) -> None:
    """The plan file says 20 minutes, the plan of the days 35. Bram said yes, Ines nothing yet, Sofia no; Vera looks on, Noah is
    a minor: neither is asked. RFC 5545 3.8.1.11: TENTATIVE, CONFIRMED."""
    planned.joined("sofia", "builder")
    phones = planned.phones
    ines = phones["ines"]
    noah = planned.joined("noah", "helper")
    ines.act(f"/members/{noah.person}/change", around={"seen": ines.head()}, minor="with_adult")
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(WITH_A_LIFT), "options": {}}, 200)
    ines.act("/lifts/L1/call", when_ms=SATURDAY[0])
    phones["bram"].act("/lifts/L1/answer", will_come=True)
    phones["sofia"].act("/lifts/L1/answer", will_come=False)

    assert lift_in(read(planned, made(ines))) == (20, "TENTATIVE")
    long = (SATURDAY[0], SATURDAY[0] + 35 * 60_000)
    take(planned, block("T9", long, phones["bram"].person, ines.person))
    read_by = {
        name: lift_in(read(planned, made(phones[name]))) for name in ("bram", "ines", "sofia", "vera", "noah")
    }
    assert read_by == {
        "bram": (35, "CONFIRMED"), "ines": (35, "TENTATIVE"), "sofia": None, "vera": None, "noah": None,
    }  # fmt: skip
    assert lift_in(read(planned, made(ines, "crew"))) == (35, "TENTATIVE")


def test_called_lifts_of_no_task_hide_nothing(planned: Garage) -> None:
    """Two of them, called for Saturday; and the plan's work stays."""
    ines = planned.phones["ines"]
    two = SMALL.model_copy(update={"lifts": [lift("L1", mass_kg="20"), lift("L2", mass_kg="20")]})
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(two), "options": {}}, 200)
    for n, name in enumerate(("L1", "L2")):
        ines.act(f"/lifts/{name}/call", when_ms=SATURDAY[0] + n * 3_600_000)
    events = read(planned, made(ines, "crew"))

    assert len([e for e in events if e.summary.value.startswith("Lift: ")]) == 2
    assert len(events) == 4
    assert len({e.uid.value for e in events}) == 4


def test_a_lift_that_is_up_stands_where_it_was_called(planned: Garage) -> None:
    """A day before the plan had it: its old place in the plan is gone, it is there once, and confirmed."""
    ines, bram = planned.phones["ines"], planned.phones["bram"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": write(WITH_A_LIFT), "options": {}}, 200)
    take(planned, block("T9", SUNDAY, bram.person, ines.person))
    ines.act("/lifts/L1/call", when_ms=SATURDAY[0])
    bram.act("/lifts/L1/answer", will_come=True)
    loaded = planned.service.handler.states.current(planned.build)
    assert loaded is not None
    for state in ("lifting", "held", "landed"):
        up = loaded.state.get(Lift, "L1").model_copy(update={"state": state})
        loaded.state.rows["lift"]["L1"] = up  # as if it had been lifted; how is another test's matter
        [event] = [
            e for e in read(planned, made(bram)) if "T9" in e.summary.value or "Lift" in e.summary.value
        ]
        assert event.dtstart.value == datetime(2026, 10, 24, 8, 0, tzinfo=UTC)
        assert event.status.value == "CONFIRMED"


def test_a_new_plan_moves_the_events_of_the_old_one(planned: Garage) -> None:
    """RFC 5545 3.8.4.7: the UID is the same for every revision. A task that comes to lie before the others, in two stretches,
    changes none of theirs."""
    ines = planned.phones["ines"]
    first, second = (task.id for task in SMALL.tasks[:2])
    address = made(ines, "crew")
    before = {e.summary.value: e.uid.value for e in read(planned, address)}
    early = (SATURDAY[0] - 3_600_000, SATURDAY[0])
    take(
        planned,
        block(second, early, ines.person),
        block(first, SUNDAY, ines.person),
        block(second, SUNDAY, ines.person),
    )
    after = [(e.summary.value, e.uid.value) for e in read(planned, address)]

    assert set(before.items()) <= set(after)
    assert len({uid for _, uid in after}) == 3


def test_work_that_is_done_sooner_asks_nobody_to_come(planned: Garage) -> None:
    """It was planned for Saturday and is signed off before."""
    bram = planned.phones["bram"]
    address = made(bram)
    assert len(read(planned, address)) == 2
    bram.act("/sign-in")
    bram.act(f"/tasks/{SMALL.tasks[0].id}/take")
    for step in SMALL.tasks[0].steps:
        bram.act(f"/tasks/{SMALL.tasks[0].id}/tick", steps=[step.id])
    bram.act(f"/tasks/{SMALL.tasks[0].id}/sign-off")
    assert len(read(planned, address)) == 1


def test_who_left_reads_nothing_any_more(planned: Garage) -> None:
    address = made(planned.phones["bram"])
    planned.phones["ines"].act(f"/members/{planned.phones['bram'].person}/leave", around={"pin": "12345678"})

    assert planned.phone().ask("GET", address).status_code == 404


def test_r29_whose_day_as_a_guest_is_over_reads_nothing_any_more(planned: Garage) -> None:
    """R29: the address dies with the day."""
    bram = planned.phones["bram"]
    address = made(bram)
    loaded = planned.service.handler.states.current(planned.build)
    assert loaded is not None
    guest = loaded.state.get(Member, bram.person).model_copy(
        update={"guest_until_ms": planned.clock.now_ms + 1000}
    )
    loaded.state.rows["member"][bram.person] = guest  # as if invited for a day
    assert planned.phone().ask("GET", address).status_code == 200
    planned.clock.now_ms += 2000
    assert planned.phone().ask("GET", address).status_code == 404
