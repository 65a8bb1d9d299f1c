"""Skills and drills written as the TOML files that are read, with the comments of the file they came from."""

import tomllib
from collections.abc import Iterable, Sequence
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Array, Table

from evaltrack.intake.catalogue_fields import drill_fields
from evaltrack.intake.text import folded
from evaltrack.intake.toml_blocks import arranged
from evaltrack.rink.catalogue_change import DEFINITION
from evaltrack.rink.drill import Drill
from evaltrack.rink.practice import Surface
from evaltrack.rink.skill import DEFAULT_TARGET, Skill

_OTHERWISE = {
    "target": DEFAULT_TARGET,
    "at_home": [],
    "surface": Surface.HALF,
}  # what is meant where a field is left out


def skills_text(skills: Iterable[Skill], base: str) -> str:
    """Return skills as a skills.toml.

    Parameters
    ----------
    base : the text from which they came, or any skills.toml: what is alike stays as it is written there,
        with its comments. Text that is no TOML is passed over.
    """
    return _text("skill", [_skill(skill) for skill in skills], base)


def drills_text(drills: Iterable[Drill], base: str) -> str:
    """Return drills as a drills.toml, as ``skills_text`` does."""
    return _text("drill", [drill_fields(drill) for drill in drills], base)


def _skill(skill: Skill) -> dict[str, Any]:
    return {
        "key": skill.key,
        "name": skill.name,
        "for": [str(letter) for letter in skill.positions],
        "caption": skill.caption,
        **{part: getattr(skill.definition, part) for part in DEFINITION},
        "looks_like": skill.looks_like,
        "at_home": list(skill.at_home),
        "target": skill.target,
    }


def _text(kind: str, wanted: Sequence[dict], base: str) -> str:
    for text in (
        base,
        "",
    ):  # a text that was damaged since it was kept, or is written in some rare way, is left
        try:
            document = tomlkit.parse(_in_order(kind, wanted, text))
            _fill(document, {kind: list(wanted)})
        except (TOMLKitError, TypeError, AttributeError, KeyError, ValueError):
            continue
        written = tomlkit.dumps(document)
        if _is_read_as(written, kind, wanted):
            break
    return written


def _in_order(kind: str, wanted: Sequence[dict], base: str) -> str:
    """Return the text as it is where it has the wanted tables, and with just these where it has not."""
    there = tomllib.loads(base)
    return base if _keys(there.get(kind, [])) == _keys(wanted) else arranged(base, kind, wanted)


def _keys(tables: Sequence[dict]) -> list:
    """Return the keys of tables and of those below them."""
    below = [value for table in tables for value in table.values() if _is_tables(value)]
    return [table["key"] for table in tables] + [_keys(value) for value in below]


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _is_read_as(text: str, kind: str, wanted: Sequence[dict]) -> bool:
    try:
        return _all_say(tomllib.loads(text)[kind], wanted)
    except (ValueError, KeyError, TypeError, AttributeError):
        return False


def _all_say(there: Sequence[dict], wanted: Sequence[dict]) -> bool:
    return len(there) == len(wanted) and all(
        _all_say(table[name], value)
        if _is_tables(value)
        else _says(table.get(name, _OTHERWISE.get(name)), value)
        for table, fields in zip(there, wanted, strict=True)
        for name, value in fields.items()
    )


def _fill(table: Table, fields: dict[str, Any]) -> None:
    """Write what a table and those below it do not say yet."""
    for name in [name for name in table if name not in fields]:
        del table[name]
    for name, value in fields.items():
        if _is_tables(value):
            for below, own in zip(table[name], value, strict=True):
                _fill(below, own)
        elif not _says(table.get(name, _OTHERWISE.get(name)), value):
            table[name] = _lines(value) if name == "at_home" else value


def _says(there: Any, wanted: Any) -> bool:
    """Say whether what is written is read as the wanted value."""
    if isinstance(wanted, str):
        return isinstance(there, str) and folded(there) == wanted
    if isinstance(wanted, list):
        return (
            isinstance(there, list)
            and [folded(one) if isinstance(one, str) else one for one in there] == wanted
        )
    return there == wanted


def _lines(values: Sequence[str]) -> Array:
    array = tomlkit.array()
    array.extend(values)
    return array.multiline(bool(values))
