"""The type table as the shop has it: its own fields over the shipped ones, new types, retired ones."""

import pytest

from tests.services.benchwork import add_tester, amplifier
from tests.services.shelfwork import lot, read, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Kind
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.setting_lines import save_line
from tubeshelf.services.shelf_edit import set_par
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.spares import promise
from tubeshelf.services.type_checks import check_type
from tubeshelf.services.type_codec import from_fields, to_fields
from tubeshelf.services.types import list_types, type_detail, used_by
from tubeshelf.services.types_edit import (
    copy_type,
    drop_substitute,
    retire_type,
    save_substitute,
    save_type,
)
from tubeshelf.services.undo import do_again, take_back

NEW = {"designation": "QX 12", "function": "triode", "base": "octal"}


def id_of(shop: Shop, name: str) -> int:
    type_id = shop.book.id_of(name)
    assert type_id is not None
    return type_id


def test_the_list_finds_a_type_by_any_of_its_names(shop: Shop) -> None:
    names = [row.designation for row in list_types(shop)]
    assert names == sorted(names)
    assert len(names) == len(shop.book.ids())
    (row,) = [row for row in list_types(shop, find="ecc83") if row.designation == "12AX7"]
    assert (row.function, row.base, row.origin) == ("dual triode", "noval", "shipped")
    assert row.heater == "6.3 V 0.3 A or 12.6 V 0.15 A"
    assert {row.base for row in list_types(shop, find="Noval dual")} == {"noval"}
    assert list_types(shop, find="nosuchtube") == ()


def test_the_list_counts_what_is_on_hand_and_free(shop: Shop) -> None:
    amp = amplifier(shop)
    promise(shop, item_id=lot(shop, "12AX7", 5), job_id=amp.job().id, quantity=2)
    (row,) = [row for row in list_types(shop, find="12AX7") if row.designation == "12AX7"]
    assert (row.on_hand, row.free) == (5, 3)


def test_one_field_of_a_shipped_type_becomes_the_shops(shop: Shop) -> None:
    type_id = id_of(shop, "12AX7")
    before = type_detail(shop, type_id=type_id)
    assert before.shop_fields == ()
    saved, changes = save_type(shop, key="12AX7", fields={"note": "Watch the long plates."})
    assert (saved, changes.said) == (type_id, "Saved type 12AX7")
    assert changes.touches(Kind.TYPE, type_id)
    after = type_detail(shop, type_id=type_id)
    assert (after.tube.note, after.shop_fields) == ("Watch the long plates.", ("note",))
    assert after.tube.sections == before.tube.sections
    assert {row.origin for row in list_types(shop, find="12AX7") if row.type_id == type_id} == {
        "changed here"
    }


def test_a_whole_form_keeps_only_what_differs(shop: Shop) -> None:
    tube_type = type_detail(shop, type_id=id_of(shop, "12AX7")).tube
    save_type(shop, key="12AX7", fields={**to_fields(tube_type), "plate_v_max": "310"})
    assert type_detail(shop, type_id=id_of(shop, "12AX7")).shop_fields == ("plate_v_max",)


def test_the_shipped_value_typed_again_is_the_shops_no_longer(shop: Shop) -> None:
    type_id = id_of(shop, "12AX7")
    shipped = to_fields(type_detail(shop, type_id=type_id).tube)["plate_v_max"]
    save_type(shop, key="12AX7", fields={"plate_v_max": "310"})
    assert type_detail(shop, type_id=type_id).tube.ratings.plate_v_max == 310
    save_type(shop, key="12AX7", fields={"plate_v_max": shipped})
    assert type_detail(shop, type_id=type_id).shop_fields == ()


def test_the_shops_field_outlives_a_new_start(shop: Shop) -> None:
    save_type(shop, key="12AX7", fields={"piv_v": "0"})
    again = open_shop(shop.record)
    tube_type = again.book.type(id_of(again, "12AX7"))
    assert tube_type is not None
    assert tube_type.ratings.piv_v == 0.0


