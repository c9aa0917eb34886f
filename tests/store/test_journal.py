"""What an act writes down of itself, and how it is taken back and done again."""

import json
from collections.abc import Sequence

import pytest
from sqlalchemy import select

from tests.records import START
from tests.store.rows import CUSTOMER, JUDGEMENT, add_customer, add_item, names, read, reading_place, rename
from tubeshelf.domain.errors import UserError
from tubeshelf.store import tables
from tubeshelf.store.journal import ActRow, ChangedElsewhere, act_row, last_act, last_taken_back, take_back
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Act, Customer, Effect, Item, Judgement, Reading, Setting, Type


def effects(record: Record, act_id: int) -> Sequence[tuple[str, int, object, object]]:
    """The effects of an act in order: table, row, and what their JSON says."""
    with record.reading() as connection:
        rows = connection.execute(
            select(Effect.table_name, Effect.row_id, Effect.before, Effect.after)
            .where(Effect.act_id == act_id)
            .order_by(Effect.seq)
        )
        return [
            (table, row, before and json.loads(before), after and json.loads(after))
            for table, row, before, after in rows
        ]


def version(record: Record, customer: int) -> int:
    with record.reading() as connection:
        return connection.execute(select(Customer.version).where(Customer.id == customer)).scalar_one()


def undo(record: Record, bench: str | None = None) -> str:
    """What the window's take-back does: the last act that stands."""
    with record.act("take back") as journal:
        act = last_act(journal.connection, bench)
        assert act is not None
        return take_back(journal, act.id)


def redo(record: Record, bench: str | None = None) -> str:
    with record.act("take back") as journal:
        act = last_taken_back(journal.connection, bench)
        assert act is not None
        return take_back(journal, act.id)


def next_steps(record: Record) -> tuple[str | None, str | None]:
    """What would be taken back and what done again, in their words."""
    with record.reading() as connection:
        back, again = last_act(connection), last_taken_back(connection)
    return back.said if back else None, again.said if again else None


def take(record: Record, act_id: int) -> str:
    with record.act("take back") as journal:
        return take_back(journal, act_id)


def act_of(record: Record, said: str) -> int:
    with record.reading() as connection:
        return connection.execute(select(Act.id).where(Act.said == said)).scalar_one()


# What is written down


def test_a_row_is_begun_by_its_act_and_the_act_says_so(record: Record) -> None:
    with record.act("customer", "Added Ames") as journal:
        customer = journal.insert(Customer, name="Ames", **CUSTOMER)
    with record.reading() as connection:
        row = connection.execute(select(Customer.begun_by, Customer.ended_by, Customer.version)).one()
    assert row == (journal.act_id, None, 1)
    assert effects(record, journal.act_id) == [("customer", customer, None, {})]


def test_a_change_is_written_down_with_only_what_changed(record: Record) -> None:
    customer = add_customer(record, "Ames")
    with record.act("customer") as journal:
        journal.update(Customer, customer, name="Amos", note="", contact="door 3")
    assert effects(record, journal.act_id) == [
        ("customer", customer, {"contact": "", "name": "Ames"}, {"contact": "door 3", "name": "Amos"})
    ]
    assert version(record, customer) == 2


def test_a_change_to_what_it_is_already_is_none(record: Record) -> None:
    customer = add_customer(record, "Ames")
    with record.act("customer") as journal:
        journal.update(Customer, customer, name="Ames", expected_version=1)
    assert effects(record, journal.act_id) == []
    assert version(record, customer) == 1


def test_zero_and_false_and_nothing_are_values(record: Record) -> None:
    with record.act("receive") as journal:
        item = add_item(journal, cost=100, boxed=True, price=5)
    with record.act("edit", "Edited") as journal:
        journal.update(Item, item, cost=0, boxed=False, price=None)
    assert effects(record, journal.act_id) == [
        ("item", item, {"boxed": True, "cost": 100, "price": 5}, {"boxed": False, "cost": 0, "price": None})
    ]
    undo(record)
    with record.reading() as connection:
        assert connection.execute(select(Item.cost, Item.boxed, Item.price)).one() == (100, True, 5)


