"""How much of what could go wrong in `calc` its tests notice: mutants made one at a time and tried.

    python -m support.mutants [MODULE ...] [--sample N] [--seed N] [--json]      (in tests/)

pytest collects the room's tests once. For each mutant a process is forked in which the changed file is put in the
place of the one that was imported, and the tests that belong to it run until the first fails: the examples in its own
docstrings, its functions' cases in the catalogue's tests, the test files that import it. A mutant that makes them
fail, or that does not end, is killed. Before a file's mutants are tried the unchanged file is put in its own place in
the same way, and must pass: otherwise nothing said about its mutants would mean anything. Mutants of which
`tests/calc/equivalent_mutants.toml` says why nobody could tell them from the original are tried too, and must survive.
"""

from __future__ import annotations

import argparse
import ast
import gc
import importlib
import json
import os
import random
import resource
import signal
import sys
import time
import tomllib
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import redirect_stdout, suppress
from dataclasses import asdict, dataclass, field
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any, NoReturn

import pytest

from support.mutating import Mutant, mutants

ROOT = Path(__file__).parents[2]
CALC = ROOT / "api" / "yokemate" / "calc"
TESTS = ROOT / "tests" / "calc"
EQUIVALENT = TESTS / "equivalent_mutants.toml"
PATIENCE = 300  # seconds for the tests on a file as it is; a mutant gets four times what that took
MEMORY = 3 << 30


@dataclass
class Tally:
    """What became of the mutants of one file; the equivalent ones count nowhere, unless some test told them apart."""

    module: str
    killed: int = 0
    survivors: list[str] = field(default_factory=list)
    told_apart: list[str] = field(default_factory=list)

    @property
    def tried(self) -> int:
        """Killed and survived."""
        return self.killed + len(self.survivors)


def modules() -> list[str]:
    """The files of the room."""
    return [path.stem for path in sorted(CALC.glob("*.py")) if path.stem != "__init__"]


@cache
def mutants_of(module: str) -> tuple[Mutant, ...]:
    """Every mutant of a file of the room."""
    return tuple(mutants(source_of(module)))


def source_of(module: str) -> str:
    """The text of a file of the room."""
    return (CALC / f"{module}.py").read_text(encoding="utf-8")


@cache
def equivalents() -> dict[str, dict[str, str]]:
    """By file: the mutants that nobody could tell from the original, each with the reason."""
    return tomllib.loads(EQUIVALENT.read_text(encoding="utf-8"))


def chosen(names: Sequence[str], sample: int | None = None, seed: int = 1) -> dict[str, list[Mutant]]:
    """The mutants to try, by file: all, or so many drawn from all."""
    every = [(name, mutant) for name in names for mutant in mutants_of(name)]
    if sample is not None:
        every = random.Random(seed).sample(every, min(sample, len(every)))
    return {name: those for name in names if (those := [m for of, m in every if of == name])}


def try_out(found: dict[str, list[Mutant]], say: Callable[[Tally], None]) -> None:
    """Try mutants file by file, and say what became of each file's."""
    bench = Bench(found, say)
    with redirect_stdout(sys.stderr):  # pytest's own words
        # Nobody reads why a mutant failed, and each child has an alarm of its own: both cost more than most tests.
        quick = ["-n", "0", "--tb=native", "-o", "faulthandler_timeout=0", "-p", "no:cacheprovider"]
        code = pytest.main(["-qq", "--noconftest", *quick, *files_of(found)], plugins=[bench])
    if bench.trouble or code:
        raise RuntimeError(bench.trouble or f"pytest ended with {code}")


def files_of(modules: Iterable[str]) -> list[str]:
    """What pytest needs to collect for these files."""
    whole = {path for path in TESTS.glob("test_*.py") for name in modules if imports_it(path, name)}
    return sorted(
        {
            str(path)
            for path in (*whole, TESTS / "test_catalogue.py", *(CALC / f"{name}.py" for name in modules))
        }
    )


