"""Facts found by the words a person would use for them."""

import difflib
import re
from collections.abc import Iterable

from tintop.rules.facts import Fact

_SAME: tuple[frozenset[str], ...] = tuple(
    frozenset(group.split(", "))
    for group in (
        "weight, mass, weigh",
        "sticker, decal, sunstrip, banner, strip",
        "strap, webbing, loop",
        "tow, towing",
        "number, figures, numbers, digits",
        "belt, belts, harness",
        "extinguisher, bottle, fire",
        "kill, cut-off, isolator, isolate",
        "displacement, capacity",
        "exhaust, silencer, noise, outlet",
        "tank, fuel",
        "foot, feet, plate",
        "window, glazing, glass, screen",
        "ride height, clearance",
        "gloves, suit, overall, kit",
    )
)
_FILLING = {"the", "a", "an", "of", "on", "in", "for", "and", "door", "height", "width"}


def facts_with(words: str, facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """Give the facts that have every word, or one that means the same, in name, question, how or choices.

    Those named by the words stand first, then those that ask in them.
    """
    sought = _words(words)
    found = [fact for fact in facts if all(_has(_all_of(fact), word) for word in sought)]
    return tuple(sorted(found, key=lambda fact: _far(fact, sought)))


def facts_near(words: str, facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """Give the facts that have the most of the words that say something; none where none has any."""
    sought = [word for word in _words(words) if word not in _FILLING] or _words(words)
    counted = [(sum(_has(_asked(fact), word) for word in sought), fact) for fact in facts]
    most = max((count for count, _ in counted), default=0)
    near = [fact for count, fact in counted if count == most > 0]
    return tuple(sorted(near, key=lambda fact: _far(fact, sought)))


def words_near(words: str, facts: Iterable[Fact]) -> tuple[str, ...]:
    """Give words the facts do have that are spelt much as a word nobody has."""
    known = sorted({word for fact in facts for word in re.findall(r"[a-z-]{3,}", _all_of(fact))})
    texts = " ".join(known)
    unknown = [word for word in _words(words) if not _has(texts, word)]
    near = (difflib.get_close_matches(word, known, n=3, cutoff=0.75) for word in unknown)
    return tuple(dict.fromkeys(one for found in near for one in found))


def _far(fact: Fact, sought: list[str]) -> int:
    """How far a fact is from being named by words: by its subject, its name, its question, or else."""
    places = (fact.name.partition(".")[0], fact.name, _asked(fact))
    return next(
        (far for far, place in enumerate(places) if sought and any(_has(place, word) for word in sought)),
        len(places),
    )


def _words(text: str) -> list[str]:
    return text.casefold().replace("_", " ").split()


def _has(text: str, word: str) -> bool:
    alike = [group for group in _SAME if word in group or word.removesuffix("s") in group]
    return any(one in text for one in {word, *(other for group in alike for other in group)})


def _asked(fact: Fact) -> str:
    return f"{fact.name.replace('_', ' ')} {fact.name} {fact.ask}".casefold()


def _all_of(fact: Fact) -> str:
    return f"{_asked(fact)} {fact.how} {' '.join((*fact.choices, *fact.each))}".casefold()