def test_a_change_of_what_another_bench_changed_meanwhile_is_refused(record: Record) -> None:
    customer = add_customer(record, "Ames")
    rename(record, customer, "Amos")
    with (
        pytest.raises(ChangedElsewhere, match="customer was changed elsewhere"),
        record.act("edit") as journal,
    ):
        journal.update(Customer, customer, expected_version=1, name="Anders")
    assert names(record) == ["Amos"]


def test_what_has_ended_is_neither_changed_nor_ended_again(record: Record) -> None:
    customer = add_customer(record, "Ames")
    with record.act("remove") as journal:
        journal.end(Customer, customer)
    assert effects(record, journal.act_id) == [("customer", customer, {}, None)]
    assert names(record) == []
    with pytest.raises(ChangedElsewhere, match="removed"), record.act("edit") as journal:
        journal.update(Customer, customer, name="Amos")
    with pytest.raises(ChangedElsewhere, match="removed"), record.act("remove") as journal:
        journal.end(Customer, customer)


def test_many_rows_get_their_ids_in_the_order_given(record: Record) -> None:
    first = add_customer(record, "Ames")
    with record.act("import") as journal:
        ids = journal.insert_many(Customer, [{"name": f"No. {n}", **CUSTOMER} for n in range(2000)])
        assert journal.insert_many(Customer, []) == []
    with record.reading() as connection:
        stored = connection.execute(select(Customer.id, Customer.name).where(Customer.id != first)).all()
    assert {row.id: row.name for row in stored} == {row_id: f"No. {n}" for n, row_id in enumerate(ids)}
    assert [row for _, row, _, _ in effects(record, journal.act_id)] == ids
    assert add_customer(record, "Bell") not in ids


def test_types_and_settings_are_written_without_an_effect(record: Record) -> None:
    with record.act("types", "Added 6X4") as journal:
        kind = journal.insert(Type, key="6X4", designation="6X4")
        journal.insert(Setting, key="name", value="The workshop")
        journal.insert_many(Type, [{"key": "5Y3", "designation": "5Y3"}])
    assert effects(record, journal.act_id) == []
    with record.reading() as connection:
        assert connection.execute(select(Type.key).where(Type.id == kind)).scalar_one() == "6X4"
    assert next_steps(record) == (None, None)


def test_a_number_is_never_given_twice(record: Record) -> None:
    def number(said: str) -> int:
        with record.act("receive", said) as journal:
            given = journal.next_number("tag")
            add_item(journal, tag=given)
        return given

    assert [number("A"), number("B")] == [1, 2]
    undo(record)
    assert number("C") == 3
    with record.act("job") as journal:
        assert [journal.next_number("job"), journal.next_number("tag")] == [1, 4]


# Taking back


def test_taking_back_ends_what_began_and_doing_again_revives_it(record: Record) -> None:
    add_customer(record, "Ames")
    assert undo(record) == "Taken back: Added Ames"
    assert names(record) == []
    assert redo(record) == "Done again: Added Ames"
    assert names(record) == ["Ames"]


def test_taking_back_restores_what_changed_and_raises_the_version(record: Record) -> None:
    """Raised, because a bench that shows the row must look again."""
    customer = add_customer(record, "Ames")
    rename(record, customer, "Amos")
    undo(record)
    assert names(record) == ["Ames"]
    assert version(record, customer) == 3


def test_taking_back_revives_what_was_superseded(record: Record) -> None:
    item, line, _ = reading_place(record)
    of: dict[str, object] = {"item_id": item, "setting_line_id": line, **JUDGEMENT}
    with record.act("judge", "Judged") as journal:
        first = journal.insert(Judgement, **of)
    with record.act("judge", "Judged again") as journal:
        journal.end(Judgement, first)
        second = journal.insert(Judgement, **of)

    def held() -> list[int]:
        with record.reading() as connection:
            return list(
                connection.execute(select(Judgement.id).where(Judgement.ended_by.is_(None))).scalars()
            )

    for step, holds in ((undo, first), (redo, second), (undo, first), (redo, second)):
        step(record)
        assert held() == [holds]


