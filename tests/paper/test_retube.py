import re
from dataclasses import replace

import pytest

from tests.paper.conftest import Pages
from tests.paper.samples import RETUBE, long_retube
from tubeshelf.paper.retube import retube_document
from tubeshelf.services.views.papers import KeepLine


def words(text: str) -> str:
    """Lines joined: where a line breaks is not what these tests are about."""
    return " ".join(text.split())


def numbered(texts: list[str]) -> list[str]:
    """The words w0000, w0001 … in the order printed; blanks may come in where a run of glyphs ends."""
    return [word for text in texts for word in re.findall(r"w\d{4}", "".join(text.split()))]


def test_a_short_list_has_everything_on_one_page(pages: Pages) -> None:
    (page,) = pages(retube_document(RETUBE))
    text = words(page)
    for expected in (
        "Retube list",
        "Job 214 · Larkmere A12 practice amplifier, serial 30417",
        "promised for 2 Dec 2026",
        "Quillfen Valve Workshop",
        "24 Nov 2026 · bench 1",
        "as found on Tester B",
        "wrong type: µ 17 for 100",
        "Measure the cathode resistor, 270 Ω ± 5 %, before it goes in.",
        "1,480 · 1,390",
        "Undecided: leave in until somebody decides",
        "V10 reverb 12AX7, reads 1,600 · 1,580, good",
        "1 × 5Y3GT (for this job, by 2 Dec 2026)",
        "front",
        "Lethal voltage, also after unplugging: discharge and measure.",
        "page 1 of 1",
    ):
        assert expected in text


def test_the_warning_says_what_to_do_afterwards(pages: Pages) -> None:
    (page,) = pages(retube_document(RETUBE))
    assert (
        "Do not power. V5: a 5U4GB takes 3 A from a winding made for 2 A. V4: shorted, pins 2–3. "
        "After this is put right: repeat the short check, first power with the current limited."
    ) in words(page)


def test_without_harm_there_is_no_warning(pages: Pages) -> None:
    (page,) = pages(retube_document(replace(RETUBE, warnings=())))
    assert "Do not power" not in page


def test_a_long_list_repeats_headings_and_counts_its_pages(pages: Pages) -> None:
    texts = pages(retube_document(long_retube(200)))
    assert 8 <= len(texts) <= 16
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        assert "Retube list · job 214" in text
        assert "that person decides." in text
    listed = [text for text in texts if "wrong type: µ" in text]
    assert len(listed) > 5
    assert all("Take out" in text and "As left" in text for text in listed)
    tags = [word for text in texts for word in text.split() if word.isdecimal() and 1000 <= int(word) < 1200]
    assert tags == [str(1000 + i) for i in range(200)]


def test_headings_are_not_repeated_where_no_row_follows(pages: Pages) -> None:
    texts = pages(retube_document(long_retube(60)))
    assert all("Put in" not in text or "6BQ5" in text for text in texts)


@pytest.mark.parametrize("name", ["<b>not</b> & co", "Žižek", "Ωμέγα", "Жуковский", "5 % ± 2 Ω, µ", "a\tb"])
def test_what_somebody_typed_is_printed_as_typed(pages: Pages, name: str) -> None:
    (page,) = pages(retube_document(replace(RETUBE, customer=name, notes=(name,))))
    assert words(page).count(" ".join(name.split())) == 2


def test_control_characters_and_direction_overrides_do_not_reach_the_paper(pages: Pages) -> None:
    (page,) = pages(retube_document(replace(RETUBE, notes=("one\x00\x07 \u202etwo\ud800",))))
    assert "one two" in words(page)


def test_an_endless_word_is_broken_and_nothing_of_it_lost(pages: Pages) -> None:
    endless = "X" * 3000
    lines = (replace(RETUBE.replace[0], why=endless), *RETUBE.replace[1:])
    texts = pages(retube_document(replace(RETUBE, replace=lines, customer="")))
    elsewhere = sum(text.count("X") for text in pages(retube_document(replace(RETUBE, customer=""))))
    assert sum(text.count("X") for text in texts) == 3000 + elsewhere


def test_a_row_higher_than_a_page_goes_over_several(pages: Pages) -> None:
    story = " ".join(f"w{i:04}" for i in range(2500))
    lines = (replace(RETUBE.replace[0], why=story),)
    texts = pages(retube_document(replace(RETUBE, replace=lines)))
    assert numbered(texts) == [f"w{i:04}" for i in range(2500)]
    assert "Take out" in texts[1]


def test_a_note_as_long_as_a_book_goes_over_several_pages(pages: Pages) -> None:
    story = " ".join(f"w{i:04}" for i in range(6000))
    lines = (replace(RETUBE.replace[0], note=story),)
    texts = pages(retube_document(replace(RETUBE, replace=lines)))
    assert numbered(texts) == [f"w{i:04}" for i in range(6000)]


def test_a_declined_replacement_says_to_leave_the_tube_in(pages: Pages) -> None:
    (page,) = pages(retube_document(RETUBE))
    assert "Declined, leave it in:" in words(page)


@pytest.mark.parametrize(
    ("keep", "expected"),
    [
        (RETUBE.keep, "No tube is to be replaced."),
        ((), "This job has no sockets yet, so there is nothing to replace."),
    ],
)
def test_an_empty_list_says_so(pages: Pages, keep: tuple[KeepLine, ...], expected: str) -> None:
    empty = replace(RETUBE, replace=(), undecided=(), keep=keep, warnings=(), to_order=(), notes=())
    (page,) = pages(retube_document(empty))
    assert expected in words(page)
    assert "Take out" not in page


def test_a_box_of_loose_tubes_gets_no_map(pages: Pages) -> None:
    assert not any("front" in text for text in pages(retube_document(long_retube(41))))


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_both_paper_sizes_hold_it(pages: Pages, size: str) -> None:
    (page,) = pages(retube_document(RETUBE), size)
    assert "page 1 of 1" in page
