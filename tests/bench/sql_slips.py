"""Small wrong changes to a statement of SQL."""

import re
from collections.abc import Iterator

_SQL = re.compile(r"\b(SELECT|INSERT|WHERE|EXISTS|ORDER BY)\b")
_IN_SQL = [
    (r" AND ", " OR "), (r"<>", "="), (r"<=", "<"), (r"NOT EXISTS", "EXISTS"), (r"NOT IN", "IN"),
    (r"WHERE NOT ", "WHERE "), (r"\bmax\(", "min("), (r"\+ 1\b", "+ 2"), (r" ORDER BY \w+", ""),
    (r", 0\)", ", 1)"), (r"= 'done'", "= 'missed'"), (r"= 'missed'", "= 'done'"),
    (r" ON CONFLICT (\(\w+\) )?DO NOTHING", ""), (r"\bIS NULL", "IS NOT NULL"),
    (r"count\(\*\)", "count(*) + 1"), (r"UNION ALL", "EXCEPT"), (r"(?<= t\.)step, t", "drill, t"),
]  # fmt: skip


def is_sql(text: str) -> bool:
    """Say whether a text of a program is a statement of SQL, or a part of one."""
    return _SQL.search(text) is not None


def sql_slips(text: str) -> Iterator[tuple[int, int, str]]:
    """Return where in a statement, from byte to byte, another piece may stand, and which."""
    for pattern, new in _IN_SQL:
        for hit in re.finditer(pattern, text):
            begin, end = (len(text[:place].encode()) for place in hit.span())
            yield begin, end, new
