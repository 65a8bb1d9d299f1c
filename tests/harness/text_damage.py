"""Ways in which a text file that people bring is damaged, or was written by somebody who means harm.

Each takes the file's bytes and a source of chance, and returns other bytes.
"""

import string
from collections.abc import Callable
from random import Random

LARGE = 9_000_000  # bytes, more than any reader takes
_MARKS = (
    *(
        "\x00",
        "\x1b[2J",
        "\x85",
        "\u2028",
        "\ufeff",
        "\u202e",
        "\u200d",
        "\ud7ff\uffff",
        "e" + "\u0301" * 3000,
    ),
    *(
        "'",
        '"',
        '"""',
        "'''",
        '",',
        "=1+1",
        "%s{0}{name}",
        "{",
        "}",
        "\\",
        "\\u",
        "\\x00",
        "#",
        "-",
        "\t",
        "\r",
    ),
    *("0", "-1", "1e999", "nan", "inf", "9" * 5000, "0x" + "F" * 4000, "1" + "0" * 4290, "00", "٣", "²", "½"),
    *(
        "0000-00-00",
        "9999-12-31",
        "2026-02-30",
        "99999-01-01",
        "2026-01-01T25:61:61Z",
        "18:30+00:00",
        "24:00",
    ),
    *(
        "[",
        "]",
        "[[",
        "]]",
        "[]",
        "{}",
        "true",
        "yes",
        ",,,,",
        ";",
        ";;",
        " " * 9000,
        "\t" * 5000,
        "/" * 9000,
    ),
    *("ﷺ" * 300, "İ" * 500, "ß" * 500, "1.0", "0001" + "9" * 4400, "D/F/G" * 800, "\n", "\r\n\r\n"),
)
_BYTES = (
    b"\xed\xa0\x80",
    b"\xc0\x80",
    b"\xff\xfe",
    b"\xfe\xff",
    b"\xf4\x90\x80\x80",
    b"\xef\xbb\xbf",
    b"\x80",
)
_CODECS = ("utf-16", "utf-16-le", "utf-32", "utf-7", "cp1252", "cp037", "utf-8-sig")
Damage = Callable[[bytes, Random], bytes]


def flipped(content: bytes, chance: Random) -> bytes:
    """Flip bits, or put other bytes, in a few places."""
    made = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 5, 30))):
        at = chance.randrange(len(made))
        made[at] = made[at] ^ 1 << chance.randrange(8) if chance.random() < 0.6 else chance.randrange(256)
    return bytes(made)


def cut(content: bytes, chance: Random) -> bytes:
    """Cut the end off, or the beginning, or a part out of the middle."""
    one, two = sorted((chance.randrange(len(content)), chance.randrange(len(content))))
    return chance.choice((content[:one], content[one:], content[:one] + content[two:]))


def spliced(content: bytes, chance: Random) -> bytes:
    """Put a part of the file in at another place."""
    part, at = _part(content, chance), chance.randrange(len(content))
    return content[:at] + part + content[at:]


