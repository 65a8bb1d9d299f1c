"""Hostile files: always a sentence, soon and in little memory, and nothing taken in."""

import pytest
from own_process import bounded
from pond_team import HEADER, roster_file

from evaltrack.places import sample_roster

GOOD = "2025-10-06,breakout_attack,two_on_one,outlet_pass,2,done"
SKILLS = (sample_roster() / "skills.toml").read_text("utf-8")
SKILL = '[[skill]]\nkey="k{}"\nname="n"\nfor=["D"]\ncaption="c"\nstarts="s"\ndone="d"\nmissed="m"\n'

TALLIES = {
    "100,000 bad skills": (
        HEADER + "\n" + "".join(GOOD.replace("outlet_pass", f"outlet_{i}") + ",,\n" for i in range(100_000)),
        "more than 200 faults",
    ),
    "100,000 columns": (HEADER + "," + ",".join(f"playe{i}" for i in range(100_000)), "bytes; at most"),
    "a header of many short columns": (
        HEADER + "," + ",".join(f"p{i}" for i in range(1500)) + "\n" + GOOD, "more than 200 faults"),
    "400,000 tries on 4320 lines": (
        f"{HEADER},times\n" + f"{GOOD},,,99\n" * 4320, "more than 100,000 tries"),
    "a field of 5 MB": (f"{HEADER}\n2025-10-06,{'x' * 5_000_000},a,b,2,done\n", "bytes; at most 10,000"),
    "9 MB": (f"{HEADER}\n" + f"{GOOD},,\n" * 150_000, "the file has 8.9 MB; at most 8 MB"),
    "7 million empty lines": ("\n" * 7_000_000 + "x", "lines; at most 200,000"),
    "a record of a million cells": (
        HEADER + "\n" + (',x' * 4_500 + ',"\n"') * 800, "values for 8 columns"),
    "marks over marks": (
        f"{HEADER}\n" + f"{GOOD},,a{'̖́' * 2400}\n" * 150, "at most 40 fit"),
    "a count of 4000 digits": (f"{HEADER},times\n{GOOD},,,{'9' * 4000}\n", "is too many; at most 99 fit"),
}  # fmt: skip
CATALOGUES = {
    "dots": (".".join(["a"] * 20_000) + " = 1\n", "bytes; at most"),
    "short lines of dots": (f"{'a.' * 4000}a = 1\n" * 20, "too many parts between dots"),
    "dots in an inline table": ("x = {" + "a . " * 2000 + "a = 1}\n", "too many parts between dots"),
    "quoted parts": ("[" + '"a".' * 2000 + "a]\n", "too many parts between dots"),
    "deep brackets": ("x = " + "[" * 100_000 + "]" * 100_000, "bytes; at most"),
    "deep short brackets": ("x = " + "[\n" * 5000 + "]\n" * 5000, "nested too deeply"),
    "deep inline tables": ("x = " + "{a=" * 900 + "1" + "}" * 900, "nested too deeply"),
    "blanks in a header": (
        SKILLS + "\nx = [\n" + ("[[" + " " * 8000 + "\n1]],\n") * 20 + "]\n", "unknown field"
    ),
    "a key of 9 kB": ("a" * 9000 + " = 1\n", "unknown field `aaaa"),
    "one word after the other": ("\n".join(["a" * 9900] * 25), "this is not TOML"),
    "3000 skills": ("".join(SKILL.format(i) for i in range(3000)), "kB; at most 250 kB"),
    "3000 short skills": ("[[skill]]\n" * 3000, "it has 3,000 [[skill]]; at most 200 fit"),
    "many tables": ("".join(f"[a{i}.b.c.d]\n" for i in range(15_000)), "more than 200 faults"),
    "a text of many": (SKILLS.replace("at_home = [", "at_home = [" + '"a",' * 41, 1), "at most 40 fit"),
    "a long number": ("x = " + "9" * 5000, "too long to be read"),
}  # fmt: skip


@pytest.mark.parametrize("kind", TALLIES)
def test_a_hostile_tallies_file_is_refused_soon(empty_season, kind):
    """Whatever a tallies.csv holds, it is refused in a sentence, and nothing of it is taken in."""
    content, words = TALLIES[kind]
    path = empty_season.with_name("tallies.csv")
    path.write_text(content, encoding="utf-8")
    code, out, err = bounded("load", empty_season, path)
    assert (code, out) == (1, "")
    assert words in err
    assert len(err) < 20_000


@pytest.mark.parametrize("kind", CATALOGUES)
def test_a_hostile_catalogue_is_refused_soon(tmp_path, kind):
    """Whatever a skills.toml holds, it is refused in a sentence, and no season file is made."""
    content, words = CATALOGUES[kind]
    path = tmp_path / "skills.toml"
    path.write_text(content, encoding="utf-8")
    rest = ("--team", "Pond", "--age-class", "12U", "--roster", roster_file(tmp_path), "--skills", path)
    code, out, err = bounded("new", tmp_path / "pond.db", *rest)
    assert (code, out) == (1, "")
    assert words in err
    assert not (tmp_path / "pond.db").exists()
