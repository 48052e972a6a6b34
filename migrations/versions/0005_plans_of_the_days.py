"""Plans of the build days that may be taken, and how looking for a better one stands: for every process of the service.

Revision: 0005
Follows: 0004
"""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision: str = "0005"
down_revision: str | None = "0004"
branch_labels: str | Sequence[str] | None = None
depends_on: str | Sequence[str] | None = None


def upgrade() -> None:
    op.create_table(
        "offers",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_offers_build_builds")),
        sa.PrimaryKeyConstraint("build", "id", name=op.f("pk_offers")),
    )
    op.create_table(
        "searches",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("best", sa.String(), nullable=False),
        sa.Column("stands", sa.String(), nullable=False),
        sa.Column("found", sa.Integer(), nullable=False),
        sa.Column("seen_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_searches_build_builds")),
        sa.PrimaryKeyConstraint("build", name=op.f("pk_searches")),
    )


def downgrade() -> None:
    op.drop_table("searches")
    op.drop_table("offers")