def test_a_new_type_is_a_type_everywhere(shop: Shop) -> None:
    type_id, _ = save_type(shop, key=None, fields={**NEW, "equivalents": "VQ12; CVQ12"})
    assert shop.book.id_of("vq-12") == type_id
    assert type_detail(shop, type_id=type_id).tube.origin == "shop"
    (row,) = list_types(shop, find="qx12")
    assert (row.designation, row.origin) == ("QX 12", "this shop")
    assert tube(shop, "QX12") == 1


def test_a_new_type_that_was_taken_back_can_be_made_again(shop: Shop) -> None:
    type_id, _ = save_type(shop, key=None, fields=NEW)
    take_back(shop)
    assert shop.book.id_of("QX12") is None
    do_again(shop)
    assert shop.book.id_of("QX12") == type_id
    take_back(shop)
    assert save_type(shop, key=None, fields=NEW)[0] == type_id


@pytest.mark.parametrize(
    ("fields", "field", "says"),
    [
        ({"designation": "12ax7"}, "designation", "in the table already"),
        ({"designation": "ECC83"}, "designation", "another name of 12AX7"),
        ({"designation": " - "}, "designation", "Type the designation"),
        ({"equivalents": "ecc83"}, "equivalents", "12AX7 already"),
        ({"equivalents": "qx12"}, "equivalents", "designation itself"),
        ({"heating": "cold", "heaters": "6.3/0.3"}, "heaters", "cold cathode"),
        ({"pins": "1:1.plate 2:heater", "heaters": "6.3/0.3 1-2"}, "heaters", "Pin 1"),
        (
            {"pins": "1:2.plate 2:heater", "sections": '[{"name": "1", "function": "triode"}]'},
            "sections",
            "same names",
        ),
        ({"base": ""}, "base", "Type its base"),
    ],
)
def test_a_type_that_contradicts_itself_or_another_is_told_beside_the_field(
    file_shop: Shop, fields: dict[str, str], field: str, says: str
) -> None:
    known = len(file_shop.book.ids())
    with pytest.raises(FieldErrors) as caught:
        save_type(file_shop, key=None, fields={**NEW, **fields})
    assert says in caught.value.fields[field]
    file_shop.forget_types()
    assert len(file_shop.book.ids()) == known


def test_the_name_of_a_type_stays(file_shop: Shop) -> None:
    with pytest.raises(FieldErrors) as caught:
        save_type(file_shop, key="12AX7", fields={"designation": "12AX9"})
    assert "copy it" in caught.value.fields["designation"]


def test_every_shipped_type_can_be_saved_as_it_is(file_shop: Shop) -> None:
    for tube_type in file_shop.book.catalog.types():
        assert from_fields(tube_type.key, to_fields(tube_type)) == tube_type
        check_type(file_shop.book, tube_type, new=False)
    for name in ("12AX7", "5Y3GT", "0A2", "6V6GT"):
        tube_type = type_detail(file_shop, type_id=id_of(file_shop, name)).tube
        type_id, _ = save_type(file_shop, key=tube_type.key, fields=to_fields(tube_type))
        assert file_shop.book.shop_fields(type_id) == ()


def test_a_copy_has_everything_but_the_other_names(shop: Shop) -> None:
    original = type_detail(shop, type_id=id_of(shop, "12AX7")).tube
    type_id, _ = copy_type(shop, type_id=id_of(shop, "12AX7"), designation="12AX7-S")
    copy = type_detail(shop, type_id=type_id).tube
    assert (copy.designation, copy.equivalents, copy.origin) == ("12AX7-S", (), "shop")
    assert (copy.basing, copy.heaters, copy.sections) == (
        original.basing,
        original.heaters,
        original.sections,
    )
    with pytest.raises(FieldErrors):
        copy_type(shop, type_id=id_of(shop, "12AX7"), designation="12AX7")


