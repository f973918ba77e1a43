"""The book as it first stood."""

import sqlalchemy as sa
from alembic import op

from coatbook.store import types

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "act",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("actor", sa.Text(), nullable=False),
        sa.Column("command", sa.Text(), nullable=False),
        sa.Column("asked", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("instant", types.Instant(), nullable=False),
        sa.Column("key", sa.Text(), nullable=True),
        sa.Column("told", sa.Text(), nullable=False),
        sa.Column("rows", sa.Text(), nullable=False),
        sa.Column("head", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_act")),
        sa.UniqueConstraint("key", name=op.f("uq_act_key")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("act", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_act_on_day"), ["on_day"], unique=False)

    op.create_table(
        "airframe",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("year", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_airframe")),
        sa.UniqueConstraint("code", name=op.f("uq_airframe_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "book",
        sa.Column("uuid", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_book_one_row")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_book")),
        sqlite_strict=True,
    )
    op.create_table(
        "business",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("email", sa.Text(), nullable=True),
        sa.Column("phone", sa.Text(), nullable=True),
        sa.Column("tax_number", sa.Text(), nullable=True),
        sa.Column("locale", sa.Text(), nullable=False),
        sa.Column("paper", sa.Text(), nullable=False),
        sa.Column("color", sa.Text(), nullable=True),
        sa.Column("pay_how", sa.Text(), nullable=True),
        sa.Column("net_days", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_business")),
        sqlite_strict=True,
    )
    op.create_table(
        "customer",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("email", sa.Text(), nullable=True),
        sa.Column("phone", sa.Text(), nullable=True),
        sa.Column("locale", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_customer")),
        sa.UniqueConstraint("code", name=op.f("uq_customer_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "material",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("facts", sa.Text(), nullable=False),
        sa.Column("evidence", sa.Text(), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_material")),
        sa.UniqueConstraint("code", name=op.f("uq_material_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "series",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("pattern", sa.Text(), nullable=False),
        sa.Column("first", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_series")),
        sa.UniqueConstraint("code", name=op.f("uq_series_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "service",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("abrasive", types.Flag(), nullable=False),
        sa.Column("tax_kind", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_service")),
        sa.UniqueConstraint("code", name=op.f("uq_service_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "site",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("airport", sa.Text(), nullable=True),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site")),
        sa.UniqueConstraint("code", name=op.f("uq_site_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "worker",
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_worker")),
        sa.UniqueConstraint("code", name=op.f("uq_worker_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "closing",
        sa.Column("month", sa.Text(), nullable=False),
        sa.Column("journal", sa.LargeBinary(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_closing_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_closing_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_closing")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("closing", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_closing_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_closing_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "job",
        sa.Column("number", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("site", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("asked_for", sa.Text(), nullable=False),
        sa.Column("opened", types.Day(), nullable=False),
        sa.Column("rework_of", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("cause", sa.Text(), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_job_airframe")),
        sa.ForeignKeyConstraint(["rework_of"], ["job.id"], name=op.f("fk_job_rework_of")),
        sa.ForeignKeyConstraint(["site"], ["site.id"], name=op.f("fk_job_site")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job")),
        sa.UniqueConstraint("number", name=op.f("uq_job_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_airframe"), ["airframe"], unique=False)

    op.create_table(
        "marking",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("mark_key", sa.Text(), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_marking_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_marking_airframe")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_marking_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_marking")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("marking", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_marking_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_marking_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_marking_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "message",
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("to_address", sa.Text(), nullable=False),
        sa.Column("message_id", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("bytes", sa.LargeBinary(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_message_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_message_customer")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_message")),
        sa.UniqueConstraint("message_id", name=op.f("uq_message_message_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("message", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_message_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_message_customer"), ["customer"], unique=False)

    op.create_table(
        "overhead_rate",
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_overhead_rate_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_overhead_rate_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_overhead_rate")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("overhead_rate", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_overhead_rate_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_overhead_rate_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "ownership",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_ownership_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_ownership_airframe")),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_ownership_customer")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_ownership_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ownership")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("ownership", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_ownership_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_ownership_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_ownership_customer"), ["customer"], unique=False)
        batch_op.create_index(batch_op.f("ix_ownership_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "payment",
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_payment_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_payment_customer")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_payment_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payment")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payment_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_payment_customer"), ["customer"], unique=False)
        batch_op.create_index(batch_op.f("ix_payment_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "price",
        sa.Column("service", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("basis", sa.Text(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_price_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["service"], ["service.id"], name=op.f("fk_price_service")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_price_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_price")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("price", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_price_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_price_service"), ["service"], unique=False)
        batch_op.create_index(batch_op.f("ix_price_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "purchase",
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_purchase_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_purchase_material")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_purchase_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_purchase")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("purchase", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_purchase_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_purchase_material"), ["material"], unique=False)
        batch_op.create_index(batch_op.f("ix_purchase_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "revision",
        sa.Column("of_table", sa.Text(), nullable=False),
        sa.Column("of_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_revision_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_revision")),
        sa.UniqueConstraint("of_table", "of_id", "n", name=op.f("uq_revision_of_table_of_id_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("revision", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_revision_act"), ["act"], unique=False)

    op.create_table(
        "surface",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("area", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("area_unit", sa.Text(), nullable=False),
        sa.Column("substrate", sa.Text(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("layers_known", types.Flag(), nullable=False),
        sa.Column("balanced", sa.Text(), nullable=False),
        sa.Column("primer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("primer_unit", sa.Text(), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_surface_airframe")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_surface")),
        sa.UniqueConstraint("airframe", "name", name=op.f("uq_surface_airframe_name")),
        sqlite_strict=True,
    )
    op.create_table(
        "tax_rate",
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("millionths", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_tax_rate_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_tax_rate_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tax_rate")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("tax_rate", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_tax_rate_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_tax_rate_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "terms",
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("every", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("per", sa.Text(), nullable=False),
        sa.Column("opens_before", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("grace", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("miss", sa.Text(), nullable=False),
        sa.Column("first_after", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_terms_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_terms_material")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_terms_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_terms")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("terms", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_terms_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_terms_material"), ["material"], unique=False)
        batch_op.create_index(batch_op.f("ix_terms_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "upkeep_done",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("by_whom", sa.Text(), nullable=False),
        sa.Column("evidence", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_upkeep_done_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_upkeep_done_airframe")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_upkeep_done_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_upkeep_done")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("upkeep_done", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_upkeep_done_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_upkeep_done_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_upkeep_done_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "worker_rate",
        sa.Column("worker", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_worker_rate_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_worker_rate_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["worker"], ["worker.id"], name=op.f("fk_worker_rate_worker")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_worker_rate")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("worker_rate", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_worker_rate_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_worker_rate_struck_act"), ["struck_act"], unique=False)
        batch_op.create_index(batch_op.f("ix_worker_rate_worker"), ["worker"], unique=False)

    op.create_table(
        "attempt",
        sa.Column("message", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("carrier", sa.Text(), nullable=False),
        sa.Column("began", types.Instant(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_attempt_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["message"], ["message.id"], name=op.f("fk_attempt_message")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attempt")),
        sa.UniqueConstraint("message", "n", name=op.f("uq_attempt_message_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("attempt", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_attempt_act"), ["act"], unique=False)

    op.create_table(
        "authority",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("gate", sa.Text(), nullable=False),
        sa.Column("of", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("certificate", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("seen", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_authority_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_authority_job")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_authority_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_authority")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("authority", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_authority_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_authority_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_authority_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "document",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("series", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("dated", types.Day(), nullable=False),
        sa.Column("due", types.Day(), nullable=False),
        sa.Column("net", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("gross", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_document_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_document_customer")),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_document_job")),
        sa.ForeignKeyConstraint(["series"], ["series.id"], name=op.f("fk_document_series")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document")),
        sa.UniqueConstraint("number", name=op.f("uq_document_number")),
        sa.UniqueConstraint("series", "n", name=op.f("uq_document_series_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("document", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_document_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_document_customer"), ["customer"], unique=False)
        batch_op.create_index(batch_op.f("ix_document_job"), ["job"], unique=False)

    op.create_table(
        "job_event",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_job_event_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_job_event_job")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_job_event_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_event")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job_event", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_event_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_job_event_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_job_event_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "lot",
        sa.Column("purchase", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("expires", types.Day(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_lot_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_lot_material")),
        sa.ForeignKeyConstraint(["purchase"], ["purchase.id"], name=op.f("fk_lot_purchase")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_lot_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("lot", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lot_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_lot_material"), ["material"], unique=False)
        batch_op.create_index(batch_op.f("ix_lot_purchase"), ["purchase"], unique=False)
        batch_op.create_index(batch_op.f("ix_lot_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "notice",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("lead", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("message", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("opens", types.Day(), nullable=False),
        sa.Column("due", types.Day(), nullable=False),
        sa.Column("closes", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_notice_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_notice_airframe")),
        sa.ForeignKeyConstraint(["message"], ["message.id"], name=op.f("fk_notice_message")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_notice")),
        sa.UniqueConstraint("kind", "subject", "n", "lead", name=op.f("uq_notice_kind_subject_n_lead")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("notice", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_notice_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_notice_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_notice_message"), ["message"], unique=False)

    op.create_table(
        "party",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_party_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_party_customer")),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_party_job")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_party_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("party", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_party_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_party_customer"), ["customer"], unique=False)
        batch_op.create_index(batch_op.f("ix_party_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_party_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "result",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("calculator", sa.Text(), nullable=False),
        sa.Column("version", sa.Text(), nullable=False),
        sa.Column("inputs", sa.Text(), nullable=False),
        sa.Column("result", sa.Text(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_result_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_result_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_result")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("result", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_result_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_result_job"), ["job"], unique=False)

    op.create_table(
        "step",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("key", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("service", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("surface", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("passes", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("removal", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("removal_unit", sa.Text(), nullable=True),
        sa.Column("hours", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_step_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_step_job")),
        sa.ForeignKeyConstraint(["service"], ["service.id"], name=op.f("fk_step_service")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_step_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["surface"], ["surface.id"], name=op.f("fk_step_surface")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_step")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("step", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_step_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_step_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_step_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "document_file",
        sa.Column("document", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("media", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("drawn_by", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("bytes", sa.LargeBinary(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_document_file_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["document"], ["document.id"], name=op.f("fk_document_file_document")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document_file")),
        sa.UniqueConstraint("document", "media", name=op.f("uq_document_file_document_media")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("document_file", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_document_file_act"), ["act"], unique=False)

    op.create_table(
        "document_line",
        sa.Column("document", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("service", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("price", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("price_quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("price_unit", sa.Text(), nullable=False),
        sa.Column("net", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_kind", sa.Text(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_document_line_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["document"], ["document.id"], name=op.f("fk_document_line_document")),
        sa.ForeignKeyConstraint(["service"], ["service.id"], name=op.f("fk_document_line_service")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document_line")),
        sa.UniqueConstraint("document", "n", name=op.f("uq_document_line_document_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("document_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_document_line_act"), ["act"], unique=False)

    op.create_table(
        "document_tax",
        sa.Column("document", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("millionths", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("base", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("amount", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_document_tax_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["document"], ["document.id"], name=op.f("fk_document_tax_document")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document_tax")),
        sa.UniqueConstraint("document", "n", name=op.f("uq_document_tax_document_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("document_tax", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_document_tax_act"), ["act"], unique=False)

    op.create_table(
        "entry",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("step", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("surface", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("worker", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("worker_kind", sa.Text(), nullable=True),
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("rate", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("overhead", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("text", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_entry_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_entry_job")),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_entry_material")),
        sa.ForeignKeyConstraint(["step"], ["step.id"], name=op.f("fk_entry_step")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_entry_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["surface"], ["surface.id"], name=op.f("fk_entry_surface")),
        sa.ForeignKeyConstraint(["worker"], ["worker.id"], name=op.f("fk_entry_worker")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_entry")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("entry", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_entry_act"), ["act"], unique=False)
        batch_op.create_index("ix_entry_job_costs", ["job", "kind", "on_day", "struck_on", "minor"], unique=False)
        batch_op.create_index(batch_op.f("ix_entry_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "outcome",
        sa.Column("attempt", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_outcome_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["attempt"], ["attempt.id"], name=op.f("fk_outcome_attempt")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outcome")),
        sa.UniqueConstraint("attempt", name=op.f("uq_outcome_attempt")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("outcome", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_outcome_act"), ["act"], unique=False)

    op.create_table(
        "settles",
        sa.Column("payment", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("document", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_settles_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["document"], ["document.id"], name=op.f("fk_settles_document")),
        sa.ForeignKeyConstraint(["payment"], ["payment.id"], name=op.f("fk_settles_payment")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_settles_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_settles")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("settles", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_settles_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_settles_document"), ["document"], unique=False)
        batch_op.create_index(batch_op.f("ix_settles_payment"), ["payment"], unique=False)
        batch_op.create_index(batch_op.f("ix_settles_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "step_material",
        sa.Column("step", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_step_material_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_step_material_material")),
        sa.ForeignKeyConstraint(["step"], ["step.id"], name=op.f("fk_step_material_step")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_step_material_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_step_material")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("step_material", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_step_material_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_step_material_step"), ["step"], unique=False)
        batch_op.create_index(batch_op.f("ix_step_material_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "coat",
        sa.Column("entry", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("layer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_coat_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["entry"], ["entry.id"], name=op.f("fk_coat_entry")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_coat_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_coat")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("coat", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_coat_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_coat_entry"), ["entry"], unique=False)
        batch_op.create_index(batch_op.f("ix_coat_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "drawn",
        sa.Column("entry", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("lot", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_drawn_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["entry"], ["entry.id"], name=op.f("fk_drawn_entry")),
        sa.ForeignKeyConstraint(["lot"], ["lot.id"], name=op.f("fk_drawn_lot")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_drawn_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_drawn")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("drawn", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_drawn_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_drawn_entry"), ["entry"], unique=False)
        batch_op.create_index(batch_op.f("ix_drawn_lot"), ["lot"], unique=False)
        batch_op.create_index(batch_op.f("ix_drawn_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "reading",
        sa.Column("entry", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("spot", sa.Text(), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("gauge", sa.Text(), nullable=True),
        sa.Column("serial", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_reading_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["entry"], ["entry.id"], name=op.f("fk_reading_entry")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_reading_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_reading_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_reading_entry"), ["entry"], unique=False)
        batch_op.create_index(batch_op.f("ix_reading_struck_act"), ["struck_act"], unique=False)
