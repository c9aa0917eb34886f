"""The chassis tag: a small paper to cut out and hang on a set that is put aside with sockets empty."""

from collections.abc import Sequence
from dataclasses import dataclass

from tubeshelf.domain.cautions import DEFERENCE
from tubeshelf.domain.dates import format_date
from tubeshelf.paper.blocks import Frame, Paragraph, Piece
from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import joined, sentence, sentences, serial
from tubeshelf.paper.text import BODY, SMALL, Flow, Style, width_of
from tubeshelf.services.views.aside import ChassisTag, TagLine

WIDTH, HEIGHT = 148.0, 105.0
"""A6 across, in mm: a card that hangs on a chassis; two A6 fit on a Letter sheet as well."""

_PAD = 7.0
_HOLE = 3.0
_BAND = 13.0
_WARNING = Style(points=28.0, bold=True)
_NUMBER = Style(points=22.0, bold=True)
_LARGE = Style(points=11.0, bold=True)
_FINE = Style(points=6.5)
_SIZES = (Style(points=13.0), Style(points=11.0), BODY, SMALL, _FINE)
"""The sizes that the list of sockets is tried in, until all of it fits."""

_CAUTION = f"A socket stands empty. Charge stays after the plug is out. {DEFERENCE}"


def chassis_tag_document(tag: ChassisTag) -> Document:
    """The tag of one job, on a sheet of its own."""
    return Document(
        title=f"Chassis tag, job {tag.number}",
        running=f"Chassis tag · job {tag.number}",
        blocks=(Card(tag), Paragraph("Cut out along the line and hang it on the chassis.", gap=3.0)),
    )


@dataclass(frozen=True, slots=True)
class Card:
    """The card with its cut line. However many sockets stand empty, each position is on it."""

    tag: ChassisTag

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece; on a frame that is too narrow it is cut at the frame's edge."""
        width = min(WIDTH, frame.width)
        text = width - 2 * _PAD
        head, foot = _head(self.tag, text), _foot(self.tag, text)
        room = HEIGHT - _BAND - 2 * _PAD - _height(head) - _height(foot) - 3.0
        listed = _sockets(self.tag.lines, text, room)

        def draw(canvas: Canvas, x: float, y: float) -> None:
            canvas.cut_line(x, y, width, HEIGHT)
            _band(canvas, x, y, width)
            canvas.stack(head, x + _PAD, y + _BAND + _PAD)
            canvas.stack(listed, x + _PAD, y + _BAND + _PAD + _height(head) + 2.0)
            canvas.stack(foot, x + _PAD, y + HEIGHT - _PAD + 2.0 - _height(foot))

        return [Piece(HEIGHT, draw)]


def _band(canvas: Canvas, x: float, y: float, width: float) -> None:
    """The warning at the top, framed, with the hole for a string beside it."""
    words = Flow("DO NOT POWER", width - 4 * _PAD - 2 * _HOLE, _WARNING)
    canvas.circle(x + _PAD + _HOLE, y + _PAD + _HOLE, _HOLE)
    left = x + 2 * _PAD + 2 * _HOLE
    canvas.rectangle(left, y + 4.0, width - (left - x) - _PAD, _BAND, line=0.8, radius=1.0)
    middle = left + (width - (left - x) - _PAD - width_of("DO NOT POWER", _WARNING)) / 2
    canvas.flow(words, middle, y + 4.0 + (_BAND - words.height) / 2)


def _head(tag: ChassisTag, width: float) -> list[Flow]:
    """Which set it is and whose: enough to find the job and to give the set to nobody else."""
    unit = joined((tag.title, serial(tag.serial)))
    promised = f"promised for {format_date(tag.promised_on)}" if tag.promised_on is not None else ""
    flows = [Flow(f"Job {tag.number}", width, _NUMBER), *_lines(unit, width, _LARGE, 2)]
    return [*flows, *_lines(joined((tag.customer, promised), " · "), width, BODY, 1)]


def _sockets(lines: Sequence[TagLine], width: float, room: float) -> list[Flow]:
    """The empty sockets in the largest type in which all of them fit; positions alone where none does."""
    whole = [(f"{line.position} empty:", _said(line)) for line in lines]
    positions = [(f"{len(lines)} sockets empty:", ", ".join(line.position for line in lines))]
    for said in (whole, positions):
        for style in _SIZES:
            flows = [Flow(text, width, style, lead=lead) for lead, text in said]
            if _height(flows) <= room:
                return flows
    return _lines(" ".join(positions[0]), width, _FINE, int(room / _FINE.leading))


def _said(line: TagLine) -> str:
    belongs = joined((line.role, f"{line.belongs} belongs here"))
    return sentence(joined((belongs, line.where, line.why), "; "))


def _foot(tag: ChassisTag, width: float) -> list[Flow]:
    """Why it was put aside, what else keeps the set from being powered, the caution, who and when."""
    why = _lines(f"Put aside: {sentence(tag.why)}", width, BODY, 2) if tag.why else []
    harm = _lines(f"Also: {sentences(tag.warnings)}", width, SMALL, 2) if tag.warnings else []
    signed = joined((tag.head.workshop, tag.head.bench, format_date(tag.head.on)), " · ")
    return [*why, *harm, Flow(_CAUTION, width, _FINE), Flow(signed, width, SMALL)]


def _lines(text: str, width: float, style: Style, most: int) -> list[Flow]:
    """The text in at most so many lines; cut with … where it is longer."""
    flow = Flow(text, width, style)
    while flow.lines > max(1, most) and text:
        text = text[:-2].rstrip()
        flow = Flow(f"{text}…", width, style)
    return [flow]


def _height(flows: Sequence[Flow]) -> float:
    return sum(flow.height for flow in flows)
