"""Places on the chassis, unused sections, values measured in the set, answers, comebacks."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

SOCKETS = ("model_socket", "unit_socket", "job_socket")


def upgrade() -> None:
    """Add the columns, then the tables."""
    for table in SOCKETS:
        text(table, "unused_sections")
    numbers("model_socket", "map_x", "map_y")
    numbers("tester", "leakage_least", "gas_most")
    text("tester", "gas_unit")
    text("answer", "how")
    op.add_column("answer", sa.Column("on", sa.Date(), nullable=True))
    create_facts_of_the_set()
    create_answers_of_the_job()


def text(table: str, name: str) -> None:
    """Add a column of text; the rows that are there have nothing written down."""
    op.add_column(table, sa.Column(name, sa.Text(), nullable=False, server_default=""))


def numbers(table: str, *names: str) -> None:
    """Add columns of numbers; those of the rows that are there are not known."""
    for name in names:
        op.add_column(table, sa.Column(name, sa.Double(), nullable=True))


def create_facts_of_the_set() -> None:
    """What a model is measured for, and what was measured."""
    create(
        "set_field",
        sa.Column("version", sa.Integer(), nullable=False),
        reference("model_id", "model"),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Text(), nullable=False),
        sa.Column("per_socket", sa.Boolean(), nullable=False),
    )
    op.create_index("ix_set_field_model_id", "set_field", ["model_id"])
    create(
        "set_value",
        reference("job_id", "job"),
        reference("set_field_id", "set_field"),
        reference("job_socket_id", "job_socket", nullable=True),
        sa.Column("value", sa.Double(), nullable=False),
    )
    op.create_index("ix_set_value_job_id", "set_value", ["job_id"])


def create_answers_of_the_job() -> None:
    """What somebody said of a job: put aside on purpose, covered or not, the same tube or not."""
    create(
        "aside",
        reference("job_id", "job"),
        sa.Column("positions", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
    )
    one_at_a_time("aside", "job_id")
    create(
        "cover",
        reference("job_id", "job"),
        sa.Column("covered", sa.Boolean(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
    )
    one_at_a_time("cover", "job_id")
    create(
        "same_tube",
        reference("job_socket_id", "job_socket"),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
    )
    one_at_a_time("same_tube", "job_socket_id")


def create(table: str, *columns: sa.Column[object]) -> None:
    """A table whose rows acts begin and end."""
    op.create_table(
        table,
        sa.Column("id", sa.Integer(), nullable=False),
        reference("begun_by", "act"),
        reference("ended_by", "act", nullable=True),
        *columns,
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        *(
            sa.ForeignKeyConstraint([column.name], [column.info["to"]], name=f"fk_{table}_{column.name}")
            for column in (_BEGUN, _ENDED, *columns)
            if "to" in column.info
        ),
    )


def reference(name: str, table: str, *, nullable: bool = False) -> sa.Column[object]:
    """A column that refers to the id of a table; ``create`` adds the rule."""
    return sa.Column(name, sa.Integer(), nullable=nullable, info={"to": f"{table}.id"})


def one_at_a_time(table: str, column: str) -> None:
    """A rule that at most one live row has a value."""
    where = sa.text("ended_by IS NULL")
    op.create_index(
        f"uq_{table}_live", table, [column], unique=True, sqlite_where=where, postgresql_where=where
    )


_BEGUN, _ENDED = reference("begun_by", "act"), reference("ended_by", "act", nullable=True)
