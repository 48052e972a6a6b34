"""DEVELOPERS.md is true: its map is the tree, the files it names are there, the tests that guard its decisions exist."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAPER = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
MAPPED = ("api/yokemate", "web/src", "tests")
KINDS = {".py", ".ts", ".tsx", ".css", ".yaml", ".json"}


def rooms(top: Path) -> Iterator[str]:
    """Every folder under `top` with a source of its own; what was built or fetched is none."""
    for folder in (top, *sorted(path for path in top.rglob("*") if path.is_dir())):
        parts = folder.relative_to(ROOT).parts
        made = any(part.startswith(("_", ".")) or part == "node_modules" for part in parts)
        if not made and any(
            path.suffix in KINDS and path.name != "tsconfig.json" for path in folder.iterdir()
        ):
            yield folder.relative_to(ROOT).as_posix()


def test_every_room_is_on_the_map() -> None:
    """A folder without its line, or a line without its folder, fails."""
    listed = re.findall(r"^- `([^`]+)` – \S", PAPER, flags=re.MULTILINE)
    there = {room for top in MAPPED for room in rooms(ROOT / top)} - {"web/src", "tests"}

    assert len(listed) == len(set(listed))
    assert set(listed) == there


def test_every_file_it_names_is_there() -> None:
    """A path in the paper leads somewhere, from the top or from the room it is spoken of in."""
    named = set(re.findall(r"`([\w./-]+/[\w.-]+\.(?:py|tsx|ts|json|yaml))`", PAPER))
    homes = (ROOT, ROOT / "api" / "yokemate", ROOT / "web" / "src" / "ui")

    assert len(named) > 15
    assert [path for path in sorted(named) if not any((home / path).is_file() for home in homes)] == []


def test_every_guard_it_names_is_a_test() -> None:
    """The test that a decision points to exists under that name."""
    named = set(re.findall(r"`(test_\w+)`", PAPER))
    sources = [path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("test_*.py")]
    there = set(re.findall(r"^def (test_\w+)\(", "\n".join(sources), flags=re.MULTILINE))

    assert len(named) > 25
    assert named - there == set()


def test_each_decision_says_who_guards_it() -> None:
    """Numbered without gaps, each with its guard."""
    decisions = re.split(r"^(\d+)\. \*\*", PAPER.split("## Decisions", 1)[1], flags=re.MULTILINE)[1:]

    assert [int(number) for number in decisions[::2]] == list(range(1, len(decisions) // 2 + 1))
    assert [text.split("**")[0] for text in decisions[1::2] if "Guard:" not in text] == []
