"""The tables of a TOML file as blocks of text, put into another order together with their own comments."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

_KEY = re.compile(r"""^[ \t]*key[ \t]*=[ \t]*["']([^"'\n]*)["']""", re.MULTILINE)
_COMMENT = re.compile(r"[ \t]*#")


@dataclass
class _Block:
    """One table with its own comments above it, and what stands between it and the next one.

    Only comments without an empty line below them are a table's own; the others stay where they are.
    """

    head: str
    body: str
    rest: str = ""

    @property
    def text(self) -> str:
        return self.head + self.body + self.rest


def arranged(text: str, kind: str, wanted: Sequence[dict[str, Any]], above: str = "") -> str:
    """Return the text with just the wanted tables ``[[kind]]``, and those below them, in their order.

    Parameters
    ----------
    wanted : the fields of each table; the tables below it are lists of dicts. New ones have only their key.
    above : the path of the table that holds them, as ``drill.step``.
    """
    path = f"{above}.{kind}" if above else kind
    start, blocks = _blocks(text, path)
    known = {found[1]: block for block in blocks if (found := _KEY.search(block.body))}
    keys = [fields["key"] for fields in wanted]
    start += "".join(block.rest for key, block in known.items() if key not in keys)
    parts = [known.get(key) or _Block("", f'[[{path}]]\nkey = "{key}"\n', "\n") for key in keys]
    for block, fields in zip(parts, wanted, strict=True):
        for name, value in fields.items():
            if value and isinstance(value, list) and isinstance(value[0], dict):
                block.body = arranged(_ended(block.body), name, value, path)
    return start + "".join(_apart(block, last) for block, last in zip(parts, _lasts(parts), strict=True))


def _lasts(parts: Sequence[_Block]) -> list[bool]:
    return [number == len(parts) - 1 for number in range(len(parts))]


def _apart(block: _Block, last: bool) -> str:
    text = _ended(block.text)
    return text if last or text.endswith("\n\n") else text + "\n"


def _ended(text: str) -> str:
    return text if not text or text.endswith("\n") else text + "\n"


def _blocks(text: str, path: str) -> tuple[str, list[_Block]]:
    """Return what stands before the first table of a path, and the tables."""
    pattern = r"[ \t]*\.[ \t]*".join(map(re.escape, path.split(".")))
    header = re.compile(rf"^[ \t]*\[\[[ \t]*{pattern}[ \t]*\]\]", re.MULTILINE)
    starts = [found.start() for found in header.finditer(text)]
    if not starts:
        return text, []
    blocks = [_Block("", text[at:end]) for at, end in zip(starts, [*starts[1:], len(text)], strict=True)]
    start, first = _own_comments(text[: starts[0]])
    heads = [first]
    for block in blocks:
        block.body, head = _own_comments(block.body)
        block.body, block.rest = _without_tail(block.body)
        heads.append(head)
    for block, head in zip(blocks, heads[:-1], strict=True):
        block.head = head
    blocks[-1].rest += heads[-1]
    return start, blocks


def _own_comments(text: str) -> tuple[str, str]:
    """Take the comments off the end of a text that belong to what follows."""
    lines = text.splitlines(keepends=True)
    at = len(lines)
    while at and _COMMENT.match(lines[at - 1]):
        at -= 1
    return "".join(lines[:at]), "".join(lines[at:])


def _without_tail(text: str) -> tuple[str, str]:
    """Divide a table from the empty lines and the comments below it."""
    lines = text.splitlines(keepends=True)
    at = len(lines)
    while at and (not lines[at - 1].strip() or _COMMENT.match(lines[at - 1])):
        at -= 1
    return "".join(lines[:at]), "".join(lines[at:])
