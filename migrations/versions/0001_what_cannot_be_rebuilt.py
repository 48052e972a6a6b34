"""What can't be rebuilt: builds, ledger, receipts, people, devices, invites, payloads, photos, PIN tries.

Revision: 0001
Follows: none
"""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision: str = "0001"
down_revision: str | None = None
branch_labels: str | Sequence[str] | None = None
depends_on: str | Sequence[str] | None = None

# The database itself refuses to change or remove an entry (R1).
SQLITE_GUARDS = [
    f"CREATE TRIGGER ledger_no_{act.lower()} BEFORE {act} ON ledger "
    "BEGIN SELECT RAISE(ABORT, 'an entry of the ledger is never changed or removed'); END"
    for act in ("UPDATE", "DELETE")
]
POSTGRES_GUARDS = [
    "CREATE FUNCTION ledger_is_final() RETURNS trigger LANGUAGE plpgsql AS "
    "$$ BEGIN RAISE EXCEPTION 'an entry of the ledger is never changed or removed'; END $$",
    "CREATE TRIGGER ledger_no_change BEFORE UPDATE OR DELETE ON ledger "
    "FOR EACH ROW EXECUTE FUNCTION ledger_is_final()",
    "CREATE TRIGGER ledger_no_truncate BEFORE TRUNCATE ON ledger EXECUTE FUNCTION ledger_is_final()",
]


def upgrade() -> None:
    op.create_table(
        "builds",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("head", sa.Integer(), nullable=False),
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("rows_stamp", sa.String(), nullable=False),
        sa.Column("made_ms", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_builds")),
    )
    op.create_table(
        "people",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("icon", sa.String(), nullable=True),
        sa.Column("pin_hash", sa.String(), nullable=True),
        sa.Column("guideline_kg", sa.Integer(), nullable=True),
        sa.Column("limit_kg", sa.String(), nullable=True),
        sa.Column("hours", sa.Text(), nullable=True),
        sa.Column("private_at_ms", sa.BigInteger(), nullable=False),
        sa.Column("made_ms", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_people")),
    )
    op.create_table(
        "devices",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("person", sa.String(), nullable=False),
        sa.Column("secret_digest", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=True),
        sa.Column("shared", sa.Boolean(), nullable=False),
        sa.Column("shut_out_ms", sa.BigInteger(), nullable=True),
        sa.Column("last_seen_ms", sa.BigInteger(), nullable=False),
        sa.Column("session_person", sa.String(), nullable=True),
        sa.Column("session_until_ms", sa.BigInteger(), nullable=True),
        sa.Column("made_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_devices_person_people")),
        sa.ForeignKeyConstraint(
            ["session_person"], ["people.id"], name=op.f("fk_devices_session_person_people")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_devices")),
    )
    op.create_index(op.f("ix_devices_person"), "devices", ["person"], unique=False)
    op.create_table(
        "invites",
        sa.Column("code_digest", sa.String(), nullable=False),
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("invite", sa.String(), nullable=False),
        sa.Column("person", sa.String(), nullable=True),
        sa.Column("sets_pin", sa.Boolean(), nullable=False),
        sa.Column("until_ms", sa.BigInteger(), nullable=False),
        sa.Column("used_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_invites_build_builds")),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_invites_person_people")),
        sa.PrimaryKeyConstraint("code_digest", name=op.f("pk_invites")),
    )
    op.create_table(
        "ledger",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("prev", sa.String(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_ledger_build_builds")),
        sa.PrimaryKeyConstraint("build", "number", name=op.f("pk_ledger")),
    )
    op.create_table(
        "payloads",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("salt", sa.String(), nullable=True),
        sa.Column("body", sa.Text(), nullable=True),
        sa.Column("withdrawn_at", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_payloads_build_builds")),
        sa.PrimaryKeyConstraint("build", "id", name=op.f("pk_payloads")),
    )
    op.create_table(
        "photos",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("mime", sa.String(), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.Column("by", sa.String(), nullable=False),
        sa.Column("at_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_photos_build_builds")),
        sa.ForeignKeyConstraint(["by"], ["people.id"], name=op.f("fk_photos_by_people")),
        sa.PrimaryKeyConstraint("build", "sha256", name=op.f("pk_photos")),
    )
    op.create_table(
        "pin_tries",
        sa.Column("person", sa.String(), nullable=False),
        sa.Column("device", sa.String(), nullable=False),
        sa.Column("wrong", sa.Integer(), nullable=False),
        sa.Column("until_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["person"], ["people.id"], name=op.f("fk_pin_tries_person_people")),
        sa.PrimaryKeyConstraint("person", "device", name=op.f("pk_pin_tries")),
    )
    op.create_table(
        "receipts",
        sa.Column("build", sa.String(), nullable=False),
        sa.Column("device", sa.String(), nullable=False),
        sa.Column("command", sa.String(), nullable=False),
        sa.Column("body_digest", sa.String(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("at_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["build"], ["builds.id"], name=op.f("fk_receipts_build_builds")),
        sa.PrimaryKeyConstraint("build", "device", "command", name=op.f("pk_receipts")),
    )
    on_sqlite = op.get_bind().dialect.name == "sqlite"
    for guard in SQLITE_GUARDS if on_sqlite else POSTGRES_GUARDS:
        op.execute(guard)


def downgrade() -> None:
    on_sqlite = op.get_bind().dialect.name == "sqlite"
    for name in (
        "receipts",
        "pin_tries",
        "photos",
        "payloads",
        "ledger",
        "invites",
        "devices",
        "people",
        "builds",
    ):
        op.drop_table(name)
    if not on_sqlite:
        op.execute("DROP FUNCTION ledger_is_final()")
