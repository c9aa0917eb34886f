"""The journal of one act: every row it begins, changes or ends, so that it can be told and taken back.

An effect of a row that began has only an ``after``, of one that ended only a ``before``, of one that changed
both, with the changed columns alone. Taking back is an act of its own that walks the effects backwards;
taking that back does the first act again.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Self, cast

from sqlalchemy import ColumnElement, Connection, RowMapping, exists, select, text, true, update
from sqlalchemy.exc import IntegrityError

from tubeshelf.domain.errors import UserError
from tubeshelf.store.columns import Base, Row
from tubeshelf.store.effects import (
    one_row,
    plain,
    referring,
    table_named,
    table_of,
    unplain,
    word_of,
)
from tubeshelf.store.statements import Statements
from tubeshelf.store.tables.acts import Act, Effect

NOT_TAKEN_BACK = frozenset({"shipped types", "setup"})
"""Kinds of act that the program does by itself; they are no steps of the user's."""

COUNT_ON = text(
    "INSERT INTO counter (name, value) VALUES (:name, 1) "
    "ON CONFLICT (name) DO UPDATE SET value = counter.value + 1"
)
COUNTED = text("SELECT value FROM counter WHERE name = :name")


class ChangedElsewhere(UserError):  # noqa: N818 - it reads as what happened
    """Somebody else changed the row since it was shown."""


class Journal:
    """What one act does to the record.

    ``at`` is the instant of the act (aware UTC); ``said`` what it did in words, settable until the end.
    """

    def __init__(
        self, connection: Connection, statements: Statements, *, act_id: int, at: datetime, said: str
    ) -> None:
        self.connection = connection
        self._statements = statements
        self.act_id = act_id
        self.at = at
        self.said = said
        self._said_first = said
        self._effects: list[dict[str, object]] = []

    @classmethod
    def begin(
        cls, connection: Connection, statements: Statements, *, at: datetime, bench: str, kind: str, said: str
    ) -> Self:
        """Write the act itself, which all its rows refer to."""
        values = {"at": at, "bench": bench, "kind": kind, "said": said}
        act_id = statements.insert(connection, table_of(Act), values)
        return cls(connection, statements, act_id=act_id, at=at, said=said)

    def finish(self) -> None:
        """Write the effects and the final words; the record calls it before it commits."""
        if self.said != self._said_first:
            self._set(Act, self.act_id, {"said": self.said})
        if self._effects:
            self._statements.insert_many(self.connection, table_of(Effect), self._effects)

    def insert(self, table: type[Base], **values: object) -> int:
        """Begin a row and return its id.

        Tables whose rows no act begins (types, settings) are written without an effect: they are never
        taken back.
        """
        begun = issubclass(table, Row)
        if begun:
            values["begun_by"] = self.act_id
        row_id = self._statements.insert(self.connection, table_of(table), values)
        if begun:
            self._note(table, row_id, None, {})
        return row_id

    def insert_many(self, table: type[Base], rows: Sequence[dict[str, object]]) -> list[int]:
        """Begin many rows at once, all with the same columns; their ids in the order given.

        No ids are told of tables whose rows no act begins.
        """
        if not rows:
            return []
        core = table_of(table)
        if not issubclass(table, Row):
            self._statements.insert_many(self.connection, core, rows)
            return []
        ids = self._statements.new_ids(self.connection, core, len(rows))
        begun = [
            {**row, "id": row_id, "begun_by": self.act_id} for row, row_id in zip(rows, ids, strict=True)
        ]
        self._statements.insert_many(self.connection, core, begun)
        for row_id in ids:
            self._note(table, row_id, None, {})
        return ids

    def update(
        self, table: type[Base], row_id: int, *, expected_version: int | None = None, **values: object
    ) -> None:
        """Change columns of one row; those that have the value already are left out.

        Raises ChangedElsewhere if the row has ended, or is no longer at ``expected_version``.
        """
        now = self.connection.execute(one_row(table_of(table)), {"row_id": row_id}).mappings().one()
        if now.get("ended_by") is not None:
            raise _removed(table)
        if expected_version is not None and now["version"] != expected_version:
            raise ChangedElsewhere(
                f"This {word_of(table)} was changed elsewhere meanwhile. Look at it again, then repeat this."
            )
        changed = {name: values[name] for name in sorted(values) if now[name] != values[name]}
        if changed:
            self._set(table, row_id, changed)
            self._note(table, row_id, {name: now[name] for name in changed}, changed)

    def end(self, table: type[Base], row_id: int) -> None:
        """End a row: it stays, but no longer holds. Raises ChangedElsewhere if it has ended already."""
        if not self._statements.end(self.connection, table_of(table), row_id, self.act_id):
            raise _removed(table)
        self._note(table, row_id, {}, None)

    def next_number(self, counter: str) -> int:
        """The next number of a counter, such as "tag" or "job"; from 1, never given twice.

        Taking the act back does not free it: a number on a label stays used.
        """
        self.connection.execute(COUNT_ON, {"name": counter})
        return int(self.connection.execute(COUNTED, {"name": counter}).scalar_one())

    def ended(self) -> dict[str, list[int]]:
        """The ids of the rows that this act ended, by the name of their table."""
        rows: dict[str, list[int]] = {}
        for effect in self._effects:
            if effect["after"] is None:
                rows.setdefault(str(effect["table_name"]), []).append(cast(int, effect["row_id"]))
        return rows

    def reverse(self, effect: RowMapping, *, ended_by: int) -> bool:
        """Undo one effect of another act, unless its row is no longer as that act left it: then False.

        A row that is ended by it is ended in the name of the act ``ended_by``.
        """
        table = table_named(effect["table_name"])
        row_id = effect["row_id"]
        now = self.connection.execute(one_row(table_of(table)), {"row_id": row_id}).mappings().one()
        before = _values(table, effect["before"])
        after = _values(table, effect["after"])
        if after is None:  # nothing changes what has ended, so it is as that act left it
            self._set(table, row_id, {"ended_by": None})
            self._note(table, row_id, None, {})
        elif now.get("ended_by") is not None or any(now[name] != value for name, value in after.items()):
            return False
        elif before is None:
            self._set(table, row_id, {"ended_by": ended_by})
            self._note(table, row_id, {}, None)
        else:
            self._set(table, row_id, before)
            self._note(table, row_id, after, before)
        return True

    def _set(self, table: type[Base], row_id: int, values: dict[str, object]) -> None:
        self._statements.update(self.connection, table_of(table), row_id, values)

    def _note(
        self,
        table: type[Base],
        row_id: int,
        before: dict[str, object] | None,
        after: dict[str, object] | None,
    ) -> None:
        self._effects.append(
            {
                "act_id": self.act_id,
                "seq": len(self._effects),
                "table_name": table.__tablename__,
                "row_id": row_id,
                "before": _json(before),
                "after": _json(after),
            }
        )


