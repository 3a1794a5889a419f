"""The single edits of a module's text that tests should notice: a sign, a bound, a comparison, a call left out."""

import ast
from collections.abc import Iterator
from typing import NamedTuple

_COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Add, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
}  # fmt: skip
_SIGNS: dict[type[ast.AST], str] = {
    ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=", ast.Is: "is",
    ast.IsNot: "is not", ast.In: "in", ast.NotIn: "not in", ast.Add: "+", ast.Sub: "-", ast.Mult: "*",
    ast.Div: "/", ast.FloorDiv: "//", ast.Mod: "%", ast.And: "and", ast.Or: "or",
}  # fmt: skip
# A call of these gives much the same without it, which is what makes leaving it out worth a try.
_LEFT_OUT = {"sorted", "reversed", "abs", "round"}
# Where an edit changes nothing that a test of behaviour could see: types, and what only guards or speeds up.
_UNSEEN_FIELDS = {"annotation", "returns", "decorator_list", "bases", "type_params"}
_UNSEEN_KEYWORDS = {"strict", "maxsize"}


class Edit(NamedTuple):
    """One edit: its line, the number of its node in the tree, which of the edits of that node, and in words."""

    line: int
    node: int
    choice: int
    what: str


def edits(text: str) -> list[Edit]:
    """Every edit of a module, in the order of its lines."""
    found = [
        Edit(node.lineno, number, choice, what)
        for number, node in enumerate(_seen(ast.parse(text)))
        for choice, (what, _) in enumerate(_choices(node))
    ]
    return sorted(found)


def edited(text: str, edit: Edit | None) -> ast.Module:
    """The module with that edit, or as it is; every line keeps its number, as a test may look at those."""
    tree = ast.parse(text)
    if edit is None:
        return tree
    node = list(_seen(tree))[edit.node]
    _, new = _choices(node)[edit.choice]
    if new is None:
        node.op = _ARITHMETIC[type(node.op)]()  # type: ignore[attr-defined]
    changed = _Replace(node, ast.copy_location(new or node, node)).visit(tree)
    return ast.fix_missing_locations(changed)


class _Replace(ast.NodeTransformer):
    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self._old, self._new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        if node is self._old:
            return self._new
        self.generic_visit(node)
        return node


def _seen(tree: ast.AST) -> Iterator[ast.AST]:
    """Every node with a line in which an edit could be seen, each before those below it."""
    for name, value in ast.iter_fields(tree):
        if name in _UNSEEN_FIELDS:
            continue
        for node in value if isinstance(value, list) else [value]:
            if not isinstance(node, ast.AST) or isinstance(node, ast.Assert):
                continue
            if isinstance(node, ast.keyword) and node.arg in _UNSEEN_KEYWORDS:
                continue
            if isinstance(node, ast.stmt | ast.expr):
                yield node
            yield from _seen(node)


def _choices(node: ast.AST) -> list[tuple[str, ast.AST | None]]:
    """The edits of one node: in words, and what stands there then (None: another operator in the same node)."""
    match node:
        case ast.Compare():
            return list(_comparisons(node))
        case ast.BinOp() | ast.AugAssign() if type(node.op) in _ARITHMETIC:
            return [(f"{_SIGNS[type(node.op)]} to {_SIGNS[_ARITHMETIC[type(node.op)]]}", None)]
        case ast.Constant() if isinstance(node.value, bool):
            return [(f"{node.value} to {not node.value}", ast.Constant(not node.value))]
        case ast.Constant() if isinstance(node.value, int | float):
            return [(f"{node.value} to {node.value + n}", _number(node.value + n)) for n in (1, -1)]
        case ast.BoolOp():
            other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
            return [(f"{_SIGNS[type(node.op)]} to {_SIGNS[type(other)]}", ast.BoolOp(other, node.values))]
        case ast.UnaryOp(op=ast.Not()):
            return [("not left out", node.operand)]
    return _other_choices(node)


def _other_choices(node: ast.AST) -> list[tuple[str, ast.AST | None]]:
    """Those of the course that a function takes: conditions, what is given back, what is left out."""
    match node:
        case ast.If() | ast.IfExp() | ast.While() if not isinstance(node.test, ast.Compare):
            return [("condition turned round", _turned(node))]
        case ast.Return() if node.value and not (
            isinstance(node.value, ast.Constant) and node.value.value is None
        ):
            return [("returns None", ast.Return(ast.Constant(None)))]
        case ast.Expr(value=ast.Call()):
            return [("call left out", ast.Pass())]
        case ast.Expr(value=ast.Yield() | ast.YieldFrom()):
            return [("yields nothing", ast.Expr(ast.YieldFrom(ast.Tuple([], ast.Load()))))]
        case ast.Call(func=ast.Name(id=name), args=[first, *_]) if name in _LEFT_OUT:
            return [(f"{name} left out", first)]
    return []


def _comparisons(node: ast.Compare) -> Iterator[tuple[str, ast.AST]]:
    for n, op in enumerate(node.ops):
        other = _COMPARISONS[type(op)]
        ops = [*node.ops[:n], other(), *node.ops[n + 1 :]]
        yield f"{_SIGNS[type(op)]} to {_SIGNS[other]}", ast.Compare(node.left, ops, node.comparators)


def _number(value: float) -> ast.expr:
    return ast.UnaryOp(ast.USub(), ast.Constant(-value)) if value < 0 else ast.Constant(value)


def _turned(node: ast.If | ast.IfExp | ast.While) -> ast.AST:
    fields = dict(ast.iter_fields(node))
    return type(node)(**fields | {"test": ast.UnaryOp(ast.Not(), node.test)})
