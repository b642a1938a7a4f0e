"""Words written where there is nothing to write: they stand for no value."""

import unicodedata

_NOT_KNOWN = {"", "?", "-", "–", "—", ".", "unknown", "not known", "n/a", "na", "tbc", "tbd"}
_FILLERS = "\u115f\u1160\u2800\u3164\uffa0"
_NOTHING = {"none", "nothing", "no standard", "no label", "no number", "no"}


def is_not_known(text: str) -> bool:
    """Whether a text says only that it is not known, such as "?" or "n/a"."""
    plain = _plain(text)
    return not is_visible(text) or plain in _NOT_KNOWN or not plain.strip("?-–— ")


def is_nothing(text: str) -> bool:
    """Whether a text says that there is none, such as "none" or "no standard"."""
    return _plain(text) in _NOTHING


def is_placeholder(text: str) -> bool:
    """Whether a text stands for no value: two such are not the same thing twice."""
    return is_not_known(text) or is_nothing(text)


def is_visible(text: str) -> bool:
    """Whether anything of a text can be seen: spaces, joiners, marks of direction and fillers cannot."""
    return any(
        one not in _FILLERS and unicodedata.category(one)[0] in "LNPS"
        for one in unicodedata.normalize("NFKC", text)
    )


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())
