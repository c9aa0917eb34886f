"""The estimate: what was found, what is proposed at which price, and room for the customer's answer."""

from dataclasses import dataclass

from tubeshelf.domain.cautions import DEFERENCE
from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import Answer
from tubeshelf.paper.blocks import Amounts, Beside, Block, Box, Draw, Frame, Head, Paragraph, Piece, heading
from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import NO_PREDICTION, joined, sentence, sentences, serial, shop
from tubeshelf.paper.tables import Cell, Column, Row, Table
from tubeshelf.paper.text import SMALL, Flow
from tubeshelf.services.views.estimate import EstimateLine, EstimatePaper

_COLUMNS = (
    Column("Socket"),
    Column("Found", stretch=1.0),
    Column("Proposed", stretch=1.0),
    Column("Price", right=True),
    Column("Your answer", boxes=True),
)
_ANSWERS = {Answer.AGREED: "agreed", Answer.DECLINED: "declined", Answer.ASK_AGAIN: "ask me again"}


@dataclass(frozen=True, slots=True)
class Signature:
    """Lines to write on, side by side, each with small words below it."""

    words: tuple[str, ...]
    gap: float = 11.0
    between: float = 8.0

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece; the first line is twice as long as each other."""
        shares = [2, *([1] * (len(self.words) - 1))]
        room = frame.width - self.between * (len(self.words) - 1)
        widths = [room * share / sum(shares) for share in shares]
        flows = [Flow(words, width, SMALL) for words, width in zip(self.words, widths, strict=True)]
        return [Piece(1.2 + max(flow.height for flow in flows), self._draw(flows, widths), gap=self.gap)]

    def _draw(self, flows: list[Flow], widths: list[float]) -> Draw:
        def draw(canvas: Canvas, x: float, y: float) -> None:
            for flow, width in zip(flows, widths, strict=True):
                canvas.rule(x, y, width, 0.25)
                canvas.flow(flow, x, y + 1.2)
                x += width + self.between

        return draw


def estimate_document(paper: EstimatePaper) -> Document:
    """The estimate of one job."""
    return Document(
        title=f"Estimate, job {paper.number}",
        running=f"Estimate · job {paper.number}",
        blocks=(
            _head(paper),
            *_warning(paper),
            *_facts(paper),
            *_table(paper),
            Beside(_limits(paper), (_sums(paper),), gap=3.0),
            *_texts(paper),
            *_answer(paper),
        ),
    )


def _head(paper: EstimatePaper) -> Head:
    job = joined((f"Job {paper.number}", joined((paper.title, serial(paper.serial)))), " · ")
    whom = [line.strip() for line in (paper.customer, *paper.contact.splitlines())]
    return Head("Estimate", (job, *filter(None, whom)), shop(paper.head, address=True))


def _warning(paper: EstimatePaper) -> tuple[Block, ...]:
    if not paper.warnings:
        return ()
    return (Box("Do not power.", f"{sentences(paper.warnings)} This has to be put right first."),)


def _facts(paper: EstimatePaper) -> tuple[Block, ...]:
    tested = f"tested on {paper.tester}" if paper.tester.strip() else ""
    facts = (
        ("Complaint:", paper.complaint),
        ("Wanted:", paper.scope),
        ("Received:", joined((format_date(paper.received_on), tested))),
    )
    shown = [(name, fact) for name, fact in facts if fact.strip()]
    return tuple(
        Paragraph(fact, lead=name, gap=0.8 if number else 6.0) for number, (name, fact) in enumerate(shown)
    )


def _table(paper: EstimatePaper) -> tuple[Block, ...]:
    if not paper.lines:
        return (Paragraph("No tube was tested in this job yet.", gap=5.0),)
    return (Table(_COLUMNS, tuple(map(_row, paper.lines))),)


def _row(line: EstimateLine) -> Row:
    claimed = f"claimed: {line.claimed}" if line.claimed else ""
    reads = f"reads {line.reads}" if line.reads else ""
    ticked = None if line.answer is None else list(_ANSWERS).index(line.answer)
    answers = Cell("\n".join(_ANSWERS.values()), ticked=ticked) if line.asked else Cell()
    return Row(
        (
            Cell(line.role, lead=line.position),
            _lines(line.found or "–", joined((line.reading, line.verdict))),
            _lines(line.proposed, line.why, claimed, reads),
            Cell(line.price),
            answers,
        ),
        note=sentence(f"Answered: {line.answered}") if line.asked and line.answered else "",
    )


def _lines(*texts: str) -> Cell:
    return Cell("\n".join(text for text in texts if text))


def _sums(paper: EstimatePaper) -> Amounts:
    return Amounts((("Tubes", paper.tubes), ("Labour", paper.labour), ("Total", paper.total)))


def _limits(paper: EstimatePaper) -> tuple[Block, ...]:
    """Up to how much the shop may go, and until when the estimate holds."""
    until = "______________" if paper.valid_until is None else format_date(paper.valid_until)
    ceiling = paper.ceiling or "______________"
    over = f"The total is {paper.over} over what was agreed." if paper.over else ""
    return (
        Paragraph(ceiling, lead="Not over this without asking:"),
        Paragraph(until, lead="This estimate holds until:", gap=1.6),
        *([Paragraph(over, gap=1.6)] if over else []),
    )


def _texts(paper: EstimatePaper) -> tuple[Block, ...]:
    return (
        *_titled("Approval", (paper.approval,)),
        *_titled("Notes", paper.notes),
        *_titled("What a test can tell", (NO_PREDICTION,)),
        *_titled("Caution", (*paper.cautions, DEFERENCE) if paper.cautions else ()),
    )


def _titled(title: str, texts: tuple[str, ...]) -> tuple[Block, ...]:
    said = [text for text in texts if text.strip()]
    return (heading(title), *(Paragraph(sentence(text)) for text in said)) if said else ()


def _answer(paper: EstimatePaper) -> tuple[Block, ...]:
    """Room to sign, kept with the words that say what is signed."""
    agree = "I agree to what is ticked above."
    return (Paragraph(agree, gap=7.0, with_next=True), Signature(("Signature", "Date")))
