"""What two demo folders must have in common, and what may differ from one run to the next.

May differ: instants, hashes and heads of the chain, identifiers made from a book's own (UUIDs), and what is drawn from
those: the bytes of messages and of the invoice's PDF.
"""

import email
import email.policy
import json
import re
import sqlite3
from contextlib import closing
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pypdf

LEFT_OUT = {
    "act": {"instant", "rows", "head"},
    "attempt": {"began"},
    "book": {"uuid"},
    "document_file": {"bytes", "sha256"},
    "message": {"bytes", "sha256"},
}
UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
HASH = re.compile(r"\b[0-9a-f]{64}\b")
HEAD = re.compile(r"\b[0-9a-f]{3}(-[0-9a-f]{3}){3}\b")
DRAWN_AT = re.compile(r"(DTSTAMP:)[0-9TZ]+")


def alike(text: str) -> str:
    """Text without what may differ."""
    for pattern, word in ((UUID, "UUID"), (HASH, "HASH"), (HEAD, "HEAD"), (DRAWN_AT, r"\1THEN")):
        text = pattern.sub(word, text)
    return text


def rows(path: Path, table: str) -> list[dict[str, Any]]:
    """Every row of a table of a book, by its columns, without what may differ."""
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        return [_row(table, row) for row in connection.execute(f'SELECT * FROM "{table}"')]


def _row(table: str, row: sqlite3.Row) -> dict[str, Any]:
    left_out = LEFT_OUT.get(table, set())
    return {
        column: alike(row[column]) if isinstance(row[column], str) else row[column]
        for column in row.keys()  # noqa: SIM118  (a row iterates over its values)
        if column not in left_out
    }


def schema(path: Path) -> list[tuple[str, str]]:
    """Every table, index and guard of a book, as it was made."""
    with closing(sqlite3.connect(path)) as connection:
        return sorted(connection.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL"))


def mail(path: Path) -> tuple[dict[str, str], list[tuple[str, str]]]:
    """A mail's headers and the content of its parts, without what may differ."""
    message = email.message_from_bytes(path.read_bytes(), policy=email.policy.default)
    headers = {name: str(value) for name, value in message.items()}
    headers = {name: value for name, value in headers.items() if name not in ("Date", "Content-Type")}
    return {name: alike(value) for name, value in headers.items()}, [_part(part) for part in message.walk()]


def _part(part: Any) -> tuple[str, str]:
    assert isinstance(part, EmailMessage)
    if part.is_multipart():
        return part.get_content_type(), ""
    content = part.get_payload(decode=True)
    assert isinstance(content, bytes)
    return part.get_content_type(), alike(content.decode())


def pages(path: Path) -> list[str]:
    """The text of a PDF, page by page, without the head of the chain."""
    return [alike(page.extract_text()) for page in pypdf.PdfReader(path).pages]


def said(path: Path) -> list[str]:
    """The lines of a transcript. What goes to stderr may come in a little earlier or later: the order is left out."""
    return sorted(path.read_text("utf-8").splitlines())


def data(path: Path) -> Any:
    return json.loads(path.read_text("utf-8"))
