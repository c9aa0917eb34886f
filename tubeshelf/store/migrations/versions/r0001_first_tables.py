"""The first tables."""

from typing import Any

import sqlalchemy as sa
from alembic import op
from sqlalchemy.types import TypeEngine

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

Kind = type[TypeEngine[Any]]


def key() -> sa.Column[int]:
    """The integer key that a table's rows are known by."""
    return sa.Column("id", sa.Integer, primary_key=True, nullable=False)


def need(name: str, kind: Kind = sa.Text, *, primary_key: bool = False) -> sa.Column[object]:
    """A column that always has a value."""
    return sa.Column(name, kind(), nullable=False, primary_key=primary_key)


def may(name: str, kind: Kind = sa.Text) -> sa.Column[object]:
    """A column that may be empty."""
    return sa.Column(name, kind(), nullable=True)


def ref(name: str, table: str, *, primary_key: bool = False) -> sa.Column[int]:
    """A column that refers to a row of another table."""
    return sa.Column(name, sa.Integer, sa.ForeignKey(f"{table}.id"), nullable=False, primary_key=primary_key)


def may_ref(name: str, table: str) -> sa.Column[int]:
    """A column that may refer to a row of another table."""
    return sa.Column(name, sa.Integer, sa.ForeignKey(f"{table}.id"), nullable=True)


def begun() -> tuple[sa.Column[int], ...]:
    """The columns of a row that an act begins and may end."""
    return key(), ref("begun_by", "act"), may_ref("ended_by", "act")


def edited() -> tuple[sa.Column[object] | sa.Column[int], ...]:
    """The columns of a row that two benches may edit."""
    return *begun(), need("version", sa.Integer)


def create(table: str, *parts: sa.Column[object] | sa.Column[int] | sa.Constraint) -> None:
    """A table whose keys have the names that later migrations refer to."""
    columns = [part for part in parts if isinstance(part, sa.Column)]
    for column in columns:
        for foreign_key in column.foreign_keys:
            foreign_key.name = f"fk_{table}_{column.name}"
    primary = [column.name for column in columns if column.primary_key]
    op.create_table(table, *parts, sa.PrimaryKeyConstraint(*primary, name=f"pk_{table}"))


def unique_while(name: str, table: str, columns: list[str], condition: str) -> None:
    """A rule that at most one row has these values while the condition holds."""
    where = sa.text(condition)
    op.create_index(name, table, columns, unique=True, sqlite_where=where, postgresql_where=where)


