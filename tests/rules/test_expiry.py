"""All kinds of expiry, against the examples of the regulations reference, section 6, and T3 to T5."""

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from tintop.rules.book import Expiry, ExpiryKind
from tintop.rules.evaluate import Given, NotKnownError
from tintop.rules.expiry import add_months, last_good_day
from tintop.rules.facts import Fact, FactKey, FactKind, Marked, Station, Unreadable
from tintop.rules.findings import Ruling
from tintop.rules.reading_facts import read_fact
from tintop.rules.rulings import rule

LABEL, SECOND, MAKER, STANDARD = (FactKey(f"x.{name}") for name in ("label", "second", "maker", "standard"))
FACTS = {
    key.fact: Fact(
        name=key.fact,
        ask=key.fact.partition(".")[2].capitalize(),
        kind=FactKind.TEXT if key is STANDARD else FactKind.MARKED,
        station=Station.CABIN,
    )
    for key in (LABEL, SECOND, MAKER, STANDARD)
}
END_OF_LIST = {"SA2015": date(2023, 12, 31), "8860-2010": date(2028, 12, 31), "8859-2015": None}


def known(**written: str) -> Given:
    values = {FactKey(f"x.{name}"): read_fact(FACTS[f"x.{name}"], text)[0] for name, text in written.items()}
    return Given(values=values, errors={}, facts=FACTS)


def rule_of(kind: ExpiryKind, **more: object) -> Expiry:
    return Expiry(kind=kind, marked=LABEL, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("expiry", "written", "expected"),
    [
        # section 6, row by row
        (rule_of(ExpiryKind.LABEL_YEAR), "2024", date(2024, 12, 31)),
        (rule_of(ExpiryKind.LABEL_YEAR), "2026-03", date(2026, 3, 31)),  # a month printed ends it sooner
        (rule_of(ExpiryKind.LABEL_YEAR), "2026-03-15", date(2026, 3, 15)),
        (rule_of(ExpiryKind.LABEL_YEAR, years=5), "2023", date(2028, 12, 31)),  # UK, 8853-2016
        (rule_of(ExpiryKind.LABEL_YEAR, years=5), "2023-02", date(2028, 2, 29)),
        (rule_of(ExpiryKind.YEAR_MADE, years=5), "2014", date(2019, 12, 31)),  # T5: SFI, US club 2017
        (rule_of(ExpiryKind.YEAR_MADE, years=5), "2014-01", date(2019, 12, 31)),  # T3: seat, January
        (rule_of(ExpiryKind.YEAR_MADE, years=5), "2014-08", date(2019, 12, 31)),  # T3: seat, August
        (rule_of(ExpiryKind.YEAR_MADE, years=2), "2014", date(2016, 12, 31)),  # T5: a two-year body
        (rule_of(ExpiryKind.MONTH_MADE, years=5), "2013-02", date(2018, 2, 28)),  # T4: month label
        (rule_of(ExpiryKind.YEAR_MADE, years=5), "2013", date(2018, 12, 31)),  # T4: year label
        (rule_of(ExpiryKind.MONTH_MADE, years=5), "2013", date(2018, 1, 31)),  # the month is missing
        (rule_of(ExpiryKind.TO_THE_DAY, months=24), "2024-11-25", date(2026, 11, 25)),
        (
            rule_of(ExpiryKind.EXTENDABLE, years=5, extended_from=SECOND, extension_years=2),
            "2020-03",
            date(2025, 3, 31),
        ),
        (rule_of(ExpiryKind.LABEL_DAY), "2027-06-15", date(2027, 6, 15)),
        (rule_of(ExpiryKind.LABEL_DAY), "2027-06", date(2027, 6, 30)),
        (rule_of(ExpiryKind.MONTH_END, months=12), "2024-02-29", date(2025, 2, 28)),
        (rule_of(ExpiryKind.TO_THE_DAY, months=12), "2024-02-29", date(2025, 2, 28)),
        (rule_of(ExpiryKind.MONTH_END, months=12), "2023-02-28", date(2024, 2, 29)),
        (rule_of(ExpiryKind.TO_THE_DAY, months=12), "2023-02-28", date(2024, 2, 28)),
        (rule_of(ExpiryKind.MONTH_MADE, years=10), "2012-02", date(2022, 2, 28)),
        # a day that is not known counts as early as it can be
        (rule_of(ExpiryKind.TO_THE_DAY, months=24), "2024-11", date(2026, 11, 1)),
        (rule_of(ExpiryKind.TO_THE_DAY, months=24), "2024", date(2026, 1, 1)),
        (rule_of(ExpiryKind.NO_LIFE), "2009", None),
        (rule_of(ExpiryKind.HOMOLOGATION_END), "2019-12-31", None),
        (rule_of(ExpiryKind.LABEL_THERE), "2009", None),
    ],
)
def test_the_last_good_day(expiry, written, expected):
    assert last_good_day(expiry, known(label=written)).day == expected


