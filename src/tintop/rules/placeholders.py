"""Words written where there is nothing to write: they stand for no value."""

_NOT_KNOWN = {"", "?", "-", "–", "—", ".", "unknown", "not known", "n/a", "na", "tbc", "tbd"}
_NOTHING = {"none", "nothing", "no standard", "no label", "no number", "no"}


def is_not_known(text: str) -> bool:
    """Whether a text says only that it is not known, such as "?" or "n/a"."""
    plain = _plain(text)
    return plain in _NOT_KNOWN or not plain.strip("?-–— ")


def is_nothing(text: str) -> bool:
    """Whether a text says that there is none, such as "none" or "no standard"."""
    return _plain(text) in _NOTHING


def is_placeholder(text: str) -> bool:
    """Whether a text stands for no value: two such are not the same thing twice."""
    return is_not_known(text) or is_nothing(text)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
