"""The shop's own types from a file: a dry run with every problem by line, then all or nothing."""

from pathlib import Path

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Kind
from tubeshelf.services.shop import Shop
from tubeshelf.services.type_codec import to_fields
from tubeshelf.services.types import type_detail
from tubeshelf.services.types_edit import save_type
from tubeshelf.services.types_import import COLUMNS, TypesPlan, import_types, plan_types
from tubeshelf.services.undo import take_back


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "types.csv"


def planned(shop: Shop, file: Path, text: str) -> TypesPlan:
    file.write_text(text, encoding="utf-8")
    return plan_types(shop, path=file)


PINS = "1:1.plate 2:1.grid1 3:1.cathode 4:heater 5:heater 6:2.plate 7:2.grid1 8:2.cathode 9:nc"
TWIN = f"""designation;function;base;pins;heaters;section;section_function;gm_umho;mu;plate_w_max;equivalents
QX 12;dual triode;noval;{PINS};6,3/0,3 4-5;1;triode;2200;17;2,75;QX12W
QX 12;;;;;2;triode;2100,5;;;
"""


def test_a_new_type_with_two_sections_comes_in_with_a_decimal_comma(shop: Shop, file: Path) -> None:
    plan = planned(shop, file, TWIN)
    assert plan.problems == ()
    assert [tube.designation for tube in plan.new] == ["QX 12"]
    (type_id,), changes = import_types(shop, plan=plan)
    assert changes.said == "1 type from types.csv"
    assert changes.touches(Kind.TYPE, type_id)
    tube = type_detail(shop, type_id=type_id).tube
    assert [(s.name, s.function, s.gm_umho, s.mu, s.plate_w_max) for s in tube.sections] == [
        ("1", "triode", 2200.0, 17.0, 2.75),
        ("2", "triode", 2100.5, None, None),
    ]
    assert (tube.origin, tube.equivalents, tube.heaters[0].volts) == ("shop", ("QX12W",), 6.3)
    assert shop.book.id_of("qx12w") == type_id


def test_reading_the_same_file_again_changes_nothing(shop: Shop, file: Path) -> None:
    import_types(shop, plan=planned(shop, file, TWIN))
    plan = plan_types(shop, path=file)
    assert (plan.new, plan.changed, plan.unchanged, plan.problems) == ((), (), 1, ())
    with pytest.raises(UserError, match="says nothing that the table does not say already"):
        import_types(shop, plan=plan)


def test_the_shops_values_lie_over_a_shipped_type_field_by_field(shop: Shop, file: Path) -> None:
    plan = planned(
        shop, file, "designation,note,plate_v_max,section,gm_umho\n12ax7,Ours.,,1,1550\n12AX7,,,2,-\n"
    )
    assert [tube.designation for tube in plan.changed] == ["12AX7"]
    (type_id,), _ = import_types(shop, plan=plan)
    detail = type_detail(shop, type_id=type_id)
    assert set(detail.shop_fields) == {"note", "sections"}
    assert [section.gm_umho for section in detail.tube.sections] == [1550.0, None]
    assert [section.mu for section in detail.tube.sections] == [100.0, 100.0]
    assert detail.tube.ratings.plate_v_max == 300.0  # RCA RC-19: the blank cell left it alone


def test_an_import_is_one_act_that_can_be_taken_back(shop: Shop, file: Path) -> None:
    before = [to_fields(tube) for tube in shop.book.catalog.types()]
    text = "designation,function,base,note\nQX1,triode,octal,\n12AX7,,,Ours.\n"
    ids, changes = import_types(shop, plan=planned(shop, file, text))
    assert (len(ids), changes.said) == (2, "2 types from types.csv")
    take_back(shop)
    assert [to_fields(tube) for tube in shop.book.catalog.types()] == before