def test_a_retired_type_leaves_the_list_and_stays_known(shop: Shop) -> None:
    type_id = id_of(shop, "12AX7")
    save_type(shop, key="12AX7", fields={"note": "ours"})
    retire_type(shop, type_id=type_id, retired=True)
    assert type_id not in {row.type_id for row in list_types(shop)}
    assert {row.retired for row in list_types(shop, retired=True) if row.type_id == type_id} == {True}
    assert shop.book.id_of("ECC83") == type_id
    retire_type(shop, type_id=type_id, retired=False)
    assert type_detail(shop, type_id=type_id).shop_fields == ("note",)


def test_a_shops_own_type_can_be_retired_too(shop: Shop) -> None:
    type_id, _ = save_type(shop, key=None, fields=NEW)
    retire_type(shop, type_id=type_id, retired=True)
    detail = type_detail(shop, type_id=type_id)
    assert (detail.tube.retired, detail.tube.function) == (True, "triode")


def test_the_shops_substitute_lies_over_the_shipped_one_and_can_be_dropped(shop: Shop) -> None:
    intended, found = id_of(shop, "12AX7"), id_of(shop, "12AU7")

    def entry() -> tuple[int, tuple[str, ...]] | None:
        entries = type_detail(shop, type_id=intended).substitutes
        return next(((e.grade, e.conditions) for e in entries if e.found == "12AU7"), None)

    shipped = entry()
    save_substitute(
        shop, intended_id=intended, found_id=found, grade=3, conditions="far less gain; say so", note="bench"
    )
    assert entry() == (3, ("far less gain", "say so"))
    save_substitute(shop, intended_id=intended, found_id=found, grade=2)
    assert entry() == (2, ())
    serves = [s.intended for s in type_detail(shop, type_id=found).serves_for]
    assert "12AX7" in serves
    drop_substitute(shop, intended_id=intended, found_id=found)
    assert entry() == shipped
    with pytest.raises(UserError, match="came with the program"):
        drop_substitute(shop, intended_id=intended, found_id=found)


@pytest.mark.parametrize(("found", "grade", "says"), [("12AX7", 1, "its own place"), ("7025", 4, "grade")])
def test_a_substitute_that_cannot_be_meant_is_refused(
    file_shop: Shop, found: str, grade: int, says: str
) -> None:
    with pytest.raises(UserError, match=says):
        save_substitute(
            file_shop, intended_id=id_of(file_shop, "12AX7"), found_id=id_of(file_shop, found), grade=grade
        )


def test_the_detail_has_the_latest_reading_of_each_tube_on_each_line(shop: Shop) -> None:
    tester = add_tester(shop)
    type_id = id_of(shop, "6BQ5")
    save_line(shop, type_id=type_id, tester_id=tester, section="1", label="gm")
    first, second = tube(shop, "6BQ5"), tube(shop, "6BQ5")
    read(shop, tester, first, "11000")
    read(shop, tester, second, "9000")
    read(shop, tester, first, "10000")
    set_par(shop, type_id=type_id, quantity=4)
    detail = type_detail(shop, type_id=type_id)
    (picture,) = detail.distributions
    # Two readings of one tube at one stage are repeats: their mean is what was judged.
    assert sorted(picture.values) == [9000.0, 10500.0]
    assert (picture.tester, picture.line, picture.unit) == ("Tester B", "gm", "µmho")
    assert picture.limit is not None
    assert (detail.on_hand, detail.free, detail.par) == (2, 2, 4)


def test_a_type_says_what_refers_to_it(shop: Shop) -> None:
    amplifier(shop)
    tube(shop, "12AX7")
    use = used_by(shop, type_id=id_of(shop, "12AX7"))
    assert (use.models, use.units, use.jobs, use.found, use.tubes, use.lines) == (2, 2, 2, 0, 1, 0)