def repeated(content: bytes, chance: Random) -> bytes:
    """Write a part, or a line, again and again."""
    part = _part(content, chance)[:2000] if chance.random() < 0.5 else chance.choice(content.splitlines(True))
    at = content.find(part)
    most = chance.choice((10_000, 100_000, 100_000, 1_000_000, LARGE if chance.random() < 0.1 else 400_000))
    return content[:at] + part * (most // max(1, len(part))) + content[at:]


def stretched(content: bytes, chance: Random) -> bytes:
    """Make a value, a name or a line far too long."""
    sign = chance.choice(
        (b"x", b" ", b"9", b'"', b"\\", b"\xcc\x81", b"=", b"/", b"\t", b"a.", b"-", b",", b"\r")
    )
    at = chance.randrange(len(content))
    return content[:at] + sign * chance.choice((100, 4000, 9000, 50_000, 200_000)) + content[at:]


def marked(content: bytes, chance: Random) -> bytes:
    """Put what programs stumble over into the file, or in the place of a word."""
    for _ in range(chance.choice((1, 1, 2, 6))):
        mark = chance.choice(_BYTES) if chance.random() < 0.1 else chance.choice(_MARKS).encode()
        start = end = chance.randrange(len(content))
        if chance.random() < 0.7:
            while end < len(content) and content[end : end + 1].isalnum():
                end += 1
        content = content[:start] + mark + content[end:]
    return content


def shuffled(content: bytes, chance: Random) -> bytes:
    """Take lines out, write some twice, and some elsewhere."""
    lines = content.splitlines(True)
    for _ in range(chance.choice((1, 2, 5, 20))):
        line = lines.pop(chance.randrange(len(lines))) if len(lines) > 1 else b"\n"
        for _ in range(chance.choice((0, 1, 2))):
            lines.insert(chance.randrange(len(lines) + 1), line)
    return b"".join(lines)


def encoded(content: bytes, chance: Random) -> bytes:
    """Write it in another encoding, with the marks of several, or with other ends of lines."""
    text = content.decode("utf-8", "replace")
    if chance.random() < 0.4:
        return text.replace(
            "\n", chance.choice(("\r", "\r\n", "\n\r", "\x85", "\u2028", "\x0b", ""))
        ).encode()
    made = text.encode(chance.choice(_CODECS), "replace")
    return chance.choice((b"", *_BYTES)) + made if chance.random() < 0.3 else made


def nested(content: bytes, chance: Random) -> bytes:
    """Open brackets, quotation marks, tables and components within one another, deep down."""
    openings = (
        *(("[", "]"), ("{a=", "}"), ("[{a=", "}]"), ("a.", ""), ('"a".', ""), ('"', '"'), ("[[a]]\n", "")),
        *(("BEGIN:VEVENT\r\n", "END:VEVENT\r\n"), ("BEGIN:VALARM\r\n", ""), ("BEGIN:VCALENDAR\r\n", "")),
    )
    (opening, closing), deep = chance.choice(openings), chance.choice((3, 50, 990, 5000, 20_000))
    around = opening * deep + chance.choice(("", "1", "key")) + closing * deep
    before = chance.choice(("", "\n", "x = ", "key = ", "\n[[skill]]\n", "\n[[drill]]\nstep = "))
    at = chance.choice((0, len(content), content.find(b"\n") + 1, chance.randrange(len(content))))
    return content[:at] + (before + around).encode() + b"\n" + content[at:]


def replaced(content: bytes, chance: Random) -> bytes:
    """Put nothing but noise in the place of the file, at times below its first line."""
    size = chance.choice((1, 20, 500, 20_000))
    noise = chance.choice(
        (
            lambda: chance.randbytes(size),
            lambda: "".join(chance.choices(string.printable, k=size)).encode(),
            lambda: "".join(chr(chance.randrange(0xD800)) for _ in range(size)).encode(),
            lambda: "".join(chance.choices(_MARKS, k=min(size, 40))).encode(),
            lambda: b"".join(chance.choices(content.split() or [b""], k=min(size, 300))),
        )
    )()
    return content.splitlines(True)[0] + noise if chance.random() < 0.5 else noise


DAMAGES: tuple[Damage, ...] = (
    *(flipped, cut, spliced, repeated, stretched, marked, marked, shuffled, encoded, nested, replaced),
)


def damaged_text(content: bytes, chance: Random) -> tuple[str, bytes]:
    """Return the name of a damage drawn by chance, of two or of none, and the damaged file."""
    names = []
    for damage in chance.sample(DAMAGES, chance.choice((0, 1, 1, 1, 1, 2))):
        names.append(damage.__name__)
        content = damage(content, chance) or b"\n"
    return " and ".join(names) or "as it was", content


def _part(content: bytes, chance: Random) -> bytes:
    one, two = sorted((chance.randrange(len(content)), chance.randrange(len(content))))
    return content[one : two + 1]
