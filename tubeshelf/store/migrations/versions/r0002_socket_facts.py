"""Facts of sockets, and the lamp and ballast of a heater circuit."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

SOCKETS = ("model_socket", "unit_socket", "job_socket")


def text(table: str, name: str) -> None:
    """Add a column of text; the rows that are there have nothing written down."""
    op.add_column(table, sa.Column(name, sa.Text(), nullable=False, server_default=""))


def number(table: str, *names: str) -> None:
    """Add columns of numbers; those of the rows that are there are not known."""
    for name in names:
        op.add_column(table, sa.Column(name, sa.Double(), nullable=True))


def upgrade() -> None:
    """Add the columns."""
    for table in SOCKETS:
        for name in ("heater_pins", "bias", "ties"):
            text(table, name)
        number(table, "plate_v", "screen_v", "bias_v", "capacitor_v")
    text("heater_circuit", "lamp_at")
    number("heater_circuit", "lamp_v", "lamp_tap_ohm", "ballast_a", "ballast_low_v", "ballast_high_v")
    # Until now the lamps of a circuit could only be on a winding.
    op.execute(
        "UPDATE heater_circuit SET lamp_at = 'winding' WHERE lamp_a IS NOT NULL AND circuit = 'parallel'"
    )
