"""Frames on a stream: four bytes with the length, then so many. Nothing longer than was asked for is read."""

import asyncio
import struct

from evaltrack.device.handover.faults import broken, silent, strange

LENGTH = struct.Struct(">I")


def framed(body: bytes) -> bytes:
    """Return a body as a frame."""
    return LENGTH.pack(len(body)) + body


async def read_frame(reader: asyncio.StreamReader, most: int, seconds: float) -> bytes:
    """Return the body of the next frame.

    Parameters
    ----------
    most : bytes that it may have; a longer one is refused before any of it is read.
    seconds : how long to wait for all of it.

    Raises
    ------
    HandoverError : it is longer, did not come in time, or the stream has ended.
    """
    try:
        async with asyncio.timeout(seconds):
            (size,) = LENGTH.unpack(await reader.readexactly(LENGTH.size))
            if not 0 < size <= most:
                raise strange()
            return await reader.readexactly(size)
    except TimeoutError:
        raise silent(seconds) from None
    except (asyncio.IncompleteReadError, OSError):
        raise broken() from None


async def write(writer: asyncio.StreamWriter, data: bytes, seconds: float) -> None:
    """Send bytes; HandoverError when the other side does not take them in time, or is gone."""
    try:
        writer.write(data)
        async with asyncio.timeout(seconds):
            await writer.drain()
    except TimeoutError:
        raise silent(seconds) from None
    except OSError:
        raise broken() from None
