"""How a queue read and a take stand beside the service's constant route, as ratios. Run by hand:

    python tests/benchmarks/queue_and_take.py [sqlite|postgres] [seconds]     (with the project installed)

Ratios, not milliseconds, so that figures from different machines can be laid side by side: how many of it the
service does in the time of one answer of the constant route (GET /api/health). The service runs in a process of
its own; the build is the demo's plan with a task more for each of sixteen writers. Reads are taken in turn with
the constant route, on one connection, and compared by their medians; takes go on sixteen connections at once, between two stretches of the
constant route on as many. Every answer is checked. Aims: an unchanged queue 0.6, a changed one 0.15, a take 0.05
with its slowest hundredth within three times the median.
"""

from __future__ import annotations

import http.client
import json
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "api"), str(ROOT / "tests")]
WRITERS = [f"writer{n}" for n in range(16)]
AIMS = {"queue, unchanged": 0.6, "queue, changed": 0.15, "take, sixteen writers": 0.05}
SPREAD_AIM = 3.0
CONSTANT = "/api/health"


def serve(url: str) -> None:
    """The service's process: builds the garage, says where and with which cookies, serves until told to stop."""
    from support.phones import Garage
    from support.server import running
    from yokemate.planfile.read import read
    from yokemate.planfile.write import write

    garage = Garage(url, mode="plain")
    phones = {"ines": garage.first("ines"), **{name: garage.joined(name, "builder") for name in WRITERS}}
    read_plan = read((ROOT / "demo_fixtures/quillback-two.plan.yaml").read_text(encoding="utf-8")).plan
    assert read_plan is not None
    model = next(task for task in read_plan.tasks if not task.after and task.lift is None)
    more = [_own_task(model, f"X{n}") for n in range(len(WRITERS))]
    text = write(read_plan.model_copy(update={"tasks": [*read_plan.tasks, *more]}))
    ines = phones["ines"]
    ines.post(f"{ines.home}/plan", {"seen": ines.head(), "text": text, "options": {}}, 200)
    for phone in phones.values():
        phone.act("/sign-in")
    cookies = {
        name: "; ".join(f"{k}={v}" for k, v in phone.http.cookies.items()) for name, phone in phones.items()
    }
    with running(garage.service) as server:
        print(json.dumps({"port": server.port, "build": garage.build, "cookies": cookies}), flush=True)
        sys.stdin.read()


def _own_task(model: Any, id: str) -> Any:
    from yokemate.planfile.model import Step, TaskPlan

    return TaskPlan(
        id=id, title=f"Sort bag {id}", stage=model.stage, zone=model.zone, minutes=(5, 10, 20),
        steps=[Step(id="sort", say="Sort it")],
    )  # fmt: skip


@dataclass
class Line:
    """One kept-alive connection of one phone."""

    port: int
    cookies: str

    def __post_init__(self) -> None:
        self._line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)

    def ask(self, method: str, path: str, body: Any = None, **headers: str) -> tuple[int, float, str | None]:
        """Status, seconds, ETag."""
        sent = None if body is None else json.dumps(body)
        said = {"Cookie": self.cookies, "X-Yokemate": "1", "Content-Type": "application/json", **headers}
        began = time.perf_counter()
        self._line.request(method, path, sent, said)
        answer = self._line.getresponse()
        text = answer.read()
        took = time.perf_counter() - began
        assert answer.status in (200, 304), (path, answer.status, text[:300])
        return answer.status, took, answer.headers["ETag"]


