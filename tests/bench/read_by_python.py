"""Which parts of a program do something when it runs.

What only people read is left out: docstrings, annotations, decorators, ``__repr__`` and what a refusal says;
so is ``strict`` of ``zip``, which guards against a slip of ours and does nothing without one.
"""

import ast
from collections.abc import Iterator

MESSAGES = ("sound",)  # modules whose calls take the words of a complaint


def read_by_python(node: ast.AST) -> Iterator[ast.AST]:
    """Return the children of a node that do something when the program runs."""
    left_out = {"annotation", "returns", "decorator_list", "bases", "names", "cls", "format_spec"}
    if isinstance(node, ast.Raise) or _is_message(node):
        return
    for name, value in ast.iter_fields(node):
        for child in value if isinstance(value, list) else [value]:
            if name in left_out or not isinstance(child, ast.AST) or _is_for_people(child, node):
                continue
            yield child


def _is_message(node: ast.AST) -> bool:
    func = node.func if isinstance(node, ast.Call) else None
    return isinstance(func, ast.Attribute) and isinstance(func.value, ast.Name) and func.value.id in MESSAGES


def _is_for_people(node: ast.AST, parent: ast.AST) -> bool:
    words = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    shown = isinstance(node, ast.FunctionDef) and node.name == "__repr__"
    hidden = isinstance(node, ast.keyword) and node.arg in ("repr", "strict")
    slots = isinstance(parent, ast.Assign) and ast.unparse(parent.targets[0]) == "__slots__"
    return words or shown or hidden or slots
