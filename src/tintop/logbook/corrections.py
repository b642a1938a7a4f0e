"""Which entries have fallen to a correction, and to which one."""

from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """An entry that corrects another; a withdrawal takes it back, any other takes its place."""

    number: int
    corrects: int
    is_withdrawal: bool


def fallen_to(corrections: Iterable[Correction]) -> dict[int, int]:
    """By the number of every fallen entry, the number of the standing one it fell to.

    What takes the place of a correction takes the place of all that one stood for; a withdrawal takes back
    one entry alone, and what that had felled stands again.
    """
    by_number = {each.number: each for each in corrections}
    fallen: dict[int, int] = {}
    for number in sorted(by_number, reverse=True):
        if number in fallen:
            continue
        each = by_number[number]
        fallen.setdefault(each.corrects, number)
        while not each.is_withdrawal and each.corrects in by_number and each.corrects < each.number:
            each = replace(by_number[each.corrects], is_withdrawal=False)
            fallen.setdefault(each.corrects, number)
    return fallen
