"""The cells of a spreadsheet as the values of an entry's table."""

import re
from datetime import datetime, time
from decimal import Decimal, InvalidOperation
from typing import Any

from tintop.store.exchange.workbook import text_of


def text_read(value: Any) -> Any:
    """Give the text of a cell; a number or clock somebody typed there is text too."""
    if isinstance(value, str):
        return text_of(value)
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return str(int(value)) if value == int(value) else repr(value)
    return value


def whole_read(value: Any) -> Any:
    """Give the whole number of a cell, or what stands there if it is none."""
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, str) and re.fullmatch(r"-?\d{1,40}", value):
        return int(value)
    return value


def money_read(value: Any) -> int | None:
    """Give the hundredths of an amount, or None if it is no amount in whole hundredths."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        return None
    try:
        cents = Decimal(repr(value) if isinstance(value, float) else value).scaleb(2)
    except InvalidOperation:
        return None
    return int(cents) if cents.is_finite() and cents == cents.to_integral_value() else None


def day_read(value: Any) -> Any:
    """Give the day of a cell, or what stands there if it is none."""
    return value.date() if isinstance(value, datetime) and value.time() == time() else value
