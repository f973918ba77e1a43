"""`job show` tells what was settled, found and looked at around the plan."""

from collections.abc import Callable

Run = Callable[..., str]


def test_the_scope_of_a_job_is_told(furnished: object, coatbook: Run) -> None:
    spot = ("--place", "under the flap", "--size", "0.05 ft2", "--product", "compound", "--risk", "color loss")
    gauge = ("--gauge", "eddy current", "--serial", "G-1")
    coatbook("job", "open", "skylane", "mesa", "wash")
    coatbook("job", "party", "2", "pays", "birch", "--share", "40 %")
    coatbook("job", "party", "2", "asks", "birch", "--up-to", "900.00")
    coatbook("job", "condition", "2", "left wing", "dull", "--note", "worst at the root")
    coatbook("job", "consent", "2", "left wing", *spot, "--by", "Jo Alder", "--how", "by mail")
    coatbook("service", "steps", "wash", "--add", "Rinse", "--hours", "20 min")
    coatbook("job", "plan", "2", "wash", "--standard")
    coatbook("job", "agree", "2", "--by", "Jo Alder")
    coatbook("job", "signing", "2", "no entry expected", "--by", "Jo Alder", "--document", "mail", "--why", "wash only")
    coatbook("job", "arrive", "2", "--by", "Sam Reed")
    coatbook("job", "change", "2", "the tail", "--by", "Jo Alder", "--how", "by phone", "--price", "40", "--as", "wash")
    coatbook("job", "plan", "2", "wash", "--surface", "elevator", "--change", "1")
    read = ("log", "reading", "2", "left wing", "--spot", "root", "--film", "60 µm", "--film", "61 µm")
    coatbook(*read, *gauge, "--stage", "after")
    told = coatbook("job", "show", "2")
    assert max(len(line) for line in told.splitlines()) <= 80
    one_line = " ".join(told.split())
    for words in (
        "pays Jo Alder (alder) the rest; Birch Flying Club (birch) 40 %",
        "hears Jo Alder (alder), of upkeep",
        "asks Birch Flying Club (birch), up to 900.00 USD",
        "Surfaces as found left wing: dull on 2026-08-20, worst at the root (condition:1)",
        (
            "Test spots 0.05 ft2 at under the flap on left wing with compound: Jo Alder consented by mail on "
            "2026-08-20; "
            "told of the risk: color loss (consent:1)"
        ),
        "Wash on elevator (20 ft2), change 1",
        "Agreed changes 1: the tail at 40.00 as wash, agreed with Jo Alder by phone on 2026-08-20 (change:1)",
        (
            "Who does and signs the work No entry expected: Jo Alder, none held, on mail (2026-08-20); wash only "
            "(authority:1)."
        ),
        "Film since left wing, after: 2 readings, 60 µm to 61 µm",
    ):
        assert words in one_line, words


def test_what_was_looked_at_and_called_off_is_told(furnished: object, coatbook: Run) -> None:
    coatbook("job", "open", "skylane", "mesa", "wash")
    coatbook("job", "plan", "2", "wash")
    coatbook("job", "agree", "2", "--by", "Jo Alder")
    coatbook("job", "arrive", "2", "--by", "Sam Reed", "--keepoff-seen-by", "Kim Soto")
    coatbook("log", "mask", "2", "on", "static port", "2")
    coatbook("log", "mask", "2", "off", "static port", "2")
    coatbook("log", "mask", "2", "look", "--by", "Kim Soto")
    coatbook("job", "cancel", "2", "--by", "Jo Alder", "--why", "the aircraft is sold")
    told = " ".join(coatbook("job", "show", "2").split())
    assert told.startswith("Job 2 is called off: wash on N123AB for Jo Alder, because the aircraft is sold.")
    assert "keep-off list confirmed 2026-08-20 by Kim Soto (job_event:3)" in told
    assert "masks looked at 2026-08-20 by Kim Soto (job_event:4); called off 2026-08-20 by Jo Alder" in told
