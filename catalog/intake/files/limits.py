"""How much of a file is read: beyond it, it is refused before it can do harm."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """Generous for a guide update of ten thousand records, small for a machine.

    size: bytes of the file. unpacked: bytes all members of a zip may have together; ratio: how much larger than packed
    a member over a megabyte may be. rows, columns: of a sheet. cells: of the file. text: characters of a cell. depth:
    of JSON. digits: of a whole number. memory and output: bytes, processor and wall:
    seconds of the reading process.
    """

    size: int = 256 * 1024**2
    members: int = 500
    unpacked: int = 1024**3
    ratio: int = 200
    sheets: int = 60
    rows: int = 400_000
    columns: int = 500
    cells: int = 12_000_000
    text: int = 32_767  # what a workbook's cell can hold; texts of sources may have 20,000
    documents: int = 200_000
    document: int = 1024**2
    depth: int = 60
    digits: int = 30
    memory: int = 1536 * 1024**2
    output: int = 2 * 1024**3
    processor: int = 300
    wall: int = 600


LIMITS = Limits()

Share = tuple[int, int]  # which part of a workbook's sheets a process reads, of how many
