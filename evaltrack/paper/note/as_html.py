"""A family's page as one HTML file: nothing outside it is needed, and a browser prints it well."""

from collections.abc import Iterable
from html import escape

from evaltrack.language import tr
from evaltrack.paper import palette
from evaltrack.paper.note.chart import chart_svg, key_svg
from evaltrack.rink.plain_text import runs_right
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.page_language import in_words_of
from evaltrack.words.family.sheet import FamilySheet, Part, Sentence, SkillRow

_PAPER_NAMES = {"us-letter": "letter", "a4": "A4"}
# nothing is fetched and nothing runs, whatever stands in the words
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_STYLE = """
@page { size: %(paper)s; margin: 14mm 16mm; }
* { box-sizing: border-box; }
body { color: %(ink)s; background: %(white)s; font: %(size)spt/1.4 "IBM Plex Sans Condensed", "Segoe UI",
  "Helvetica Neue", Arial, sans-serif; max-width: 52em; margin: 0 auto; padding: 1em;
  overflow-wrap: anywhere; }
h1 { font-size: 2em; line-height: 1.15; margin: .3em 0; }
h2 { font-size: 1.15em; color: %(fill)s; margin: 1.1em 0 .3em; break-after: avoid; }
p, ul { margin: .3em 0; }
ul { padding-left: 1.2em; }
.small, caption, th[scope=col], footer { font-size: .87em; color: %(soft)s; font-weight: normal; }
.draft { display: inline-block; border: 2px solid %(ink)s; padding: .2em .6em; font-weight: bold; }
.coach { background: %(pale)s; padding: .6em .8em; }
.coach p { white-space: pre-line; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%%; }
.wide table { min-width: 36em; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%%); }
caption { text-align: left; padding: .2em 0; }
th, td { text-align: left; vertical-align: middle; padding: .3em .5em .3em 0;
  border-top: 1px solid %(lines)s; }
tr { break-inside: avoid; }
th[scope=row] { font-weight: normal; width: 30%%; }
.count { font-weight: bold; white-space: nowrap; }
td.agreed { border: 1px solid %(lines)s; padding: .3em .5em; height: 2.2em; }
svg { max-width: 100%%; height: auto; display: block; }
p svg { margin: .6em 0; }
footer { margin-top: 1.2em; border-top: 1px solid %(lines)s; padding-top: .4em; }
@media print { body { max-width: none; padding: 0; } }
"""


def html_of(page: FamilySheet, paper: str = "us-letter", large_print: bool = False) -> str:
    """Return the page as HTML with its charts in it.

    Parameters
    ----------
    paper : ``us-letter`` or ``a4``, for the browser's own printing.
    large_print : 12 points where it is 10 else.
    """
    with in_words_of(page):
        return _html_of(page, paper, large_print)


def _html_of(page: FamilySheet, paper: str, large_print: bool) -> str:
    look = {"paper": _PAPER_NAMES[paper], "size": 12 if large_print else 10, "white": palette.WHITE}
    body = [*_head(page)]
    for part in page.parts:
        body += _skills(page) if part.key == sheet.NEXT else ()
        body += _part(page, part)
    foot = [_p(words) for words in (*page.footers, page_frame.private(page))]
    return "\n".join(
        [
            "<!DOCTYPE html>",
            f'<html lang="{escape(page.language)}">',
            '<head><meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(page_frame.title(page))}</title>",
            f"<style>{_STYLE % (palette.NAMES | look)}</style></head>",
            "<body><main>",
            *body,
            "</main><footer>",
            *foot,
            "</footer></body></html>",
            "",
        ]
    )


def _head(page: FamilySheet) -> Iterable[str]:
    if page.is_draft:
        yield f'<p class="draft">{escape(tr(page_frame.DRAFT_LINE))}</p>'
    yield f'<p class="small">{escape(page_frame.kind(page))} · {escape(page_frame.days(page))}</p>'
    yield f"<h1{_side(page.name)}>{escape(page.name)}</h1>"
    yield _p(f"{page_frame.who(page)} {page_frame.meeting(page)}")


