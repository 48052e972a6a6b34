"""Mutants of a Python source: every small change that a test ought to notice, one at a time.

Changed are operators, comparisons, figures (also those written as text, like "7/16"), yes and no, smallest and
greatest, branches, calls made for their effect, and what is returned; in functions and in tables alike. Not
changed: docstrings, annotations, decorators, the words of errors and of people.
"""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

# A figure below this is a tolerance against rounding: a tenth more of it means nothing, the whole of 1 does.
_TOLERANCE = 1e-4
_FIGURE_AS_TEXT = re.compile(r"[\d ./-]*\d[\d ./-]*")

_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
# The neighbour at the very edge, then the opposite.
_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_TWINS = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Mutant:
    """One change: `name` says where it is, in words that outlive a change of line numbers.

    It is `function or table: line | old → new`, with `#2` behind the second of the same.
    """

    name: str
    change: Change
    tree: ast.Module

    @property
    def source(self) -> str:
        """The whole changed source."""
        self.change.put(self.change.new)
        try:
            return f"{ast.unparse(self.tree)}\n"
        finally:
            self.change.put(self.change.old)


def mutants(source: str) -> Iterator[Mutant]:
    """All mutants of a source, always in the same order."""
    tree = ast.parse(source)
    lines = source.splitlines()
    seen: Counter[str] = Counter()
    for change in list(_Walk().of(tree)):
        after = "nothing" if isinstance(change.new, ast.Pass) else _short(ast.unparse(change.new))
        line = lines[change.old.lineno - 1].strip()
        name = f"{change.within}: {line} | {_short(ast.unparse(change.old))} → {after}"
        seen[name] += 1
        yield Mutant(name if seen[name] == 1 else f"{name} #{seen[name]}", change, tree)


def _short(text: str) -> str:
    return text if len(text) <= 100 and "\n" not in text else f"{text.splitlines()[0][:96]} …"


@dataclass
class Change:
    """`old` stands in `holder.field` (at `index` where that is a list) and becomes `new`."""

    within: str
    holder: ast.AST
    field: str
    index: int | None
    old: ast.expr | ast.stmt
    new: ast.expr | ast.stmt

    def put(self, node: ast.AST) -> None:
        if self.index is None:
            setattr(self.holder, self.field, node)
        else:
            getattr(self.holder, self.field)[self.index] = node


class _Walk:
    """Walks a tree in the order of its text, and says what could be changed at each node."""

    def __init__(self) -> None:
        self.within: list[str] = []

    def of(self, node: ast.AST) -> Iterator[Change]:
        if name := self._opens(node):
            self.within.append(name)
        for field, value in ast.iter_fields(node):
            if field in ("annotation", "returns", "decorator_list", "bases"):
                continue
            for index, child in enumerate(value) if isinstance(value, list) else ((None, value),):
                if isinstance(child, ast.expr | ast.stmt):
                    if _untouched(child):
                        continue
                    for new in _changes(child, node):
                        where = ".".join(self.within)
                        yield Change(where, node, field, index, child, ast.copy_location(new, child))
                if isinstance(child, ast.AST) and not _is_a_guard(child):
                    yield from self.of(child)
        if name:
            self.within.pop()

    def _opens(self, node: ast.AST) -> str:
        """The name of what begins here: a function, a class, a table outside of functions."""
        match node:
            case ast.FunctionDef(name) | ast.ClassDef(name):
                return name
            case ast.Assign([ast.Name(name)]) | ast.AnnAssign(ast.Name(name)) if not self.within:
                return name
        return ""


def _is_a_guard(node: ast.AST) -> bool:
    """`strict=True` says that lengths can't differ; without it nothing else happens."""
    return isinstance(node, ast.keyword) and node.arg == "strict"


def _untouched(node: ast.expr | ast.stmt) -> bool:
    """Docstrings, errors and their words, asserts of what can't be, imports, names of kinds."""
    match node:
        case ast.Raise() | ast.Assert() | ast.JoinedStr() | ast.Import() | ast.ImportFrom():
            return True
        case ast.Expr(value=ast.Constant()):
            return True
        case ast.Subscript(value=ast.Name(id="Literal")):
            return True
    return False


def _changes(node: ast.expr | ast.stmt, parent: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    if isinstance(parent, ast.comprehension) and node in parent.ifs:
        yield ast.Constant(True)
    match node:
        case ast.BinOp(left, op, right):
            if type(op) in _ARITHMETIC and not isinstance(left, ast.JoinedStr):
                yield ast.BinOp(left, _ARITHMETIC[type(op)](), right)
        case ast.UnaryOp(ast.USub() | ast.Not(), operand):
            yield operand
        case ast.BoolOp(op, values):
            yield ast.BoolOp(ast.Or() if isinstance(op, ast.And) else ast.And(), values)
        case ast.Compare(left, ops, rest):
            for place, old in enumerate(ops):
                for new in _COMPARISONS[type(old)]:
                    yield ast.Compare(left, [*ops[:place], new(), *ops[place + 1 :]], rest)
        case ast.IfExp(_, body, orelse):
            yield body
            yield orelse
        case ast.Constant(value):
            if (changed := _another(value)) is not None:
                yield ast.Constant(changed)
        case ast.Call(ast.Name(name), args, keywords) if name in _TWINS:
            yield ast.Call(ast.Name(_TWINS[name], ast.Load()), args, keywords)
        case ast.AugAssign(target, op, value) if type(op) in _ARITHMETIC:
            yield ast.AugAssign(target, _ARITHMETIC[type(op)](), value)
        case ast.If(_, body, orelse):
            yield ast.If(ast.Constant(False), body, orelse)
            if orelse:
                yield ast.If(ast.Constant(True), body, orelse)
        case ast.Return(ast.expr() as value) if ast.unparse(value) != "None":
            yield ast.Return(None)
        case ast.Expr(ast.Call()) | ast.Delete():
            yield ast.Pass()
        case ast.Continue():
            yield ast.Break()
        case ast.Break():
            yield ast.Continue()


def _another(value: object) -> bool | int | float | str | None:
    """Another value of the same kind, or None: one more, a tenth more, the other of yes and no."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    if isinstance(value, float):
        return 1.0 if abs(value) < _TOLERANCE else value * 1.1
    if isinstance(value, str) and _FIGURE_AS_TEXT.fullmatch(value):
        return re.sub(
            r"\d+(?!.*\d)", lambda digits: str(int(digits[0]) + 1).zfill(len(digits[0])), value, count=1
        )
    return None
