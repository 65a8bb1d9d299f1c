"""Every table of the schema says what becomes of it when two tablets meet."""

import sqlite3
from contextlib import closing

import pytest

from evaltrack.store.edits import KINDS, SLOTS
from evaltrack.store.packs.merge_rules import FACTS, RULES, Own
from evaltrack.store.packs.rows import Shape

LEDGER = "_sqlite_migrations"
# columns that no field has: they follow from others, or are the same wherever the row is
_FOLLOW = {
    "skill": {"version"},
    "definition": {"version"},
    "step": set(),
    "practice": set(),
    "attendance": set(),
}


@pytest.fixture
def file(season_path):
    with closing(sqlite3.connect(season_path)) as connection:
        yield connection


def tables_of(connection) -> set[str]:
    rows = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
    return {name for (name,) in rows} - {LEDGER}


def without_a_rule(tables: set[str]) -> set[str]:
    return tables - RULES.keys()


def test_every_table_has_a_rule(file):
    """Whoever adds a table adds a rule, or this says which one lacks it."""
    assert without_a_rule(tables_of(file)) == set()
    assert RULES.keys() - tables_of(file) == set()
    file.execute("CREATE TABLE weather (sky TEXT) STRICT")
    assert without_a_rule(tables_of(file)) == {"weather"}


def test_what_belongs_to_a_fact_names_its_key(file):
    """The columns of a part that name its fact are as many as its key has; a part is nobody else's."""
    parts = [part for rule in FACTS.values() for part in rule.parts]
    assert sorted(parts) == sorted(table for table, rule in RULES.items() if rule is Own.PART)
    for table, rule in FACTS.items():
        shape = Shape(file, table)
        for part, names in rule.parts.items():
            assert len(names) == len(shape.key)
            assert set(names) <= set(shape.parts[part].columns)


def test_the_last_one_of_facts_can_be_found(file):
    """Facts of which the last one counts have a number and a tablet beside what they are about."""
    about = {table: rule.about for table, rule in FACTS.items() if rule.about}
    assert about
    for table, columns in about.items():
        assert {*columns, "nth", "tablet"} <= set(Shape(file, table).columns)


def test_every_column_of_what_changes_is_in_a_field(file):
    """A column that were in none would not get to the other tablet."""
    values = {table for table, rule in RULES.items() if rule is Own.VALUES} - {"slot"} | {"definition"}
    assert values == KINDS.keys()
    for table, kind in KINDS.items():
        found = {row[1] for row in file.execute(f"PRAGMA table_info({table})")}
        told = {*kind.key, *(column for field in kind.fields for column in field.columns)}
        assert found - told == _FOLLOW.get(table, set()), table
    slot = {row[1] for row in file.execute("PRAGMA table_info(slot)")}
    assert slot - set(SLOTS.columns) == {"drill", "step"}