def test_every_problem_is_listed_by_line_and_nothing_is_written(shop: Shop, file: Path) -> None:
    plan = planned(
        shop,
        file,
        "designation,function,base,heaters,equivalents,section,gm_umho,colour\n"
        ",triode,octal,,,,,\n"
        "QX1,triode,,6.3,,,,\n"
        "QX2,triode,octal,,ECC83,,,\n"
        "QX3,triode,octal,,,,1500,\n"
        "QX4,triode,octal,,,1,many,,surplus\n"
        "ECC83,triode,noval,,,,,\n"
        "QX6,triode,octal,,QX7,,,\n"
        "QX7,triode,octal,,,,,\n"
        "QX8,triode,octal,,,,,\n"
        "QX8,pentode,,,,,,\n",
    )
    assert [(p.line, p.column) for p in plan.problems] == [
        (1, "colour"),
        (2, "designation"),
        (3, "base"),
        (3, "heaters"),
        (4, "equivalents"),
        (5, "section"),
        (6, ""),
        (6, "gm_umho"),
        (6, "section"),
        (7, "designation"),
        (9, "designation"),
        (10, "function"),
    ]
    assert plan.problems[0].sentence == "No column of a type is called 'colour': rename it or take it out."
    assert plan.problems[-2].sentence == "QX7 is QX6 in this file as well: keep one."
    with pytest.raises(UserError, match="has 12 problems: mend them"):
        import_types(shop, plan=plan)
    assert shop.book.id_of("QX8") is None


def test_each_figure_that_cannot_be_read_is_told_at_its_own_line_and_column(shop: Shop, file: Path) -> None:
    plan = planned(
        shop,
        file,
        "designation,function,base,heaters,section,section_function,gm_umho,mu\n"
        "QX1,dual triode,octal,6.3,1,triode,many,few\n"
        "QX1,,,,2,triode,-5,-\n",
    )
    assert [(p.line, p.column) for p in plan.problems] == [
        (2, "gm_umho"),
        (2, "mu"),
        (2, "heaters"),
        (3, "gm_umho"),
    ]
    assert plan.problems[-1].sentence == "Section 2, gm µmho: -5 is below zero."


def test_a_base_that_no_type_of_the_table_has_is_pointed_out(shop: Shop, file: Path) -> None:
    text = "designation,function,base\nQX1,triode,ocatl\nQX2,triode,octal\n"
    plan = planned(shop, file, text)
    assert (plan.problems, plan.new_bases) == ((), {"ocatl"})
    import_types(shop, plan=plan)
    assert planned(shop, file, "designation,function,base\nQX3,triode,ocatl\n").new_bases == set()


def test_a_file_without_the_one_needed_column_is_refused(shop: Shop, file: Path) -> None:
    with pytest.raises(UserError, match="needs a column 'designation'"):
        planned(shop, file, "type,function\nQX1,triode\n")


FILE = """\
designation,function,base,basing,pins,heating,heaters,rating_system,piv_v,dc_ma,drop_v,drop_ma,family,envelope,note,source,confidence,equivalents,cautions
QX9,half-wave rectifier,octal,QX-9,2:heater 4:1.plate 7:heater 8:1.cathode,heater,6.3/0.6 2-7,design-centre,700,70,22,70,QX,glass,N.,Sheet,low,QX9G; QX9W,xray"""  # noqa: E501


def test_everything_that_a_form_can_say_can_come_from_a_file(shop: Shop, file: Path) -> None:
    """What the editor stores and what the file states are the same fields."""
    header, row = FILE.splitlines()
    fields = dict(zip(header.split(","), row.split(","), strict=True))
    text = f"{header},section,section_function\n{row},1,rectifier\n"
    (type_id,), _ = import_types(shop, plan=planned(shop, file, text))
    sections = '[{"name": "1", "function": "rectifier"}]'
    form = {**fields, "designation": "QX10", "equivalents": "", "sections": sections}
    by_hand, _ = save_type(shop, key=None, fields=form)
    typed, came = (to_fields(type_detail(shop, type_id=one).tube) for one in (by_hand, type_id))
    assert {name for name in came if came[name] != typed[name]} == {"designation", "equivalents"}
    assert set(fields) < set(COLUMNS)
