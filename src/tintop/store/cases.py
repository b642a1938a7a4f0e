"""The published cases that are shipped with the product: TOML in `data/cases`, one `[[case]]` block each."""

import tomllib
from importlib.resources import files
from typing import Any

from tintop.errors import refuse
from tintop.proof.cases import Case, Tolerance

_FIELDS = {"id", "title", "source", "provenance", "run", "inputs", "expected", "tolerance"}


def read_cases() -> tuple[Case, ...]:
    """Give every published case, by file and in the order of the file.

    Raises BadInput for a block with a field too many or too few, or an id used twice.
    """
    folder = files("tintop") / "data" / "cases"
    cases: dict[str, Case] = {}
    for file in sorted(folder.iterdir(), key=lambda file: file.name):
        if not file.name.endswith(".toml"):
            continue
        for number, block in enumerate(tomllib.loads(file.read_text(encoding="utf-8"))["case"], start=1):
            where = f"{file.name} case {number} {block.get('id', '')}".rstrip()
            case = _case(block, where)
            if case.id in cases:
                raise refuse(where, "an id used before", "an id of its own")
            cases[case.id] = case
    return tuple(cases.values())


def _case(block: dict[str, Any], where: str) -> Case:
    found = set(block) - {"tolerances"}
    if found != _FIELDS:
        wrong = ", ".join(sorted(found ^ _FIELDS))
        raise refuse(where, f"missing or unknown: {wrong}", ", ".join(sorted(_FIELDS)))
    single = {name: Tolerance(**limits) for name, limits in block.get("tolerances", {}).items()}
    return Case(**{**block, "tolerance": Tolerance(**block["tolerance"]), "tolerances": single})
