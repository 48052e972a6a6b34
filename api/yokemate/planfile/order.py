"""What comes before what in a plan: tasks through `after`, gates through their conditions and the work they guard."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from yokemate.planfile.model import Plan

Node = tuple[str, str]  # ("task", id) or ("gate", id)


@dataclass(frozen=True)
class Order:
    """Each node with the nodes that it waits for itself. References to nothing are left out."""

    waits_for: Mapping[Node, list[Node]]

    def before(self, node: Node) -> set[Node]:
        """Everything that must have happened at this node, and the node itself."""
        seen, waiting = {node}, [node]
        while waiting:
            for earlier in self.waits_for.get(waiting.pop(), []):
                if earlier not in seen:
                    seen.add(earlier)
                    waiting.append(earlier)
        return seen

    def loops(self) -> list[list[Node]]:
        """Loops, each as the way round (the first node again at the end is left out); every one shares no node
        with another, so that mending them one by one ends."""
        done: set[Node] = set()
        found: list[list[Node]] = []
        for start in self.waits_for:
            if start not in done:
                self._walk(start, done, found)
        return found

    def _walk(self, start: Node, done: set[Node], found: list[list[Node]]) -> None:
        path, on_path = [start], {start}
        waiting = [iter(self.waits_for.get(start, []))]
        while waiting:
            following = next(waiting[-1], None)
            if following is None:
                waiting.pop()
                left = path.pop()
                on_path.discard(left)
                done.add(left)
            elif following in on_path:
                loop = path[path.index(following) :]
                if not any(set(loop) & set(other) for other in found):
                    found.append(loop)
            elif following not in done:
                path.append(following)
                on_path.add(following)
                waiting.append(iter(self.waits_for.get(following, [])))


def order_of(plan: Plan) -> Order:
    tasks, gates = {t.id for t in plan.tasks}, {g.id for g in plan.gates}
    waits: dict[Node, list[Node]] = {
        ("task", task.id): [("task", a.task) for a in task.after if a.task in tasks] for task in plan.tasks
    }
    for gate in plan.gates:
        needs: list[Node] = []
        for standing in gate.standing:
            needs += [
                ("task", t) for t in (standing.task_closed, standing.lag_over) if t in tasks and t is not None
            ]
            if standing.gate_open is not None and standing.gate_open in gates:
                needs.append(("gate", standing.gate_open))
        waits[("gate", gate.id)] = needs
        for guarded in gate.guards:
            if guarded in tasks:
                waits[("task", guarded)].append(("gate", gate.id))
    return Order(waits)
