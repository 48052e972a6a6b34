"""Takes the README's pictures from a running demo: `PYTHONPATH=tests python -m support.take_pictures [name ...]`.

Starts the demo on a port of its own, is each of the invented crew in turn, and saves PNGs of at most 60 kB
into demo_fixtures/pictures/. Run it again after a change to what the screens look like.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from playwright.sync_api import Browser, sync_playwright

from support import browser as browsers
from support import web_app

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "demo_fixtures" / "pictures"
PORT = 8472
AT_MOST_BYTES = 60_000


@dataclass(frozen=True)
class Picture:
    """One screen as one of the crew sees it."""

    name: str
    who: str  # as in the demo's crew.yaml
    path: str
    width: int = 390
    height: int = 720
    theme: str = "dark"
    press: tuple[tuple[str, str], ...] = ()  # role and name of what is pressed first, in order
    drawing: bool = False  # begin at the page's first drawing instead of its title


PICTURES = [
    Picture("queue", "Bram", "/"),
    Picture(
        "torque",
        "Desmond",
        "/groups/diff-carrier?task=T601",
        height=850,
        press=(
            ("radio", "W3"),
            ("radio", "Clean"),
            ("radio", "Clean and dry"),
            ("button", "Set, begin"),
        ),
    ),
    Picture("lift", "Sofia", "/lifts/L4", drawing=True),
    Picture("task", "Bram", "/tasks/T505"),
    Picture("check", "Sofia", "/checks/ball-joints-front-left", theme="light", drawing=True),
    Picture("loose-ends", "Ines", "/loose-ends", theme="light"),
    Picture("plan-wide", "Bram", "/plan", width=1010, height=450, theme="light"),
]


@contextmanager
def demo() -> Iterator[str]:
    """The demo, running; its address."""
    process = subprocess.Popen(
        [sys.executable, "-m", "yokemate.cli", "demo", "--port", str(PORT)],
        env=os.environ | {"PYTHONPATH": str(ROOT / "api")},
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert process.stdout is not None
        for line in process.stdout:
            if line.startswith("Stop with"):
                break
        else:
            raise RuntimeError("the demo did not start")
        yield f"http://localhost:{PORT}"
    finally:
        process.terminate()
        process.wait(10)


def crew(address: str) -> dict[str, str]:
    """First name -> full name of each of the invented crew."""
    with urllib.request.urlopen(f"{address}/api/demo/crew") as answer:
        return {one["name"].split()[0]: one["name"] for one in json.load(answer)}


def take(browser: Browser, address: str, names: dict[str, str], picture: Picture) -> int:
    """Save one picture; its size in bytes."""
    context = browser.new_context(viewport={"width": picture.width, "height": picture.height}, locale="en-GB")
    page = context.new_page()
    page.goto(address)
    page.get_by_role("button", name=re.compile(re.escape(names[picture.who]))).click()
    page.get_by_role("heading", name="Queue", level=1).wait_for()
    if picture.theme == "light":
        page.goto(f"{address}/this-phone")
        page.get_by_role("radio", name="Light").check()
        page.wait_for_timeout(300)  # kept by the browser before the next page asks for it
    page.goto(address + picture.path)
    page.get_by_role("heading", level=1).wait_for()
    for role, name in picture.press:
        page.get_by_role(cast(Any, role), name=name).first.click()
    page.wait_for_timeout(1500)  # the view arrives, drawings settle
    page.evaluate("scrollTo(0, 0)")
    if picture.drawing:
        page.locator("main figure.drawing").first.evaluate(
            "it => scrollBy(0, it.getBoundingClientRect().top - 60)"
        )
    taken = page.screenshot(path=FOLDER / f"{picture.name}.png")
    context.close()
    return len(taken)


def main(wanted: list[str]) -> None:
    web_app.built()
    FOLDER.mkdir(parents=True, exist_ok=True)
    with demo() as address, sync_playwright() as playwright:
        browser, said = browsers.launch(playwright)
        print(said)
        names = crew(address)
        for picture in PICTURES:
            if not wanted or picture.name in wanted:
                size = take(browser, address, names, picture)
                print(f"{picture.name}: {size} bytes")
                if size > AT_MOST_BYTES:
                    raise SystemExit(f"{picture.name} is larger than {AT_MOST_BYTES} bytes: show less of it")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])
