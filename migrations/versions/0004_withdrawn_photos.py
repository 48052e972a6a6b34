"""Withdrawn photos are remembered by a keyed digest, so that their bytes are not taken again (R1).

Revision: 0004
Follows: 0003
"""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision: str = "0004"
down_revision: str | None = "0003"
branch_labels: str | Sequence[str] | None = None
depends_on: str | Sequence[str] | None = None


def upgrade() -> None:
    op.create_table(
        "gone_photos",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("mark", sa.String(), nullable=False),
        sa.Column("withdrawn_at", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_gone_photos_build_builds")),
        sa.PrimaryKeyConstraint("build", "mark", name=op.f("pk_gone_photos")),
    )


def downgrade() -> None:
    op.drop_table("gone_photos")
