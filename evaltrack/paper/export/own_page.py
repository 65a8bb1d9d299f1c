"""The page on which parents read what is kept of their child: one file of HTML that needs nothing else."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from evaltrack.analysis.standings.standing import Standing
from evaltrack.paper.export.tidy_table import TidyTable, cell
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player
from evaltrack.words.wording import call_words, count_words

_STYLE = (
    "body{font:1rem/1.5 system-ui,sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem;color:#111;"
    "background:#fff}table{border-collapse:collapse;width:100%;margin:1.5rem 0}caption{text-align:left;"
    "font-weight:600;padding:.3rem 0}th,td{border-bottom:1px solid #888;padding:.3rem .6rem;text-align:left;"
    "vertical-align:top}"
)
_WHAT = (
    "This is everything that the staff's season file keeps of this player, and nothing of anybody else. The"
    " tables beside this page have the same for a spreadsheet; everything.json has it for other programs,"
    " row by row as it is kept."
)
_SHARES = "A skill with too few tries says very little. Done is what was counted; nothing here is a rank."


@dataclass(frozen=True)
class Page:
    """What stands on the page: whose it is, the standings, the tables, what was written, and names."""

    team: str
    player: Player
    standings: Sequence[Standing]
    tables: Sequence[TidyTable]
    written: Sequence[tuple[str, str]]
    skills: Mapping[str, str]
    days: Mapping[str, date]


def page(of: Page) -> str:
    """Return the page as HTML, in which nothing that somebody wrote is taken for a command."""
    title = f"What is kept of {of.player.name}"
    tables = {table.name: table for table in of.tables}
    parts = [
        f"<h1>{escape(title)}</h1>",
        f"<p>{escape(of.team)}, number {escape(of.player.number)}, {escape(of.player.position_words)}.</p>",
        f"<p>{_WHAT}</p>",
        _table("The player", ("What", "Is"), _player_rows(tables["players"])),
        _table("Skills", ("Skill", "Done", "What can be said"), _skill_rows(of)),
        f"<p>{_SHARES}</p>",
        _table("Practice by practice", ("Practice", "There", "Skill", "Seen"), _practice_rows(of, tables)),
        _table("Changes of the roster", ("From", "What", "Was", "Became"), _change_rows(tables)),
        _table("What the staff wrote", ("Where", "Words"), of.written),
    ]
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{escape(title)}</title>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n"
        + "\n".join(parts)
        + "\n</main>\n</body>\n</html>\n"
    )


def _table(caption: str, heads: Sequence[str], rows: Iterable[Sequence]) -> str:
    rows = list(rows)
    if not rows:
        return f"<p>{escape(caption)}: nothing.</p>"
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in heads)
    body = "\n".join(f"<tr>{''.join(f'<td>{_cell(one)}</td>' for one in row)}</tr>" for row in rows)
    return (
        f"<table>\n<caption>{escape(caption)}</caption>\n<thead><tr>{head}</tr></thead>\n"
        f"<tbody>\n{body}\n</tbody>\n</table>"
    )


def _cell(value: object) -> str:
    return "" if value is None else escape(in_full(value) if isinstance(value, date) else str(cell(value)))


def _player_rows(table: TidyTable) -> list[tuple]:
    return [
        (column.name.replace("_", " "), value)
        for column, value in zip(table.columns, table.rows[0], strict=True)
        if column.name != "id" and value is not None
    ]


def _skill_rows(of: Page) -> list[tuple]:
    return [(of.skills[one.skill], count_words(one.done, one.tries), call_words(one)) for one in of.standings]


def _practice_rows(of: Page, tables: Mapping[str, TidyTable]) -> list[tuple]:
    """Return a row for each practice and skill, and one for a practice where nothing was seen."""
    seen: dict[str, dict[str, list[str]]] = {}
    for row in tables["tallies"].as_objects():
        seen.setdefault(row["practice"], {}).setdefault(row["skill"], []).append(row["outcome"])
    there = {row["practice"]: row["here"] for row in tables["attendance"].as_objects()}
    found = []
    for key in sorted({*seen, *there}, key=lambda key: (of.days[key], key)):
        here = "yes" if there.get(key) else "no"
        skills = seen.get(key) or {"": []}
        found += [
            (of.days[key], here, of.skills.get(skill, ""), _outcomes(all_of))
            for skill, all_of in skills.items()
        ]
    return found


def _outcomes(outcomes: Sequence[str]) -> str:
    kinds = ((word, outcomes.count(word)) for word in ("done", "missed", "unseen"))
    return ", ".join(f"{count} {word}" for word, count in kinds if count)


def _change_rows(tables: Mapping[str, TidyTable]) -> list[tuple]:
    rows = tables["roster_changes"].as_objects()
    return [
        (date.fromisoformat(row["day"]), row["field"].replace("_", " "), row["was"], row["becomes"])
        for row in rows
    ]
