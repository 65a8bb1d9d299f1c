"""Ways in which a season file is damaged: each takes its bytes and a source of chance, and returns others."""

from collections.abc import Callable
from random import Random

PAGE = 4096
_HEADER = (
    16,
    18,
    19,
    20,
    21,
    24,
    28,
    32,
    36,
    40,
    44,
    48,
    52,
    56,
    60,
    64,
    68,
    92,
    96,
)  # its fields begin here
_INTERIOR = (2, 5)  # kinds of page that hold the numbers of others
Damage = Callable[[bytearray, Random, bytes], bytes]


def flipped(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Flip bits, or put other bytes, in a few places."""
    for _ in range(chance.choice((1, 1, 2, 5, 20))):
        at = chance.randrange(len(content))
        content[at] = (
            content[at] ^ 1 << chance.randrange(8) if chance.random() < 0.6 else chance.randrange(256)
        )
    return content


def flipped_in_rows(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Flip a bit in a page that holds something, near its end, where rows are."""
    for _ in range(chance.choice((1, 2, 5))):
        page = chance.choice(_used(content))
        at = min(page * PAGE + PAGE - 1 - int(abs(chance.gauss(0, PAGE / 4))) % PAGE, len(content) - 1)
        content[at] ^= 1 << chance.randrange(8)
    return content


def cut(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Cut the end off, between two pages or within one."""
    end = chance.randrange(len(content))
    return content[: end - end % PAGE if chance.random() < 0.5 else end]


def blotted(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Put zeros or noise in the place of 16 to 4096 bytes."""
    size = chance.choice((16, 512, PAGE))
    at = chance.randrange(len(content) // size) * size
    content[at : at + size] = bytes(size) if chance.random() < 0.5 else chance.randbytes(size)
    return content


def swapped(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Exchange two pages."""
    one, two = (chance.randrange(1, len(content) // PAGE) * PAGE for _ in range(2))
    first, second = bytes(content[one : one + PAGE]), bytes(content[two : two + PAGE])
    content[one : one + PAGE], content[two : two + PAGE] = second, first
    return content


def doubled(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Write one page over another."""
    one, two = (chance.randrange(1, len(content) // PAGE) * PAGE for _ in range(2))
    content[one : one + PAGE] = bytes(content[two : two + PAGE])
    return content


def foreign(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Put a page of another season in, of the same place or another."""
    one = chance.randrange(1, len(content) // PAGE) * PAGE
    two = one if chance.random() < 0.5 and one < len(other) else chance.randrange(len(other) // PAGE) * PAGE
    content[one : one + PAGE] = other[two : two + PAGE]
    return content


def header(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Change a field of the file's header: page size, free pages, encoding, versions."""
    at = chance.choice(_HEADER)
    value = chance.choice((0, 1, 2, 3, chance.randrange(256), chance.randrange(1 << 32)))
    size = 1 if at in (18, 19, 20, 21) else 2 if at == 16 else 4
    content[at : at + size] = (value % (1 << 8 * size)).to_bytes(size, "big")
    return content


def misled(content: bytearray, chance: Random, other: bytes) -> bytes:
    """Let a page lead to another one, or back to itself."""
    inside = [p for p in range(1, len(content) // PAGE) if content[p * PAGE] in _INTERIOR]
    if not inside:
        return swapped(content, chance, other)
    page = chance.choice(inside)
    start = page * PAGE
    count = int.from_bytes(content[start + 3 : start + 5], "big")
    target = chance.choice((page + 1, chance.choice(inside) + 1, chance.randrange(len(content) // PAGE) + 1))
    if count and chance.random() < 0.6:
        pointer = start + 12 + 2 * chance.randrange(min(count, 1000))
        at = start + int.from_bytes(content[pointer : pointer + 2], "big") % (PAGE - 4)
    else:
        at = start + 8
    content[at : at + 4] = target.to_bytes(4, "big")
    return content


DAMAGES: dict[str, tuple[Damage, int]] = {
    "flipped": (flipped, 22),
    "flipped in rows": (flipped_in_rows, 30),
    "cut": (cut, 8),
    "blotted": (blotted, 10),
    "swapped": (swapped, 8),
    "doubled": (doubled, 5),
    "foreign page": (foreign, 6),
    "header": (header, 5),
    "misled": (misled, 6),
}


def damaged(content: bytes, other: bytes, chance: Random) -> tuple[str, bytes]:
    """Return the name of a damage drawn by chance, and the damaged content."""
    names = list(DAMAGES)
    (name,) = chance.choices(names, [DAMAGES[name][1] for name in names])
    return name, bytes(DAMAGES[name][0](bytearray(content), chance, other))


def _used(content: bytes) -> list[int]:
    return [p for p in range(len(content) // PAGE) if content[p * PAGE : p * PAGE + PAGE].count(0) < PAGE]
