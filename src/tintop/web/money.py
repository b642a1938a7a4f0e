"""Money as people write it: "12,50", "£1,234.50", "1234", "-20"; asked about when it reads two ways."""

import re

from tintop.errors import refuse
from tintop.handwriting import Ask, Understood
from tintop.handwriting.meaning import settle
from tintop.web.formats import money

_EXPECTED = 'a sum such as "12.50" or "1234"'
_MOST_CENTS = 10**12
_LONGEST = 40
_THREE_DIGITS_LAST = re.compile(r"([0-9]{1,3})[.,]([0-9]{3})")
_PLAIN = re.compile(r"([0-9]+)(?:[.,]([0-9]{0,2}))?")
_GROUPED = re.compile(r"([0-9]{1,3}(?:([ ',.])[0-9]{3})(?:\2[0-9]{3})*)(?:([.,])([0-9]{1,2}))?")


def read_money(text: str, currency: str = "") -> Understood | Ask[Understood]:
    """Read a sum as hundredths of the garage's currency; a minus is money that came in.

    One point or comma before exactly three digits is asked about. Raises BadInput when it can be no sum.
    """
    written = " ".join(text.replace("\u202f", " ").replace("\u2212", "-").split())
    plain = written.removeprefix("+")
    sign = -1 if plain.startswith("-") else 1
    plain = plain.removeprefix("-").strip()
    for word in {currency.strip(), "£", "€", "$"} - {""}:
        plain = plain.removeprefix(word).removesuffix(word).strip()
    if plain.startswith("-") and sign > 0:
        sign, plain = -1, plain[1:].strip()
    if not plain or len(written) > _LONGEST:
        raise refuse("sum", repr(written[:_LONGEST]) if written else "nothing", _EXPECTED)
    return settle(
        written,
        f"{written!r} reads two ways. Which is meant?",
        [_sum(sign * cents, written, currency) for cents in _readings(plain, written)],
    )


def _readings(plain: str, written: str) -> list[int]:
    two_ways = _THREE_DIGITS_LAST.fullmatch(plain)
    if two_ways:
        whole = 100 * int(two_ways[1] + two_ways[2])
        return [whole, round(100 * float(f"{two_ways[1]}.{two_ways[2]}"))]
    simple = _PLAIN.fullmatch(plain)
    if simple:
        return [_cents(simple[1], simple[2] or "", written)]
    grouped = _GROUPED.fullmatch(plain)
    if grouped and grouped[2] != grouped[3]:
        return [_cents(re.sub(r"[ ',.]", "", grouped[1]), grouped[4] or "", written)]
    raise refuse("sum", repr(written), _EXPECTED)


def _cents(whole: str, fraction: str, written: str) -> int:
    cents = 100 * int(whole) + int(fraction.ljust(2, "0"))
    if cents > _MOST_CENTS:
        raise refuse("sum", repr(written), "a smaller sum")
    return cents


def _sum(cents: int, written: str, currency: str) -> Understood:
    sign = "-" if cents < 0 else ""
    return Understood(
        value=float(cents),
        quantity="money",
        unit=currency,
        written=written,
        is_guessed=False,
        says=money(cents, currency, 2),
        in_full=f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d}",
    )
