"""Small wrong changes to a text of Python, one at a time, such as a slip of the hand would make."""

import ast
import copy
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from instead import CALCULATED, COMPARED, JOINED, OPPOSITE, ORDERED, instead
from read_by_python import read_by_python
from sql_slips import is_sql, sql_slips

AT_IMPORT = ""  # the scope of what runs when a module is imported


class Change(NamedTuple):
    """One piece of a text, in bytes, and what stands there instead."""

    start: int
    end: int
    new: str


def changed(raw: bytes, change: Change) -> bytes:
    """Return a text with a change in it."""
    return raw[: change.start] + change.new.encode() + raw[change.end :]


class Slips:
    """Walks over one text and makes the changes of each of its nodes."""

    def __init__(self, text: str, enums: Mapping[str, Sequence[str]], mode: str = "exec"):
        self._raw, self._enums = text.encode(), enums
        lines = self._raw.split(b"\n")
        self._begins = [sum(len(line) + 1 for line in lines[:number]) for number in range(len(lines))]
        self._tree = ast.parse(text, mode=mode)

    def changes(self) -> Iterator[tuple[str, Change]]:
        """Return scope and change, one after the other."""
        yield from self._of_body(self._tree, AT_IMPORT, "")

    def _of_body(self, node: ast.AST, scope: str, inside: str) -> Iterator[tuple[str, Change]]:
        for child in read_by_python(node):
            if isinstance(child, ast.ClassDef):
                yield from self._of_body(child, scope, f"{inside}{child.name}.")
                continue
            own, names = scope, inside
            if isinstance(child, ast.FunctionDef) and not scope:
                own, names = inside + child.name, ""
            elif isinstance(child, ast.arguments) and isinstance(node, ast.FunctionDef):
                own = AT_IMPORT
            yield from ((own, change) for change in self._of_node(child, node))
            if not isinstance(child, ast.JoinedStr):
                yield from self._of_body(child, own, names)

    def _of_node(self, node: ast.AST, parent: ast.AST) -> Iterator[Change]:
        for kinds, make in self._makers():
            if isinstance(node, kinds):
                yield from make(node, parent)

    def _makers(self):
        return (
            (ast.Compare, self._comparison),
            (ast.BinOp, self._calculation),
            (ast.BoolOp, self._joined),
            (ast.UnaryOp, self._sign),
            (ast.Constant, self._constant),
            (ast.JoinedStr, self._filled_in),
            (ast.Dict, self._values),
            (ast.Attribute, self._member),
            (ast.Call, self._call),
            (ast.Slice, self._slice),
            ((ast.If, ast.While, ast.IfExp), self._condition),
            (ast.comprehension, self._conditions),
            (ast.Return, self._return),
            ((ast.Expr, ast.AugAssign, ast.Assign, ast.Delete, ast.Raise), self._statement),
            ((ast.Continue, ast.Break), self._statement),
        )

    def _comparison(self, node: ast.Compare, parent: ast.AST) -> Iterator[Change]:
        for op, left, right in zip(node.ops, [node.left, *node.comparators], node.comparators, strict=False):
            yield self._between(left, right, *COMPARED[type(op)])
        if isinstance(parent, ast.Return):
            yield from self._negated(node)

    def _calculation(self, node: ast.BinOp, _) -> Iterator[Change]:
        yield self._between(node.left, node.right, *CALCULATED[type(node.op)])

    def _joined(self, node: ast.BoolOp, parent: ast.AST) -> Iterator[Change]:
        first, last = self._span(node)
        was, becomes = JOINED[type(node.op)]
        parts = [
            self._between(a, b, was, becomes) for a, b in zip(node.values, node.values[1:], strict=False)
        ]
        text = self._raw[first:last]
        for part in reversed(parts):
            text = changed(text, Change(part.start - first, part.end - first, part.new))
        yield Change(first, last, text.decode())
        if len(node.values) > 2:
            new = f" {was} ".join(self._text(value) for value in node.values[:-1])
            yield Change(first, last, new)
        if isinstance(parent, ast.Return):
            yield from self._negated(node)

    def _sign(self, node: ast.UnaryOp, parent: ast.AST) -> Iterator[Change]:
        first, last = self._span(node)
        index = isinstance(parent, ast.Subscript) and parent.slice is node
        yield Change(first, last, "0" if index else self._text(node.operand))

    def _constant(self, node: ast.Constant, parent: ast.AST) -> Iterator[Change]:
        if isinstance(parent, ast.UnaryOp):
            return
        for new in instead(node.value, isinstance(parent, ast.Subscript) and parent.slice is node):
            yield Change(*self._span(node), new)
        if isinstance(node.value, str):
            yield from self._string(node)

    def _string(self, node: ast.Constant) -> Iterator[Change]:
        if is_sql(node.value):
            yield from self._sql(node)
        else:
            yield Change(*self._span(node), repr("" if node.value else "x"))

    def _sql(self, node: ast.AST) -> Iterator[Change]:
        first, _ = self._span(node)
        for begin, end, new in sql_slips(self._text(node)):
            yield Change(first + begin, first + end, new)

    def _filled_in(self, node: ast.JoinedStr, _) -> Iterator[Change]:
        """Leave out one part of a filled-in text, or change what fills it in."""
        if is_sql(ast.unparse(node)):
            yield from self._sql(node)
            return
        for place, part in enumerate(node.values):
            if isinstance(part, ast.FormattedValue) or re.search(r"\w", part.value):
                yield self._with_part(node, place, None)
            if isinstance(part, ast.FormattedValue):
                text = ast.unparse(part.value)
                for _, change in Slips(f"({text})", self._enums, "eval").changes():
                    wrong = changed(f"({text})".encode(), change).decode()
                    yield self._with_part(node, place, ast.parse(wrong, mode="eval").body)

    def _with_part(self, node: ast.JoinedStr, place: int, value: ast.expr | None) -> Change:
        other = copy.deepcopy(node)
        if value is None:
            del other.values[place]
        else:
            other.values[place].value = value
        return Change(*self._span(node), ast.unparse(other))

    def _values(self, node: ast.Dict, _) -> Iterator[Change]:
        yield from map(self._swapped, node.values, node.values[1:])

    def _swapped(self, one: ast.expr, other: ast.expr) -> Change:
        (first, between), (after, last) = self._span(one), self._span(other)
        gap = self._raw[between:after].decode()
        return Change(first, last, self._text(other) + gap + self._text(one))

    def _member(self, node: ast.Attribute, _) -> Iterator[Change]:
        name = node.value.id if isinstance(node.value, ast.Name) else ""
        members = self._enums.get(name, ())
        if node.attr in members:
            other = members[(members.index(node.attr) + 1) % len(members)]
            yield Change(*self._span(node), f"{name}.{other}")

    def _call(self, node: ast.Call, _) -> Iterator[Change]:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        _, end = self._span(node.func)
        if name in OPPOSITE:
            yield Change(end - len(name), end, OPPOSITE[name])
        if name == "reversed":
            yield Change(end - len(name), end, "list")
        if name == "sorted" and len(node.args) == 1:
            yield Change(end - len(name), end, "list") if not node.keywords else self._unkeyed(node)
        if name == "where" and len(node.args) == 3:
            yield self._swapped(*node.args[1:])

    def _unkeyed(self, node: ast.Call) -> Change:
        kept = [self._text(node.args[0])]
        kept += [f"{k.arg}={self._text(k.value)}" for k in node.keywords if k.arg != "key"]
        return Change(*self._span(node), f"sorted({', '.join(kept)})")

    def _slice(self, node: ast.Slice, _) -> Iterator[Change]:
        for bound in (node.lower, node.upper):
            if bound is not None:
                yield Change(*self._span(bound), "")

    def _condition(self, node: ast.If | ast.While | ast.IfExp, _) -> Iterator[Change]:
        yield from self._negated(node.test)

    def _conditions(self, node: ast.comprehension, _) -> Iterator[Change]:
        for test in node.ifs:
            yield from self._negated(test)

    def _negated(self, test: ast.expr) -> Iterator[Change]:
        if isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not):
            return  # that it loses its not is a change of its own
        if isinstance(test, ast.Compare) and len(test.ops) == 1 and not isinstance(test.ops[0], ORDERED):
            return
        yield Change(*self._span(test), f"not ({self._text(test)})")

    def _return(self, node: ast.Return, parent: ast.AST) -> Iterator[Change]:
        nothing = isinstance(node.value, ast.Constant) and node.value.value is None
        if node.value is not None and not nothing:
            yield Change(*self._span(node.value), "None")
        if isinstance(node.value, ast.Tuple):
            yield from map(self._swapped, node.value.elts, node.value.elts[1:])
        if not isinstance(parent, ast.FunctionDef):
            yield Change(*self._span(node), "pass")

    def _statement(self, node: ast.stmt, _) -> Iterator[Change]:
        if isinstance(node, ast.Assign) and not isinstance(node.targets[0], ast.Attribute | ast.Subscript):
            return
        yield Change(*self._span(node), "pass")

    def _between(self, left: ast.expr, right: ast.expr, was: str, becomes: str) -> Change:
        """Change the operator between two operands; brackets may stand there too."""
        first, last = self._span(left)[1], self._span(right)[0]
        gap = self._raw[first:last].decode()
        found = re.search(r"\s+".join(map(re.escape, was.split())), gap)
        return Change(first + found.start(), first + found.end(), becomes)

    def _span(self, node: ast.AST) -> tuple[int, int]:
        return (
            self._begins[node.lineno - 1] + node.col_offset,
            self._begins[node.end_lineno - 1] + node.end_col_offset,
        )

    def _text(self, node: ast.AST) -> str:
        first, last = self._span(node)
        return self._raw[first:last].decode()