class Bench:
    """A plugin of pytest: instead of running what was collected once, runs the fitting part once for each mutant."""

    def __init__(self, found: dict[str, list[Mutant]], say: Callable[[Tally], None]) -> None:
        self.found, self.say, self.trouble, self.patience = found, say, "", PATIENCE

    def pytest_collection(self) -> None:
        from hypothesis import Phase, settings  # not sooner: pytest wants to import it itself

        # The same examples for every mutant; the first that fails is enough.
        phases = [Phase.explicit, Phase.generate]
        settings.register_profile("mutants", derandomize=True, database=None, deadline=None, phases=phases)
        settings.load_profile("mutants")
        for name in sorted(set().union(*(_imports(CALC / f"{module}.py") for module in self.found))):
            with suppress(ImportError):  # a name within a module
                importlib.import_module(name)  # also what is imported only when something is solved

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        if session.testsfailed:
            self.trouble = "the tests of calc can't even be collected"
            return True
        gc.freeze()  # what is here now is never looked at again, so that forked processes share it
        for module, those in self.found.items():
            items = belonging(session.items, module)
            self.patience, began = PATIENCE, time.monotonic()
            if self._killed(session, items, module, source_of(module)):
                self.trouble = f"the tests of {module} fail on the file as it is"
                return True
            self.patience = 5 + round(4 * (time.monotonic() - began))
            tally = Tally(module)
            for mutant in those:
                killed = self._killed(session, items, module, mutant.source)
                if mutant.name in equivalents().get(module, {}):
                    tally.told_apart += [mutant.name] * killed
                elif killed:
                    tally.killed += 1
                else:
                    tally.survivors.append(mutant.name)
            self.say(tally)
        return True

    def _killed(self, session: pytest.Session, items: list[pytest.Item], module: str, source: str) -> bool:
        """Try one source. The test that failed goes to the front: it is likely to notice the next mutant too."""
        reader, writer = os.pipe()
        child = os.fork()
        if child == 0:
            self._be_the_child(session, items, module, source, writer)
        os.close(writer)
        _, status = os.waitpid(child, 0)
        with os.fdopen(reader) as said:
            if failed := said.read():
                items.insert(0, items.pop(int(failed)))
        return status != 0

    def _be_the_child(
        self, session: pytest.Session, items: list[pytest.Item], module: str, source: str, writer: int
    ) -> NoReturn:
        code = 1
        try:
            signal.alarm(self.patience)  # nobody catches it: it ends this process wherever it hangs
            resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))
            session.config.pluginmanager.unregister(name="terminalreporter")
            put_in_place(session, module, source)
            for index, (item, following) in enumerate(zip(items, [*items[1:], None], strict=True)):
                item.ihook.pytest_runtest_protocol(item=item, nextitem=following)
                if session.testsfailed:
                    os.write(writer, str(index).encode())
                    break
            else:
                code = 0
        finally:
            os._exit(code)


def put_in_place(session: pytest.Session, module: str, source: str) -> None:
    """Run another source of a file in the module that was imported, and hand its things to all who hold the old."""
    target = sys.modules[f"yokemate.calc.{module}"]
    old = {name: value for name, value in vars(target).items() if not name.startswith("__")}
    exec(compile(source, str(CALC / f"{module}.py"), "exec"), vars(target))
    new_of = {id(value): vars(target)[name] for name, value in old.items() if not _is_shared(value)}
    for holder in _holders(session):
        for name, value in list(holder.items()):
            if id(value) in new_of:
                holder[name] = new_of[id(value)]
    for holder in _holders(session):
        for value in holder.values():
            if clear := getattr(value, "cache_clear", None):
                clear()


def _is_shared(value: object) -> bool:
    """Modules, and small values that may be one object in many places."""
    return isinstance(value, ModuleType | int | float | str | bool | None)


def _holders(session: pytest.Session) -> Iterator[dict[str, Any]]:
    """The names of the room's files, of the test files, and of the examples in docstrings."""
    for name, module in list(sys.modules.items()):
        if name.startswith("yokemate.calc."):
            yield module.__dict__
    for file in {
        id(file): file for item in session.items if (file := item.getparent(pytest.Module))
    }.values():
        yield file.obj.__dict__
    for item in session.items:
        if isinstance(item, pytest.DoctestItem):
            yield item.dtest.globs


def imports_it(path: Path, module: str) -> bool:
    """Whether a test file belongs to a file of the room."""
    return f"yokemate.calc.{module}" in _imports(path)


def belonging(items: Sequence[pytest.Item], module: str) -> list[pytest.Item]:
    """The tests that belong to a file: near and quick first, examples made at random last."""
    own = CALC / f"{module}.py"
    functions = [node.name for node in ast.parse(source_of(module)).body if isinstance(node, ast.FunctionDef)]
    doctests, by_name, files = [], [], []
    for item in items:
        params = getattr(getattr(item, "callspec", None), "params", {})
        if item.path == own:
            doctests.append(item)
        elif item.path.parent == TESTS and imports_it(item.path, module):
            files.append(item)
        elif params.get("name") in functions:
            by_name.append(item)
    files.sort(key=lambda item: item.get_closest_marker("hypothesis") is not None)
    return [*doctests, *by_name, *files]


@cache
def _imports(path: Path) -> frozenset[str]:
    """Every module that a file imports, also as a name from its package."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{name.name}" for name in node.names)}
    return frozenset(found)


def main() -> None:
    """Say for each file how many mutants were killed, and which survived."""
    asked = argparse.ArgumentParser(description="tries mutants of calc against its tests")
    asked.add_argument("modules", nargs="*", metavar="MODULE", help="files of the room; none is all")
    asked.add_argument("--sample", type=int, help="so many, drawn by chance; none is all")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--json", action="store_true", help="one line for each file, for programs")
    given = asked.parse_args()
    tallies: list[Tally] = []
    out = sys.stdout

    def say(tally: Tally) -> None:
        tallies.append(tally)
        if given.json:
            print(json.dumps(asdict(tally)), file=out, flush=True)
            return
        print(f"{tally.module:14} {_share(tally)}", file=out, flush=True)
        for name in tally.survivors:
            print(f"    {name}", file=out, flush=True)
        for name in tally.told_apart:
            print(f"    not equivalent: {name}", file=out, flush=True)

    try_out(chosen(given.modules or modules(), given.sample, given.seed), say)
    if not given.json:
        whole = Tally("all", sum(t.killed for t in tallies), [name for t in tallies for name in t.survivors])
        print(f"{whole.module:14} {_share(whole)}")


def _share(tally: Tally) -> str:
    return f"{tally.killed} of {tally.tried} killed, {100 * tally.killed / max(tally.tried, 1):.1f} %"


if __name__ == "__main__":
    main()
