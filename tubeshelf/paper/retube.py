"""The retube list: what comes out of which socket and which tube from which bin goes in, for the bench."""

from tubeshelf.domain.complement import natural_key
from tubeshelf.domain.dates import format_date
from tubeshelf.paper.blocks import Beside, Block, Box, Head, Paragraph, heading
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import joined, sentence, sentences, serial
from tubeshelf.paper.socketmap import Fill, Place, SocketMap
from tubeshelf.paper.tables import Cell, Column, Row, Table, Tick
from tubeshelf.services.views.papers import KeepLine, RetubeLine, RetubeList

_REPLACE = (
    Column("Socket"),
    Column("Take out"),
    Column("Why", stretch=1.0),
    Column("Put in"),
    Column("Tag"),
    Column("Bin"),
    Column("Reads"),
    Column("As left", least=21.0),
)
_UNDECIDED = (
    Column("Socket"),
    Column("Found"),
    Column("Why", stretch=1.0),
    Column("If replaced"),
    Column("Tag"),
    Column("Bin"),
    Column("Reads"),
    Column("Decision", least=21.0),
)
_ROW = 9.0
_MOST_ON_MAP = 40
"""More are a box of loose tubes, not a chassis: a map of them says less than the list."""


def retube_document(retube: RetubeList) -> Document:
    """The bench's paper of one job."""
    return Document(
        title=f"Retube list, job {retube.number}",
        running=f"Retube list · job {retube.number}",
        blocks=(_head(retube), *_warning(retube), *_replace(retube), *_undecided(retube), *_below(retube)),
    )


def _head(retube: RetubeList) -> Head:
    job = joined((f"Job {retube.number}", joined((retube.title, serial(retube.serial)))), " · ")
    promised = f"promised for {format_date(retube.promised_on)}" if retube.promised_on is not None else ""
    read = joined((retube.stage, f"on {retube.tester}" if retube.tester.strip() else ""), " ")
    return Head(
        title="Retube list",
        facts=tuple(fact for fact in (job, joined((retube.customer, promised), " · ")) if fact),
        right=(
            retube.head.workshop,
            joined((format_date(retube.head.on), retube.head.bench), " · "),
            *((read,) if read else ()),
        ),
    )


def _warning(retube: RetubeList) -> tuple[Block, ...]:
    if not retube.warnings:
        return ()
    after = "After this is put right: repeat the short check, first power with the current limited."
    return (Box("Do not power.", f"{sentences(retube.warnings)} {after}"),)


def _replace(retube: RetubeList) -> tuple[Block, ...]:
    if retube.replace:
        return (Table(_REPLACE, tuple(map(_replace_row, retube.replace)), ticks=True, row_height=_ROW),)
    if retube.undecided:
        return (Paragraph("No tube is to be replaced so far; some are undecided.", gap=6.0),)
    if retube.keep:
        return (Paragraph("No tube is to be replaced.", gap=6.0),)
    return (Paragraph("This job has no sockets yet, so there is nothing to replace.", gap=6.0),)


def _replace_row(line: RetubeLine) -> Row:
    if line.declined:
        why = Cell(line.why, lead="Declined, leave it in:")
        return Row((*_from(line), why, *_into(line)), note=sentence(line.note))
    tick = Tick.DONE if line.done else Tick.OPEN
    return Row((*_from(line), Cell(line.why), *_into(line)), note=sentence(line.note), tick=tick)


def _undecided(retube: RetubeList) -> tuple[Block, ...]:
    if not retube.undecided:
        return ()
    rows = tuple(
        Row((*_from(line), Cell(line.why), *_into(line)), note=sentence(line.note))
        for line in retube.undecided
    )
    return (
        heading("Undecided: leave in until somebody decides", gap=7.0),
        Table(_UNDECIDED, rows, gap=2.0, row_height=_ROW, ticks=True),
    )


def _from(line: RetubeLine) -> tuple[Cell, Cell]:
    return Cell(line.role, lead=line.position), Cell(line.take_out or "–")


def _into(line: RetubeLine) -> tuple[Cell, ...]:
    """Type, tag, bin and readings of the spare, and the blank column to write in."""
    values = (Cell(text or "–") for text in (line.tag, line.bin, line.reads))
    return (Cell(lead=line.put_in or "–"), *values, Cell())


def _below(retube: RetubeList) -> tuple[Block, ...]:
    """The map with, beside it, what stays, what to order and the notes."""
    places = tuple(sorted(_places(retube), key=lambda place: natural_key(place.position)))
    lists = (
        *_listed("Keep", [_kept(line) for line in retube.keep]),
        *_listed("To order", retube.to_order),
        *_listed("Notes", retube.notes),
    )
    if 0 < len(places) <= _MOST_ON_MAP:
        return (Beside((SocketMap(places),), lists),)
    return lists


def _listed(title: str, lines: tuple[str, ...] | list[str]) -> tuple[Block, ...]:
    return (heading(title), *(Paragraph(line) for line in lines)) if lines else ()


def _kept(line: KeepLine) -> str:
    reads = f"reads {line.reads}" if line.reads.strip() else ""
    return joined((joined((line.position, line.role, line.designation), " "), reads, line.verdict))


def _places(retube: RetubeList) -> list[Place]:
    return [
        *(_replaced_place(line) for line in retube.replace),
        *(Place(line.position, "undecided", Fill.DASHED) for line in retube.undecided),
        *(Place(line.position, "keep", Fill.OUTLINE) for line in retube.keep),
    ]


def _replaced_place(line: RetubeLine) -> Place:
    if line.declined:
        return Place(line.position, "declined", Fill.OUTLINE)
    return Place(line.position, "done" if line.done else "replace", Fill.FILLED)
