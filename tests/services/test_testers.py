"""Testers and setting lines: any number of them, with the shop's own fields, words and limits."""

from datetime import date

import pytest

from tests.services.benchwork import add_tester
from tests.services.shelfwork import item, read, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import DefaultRule, Limit, Repeatability, Scale
from tubeshelf.services import tester_form
from tubeshelf.services.changes import Kind
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.limit_form import limit_fields, read_limit
from tubeshelf.services.setting_lines import retire_line, save_line, setting_lines
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shop import Shop
from tubeshelf.services.testers import list_testers, retire_tester, save_tester
from tubeshelf.services.undo import take_back

METER = {
    "name": "Tester D",
    "method": "transconductance",
    "unit": "µmho",
    "full_scale": "15000",
    "relative_percent": "3",
    "absolute": "50",
    "good_percent": "66",
    "reject_percent": "50",
    "field_names": "heater; range; bias",
    "checked_on": "2 Feb 2026",
}
WORDS = {"name": "Tester W", "method": "merit words", "words": "bad; doubtful; good", "good_from": "Good"}


def type_id(shop: Shop, name: str = "12AX7") -> int:
    found = shop.book.id_of(name)
    assert found is not None
    return found


def test_a_tester_comes_back_as_it_was_typed(shop: Shop) -> None:
    tester_id, changes = save_tester(shop, fields=METER)
    assert changes.touches(Kind.TESTER, tester_id)
    (tester,) = list_testers(shop)
    assert (tester.name, tester.method, tester.scale) == (
        "Tester D",
        "transconductance",
        Scale("µmho", 15000.0),
    )
    assert tester.repeatability == Repeatability(0.03, 50.0)
    assert tester.default == DefaultRule(good_share=0.66, reject_share=0.5)
    assert tester.field_names == ("heater", "range", "bias")
    assert tester.checked_on == date(2026, 2, 2)
    assert (tester.lines, tester.retired) == (0, False)
    save_tester(
        shop, tester_id=tester_id, fields=tester_form.tester_fields(tester), expected_version=tester.version
    )
    assert list_testers(shop) == (tester,)


def test_merit_words_are_positions_within_and_words_without(shop: Shop) -> None:
    repeats = {"relative_percent": "5", "absolute": "0.3"}
    save_tester(shop, fields={**WORDS, **repeats, "reject_below": "doubtful"})
    (tester,) = list_testers(shop)
    assert tester.scale == Scale(words=("bad", "doubtful", "good"))
    assert tester.repeatability == Repeatability(absolute=0.3), "a share of a word's place means nothing"
    assert tester.default == DefaultRule(good_from=3.0, reject_below=2.0)
    assert tester_form.tester_fields(tester)["reject_below"] == "doubtful"


@pytest.mark.parametrize(
    ("fields", "field", "says"),
    [
        ({"name": " "}, "name", "Type the tester's name"),
        ({"method": "magic"}, "method", "choose one of emission"),
        ({"method": "merit words"}, "words", "worst first"),
        ({"words": "good"}, "words", "at least two"),
        ({"words": "good; Good"}, "words", "different"),
        ({"full_scale": "0"}, "full_scale", "above 0"),
        ({"relative_percent": "three"}, "relative_percent", "not a number"),
        ({"relative_percent": "-3"}, "relative_percent", "0 to 200"),
        ({"absolute": "-1"}, "absolute", "0 or more"),
        ({"good_percent": "50", "reject_percent": "66"}, "reject_percent", "below good"),
        ({"good_from": "40", "reject_below": "50"}, "reject_below", "below good"),
        ({"words": "bad; good", "good_from": "fine"}, "good_from", "none of its words"),
        ({"field_names": "range; range"}, "field_names", "same name"),
        ({"checked_on": "2/3/2026"}, "checked_on", "type it as"),
        ({"name": "TESTER B"}, "name", "already"),
    ],
)
def test_what_is_wrong_with_a_tester_is_told_beside_its_field(
    file_shop: Shop, fields: dict[str, str], field: str, says: str
) -> None:
    add_tester(file_shop, "Tester B")
    with pytest.raises(FieldErrors) as caught:
        save_tester(file_shop, fields={**METER, **fields})
    assert says in caught.value.fields[field]
    assert [tester.name for tester in list_testers(file_shop)] == ["Tester B"]