def upgrade() -> None:
    """Create all tables of an empty record."""
    create(
        "act",
        key(),
        need("at", sa.BigInteger),
        need("bench"),
        need("kind"),
        need("said"),
        may_ref("reverses", "act"),
        may_ref("reversed_by", "act"),
    )
    create(
        "counter",
        need("name", primary_key=True),
        need("value", sa.Integer),
    )
    create(
        "setting",
        need("key", primary_key=True),
        need("value"),
    )
    create(
        "type",
        key(),
        need("key"),
        need("designation"),
        sa.UniqueConstraint("key", name="uq_type_key"),
    )
    create(
        "customer",
        *edited(),
        need("name"),
        need("contact"),
        need("note"),
        need("search_key"),
    )
    op.create_index("ix_customer_search_key", "customer", ["search_key"])
    create(
        "effect",
        ref("act_id", "act", primary_key=True),
        need("seq", sa.Integer, primary_key=True),
        need("table_name"),
        need("row_id", sa.Integer),
        may("before"),
        may("after"),
    )
    create(
        "model",
        *edited(),
        need("maker"),
        need("name"),
        need("note"),
        may("line_v", sa.Double),
        need("search_key"),
    )
    op.create_index("ix_model_search_key", "model", ["search_key"])
    create(
        "par",
        *begun(),
        ref("type_id", "type"),
        need("quantity", sa.Integer),
    )
    unique_while("uq_par_live", "par", ["type_id"], "ended_by IS NULL")
    create(
        "shipped_fact",
        ref("type_id", "type", primary_key=True),
        need("facts"),
        need("table_version"),
    )
    create(
        "shop_fact",
        *begun(),
        ref("type_id", "type"),
        need("field"),
        need("value"),
    )
    unique_while("uq_shop_fact_live", "shop_fact", ["type_id", "field"], "ended_by IS NULL")
    create(
        "shop_substitute",
        *begun(),
        ref("intended_id", "type"),
        ref("found_id", "type"),
        need("grade", sa.Integer),
        need("conditions"),
        need("note"),
    )
    create(
        "tester",
        *edited(),
        need("name"),
        need("method"),
        need("unit"),
        may("full_scale", sa.Double),
        need("words"),
        may("relative", sa.Double),
        may("absolute", sa.Double),
        may("default_good_from", sa.Double),
        may("default_reject_below", sa.Double),
        may("default_good_share", sa.Double),
        may("default_reject_share", sa.Double),
        need("field_names"),
        may("checked_on", sa.Date),
        need("note"),
        need("retired", sa.Boolean),
    )
    create(
        "equipment",
        *edited(),
        ref("model_id", "model"),
        ref("customer_id", "customer"),
        need("serial"),
        need("note"),
        need("search_key"),
    )
    op.create_index("ix_equipment_customer_id", "equipment", ["customer_id"])
    op.create_index("ix_equipment_search_key", "equipment", ["search_key"])
    create(
        "heater_circuit",
        *edited(),
        ref("model_id", "model"),
        need("name"),
        need("circuit"),
        may("volts", sa.Double),
        may("rated_a", sa.Double),
        may("drop_ohm", sa.Double),
        may("lamp_a", sa.Double),
    )
    op.create_index("ix_heater_circuit_model_id", "heater_circuit", ["model_id"])
    create(
        "item",
        *edited(),
        may("tag", sa.Integer),
        need("lot", sa.Boolean),
        may_ref("type_id", "type"),
        need("marked"),
        need("believed_because"),
        need("brand"),
        need("date_code"),
        need("construction"),
        need("condition"),
        need("boxed", sa.Boolean),
        need("premium", sa.Boolean),
        need("source"),
        may("cost", sa.Integer),
        may("price", sa.Integer),
        may("matched_set", sa.Integer),
        may_ref("customer_id", "customer"),
        need("note"),
        need("place"),
        need("place_ref"),
        need("quantity", sa.Integer),
        need("search_key"),
        sa.UniqueConstraint("tag", name="uq_item_tag"),
        sa.CheckConstraint("quantity >= 0", name="ck_item_quantity"),
        sa.CheckConstraint("lot OR quantity <= 1", name="ck_item_one_tube"),
    )
    op.create_index("ix_item_place", "item", ["place", "type_id"])
    op.create_index("ix_item_search_key", "item", ["search_key"])
    create(
        "setting_line",
        *edited(),
        ref("type_id", "type"),
        ref("tester_id", "tester"),
        need("position", sa.Integer),
        need("label"),
        need("section"),
        need("quantity"),
        need("fields"),
        need("retired", sa.Boolean),
    )
    op.create_index("ix_setting_line_of", "setting_line", ["type_id", "tester_id"])
    create(
        "job",
        *edited(),
        need("number", sa.Integer),
        ref("customer_id", "customer"),
        may_ref("equipment_id", "equipment"),
        may_ref("tester_id", "tester"),
        need("title"),
        need("complaint"),
        need("scope"),
        need("intake"),
        need("status"),
        need("received_on", sa.Date),
        may("promised_on", sa.Date),
        may("closed_on", sa.Date),
        need("labour", sa.Integer),
        may_ref("comeback_of", "job"),
        need("comeback_note"),
        need("search_key"),
        sa.UniqueConstraint("number", name="uq_job_number"),
    )
    op.create_index("ix_job_customer_id", "job", ["customer_id"])
    op.create_index("ix_job_equipment_id", "job", ["equipment_id"])
    op.create_index("ix_job_search_key", "job", ["search_key"])
    op.create_index("ix_job_status", "job", ["status"])
    create(
        "limit_value",
        *begun(),
        ref("setting_line_id", "setting_line"),
        may("bogey", sa.Double),
        may("good_from", sa.Double),
        may("reject_below", sa.Double),
        may("above", sa.Double),
        need("source"),
        may("dated", sa.Date),
    )
    unique_while("uq_limit_live", "limit_value", ["setting_line_id"], "ended_by IS NULL")
    create(
        "model_socket",
        *edited(),
        ref("model_id", "model"),
        need("position"),
        need("seq", sa.Integer),
        need("role"),
        need("match_group"),
        ref("designed_type_id", "type"),
        may_ref("heater_circuit_id", "heater_circuit"),
    )
    op.create_index("ix_model_socket_model_id", "model_socket", ["model_id"])
    create(
        "movement",
        *begun(),
        ref("item_id", "item"),
        need("quantity", sa.Integer),
        need("from_place"),
        need("from_ref"),
        need("to_place"),
        need("to_ref"),
        need("reason"),
        sa.CheckConstraint("quantity > 0", name="ck_movement_quantity"),
    )
    op.create_index("ix_movement_item_id", "movement", ["item_id"])
    create(
        "unit_socket",
        *edited(),
        ref("equipment_id", "equipment"),
        may_ref("modified_type_id", "type"),
        need("modified_note"),
        need("position"),
        need("seq", sa.Integer),
        need("role"),
        need("match_group"),
        ref("designed_type_id", "type"),
        may_ref("heater_circuit_id", "heater_circuit"),
    )
    op.create_index("ix_unit_socket_equipment_id", "unit_socket", ["equipment_id"])
    create(
        "approval",
        *begun(),
        ref("job_id", "job"),
        need("who"),
        need("on", sa.Date),
        need("how"),
        may("ceiling", sa.Integer),
        need("note"),
    )
    op.create_index("ix_approval_job_id", "approval", ["job_id"])
    create(
        "job_socket",
        *edited(),
        ref("job_id", "job"),
        may_ref("unit_socket_id", "unit_socket"),
        may_ref("modified_type_id", "type"),
        need("action"),
        need("action_note"),
        need("disposition"),
        may_ref("fitted_item_id", "item"),
        need("position"),
        need("seq", sa.Integer),
        need("role"),
        need("match_group"),
        ref("designed_type_id", "type"),
        may_ref("heater_circuit_id", "heater_circuit"),
    )
    op.create_index("ix_job_socket_job_id", "job_socket", ["job_id"])
    op.create_index("ix_job_socket_unit_socket_id", "job_socket", ["unit_socket_id"])
    create(
        "answer",
        *begun(),
        ref("job_socket_id", "job_socket"),
        need("answer"),
    )
    unique_while("uq_answer_live", "answer", ["job_socket_id"], "ended_by IS NULL")
    create(
        "fit",
        *begun(),
        ref("job_socket_id", "job_socket"),
        need("outcome"),
        need("reasons"),
        need("conditions"),
    )
    unique_while("uq_fit_live", "fit", ["job_socket_id"], "ended_by IS NULL")
    create(
        "found",
        *begun(),
        ref("job_socket_id", "job_socket"),
        need("state"),
        need("marked"),
        may_ref("type_id", "type"),
        need("reason"),
        may_ref("item_id", "item"),
    )
    unique_while("uq_found_live", "found", ["job_socket_id"], "ended_by IS NULL")
    create(
        "judgement",
        *begun(),
        ref("item_id", "item"),
        may_ref("job_socket_id", "job_socket"),
        need("place", sa.Integer),
        ref("setting_line_id", "setting_line"),
        need("stage"),
        need("reading_ids"),
        need("mean", sa.Double),
        need("n", sa.Integer),
        may("u", sa.Double),
        need("zone"),
        may("sure", sa.Boolean),
        may("probability", sa.Double),
        need("above", sa.Boolean),
        may("bogey", sa.Double),
        may("good_from", sa.Double),
        may("reject_below", sa.Double),
        may("above_limit", sa.Double),
        need("unit"),
        need("source"),
        may("dated", sa.Date),
        need("derived", sa.Boolean),
    )
    op.create_index("ix_judgement_socket", "judgement", ["job_socket_id"])
    unique_while(
        "uq_judgement_live", "judgement", ["item_id", "setting_line_id", "stage", "place"], "ended_by IS NULL"
    )
    create(
        "observation",
        *begun(),
        ref("item_id", "item"),
        may_ref("job_socket_id", "job_socket"),
        need("stage"),
        need("mark"),
        may("value", sa.Double),
        need("unit"),
        need("pins"),
        need("is_fault", sa.Boolean),
    )
    op.create_index("ix_observation_item", "observation", ["item_id"])
    op.create_index("ix_observation_socket", "observation", ["job_socket_id"])
    create(
        "promise",
        *begun(),
        ref("item_id", "item"),
        need("tube", sa.Boolean),
        need("quantity", sa.Integer),
        ref("job_id", "job"),
        may_ref("job_socket_id", "job_socket"),
    )
    op.create_index("ix_promise_job_id", "promise", ["job_id"])
    unique_while("uq_promise_live", "promise", ["item_id"], "ended_by IS NULL AND tube")
    create(
        "reading",
        *begun(),
        ref("item_id", "item"),
        may_ref("job_socket_id", "job_socket"),
        ref("setting_line_id", "setting_line"),
        ref("tester_id", "tester"),
        need("stage"),
        need("value", sa.Double),
        need("unit"),
        need("settings"),
        may("line_v", sa.Double),
        need("confirmed"),
    )
    op.create_index("ix_reading_item", "reading", ["item_id", "setting_line_id"])
    op.create_index("ix_reading_socket", "reading", ["job_socket_id"])
