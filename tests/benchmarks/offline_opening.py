"""How long the app takes to open with no connection on a slow phone, as a ratio to a constant page. Run by hand:

    python tests/benchmarks/offline_opening.py [rounds]     (with the project installed, and a Chromium)

The demo's plan in a build of its own; one of its crew opened the app once, then the connection is gone. In turn, each
time in a new page whose processor is slowed four times (CDP `Emulation.setCPUThrottlingRate`; it slows the page, not the
worker that hands out the app): a constant page, the queue, a task with bolts, its bolt group. The constant page makes
2,000 elements by script and asks nothing of anybody. Counted from the start of the navigation to the drawing in which the
screen's own matter stands there. Medians, so that figures of different machines can be laid side by side; aims are
ratios to the constant page.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from playwright.sync_api import BrowserContext, Route, sync_playwright

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]
SLOWER = 4
CONSTANT = "http://constant.example/"  # an address of its own: at the service's the worker would answer
CONSTANT_PAGE = """<!doctype html><title>Constant</title><main></main><script>
const main = document.querySelector("main");
for (let n = 0; n < 2000; n += 1) {
  const made = document.createElement("p");
  made.textContent = `Line ${n}`;
  main.append(made);
}
main.setAttribute("data-there", "");
</script>"""
# The moment after the drawing in which something that matches first stood there.
NOTICES = """wanted => {
  const look = () => document.querySelector(wanted)
    ? requestAnimationFrame(() => setTimeout(() => { window.thereMs = performance.now() }))
    : requestAnimationFrame(look);
  look();
}"""
IS_THERE = """() => new Promise((done, failed) => {
  const look = () => {
    if (window.thereMs !== undefined) done(window.thereMs);
    else if (performance.now() > 60000) failed(new Error(document.body.innerText));
    else setTimeout(look, 20);
  };
  look();
})"""
OPENED = {
    "constant page": (CONSTANT, "[data-there]"),
    "queue": ("/", "main .tag"),
    "task with bolts": ("/tasks/{task}", "main ol.rows, main .t-strong"),
    "its bolt group": ("/groups/{group}", "main fieldset"),
}
AIMS = {"queue": 2.5, "task with bolts": 2.5, "its bolt group": 2.5}


@contextmanager
def phone_without_signal(folder: Path) -> Iterator[tuple[BrowserContext, str, dict[str, str]]]:
    """A phone that was at the garage once, the service's address, and what to open there."""
    from support.browser import launch
    from support.phones import shared_app
    from support.server import running
    from support.service import CHEAP_KIB, SECRET, fresh_sqlite, migrated_sqlite
    from support.web_app import built
    from support.web_crew import WebCrew
    from support.web_phones import WebPhone
    from yokemate.app import make_service
    from yokemate.planfile.read import read
    from yokemate.settings import Settings

    text = (ROOT / "demo_fixtures/quillback-two.plan.yaml").read_text(encoding="utf-8")
    plan = read(text).plan
    assert plan is not None
    tightens = ((task.id, step.group) for task in plan.tasks for step in task.steps if step.kind == "tighten")
    task, group = next((task, group) for task, group in tightens if group)
    url = fresh_sqlite(migrated_sqlite(folder), folder)
    made = make_service(Settings(url, SECRET, mode="plain", argon2_memory_kib=CHEAP_KIB, web_folder=built()))
    with ExitStack() as stack:
        server = stack.enter_context(running(made, shared_app(made)))
        browser, _ = launch(stack.enter_context(sync_playwright()))
        stack.callback(browser.close)
        crew = WebCrew(
            lambda url, *_size: WebPhone(browser, url), server.url, text, {"bram": {"role": "builder"}}
        )
        bram = crew.opened("bram")
        for path in (f"/tasks/{task}", f"/groups/{group}"):
            bram.go(path)
            bram.page.wait_for_timeout(2_000)
        bram.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        bram.cut_off()
        bram.page.close()
        yield bram.context, server.url, {"task": task, "group": group}


def opening_ms(context: BrowserContext, address: str, wanted: str) -> float:
    page = context.new_page()
    try:
        page.add_init_script(f"({NOTICES})({wanted!r})")
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        page.goto(address, wait_until="commit")
        return float(page.evaluate(IS_THERE))
    finally:
        page.close()


def main(rounds: int) -> None:
    def constant(route: Route) -> None:
        route.fulfill(body=CONSTANT_PAGE, content_type="text/html")

    with tempfile.TemporaryDirectory() as folder, phone_without_signal(Path(folder)) as (context, url, there):
        context.route(CONSTANT, constant)
        took: dict[str, list[float]] = {name: [] for name in OPENED}
        for turn in range(rounds + 1):
            for name, (path, wanted) in OPENED.items():
                address = path if path == CONSTANT else url + path.format(**there)
                ms = opening_ms(context, address, wanted)
                if turn:  # the first round warms up what any later one finds warm
                    took[name].append(ms)
    middle = {name: statistics.median(found) for name, found in took.items()}
    print(f"opened without a connection, processor {SLOWER} times slower, {rounds} rounds, medians")
    for name, ms in middle.items():
        ratio = ms / middle["constant page"]
        aim = f", aim at most {AIMS[name]:.1f}" if name in AIMS else ""
        spread = f"{min(took[name]):.0f} to {max(took[name]):.0f}"
        print(f"{name:16} {ratio:5.2f} times the constant page{aim}; {ms:5.0f} ms ({spread})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 9)
