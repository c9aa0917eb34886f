"""The decision sheet says of every socket what is proposed, why, at which price, and the answer to it."""

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.jobs import Action, Answer, Disposition
from tubeshelf.domain.judging import Mark
from tubeshelf.services import answers, bench, decide, finding, shelf_moves, spares
from tubeshelf.services.decision import (
    DecisionLine,
    answer_text,
    decided_apart,
    decision_lines,
    proposal_text,
    to_ask_too,
)
from tubeshelf.services.shop import Shop


def lines_of(amp: Bench) -> dict[str, DecisionLine]:
    return {line.position: line for line in decision_lines(amp.job())}


def ready(shop: Shop) -> Bench:
    """A good triode, a wrong one with a spare at 24.00, a shorted output tube of a pair, no rectifier."""
    amp = amplifier(shop)
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.enter("V1", "1510", 1)
    amp.found("V2", "12AU7")
    amp.found("V3")
    amp.enter("V3", "9900")
    amp.found("V4")
    amp.mark("V4", Mark.SHORT, pins="2-3")
    finding.set_empty(shop, socket_id=amp.id("V5"))
    shelf_moves.receive(shop, type_name="12AX7", condition="NOS", bin="C2", price=2400)
    return amp


def test_each_socket_has_its_proposal_its_reason_and_its_price(shop: Shop) -> None:
    lines = lines_of(ready(shop))
    assert list(lines) == ["V1", "V2", "V3", "V4", "V5"]
    assert proposal_text(lines["V1"]) == "keep"
    assert (lines["V1"].asked, lines["V1"].charged, lines["V1"].why) == (False, False, "")
    second = lines["V2"]
    assert (proposal_text(second), second.price, second.charged) == ("replace with 12AX7", 2400, True)
    assert second.tube is not None
    assert (second.tube.bin, second.tube.condition) == ("C2", "NOS")
    assert second.why.startswith("wrong type: ")
    assert (lines["V3"].verdict, lines["V3"].why) == (
        "good, transconductance",
        "matched with the rest of group A",
    )
    assert (lines["V4"].verdict, lines["V4"].why) == ("short, pins 2–3", "")
    assert (lines["V5"].found, lines["V5"].why, lines["V5"].price) == ("empty", "empty socket", None)
    assert all(lines[position].asked for position in ("V2", "V3", "V4", "V5"))


def test_a_tube_put_in_and_a_socket_left_empty_are_told_as_done(shop: Shop) -> None:
    amp = ready(shop)
    spare = amp.at("V2").spare
    assert spare is not None
    spares.install(shop, item_id=spare.item_id, socket_id=amp.id("V2"))
    bench.set_disposition(shop, socket_id=amp.id("V5"), disposition=Disposition.EMPTY_ON_PURPOSE)
    lines = lines_of(amp)
    assert proposal_text(lines["V2"]) == "12AX7 put in"
    assert (proposal_text(lines["V5"]), lines["V5"].asked) == ("stays empty on purpose", False)


def test_what_is_not_decided_names_what_would_go_in(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V1")
    line = lines_of(amp)["V1"]
    assert (line.action, line.asked, line.charged) == (Action.UNDECIDED, True, False)
    assert proposal_text(line) == "not decided; 12AX7 if replaced"


def test_an_answer_is_told_with_how_and_when(shop: Shop) -> None:
    amp = ready(shop)
    assert answer_text(lines_of(amp)["V2"]) == ""
    answers.set_answer(shop, socket_id=amp.id("V2"), answer=Answer.AGREED, how="by telephone")
    assert answer_text(lines_of(amp)["V2"]) == "agreed by telephone on 2 Mar 2026"


def test_a_match_group_that_is_split_is_told(shop: Shop) -> None:
    amp = ready(shop)
    lines = decision_lines(amp.job())
    assert decided_apart(lines) == ()
    assert [line.position for line in to_ask_too(lines, amp.id("V3"))] == ["V4"]
    assert to_ask_too(lines, amp.id("V2")) == ()
    answers.set_answer(shop, socket_id=amp.id("V4"), answer=Answer.AGREED)
    apart = ("V3 and V4 are a matched group and decided apart.",)
    assert decided_apart(decision_lines(amp.job())) == apart
    answers.set_answer(shop, socket_id=amp.id("V3"), answer=Answer.AGREED)
    assert decided_apart(decision_lines(amp.job())) == ()
    bench.set_action(shop, socket_id=amp.id("V3"), action=Action.KEEP)
    assert decided_apart(decision_lines(amp.job())) == apart


def test_the_total_is_told_against_what_was_agreed(shop: Shop) -> None:
    amp = ready(shop)
    job_id = amp.job().id
    decide.set_labour(shop, job_id=job_id, minor=4500)
    assert amp.job().estimate.over == 0
    for ceiling, over in ((6900, 0), (6899, 1), (None, 0)):
        decide.approve(shop, job_id=job_id, who="Ada Brindle", on=shop.today, how="", ceiling=ceiling)
        assert amp.job().estimate.over == over