def test_repeated_taking_back_walks_further_and_doing_again_walks_forward(record: Record) -> None:
    customer = add_customer(record, "A")
    for name in ("B", "C"):
        rename(record, customer, name)
    walked = [(step(record), names(record)) for step in (undo, undo, undo, redo, redo, redo)]
    assert walked == [
        ("Taken back: Renamed to C", ["B"]),
        ("Taken back: Renamed to B", ["A"]),
        ("Taken back: Added A", []),
        ("Done again: Added A", ["A"]),
        ("Done again: Renamed to B", ["B"]),
        ("Done again: Renamed to C", ["C"]),
    ]
    assert next_steps(record) == ("Renamed to C", None)


def test_there_is_no_end_to_going_back_and_forth(record: Record) -> None:
    customer = add_customer(record, "A")
    rename(record, customer, "B")
    for _ in range(3):
        undo(record), undo(record)
        assert (names(record), next_steps(record)) == ([], (None, "Taken back: Added A"))
        redo(record), redo(record)
        assert (names(record), next_steps(record)) == (["B"], ("Renamed to B", None))


def test_a_new_act_closes_the_way_forward(record: Record) -> None:
    customer = add_customer(record, "A")
    rename(record, customer, "B")
    undo(record)
    rename(record, customer, "C")
    assert next_steps(record) == ("Renamed to C", None)
    undo(record)
    assert next_steps(record) == ("Added A", "Taken back: Renamed to C")
    redo(record)
    assert names(record) == ["C"]
    assert next_steps(record) == ("Renamed to C", None)


def test_acts_that_changed_nothing_or_were_the_programs_own_are_no_steps(record: Record) -> None:
    customer = add_customer(record, "A")
    with record.act("look", "Looked"):
        pass
    with record.act("shipped types", "Brought the types up to date") as journal:
        journal.update(Customer, customer, note="n")
    assert next_steps(record) == ("Added A", None)
    with pytest.raises(UserError, match="the program did it by itself"):
        take(record, journal.act_id)


def test_each_bench_takes_back_its_own(record: Record) -> None:
    add_customer(record, "A")
    record.bench = "bench 2"
    add_customer(record, "B")
    assert undo(record, "bench 1") == "Taken back: Added A"
    assert names(record) == ["B"]
    with record.reading() as connection:
        assert last_act(connection, "bench 3") is None
        assert last_taken_back(connection, "bench 1") is None
        assert last_taken_back(connection, "bench 2") is not None


def test_the_acts_refer_to_each_other(record: Record) -> None:
    add_customer(record, "A")
    undo(record)
    with record.reading() as connection:
        first, second = act_row(connection, 1), act_row(connection, 2)
    assert first == ActRow(1, START, "bench 1", "customer", "Added A", None, 2)
    assert second == ActRow(2, START, "bench 1", "take back", "Taken back: Added A", 1, None)
    redo(record)
    with record.reading() as connection:
        assert [act_row(connection, n).reversed_by for n in (1, 2, 3)] == [None, 3, None]
        assert [act_row(connection, n).reverses for n in (1, 2, 3)] == [None, 1, 2]


def test_an_act_is_taken_back_once(record: Record) -> None:
    add_customer(record, "A")
    act = act_of(record, "Added A")
    take(record, act)
    with pytest.raises(UserError, match="“Added A” has been taken back already"):
        take(record, act)
    take(record, act_of(record, "Taken back: Added A"))
    with pytest.raises(UserError, match="“Added A” has been done again already"):
        take(record, act_of(record, "Taken back: Added A"))


def test_taking_back_a_doing_again_takes_the_act_back_once_more(record: Record) -> None:
    """The status line offers to take back the act it has just told of."""
    customer = add_customer(record, "A")
    with record.act("remove", "Removed A") as journal:
        journal.end(Customer, customer)
    undo(record)
    redo(record)
    assert names(record) == []
    assert take(record, act_of(record, "Done again: Removed A")) == "Taken back: Removed A"
    assert names(record) == ["A"]
    assert next_steps(record) == ("Added A", "Taken back: Removed A")


# What stands in the way


def test_a_change_that_was_changed_since_stands_until_the_later_one_is_back(record: Record) -> None:
    customer = add_customer(record, "A")
    first, second = rename(record, customer, "B"), rename(record, customer, "C")
    with pytest.raises(UserError, match="“Renamed to C” came later and rests on it"):
        take(record, first)
    assert names(record) == ["C"]
    take(record, second)
    take(record, first)
    assert names(record) == ["A"]


