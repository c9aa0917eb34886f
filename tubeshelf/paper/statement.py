"""The statement: what was found, what was done and what it comes to, plain for a customer."""

from tubeshelf.domain.dates import format_date
from tubeshelf.paper.blocks import Amounts, Block, Box, Head, Paragraph, heading
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import NO_PREDICTION, joined, sentence, sentences, serial, shop
from tubeshelf.paper.tables import Cell, Column, Row, Table
from tubeshelf.services.views.papers import Statement, StatementLine

_COLUMNS = (
    Column("Socket"),
    Column("Found", stretch=1.0),
    Column("Done", stretch=1.0),
    Column("Fitted"),
    Column("Price", right=True),
)

_MEASURED = (Column("Measured in the set"), Column("Value", stretch=1.0))


def statement_document(statement: Statement) -> Document:
    """The customer's paper of one job."""
    return Document(
        title=f"Statement, job {statement.number}",
        running=f"Statement · job {statement.number}",
        blocks=(
            _head(statement),
            *_warning(statement),
            *_facts(statement),
            *_table(statement),
            *_sums(statement),
            *_measured(statement),
            *_texts(statement),
        ),
    )


def _head(statement: Statement) -> Head:
    job = joined((f"Job {statement.number}", joined((statement.title, serial(statement.serial)))), " · ")
    whom = [line.strip() for line in (statement.customer, *statement.contact.splitlines())]
    return Head("Statement", (job, *filter(None, whom)), shop(statement.head, address=True))


def _warning(statement: Statement) -> tuple[Block, ...]:
    if not statement.warnings:
        return ()
    after = "Have this put right by a technician before anybody switches the set on."
    return (Box("Do not power.", f"{sentences(statement.warnings)} {after}"),)


def _facts(statement: Statement) -> tuple[Block, ...]:
    closed = statement.closed_on
    dates = (
        f"received {format_date(statement.received_on)}",
        f"finished {format_date(closed)}" if closed is not None else "not finished yet",
    )
    facts = (("Complaint:", statement.complaint), ("Dates:", joined(dates)), ("Tested on:", statement.tester))
    shown = [(name, fact) for name, fact in facts if fact.strip()]
    return tuple(
        Paragraph(fact, lead=name, gap=0.8 if number else 6.0) for number, (name, fact) in enumerate(shown)
    )


def _table(statement: Statement) -> tuple[Block, ...]:
    if not statement.lines:
        return (Paragraph("No tube was tested in this job.", gap=5.0),)
    return (Table(_COLUMNS, tuple(map(_row, statement.lines))),)


def _row(line: StatementLine) -> Row:
    return Row(
        (
            Cell(line.role, lead=line.position),
            _lines(line.found or "–", joined((line.reading, line.verdict))),
            _lines(line.done, line.why),
            _lines(line.fitted or "–", *_condition(line)),
            Cell(line.price),
        )
    )


def _lines(first: str, *others: str) -> Cell:
    return Cell("\n".join(text for text in (first, *others) if text))


def _condition(line: StatementLine) -> tuple[str, str]:
    """What is claimed of the tube that was fitted, told apart from what it read."""
    claimed = f"claimed: {line.fitted_condition}" if line.fitted_condition else ""
    return claimed, f"reads {line.fitted_reading}" if line.fitted_reading else ""


def _measured(statement: Statement) -> tuple[Block, ...]:
    rows = tuple(Row((Cell(name), Cell(text))) for name, text in statement.measured)
    return (Table(_MEASURED, rows),) if rows else ()


def _sums(statement: Statement) -> tuple[Block, ...]:
    sums = (("Tubes", statement.tubes_total), ("Labour", statement.labour), ("Total", statement.total))
    shown = tuple((words, amount) for words, amount in sums if amount)
    return (Amounts(shown),) if shown else ()


def _texts(statement: Statement) -> tuple[Block, ...]:
    return (
        *_titled("Approval", (statement.approval,)),
        *_titled("Declined by the customer", statement.declined),
        *_titled("Old tubes", (statement.old_tubes,)),
        *_titled("Warranty", (statement.warranty,)),
        *_titled("Notes", statement.notes),
        *_titled("What a test can tell", (NO_PREDICTION,)),
    )


def _titled(title: str, texts: tuple[str, ...]) -> tuple[Block, ...]:
    said = [text for text in texts if text.strip()]
    return (heading(title), *(Paragraph(sentence(text)) for text in said)) if said else ()
