"""What the book refuses to write of invoices, deposits and payments: each rule with its sentence, no row written."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

OPEN = ("job open skylane mesa 'Wash' --on 2026-05-01", "job plan 2 wash --on 2026-05-01")
DONE = (
    *OPEN,
    "job agree 2 --by 'Jo Alder' --on 2026-05-01",
    "job arrive 2 --by 'Sam Reed' --on 2026-05-02",
    "job handover 2 --to 'Jo Alder' --on 2026-05-04",
)
TAKEN = "deposit take alder 100.00 --job 2 --on 2026-05-03 --yes"
ISSUED = "invoice issue 2 --to invoices --on 2026-05-04 --yes"

# rule: what was typed before, what is typed now, its exit code, and words of its sentence
RULES: dict[str, tuple[tuple[str, ...], str, int, str]] = {
    # deposits
    "a deposit is meant": (OPEN, TAKEN.removesuffix(" --yes"), 1, "give --yes to do it, or --dry-run to look only"),
    "a deposit is for a job": (
        (),
        "deposit take alder 100.00 --job 9 --yes",
        1,
        "there is no job 9: `coatbook job list` shows them",
    ),
    "a deposit is from who pays": (
        OPEN,
        TAKEN.replace("alder", "birch"),
        1,
        "Birch Flying Club does not pay for job 2, Jo Alder does: name who pays",
    ),
    "a deposit is more than nothing": (OPEN, TAKEN.replace("100.00", "0.00"), 1, "the amount 0.00 must be more than"),
    "a deposit has whole cents": (OPEN, TAKEN.replace("100.00", "100.005"), 2, "has more than 2 decimals"),
    "a deposit comes after the job was opened": (
        OPEN,
        TAKEN.replace("05-03", "04-30"),
        1,
        "a deposit on 2026-04-30 would come before job 2 was opened on 2026-05-01",
    ),
    "a deposit comes before the invoice": (
        (*DONE, ISSUED),
        TAKEN,
        1,
        "job 2 is invoiced already, as 2026-0001: write the money as a payment with",
    ),
    "nothing is taken for a job at no charge": (
        (*DONE[:-1], f"{DONE[-1]} --no-charge"),
        TAKEN,
        1,
        "job 2 was handed over at no charge on 2026-05-04: there is nothing to pay",
    ),
    "the same deposit is meant twice": ((*OPEN, TAKEN), TAKEN, 1, "give --again if you mean a second one"),
    "a method is named": (OPEN, f"{TAKEN} --method ''", 2, "the method is empty"),
    "only of a job called off is a deposit kept": (
        (*OPEN, TAKEN),
        "deposit keep 2 50.00 --why 'called off late' --yes",
        1,
        "job 2 is not called off: a deposit of it is drawn on its invoice, or given back with",
    ),
    "a deposit is kept for a reason": (OPEN, "deposit keep 2 50.00 --why ' ' --yes", 2, "the reason is empty"),
    "no more goes back than is held": (
        (*OPEN, TAKEN),
        "deposit refund 2 100.01 --yes",
        1,
        "100.00 of the deposits for job 2 is held from 2026-08-20 on, not 100.01",
    ),
    "nothing goes back before it came": (
        (*OPEN, TAKEN),
        "deposit refund 2 10.00 --on 2026-05-02 --yes",
        1,
        "0.00 of the deposits for job 2 is held from 2026-05-02 on, not 10.00",
    ),
    "no one's deposit goes back to another": (
        (*OPEN, TAKEN),
        "deposit refund 2 10.00 --customer birch --yes",
        1,
        "0.00 of the deposits of Birch Flying Club for job 2 is held",
    ),
    "a drawn deposit stands": (
        (*DONE, TAKEN, ISSUED),
        "strike payment:1 --why 'of another job'",
        1,
        "deposit 1 is drawn on invoice 2026-0001, which stands for good: so does the deposit",
    ),
    "a deposit that went back stands": (
        (*OPEN, TAKEN, "deposit refund 2 10.00 --yes"),
        "strike payment:1 --why 'of another job'",
        1,
        "payment 1 cannot be struck: payment 2 stands on it; strike that first",
    ),
    # invoices
    "an invoice comes after the deposits it draws": (
        (*DONE, TAKEN.replace("05-03", "05-05")),
        ISSUED,
        1,
        "the invoice on 2026-05-04 would come before deposit 1, which it draws, was taken on 2026-05-05",
    ),
    "an invoice is issued once": ((*DONE, ISSUED), ISSUED, 1, "job 2 is invoiced already, as 2026-0001"),
    "an invoice comes after the handover": (OPEN, ISSUED, 1, "job 2 is not handed over yet"),
    "an invoice asks for something": (
        (*OPEN, "service price wash 95.00 --per hour --on 2026-05-01", *DONE[2:]),
        ISSUED,
        1,
        "nothing on job 2 comes to a charge",
    ),
    "an invoice does not fall due before its date": (
        DONE,
        f"{ISSUED} --due 2026-05-03",
        1,
        "the due day on 2026-05-03 would come before the invoice's own date",
    ),
    "an invoice is issued in an open month": (
        (*DONE, *(f"book close 2026-{month} --yes" for month in ("03", "04", "05"))),
        ISSUED,
        1,
        "the invoice is dated 2026-05-04, but 2026-05 is closed",
    ),
    "what led to an invoice stands": (
        (*DONE, ISSUED),
        "strike job_event:3 --why 'not yet'",
        1,
        "job 2 is invoiced as 2026-0001: what led to the invoice stands",
    ),
    "an invoice must be there": ((), "invoice print 2026-0007", 1, "there is no invoice '2026-0007'"),
    "numbers once begun go on": (
        (*DONE, ISSUED),
        "business series invoice --pattern '{n}'",
        1,
        "its numbers must go on without a gap as they are",
    ),
    # payments
    "a payment is no more than is owed": (
        (*DONE, ISSUED),
        "payment take alder 159.39 --invoice 2026-0001 --yes",
        1,
        "0.01 more came in than is owed on 2026-0001",
    ),
    "what a deposit paid is not owed again": (
        (*DONE, TAKEN, ISSUED),
        "payment take alder 159.38 --invoice 2026-0001 --yes",
        1,
        "100.00 more came in than is owed on 2026-0001",
    ),
    "a payment pays its own customer's invoice": (
        (*DONE, ISSUED),
        "payment take birch 10.00 --invoice 2026-0001 --yes",
        1,
        "invoice 2026-0001 is Jo Alder's, not Birch Flying Club's",
    ),
    "a payment comes after its invoice": (
        (*DONE, ISSUED),
        "payment take alder 10.00 --invoice 2026-0001 --on 2026-05-03 --yes",
        1,
        "a payment on 2026-05-03 would come before invoice 2026-0001 was issued",
    ),
    "a part of a payment is not struck alone": (
        (*DONE, TAKEN, ISSUED),
        "strike settles:1 --why 'too much'",
        1,
        "settles 1 is a part of payment:1",
    ),
    # tax
    "a tax rate has four decimals": ((), "tax add US-TX labor 6.25001 --name Tax", 2, "the tax rate 6.25001 must be"),
    "a tax is on a known kind of charge": ((), "tax add US-TX wages 6.25 --name Tax", 2, "kind of charge 'wages'"),
}


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_is_refused_by_one_sentence(
    rule: str,
    furnished: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    coatbook: Command,
    refused: Command,
) -> None:
    monkeypatch.chdir(tmp_path)
    before, typed, code, says = RULES[rule]
    for line in before:
        coatbook(*shlex.split(line))
    sentence = refused(*shlex.split(typed), code=code)
    *shown, sentence = sentence.splitlines()  # what would happen is shown before --yes is asked for
    assert sentence.startswith("coatbook: ")
    assert says in sentence
    assert not shown or rule == "a deposit is meant"
