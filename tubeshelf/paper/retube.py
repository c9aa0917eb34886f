"""The retube list: what comes out of which socket and which tube from which bin goes in, for the bench."""

from tubeshelf.domain.dates import format_date
from tubeshelf.paper.blocks import Beside, Block, Box, Head, Paragraph, heading
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import joined, sentence, sentences, serial
from tubeshelf.paper.socketmap import Fill, Place, Side, SocketMap, maps
from tubeshelf.paper.tables import Cell, Column, Row, Table, Tick
from tubeshelf.services.views.papers import KeepLine, MapPlace, RetubeLine, RetubeList

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
_LOOSE = (Column("Tube"), Column("Found"), Column("Why", stretch=1.0), Column("Reads"))
_ROW = 9.0
_MOST_BESIDE = 12
"""More sockets need the width of the page."""


def retube_document(retube: RetubeList, side: Side = Side.ABOVE) -> Document:
    """The bench's paper of one job, its chassis seen from one side or both."""
    return Document(
        title=f"Retube list, job {retube.number}",
        running=f"Retube list · job {retube.number}",
        blocks=(
            _head(retube),
            *_warning(retube),
            *_replace(retube),
            *_undecided(retube),
            *_below(retube, side),
        ),
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
    if retube.replace and retube.loose:
        rows = tuple(map(_loose_row, retube.replace))
        return (heading("Set apart", gap=6.0), Table(_LOOSE, rows, gap=2.0, row_height=_ROW))
    if retube.replace:
        return (Table(_REPLACE, tuple(map(_replace_row, retube.replace)), ticks=True, row_height=_ROW),)
    what = "to be set apart" if retube.loose else "to be replaced"
    if retube.undecided:
        return (Paragraph(f"No tube is {what} so far; some are undecided.", gap=6.0),)
    if retube.keep:
        return (Paragraph(f"No tube is {what}.", gap=6.0),)
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
    if retube.loose:
        rows = tuple(map(_loose_row, retube.undecided))
        return (heading("Undecided", gap=7.0), Table(_LOOSE, rows, gap=2.0, row_height=_ROW))
    rows = tuple(
        Row((*_from(line), Cell(line.why), *_into(line)), note=sentence(line.note))
        for line in retube.undecided
    )
    return (
        heading("Undecided: leave in until somebody decides", gap=7.0),
        Table(_UNDECIDED, rows, gap=2.0, row_height=_ROW, ticks=True),
    )


def _loose_row(line: RetubeLine) -> Row:
    """A tube of a box: nothing takes its place."""
    return Row((*_from(line), Cell(line.why), Cell(line.reads or "–")))


def _from(line: RetubeLine) -> tuple[Cell, Cell]:
    return Cell(line.role, lead=line.position), Cell(line.take_out or "–")


def _into(line: RetubeLine) -> tuple[Cell, ...]:
    """Type, tag, bin and readings of the spare, and the blank column to write in."""
    values = (Cell(text or "–") for text in (line.tag, line.bin, line.reads))
    return (Cell(lead=line.put_in or "–"), *values, Cell())


def _below(retube: RetubeList, side: Side) -> tuple[Block, ...]:
    """The map with, beside it, what stays, what to order, what to check and the notes."""
    lists = (
        *_listed("Keep", [_kept(line) for line in retube.keep]),
        *_listed("To order", retube.to_order),
        *_listed("Check", retube.checks),
        *_listed("Notes", retube.notes),
    )
    drawn = _maps(retube, side)
    if len(retube.places) > _MOST_BESIDE or not drawn:
        return (*drawn, *lists)
    return (Beside(drawn[:1], drawn[1:]), *lists) if drawn[1:] else (Beside(drawn, lists),)


def _maps(retube: RetubeList, side: Side) -> tuple[SocketMap, ...]:
    """The chassis, from one side or both; a box of loose tubes has none."""
    if not retube.places:
        return ()
    todo = _to_do(retube)
    proposed = [place.position for place in retube.places if not place.saved]
    which = "" if len(proposed) == len(retube.places) else f" for {', '.join(proposed)}"
    drawn = [_place(place, *todo.get(place.position, ("", Fill.OUTLINE))) for place in retube.places]
    return maps(drawn, side, f"places proposed{which}, not saved yet" if proposed else "")


def _place(place: MapPlace, word: str, fill: Fill) -> Place:
    words = tuple(filter(None, (place.verdict, place.fit, word)))
    return Place(place.position, words, fill, place.seat)


def _listed(title: str, lines: tuple[str, ...] | list[str]) -> tuple[Block, ...]:
    return (heading(title), *(Paragraph(line) for line in lines)) if lines else ()


def _kept(line: KeepLine) -> str:
    reads = f"reads {line.reads}" if line.reads.strip() else ""
    return joined((joined((line.position, line.role, line.designation), " "), reads, line.verdict))


def _to_do(retube: RetubeList) -> dict[str, tuple[str, Fill]]:
    """What is to be done at each position."""
    return {
        **{line.position: _replaced(line) for line in retube.replace},
        **{line.position: ("undecided", Fill.DASHED) for line in retube.undecided},
        **{line.position: ("keep", Fill.OUTLINE) for line in retube.keep},
    }


def _replaced(line: RetubeLine) -> tuple[str, Fill]:
    if line.declined:
        return "declined", Fill.OUTLINE
    return ("done" if line.done else "replace"), Fill.FILLED
