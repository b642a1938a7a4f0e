"""From what was written and the class defaults to every number, each with how it is known."""

import re
from collections.abc import Mapping
from dataclasses import fields
from typing import Any, TypeVar

from tintop.errors import BadInput, Problem
from tintop.known import Known, Origin
from tintop.store.documents.defaults import Default, plain_uncertainty
from tintop.store.documents.text import Document
from tintop.store.documents.written import Written
from tintop.units import display_unit, format_quantity

_Part = TypeVar("_Part")
_RANGE = re.compile(r"(-?[0-9.]+(?:e[+-]?[0-9]+)?) to (-?[0-9.]+(?:e[+-]?[0-9]+)?)(?: .*)?")


def as_known(written: Written, kind: str) -> Known:
    """Say how a written value is known: estimated, with its kind's uncertainty, where nothing is said."""
    uncertainty, note = written.uncertainty, written.note
    if uncertainty is None:
        uncertainty = plain_uncertainty(kind, written.value)
        note = note or "written without an uncertainty: that of its kind of quantity is taken"
    return Known(
        value=written.value,
        uncertainty=uncertainty,
        origin=written.origin or Origin.ESTIMATED,
        note=note,
        source=written.source,
    )


class Numbers:
    """Numbers by path, resolved once each; `problems` collects what the parts refuse."""

    def __init__(
        self,
        document: Document,
        written: Mapping[str, tuple[Written, str]],
        defaults: Mapping[str, Default],
        kinds: Mapping[str, str],
    ) -> None:
        self.document = document
        self.written = dict(written)
        self.defaults = dict(defaults)
        self.kinds = dict(kinds)
        self.known: dict[str, Known] = {}
        self.problems: list[Problem] = []

    def has(self, path: str) -> bool:
        """Whether the document or the defaults hold the number."""
        return path in self.known or path in self.written or path in self.defaults

    def get(self, path: str) -> float:
        """Give a number in SI."""
        if path not in self.known:
            self.known[path] = self._resolve(path)
        return self.known[path].value

    def _resolve(self, path: str) -> Known:
        if path in self.written:
            return as_known(self.written[path][0], self.kinds[path])
        return self.assumed(path)

    def assumed(self, path: str) -> Known:
        """Give the class default of a number, grown to this car's size."""
        default = self.defaults[path]
        scale = 1.0
        note = "class default"
        if default.scales_with and self.has(default.scales_with):
            scale = max(self.get(default.scales_with) / default.at, 0.0) ** default.power
            note = f"class default: {default.text} at {default.scales_with} {default.at_text}"
        return Known(
            value=default.value * scale,
            uncertainty=default.uncertainty * scale,
            origin=Origin.ASSUMED,
            note=note,
            source=default.source,
        )

    def take(self, path: str, known: Known) -> None:
        """Set a number that follows from others."""
        self.known[path] = known

    def part(self, kind_of_part: type[_Part], prefix: str, **given: Any) -> _Part | None:
        """Build a part of the car or event from the numbers below a prefix.

        A refused number is noted in `problems` and replaced by its default to find the next; a part that
        cannot be built at all is None.
        """
        names = [field.name for field in fields(kind_of_part) if field.name not in given]  # type: ignore[arg-type]
        values = {name: self.get(f"{prefix}.{name}") for name in names if self.has(f"{prefix}.{name}")}
        for _ in range(len(names) + 1):
            try:
                return kind_of_part(**values, **given)
            except BadInput as error:
                name = self._note(error.problems[0], prefix, [*names, *given])
                path = f"{prefix}.{name}"
                if name not in values or path not in self.written or path not in self.defaults:
                    return None
                try:
                    values[name] = self.assumed(path).value
                except KeyError:
                    return None
        return None

    def _note(self, problem: Problem, prefix: str, names: list[str]) -> str:
        name = _named(problem.where, names)
        path = f"{prefix}.{name}" if name else prefix
        found, expected, cure = problem.found, problem.expected, problem.cure
        if path in self.written:
            written, place = self.written[path]
            found = f"{written.text!r}"
            expected = in_usual_unit(expected, self.kinds[path])
        elif path in self.defaults:
            place = path
            follows = self.defaults[path].scales_with
            if follows and self.problems:
                return name  # what it follows has been refused already
            found = f"{found} from the class default" + (f", which follows {follows}" if follows else "")
            cure = "State this field: the class default does not fit this car."
        else:
            place = path
        self.problems.append(self.document.problem(place, found, expected, cure))
        return name


def _named(where: str, names: list[str]) -> str:
    """The field that a part names, as its path or in words; empty where it names none."""
    words: list[str] = [word for word in re.findall(r"\w+", where) if word in names]
    if words:
        return words[-1]
    plain = re.sub(r"[ ,]+", "_", where)
    return max((name for name in names if plain.endswith(name)), key=len, default="")


def in_usual_unit(expected: str, kind: str) -> str:
    """Rewrite an expected range from SI to the unit the kind is usually written in."""
    match = _RANGE.fullmatch(expected)
    if match is None:
        return expected
    unit = display_unit(kind)
    low, high = (format_quantity(float(number), unit, quantity=kind) for number in match.groups())
    return f"{low} to {high}"
