"""The title block and foot of every sheet: what it is, for which machine, which issue, how far proved, how to find it.

Ink finds its way back by the typed code (``fp420/draw-tray``), by the QR code where the shop has an address, and by
three words that change with the records.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from benchleaf.currency_words import currency_of, currency_of_machine
from benchleaf.edges.qr import qr_svg
from benchleaf.pages.book import MachineBook
from benchleaf.pages.record_notes import verification_of
from benchleaf.paper.sheet import Paper
from benchleaf.paper.subject import Subject

QR_FILE = "qr.svg"
SAME = "Same three words on the site: same records as that copy of it."
OWN = "No page shows these words; two prints with the same were made from the same records."
_DATE = re.compile(r"(\d{4})-(\d{2})-(\d{2})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """The data of the title block, and the QR code's file where there is one."""

    data: Mapping[str, Any]
    files: Mapping[str, bytes]


def address_of(subject: Subject) -> str | None:
    """The procedure's page on the shop's site; ``None`` when the shop has no address."""
    shop = subject.full.book.shop
    if not shop.address:
        return None
    return f"{str(shop.address).rstrip('/')}/{subject.page}"


def block_of(subject: Subject, kind: str, paper: Paper) -> Block:
    """The title block for a sheet of a kind (``Procedure``, ``Job sheet``)."""
    if subject.is_machine:
        whole = machine_block(subject.full, kind, "Whole machine", paper) | {"applies": subject.words}
        return Block(data=whole, files=machine_files(subject.full))
    procedure, book = subject.procedure, subject.full.book
    issue = procedure.issue
    date = str(issue.date) if issue is not None and issue.date else None
    verified = verification_of(procedure)
    said = "Withdrawn" if verified.withdrawn else verified.state[0].upper() + verified.state[1:]
    serial = f"serial {verified.serial}" if verified.serial else None
    proof = ", ".join(part for part in (said, verified.date, serial) if part)
    number = f"Issue {issue.number}" if issue is not None else "Issue not recorded"
    address = address_of(subject)
    currency = currency_of(subject.full, procedure)
    data: dict[str, Any] = {
        "machine": str(subject.full.record.name),
        "kind": kind,
        "title": str(procedure.title),
        "full-title": f"{kind}: {procedure.title} – {subject.full.record.name}",
        "shop": book.name,
        "lang": language_of(str(book.shop.language or "en")),
        "paper": paper,
        "applies": subject.words,
        "verified": proof,
        "verified-short": f"{said} · {number} · {subject.code}",
        "issue": f"{number}{f' of {date}' if date else ', date not recorded'}",
        "code": subject.code,
        "words": currency.words,
        "words-mean": f"{SAME} {currency.dates}." if subject.has_words else OWN,
    }
    data |= dated(date)
    if address is None:
        return Block(data=data, files={})
    return Block(data=data | code_to(address), files={QR_FILE: qr_svg(address)})


def machine_block(mbook: MachineBook, kind: str, title: str, paper: Paper) -> dict[str, Any]:
    """The title block of a sheet about a whole machine, whose record carries no issue of its own."""
    currency, code = currency_of_machine(mbook), str(mbook.machine.id)
    data: dict[str, Any] = {
        "machine": str(mbook.record.name),
        "kind": kind,
        "title": title,
        "full-title": f"{kind}: {mbook.record.name}",
        "shop": mbook.book.name,
        "lang": language_of(str(mbook.book.shop.language or "en")),
        "paper": paper,
        "applies": "every variant and serial",
        "verified": "Unverified as a whole",
        "verified-short": f"Unverified as a whole · {code}",
        "issue": f"Records up to {currency.newest}" if currency.newest else "No date in the records",
        "code": code,
        "words": currency.words,
        "words-mean": f"Same three words on the machine's page: same records as that copy of it. {currency.dates}.",
    }
    address = machine_address(mbook)
    return data | dated(currency.newest) | (code_to(address) if address is not None else {})


def machine_files(mbook: MachineBook) -> dict[str, bytes]:
    """The QR code of the machine's page; none when the shop has no address."""
    address = machine_address(mbook)
    return {QR_FILE: qr_svg(address)} if address is not None else {}


def machine_address(mbook: MachineBook) -> str | None:
    """The machine's page on the shop's site."""
    shop = mbook.book.shop
    return f"{str(shop.address).rstrip('/')}/{mbook.at.home}" if shop.address else None


def code_to(address: str) -> dict[str, str]:
    """The data of the QR code that leads to an address."""
    return {"qr": QR_FILE, "qr-alt": f"QR code: {address}"}


def dated(date: str | None) -> dict[str, list[int]]:
    """The document's date from year-month-day; nothing for what is none."""
    found = _DATE.fullmatch(date or "")
    return {"date": [int(part) for part in found.groups()]} if found else {}


def language_of(text: str) -> str:
    """The two or three letters Typst takes of a language tag (RFC 5646); English for what is none."""
    first = re.split(r"[-_]", text.lower())[0]
    return first if re.fullmatch(r"[a-z]{2,3}", first) else "en"
