"""Looking at a plan file over REST: errors and doubts in one list by line, doubts with what judged them, nothing kept."""

from __future__ import annotations

import pytest

from support.phones import Garage


def test_errors_and_doubts_come_by_line_and_stop_as_they_should(
    one: Garage, pytestconfig: pytest.Config
) -> None:
    """R20, R24: the demo's plan is loaded although one lift in it would be refused; the outline's is not, for its errors."""
    phone = one.phones["ines"]
    read = pytestconfig.rootpath.joinpath
    outline = read("tests/planfile/fixtures/outline-flawed.plan.yaml").read_text(encoding="utf-8")
    found = phone.post(f"{phone.home}/plan/check", {"text": outline, "options": {}}, 200)["findings"]
    assert [one["line"] for one in found] == sorted(one["line"] for one in found)
    assert {"fraction_not_inches", "longest_first_wastes"} <= {one["code"] for one in found}
    cut = next(one for one in found if one["code"] == "longest_first_wastes")
    assert cut["level"] == "doubt" and cut["field"] == "cut list C01" and "cutting stock" in cut["source"]

    demo = read("demo_fixtures/quillback-two.plan.yaml").read_text(encoding="utf-8")
    found = phone.post("/api/plan/check", {"text": demo, "options": {}}, 200)["findings"]
    assert {one["level"] for one in found} == {"doubt"}
    phone.post(f"{phone.home}/plan", {"seen": phone.head(), "text": demo, "options": {}}, 200)
    assert phone.get(f"{phone.home}/lifts/L7H")["verdicts"][0]["verdict"] == "refused"
