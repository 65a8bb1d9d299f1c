"""On which line of a TOML file each of its tables and fields stands: its reader keeps none."""

import re

_HEADER = re.compile(r"\s*\[\[([A-Za-z0-9_.\s-]+)\]\]")
_FIELD = re.compile(r"\s*([A-Za-z0-9_-]+)\s*=")
_SYNTAX_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")


def syntax_fault(message: str, text: str) -> tuple[int, str]:
    """Take the line out of tomllib's message, which ends in ``(at line 3, column 5)``."""
    found = _SYNTAX_LINE.search(message)
    reason = _SYNTAX_LINE.sub("", message)
    line = int(found[1]) if found and found[1] else text.count("\n") + 1
    return line, reason[:1].lower() + reason[1:]


def lines_of(text: str) -> dict[tuple, int]:
    """Find the line of every ``[[table]]`` and of its fields.

    tomllib keeps no lines, so the text is gone through for headers. A table is named by its path, such as
    ("drill", 0, "step", 2). Tables written inline are not found; their faults are told with a line above.
    """
    lines, counts, path, inside = {}, {}, (), False
    for number, line in enumerate(text.split("\n"), 1):
        if not inside and line.lstrip().startswith("#"):
            continue
        if not inside and (header := _HEADER.match(line)):
            path = _place(header[1], counts)
            lines.setdefault(path, number)
        elif not inside and (field := _FIELD.match(line)):
            lines.setdefault((*path, field[1]), number)
        inside ^= (line.count('"""') + line.count("'''")) % 2 == 1
    return lines


def _place(header: str, counts: dict[tuple, int]) -> tuple:
    """Count this header among its like and return its path."""
    *above, last = (part.strip() for part in header.split("."))
    path: tuple = ()
    for name in above:
        path = (*path, name, counts.get((*path, name), 0))
    counts[(*path, last)] = counts.get((*path, last), -1) + 1
    return (*path, last, counts[(*path, last)])
