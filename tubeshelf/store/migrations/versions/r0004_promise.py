"""What was promised when a job was closed: the shop's words and for how many days."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; what was promised for the jobs that are there nobody wrote down."""
    op.add_column("job", sa.Column("warranty", sa.Text(), nullable=True))
    op.add_column("job", sa.Column("warranty_days", sa.Integer(), nullable=True))
