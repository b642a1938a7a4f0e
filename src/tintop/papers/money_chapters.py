"""Chapters of the build book about money and help; the public edition has neither."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from tintop.logbook.amounts import written_money
from tintop.logbook.costs import Costs
from tintop.logbook.support import Supporter
from tintop.papers.content import Chapter, Column, Facts, Table, Words, plain
from tintop.papers.stand import Stand, day_words, has_run

LEFT_OUT = "[sum left out]"
_WORDS_IN_DRAWING = re.compile(">[^<]+<")
_NUMBER = r"[0-9](?:[0-9.,'\u00a0\u202f\u2009 ]*[0-9])?(?:\s?k\b)?(?:[.,]?[–-])?"
_CODES = r"USD|EUR|GBP|CHF|AUD|NZD|CAD|JPY|SEK|NOK|DKK|PLN|CZK|ZAR"
_SHARE = (
    r"(?:a|one|two|three)\s(?:half|third|quarter|fifth|tenth)s?|half(?:\sprice)?"
    r"|[0-9.,]+\s?(?:%|per\scent)"
)
_WORDS = r"pounds?|quid|pence|euros?|dollars?|bucks|cents|francs?|kroner|kronor|yen|rand"


def costs_chapter(stand: Stand, costs: Costs) -> Chapter:
    """What the car and running it have cost."""

    def money(cents: float | None) -> str:
        return "–" if cents is None else written_money(cents, stand.currency)

    season = f"{costs.year} so far"
    return Chapter(
        title="Costs",
        blocks=(
            Facts(
                pairs=(
                    ("The car itself", money(costs.car_cents)),
                    ("Running it since the book began", money(costs.paid_cents)),
                    ("Of that came in by sales and shares", money(-costs.sold_cents)),
                    (season, money(costs.season_paid_cents)),
                    ("Still to come, as far as it is known", money(costs.season_to_come_cents)),
                    ("An hour of race this season", money(costs.per_race_hour_cents)),
                    ("A lap this season", money(costs.per_lap_cents)),
                )
            ),
            Table(
                title="By kind",
                columns=(Column(head="kind", share=3.0), Column(head="since the book began", is_number=True)),
                rows=tuple(
                    (kind.value, money(cents))
                    for kind, cents in sorted(costs.by_kind.items(), key=lambda each: -each[1])
                ),
                empty="Nothing was paid.",
            ),
            Table(
                title="By event",
                columns=(
                    Column(head="day", share=1.2),
                    Column(head="event", share=4.0),
                    Column(head="paid", share=1.2, is_number=True),
                    Column(head="an hour of race", share=1.2, is_number=True),
                    Column(head="a lap", share=1.0, is_number=True),
                ),
                rows=tuple(
                    (
                        day_words(each.first_day),
                        plain(each.name),
                        money(each.paid_cents),
                        money(each.per_race_hour_cents),
                        money(each.per_lap_cents),
                    )
                    for each in costs.by_meeting
                    if each.paid_cents
                ),
                empty="No event has cost anything.",
            ),
            Words(
                text="Only what was written down is counted: no hour of one's own, no value lost.",
                is_small=True,
            ),
        ),
    )


def support_chapter(stand: Stand, helpers: Sequence[Supporter]) -> Chapter:
    """Who helped, with what, and what is owed; for the owner alone: no supporter reads it of another."""
    heads = [
        "supporter",
        "day",
        "what",
        "the part has run",
        "owed in return",
        "done",
        "state",
        "lists at",
        "paid",
    ]
    shares = [1.6, 1.2, 2.4, 1.3, 2.4, 2.4, 1.0, 1.1, 1.1]
    rows = []
    for helper in helpers:
        for item in helper.items:
            received = item.received
            part = received.part
            row = (
                plain(helper.name),
                day_words(item.day),
                plain(received.what),
                has_run(item.count) if part and item.count is not None else "–",
                plain(received.owed) or "nothing",
                "; ".join(plain(given.what) for given in item.returned) or "nothing yet",
                item.state.value,
                written_money(received.list_price_cents, stand.currency),
                written_money(received.paid_cents, stand.currency),
            )
            rows.append(row)
    return Chapter(
        title="Support in kind",
        blocks=(
            Table(
                columns=tuple(
                    Column(head=head, share=share, is_number=head in ("lists at", "paid"))
                    for head, share in zip(heads, shares, strict=True)
                ),
                rows=tuple(rows),
                empty="No support is written down.",
            ),
        ),
    )


def without_money(content: Any, currency: str) -> Any:
    """The same content in which no text holds a sum of money: what the owner typed is gone through as well.

    A number beside the garage's currency, a currency sign, code or name is taken for a sum, and words such
    as "a fifth off" or "20 % off" for a discount.
    """
    pattern = _sums(currency)

    def cleaned(found: Any) -> Any:
        if isinstance(found, str) and found.startswith("<svg"):
            return _WORDS_IN_DRAWING.sub(lambda words: pattern.sub(LEFT_OUT, words[0]), found)
        if isinstance(found, str):
            return pattern.sub(LEFT_OUT, found)
        if isinstance(found, tuple):
            return tuple(cleaned(each) for each in found)
        if hasattr(found, "__dataclass_fields__"):
            values = {name: getattr(found, name) for name in found.__dataclass_fields__}
            return replace(found, **{name: cleaned(value) for name, value in values.items()})
        return found

    return cleaned(content)


def _sums(currency: str) -> re.Pattern[str]:
    own = re.escape(currency.strip())
    own = rf"\b{own}\b" if currency.strip().isalpha() else own
    sign = r"[\u0024\u00a2-\u00a5\u20a0-\u20bf]" + (f"|{own}" if own else "")
    code = rf"(?:{sign}|\b(?:{_CODES})\b)"
    before, after = rf"{code}\s?[-−]?{_NUMBER}", rf"{_NUMBER}\s?(?:{code}|(?:{_WORDS})\b)"
    return re.compile(rf"(?:{before}|{after}|(?:{_SHARE})\s(?:off|discount)\b)", re.IGNORECASE)