def test_every_kind_is_tried():
    tried = {
        *(case[0].kind for case in test_the_last_good_day.pytestmark[0].args[1]),
        ExpiryKind.WITHDRAWN,
    }
    assert tried == set(ExpiryKind)


@pytest.mark.parametrize(
    ("second", "expected"),
    [
        ("2025-03", date(2027, 3, 31)),  # section 6: certified again, until March 2027 at most
        ("2024-01", date(2026, 1, 31)),  # two years from the certificate
        ("2026-06", date(2027, 3, 31)),  # late: no longer than two years past the first end
        ("2020-04", date(2025, 3, 31)),  # early: it takes nothing away
    ],
)
def test_a_second_certificate_extends_once(second, expected):
    expiry = rule_of(ExpiryKind.EXTENDABLE, years=5, extended_from=SECOND, extension_years=2)
    last = last_good_day(expiry, known(label="2020-03", second=second))
    assert last.day == expected
    assert "certified again" in last.working[0]


def test_a_certificate_older_than_the_thing_extends_nothing():
    expiry = rule_of(ExpiryKind.EXTENDABLE, years=5, extended_from=SECOND, extension_years=2)
    with pytest.raises(NotKnownError, match="before it was made"):
        last_good_day(expiry, known(label="2020-03", second="2019-03"))


@pytest.mark.parametrize(
    ("standard", "expected"),
    [("SA2015", date(2023, 12, 31)), ("sa 2015", date(2023, 12, 31)), ("8859-2015", None)],
)
def test_a_standard_is_withdrawn_on_its_day(standard, expected):
    expiry = Expiry(kind=ExpiryKind.WITHDRAWN, standard=STANDARD, until=END_OF_LIST)
    assert last_good_day(expiry, known(standard=standard)).day == expected


def test_a_standard_the_book_does_not_name_is_not_proven():
    expiry = Expiry(kind=ExpiryKind.WITHDRAWN, standard=STANDARD, until=END_OF_LIST)
    ruled = rule(expiry, known(standard="home-made"), date(2026, 6, 20))
    assert ruled.ruling is Ruling.NOT_PROVEN
    assert "home-made is not on this book's list: SA2015" in ruled.reason


@pytest.mark.parametrize("written", ["none", "No standard"])
def test_no_standard_at_all_fails(written):
    expiry = Expiry(kind=ExpiryKind.WITHDRAWN, standard=STANDARD, until=END_OF_LIST)
    ruled = rule(expiry, known(standard=written), date(2026, 6, 20))
    assert ruled.ruling is Ruling.FAIL
    assert ruled.reason == f"{written}, accepted: SA2015, 8860-2010, 8859-2015"


def test_another_standard_than_the_books_is_looked_up_and_not_failed():
    expiry = Expiry(kind=ExpiryKind.WITHDRAWN, standard=STANDARD, until=END_OF_LIST)
    assert rule(expiry, known(standard="other"), date(2026, 6, 20)).ruling is Ruling.NOT_PROVEN


@pytest.mark.parametrize(
    ("expiry", "last_day", "ruling"),
    [
        (rule_of(ExpiryKind.MONTH_MADE, years=5), date(2026, 1, 31), Ruling.PASS),  # whatever the month
        (rule_of(ExpiryKind.MONTH_MADE, years=5), date(2026, 2, 1), Ruling.NOT_PROVEN),
        (rule_of(ExpiryKind.MONTH_MADE, years=5), date(2026, 12, 31), Ruling.NOT_PROVEN),
        (rule_of(ExpiryKind.MONTH_MADE, years=5), date(2027, 1, 1), Ruling.EXPIRES),
        (rule_of(ExpiryKind.EXTENDABLE, years=5), date(2026, 1, 31), Ruling.PASS),
        (rule_of(ExpiryKind.EXTENDABLE, years=5), date(2026, 2, 1), Ruling.NOT_PROVEN),
        (rule_of(ExpiryKind.EXTENDABLE, years=5), date(2027, 1, 1), Ruling.EXPIRES),
        (rule_of(ExpiryKind.TO_THE_DAY, months=60), date(2026, 1, 1), Ruling.PASS),
        (rule_of(ExpiryKind.TO_THE_DAY, months=60), date(2026, 1, 2), Ruling.NOT_PROVEN),
        (rule_of(ExpiryKind.YEAR_MADE, years=5), date(2026, 12, 31), Ruling.PASS),
        (rule_of(ExpiryKind.YEAR_MADE, years=5), date(2027, 1, 1), Ruling.EXPIRES),
    ],
)
def test_where_a_month_counts_a_year_alone_passes_only_from_january(expiry, last_day, ruling):
    ruled = rule(expiry, known(label="2021"), last_day)
    assert ruled.ruling is ruling
    if ruling is Ruling.NOT_PROVEN:
        assert "the month is missing" in ruled.reason and "Find the month" in ruled.to_do
        assert ruled.expires is None


