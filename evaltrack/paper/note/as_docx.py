"""A family's page for a word processor. What the coach changes there stays there."""

import io
import zipfile
from collections.abc import Sequence
from datetime import datetime, time
from functools import lru_cache
from pathlib import Path

from docx import Document
from docx.enum.style import WD_STYLE_TYPE
from docx.enum.table import WD_ALIGN_VERTICAL
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Mm, Pt, RGBColor

from evaltrack.language import tr
from evaltrack.paper import palette
from evaltrack.paper.note.chart import chart_height, chart_svg, key_svg
from evaltrack.paper.render import print_pngs
from evaltrack.rink.plain_text import runs_right
from evaltrack.words.family import page_frame, sheet
from evaltrack.words.family.page_language import in_words_of
from evaltrack.words.family.sheet import FamilySheet, Part, Sentence, SkillRow

_PICTURE = Path(__file__).resolve().with_name("picture.typ")
_PAPERS = {"us-letter": (Mm(215.9), Mm(279.4)), "a4": (Mm(210), Mm(297))}
_DOTS = 200  # to the inch
_CHART_WIDE = Mm(64)
_SKILL_WIDTHS = {3: (Mm(58), Mm(70), Mm(48)), 2: (Mm(110), Mm(66))}
_AGREED_WIDTHS = (Mm(96), Mm(40), Mm(40))
_THEMES = ("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme")
_SMALL = "Small"
_FILE_DATE = (1980, 1, 1, 0, 0, 0)  # of each part of the file, so that the same page gives the same bytes


def docx_of(page: FamilySheet, paper: str = "us-letter", large_print: bool = False) -> bytes:
    """Return the page as docx: headings, tables with header rows, charts with their words.

    Parameters
    ----------
    paper : ``us-letter`` or ``a4``.
    large_print : 12 points where it is 10 else.
    """
    with in_words_of(page):
        return _docx_of(page, paper, large_print)


def _docx_of(page: FamilySheet, paper: str, large_print: bool) -> bytes:
    document = Document()
    _set_up(document, page, paper, 12 if large_print else 10)
    _edges(document, page)
    _head(document, page)
    for part in page.parts:
        if part.key == sheet.NEXT:
            _skills(document, page)
        _part(document, page, part)
    foot = document.add_paragraph()
    foot.paragraph_format.space_before = Pt(8)  # or it would touch the table above
    _small(foot, " ".join(page.footers))
    return _same_bytes(document)


def _set_up(document, page: FamilySheet, paper: str, size: int) -> None:
    section = document.sections[0]
    section.page_width, section.page_height = _PAPERS[paper]
    section.left_margin = section.right_margin = Mm(17)
    section.top_margin = section.bottom_margin = Mm(18)
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "Arial", Pt(size)
    normal.paragraph_format.space_after = Pt(3)
    for level, larger in ((1, 2.1), (2, 1.15)):
        style = document.styles[f"Heading {level}"]
        style.font.name, style.font.size = "Arial", Pt(round(size * larger))
        for theme in _THEMES:  # it would go before the name
            style.element.rPr.rFonts.attrib.pop(qn(f"w:{theme}"), None)
        style.font.color.rgb = RGBColor.from_string((palette.INK, palette.FILL)[level - 1][1:])
        style.paragraph_format.space_before, style.paragraph_format.space_after = Pt(size * 0.8), Pt(3)
    small = document.styles.add_style(_SMALL, WD_STYLE_TYPE.CHARACTER)
    small.font.size, small.font.color.rgb = Pt(round(size * 0.87, 1)), RGBColor.from_string(palette.SOFT[1:])
    default = document.styles.element.find(f"{qn('w:docDefaults')}/{qn('w:rPrDefault')}/{qn('w:rPr')}")
    default.find(qn("w:lang")).set(qn("w:val"), page.language)
    _properties(document.core_properties, page)


def _properties(core, page: FamilySheet) -> None:
    core.title, core.author, core.language = page_frame.title(page), page.team, page.language
    core.last_modified_by = core.comments = ""
    core.created = core.modified = datetime.combine(page.axis.last, time())


def _edges(document, page: FamilySheet) -> None:
    """Fill the head and the foot of the pages; the first page has a head of its own."""
    section = document.sections[0]
    section.different_first_page_header_footer = True
    draft = f"{tr(page_frame.DRAFT)} · " if page.is_draft else ""
    kind = f"{draft}{page_frame.kind(page)} · {page_frame.days(page)}"
    _small(section.first_page_header.paragraphs[0], kind)
    _small(section.header.paragraphs[0], f"{draft}{page_frame.continued(page)}")
    for footer in (section.first_page_footer, section.footer):
        paragraph = footer.paragraphs[0]
        _small(paragraph, f"{draft}{page_frame.private(page)} · {page.name} · {tr(page_frame.PAGE)} ")
        _page_number(paragraph)


def _page_number(paragraph) -> None:
    field = OxmlElement("w:fldSimple")
    field.set(qn("w:instr"), "PAGE")
    field.append(paragraph.add_run("1", style=_SMALL)._r)
    paragraph._p.append(field)


