"""What may stand in the place of an operator, a function, a number or a truth value."""

import ast

COMPARED = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="), ast.Is: ("is", "is not"), ast.IsNot: ("is not", "is"),
    ast.In: ("in", "not in"), ast.NotIn: ("not in", "in"),
}  # fmt: skip
ORDERED = (ast.Lt, ast.LtE, ast.Gt, ast.GtE)
CALCULATED = {
    ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "*"), ast.Mod: ("%", "*"), ast.Pow: ("**", "*"), ast.MatMult: ("@", "*"),
    ast.LShift: ("<<", ">>"), ast.RShift: (">>", "<<"), ast.BitAnd: ("&", "|"), ast.BitOr: ("|", "&"),
    ast.BitXor: ("^", "|"),
}  # fmt: skip
JOINED = {ast.And: ("and", "or"), ast.Or: ("or", "and")}
_OPPOSITES = [
    ("min", "max"), ("any", "all"), ("ceil", "floor"), ("argmin", "argmax"), ("minimum", "maximum"),
    ("startswith", "endswith"), ("union", "intersection"), ("isdisjoint", "issubset"),
]  # fmt: skip
OPPOSITE = dict(_OPPOSITES) | {second: first for first, second in _OPPOSITES}


def instead(value: object, index: bool) -> list[str]:
    """Return what may stand in the place of a number or a truth value."""
    if isinstance(value, bool):
        return [str(not value)]
    if isinstance(value, int):
        first = "-1" if index and value == 0 else "0" if value == 1 else str(value + 1)
        return [first] if value in (0, 1) else [first, str(value - 1)]
    if isinstance(value, float):
        if value == 0 or abs(value) < 1e-6:
            return ["1.0" if value == 0 else "0.0"]
        return [repr(value * 1.25), repr(value * 0.8)]
    return []