def test_a_second_certificate_without_its_month_counts_from_january_too():
    expiry = rule_of(ExpiryKind.EXTENDABLE, years=5, extended_from=SECOND, extension_years=2)
    last = last_good_day(expiry, known(label="2020-03", second="2024"))
    assert (last.day, last.latest) == (date(2026, 1, 31), date(2026, 12, 31))


def test_the_earliest_date_ends_it():
    """Reference E07, E08: 24 months from the check, and not past the maker's end date."""
    expiry = rule_of(ExpiryKind.TO_THE_DAY, months=24, earliest_of=(MAKER,))
    assert last_good_day(expiry, known(label="2024-11-25", maker="2026-05-31")).day == date(2026, 5, 31)
    assert last_good_day(expiry, known(label="2024-11-25", maker="2030")).day == date(2026, 11, 25)
    with pytest.raises(NotKnownError) as unknown:
        last_good_day(expiry, known(label="2024-11-25"))
    assert unknown.value.missing == (MAKER,)


@pytest.mark.parametrize("kind", ExpiryKind)
def test_a_label_that_cannot_be_read_counts_as_expired(kind):
    expiry = Expiry(
        kind=kind,
        marked=LABEL,
        years=5,
        months=24,
        standard=STANDARD if kind is ExpiryKind.WITHDRAWN else None,
        until=END_OF_LIST,
    )
    state = known(standard="8859-2015")
    unreadable = Given(values={**state.values, LABEL: Unreadable()}, errors={}, facts=FACTS)
    expected = Ruling.PASS if kind is ExpiryKind.NO_LIFE else Ruling.EXPIRES
    assert rule(expiry, unreadable, date(1950, 1, 1)).ruling is expected
    missing = Given(values=state.values, errors={}, facts=FACTS)
    assert rule(expiry, missing, date(1950, 1, 1)).ruling is Ruling.NOT_PROVEN


@pytest.mark.parametrize(
    ("last_day", "ruling", "days"),
    [
        (date(2024, 12, 31), Ruling.PASS, 0.0),
        (date(2025, 1, 1), Ruling.EXPIRES, -1.0),
        (date(2024, 12, 1), Ruling.PASS, 30.0),
    ],
)
def test_the_events_last_day_decides(last_day, ruling, days):
    ruled = rule(rule_of(ExpiryKind.LABEL_YEAR), known(label="2024"), last_day)
    assert ruled.ruling is ruling
    assert ruled.margin is not None
    assert ruled.margin.amount == days
    assert ruled.expires == date(2024, 12, 31)
    assert "31 December 2024" in ruled.reason


@given(st.dates(date(1960, 1, 1), date(2150, 1, 1)), st.integers(0, 240))
def test_months_on_agree_with_dateutil(day, months):
    assert add_months(day, months) == day + relativedelta(months=months)


DATED = [
    kind
    for kind in ExpiryKind
    if kind
    not in (ExpiryKind.WITHDRAWN, ExpiryKind.NO_LIFE, ExpiryKind.HOMOLOGATION_END, ExpiryKind.LABEL_THERE)
]


@given(
    st.sampled_from(DATED),
    st.dates(date(1990, 1, 1), date(2090, 1, 1)),
    st.integers(0, 400),
    st.integers(0, 10),
    st.integers(0, 36),
)
def test_a_later_label_never_ends_sooner(kind, day, later, years, months):
    expiry = rule_of(kind, years=years, months=months)

    def end(marked: date) -> date:
        given = Given(values={LABEL: Marked(day=marked)}, errors={}, facts=FACTS)
        last = last_good_day(expiry, given).day
        assert last is not None
        return last

    assert end(day) <= end(day + timedelta(days=later))
    assert end(day) >= day