def _head(document, page: FamilySheet) -> None:
    _say(document.add_heading(level=1), page.name)
    if page.is_draft:
        document.add_paragraph().add_run(tr(page_frame.DRAFT_LINE)).bold = True
    document.add_paragraph(f"{page_frame.who(page)} {page_frame.meeting(page)}".rstrip())


def _part(document, page: FamilySheet, part: Part) -> None:
    if part.key == sheet.SEEN:
        _say(document.add_paragraph(), " ".join(one.text for one in part.sentences))
    elif part.key == sheet.AGREED:
        document.add_heading(part.heading, level=2)
        _agreed(document, page)
    elif part.sentences:
        document.add_heading(part.heading, level=2)
        for one in part.sentences:
            _sentence(document.add_paragraph(style=None if part.key == sheet.COACH else "List Bullet"), one)


def _sentence(paragraph, one: Sentence) -> None:
    if one.lead and one.text.startswith(one.lead):
        paragraph.add_run(one.lead).bold = True
        paragraph.add_run(one.text[len(one.lead) :])
    else:
        _say(paragraph, one.text)


def _skills(document, page: FamilySheet) -> None:
    if page.rows or page.thin:
        document.add_heading(tr(page_frame.SKILLS), level=2)
    if page.rows:
        drawn = any(row.drawn for row in page.rows)
        columns = [tr(page_frame.SKILL_COLUMN), *([tr(page_frame.CHART_COLUMN)] if drawn else ())]
        table = _table(document, [*columns, tr(page_frame.RESULT_COLUMN)], _SKILL_WIDTHS[len(columns) + 1])
        for row in page.rows:
            _row(_added(table), page, row)
        if drawn:
            below = document.add_paragraph()
            below.paragraph_format.space_before = Pt(5)
            _picture(below, key_svg(page_frame.key_words()), Mm(140), page_frame.key_words())
        _small(document.add_paragraph(), page.how_to_read)
    if page.thin:
        _small(document.add_paragraph(), page.thin)


def _row(cells, page: FamilySheet, row: SkillRow) -> None:
    name = cells[0].paragraphs[0]
    name.add_run(row.name).bold = True
    _small(name, f" {row.looks_like}")
    if row.drawn:
        svg = chart_svg(page.axis, row.path, row.seen, chart_height(len(page.rows)), row.chart_words)
        _picture(cells[1].paragraphs[0], svg, _CHART_WIDE, row.chart_words)
    result = cells[-1].paragraphs[0]
    result.add_run(f"{row.count}, {row.share}").bold = True
    for words in filter(None, (row.direction, row.level)):
        result.add_run().add_break()
        _small(result, words)


def _agreed(document, page: FamilySheet) -> None:
    columns = (tr(page_frame.AIM_COLUMN), tr(page_frame.HELPER_COLUMN), tr(page_frame.AGAIN_COLUMN))
    table = _table(document, columns, _AGREED_WIDTHS)
    for cells in [page_frame.cells(one) for one in page.agreed] or [("", "", "")] * 2:
        for cell, text in zip(_added(table), cells, strict=True):
            _say(cell.paragraphs[0], text)


def _table(document, columns: Sequence[str], widths: Sequence[int]):
    """Return a table whose first row is told as its header, on each page anew."""
    table = document.add_table(rows=1, cols=len(columns), style="Table Grid")
    table.autofit = False
    for column, width in zip(table.columns, widths, strict=True):
        column.width = width
    for cell, words in zip(table.rows[0].cells, columns, strict=True):
        _small(cell.paragraphs[0], words)
    table.rows[0]._tr.get_or_add_trPr().append(OxmlElement("w:tblHeader"))
    return table


def _added(table):
    """Return the cells of a new row, which no page's end cuts in two."""
    row = table.add_row()
    row._tr.get_or_add_trPr().append(OxmlElement("w:cantSplit"))
    for cell, column in zip(row.cells, table.columns, strict=True):
        cell.width, cell.vertical_alignment = column.width, WD_ALIGN_VERTICAL.CENTER
    return row.cells


def _picture(paragraph, svg: str, width, told: str) -> None:
    drawing = paragraph.add_run().add_picture(io.BytesIO(_drawn(svg)), width)
    drawing._inline.docPr.set("descr", told)


@lru_cache(maxsize=32)
def _drawn(svg: str) -> bytes:
    return print_pngs(_PICTURE, {"svg": svg}, _DOTS)[0]


def _say(paragraph, text: str) -> None:
    run = paragraph.add_run(text)
    if runs_right(text):
        paragraph._p.get_or_add_pPr().append(OxmlElement("w:bidi"))
        run._r.get_or_add_rPr().append(OxmlElement("w:rtl"))


def _small(paragraph, text: str) -> None:
    paragraph.add_run(text, style=_SMALL)


def _same_bytes(document) -> bytes:
    """Return the file with every part dated alike: a zip file else has the moment of its writing."""
    made, again = io.BytesIO(), io.BytesIO()
    document.save(made)
    with zipfile.ZipFile(made) as parts, zipfile.ZipFile(again, "w", zipfile.ZIP_DEFLATED) as file:
        for name in parts.namelist():
            file.writestr(zipfile.ZipInfo(name, _FILE_DATE), parts.read(name), zipfile.ZIP_DEFLATED)
    return again.getvalue()
