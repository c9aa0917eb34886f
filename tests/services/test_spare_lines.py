from tests.services.shelfwork import read, tube
from tubeshelf.domain.judging import Limit
from tubeshelf.services import intake, setting_lines, testers
from tubeshelf.services.shelf_search import understood
from tubeshelf.services.shop import Shop
from tubeshelf.services.spare_lines import free_readings, spare_lines
from tubeshelf.services.spares import promise


def a_tester(shop: Shop, name: str, **fields: str) -> int:
    given = {"name": name, "method": "emission", "unit": "%", "full_scale": "120", **fields}
    return testers.save_tester(shop, fields=given)[0]


def test_without_a_tester_there_is_nothing_to_read(shop: Shop) -> None:
    lines = spare_lines(shop, item_id=tube(shop))
    assert (lines.testers, lines.tester, lines.lines) == ((), None, ())


def test_a_tube_is_read_on_the_tester_that_has_lines_for_its_type(shop: Shop) -> None:
    a_tester(shop, "Tester A")
    other = a_tester(shop, "Tester B")
    type_id = shop.book.id_of("5Y3GT")
    limit = Limit(60, 40)
    setting_lines.save_line(shop, tester_id=other, type_id=type_id, label="plate 1", limit=limit)
    lines = spare_lines(shop, item_id=tube(shop, "5Y3GT"))
    assert [t.name for t in lines.testers] == ["Tester A", "Tester B"]
    assert lines.tester is not None
    assert lines.tester.name == "Tester B"
    assert [line.label for line in lines.lines] == ["plate 1"]


def test_a_tube_is_read_again_on_the_tester_it_was_read_on(shop: Shop) -> None:
    a_tester(shop, "Tester A")
    other, spare = a_tester(shop, "Tester B"), tube(shop)
    read(shop, other, spare, "80")
    lines = spare_lines(shop, item_id=spare)
    assert lines.tester is not None
    assert lines.tester.id == other


def test_where_nobody_wrote_a_line_down_each_section_is_read(shop: Shop) -> None:
    first = a_tester(shop, "Tester A")
    lines = spare_lines(shop, item_id=tube(shop), tester_id=first)
    assert [(line.line_id, line.section) for line in lines.lines] == [(None, "1"), (None, "2")]


def test_the_spread_is_that_of_the_free_ones_on_each_tester(shop: Shop) -> None:
    first, other = a_tester(shop, "Tester A"), a_tester(shop, "Tester B")
    free, kept, elsewhere = tube(shop), tube(shop), tube(shop)
    read(shop, first, free, "80", "84")
    read(shop, first, kept, "20", "22")
    read(shop, other, elsewhere, "55")
    _, changes = intake.new_job(shop, customer="Ada Larch", complement="V1 input 12AX7", title="a box")
    job_id = next(thing for kind, thing in changes.things if kind == "job")
    promise(shop, item_id=kept, job_id=job_id)
    type_id = shop.book.id_of("12AX7")
    assert type_id is not None
    spreads = free_readings(shop, type_id=type_id)
    assert [(spread.tester, spread.unit, spread.values) for spread in spreads] == [
        ("Tester A", "%", (80, 84)),
        ("Tester B", "%", (55,)),
    ]


def test_the_search_tells_what_it_takes_each_word_for(file_shop: Shop) -> None:
    assert understood(file_shop, find="ecc83 good free promised 0412 – larkmere") == (
        ("ecc83", "type 12AX7"),
        ("good", "verdict good"),
        ("free", "not promised"),
        ("promised", "promised"),
        ("0412", "tag 0412 or “0412”"),
        ("larkmere", "“larkmere”"),
    )
