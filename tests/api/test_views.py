"""Prepared answers as phones fetch them: the same bytes until something can differ."""

from __future__ import annotations

from support.phones import Garage, Phone


def ask(phone: Phone, view: str, etag: str | None = None) -> tuple[int, str]:
    headers = {"If-None-Match": etag} if etag else {}
    answer = phone.ask("GET", f"{phone.home}{view}", headers=headers)
    return answer.status_code, answer.headers["etag"]


def test_an_unchanged_answer_is_304_and_an_entry_ends_it(one: Garage) -> None:
    """R31: a phone that has the answer gets no body, until the head moves; another's answer has another tag."""
    bram, kofi = one.phones["bram"], one.phones["kofi"]
    status, etag = ask(bram, "/queue")
    assert (status, ask(bram, "/queue", etag)) == (200, (304, etag))
    assert ask(kofi, "/queue", etag)[0] == 200

    kofi.act("/sign-in")
    status, later = ask(bram, "/queue", etag)

    assert status == 200
    assert later != etag
    assert (
        bram.ask("GET", f"{bram.home}/queue", headers={"If-None-Match": etag}).json()["person"] == bram.person
    )


def test_an_answer_ends_with_its_window_though_no_entry_comes(one: Garage) -> None:
    """R25: what a proposal of a gate says is good for ten minutes, so the answer that shows it is too."""
    ines = one.phones["ines"]
    answer = ines.get(f"{ines.home}/plan")
    _, etag = ask(ines, "/plan")
    assert answer["valid_until_ms"] is None
    one.clock.wait(86_400)
    assert ask(ines, "/plan", etag) == (304, etag)
