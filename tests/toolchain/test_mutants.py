"""The tests of `calc` notice what could go wrong in it: mutants are made well, and of a sample nearly all are killed."""

from __future__ import annotations

import ast
import hashlib
import json
import random
import subprocess
import sys
from pathlib import Path

from support.mutants import CALC, EQUIVALENT, TESTS, equivalents, modules, mutants_of
from support.mutating import mutants

ROOT = Path(__file__).parents[2]
FILES, SAMPLE = 2, 14
LEAST = 0.8  # of the whole 95 % are wanted; so small a sample may have bad luck

SOURCE = '''"""Not 1 of these words."""
TABLE: dict[str, tuple[float, str]] = {"7/16": (0.5, "for people")}


def half(mass_kg: float = 2, *, sure: bool = True) -> float:
    """Half of it, if 2 agree."""
    check("mass_kg", mass_kg)
    if mass_kg < 0 and sure:
        raise ValueError(f"{mass_kg} is less than {0}.")
    return max(-mass_kg / 2, 1e-9)
'''


def test_what_is_changed_and_what_is_not() -> None:
    """Figures in tables, defaults and text, operators, comparisons, branches, calls and results; no words, no kinds."""
    found = [(mutant.name.split(": ")[0], mutant.name.split(" | ")[1]) for mutant in mutants(SOURCE)]

    assert found == [
        ("TABLE", "'7/16' → '7/17'"),
        ("TABLE", "0.5 → 0.55"),
        ("half", "True → False"),
        ("half", "2 → 3"),
        ("half", "check('mass_kg', mass_kg) → nothing"),
        ("half", "if mass_kg < 0 and sure: … → if False: …"),
        ("half", "mass_kg < 0 and sure → mass_kg < 0 or sure"),
        ("half", "mass_kg < 0 → mass_kg <= 0"),
        ("half", "mass_kg < 0 → mass_kg >= 0"),
        ("half", "0 → 1"),
        ("half", "return max(-mass_kg / 2, 1e-09) → return"),
        ("half", "max(-mass_kg / 2, 1e-09) → min(-mass_kg / 2, 1e-09)"),
        ("half", "-mass_kg / 2 → -mass_kg * 2"),
        ("half", "-mass_kg → mass_kg"),
        ("half", "2 → 3"),
        ("half", "1e-09 → 1.0"),
    ]


def test_each_mutant_differs_in_one_place() -> None:
    """Every mutant is one changed line of the source as it is written out anew, and no two are alike."""
    original = ast.unparse(ast.parse(SOURCE)).splitlines()
    made = [mutant.source.splitlines() for mutant in mutants(SOURCE)]

    assert len({"\n".join(lines) for lines in made}) == len(made)
    for lines in made:
        assert sum(a != b for a, b in zip(original, lines, strict=True)) == 1


def test_every_equivalent_mutant_is_one_and_says_why() -> None:
    """The list holds mutants that there are, each with a reason: a line that was changed since is noticed."""
    assert EQUIVALENT.is_file()
    for module, those in equivalents().items():
        assert set(those) <= {mutant.name for mutant in mutants_of(module)}, module
        assert all(len(reason) > 20 for reason in those.values())


def test_a_sample_of_mutants_is_killed() -> None:
    """Of mutants drawn from a few files at least four in five are killed; which ones is drawn anew whenever calc or its tests change."""
    written = b"".join(path.read_bytes() for room in (CALC, TESTS) for path in sorted(room.glob("*.py")))
    seed = int.from_bytes(hashlib.sha256(written).digest()[:4])
    files = random.Random(seed).sample(modules(), FILES)
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "support.mutants",
            *files,
            "--sample",
            str(SAMPLE),
            "--seed",
            str(seed),
            "--json",
        ],
        cwd=ROOT / "tests",
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    tallies = [json.loads(line) for line in done.stdout.splitlines()]
    killed = sum(tally["killed"] for tally in tallies)
    survivors = [name for tally in tallies for name in tally["survivors"]]

    assert killed + len(survivors) > SAMPLE / 2
    assert killed >= LEAST * (killed + len(survivors)), "\n".join(survivors)
    assert [name for tally in tallies for name in tally["told_apart"]] == []