def test_changes_of_other_columns_do_not_stand_in_the_way(record: Record) -> None:
    customer = add_customer(record, "A")
    first = rename(record, customer, "B")
    with record.act("note", "Noted") as journal:
        journal.update(Customer, customer, note="rings twice")
    take(record, first)
    with record.reading() as connection:
        assert connection.execute(select(Customer.name, Customer.note)).one() == ("A", "rings twice")


def test_what_others_have_edited_since_is_not_taken_away(record: Record) -> None:
    customer = add_customer(record, "A")
    with record.act("note", "Noted") as journal:
        journal.update(Customer, customer, note="rings twice")
    with pytest.raises(UserError, match="“Noted” came later"):
        take(record, act_of(record, "Added A"))
    assert names(record) == ["A"]


def test_what_something_rests_on_is_not_taken_away(record: Record) -> None:
    place = reading_place(record)
    with record.act("reading", "Read 6,900") as journal:
        read(journal, place, 6900.0)
    with pytest.raises(UserError, match="“Prepared” cannot be taken back now: “Read 6,900” came later"):
        take(record, act_of(record, "Prepared"))
    with record.reading() as connection:
        assert connection.execute(select(tables.Tester.ended_by)).scalar_one() is None
    take(record, act_of(record, "Read 6,900"))
    take(record, act_of(record, "Prepared"))


def test_what_took_its_place_since_stands_in_the_way(record: Record) -> None:
    item, line, _ = reading_place(record)
    of: dict[str, object] = {"item_id": item, "setting_line_id": line, **JUDGEMENT}
    with record.act("judge", "Judged") as journal:
        first = journal.insert(Judgement, **of)
    with record.act("forget", "Forgot the judgement") as journal:
        journal.end(Judgement, first)
    with record.act("judge", "Judged anew") as journal:
        journal.insert(Judgement, **of)
    with pytest.raises(UserError, match="something took its place since"):
        take(record, act_of(record, "Forgot the judgement"))


def test_a_refused_taking_back_changes_nothing(record: Record) -> None:
    """The second of its two effects stands in the way; the first must not be undone either."""
    ames, bell = add_customer(record, "Ames"), add_customer(record, "Bell")
    with record.act("rename", "Renamed both") as journal:
        journal.update(Customer, ames, name="A")
        journal.update(Customer, bell, name="B")
    rename(record, ames, "AA")
    with pytest.raises(UserError, match="“Renamed to AA” came later"):
        take(record, act_of(record, "Renamed both"))
    assert names(record) == ["AA", "B"]
    assert next_steps(record) == ("Renamed to AA", None)


def test_several_changes_of_one_row_in_one_act_are_taken_back_in_turn(record: Record) -> None:
    customer = add_customer(record, "A")
    with record.act("rename", "Renamed and removed") as journal:
        journal.update(Customer, customer, name="B")
        journal.update(Customer, customer, name="C", note="n")
        journal.end(Customer, customer)
    for _ in range(2):
        undo(record)
        with record.reading() as connection:
            row = connection.execute(select(Customer.name, Customer.note, Customer.ended_by)).one()
        assert row == ("A", "", None)
        redo(record)
        assert names(record) == []


def test_dates_and_lists_are_restored_as_they_were(record: Record) -> None:
    reading_place(record)
    with record.act("tester", "Edited the tester") as journal:
        words = ("bad", "Ω?", "good")
        journal.update(tables.Tester, 1, words=words, checked_on=START.date(), relative=0.05)
    for step, expected in (
        (undo, ((), None, None)),
        (redo, (words, START.date(), 0.05)),
    ):
        step(record)
        with record.reading() as connection:
            columns = select(tables.Tester.words, tables.Tester.checked_on, tables.Tester.relative)
            assert connection.execute(columns).one() == expected


def test_a_thousand_rows_are_taken_back_at_once(record: Record) -> None:
    place = reading_place(record)
    with record.act("reading", "Read a lot") as journal:
        for value in range(1000):
            read(journal, place, float(value))
    undo(record)
    with record.reading() as connection:
        assert connection.execute(select(Reading.id).where(Reading.ended_by.is_(None))).all() == []
