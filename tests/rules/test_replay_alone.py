"""R2: a replay needs the ledger and nothing else. Applying an entry computes nothing."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

import yokemate
from support import replay_alone
from support.service import fresh_sqlite
from yokemate import demo
from yokemate.store import ledger, row_tables
from yokemate.store.engine import Database

PACKAGE = Path(yokemate.__file__).parent
APPLY = PACKAGE / "rules" / "apply"
ALLOWED = ("__future__", "typing", "collections.abc", "yokemate.planfile.model", "yokemate.rules.frame",
           "yokemate.rules.rows", "yokemate.rules.apply")  # fmt: skip
CALLS = ("float", "Fraction", "Decimal", "round", "divmod", "pow", "__import__", "eval", "exec")


@pytest.fixture(scope="module")
def recorded(demo_played: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[list[str], list[str]]:
    """The demo's stretch played for real: its entries as stored, and every row as it came while deciding."""
    database = Database(fresh_sqlite(demo_played, tmp_path_factory.mktemp("replay")))
    with database.read() as connection:
        entries = [one.text for one in ledger.entries(connection, demo.BUILD)]
        lines = sorted(row_tables.changed_since(connection, demo.BUILD, 0), key=lambda row: row[:2])
    database.close()
    return entries, [json.dumps([row.kind, row.id, row.changed_at, row.body]) for row in lines]


def replay(entries: list[str], *words: str) -> subprocess.CompletedProcess[str]:
    """In a process of its own, in which clock, chance, calc and deciding raise."""
    assert replay_alone.__file__ is not None
    return subprocess.run(
        [sys.executable, replay_alone.__file__, *words], input="\n".join(entries), env={"PYTHONPATH": str(PACKAGE.parent)},
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip


def test_r2_replayed_without_clock_chance_or_calc_the_rows_are_equal_byte_for_byte(
    recorded: tuple[list[str], list[str]],
) -> None:
    entries, rows = recorded
    done = replay(entries)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == rows
    assert len(entries) > 150 and len(rows) > 300


def test_r2_a_replay_that_asks_for_more_than_the_ledger_fails(recorded: tuple[list[str], list[str]]) -> None:
    """The same replay goes red as soon as one applying function is made to compute."""
    asked = {
        "import yokemate.calc.torque_wrench": "yokemate.calc",
        "from yokemate.units import parse_number": "yokemate.units",
        "import time; time.time()": "time.time",
        "from datetime import datetime, UTC; datetime.now(UTC)": "datetime.now",
        "import random; random.random()": "random.random",
        "from uuid import uuid4; uuid4()": "uuid.uuid4",
        "import os; os.urandom(4)": "os.urandom",
        "1 + 1": None,
    }
    done = replay(recorded[0][:5], *asked)
    assert done.returncode == 0, done.stderr
    became = dict(json.loads(line) for line in done.stdout.splitlines())
    assert became == {w: f"replaying asked for {says}" if says else "nothing" for w, says in asked.items()}


def computes(source: str) -> list[str]:
    """What in an applying module is more than putting together what the entry says."""
    found = []
    for node in ast.walk(ast.parse(source)):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        found += [f"imports {name}" for name in names if not name.startswith(ALLOWED)]
        if isinstance(node, ast.Constant) and isinstance(node.value, float):
            found.append(f"a float, {node.value}")
        if isinstance(node, ast.BinOp) and isinstance(
            node.op, ast.Mult | ast.Div | ast.FloorDiv | ast.Mod | ast.Pow
        ):
            found.append(f"arithmetic in line {node.lineno}")
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
            found.append(f"{node.func.id}() in line {node.lineno}")
        if isinstance(node, ast.Raise):
            found.append(f"refuses in line {node.lineno}")
    return found


@pytest.mark.parametrize("path", sorted(APPLY.glob("*.py")), ids=lambda path: path.stem)
def test_r2_an_applying_module_imports_nothing_that_computes(path: Path) -> None:
    """Read off its source, so that a path which no recorded entry takes is looked at too."""
    assert computes(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "planted",
    [
        "from yokemate.calc.statics import shares",
        "from yokemate.units import parse_number",
        "import time",
        "from datetime import datetime",
        "    at_fastener = value * arm",
        "    share = mass / 2",
        "    limit = float(said)",
        "    low = 0.95",
        '    raise Refused("waits")',
    ],
)
def test_r2_an_applying_module_made_to_compute_is_found_out(planted: str) -> None:
    """The check above goes red for each of these, put into a module that passes it."""
    source = (APPLY / "torque.py").read_text(encoding="utf-8")
    body = (
        f"\n\ndef planted(value, arm, mass, said):\n{planted}\n"
        if planted.startswith(" ")
        else f"\n{planted}\n"
    )
    assert computes(source) == []
    assert computes(source + body) != []
