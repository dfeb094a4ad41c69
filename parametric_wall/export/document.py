"""A document before it has a format: sections of words, tables, pictures and sheets.

Texts in it are plain; each format sees to it that nothing in them is taken for more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.sheet import Sheet

BOX = "\N{BALLOT BOX}"
"""To be ticked."""


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """Over the blocks that follow it, within a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Entry:
    """What belongs together and is not parted: a head and the texts under it."""

    head: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        head: what stands over it.
        share: of the room that the others leave; 0 where it takes what its texts need.
        right: whether it is ranged right.
        write: whether it is to be written into, and ruled off for that.
    """

    head: str
    share: float = 0.0
    right: bool = False
    write: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Rows of a table; the title, if any, stands over them, and over the rest on a new page."""

    rows: tuple[tuple[str, ...], ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table; it has no head where no column has one."""

    columns: tuple[Column, ...]
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture among the words.

    Attributes:
        file: its name.
        svg: its bytes.
        width: paper mm.
        height: paper mm.
        told: the same in words.
    """

    file: str
    svg: bytes
    width: float
    height: float
    told: str


@dataclass(frozen=True, slots=True)
class Leaf:
    """A sheet that is a page of its own size.

    Attributes:
        file: its name.
        svg: its bytes.
        sheet: what is on it.
    """

    file: str
    svg: bytes
    sheet: Sheet


Block = Words | Heading | Entry | Table | Picture | Leaf


@dataclass(frozen=True, slots=True)
class Section:
    """One part of a document.

    Attributes:
        key: for the names of its files, stable.
        title: over it.
        blocks: what it says.
        apart: whether it begins on a page of its own, to be handed out alone.
    """

    key: str
    title: str
    blocks: tuple[Block, ...]
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """All of it.

    Attributes:
        kind: what it is, for instance ``Job pack``.
        title: of the job.
        running: on every page.
        front: the blocks of the first page; the list of the sections follows them.
        sections: in their order.
    """

    kind: str
    title: str
    running: str
    front: tuple[Block, ...]
    sections: tuple[Section, ...]

    def pictures(self) -> Iterator[Picture | Leaf]:
        """All that is drawn, in its order."""
        for blocks in (self.front, *(section.blocks for section in self.sections)):
            yield from (block for block in blocks if isinstance(block, Picture | Leaf))


def table(columns: tuple[Column, ...], rows: Sequence[tuple[str, ...]]) -> Table:
    """A table of rows that are not grouped."""
    return Table(columns, (Group(tuple(rows)),))
