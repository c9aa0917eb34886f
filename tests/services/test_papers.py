"""What goes on paper is what the record says, in the words of the bench."""

from datetime import date

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.jobs import Answer, Disposition
from tubeshelf.domain.judging import Mark
from tubeshelf.domain.money import format_money
from tubeshelf.services import answers, bench, decide, finding, papers, shelf_moves, shelf_reading, spares
from tubeshelf.services.shop import Shop, ShopSettings, save_settings


def ready(shop: Shop) -> Bench:
    """An amplifier with a wrong rectifier, a shorted output tube, one good triode and one on the shelf."""
    amp = amplifier(shop)
    amp.found("V1", "ECC83")
    amp.enter("V1", "1540")
    amp.enter("V1", "1510", 1)
    amp.found("V2", "12AU7")
    amp.found("V3")
    amp.enter("V3", "9900")
    amp.found("V4")
    amp.mark("V4", Mark.SHORT, pins="2-3")
    amp.found("V5", "5U4GB")
    ids, _ = shelf_moves.receive(
        shop, type_name="12AX7", quantity=1, lot=False, condition="used, tested", bin="C2", price=2400
    )
    for section, reading in (("1", "1480"), ("2", "1390")):
        shelf_reading.read_spare(
            shop, item_id=ids[0], line_id=None, section=section, tester_id=amp.tester, text=reading
        )
    return amp


def test_the_retube_list_says_what_comes_out_why_and_what_goes_in(shop: Shop) -> None:
    amp = ready(shop)
    paper = papers.retube_list(shop, job_id=amp.job().id)
    lines = {line.position: line for line in paper.replace}
    assert list(lines) == ["V2", "V3", "V4", "V5"]
    second = lines["V2"]
    assert (second.take_out, second.put_in, second.tag, second.bin) == ("12AU7", "12AX7", "0001", "C2")
    assert second.reads == "1,480 · 1,390"
    # RCA RC-30: amplification factor 17 for a 12AU7, 100 for a 12AX7.
    assert "µ 17 where 100" in second.why
    assert "group A" in lines["V3"].why
    assert lines["V4"].why == "short, pins 2–3"
    assert (lines["V5"].bin, lines["V5"].tag) == ("order", "")
    assert paper.to_order == ("2 × 6BQ5 (for this job)", "1 × 5Y3GT (for this job)")
    assert [(k.position, k.designation, k.reads) for k in paper.keep] == [("V1", "ECC83", "1,540 · 1,510")]


def test_the_warning_names_both_dangers(shop: Shop) -> None:
    warnings = papers.retube_list(shop, job_id=ready(shop).job().id).warnings
    assert warnings[0] == "V4: short, pins 2–3."
    assert warnings[1].startswith("V5: a 5U4GB takes 3 A")
    assert len(warnings) == 2


def test_an_unread_socket_is_not_called_kept(shop: Shop) -> None:
    amp = amplifier(shop)
    paper = papers.retube_list(shop, job_id=amp.job().id)
    assert paper.keep == paper.replace == ()
    assert {line.why for line in paper.undecided} == {"not looked yet"}


def test_the_order_paper_merges_open_jobs(shop: Shop) -> None:
    ready(shop)
    other = amplifier(shop, serial="2")
    other.found("V5", "5U4GB")
    lines = {line.designation: line for line in papers.order_paper(shop).lines}
    assert lines["5Y3GT"].quantity == 2
    assert lines["5Y3GT"].jobs == (1, 2)
    assert lines["6BQ5"].quantity == 2
    assert lines["6BQ5"].match != ""


def test_the_statement_tells_the_customer_what_was_done_and_what_it_costs(shop: Shop) -> None:
    save_settings(shop, settings=ShopSettings(name="Quillfen Valve Workshop", currency="EUR"))
    amp = ready(shop)
    job = amp.job()
    answers.set_answer(shop, socket_id=amp.id("V5"), answer=Answer.DECLINED)
    spare = amp.at("V2").spare
    assert spare is not None
    spares.install(shop, item_id=spare.item_id, socket_id=amp.id("V2"))
    decide.set_labour(shop, job_id=job.id, minor=4500)
    day = date(2026, 3, 2)
    decide.approve(shop, job_id=job.id, who="Ada Brindle", on=day, how="by telephone", ceiling=12000)
    paper = papers.statement(shop, job_id=job.id)
    lines = {line.position: line for line in paper.lines}
    assert (lines["V2"].done, lines["V2"].fitted) == ("replaced", "12AX7")
    assert lines["V2"].fitted_condition == "used, tested"
    assert (lines["V5"].done, lines["V5"].price) == ("declined", "")
    assert lines["V1"].done == "kept"
    assert paper.head.workshop == "Quillfen Valve Workshop"
    assert "24.00" in paper.tubes_total
    assert "69.00" in paper.total
    ceiling = format_money(12000, "EUR")
    assert paper.approval == f"Approved by Ada Brindle by telephone on 2 Mar 2026, up to {ceiling}."
    assert paper.declined == ("V5",)


def test_a_rebranded_tube_and_an_empty_socket_are_said_as_they_were_found(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V1", "12AX7", believed="12AU7", reason="short plates")
    finding.set_empty(shop, socket_id=amp.id("V2"))
    bench.set_disposition(shop, socket_id=amp.id("V2"), disposition=Disposition.EMPTY_ON_PURPOSE)
    paper = papers.retube_list(shop, job_id=amp.job().id)
    assert [line.take_out for line in paper.replace] == ["12AX7 (believed 12AU7)", "empty"]
    assert "Left empty on purpose: V2." in paper.notes


def test_a_tube_that_was_put_in_is_priced_whatever_was_proposed(shop: Shop) -> None:
    """A tube put in for a good one is no gift; one that its socket goes without is not charged."""
    amp = ready(shop)
    ids, _ = shelf_moves.receive(shop, type_name="12AX7", bin="C2", price=1000)
    spares.install(shop, item_id=ids[0], socket_id=amp.id("V1"))
    finding.set_empty(shop, socket_id=amp.id("V5"))
    bench.set_disposition(shop, socket_id=amp.id("V5"), disposition=Disposition.EMPTY_ON_PURPOSE)
    job = amp.job()
    paper = papers.statement(shop, job_id=job.id)
    lines = {line.position: line for line in paper.lines}
    assert (lines["V1"].done, lines["V1"].fitted, lines["V1"].price) == ("replaced", "12AX7", "10.00")
    assert (lines["V5"].done, lines["V5"].price) == ("empty on purpose", "")
    assert paper.tubes_total == "34.00"  # the one for V1 and the spare proposed for V2
    assert paper.notes[0] == "The total is without 2 tubes that have no price yet."  # V3 and V4
    retube = papers.retube_list(shop, job_id=job.id)
    assert ("V1", True) in [(line.position, line.done) for line in retube.replace]
    assert retube.keep == ()
