from dataclasses import replace

from tests.paper.conftest import Pages
from tests.paper.samples import ORDER, STATEMENT
from tubeshelf.paper.orders import order_document
from tubeshelf.paper.statement import statement_document


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_order_list_names_what_for_when_and_what_would_do(pages: Pages) -> None:
    (page,) = pages(order_document(ORDER))
    text = words(page)
    for expected in ("5Y3GT", "5Y3WGTA", "214, 209", "2 Dec 2026", "none on hand", "Tanner's Row"):
        assert expected in text
    assert "16 tubes of 3 types." in text


def test_one_tube_is_one_tube(pages: Pages) -> None:
    one = replace(ORDER, lines=(replace(ORDER.lines[0], quantity=1),))
    (page,) = pages(order_document(one))
    assert "1 tube of 1 type." in page


def test_an_order_list_of_nothing_says_so(pages: Pages) -> None:
    (page,) = pages(order_document(replace(ORDER, lines=())))
    assert "Nothing has to be ordered: the shelf serves every open job." in page


def test_a_long_order_list_repeats_its_headings(pages: Pages) -> None:
    lines = tuple(replace(ORDER.lines[0], type_id=i, designation=f"T{i:03}") for i in range(120))
    texts = pages(order_document(replace(ORDER, lines=lines)))
    assert len(texts) > 2
    assert all("Quantity" in text for text in texts if "T0" in text or "T1" in text)
    assert "240 tubes of 120 types." in texts[-1]


def test_the_statement_tells_the_customer_everything(pages: Pages) -> None:
    (page,) = pages(statement_document(STATEMENT))
    text = words(page)
    for expected in (
        "Statement",
        "Job 198 · Larkmere A12 practice amplifier, serial 30417",
        "Ødegård & Žižek",
        "14 Mill Lane",
        "Complaint: Crackles when warm, then goes quiet",
        "received 3 Oct 2026, finished 24 Nov 2026",
        "6,100 µmho, reject, transconductance",
        "claimed: NOS",
        "reads 10,200 µmho",
        "matched set 12",
        "Total 97.00",
        "Approved by telephone on 5 Oct 2026 by K. Ødegård, up to 120.00.",
        "V6 tremolo: 12AU7, weak.",
        "Returned with the set, V3 and V4.",
        "Six months on the tubes fitted.",
        "It cannot predict how long the tube will last.",
    ):
        assert expected in text


def test_what_was_not_said_has_no_heading(pages: Pages) -> None:
    bare = replace(STATEMENT, approval="", declined=(), old_tubes="", warranty="", labour="", lines=())
    (page,) = pages(statement_document(bare))
    for title in ("Approval", "Declined", "Old tubes", "Warranty", "Labour", "Notes"):
        assert title not in page
    assert "No tube was tested in this job." in page
    assert "It cannot predict how long the tube will last." in page


def test_a_set_handed_back_with_harm_in_it_is_not_to_be_powered(pages: Pages) -> None:
    (page,) = pages(statement_document(replace(STATEMENT, warnings=("V5: heater overloads the winding",))))
    assert "Do not power. V5: heater overloads the winding. Have this put right by a technician" in words(
        page
    )


def test_the_sums_are_not_torn_apart(pages: Pages) -> None:
    for rows in range(12, 60, 4):
        lines = tuple(replace(STATEMENT.lines[3], position=f"V{i}") for i in range(rows))
        texts = pages(statement_document(replace(STATEMENT, lines=lines)))
        (page,) = [text for text in texts if "Labour" in text]
        assert "97.00" in page
        assert "37.00" in page


MEASURED = (
    ("Line", "118.5 V"),
    ("Cathode current", "V3 38 mA · V4 41 mA"),
    ("Dissipation", "V3 6BQ5: at most 11.5 W of 12 W plate rating, 96 %\nV4 6BQ5: at most 12.8 W of 12 W"),
)


def test_what_was_measured_in_the_set_stands_in_a_small_table(pages: Pages) -> None:
    (page,) = pages(statement_document(replace(STATEMENT, measured=MEASURED)))
    text = words(page)
    assert "Measured in the set Value" in text
    assert "Line 118.5 V" in text
    assert "Cathode current V3 38 mA · V4 41 mA" in text
    assert "at most 11.5 W of 12 W plate rating, 96 %" in text
    assert text.index("Total 97.00") < text.index("Measured in the set") < text.index("Approval")


def test_a_set_that_was_not_measured_has_no_table_for_it(pages: Pages) -> None:
    (page,) = pages(statement_document(STATEMENT))
    assert "Measured in the set" not in page
