"""A small invented team with a roster and tallies as someone would bring them, for the command-line tests."""

import random
from pathlib import Path

ROSTER = """number,name,position,birth_year
2,Tuva Ashlund,D,2014
7,Bram Okonjo-Reyes,D,
11,Ines Falk,F,2014
14,Jory Pellwick,F,2015
31,Mika Sundqvale,G,2014
"""
NAMES = {"2": "Tuva Ashlund", "7": "Bram Okonjo-Reyes", "11": "Ines Falk", "14": "Jory Pellwick"}
DAYS = ("2025-10-06", "2025-10-13", "2025-10-20", "2025-10-27")
HEADER = "date,drill,step,skill,player,outcome,pressure,observer"
_WATCHED = {"2": "outlet_pass", "7": "outlet_pass", "11": "lane_fill", "14": "lane_fill"}


def roster_file(folder: Path) -> Path:
    """Write roster.csv and return its path."""
    path = folder / "roster.csv"
    path.write_text(ROSTER, encoding="utf-8")
    return path


def tally_lines() -> list[str]:
    """Return 8 tries for each of four players at each of four practices: 128 lines of tallies.csv."""
    chance = random.Random(1911)
    outcomes = ("done", "done", "missed")
    return [
        f"{day},breakout_attack,two_on_one,{skill},{number},{chance.choice(outcomes)},no,Edda"
        for day in DAYS
        for number, skill in _WATCHED.items()
        for _ in range(8)
    ]


def tallies_file(folder: Path, lines: list[str] | None = None) -> Path:
    """Write tallies.csv and return its path."""
    path = folder / "tallies.csv"
    path.write_text(
        "\n".join([HEADER, *(tally_lines() if lines is None else lines)]) + "\n", encoding="utf-8"
    )
    return path