def _part(page: FamilySheet, part: Part) -> Iterable[str]:
    if part.key == sheet.SEEN:
        yield from ("<p>", " ".join(map(_said, part.sentences)), "</p>")
    elif part.key == sheet.AGREED:
        yield from (_heading(part), _agreed(page))
    elif part.sentences:
        yield _heading(part)
        if part.key == sheet.COACH:
            yield from ('<div class="coach">', *(_p(one.text) for one in part.sentences), "</div>")
        else:
            yield f"<ul>{''.join(_item(one) for one in part.sentences)}</ul>"


def _skills(page: FamilySheet) -> Iterable[str]:
    if page.rows or page.thin:
        yield f"<h2>{escape(tr(page_frame.SKILLS))}</h2>"
    if page.rows:
        drawn = any(row.drawn for row in page.rows)
        columns = [tr(page_frame.SKILL_COLUMN), *([tr(page_frame.CHART_COLUMN)] if drawn else ())]
        yield f'<div class="wide"><table><caption>{escape(tr(page_frame.CAPTION))}</caption><thead><tr>'
        yield from (f'<th scope="col">{escape(one)}</th>' for one in (*columns, tr(page_frame.RESULT_COLUMN)))
        yield "</tr></thead><tbody>"
        yield from (_row(page, row, drawn) for row in page.rows)
        yield "</tbody></table></div>"
        if drawn:
            yield f"<p>{_inline(key_svg(page_frame.key_words()))}</p>"
        yield _p(page.how_to_read, "small")
    if page.thin:
        yield _p(page.thin, "small")


def _row(page: FamilySheet, row: SkillRow, drawn: bool) -> str:
    told = "<br>".join(escape(words) for words in (row.direction, row.level) if words)
    chart = _inline(chart_svg(page.axis, row.path, row.seen, told=row.chart_words)) if row.drawn else ""
    return (
        f'<tr><th scope="row"><strong>{escape(row.name)}</strong> '
        f'<span class="small">{escape(row.looks_like)}</span></th>'
        f"{f'<td>{chart}</td>' if drawn else ''}"
        f'<td><span class="count">{escape(row.count)}, {escape(row.share)}</span><br>'
        f'<span class="small">{told}</span></td></tr>'
    )


def _inline(svg: str) -> str:
    """Return a picture as it stands within HTML, where its kind need not be named by an address."""
    return svg.replace(' xmlns="http://www.w3.org/2000/svg"', "")


def _agreed(page: FamilySheet) -> str:
    columns = (tr(page_frame.AIM_COLUMN), tr(page_frame.HELPER_COLUMN), tr(page_frame.AGAIN_COLUMN))
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in columns)
    rows = [page_frame.cells(one) for one in page.agreed] or [("", "", "")] * 2
    cells = ("".join(f'<td class="agreed"{_side(text)}>{escape(text)}</td>' for text in row) for row in rows)
    body = "".join(f"<tr>{row}</tr>" for row in cells)
    caption = escape(page.part(sheet.AGREED).heading)
    # the heading above says the same to who sees it
    named = f'<caption><span class="unseen">{caption}</span></caption>'
    return f"<table>{named}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _heading(part: Part) -> str:
    return f"<h2>{escape(part.heading)}</h2>"


def _item(one: Sentence) -> str:
    return f"<li{_side(one.text)}>{_said(one)}</li>"


def _said(one: Sentence) -> str:
    if one.lead and one.text.startswith(one.lead):
        return f"<strong>{escape(one.lead)}</strong>{escape(one.text[len(one.lead) :])}"
    return escape(one.text)


def _p(text: str, kind: str = "") -> str:
    marked = f' class="{kind}"' if kind else ""
    return f"<p{_side(text)}{marked}>{escape(text)}</p>"


def _side(text: str) -> str:
    return ' dir="rtl"' if runs_right(text) else ""
