"""The page on which parents read what is kept of their child: one file of HTML that needs nothing else."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import language, mark, tr, tr_many
from evaltrack.paper.export.tidy_table import TidyTable, cell
from evaltrack.rink.days import in_full
from evaltrack.rink.player import Player, Status, status_in
from evaltrack.rink.tally import Outcome
from evaltrack.words.wording import call_words, count_words

_STYLE = (
    "body{font:1rem/1.5 system-ui,sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem;color:#111;"
    "background:#fff}table{border-collapse:collapse;width:100%;margin:1.5rem 0}caption{text-align:left;"
    "font-weight:600;padding:.3rem 0}th,td{border-bottom:1px solid #888;padding:.3rem .6rem;text-align:left;"
    "vertical-align:top}"
)
_WHAT = mark(
    "This is everything that the staff's season file keeps of this player, and nothing of anybody else. The"
    " tables beside this page have the same for a spreadsheet; everything.json has it for other programs,"
    " row by row as it is kept."
)
_SHARES = mark(
    "A skill with too few tries says very little. Done is what was counted; nothing here is a rank."
)
_FULL = mark("full")
_FIELDS = {
    "number": mark("number"),
    "name": mark("name"),
    "position": mark("position"),
    "also": mark("also"),
    "birth_year": mark("birth year"),
    "status": mark("status"),
    "away_until": mark("away until"),
}


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
    title = tr("What is kept of {name}", name=of.player.name)
    tables = {table.name: table for table in of.tables}
    parts = [
        f"<h1>{escape(title)}</h1>",
        f"<p>{escape(_whose(of))}</p>",
        f"<p>{escape(tr(_WHAT), quote=False)}</p>",
        _table(tr("The player"), (tr("What"), tr("Is")), _player_rows(tables["players"])),
        _table(tr("Skills"), (tr("Skill"), tr("Done"), tr("What can be said")), _skill_rows(of)),
        f"<p>{escape(tr(_SHARES), quote=False)}</p>",
        _table(tr("Practice by practice"), _practice_heads(), _practice_rows(of, tables)),
        _table(tr("Changes of the roster"), _change_heads(), _change_rows(tables)),
        _table(tr("What the staff wrote"), (tr("Where"), tr("Words")), of.written),
    ]
    return (
        f'<!DOCTYPE html>\n<html lang="{language()}">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{escape(title)}</title>\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n"
        + "\n".join(parts)
        + "\n</main>\n</body>\n</html>\n"
    )


def _whose(of: Page) -> str:
    player = of.player
    words = mark("{team}, number {number}, {position}.")
    return tr(words, team=of.team, number=player.number, position=player.position_words)


def _practice_heads() -> tuple[str, ...]:
    return tr("Practice"), tr("There"), tr("Skill"), tr("Seen")


def _change_heads() -> tuple[str, ...]:
    return tr("From"), tr("What"), tr("Was"), tr("Became")


def _table(caption: str, heads: Sequence[str], rows: Iterable[Sequence]) -> str:
    rows = list(rows)
    if not rows:
        return f"<p>{escape(tr('{what}: nothing.', what=caption))}</p>"
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
        (tr(_FIELDS[column.name]), _in_words(column.name, value))
        for column, value in zip(table.columns, table.rows[0], strict=True)
        if column.name != "id" and value is not None
    ]


def _in_words(field: str, value: object) -> object:
    """Return a status in words, and every other value as it is."""
    if field != "status" or not value:
        return value
    status, until = status_in(str(value))
    if until:
        return tr("away until {day}", day=until)
    return tr(_FULL) if status is Status.FULL else tr(status)


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
        here = tr("yes") if there.get(key) else tr("no")
        skills = seen.get(key) or {"": []}
        found += [
            (of.days[key], here, of.skills.get(skill, ""), _outcomes(all_of))
            for skill, all_of in skills.items()
        ]
    return found


_COUNTED = {
    Outcome.DONE: lambda number: tr_many("{number} done", "{number} done", number),
    Outcome.MISSED: lambda number: tr_many("{number} missed", "{number} missed", number),
    Outcome.UNSEEN: lambda number: tr_many("{number} unseen", "{number} unseen", number),
}


def _outcomes(outcomes: Sequence[str]) -> str:
    kinds = ((words, outcomes.count(outcome)) for outcome, words in _COUNTED.items())
    return ", ".join(words(count) for words, count in kinds if count)


def _change_rows(tables: Mapping[str, TidyTable]) -> list[tuple]:
    rows = tables["roster_changes"].as_objects()
    return [
        (
            date.fromisoformat(row["day"]),
            tr(_FIELDS[row["field"]]),
            _in_words(row["field"], row["was"]),
            _in_words(row["field"], row["becomes"]),
        )
        for row in rows
    ]
