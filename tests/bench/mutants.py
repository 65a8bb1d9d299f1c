"""Every wrong change of a file, and what its lines become by it."""

import ast
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from slips import Change, Slips, changed


class Mutant(NamedTuple):
    """One wrong change of one file.

    ``scope`` is the outermost function or method round it, empty for what runs at import. ``was`` and
    ``becomes`` are the lines that change, without indents; they name a mutant wherever its lines move.
    """

    file: Path
    line: int
    scope: str
    was: str
    becomes: str
    change: Change

    def source(self) -> str:
        """Return the whole text of the file with the change in it."""
        return changed(self.file.read_bytes(), self.change).decode()


def mutants_of(file: Path, enums: Mapping[str, Sequence[str]]) -> list[Mutant]:
    """Return every mutant of a file, in the order of its lines.

    Parameters
    ----------
    file : a module.
    enums : the members of each enumeration by its name; one member is put in the place of another.
    """
    raw = file.read_bytes()
    found: dict[tuple[str, str, int], Mutant] = {}
    for scope, change in Slips(raw.decode(), enums).changes():
        mutant = _named(file, raw, scope, change)
        if mutant.was != mutant.becomes:
            found.setdefault((mutant.was, mutant.becomes, mutant.line), mutant)
    return sorted(found.values(), key=lambda mutant: (mutant.line, mutant.change))


def enums_in(files: Sequence[Path]) -> dict[str, list[str]]:
    """Return the members of each enumeration that these files define, by its name."""
    found: dict[str, list[str]] = {}
    for file in files:
        for node in ast.walk(ast.parse(file.read_bytes())):
            if isinstance(node, ast.ClassDef) and any("Enum" in ast.unparse(base) for base in node.bases):
                assigned = [one.targets[0] for one in node.body if isinstance(one, ast.Assign)]
                found[node.name] = [target.id for target in assigned if isinstance(target, ast.Name)]
    return found


def _named(file: Path, raw: bytes, scope: str, change: Change) -> Mutant:
    begin = raw.rfind(b"\n", 0, change.start) + 1
    end = raw.find(b"\n", change.end)
    end = len(raw) if end < 0 else end
    was, becomes = raw[begin:end], changed(raw[:end], change)[begin:]
    line = raw.count(b"\n", 0, change.start) + 1
    return Mutant(file, line, scope, *(" ".join(part.decode().split()) for part in (was, becomes)), change)
