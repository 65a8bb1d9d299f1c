"""Count the keys that bring a sheet's ticks into the season, on the demo team's tallies.

python tests/bench/bench_typing_in.py

The tallies of one skill, step and observer at one practice are taken for one sheet. Three ways are counted,
by arithmetic and not by watching anyone: each try as a line of tallies.csv, typed whole; the blank form, in
which every line takes Enter and each count its digits, down to the last count of the sheet; and the ticks
tapped anew on a board like that of the app, with a tap for the skill and one for pressure.
"""

import csv
from collections import Counter, defaultdict

from evaltrack.intake.catalogue import read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tally_form import kinds_of_try
from evaltrack.places import sample_roster
from evaltrack.rink.player import likely_present


def sheets() -> dict[tuple, list[dict]]:
    """Return the lines of the demo team's tallies by sheet, without what was unseen."""
    found = defaultdict(list)
    with (sample_roster() / "tallies.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            if row["outcome"] != "unseen":
                found[tuple(row[name] for name in ("date", "drill", "step", "skill", "observer"))].append(row)
    return found


def keys_in_form(skill, players, tallied: list[dict]) -> int:
    """Return the keys that the form takes: Enter for each line down to the last count, and the digits."""
    likely = [player for player in players if skill.suits(player.position)]
    order = [(p.number, kind, pressure) for _, p, pressure, kind in kinds_of_try(skill, likely, [])]
    counts = Counter((row["player"], row["outcome"], row["pressure"] or "no") for row in tallied)
    last = max(place for place, kind in enumerate(order, start=1) if counts[kind])
    return last + sum(len(str(count)) for count in counts.values())


def taps(tallied: list[dict]) -> int:
    """Return the taps on a board: one for the skill, one a tally, and one for pressure on."""
    return 1 + len(tallied) + any(row["pressure"] == "yes" for row in tallied)


def report(name: str, found: dict[tuple, list[dict]]) -> None:
    """Print the keys a tally of each way, over some sheets."""
    skills = {skill.key: skill for skill in read_skills(sample_roster() / "skills.toml")}
    players = likely_present(read_roster(sample_roster() / "roster.csv"))
    tallies = sum(map(len, found.values()))
    lines = sum(len(",".join(row.values())) + 1 for rows in found.values() for row in rows)
    form = sum(keys_in_form(skills[sheet[3]], players, rows) for sheet, rows in found.items())
    board = sum(map(taps, found.values()))
    print(f"{len(found)} {name} with {tallies} tallies; keys a tally:")
    for way, keys in (("a line for each try", lines), ("the form", form), ("tapping it anew", board)):
        print(f"  {way:<20} {keys / tallies:6.2f}")


def main() -> None:
    """Print all sheets, and those on which little was ticked."""
    found = sheets()
    report("sheets", found)
    report("sheets of under 40", {sheet: rows for sheet, rows in found.items() if len(rows) < 40})


if __name__ == "__main__":
    main()
