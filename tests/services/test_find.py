"""The one search field finds what is typed or scanned, and offers first what was most likely meant."""

from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import tube
from tests.ui.drivers.bench import set_up
from tubeshelf.domain.jobs import Condition, JobStatus
from tubeshelf.services import decide, spares
from tubeshelf.services.changes import Kind
from tubeshelf.services.find import find_anything
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shelf_search import search
from tubeshelf.services.shop import Shop
from tubeshelf.store.record import Record


def first(shop: Shop, text: str) -> tuple[Kind, int]:
    """What Enter would go to."""
    find = find_anything(shop, text=text)[0]
    return find.kind, find.thing_id


def test_a_tag_is_found_as_it_is_painted_and_as_it_is_scanned(file_record: Record) -> None:
    bench = set_up(file_record)
    ids, _ = receive(bench.shop, type_name="6SN7GT", bin="B1", condition=Condition.NOS)
    tag = search(bench.shop, find="6SN7GT").rows[0].tag
    for text in (tag, f"T{tag}", f"t{tag}", f"T{int(tag)}"):
        assert first(bench.shop, text) == (Kind.ITEM, ids[0]), text
        assert search(bench.shop, find=text).rows[0].id == ids[0], text


def test_a_tube_whose_tag_was_typed_comes_before_types_with_that_figure(file_record: Record) -> None:
    bench = set_up(file_record)
    made = [
        receive(bench.shop, type_name="12AX7", bin="B1", condition=Condition.NOS)[0][0] for _ in range(12)
    ]
    tags = {row.id: int(row.tag) for row in search(bench.shop).rows if row.id in made}
    twelve = next(item for item, tag in tags.items() if tag == 12)
    assert first(bench.shop, "12") == (Kind.ITEM, twelve)


def test_the_number_of_a_job_goes_to_the_job_however_it_is_written(file_record: Record) -> None:
    bench = set_up(file_record)
    number = bench.job().number
    for text in (str(number), f"Job {number}", f"job {number} "):
        assert first(bench.shop, text) == (Kind.JOB, bench.job_id), text


def test_a_type_that_is_all_figures_is_found_as_a_type(file_record: Record) -> None:
    bench = set_up(file_record)
    finds = find_anything(bench.shop, text="45")
    assert (Kind.TYPE, bench.shop.book.id_of("45")) in [(find.kind, find.thing_id) for find in finds]


def comeback_set(shop: Shop) -> tuple[Bench, int, int]:
    """A set handed back with a tagged tube in V2 and here again: its first job, its second, the tube."""
    amp = amplifier(shop)
    amp.found("V2", "12AU7")
    item_id = tube(shop)
    spares.install(shop, item_id=item_id, socket_id=amp.id("V2"))
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    again = amplifier(shop)
    return amp, again.job().id, item_id


def test_customer_serial_and_tag_lead_to_the_last_job_of_the_set(shop: Shop) -> None:
    _, job_id, item_id = comeback_set(shop)
    for text in ("brindle", "Ada Brindle", "30417", "0001", "T0001"):
        assert first(shop, text) == (Kind.JOB, job_id), text
    finds = find_anything(shop, text="T0001")
    assert "0001 in V2" in finds[0].sub
    assert (Kind.ITEM, item_id) in [(find.kind, find.thing_id) for find in finds]


def test_the_tag_of_a_tube_that_was_pulled_still_leads_to_the_set(shop: Shop) -> None:
    _, job_id, _ = comeback_set(shop)
    again = Bench(shop, 2, 1)
    again.found("V2", "12AU7")  # somebody put another one in
    assert first(shop, "T0001") == (Kind.JOB, job_id)


def test_nothing_is_offered_twice(shop: Shop) -> None:
    comeback_set(shop)
    found = [(find.kind, find.thing_id) for find in find_anything(shop, text="1")]
    assert len(found) == len(set(found))
