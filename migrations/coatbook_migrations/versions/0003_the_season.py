"""The season: papers, keep-off lists, conditions, consents, changes, lots as they change, rows brought in."""

import sqlalchemy as sa
from alembic import op

from coatbook.store import types

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "exemption",
        sa.Column("customer", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("certificate", sa.Text(), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("expires", types.Day(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_exemption_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["customer"], ["customer.id"], name=op.f("fk_exemption_customer")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_exemption_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_exemption")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("exemption", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_exemption_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_exemption_customer"), ["customer"], unique=False)
        batch_op.create_index(batch_op.f("ix_exemption_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "import_row",
        sa.Column("of_table", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_import_row_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_import_row")),
        sa.UniqueConstraint("of_table", "sha256", "n", name=op.f("uq_import_row_of_table_sha256_n")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("import_row", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_import_row_act"), ["act"], unique=False)

    op.create_table(
        "keepoff",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("item", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("count", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("rule", sa.Text(), nullable=False),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_keepoff_airframe")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_keepoff")),
        sa.UniqueConstraint("airframe", "item", "place", name=op.f("uq_keepoff_airframe_item_place")),
        sqlite_strict=True,
    )
    op.create_table(
        "paper",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("site", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("worker", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("issuer", sa.Text(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("expires", types.Day(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_paper_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["site"], ["site.id"], name=op.f("fk_paper_site")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_paper_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["worker"], ["worker.id"], name=op.f("fk_paper_worker")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_paper")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_paper_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "service_step",
        sa.Column("service", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("hours", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("area", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("area_unit", sa.Text(), nullable=True),
        sa.Column("passes", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("removal", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("removal_unit", sa.Text(), nullable=True),
        sa.Column("material", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["material"], ["material.id"], name=op.f("fk_service_step_material")),
        sa.ForeignKeyConstraint(["service"], ["service.id"], name=op.f("fk_service_step_service")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_service_step")),
        sa.UniqueConstraint("service", "name", name=op.f("uq_service_step_service_name")),
        sqlite_strict=True,
    )
    op.create_table(
        "times",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("clock", sa.Text(), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_times_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_times_airframe")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_times_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_times")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("times", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_times_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_times_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_times_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "withdrawn",
        sa.Column("airframe", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("from_on", types.Day(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_withdrawn_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["airframe"], ["airframe.id"], name=op.f("fk_withdrawn_airframe")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_withdrawn_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_withdrawn")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("withdrawn", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_withdrawn_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_withdrawn_airframe"), ["airframe"], unique=False)
        batch_op.create_index(batch_op.f("ix_withdrawn_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "change",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("n", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("service", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("hours", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["act"], ["act.id"], name=op.f("fk_change_act"), initially="DEFERRED", deferrable=True),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_change_job")),
        sa.ForeignKeyConstraint(["service"], ["service.id"], name=op.f("fk_change_service")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_change_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_change_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_change_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_change_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "condition",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("surface", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=True),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_condition_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_condition_job")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_condition_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["surface"], ["surface.id"], name=op.f("fk_condition_surface")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_condition")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("condition", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_condition_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_condition_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_condition_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "consent",
        sa.Column("job", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("surface", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("size", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("size_unit", sa.Text(), nullable=False),
        sa.Column("product", sa.Text(), nullable=False),
        sa.Column("risk", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_consent_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_consent_job")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_consent_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["surface"], ["surface.id"], name=op.f("fk_consent_surface")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consent")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("consent", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_consent_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_consent_job"), ["job"], unique=False)
        batch_op.create_index(batch_op.f("ix_consent_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "lot_change",
        sa.Column("lot", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("quanta", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("shop", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_lot_change_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["lot"], ["lot.id"], name=op.f("fk_lot_change_lot")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_lot_change_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot_change")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("lot_change", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_lot_change_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_lot_change_lot"), ["lot"], unique=False)
        batch_op.create_index(batch_op.f("ix_lot_change_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "attachment",
        sa.Column("entry", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("media", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("bytes", sa.LargeBinary(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_attachment_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["entry"], ["entry.id"], name=op.f("fk_attachment_entry")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_attachment_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attachment")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("attachment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_attachment_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_attachment_entry"), ["entry"], unique=False)
        batch_op.create_index(batch_op.f("ix_attachment_struck_act"), ["struck_act"], unique=False)

    op.create_table(
        "gauge_check",
        sa.Column("entry", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("gauge", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("stage", sa.Text(), nullable=False),
        sa.Column("zero", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("shim", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("shim_read", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("allowed", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("good", types.Flag(), nullable=False),
        sa.Column("on_day", types.Day(), nullable=False),
        sa.Column("act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("struck_on", types.Day(), nullable=True),
        sa.Column("struck_why", sa.Text(), nullable=True),
        sa.Column("struck_act", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["act"], ["act.id"], name=op.f("fk_gauge_check_act"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(["entry"], ["entry.id"], name=op.f("fk_gauge_check_entry")),
        sa.ForeignKeyConstraint(
            ["struck_act"], ["act.id"], name=op.f("fk_gauge_check_struck_act"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gauge_check")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("gauge_check", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_gauge_check_act"), ["act"], unique=False)
        batch_op.create_index(batch_op.f("ix_gauge_check_entry"), ["entry"], unique=False)
        batch_op.create_index(batch_op.f("ix_gauge_check_struck_act"), ["struck_act"], unique=False)

    # Plain ADD COLUMNs: rebuilding a table would drop its guards and, with foreign keys on, lose its children.
    op.add_column("airframe", sa.Column("designator", sa.Text(), nullable=True))
    op.add_column("airframe", sa.Column("certification", sa.Text(), nullable=True))
    op.add_column("airframe", sa.Column("burn_basis", sa.Text(), nullable=True))
    op.add_column("airframe", sa.Column("operated", sa.Text(), nullable=True))

    op.add_column("authority", sa.Column("kind", sa.Text(), nullable=True))

    op.add_column("entry", sa.Column("category", sa.Text(), nullable=True))
    op.add_column("entry", sa.Column("payee", sa.Text(), nullable=True))
    op.add_column("entry", sa.Column("paid_from", sa.Text(), nullable=True))
    op.add_column("entry", sa.Column("stage", sa.Text(), nullable=True))
    op.add_column("entry", sa.Column("time", sa.Text(), nullable=True))

    op.add_column("material", sa.Column("sds", sa.Text(), nullable=True))
    op.add_column("material", sa.Column("hazards", sa.Text(), nullable=True))
    op.add_column("material", sa.Column("burn_evidence", sa.Text(), nullable=True))

    op.add_column("party", sa.Column("up_to", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True))
    op.add_column("party", sa.Column("share", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True))
    op.add_column("party", sa.Column("minor", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True))

    op.add_column("payment", sa.Column("kind", sa.Text(), nullable=True))
    op.add_column(
        "payment",
        sa.Column(
            "job",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            sa.ForeignKey("job.id", name="fk_payment_job"),
            nullable=True,
        ),
        inline_references=True,
    )
    op.add_column(
        "payment",
        sa.Column(
            "of",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            sa.ForeignKey("payment.id", name="fk_payment_of"),
            nullable=True,
        ),
        inline_references=True,
    )
    op.add_column("payment", sa.Column("text", sa.Text(), nullable=True))
    op.add_column("payment", sa.Column("brought_in", types.Flag(), nullable=True))
    op.add_column("payment", sa.Column("taken_on", types.Day(), nullable=True))

    op.add_column("purchase", sa.Column("estimated", types.Flag(), nullable=True))
    op.add_column("purchase", sa.Column("tax_paid", types.Flag(), nullable=True))
    op.add_column(
        "purchase",
        sa.Column(
            "supplied_by",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            sa.ForeignKey("customer.id", name="fk_purchase_supplied_by"),
            nullable=True,
        ),
        inline_references=True,
    )
    op.add_column("purchase", sa.Column("brought_in", types.Flag(), nullable=True))

    op.add_column("reading", sa.Column("stage", sa.Text(), nullable=True))

    op.add_column("service", sa.Column("work", sa.Text(), nullable=True))

    op.add_column("site", sa.Column("landlord", sa.Text(), nullable=True))
    op.add_column("site", sa.Column("access", sa.Text(), nullable=True))
    op.add_column("site", sa.Column("power", sa.Text(), nullable=True))
    op.add_column("site", sa.Column("water", sa.Text(), nullable=True))

    op.add_column("step", sa.Column("name", sa.Text(), nullable=True))
    op.add_column(
        "step",
        sa.Column(
            "change",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            sa.ForeignKey("change.id", name="fk_step_change"),
            nullable=True,
        ),
        inline_references=True,
    )

    op.add_column("surface", sa.Column("painted", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True))
    op.add_column("surface", sa.Column("mesh", types.Flag(), nullable=True))

    op.add_column(
        "worker_rate", sa.Column("on_cost", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True)
    )
