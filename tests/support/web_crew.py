"""A build in a running service with its crew, everybody on a phone of their own."""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable
from typing import Any

from .web_phones import PATIENCE_MS, PHONE, WebPhone

NewPhone = Callable[..., WebPhone]
LEAD_PIN = "24681011"
PIN = "246812"


class WebCrew:
    """Ines made the build with a plan file; the others joined by her invites and, unless a test lets them do it,
    everybody signed in for the day.

    `others` gives by first name what the invite gives (`role`, `may_countersign`, `skills`, `minor`) and what was
    said in private when joining (`limit_kg`, `guideline_kg`).
    """

    def __init__(
        self,
        new_phone: NewPhone,
        url: str,
        plan: str | None,
        others: dict[str, Any],
        *,
        signed_in: bool = True,
        lead_size: dict[str, int] = PHONE,
    ) -> None:
        self.phones = {"ines": new_phone(url, lead_size)}
        made = self.phones["ines"].post(
            "/api/first-run",
            {
                "build_name": "Quillback Two",
                "time_zone": "Europe/London",
                "name": "Ines",
                "pin": LEAD_PIN,
                "plan_text": plan,
            },
        )
        self.home = f"/api/builds/{made['build']}"
        self.people = {"ines": made["person"]}
        for name, said in others.items():
            private = {key: said[key] for key in said if key in ("limit_kg", "guideline_kg")}
            gives = {key: said[key] for key in said if key not in private}
            invited = self.act("ines", "/invites", invite=f"invite-{uuid.uuid4()}", **gives)
            phone = self.phones[name] = new_phone(url)
            joined = phone.post(
                "/api/join", {"code": invited["code"], "name": name.title(), "pin": PIN, **private}
            )
            self.people[name] = joined["person"]
        for name in self.phones if signed_in else ():
            self.act(name, "/sign-in")

    def act(self, name: str, path: str, **body: Any) -> Any:
        """A command by its own route, as this person's phone would send it."""
        return self.phones[name].post(f"{self.home}{path}", {"body": body})

    def says_figure(self, name: str, guideline_kg: int) -> None:
        """Which published figure suits them, as they say it for themselves."""
        self.phones[name].put("/api/me/private", {"guideline_kg": guideline_kg})

    def view(self, name: str, path: str) -> Any:
        return self.phones[name].get(f"{self.home}{path}")

    def becomes(self, path: str, **awaited: Any) -> None:
        """Waits until the service has what a phone was told: `crew.becomes("/lifts/L1", state="held")`.

        A press is kept on the phone first and sent after it, so that nothing on the phone's screen says when.
        """
        until = time.monotonic() + PATIENCE_MS / 1000
        while (seen := {key: self.view("ines", path)[key] for key in awaited}) != awaited:
            assert time.monotonic() < until, f"{path} is {seen}, not {awaited}"
            time.sleep(0.1)

    def opened(self, name: str, path: str = "/", title: str = "Queue") -> WebPhone:
        """This person's phone with a screen open on it."""
        phone = self.phones[name]
        phone.open(path)
        phone.title(title)
        return phone