def test_two_benches_do_not_overwrite_each_other(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    save_tester(shop, tester_id=tester_id, fields={**METER, "note": "by the window"}, expected_version=1)
    with pytest.raises(UserError, match="changed elsewhere"):
        save_tester(shop, tester_id=tester_id, fields={**METER, "note": "mine"}, expected_version=1)
    assert list_testers(shop)[0].note == "by the window"


def test_a_scale_that_was_read_on_stays(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    save_tester(shop, tester_id=tester_id, fields={**METER, "unit": "mS"})
    save_tester(shop, tester_id=tester_id, fields=METER)
    read(shop, tester_id, tube(shop, "6BQ5"), "11000")
    with pytest.raises(FieldErrors) as caught:
        save_tester(shop, tester_id=tester_id, fields={**METER, "unit": "mS"})
    assert "tester of its own" in caught.value.fields["unit"]
    save_tester(shop, tester_id=tester_id, fields={**METER, "full_scale": "30000"})


def test_a_retired_tester_stays_in_the_list_of_all(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    retire_tester(shop, tester_id=tester_id)
    assert list_testers(shop, retired=False) == ()
    assert [tester.retired for tester in list_testers(shop)] == [True]
    retire_tester(shop, tester_id=tester_id, retired=False)
    assert len(list_testers(shop, retired=False)) == 1


def test_a_setting_line_says_what_to_dial_in(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    line_id, changes = save_line(
        shop,
        type_id=type_id(shop),
        tester_id=tester_id,
        label="gm 1",
        section="1",
        fields={"range": "3000", "heater": "6.3"},
    )
    assert changes.touches(Kind.TYPE, type_id(shop))
    (line,) = setting_lines(shop, tester_id=tester_id)
    assert line.fields == (("heater", "6.3"), ("range", "3000"), ("bias", ""))
    assert (line.id, line.designation, line.tester, line.section) == (line_id, "12AX7", "Tester D", "1")
    assert setting_lines(shop, type_id=type_id(shop)) == (line,)
    assert setting_lines(shop, type_id=type_id(shop, "6BQ5")) == ()
    assert list_testers(shop)[0].lines == 1


def test_without_a_limit_the_default_rule_is_shown_as_that(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    save_line(shop, type_id=type_id(shop), tester_id=tester_id, section="1")
    (line,) = setting_lines(shop, tester_id=tester_id)
    # 66 % and 50 % of the data sheet's 1,600 µmho.
    assert line.limit is not None
    assert (line.limit.good_from, line.limit.reject_below, line.limit.derived) == (1056.0, 800.0, True)
    save_line(shop, line_id=line.id, section="1", limit=line.limit, expected_version=line.version)
    (again,) = setting_lines(shop, tester_id=tester_id)
    assert again.limit is not None
    assert again.limit.derived


def test_a_changed_limit_leaves_old_verdicts_as_they_were(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    old = Limit(good_from=9000.0, reject_below=7000.0, unit="µmho", source="own", dated=date(2025, 1, 2))
    line_id, _ = save_line(shop, type_id=type_id(shop, "6BQ5"), tester_id=tester_id, section="1", limit=old)
    item_id = tube(shop, "6BQ5")
    read(shop, tester_id, item_id, "10000")
    save_line(shop, line_id=line_id, section="1", limit=Limit(good_from=11000.0, reject_below=8000.0))
    assert item(shop, item_id).verdict == "good"
    (judged,) = item_detail(shop, item_id=item_id).readings
    assert (judged.verdict.limit.good_from, judged.verdict.limit.source) == (9000.0, "own")
    other = tube(shop, "6BQ5")
    read(shop, tester_id, other, "10000")
    assert item(shop, other).verdict == "weak"
    save_line(shop, line_id=line_id, section="1", limit=None)
    (line,) = setting_lines(shop, tester_id=tester_id)
    assert line.limit is not None
    assert line.limit.derived


def test_taking_a_changed_limit_back_brings_the_old_one_back(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    first, second = Limit(good_from=900.0, reject_below=700.0), Limit(good_from=0.0, reject_below=None)
    line_id, _ = save_line(shop, type_id=type_id(shop), tester_id=tester_id, limit=first)
    save_line(shop, line_id=line_id, limit=second)
    assert setting_lines(shop)[0].limit == Limit(good_from=0.0, reject_below=None, unit="µmho")
    take_back(shop)
    assert setting_lines(shop)[0].limit == Limit(good_from=900.0, reject_below=700.0, unit="µmho")


def test_values_follow_their_fields_when_these_are_renamed_moved_or_added(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    dialled = {"heater": "6.3", "range": "3000", "bias": "2"}
    save_line(shop, type_id=type_id(shop), tester_id=tester_id, fields=dialled)
    for names, expected in (
        ("heater; shunt; bias", {"heater": "6.3", "shunt": "3000", "bias": "2"}),
        ("bias; heater; shunt", {"bias": "2", "heater": "6.3", "shunt": "3000"}),
        ("bias; heater", {"bias": "2", "heater": "6.3"}),
        ("bias; heater; button", {"bias": "2", "heater": "6.3", "button": ""}),
    ):
        save_tester(shop, tester_id=tester_id, fields={**METER, "field_names": names})
        assert dict(setting_lines(shop)[0].fields) == expected


def test_lines_keep_the_order_they_were_made_in(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    for label in ("gm 2", "gm 1", "emission"):
        save_line(shop, type_id=type_id(shop), tester_id=tester_id, label=label)
    assert [line.label for line in setting_lines(shop)] == ["gm 2", "gm 1", "emission"]
    assert [line.position for line in setting_lines(shop)] == [1, 2, 3]


def test_a_retired_line_is_out_of_use_and_its_readings_stay(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    line_id, _ = save_line(shop, type_id=type_id(shop, "6BQ5"), tester_id=tester_id, section="1", label="gm")
    item_id = tube(shop, "6BQ5")
    read(shop, tester_id, item_id, "11000")
    retire_line(shop, line_id=line_id)
    assert setting_lines(shop) == ()
    assert item(shop, item_id).reads == "11,000"
    with pytest.raises(UserError, match="gone"):
        retire_line(shop, line_id=line_id)


def test_a_chart_that_is_written_down_says_when_a_tube_is_read_whole(shop: Shop) -> None:
    tester_id, _ = save_tester(shop, fields=METER)
    item_id = tube(shop, "12AX7")
    read(shop, tester_id, item_id, "1480")
    assert item(shop, item_id).verdict == "not read"
    (line,) = setting_lines(shop, tester_id=tester_id)
    save_line(shop, line_id=line.id, section="1", label="one section is enough")
    assert item(shop, item_id).verdict == "good"


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"section": "3"}, "no section 3"),
        ({"fields": {"knob": "1"}}, "no field knob"),
        ({"limit": Limit(good_from=5.0, reject_below=6.0)}, "below good"),
        ({"limit": Limit(good_from=-5.0, reject_below=None)}, "0 or more"),
        ({"limit": Limit(good_from=5.0, reject_below=None, above=4.0)}, "below where good begins"),
        ({"type_id": None}, "Choose a tester and a type"),
    ],
)
def test_a_line_that_cannot_be_meant_is_refused(file_shop: Shop, asked: dict[str, object], says: str) -> None:
    tester_id, _ = save_tester(file_shop, fields=METER)
    with pytest.raises(UserError, match=says):
        save_line(file_shop, **({"type_id": type_id(file_shop), "tester_id": tester_id} | asked))  # type: ignore[arg-type]
    assert setting_lines(file_shop) == ()


def test_a_limit_as_typed(file_shop: Shop) -> None:
    scale = Scale("µmho", 15000.0)
    typed = {"good_from": "1056", "reject_below": "800.5", "source": "own sheet", "dated": "2026-02-02"}
    limit = read_limit(typed, scale)
    assert limit == Limit(1056.0, 800.5, unit="µmho", source="own sheet", dated=date(2026, 2, 2))
    assert {name: text for name, text in limit_fields(limit, scale).items() if text} == typed
    assert read_limit({"good_from": " ", "source": "own"}, scale) is None
    assert read_limit({"reject_below": "0"}, scale) == Limit(None, 0.0, unit="µmho")
    words = Scale(words=("bad", "doubtful", "good"))
    assert read_limit({"good_from": "GOOD"}, words) == Limit(3.0, None)
    assert limit_fields(Limit(3.0, 2.0), words)["reject_below"] == "doubtful"
    assert not any(limit_fields(Limit(3.0, 2.0, derived=True), words).values())
    with pytest.raises(FieldErrors) as caught:
        read_limit({"good_from": "fine", "dated": "soon"}, words)
    assert set(caught.value.fields) == {"good_from", "dated"}
