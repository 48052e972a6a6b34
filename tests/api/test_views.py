"""Prepared answers as phones fetch them: the same bytes until something can differ."""

from __future__ import annotations

import gzip
from dataclasses import replace
from fractions import Fraction

import pytest

from support.phones import Garage, Phone
from yokemate.routes import views
from yokemate.routes.views import Kept, _shape
from yokemate.rules.frame import Facts
from yokemate.rules.views.frame import VIEWS


def ask(phone: Phone, view: str, etag: str | None = None) -> tuple[int, str]:
    headers = {"If-None-Match": etag} if etag else {}
    answer = phone.ask("GET", f"{phone.home}{view}", headers=headers)
    return answer.status_code, answer.headers["etag"]


def test_an_unchanged_answer_is_304_and_an_entry_ends_it(one: Garage) -> None:
    """R31: a phone that has the answer gets no body, until the head moves; another's answer has another tag."""
    bram, kofi = one.phones["bram"], one.phones["kofi"]
    status, etag = ask(bram, "/queue")
    assert (status, ask(bram, "/queue", etag)) == (200, (304, etag))
    assert ask(bram, "/queue", f"W/{etag}")[0] == 304  # a proxy that packs marks it weak (RFC 9110, 13.1.2)
    assert ask(kofi, "/queue", etag)[0] == 200

    kofi.act("/sign-in")
    status, later = ask(bram, "/queue", etag)

    assert status == 200
    assert later != etag
    assert (
        bram.ask("GET", f"{bram.home}/queue", headers={"If-None-Match": etag}).json()["person"] == bram.person
    )


def test_an_answer_of_another_shape_is_sent_whole(one: Garage, monkeypatch: pytest.MonkeyPatch) -> None:
    """After an upgrade nothing in the build has changed, and yet what a phone kept lacks what its new app shows."""

    class Later(VIEWS["checks"].answer):  # type: ignore[name-defined,misc]
        new: int = 0

    monkeypatch.setattr(views, "KEPT_ANSWERS", 0)  # a service that was just started
    ines = one.phones["ines"]
    _, etag = ask(ines, "/checks")
    assert ask(ines, "/checks", etag)[0] == 304
    later = _shape(replace(VIEWS["checks"], answer=Later))
    monkeypatch.setattr(views, "_shape", lambda spec: later)
    assert ask(ines, "/checks", etag)[0] == 200


def test_an_answer_ends_with_its_window_though_no_entry_comes(one: Garage) -> None:
    """R25: what a proposal of a gate says is good for ten minutes, so the answer that shows it is too."""
    ines = one.phones["ines"]
    answer = ines.get(f"{ines.home}/plan")
    _, etag = ask(ines, "/plan")
    assert answer["valid_until_ms"] is None
    one.clock.wait(86_400)
    assert ask(ines, "/plan", etag) == (304, etag)


def test_a_large_answer_goes_packed_and_is_the_same(one: Garage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(views, "WORTH_PACKING", 100)  # this garage is small
    ines = one.phones["ines"]
    plain, small = (
        ines.ask("GET", f"{ines.home}/queue", headers={"Accept-Encoding": kind})
        for kind in ("identity", "gzip")
    )
    assert (plain.headers.get("content-encoding"), small.headers.get("content-encoding")) == (None, "gzip")
    assert small.content == plain.content  # unpacked by the client
    assert int(small.headers["content-length"]) < len(plain.content)


def test_r21_no_length_tells_of_a_limit() -> None:
    """R21: an answer that rests on somebody's private limit goes out as it is."""
    body = b"12 kg " * 1000
    assert gzip.decompress(Kept("d", Facts(), None, "e", body).packed or b"") == body
    assert Kept("d", Facts(own_kg=Fraction(15)), None, "e", body).packed is None
    assert Kept("d", Facts(suits={("person-bram", "front"): False}), None, "e", body).packed is None
