"""The hours each member gives for a build, and the calendar addresses. Free words about hours go: nothing read them.

Revision: 0003
Follows: 0002
"""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision: str = "0003"
down_revision: str | None = "0002"
branch_labels: str | Sequence[str] | None = None
depends_on: str | Sequence[str] | None = None


def upgrade() -> None:
    op.create_table(
        "hours",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("person", sa.String(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("by", sa.String(), nullable=False),
        sa.Column("at_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_hours_build_builds")),
        sa.ForeignKeyConstraint(["by"], ["people.id"], name=op.f("fk_hours_by_people")),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_hours_person_people")),
        sa.PrimaryKeyConstraint("build", "person", name=op.f("pk_hours")),
    )
    op.create_table(
        "feeds",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("whose", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("is_open", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_feeds_build_builds")),
        sa.PrimaryKeyConstraint("build", "whose", name=op.f("pk_feeds")),
    )
    op.drop_column("people", "hours")


def downgrade() -> None:
    op.add_column("people", sa.Column("hours", sa.Text(), nullable=True))
    op.drop_table("feeds")
    op.drop_table("hours")
