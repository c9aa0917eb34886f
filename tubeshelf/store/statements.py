"""SQL of single rows, made once for a database and run at little more than the driver's own cost.

A reading is committed between two strokes of the Enter key. Compiled inserts took most of that time, so these
go to the driver ready-made; the names and the types of the values still come from the tables.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Column, Connection, Table, text
from sqlalchemy.engine import Dialect
from sqlalchemy.sql.schema import ScalarElementColumnDefault


@dataclass(frozen=True, slots=True)
class Places:
    """The places for values in a statement: of which column, and what makes a value fit for the driver."""

    names: tuple[str, ...]
    fitting: tuple[Callable[[object], object] | None, ...]
    defaults: Mapping[str, object]

    def filled(self, values: Mapping[str, object]) -> tuple[object, ...]:
        """The values in order, columns that were left out by their defaults."""
        given = {**self.defaults, **values}
        pairs = zip(self.names, self.fitting, strict=True)
        return tuple([given[name] if fit is None else fit(given[name]) for name, fit in pairs])


class Statements:
    """The statements of one database, each made when it is first needed."""

    def __init__(self, dialect: Dialect) -> None:
        self._dialect = dialect
        self._file = dialect.name == "sqlite"
        self._mark = "?" if self._file else "%s"
        self._inserts: dict[tuple[str, Iterable[str]], tuple[str, Places]] = {}
        self._updates: dict[tuple[str, Iterable[str]], tuple[str, Places]] = {}

    def insert(self, connection: Connection, table: Table, values: Mapping[str, object]) -> int:
        """Insert a row, and return its id; 0 of a table without ids."""
        sql, places = self._insert(table, values)
        if "id" not in table.c:
            connection.exec_driver_sql(sql, places.filled(values))
            return 0
        if self._file:
            return connection.exec_driver_sql(sql, places.filled(values)).lastrowid
        return int(connection.exec_driver_sql(f"{sql} RETURNING id", places.filled(values)).scalar_one())

    def insert_many(self, connection: Connection, table: Table, rows: Sequence[Mapping[str, object]]) -> None:
        """Insert rows that all have the same columns."""
        sql, places = self._insert(table, rows[0])
        connection.exec_driver_sql(sql, [places.filled(row) for row in rows])

    def new_ids(self, connection: Connection, table: Table, number: int) -> list[int]:
        """So many ids that no row has had; on a file, until the transaction ends, which alone may write."""
        if self._file:
            last = connection.exec_driver_sql(f"SELECT max(id) FROM {self._quoted(table.name)}").scalar() or 0
            return list(range(last + 1, last + 1 + number))
        query = text("SELECT nextval(pg_get_serial_sequence(:name, 'id')) FROM generate_series(1, :number)")
        names = {"name": self._quoted(table.name), "number": number}
        return [int(row_id) for row_id in connection.execute(query, names).scalars()]

    def update(self, connection: Connection, table: Table, row_id: int, values: Mapping[str, object]) -> None:
        """Set columns of one row, and raise its version if it has one."""
        sql, places = self._update(table, values)
        connection.exec_driver_sql(sql, (*places.filled(values), row_id))

    def end(self, connection: Connection, table: Table, row_id: int, act_id: int) -> bool:
        """End one row; False if there is none that has not ended."""
        sql, _ = self._update(table, ("ended_by",))
        ended = connection.exec_driver_sql(f"{sql} AND ended_by IS NULL", (act_id, row_id))
        return ended.rowcount == 1

    def _insert(self, table: Table, given: Iterable[str]) -> tuple[str, Places]:
        key = (table.name, tuple(given))
        if key not in self._inserts:
            defaults = {
                column.name: column.default.arg
                for column in table.c
                if isinstance(column.default, ScalarElementColumnDefault) and column.name not in given
            }
            columns = [table.c[name] for name in (*given, *defaults)]
            names = ", ".join(self._quoted(column.name) for column in columns)
            marks = ", ".join(self._mark for _ in columns)
            sql = f"INSERT INTO {self._quoted(table.name)} ({names}) VALUES ({marks})"
            self._inserts[key] = sql, self._places(columns, defaults)
        return self._inserts[key]

    def _update(self, table: Table, given: Iterable[str]) -> tuple[str, Places]:
        key = (table.name, tuple(given))
        if key not in self._updates:
            columns = [table.c[name] for name in given]
            parts = [f"{self._quoted(column.name)} = {self._mark}" for column in columns]
            if "version" in table.c:
                parts.append("version = version + 1")
            sql = f"UPDATE {self._quoted(table.name)} SET {', '.join(parts)} WHERE id = {self._mark}"
            self._updates[key] = sql, self._places(columns, {})
        return self._updates[key]

    def _places(self, columns: Sequence[Column[object]], defaults: Mapping[str, object]) -> Places:
        fitting = tuple(
            column.type.dialect_impl(self._dialect).bind_processor(self._dialect) for column in columns
        )
        return Places(tuple(column.name for column in columns), fitting, defaults)

    def _quoted(self, name: str) -> str:
        return self._dialect.identifier_preparer.quote(name)