@contextmanager
def service(url: str) -> Iterator[dict[str, Any]]:
    process = subprocess.Popen(
        [sys.executable, __file__, "serve", url], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert process.stdin is not None and process.stdout is not None
    try:
        yield json.loads(process.stdout.readline())
    finally:
        process.stdin.close()
        process.wait(20)


def reads(at: dict[str, Any], seconds: float) -> dict[str, float]:
    """Queue reads in turn with the constant route: by ETag while nothing changed, and after each change."""
    home = f"/api/builds/{at['build']}"
    mine, other = Line(at["port"], at["cookies"]["ines"]), Line(at["port"], at["cookies"]["writer0"])
    constant: list[float] = []
    unchanged: list[float] = []
    changed: list[float] = []
    tag = mine.ask("GET", f"{home}/queue")[2] or ""
    turn, taken = 0, False
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        turn += 1
        constant.append(mine.ask("GET", CONSTANT)[1])
        status, took, _ = mine.ask("GET", f"{home}/queue", **{"If-None-Match": tag})
        assert status == 304, "an unchanged queue was sent again"
        unchanged.append(took)
        if turn % 4 == 0:
            taken = not taken
            _take_or_give(other, home, "X0", taken)
            status, took, new = mine.ask("GET", f"{home}/queue", **{"If-None-Match": tag})
            assert status == 200 and new and new != tag, "a changed queue was not sent"
            changed.append(took)
            tag = new
    if taken:
        _take_or_give(other, home, "X0", False)
    usual = statistics.median(constant)
    return {
        "queue, unchanged": usual / statistics.median(unchanged),
        "queue, changed": usual / statistics.median(changed),
    }


def _take_or_give(line: Line, home: str, task: str, take: bool) -> float:
    body = {"body": {}} if take else {"body": {"reason": "time"}}
    return line.ask("POST", f"{home}/tasks/{task}/{'take' if take else 'give-back'}", body)[1]


def at_once(seconds: float, acts: list[Callable[[int], float]]) -> tuple[float, list[float]]:
    """All acts again and again on a thread each: how many a second in all, and how long each took."""
    took: list[list[float]] = [[] for _ in acts]
    gate = threading.Barrier(len(acts))
    faults: list[BaseException] = []
    end = time.monotonic() + seconds

    def run(number: int) -> None:
        try:
            gate.wait()
            turn = 0
            while time.monotonic() < end:
                took[number].append(acts[number](turn))
                turn += 1
        except BaseException as fault:
            faults.append(fault)

    threads = [threading.Thread(target=run, args=(number,)) for number in range(len(acts))]
    began = time.monotonic()
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    if faults:
        raise faults[0]
    every = [one for each in took for one in each]
    return len(every) / (time.monotonic() - began), every


def takes(at: dict[str, Any], seconds: float) -> tuple[float, float, list[float]]:
    """Sixteen writers at once, between two stretches of the constant route on sixteen connections."""
    home = f"/api/builds/{at['build']}"
    lines = [Line(at["port"], at["cookies"][name]) for name in WRITERS]
    constant = [lambda turn, line=line: line.ask("GET", CONSTANT)[1] for line in lines]
    writing = [
        lambda turn, line=line, task=f"X{n}": _take_or_give(line, home, task, turn % 2 == 0)
        for n, line in enumerate(lines)
    ]
    before, _ = at_once(seconds / 4, constant)
    rate, took = at_once(seconds, writing)
    after, _ = at_once(seconds / 4, constant)
    return rate / ((before + after) / 2), rate, took


def measure(engine: str, url: str, seconds: float) -> None:
    with service(url) as at:
        reads(at, 1.0)
        ratios = reads(at, seconds)
        ratios["take, sixteen writers"], rate, took = takes(at, seconds)
    cuts = statistics.quantiles(took, n=100)
    print(f"{engine}: beside GET {CONSTANT}, each as a share of its answers")
    for name, ratio in ratios.items():
        print(f"  {name:24} {ratio:6.3f}   aim {AIMS[name]:<5} {'met' if ratio >= AIMS[name] else 'NOT MET'}")
    spread = cuts[98] / cuts[49]
    met = "met" if spread <= SPREAD_AIM else "NOT MET"
    print(f"  {'take, p99 / p50':24} {spread:6.2f}   aim {SPREAD_AIM:<5} {met}")
    print(
        f"  ({rate:.0f} takes a second here, p50 {cuts[49] * 1000:.0f} ms, p99 {cuts[98] * 1000:.0f} ms, {len(took)} takes)"
    )


def main() -> None:
    if sys.argv[1:2] == ["serve"]:
        serve(sys.argv[2])
        return
    engine = sys.argv[1] if len(sys.argv) > 1 else "sqlite"
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    with ExitStack() as stack:
        if engine == "postgres":
            from support.postgres import throwaway_server

            url = stack.enter_context(throwaway_server()).create_database("bench")
        else:
            url = f"sqlite:///{stack.enter_context(tempfile.TemporaryDirectory())}/yokemate.sqlite3"
        measure(engine, url, seconds)


if __name__ == "__main__":
    main()
