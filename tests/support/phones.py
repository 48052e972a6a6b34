"""The HTTP side for tests: one app, and a browser's cookie jar per phone, over an https address."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx2 import Response

from yokemate import demo
from yokemate.app import make_app, make_service
from yokemate.routes.service import DemoPerson, Service
from yokemate.settings import Mode, Settings

from .service import CHEAP_KIB, SECRET, Clock, command_id, fresh_sqlite

_apps: dict[Mode, FastAPI] = {}


def shared_app(service: Service) -> FastAPI:
    """Making the routes takes longer than most tests; they hold nothing of any one service."""
    app = _apps.setdefault(service.settings.mode, _apps.get(service.settings.mode) or make_app(service))
    app.state.service = service
    return app


PINS = {"ines": "12345678"}
PIN = "246810"


class Garage:
    """A service as phones reach it."""

    def __init__(self, url: str, mode: Mode = "https", demo_crew: tuple[DemoPerson, ...] = ()) -> None:
        self.clock = Clock()
        settings = Settings(url, SECRET, mode=mode, clock=self.clock, argon2_memory_kib=CHEAP_KIB)
        self.service = make_service(settings, demo_crew)
        self.app = shared_app(self.service)
        self.phones: dict[str, Phone] = {}
        self.build = ""

    def phone(self) -> Phone:
        """A phone that nobody enrolled."""
        return Phone(self)

    def first(self, name: str = "ines", **more: Any) -> Phone:
        """The first lead, on a phone of their own."""
        phone = self.phones[name] = self.phone()
        asked = {"build_name": "Quillback Two", "time_zone": "Europe/London", "name": name.title(), **more}
        made = phone.post("/api/first-run", {**asked, "pin": PINS[name]}, status=200)
        phone.person, self.build = made["person"], made["build"]
        return phone

    def joined(self, name: str, role: str = "helper", lead: str = "ines", **join: Any) -> Phone:
        """Somebody who scanned an invite of the lead's."""
        code = self.phones[lead].invite(role)["code"]
        phone = self.phones[name] = self.phone()
        made = phone.post("/api/join", {"code": code, "name": name.title(), "pin": PIN, **join}, status=200)
        phone.person = made["person"]
        return phone

    def close(self) -> None:
        self.service.database.close()


def demo_garage(database: Path, folder: Path) -> Garage:
    """A copy of a database in which the demo was played, and its clock where that ended: now."""
    crew = tuple(one.shown() for one in demo.crew().people)
    garage = Garage(fresh_sqlite(database, folder), mode="demo", demo_crew=crew)
    garage.clock.now_ms = time.time_ns() // 1_000_000
    return garage


class Phone:
    """A browser: keeps its cookies, sends what the web app sends."""

    def __init__(self, garage: Garage) -> None:
        scheme = "https" if garage.service.settings.mode == "https" else "http"
        self.garage = garage
        self.person = ""
        self.http = TestClient(
            garage.app, base_url=f"{scheme}://yokemate.test", raise_server_exceptions=False
        )
        self.http.headers["X-Yokemate"] = "1"

    def ask(self, method: str, path: str, body: Any = None, **more: Any) -> Response:
        return self.http.request(method, path, json=body, **more) if body is not None else self.http.request(
            method, path, **more
        )  # fmt: skip

    def post(self, path: str, body: Any, status: int | None = None) -> Any:
        answer = self.ask("POST", path, body)
        if status is not None:
            assert answer.status_code == status, answer.text
        return answer.json()

    def get(self, path: str, status: int = 200) -> Any:
        answer = self.ask("GET", path)
        assert answer.status_code == status, answer.text
        return answer.json()

    @property
    def home(self) -> str:
        return f"/api/builds/{self.garage.build}"

    def act(self, path: str, status: int = 200, *, around: dict[str, Any] | None = None, **body: Any) -> Any:
        """A command by its own route."""
        return self.post(f"{self.home}{path}", {"body": body, **(around or {})}, status)

    def sync(self, *commands: Any, cursor: Any = None) -> Any:
        return self.post(f"{self.home}/sync", {"cursor": cursor, "commands": list(commands)}, 200)

    def invite(self, role: str = "helper", **more: Any) -> Any:
        return self.act("/invites", invite=f"invite-{command_id()}", role=role, **more)

    def head(self) -> int:
        head = self.sync()["head"]["number"]
        assert isinstance(head, int)
        return head


def item(kind: str, /, **body: Any) -> dict[str, Any]:
    """A command as it waits in an outbox."""
    return {"id": command_id(), "kind": kind, "body": body}
