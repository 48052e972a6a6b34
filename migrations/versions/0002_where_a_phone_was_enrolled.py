"""Where a phone was enrolled: a browser keeps what it holds by scheme, name and port.

Revision: 0002
Follows: 0001
"""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision: str = "0002"
down_revision: str | None = "0001"
branch_labels: str | Sequence[str] | None = None
depends_on: str | Sequence[str] | None = None


def upgrade() -> None:
    op.add_column("devices", sa.Column("origin", sa.String(), nullable=True))


def downgrade() -> None:
    op.drop_column("devices", "origin")