def _removed(table: type[Base]) -> ChangedElsewhere:
    return ChangedElsewhere(f"This {word_of(table)} was removed elsewhere meanwhile. Look again.")


def _json(values: dict[str, object] | None) -> str | None:
    if not values:
        return None if values is None else "{}"
    return json.dumps({name: plain(value) for name, value in values.items()}, ensure_ascii=False)


def _values(table: type[Base], stored: str | None) -> dict[str, object] | None:
    if stored is None:
        return None
    columns = table_of(table).c
    return {name: unplain(columns[name], value) for name, value in json.loads(stored).items()}


@dataclass(frozen=True, slots=True)
class ActRow:
    """One act as it is told; ``reverses`` is the act that it took back, ``reversed_by`` what took it back."""

    id: int
    at: datetime
    bench: str
    kind: str
    said: str
    reverses: int | None
    reversed_by: int | None


ACT = table_of(Act).c
EFFECT = table_of(Effect).c


def act_row(connection: Connection, act_id: int) -> ActRow:
    """The act of that id, which must exist."""
    return ActRow(**connection.execute(select(*ACT).where(ACT.id == act_id)).mappings().one())


def last_act(connection: Connection, bench: str | None = None) -> ActRow | None:
    """The act to take back next: the newest that stands, of this bench if one is named.

    An act stands while it is not taken back; acts that changed nothing, that the program did by itself, or
    that take back themselves are passed over. So repeated taking back walks further back.
    """
    own = _of(bench)
    newest = select(*ACT).where(_a_step(), ACT.reversed_by.is_(None), own).order_by(ACT.id.desc()).limit(1)
    found = connection.execute(newest).mappings().one_or_none()
    return None if found is None else ActRow(**found)


