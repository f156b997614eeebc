"""Cards with logs, their readings, files and faces, the settings; accounts, sign-ins and tokens."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make every table, and the triggers that let them only grow."""
    _logs()
    _reading()
    _face()
    _people()
    if op.get_bind().dialect.name == "sqlite":
        _guard_sqlite()
    else:
        _guard_postgres()


def _number(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.BigInteger(), autoincrement=False, nullable=nullable)


def _text(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=nullable)


def _moment(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def _index(table: str, *columns: str) -> None:
    op.create_index(f"ix_{table}_{'_'.join(columns)}", table, list(columns))


def _logs() -> None:
    op.create_table(
        "card",
        _number("number"),
        _text("kind"),
        _moment("opened"),
        sa.PrimaryKeyConstraint("number", name="pk_card"),
    )
    op.create_table(
        "line",
        *(_number("card"), _number("number"), _text("key"), _text("kind"), _text("by"), _moment("at")),
        *(_number("about", nullable=True), _text("reason"), sa.Column("fields", sa.JSON(), nullable=False)),
        sa.PrimaryKeyConstraint("card", "number", name="pk_line"),
        sa.UniqueConstraint("key", name="uq_line_key"),
        sa.ForeignKeyConstraint(["card"], ["card.number"], name="fk_line_card_card"),
        sa.ForeignKeyConstraint(
            ["card", "about"], ["line.card", "line.number"], name="fk_line_card_about_line"
        ),
    )
    _index("line", "card", "about", "number")
    op.create_table(
        "content",
        *(
            _number("card"),
            _number("number"),
            sa.Column("bytes", sa.LargeBinary(), nullable=False),
            _text("sha256"),
        ),
        sa.PrimaryKeyConstraint("card", "number", name="pk_content"),
        sa.ForeignKeyConstraint(
            ["card", "number"], ["line.card", "line.number"], name="fk_content_card_number_line"
        ),
    )
    op.create_table(
        "setting_line",
        *(_number("number"), _text("name"), _text("value"), _text("by"), _moment("at")),
        sa.PrimaryKeyConstraint("number", name="pk_setting_line"),
    )
    _index("setting_line", "name", "number")


def _typed(name: str) -> tuple[sa.Column[Any], ...]:
    return (
        _text(f"{name}_text", nullable=True),
        _text(f"{name}_unit", nullable=True),
        sa.Column(name, sa.Double()),
    )


def _reading() -> None:
    op.create_table(
        "reading",
        *(
            _number("card"),
            _number("number"),
            _number("taken_in", nullable=True),
            _number("specimen_card", nullable=True),
        ),
        *(_text("specimen"), _text("condition"), _text("contact"), _text("mating"), _text("polarity")),
        *(*_typed("voltage"), *_typed("current"), *_typed("resistance"), *_typed("temperature")),
        *(_text("time", nullable=True), _moment("read_at", nullable=True), _text("operator"), _text("note")),
        *(_number("step", nullable=True), sa.Column("others", sa.JSON(), nullable=False)),
        sa.PrimaryKeyConstraint("card", "number", name="pk_reading"),
        sa.ForeignKeyConstraint(
            ["card", "number"], ["line.card", "line.number"], name="fk_reading_card_number_line"
        ),
        sa.ForeignKeyConstraint(["specimen_card"], ["card.number"], name="fk_reading_specimen_card_card"),
    )
    _index("reading", "specimen_card")
    _index("reading", "card", "taken_in", "number")


def _face() -> None:
    op.create_table(
        "face",
        *(_number("card"), _text("kind"), _text("title"), _text("state"), _text("text"), _text("search")),
        *(sa.Column("due", sa.Date()), _text("due_for"), _moment("touched"), _number("lines")),
        sa.PrimaryKeyConstraint("card", name="pk_face"),
        sa.ForeignKeyConstraint(["card"], ["card.number"], name="fk_face_card_card"),
    )
    _index("face", "kind", "touched", "card")
    _index("face", "touched", "card")
    _index("face", "due", "card")


def _people() -> None:
    op.create_table(
        "account",
        *(
            _text("folded"),
            _text("name"),
            _text("hash"),
            _text("role"),
            sa.Column("disabled", sa.Boolean(), nullable=False),
        ),
        _moment("created"),
        sa.PrimaryKeyConstraint("folded", name="pk_account"),
    )
    op.create_table(
        "sign_in",
        *(
            _text("token_hash"),
            _text("account"),
            _moment("created"),
            _moment("last_seen"),
            _moment("expires"),
        ),
        sa.PrimaryKeyConstraint("token_hash", name="pk_sign_in"),
        sa.ForeignKeyConstraint(["account"], ["account.folded"], name="fk_sign_in_account_account"),
    )
    _index("sign_in", "account")
    op.create_table(
        "token",
        *(_text("hash"), _text("name"), _text("role"), _moment("created"), _moment("revoked", nullable=True)),
        sa.PrimaryKeyConstraint("hash", name="pk_token"),
        sa.UniqueConstraint("name", name="uq_token_name"),
    )


_GROWING = {
    "card": "number = NEW.number",
    "line": "card = NEW.card AND number = NEW.number OR key = NEW.key",
    "reading": "card = NEW.card AND number = NEW.number",
    "content": "card = NEW.card AND number = NEW.number",
    "setting_line": "number = NEW.number",
}


def _guard_sqlite() -> None:
    """A REPLACE deletes without a word unless a trigger looks first; lines also follow each other without a gap."""
    for table, same in _GROWING.items():
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'only grows: {table}'); END"
            )
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "  # noqa: S608
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) "
            f"BEGIN SELECT RAISE(ABORT, 'only grows: {table}'); END"
        )
    op.execute(
        "CREATE TRIGGER line_no_gap BEFORE INSERT ON line "
        "WHEN NEW.number <> 1 + (SELECT coalesce(max(number), 0) FROM line WHERE card = NEW.card) "
        "BEGIN SELECT RAISE(ABORT, 'a gap in the log'); END"
    )


def _guard_postgres() -> None:
    op.execute(
        "CREATE FUNCTION only_grows() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'only grows: %', TG_TABLE_NAME; END $$"
    )
    for table in _GROWING:
        op.execute(
            f"CREATE TRIGGER {table}_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            f"FOR EACH STATEMENT EXECUTE FUNCTION only_grows()"
        )
    op.execute(
        "CREATE FUNCTION no_gap() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        "IF NEW.number <> 1 + (SELECT coalesce(max(number), 0) FROM line WHERE card = NEW.card) "
        "THEN RAISE EXCEPTION 'a gap in the log'; END IF; RETURN NEW; END $$"
    )
    op.execute("CREATE TRIGGER line_no_gap BEFORE INSERT ON line FOR EACH ROW EXECUTE FUNCTION no_gap()")
