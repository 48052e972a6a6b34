"""YAML text → a tree that remembers lines. Only what a plan needs: mappings, lists and scalars kept as written.

Built from parser events with limits of its own: no tags, no anchors or aliases (so nothing can grow when read), one
document, bounded size and depth, no key twice. A scalar stays text: the plan's model says what it should be.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)

from yokemate.planfile.findings import Finding, Loc

MAX_BYTES = 1_000_000
MAX_DEPTH = 12


@dataclass
class Node:
    """`value` is None, a text, a list of nodes, or a mapping of nodes. Lines and columns count from 1."""

    line: int
    column: int
    value: str | list[Node] | dict[str, Node] | None
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)  # where each key of a mapping stands


class NotReadable(Exception):
    """The text is no plain YAML document: one finding says where and why."""

    def __init__(self, says: str, remedy: str, line: int | None = None, column: int | None = None) -> None:
        super().__init__(says)
        self.finding = Finding("error", "not_readable", (), "the plan file", says, remedy, line, column)


def parse(text: str) -> tuple[Node, list[Finding]]:
    """The tree, and a finding for each key that stands twice. Raises NotReadable."""
    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        raise NotReadable(
            f"it is larger than {MAX_BYTES // 1_000_000} MB.", "Split the plan or shorten its texts."
        )
    builder = _Builder()
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            builder.take(event)
    except MarkedYAMLError as problem:
        mark = problem.problem_mark or problem.context_mark
        where = (mark.line + 1, mark.column + 1) if mark else (None, None)
        why = problem.problem or problem.context or "it is not YAML"
        raise NotReadable(f"{why}.", "Look at this line and the one before it.", *where) from problem
    except (YAMLError, ValueError) as problem:  # a character that may not stand in YAML
        raise NotReadable(
            "it holds a character that may not stand in a text file.", "Save it again as plain UTF-8 text."
        ) from problem
    if builder.root is None:
        raise NotReadable("it is empty.", "Begin with `format: yokemate-plan/1`.")
    return builder.root, builder.twice


class _Builder:
    def __init__(self) -> None:
        self.root: Node | None = None
        self.twice: list[Finding] = []
        self.stack: list[
            tuple[Node, str | None]
        ] = []  # open collections; the text is a mapping's waiting key
        self.documents = 0

    def take(self, event: object) -> None:
        if isinstance(event, DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                raise NotReadable("a second document begins here.", "Keep one plan in one file.", *_at(event))
        elif isinstance(event, AliasEvent):
            raise NotReadable("an alias (*) stands here.", "Write the value out in full.", *_at(event))
        elif isinstance(event, NodeEvent):
            if event.anchor:
                raise NotReadable("an anchor (&) stands here.", "Write the value out in full.", *_at(event))
            tag = getattr(event, "ctag", None)
            if tag is not None and str(tag) != "None":
                raise NotReadable(
                    "a tag (!) stands here.", "Take it away, or put the text in quotes.", *_at(event)
                )
            self._node(event)
        elif isinstance(event, CollectionEndEvent):
            self.stack.pop()

    def _node(self, event: NodeEvent) -> None:
        line, column = _at(event)
        if isinstance(event, ScalarEvent):
            plain = event.style is None
            empty = plain and event.value in ("", "~", "null", "Null", "NULL")
            if self._takes_key():
                self._key(event.value, line, column)
                return
            self._place(Node(line, column, None if empty else event.value))
        elif isinstance(event, CollectionStartEvent):
            if self._takes_key():
                raise NotReadable("a key must be a plain word.", "Put the text in quotes.", line, column)
            if len(self.stack) >= MAX_DEPTH:
                raise NotReadable(
                    "it is nested too deeply.", "A plan needs no more than 8 levels.", line, column
                )
            node = Node(line, column, {} if isinstance(event, MappingStartEvent) else [])
            self._place(node)
            self.stack.append((node, None))

    def _takes_key(self) -> bool:
        return bool(self.stack) and isinstance(self.stack[-1][0].value, dict) and self.stack[-1][1] is None

    def _key(self, key: str, line: int, column: int) -> None:
        node, _ = self.stack[-1]
        if key in node.keys:
            first = node.keys[key][0]
            self.twice.append(
                Finding(
                    "error", "key_twice", (), f"{key}", f"this key stands twice; the first is in line {first}.",
                    "Keep one of them.", line, column,
                )
            )  # fmt: skip
        else:
            node.keys[key] = (line, column)
        self.stack[-1] = (node, key)

    def _place(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        parent, key = self.stack[-1]
        if isinstance(parent.value, dict) and key is not None:
            parent.value.setdefault(key, node)
            self.stack[-1] = (parent, None)
        elif isinstance(parent.value, list):
            parent.value.append(node)


def _at(event: object) -> tuple[int, int]:
    mark = getattr(event, "start_mark", None)
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


def plain(node: Node) -> object:
    """The tree as plain mappings, lists, texts and None."""
    if isinstance(node.value, dict):
        return {key: plain(child) for key, child in node.value.items()}
    if isinstance(node.value, list):
        return [plain(child) for child in node.value]
    return node.value


def position(root: Node, loc: Loc) -> tuple[int, int]:
    """Line and column of the value at `loc`, or of the nearest thing around it."""
    here, spot = root, (root.line, root.column)
    for key in loc:
        child: Node | None = None
        if isinstance(here.value, dict) and isinstance(key, str):
            child = here.value.get(key)
        elif isinstance(here.value, list) and isinstance(key, int) and key < len(here.value):
            child = here.value[key]
        if child is None:
            break
        collection = isinstance(child.value, dict | list)
        spot = (
            here.keys[str(key)] if collection and isinstance(here.value, dict) else (child.line, child.column)
        )
        here = child
    return spot