def last_taken_back(connection: Connection, bench: str | None = None) -> ActRow | None:
    """The taking back to take back next, which does its act again: the newest one that stands.

    A new act of the same bench closes that way, as in any editor: what was taken back before it stays so.
    """
    own = _of(bench)
    first = table_of(Act).alias()
    took_back = exists().where(first.c.id == ACT.reverses, first.c.reverses.is_(None))
    newest = select(*ACT).where(took_back, ACT.reversed_by.is_(None), own).order_by(ACT.id.desc()).limit(1)
    found = connection.execute(newest).mappings().one_or_none()
    if found is None:
        return None
    later = select(ACT.id).where(_a_step(), own, ACT.id > found["id"]).limit(1)
    return None if connection.execute(later).first() else ActRow(**found)


def _of(bench: str | None) -> ColumnElement[bool]:
    return true() if bench is None else ACT.bench == bench


def _a_step() -> ColumnElement[bool]:
    changed_something = exists().where(EFFECT.act_id == ACT.id)
    return ACT.reverses.is_(None) & ACT.kind.not_in(NOT_TAKEN_BACK) & changed_something


def take_back(journal: Journal, act_id: int) -> str:
    """Take an act back, all of it or nothing, and return what was done in words.

    Taking back a taking back does its act again; taking back that, takes the act back once more.
    Raises UserError if the act was taken back already, or something done later rests on it.
    """
    connection = journal.connection
    act = act_row(connection, act_id)
    original = act if act.reverses is None else act_row(connection, act.reverses)
    if original.reverses is not None:  # act is a doing again: what stands is the first act
        act = original = act_row(connection, original.reverses)
    again = act is not original
    done = "done again" if again else "taken back"
    if original.kind in NOT_TAKEN_BACK:
        raise UserError(f"“{original.said}” cannot be taken back: the program did it by itself.")
    if act.reversed_by is not None:
        raise UserError(f"“{original.said}” has been {done} already.")
    effects = select(table_of(Effect)).where(EFFECT.act_id == act.id).order_by(EFFECT.seq.desc())
    ended_by = original.id if again else journal.act_id
    try:
        for effect in connection.execute(effects).mappings().all():
            if not journal.reverse(effect, ended_by=ended_by):
                raise _refusal(connection, original, done, effect["table_name"], [effect["row_id"]])
    except IntegrityError as error:
        raise _refusal(connection, original, done) from error
    _leave_nothing_hanging(journal, original, done)
    _mark_reversed(connection, act.id, journal.act_id)
    connection.execute(update(Act).where(ACT.id == journal.act_id).values(reverses=act.id))
    if again:
        _mark_reversed(connection, original.id, None)
    journal.said = f"{done.capitalize()}: {original.said}"
    return journal.said


def _mark_reversed(connection: Connection, act_id: int, by: int | None) -> None:
    connection.execute(update(Act).where(ACT.id == act_id).values(reversed_by=by))


def _leave_nothing_hanging(journal: Journal, original: ActRow, done: str) -> None:
    """Refuse to end a row that a later act has changed, or that a row which still holds refers to."""
    for name, row_ids in journal.ended().items():
        for start in range(0, len(row_ids), 5000):
            ids = row_ids[start : start + 5000]
            if _later_act(journal.connection, original, name, ids):
                raise _refusal(journal.connection, original, done, name, ids)
            for column in referring(name):
                core = column.table.c
                query = select(core.id).where(column.in_(ids), core.ended_by.is_(None)).limit(1)
                if held_by := journal.connection.execute(query).scalars().all():
                    raise _refusal(journal.connection, original, done, column.table.name, held_by)


def _later_act(connection: Connection, original: ActRow, table: str, ids: Sequence[int]) -> str | None:
    """What the newest act after ``original`` that still stands and touched one of these rows said."""
    touched = exists().where(EFFECT.act_id == ACT.id, EFFECT.table_name == table, EFFECT.row_id.in_(ids))
    standing = ACT.reverses.is_(None) & ACT.reversed_by.is_(None) & (ACT.id > original.id)
    query = select(ACT.said).where(standing, touched).order_by(ACT.id.desc()).limit(1)
    return connection.execute(query).scalar()


def _refusal(
    connection: Connection, original: ActRow, done: str, table: str = "", ids: Sequence[int] = ()
) -> UserError:
    start = f"“{original.said}” cannot be {done} now: "
    later = _later_act(connection, original, table, ids) if ids else None
    if later:
        return UserError(f"{start}“{later}” came later and rests on it. Take that back first.")
    what = f"a {table.replace('_', ' ')} was changed since" if table else "something took its place since"
    return UserError(f"{start}{what}. Take the later change back first.")
