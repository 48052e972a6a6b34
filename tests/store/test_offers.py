"""Plans of the days that may be taken, and how a search stands, on both engines."""

from __future__ import annotations

from support.service import BUILD, Service
from yokemate.store import offers


def body(name: str) -> str:
    return f'{{"data": {{"by": "{name}"}}}}'


def test_a_search_goes_on_until_another_takes_its_place(service: Service) -> None:
    with service.database.write() as connection:
        assert offers.found(connection, BUILD) is None
        offers.keep(connection, BUILD, "a", body("first"))
        offers.begin(connection, BUILD, "one", "a", "waiting", 1)
    with service.database.write() as connection:
        assert offers.go_on(connection, BUILD, "one", "working", 2)
        assert offers.better(connection, BUILD, "one", "b", body("better"))
        offers.say_anew(connection, BUILD, "b", body("clearer"))
    with service.database.read() as connection:
        assert offers.found(connection, BUILD) == offers.Found("one", "b", body("clearer"), "working", 1, 2)
        assert offers.data_of(connection, BUILD, "a") == {"by": "first"}
        assert offers.data_of(connection, "another", "a") is None

    with service.database.write() as connection:
        offers.keep(connection, BUILD, "c", body("anew"))
        offers.begin(connection, BUILD, "two", "c", "working", 3)
        assert not offers.go_on(connection, BUILD, "one", "working", 4)
        assert not offers.better(connection, BUILD, "one", "d", body("late"))
        assert offers.data_of(connection, BUILD, "d") is None
        offers.end(connection, BUILD, "none")
        assert not offers.go_on(connection, BUILD, "two", "over", 5)
    with service.database.read() as connection:
        assert offers.found(connection, BUILD) == offers.Found("none", "c", body("anew"), "over", 0, 3)


def test_the_oldest_offers_go_first(service: Service) -> None:
    with service.database.write() as connection:
        for n in range(offers.KEPT + 2):
            offers.keep(connection, BUILD, f"o{n}", body(str(n)))
    with service.database.read() as connection:
        there = [n for n in range(offers.KEPT + 2) if offers.data_of(connection, BUILD, f"o{n}")]
    assert there == list(range(2, offers.KEPT + 2))
