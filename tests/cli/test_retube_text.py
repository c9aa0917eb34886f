from datetime import date

from tubeshelf.cli.retube_text import WIDTH, retube_text
from tubeshelf.services.views.papers import KeepLine, PaperHead, RetubeLine, RetubeList


def listed(**more: object) -> RetubeList:
    facts: dict[str, object] = {
        "head": PaperHead("The workshop", "", date(2026, 3, 2), "bench 1"),
        "number": 214,
        "title": "Larkmere A12",
        "customer": "Zoë Ødegård",
        "serial": "30417",
        "stage": "as found",
        "tester": "Tester B",
        "promised_on": date(2026, 3, 12),
        "warnings": (),
        "replace": (),
        "undecided": (),
        "keep": (),
        "to_order": (),
        "notes": (),
    }
    return RetubeList(**(facts | more))  # type: ignore[arg-type]


def line(position: str, put_in: str, tag: str, **more: object) -> RetubeLine:
    facts: dict[str, object] = {
        "position": position,
        "role": "output",
        "take_out": "EL84",
        "why": "gas 6 µA",
        "put_in": put_in,
        "tag": tag,
        "bin": "C2",
        "reads": "10,850",
    }
    return RetubeLine(**(facts | more))  # type: ignore[arg-type]


def test_the_columns_of_a_table_stand_below_each_other() -> None:
    rows = (line("V3", "6BQ5", "0098"), line("V10", "6V6GT", "12345", take_out="unreadable"))
    printed = retube_text(listed(replace=rows)).splitlines()
    first, second = (text for text in printed if text.startswith("[ ]"))
    for cell in ("→", "C2", "10,850"):
        assert first.index(cell) == second.index(cell)
    assert first.split() == ["[", "]", "V3", "output", "EL84", "→", "6BQ5", "0098", "C2", "10,850"]


def test_a_socket_that_is_done_and_one_that_was_declined_are_told_apart() -> None:
    rows = (line("V3", "6BQ5", "0098", done=True), line("V4", "6BQ5", "", declined=True))
    printed = retube_text(listed(replace=rows))
    assert "[x]  V3" in printed
    declined = next(text for text in printed.splitlines() if "V4" in text)
    assert "→" not in declined
    assert "declined, leave it in: gas 6 µA" in printed


def test_the_warning_says_what_to_do_after_it() -> None:
    printed = retube_text(listed(warnings=("V5: a 5U4G takes 3 A where 2 A was designed.",)))
    title, sentence, after = printed.split("\n\n")[1].splitlines()[:3]
    assert title == "DO NOT POWER"
    assert sentence == "  V5: a 5U4G takes 3 A where 2 A was designed."
    assert "current" in printed
    assert after.startswith("  Take the tube out")


def test_what_there_is_nothing_of_is_not_mentioned() -> None:
    printed = retube_text(listed(keep=(KeepLine("V1", "", "12AX7", "1,480 · 1,510", "good"),)))
    assert "Zoë Ødegård · promised for 12 Mar 2026 · as found on Tester B" in printed
    assert "  V1  12AX7  1,480 · 1,510  good" in printed
    for title in ("DO NOT POWER", "Replace", "Undecided", "To order", "Notes"):
        assert title not in printed


def test_long_reasons_are_broken_into_lines() -> None:
    why = "wrong type: " + "a reason with numbers " * 12
    printed = retube_text(listed(undecided=(line("V1", "12AX7", "0412", why=why, note="Check the filter."),)))
    assert max(map(len, printed.splitlines())) <= WIDTH
    assert printed.endswith("Check the filter.")
