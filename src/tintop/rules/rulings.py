"""Every kind of check put to the car's facts: what it says of one instance."""

from datetime import date

from tintop.errors import BadInput
from tintop.rules.book import Check, Expiry, ExpiryKind, Holds, Limits, ListedTubes, OneOf, Shown
from tintop.rules.checking import facts_named
from tintop.rules.conditions import rule_condition
from tintop.rules.evaluate import Given, NotKnownError, figure, needed
from tintop.rules.expiry import facts_of, last_good_day
from tintop.rules.expression import Expression
from tintop.rules.facts import FactKey, FactKind, Unreadable
from tintop.rules.figures import write_day, write_value
from tintop.rules.findings import Margin, Ruling
from tintop.rules.limits import rule_limits
from tintop.rules.listed_tubes import rule_tube
from tintop.rules.placeholders import is_nothing, is_placeholder
from tintop.rules.ruled import LOOK_AGAIN, Ruled, not_known, write_ask

THE_MONTH = "Find the month on the label, the certificate or by its maker, and record it."


def rule(check: Check, given: Given, last_day: date) -> Ruled:
    """Rule one check of one instance; dates are set against the event's last day.

    What makes no sense (two points that fall together, bolts without a known strength) is not proven.
    """
    try:
        match check:
            case Limits():
                return rule_limits(check, given)
            case Holds():
                return rule_condition(check, given)
            case ListedTubes():
                return rule_tube(check, given)
            case OneOf():
                return _rule_words(check, given)
            case Expiry():
                return _rule_expiry(check, given, last_day)
            case Shown():
                return _rule_shown(check, given)
    except NotKnownError as unknown:
        return not_known(unknown, given)
    except BadInput as refusal:
        return Ruled(ruling=Ruling.NOT_PROVEN, reason=str(refusal).rstrip("."), to_do=LOOK_AGAIN)


def _rule_words(check: OneOf, given: Given) -> Ruled:
    used = needed(check.value, given)
    value = figure(check.value, given)
    accepted = ", ".join(check.words)
    is_listed = isinstance(value, str) and _plain(value) in {_plain(word) for word in check.words}
    return Ruled(
        ruling=Ruling.PASS if is_listed else Ruling.FAIL,
        reason=f"{value}, on the list" if is_listed else f"{value}, accepted: {accepted}",
        value=str(value),
        limit=accepted,
        used=used,
        working=(f"{value} {'is' if is_listed else 'is not'} one of {accepted}",),
    )


def _plain(word: str) -> str:
    return "".join(word.casefold().split())


def _rule_shown(check: Shown, given: Given) -> Ruled:
    """Facts that have to be on record; one recorded as "no" or as unreadable does not count as shown."""
    keys = [given.key(key) for key in check.facts]
    missing = tuple(key for key in keys if key not in given.values or _is_placeholder(key, given))
    if missing:
        return not_known(NotKnownError(missing), given, tuple(keys))
    said = [(write_ask(key, given), write_value(given.facts[key.fact], given.values[key])) for key in keys]
    shown = said[0][1] if len(said) == 1 else "; ".join(f"{ask}: {value}" for ask, value in said)
    ruled = Ruled(ruling=Ruling.PASS, reason=shown, value=shown, limit="on record", used=tuple(keys))
    if any(isinstance(given.values[key], Unreadable) for key in keys):
        return ruled.worse(Ruling.EXPIRES, "a label that cannot be read counts as expired")
    if any(given.values[key] is False for key in keys):
        return ruled.worse(Ruling.FAIL, "it is recorded as not there")
    return ruled


def _is_placeholder(key: FactKey, given: Given) -> bool:
    value = given.values[key]
    return given.facts[key.fact].kind is FactKind.TEXT and isinstance(value, str) and is_placeholder(value)


def _rule_expiry(check: Expiry, given: Given, last_day: date) -> Ruled:
    if not facts_of(check):
        return Ruled(ruling=Ruling.NOT_APPLICABLE, reason=f"{check.kind}: nothing here runs out")
    keys = tuple(
        given.key(key) for key in (*facts_of(check), *([check.extended_from] if check.extended_from else []))
    )
    used = tuple(key for key in keys if key in given.values)
    if check.kind is ExpiryKind.WITHDRAWN and check.standard is not None:
        standard = given.values.get(given.key(check.standard))
        if isinstance(standard, str) and is_nothing(standard):
            accepted = ", ".join(check.until or ())
            return Ruled(
                ruling=Ruling.FAIL,
                reason=f"{standard}, accepted: {accepted}",
                value=standard,
                limit=accepted,
                used=used,
            )
    try:
        last = last_good_day(check, given)
    except NotKnownError as unknown:
        return not_known(unknown, given, used)
    if last.unreadable is not None:
        ask = write_ask(last.unreadable, given)
        return Ruled(
            ruling=Ruling.EXPIRES,
            reason=f"{ask}: missing or unreadable, counts as expired",
            value="missing or unreadable",
            limit=f"good until {write_day(last_day)} or later",
            used=used,
        )
    if last.day is None:
        said = "; ".join(last.working)
        return Ruled(ruling=Ruling.PASS, reason=said, value="no end", used=used, working=last.working)
    if last.latest is not None and last.day < last_day <= last.latest:
        return Ruled(
            ruling=Ruling.NOT_PROVEN,
            reason="the month is missing: "
            f"good until {write_day(last.day)}, or {write_day(last.latest)} at the latest",
            limit=f"{write_day(last_day)} or later",
            used=used,
            working=last.working,
            to_do=THE_MONTH,
        )
    days = (last.day - last_day).days
    ran_out = f"runs out {_days(-days)} before the event ends on {write_day(last_day)}"
    good = f"good until {write_day(last.day)}"
    return Ruled(
        ruling=Ruling.PASS if days >= 0 else Ruling.EXPIRES,
        reason=good if days >= 0 else f"{good}, {ran_out}",
        value=write_day(last.day),
        limit=f"{write_day(last_day)} or later",
        margin=Margin(
            amount=float(days),
            quantity="days",
            written=f"{_days(abs(days))} {'left' if days >= 0 else 'too early'}",
        ),
        expires=last.day,
        used=used,
        working=last.working,
    )


def _days(count: int) -> str:
    return f"{count} day{'s' if count != 1 else ''}"


def facts_proven(check: Check | None) -> tuple[FactKey, ...]:
    """Give the facts that the form of proof is asked of: what is judged, not what its limit hangs on."""
    match check:
        case Limits():
            return _keys(check.value)
        case Holds():
            return _keys(check.holds, check.recommended)
        case ListedTubes():
            return _keys(check.tube)
        case OneOf():
            return _keys(check.value)
        case Expiry():
            return _of_expiry(check)
        case Shown():
            return check.facts
        case None:
            return ()


def facts_checked(check: Check | None) -> tuple[FactKey, ...]:
    """Give all facts a check names, those it judges first."""
    match check:
        case Limits():
            limits = (check.at_least, check.at_most, check.recommended_at_least, check.recommended_at_most)
            return _keys(check.value, *limits)
        case ListedTubes():
            return _keys(check.tube, check.by)
        case _:
            return facts_proven(check)


def _of_expiry(check: Expiry) -> tuple[FactKey, ...]:
    keys = (check.marked, check.standard, *check.earliest_of, check.extended_from)
    return tuple(key for key in keys if key is not None)


def _keys(*expressions: Expression | None) -> tuple[FactKey, ...]:
    return tuple(FactKey(named.fact, named.each) for named in facts_named(*expressions))
