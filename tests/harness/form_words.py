"""What a reader, or a nosy person, finds in a file that a family gets: words shown, and all the rest."""

import io
import re
import zipfile
from html.parser import HTMLParser

import docx
import pikepdf
import pypdf


class PageParser(HTMLParser):
    """The tags of an HTML file with their attributes, and its words."""

    def __init__(self, content: bytes):
        super().__init__()
        self.tags: list[tuple[str, dict]] = []
        self.closed: list[str] = []
        self.words: list[str] = []
        self._silent = 0
        self.feed(content.decode())
        self.close()

    def handle_starttag(self, tag, attrs):
        self._part(tag)
        self.tags.append((tag, dict(attrs)))
        self._silent += tag in ("style", "title")

    def handle_endtag(self, tag):
        self._part(tag)
        self.closed.append(tag)
        self._silent -= tag in ("style", "title")

    def handle_data(self, data):
        if not self._silent:
            self.words.append(data)

    def _part(self, tag: str) -> None:
        self.words.append("" if tag in ("strong", "span", "svg") else " ")

    def every(self, tag: str) -> list[dict]:
        """Return the attributes of each tag of a kind."""
        return [attrs for name, attrs in self.tags if name == tag]


def plain(text: str) -> str:
    """Return a text with every run of white space as one blank."""
    return re.sub(r"\s+", " ", text.replace("\u00a0", " "))


def words_shown(form: str, content: bytes) -> str:
    """Return the words that a reader of a form finds, those for who does not see the charts among them."""
    return plain(_READERS[form](content))


def everything_in(form: str, content: bytes) -> str:
    """Return all text of a file: words, properties, names of parts, whatever is packed into it."""
    if form == "pdf":
        with pikepdf.open(io.BytesIO(content)) as pdf:
            streams = [o.read_bytes() for o in pdf.objects if isinstance(o, pikepdf.Stream)]
            objects = [str(o) for o in pdf.objects if isinstance(o, pikepdf.Dictionary)]
        return plain(" ".join([_pdf(content), *objects, *(s.decode("utf-8", "replace") for s in streams)]))
    if form == "docx":
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            files = [parts.read(name).decode("utf-8", "replace") for name in parts.namelist()]
        return plain(" ".join([*files, re.sub(r"<[^>]*>", "", " ".join(files)), _docx(content)]))
    return plain(" ".join([content.decode(), words_shown(form, content)]))


def _pdf(content: bytes) -> str:
    reader = pypdf.PdfReader(io.BytesIO(content))
    with pikepdf.open(io.BytesIO(content)) as pdf:
        told = [alt for _, alt in tags_of(pdf) if alt]
    properties = [str(value) for value in (reader.metadata or {}).values()]
    return " ".join([*(page.extract_text() for page in reader.pages), *told, *properties])


def tags_of(pdf: pikepdf.Pdf) -> list[tuple[str, str]]:
    """Return each tag of the structure tree in its order, with its alternative text or nothing."""
    found, waiting = [], [pdf.Root.StructTreeRoot]
    while waiting:
        node = waiting.pop()
        if isinstance(node, pikepdf.Array):
            waiting.extend(reversed(list(node)))
        elif isinstance(node, pikepdf.Dictionary):
            if "/S" in node and node.get("/Type") != "/MCR":
                found.append((str(node.S), str(node.get("/Alt", ""))))
            if "/K" in node:
                waiting.append(node.K)
    return found


def languages_of(pdf: pikepdf.Pdf) -> set[str]:
    """Return the language of a file and every other one in which something in it is tagged."""
    found = {str(one.Lang) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Lang" in one}
    for page in pdf.pages:
        for operands, _ in pikepdf.parse_content_stream(page):
            found |= {
                str(one.Lang) for one in operands if isinstance(one, pikepdf.Dictionary) and "/Lang" in one
            }
    return found


def _docx(content: bytes) -> str:
    document = docx.Document(io.BytesIO(content))
    section = document.sections[0]
    edges = (section.header, section.footer, section.first_page_header, section.first_page_footer)
    body = document.element.body
    paragraphs = [
        "".join(node.text or "" for node in paragraph.iter() if node.tag.endswith(("}t", "}br")))
        for paragraph in body.iter("{http://schemas.openxmlformats.org/wordprocessingml/2006/main}p")
    ]
    told = [node.get("descr") for node in body.iter() if node.tag.endswith("}docPr")]
    return " ".join([*(p.text for edge in edges for p in edge.paragraphs), *paragraphs, *filter(None, told)])


def _html(content: bytes) -> str:
    page = PageParser(content)
    return " ".join(["".join(page.words), *(one["aria-label"] for one in page.every("svg"))])


_READERS = {"pdf": _pdf, "html": _html, "text": lambda content: content.decode(), "docx": _docx}
