"""Papers of an invented workshop, short and long."""

from dataclasses import replace
from datetime import date

from tubeshelf.domain.chassis import Seat
from tubeshelf.domain.jobs import Answer
from tubeshelf.services.views.estimate import EstimateLine, EstimatePaper
from tubeshelf.services.views.papers import (
    KeepLine,
    MapPlace,
    OrderPaper,
    PaperHead,
    RetubeLine,
    RetubeList,
    Statement,
    StatementLine,
)
from tubeshelf.services.views.shelf import OrderLine

HEAD = PaperHead("Quillfen Valve Workshop", "3 Tanner's Row\nWestmarch", date(2026, 11, 24), "bench 1")

RETUBE = RetubeList(
    head=HEAD,
    number=214,
    title="Larkmere A12 practice amplifier",
    customer="Ødegård & Žižek, Ωμέγα",
    serial="30417",
    stage="as found",
    tester="Tester B",
    promised_on=date(2026, 12, 2),
    warnings=("V5: a 5U4GB takes 3 A from a winding made for 2 A", "V4: shorted, pins 2–3."),
    replace=(
        RetubeLine(
            "V2", "phase inverter", "12AU7", "wrong type: µ 17 for 100", "12AX7", "977", "C2", "1,480 · 1,390"
        ),
        RetubeLine(
            "V3", "output, pair", "6BQ5", "pair with V4; weak", "6BQ5", "831", "A1", "10,200", done=True
        ),
        RetubeLine(
            "V4",
            "output, pair",
            "EL84",
            "short, pins 2–3",
            "6BQ5",
            "832",
            "A1",
            "10,050",
            note="Measure the cathode resistor, 270 Ω ± 5 %, before it goes in",
        ),
        RetubeLine("V5", "rectifier", "5U4GB", "harmful in this set", "5Y3GT", "", "order", ""),
        RetubeLine("V6", "tremolo", "12AU7", "weak", "12AU7", "640", "C3", "2,050", declined=True),
    ),
    undecided=(
        RetubeLine(
            "V7", "driver", "12AT7", "read again: 4,100 ± 200, good from 4,000", "12AT7", "655", "C1", "5,300"
        ),
    ),
    keep=(
        KeepLine("V1", "input", "ECC83", "1,540 · 1,510", "good"),
        KeepLine("V10", "reverb", "12AX7", "1,600 · 1,580", "good"),
    ),
    to_order=("1 × 5Y3GT (for this job, by 2 Dec 2026)",),
    notes=("Hum at full volume, <b>not</b> at idle", "Customer wants the old tubes back"),
    places=(
        MapPlace("V1", Seat(0.1, 0.8), "good"),
        MapPlace("V2", Seat(0.3, 0.8), "good", "wrong type"),
        MapPlace("V3", Seat(0.2, 0.2), "weak"),
        MapPlace("V4", Seat(0.5, 0.2), "short"),
        MapPlace("V5", Seat(0.9, 0.2), "good", "harmful"),
        MapPlace("V6", Seat(0.5, 0.8), "weak"),
        MapPlace("V7", Seat(0.7, 0.8), "read again"),
        MapPlace("V10", Seat(0.9, 0.8), "good"),
    ),
    checks=("6.3 V: check the lamps, 0.3 A in all",),
)

ORDER = OrderPaper(
    HEAD,
    (
        OrderLine(1, "5Y3GT", 2, ("5Y3G", "5Y3WGTA"), "", (214, 209), date(2026, 12, 2), "none on hand"),
        OrderLine(
            2,
            "6L6GC",
            4,
            (),
            "quad, all four within 5 %",
            (211,),
            None,
            "two good ones left, no quad among them",
        ),
        OrderLine(3, "12AX7", 10, ("ECC83", "7025"), "", (), None, "below par 12"),
    ),
)

STATEMENT = Statement(
    head=HEAD,
    number=198,
    title="Larkmere A12 practice amplifier",
    customer="Ødegård & Žižek",
    contact="14 Mill Lane\nWestmarch",
    serial="30417",
    complaint="Crackles when warm, then goes quiet",
    received_on=date(2026, 10, 3),
    closed_on=date(2026, 11, 24),
    tester="Tester B",
    warnings=(),
    lines=(
        StatementLine(
            "V1", "input", "ECC83", "1,540 · 1,510 µmho", "good, transconductance", "kept", "", "", "", "", ""
        ),
        StatementLine(
            "V3",
            "output, pair",
            "6BQ5",
            "6,100 µmho",
            "reject, transconductance",
            "replaced",
            "6BQ5, matched set 12",
            "NOS",
            "10,200 µmho",
            "below 6,500; pair with V4",
            "18.50",
        ),
        StatementLine(
            "V4",
            "output, pair",
            "EL84",
            "",
            "short, pins 2–3",
            "replaced",
            "6BQ5, matched set 12",
            "NOS",
            "10,050 µmho",
            "shorted",
            "18.50",
        ),
        StatementLine(
            "V6", "tremolo", "12AU7", "1,300 µmho", "weak", "kept", "", "", "", "declined by you", ""
        ),
    ),
    tubes_total="37.00",
    labour="60.00",
    total="97.00",
    approval="Approved by telephone on 5 Oct 2026 by K. Ødegård, up to 120.00",
    declined=("V6 tremolo: 12AU7, weak",),
    old_tubes="Returned with the set, V3 and V4",
    warranty="Six months on the tubes fitted",
    notes=(),
)

ESTIMATE = EstimatePaper(
    head=HEAD,
    number=214,
    title="Larkmere A12 practice amplifier",
    customer="Ødegård & Žižek",
    contact="14 Mill Lane\nWestmarch",
    serial="30417",
    complaint="Crackles when warm, then goes quiet",
    scope="whole set, up to a hundred",
    received_on=date(2026, 11, 20),
    tester="Tester B",
    warnings=("V5: a 5U4GB takes 3 A from a winding made for 2 A",),
    lines=(
        EstimateLine(
            "V1", "input", "ECC83", "1,540 · 1,510", "good, transconductance", "keep", "", "", "", "", False
        ),
        EstimateLine(
            "V3",
            "output, pair",
            "6BQ5",
            "6,100",
            "reject, transconductance",
            "replace with 6BQ5",
            "NOS",
            "10,200",
            "matched with the rest of group A",
            "18.50",
            True,
        ),
        EstimateLine(
            "V5",
            "rectifier",
            "5U4GB",
            "",
            "not read",
            "replace with 5Y3GT",
            "",
            "",
            "harmful: takes 3 A from a winding made for 2 A",
            "not priced yet",
            True,
            Answer.DECLINED,
            "declined by telephone on 23 Nov 2026",
        ),
    ),
    tubes="18.50",
    labour="60.00",
    total="78.50",
    ceiling="70.00",
    over="8.50",
    valid_until=date(2026, 12, 24),
    approval="",
    notes=("V3 and V4 are a matched group and decided apart.",),
    cautions=("Possible mercury inside: keep it boxed, never break it.",),
)


def long_retube(rows: int) -> RetubeList:
    """A retube list with so many sockets to replace."""
    lines = tuple(
        replace(RETUBE.replace[i % 4], position=f"V{i + 1}", tag=str(1000 + i)) for i in range(rows)
    )
    return replace(RETUBE, replace=lines, places=())
