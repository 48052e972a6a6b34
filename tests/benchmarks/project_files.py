"""Readers for open instances: single-mode PSPLIB `.sm` files and multi-skill `.dzn` files, as problems of the planning room."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from pathlib import Path

from yokemate.planning.problem import After, Need, Person, Problem, Span, Task, Use


@dataclass(frozen=True)
class Project:
    """durations, demands per resource, capacities, successors by number from 0; first and last job are dummies."""

    durations: list[int]
    demands: list[list[int]]
    capacities: list[int]
    successors: list[list[int]]

    @property
    def horizon(self) -> int:
        return sum(self.durations)


def read_sm(text: str) -> Project:
    """Kolisch and Sprecher's format: precedence, requests and durations, availabilities, one mode a job."""
    lines = text.splitlines()

    def section(title: str, skip: int) -> list[list[int]]:
        at = next(n for n, line in enumerate(lines) if line.startswith(title)) + skip
        rows = []
        for line in lines[at:]:
            if not re.match(r"\s*\d", line):
                break
            rows.append([int(word) for word in line.split()])
        return rows

    followers = section("PRECEDENCE RELATIONS", 2)
    requests = section("REQUESTS/DURATIONS", 3)
    if any(row[1] != 1 for row in followers):
        raise ValueError("a job has several modes; only single-mode files are read")
    return Project(
        [row[2] for row in requests],
        [row[3:] for row in requests],
        section("RESOURCEAVAILABILITIES", 2)[0],
        [[j - 1 for j in row[3:]] for row in followers],
    )


def project_problem(project: Project) -> Problem:
    """Jobs of no length are left out, their arcs closed over; resources are tools, and nobody is needed."""
    before: dict[int, set[int]] = {n: set() for n in range(len(project.durations))}
    for n, following in enumerate(project.successors):
        for j in following:
            before[j].add(n)

    def real(n: int) -> set[int]:
        return {m for b in before[n] for m in ({b} if project.durations[b] else real(b))}

    tasks = tuple(
        Task(
            f"j{n}", duration, 0,
            after=tuple(After(f"j{b}") for b in sorted(real(n))),
            tools=tuple(Use(f"r{r}", amount) for r, amount in enumerate(project.demands[n]) if amount),
        )
        for n, duration in enumerate(project.durations)
        if duration
    )  # fmt: skip
    return Problem(
        tasks, tools={f"r{r}": c for r, c in enumerate(project.capacities)}, horizon=project.horizon
    )


def read_dzn(text: str) -> Problem:
    """Multi-skill instances (Young, Feydy, Schutt 2017): each person covers one skill of one activity at a time."""

    def numbers(name: str) -> list[int]:
        found = re.search(rf"^{name} = (.*?);", text, flags=re.MULTILINE | re.DOTALL)
        assert found is not None, name
        return [int(w) for w in re.findall(r"-?\d+", found[1].replace("true", "1").replace("false", "0"))]

    [skills], durations, needs, mastery = (
        numbers("nSkills"),
        numbers("dur"),
        numbers("sreq"),
        numbers("mastery"),
    )
    arcs = list(zip(numbers("pred"), numbers("succ"), strict=True))
    day = Span(0, 2 * sum(durations))
    people = tuple(
        Person(f"p{n}", (day,), frozenset(f"k{k}" for k in range(skills) if mastery[n * skills + k]))
        for n in range(len(mastery) // skills)
    )
    kept = {n for n, duration in enumerate(durations) if duration}
    tasks = []
    for n in sorted(kept):
        row = needs[n * skills : (n + 1) * skills]
        tasks.append(
            Task(
                f"a{n}", durations[n], sum(row),
                needs=tuple(Need(f"k{k}", count) for k, count in enumerate(row) if count),
                after=tuple(After(f"a{b - 1}") for b, a in arcs if a - 1 == n and b - 1 in kept),
            )
        )  # fmt: skip
    return Problem(tuple(tasks), people, (day,))


def best_known(folder: Path) -> dict[str, tuple[int, int]]:
    with (folder / "best_known.csv").open(encoding="utf-8") as file:
        return {row["instance"]: (int(row["lb"]), int(row["ub"])) for row in csv.DictReader(file)}
