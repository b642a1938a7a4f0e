"""A rule book to its value, and every way in which one may be wrong, with the line it is wrong in."""

from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rule_texts import FACTS, FIRST_LINES, book, clause
from tintop.errors import BadInput
from tintop.rules.book import (
    Expiry,
    ExpiryKind,
    Holds,
    Limits,
    ListedTubes,
    OneOf,
    Read,
    Severity,
    Shown,
    TubeRow,
)
from tintop.rules.evidence import Form
from tintop.rules.expression import Amount, Call, Compared, Denied, Named
from tintop.rules.facts import FactKey, Tube
from tintop.store.rule_books.document import book_text
from tintop.store.rule_books.reader import MOST_CLAUSES, rule_book_from

LIMIT = 'value = "test.height"\nat_least = "230 mm"'
EXPIRES = "\n[clause.expires]\n"
LABEL_EXPIRES = EXPIRES + 'kind = "as the label says"\nmarked = "test.label"'


def read(text, facts=None):
    return rule_book_from(book_text(text, "harrow.toml"), facts or {})


def problems(text):
    with pytest.raises(BadInput) as refused:
        read(text)
    return refused.value.problems


def line_of(text, words):
    return text[: text.index(words)].count("\n") + 1


def read_check(fields):
    return read(book(clause(fields))).clauses[0].check


def test_the_head_is_read():
    harrow = read(book(clause(LIMIT)))
    assert (harrow.id, harrow.title, harrow.edition) == ("harrow", "Harrow Down series", "2026")
    assert (harrow.valid_from, harrow.valid_to) == (date(2026, 1, 1), date(2026, 12, 31))
    assert harrow.cautions == ("A working aid, never the regulations.",)
    assert harrow.builds_on == ()
    assert harrow.name == "harrow.toml"
    assert [fact.name for fact in harrow.facts][:2] == ["test.height", "test.strap"]
    assert not harrow.is_own_copy and not harrow.is_partial


def test_a_book_may_say_that_it_holds_only_some_figures():
    assert read(book(clause(LIMIT)).replace("valid_to", "partial = true\nvalid_to", 1)).is_partial
    (problem,) = problems(book(clause(LIMIT)).replace("valid_to", 'partial = "some"\nvalid_to', 1))
    assert "book.partial" in problem.where


def test_the_digest_is_of_the_text():
    one, same, other = (read(text) for text in (book(), book(), book() + "\n"))
    assert one.digest == same.digest != other.digest


def test_a_clause_is_read_with_all_its_fields():
    text = book(
        clause(
            LIMIT
            + '\nsource = "Year book"\napplies_if = "test.is_armed"'
            + '\nproof = ["measurement", "photograph"]'
            + "\nphotograph = true\nrenewed_after_accident = true"
            + '\ncaution = "Mind the edge."\ncure = "Larger."'
            + '\nverified_on = 2026-02-01\nverified_by = "Robin"',
            known="memory",
        )
    )
    (found,) = read(text).clauses
    assert found.check == Limits(
        value=Named("test.height"), at_least=Amount(pytest.approx(0.23), "length", "230 mm")
    )
    assert found.applies_if == Named("test.is_armed")
    assert found.facts == ("test.height", "test.is_armed")
    assert found.proof == (Form.MEASUREMENT, Form.PHOTOGRAPH)
    assert found.wants_photograph
    assert found.renewed_after_accident
    assert (found.severity, found.read, found.is_verified) == (Severity.MEND, Read.MEMORY, True)
    assert found.line == line_of(text, "[[clause]]")
    assert (found.caution, found.cure, found.source) == ("Mind the edge.", "Larger.", "Year book")


def test_limits_are_expressions_or_plain_numbers():
    check = read_check('value = "share(test.mass, 1000 kg)"\nat_most = 1.25\nrecommended_at_most = 1')
    assert check.at_most == Amount(1.25, "number", "1.25")
    assert check.recommended_at_most == Amount(1.0, "number", "1")
    check = read_check('value = "test.height"\nat_least = "max(230 mm, 2 * wall(test.hoop))"')
    assert isinstance(check.at_least, Call)


def test_every_kind_of_check_is_read():
    assert read_check('holds = "test.height > 3 mm"\nrecommended = "not test.is_armed"') == Holds(
        holds=Compared(">", Named("test.height"), Amount(pytest.approx(0.003), "length", "3 mm")),
        recommended=Denied(Named("test.is_armed")),
    )
    assert read_check('recommended = "test.is_armed"') == Holds(recommended=Named("test.is_armed"))
    assert read_check('value = "test.standard"\none_of = ["A-2020"]') == OneOf(
        value=Named("test.standard"), words=("A-2020",)
    )
    assert read_check('shown = ["test.strap[left]", "test.hoop"]') == Shown(
        facts=(FactKey("test.strap", "left"), FactKey("test.hoop"))
    )


def test_listed_tubes_are_read_metric_and_inch():
    tubes = ("45 x 2.5 mm", "1.75 x 0.095 in")
    check = read_check('tube = "test.hoop"\ntubes = ["45 x 2.5 mm", "1.75 x 0.095 in"]')
    assert check == ListedTubes(
        tube=Named("test.hoop"),
        rows=(
            TubeRow(
                up_to=None,
                tubes=(Tube(diameter=0.045, wall=0.0025), Tube(diameter=1.75 * 0.0254, wall=0.095 * 0.0254)),
                written=tubes,
            ),
        ),
    )


def test_rows_of_tubes_are_read_by_a_quantity():
    check = read_check(
        'tube = "test.hoop"\nby = "test.mass"\nrows = [\n'
        ' { up_to = "1700 lb", tubes = ["1.375 x 0.080 in"] },\n'
        ' { up_to = "2699 lb", tubes = ["1.5 x 0.095 in", "1.625 x 0.08 in"] },\n'
        ' { tubes = ["1.75 x 0.095 in"] },\n]'
    )
    assert check.by == Named("test.mass")
    assert [row.up_to and row.up_to.written for row in check.rows] == ["1700 lb", "2699 lb", None]
    assert [len(row.tubes) for row in check.rows] == [1, 2, 1]


EXPIRY_FIELDS = {
    ExpiryKind.LABEL_YEAR: 'marked = "test.label"\nyears = 5',
    ExpiryKind.YEAR_MADE: 'marked = "test.label"\nyears = 5',
    ExpiryKind.MONTH_MADE: 'marked = "test.label"\nyears = 5',
    ExpiryKind.TO_THE_DAY: 'marked = "test.label"\nmonths = 24\nearliest_of = ["test.label"]',
    ExpiryKind.MONTH_END: 'marked = "test.label"\nmonths = 24',
    ExpiryKind.EXTENDABLE: 'marked = "test.label"\nyears = 5\n'
    'extended_from = "test.label"\nextension_years = 2',
    ExpiryKind.WITHDRAWN: 'standard = "test.standard"\n'
    'until = { "A-2015" = 2023-12-31, "A-2020" = "no end" }',
    ExpiryKind.LABEL_DAY: 'marked = "test.label"',
    ExpiryKind.NO_LIFE: 'marked = "test.is_armed"',
    ExpiryKind.HOMOLOGATION_END: 'marked = "test.label"',
    ExpiryKind.LABEL_THERE: 'marked = "test.label"',
}


@pytest.mark.parametrize("kind", ExpiryKind)
def test_all_eleven_forms_of_expiry_can_be_named(kind):
    check = read_check(f'{EXPIRES}kind = "{kind}"\n{EXPIRY_FIELDS[kind]}')
    assert isinstance(check, Expiry)
    assert check.kind is kind
    if kind is ExpiryKind.WITHDRAWN:
        assert check.until == {"A-2015": date(2023, 12, 31), "A-2020": None}


@pytest.mark.parametrize("kind", ExpiryKind)
def test_an_expiry_without_a_field_it_needs_is_refused_in_its_line(kind):
    lines = EXPIRY_FIELDS[kind].split("\n")
    optional = {"earliest_of", "years"} if kind is ExpiryKind.LABEL_YEAR else {"earliest_of"}
    for line in filter(None, lines):
        field = line.partition(" ")[0]
        if field in optional:
            continue
        text = book(clause(f'{EXPIRES}kind = "{kind}"\n' + "\n".join(one for one in lines if one != line)))
        found = problems(text)
        assert any(field in problem.where and problem.found == "nothing" for problem in found), (kind, field)
        assert all(f"line {line_of(text, '[clause.expires]')}" in problem.where for problem in found)


def test_a_clause_that_waives_has_no_check():
    (found,) = read(book(clause('waives = "international:strap"'))).clauses
    assert (found.act, found.on, found.check) == ("waives", "international:strap", None)


WRONG = {  # the fields of a clause, the words in which it is refused, and the words its line bears
    "a misspelt field": ('vlaue = "test.height"\nat_least = "1 mm"', "Did you mean value?", "vlaue"),
    "a misspelt fact": (
        'value = "test.hieght"\nat_least = "1 mm"',
        "character 1: found the fact 'test.hieght'",
        "value",
    ),
    "a fact in the middle": (
        'value = "3 * test.hieght"\nat_least = "1 mm"',
        "character 5: found the fact 'test.hieght'; "
        "expected a fact that is declared. Did you mean test.height?",
        "value",
    ),
    "a check that refers to nothing": ('shown = ["nothing.here"]', "the fact 'nothing.here'", "shown"),
    "an unknown function": (
        'value = "anlge_below(test.strap, test.strap)"\nat_most = "45 deg"',
        "Did you mean angle_below?",
        "value",
    ),
    "an instance there is not": ('shown = ["test.strap[middle]"]', "expected one of left, right", "shown"),
    "an instance of one": ('shown = ["test.hoop[left]"]', "test.hoop alone", "shown"),
    "a unit of another quantity": (
        'value = "test.height"\nat_least = "230 kg"',
        "a length beside a mass",
        "at_least",
    ),
    "no unit": ('value = "test.height"\nat_least = 230', "without a unit beside a length", "at_least"),
    "an unknown unit": ('value = "test.height"\nat_least = "230 mms"', "Did you mean mm?", "at_least"),
    "a sum of two kinds": (
        'value = "test.height + test.mass"\nat_least = "1 mm"',
        "figures of one kind to add",
        "value",
    ),
    "an expression that runs code": (
        "holds = \"__import__('os').system('x')\"",
        "nothing in it is ever run",
        "holds",
    ),
    "a condition that is a number": ('holds = "test.height"', "a condition", "holds"),
    "a condition of when it applies that is none": (
        LIMIT + '\napplies_if = "3 mm"',
        "a condition",
        "applies_if",
    ),
    "a value that is a condition": (
        'value = "test.is_armed"\nat_least = 1',
        "a number with its unit",
        "at_least",
    ),
    "no check": ('cure = "x"', "found no check", "[[clause]]"),
    "two checks": (LIMIT + '\nshown = ["test.hoop"]', "found 2 checks (value, shown)", "[[clause]]"),
    "a check and an expiry": (LIMIT + LABEL_EXPIRES, "2 checks (value, expires)", "[[clause]]"),
    "a value without a limit": ('value = "test.height"', "a value without a limit", "value"),
    "limits and words": (
        'value = "test.standard"\nat_least = 1\none_of = ["A-2015"]',
        "limits and one_of",
        "value",
    ),
    "a limit beside a condition": (
        'holds = "test.is_armed"\nat_least = "1 mm"',
        "at_least beside value alone",
        "at_least",
    ),
    "limits that cross": (
        'value = "test.height"\nat_least = "5 mm"\nat_most = "3 mm"',
        "at_least 5 mm above at_most 3 mm",
        "at_least",
    ),
    "words of a number": ('value = "test.height"\none_of = ["A"]', "text or choice beside one_of", "value"),
    "a word that is no choice": (
        'value = "test.standard"\none_of = ["A-2019"]',
        "one of A-2015, A-2020",
        "one_of",
    ),
    "a list where an expression belongs": (
        "value = [1, 2]\nat_least = 1",
        "an expression in quotes",
        "value",
    ),
    "a truth where an expression belongs": ("value = true\nat_least = 1", "an expression in quotes", "value"),
    "an infinite limit": ('value = "test.height"\nat_least = inf', "Infinity", "at_least"),
    "an unknown group": (LIMIT.replace("value", 'group = "x"\nvalue'), "a key written twice", None),
    "an unknown form of proof": (LIMIT + '\nproof = ["measurment"]', "Did you mean measurement?", "proof"),
    "a proof that is no list": (LIMIT + '\nproof = "measurement"', 'Write proof = ["measurement"].', "proof"),
    "a tube that is none": ('tube = "test.hoop"\ntubes = ["45 mm"]', "'45 mm'", "tubes"),
    "a tube thicker than itself": (
        'tube = "test.hoop"\ntubes = ["4 x 2.5 mm"]',
        "half the diameter",
        "tubes",
    ),
    "a tube without a unit": ('tube = "test.hoop"\ntubes = ["45 x 2.5"]', "'45 x 2.5'", "tubes"),
    "a tube in kilograms": ('tube = "test.hoop"\ntubes = ["45 x 2.5 kg"]', "mass", "tubes"),
    "a length as a tube": ('tube = "test.height"\ntubes = ["45 x 2.5 mm"]', "a fact of kind tube", "tube"),
    "a tube without a list": ('tube = "test.hoop"', "either tubes, or by and rows", "tube"),
    "rows without a quantity": (
        'tube = "test.hoop"\nrows = [{ tubes = ["45 x 2.5 mm"] }]',
        "either tubes, or by and rows",
        "tube",
    ),
    "rows out of order": (
        'tube = "test.hoop"\nby = "test.mass"\nrows = [{ up_to = "900 kg", tubes = ["45 x 2 mm"] },'
        ' { up_to = "800 kg", tubes = ["45 x 2.5 mm"] }]',
        "up to 800 kg after up to 900 kg",
        "rows",
    ),
    "a row for any before the last": (
        'tube = "test.hoop"\nby = "test.mass"\nrows = [{ tubes = ["45 x 2 mm"] },'
        ' { up_to = "800 kg", tubes = ["45 x 2.5 mm"] }]',
        "up_to in every row but the last",
        "rows",
    ),
    "a row of another quantity": (
        'tube = "test.hoop"\nby = "test.mass"\nrows = [{ up_to = "900 mm", tubes = ["45 x 2 mm"] }]',
        "a mass beside a length",
        "rows",
    ),
    "a row without tubes": (
        'tube = "test.hoop"\nby = "test.mass"\nrows = [{ up_to = "9 kg" }]',
        "pairs of diameter and wall",
        "rows",
    ),
    "an unknown kind of expiry": (
        EXPIRES + 'kind = "end of year"',
        "Did you mean end of the year made?",
        'kind = "end of year"',
    ),
    "an expiry of a number": (
        EXPIRES + 'kind = "as the label says"\nmarked = "test.height"',
        "a fact of kind marked date",
        "marked",
    ),
    "an expiry with a field of another": (
        LABEL_EXPIRES + "\nyears = 5",
        "years for kind as the label says",
        "years = 5",
    ),
    "a life of no years": (
        EXPIRES + 'kind = "end of the year made"\nmarked = "test.label"\nyears = 0',
        "from 1 to 100",
        "years = 0",
    ),
    "a life of half years": (
        EXPIRES + 'kind = "end of the year made"\nmarked = "test.label"\nyears = 2.5',
        "a whole number",
        "years = 2.5",
    ),
    "a field of the clause below its expiry": (
        LABEL_EXPIRES + '\ncure = "Renew it."',
        "write it above [clause.expires]",
        "cure",
    ),
    "a standard that is no choice": (
        EXPIRES
        + 'kind = "standard withdrawn"\nstandard = "test.standard"\nuntil = { "A-2016" = 2023-12-31 }',
        "'A-2016' for test.standard",
        "until",
    ),
    "an end that is no day": (
        EXPIRES + 'kind = "standard withdrawn"\nstandard = "test.standard"\nuntil = { "A-2015" = "never" }',
        "'never' for 'A-2015'",
        "until",
    ),
    "an end in quotes": (
        EXPIRES
        + 'kind = "standard withdrawn"\nstandard = "test.standard"\nuntil = { "A-2015" = "2023-12-31" }',
        "a day such as 2028-12-31 without quotes",
        "until",
    ),
    "two acts": (LIMIT + '\nreplaces = "a:b"\nwaives = "a:c"', "replaces and waives", "[[clause]]"),
    "an act on nothing": (LIMIT + '\nreplaces = "strap"', "book:clause of a book below", "replaces"),
    "a check beside waives": ('waives = "a:b"\n' + LIMIT, "waives alone", "[[clause]]"),
    "verified by nobody": (LIMIT + "\nverified_on = 2026-02-01", "both, or neither", "verified_on"),
    "verified on a text": (
        LIMIT + '\nverified_on = "2026-02-01"\nverified_by = "R"',
        "without quotes",
        "verified_on",
    ),
    "facts of two lists": ('holds = "x(test.strap) > x(test.wheel)"', "facts recorded for one list", "holds"),
    "a condition of another list": (
        'holds = "x(test.strap) > 1 mm"\napplies_if = "x(test.wheel) > 1 mm"',
        "facts recorded for one list",
        "[[clause]]",
    ),
    "a control character": (LIMIT + '\ncure = "a\\u0007b"', "control character", "cure"),
    "a text too long": (LIMIT + f'\ncure = "{"x" * 3000}"', "3,000 characters", "cure"),
}
WHEEL = """
[[fact]]
name = "test.wheel"
ask = "Wheel centre"
kind = "point"
station = "outside"
each = ["FL", "FR"]
"""


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong_in_a_clause_is_refused_with_its_line(case):
    fields, words, mark = WRONG[case]
    text = book(
        clause(LIMIT, id="first"), clause(fields, id="wrong"), clause(LIMIT, id="third"), facts=FACTS + WHEEL
    )
    found = problems(text)
    assert words in "\n".join(str(problem) for problem in found)
    (problem, *_) = [problem for problem in found if words in str(problem)]
    if mark is None:
        return
    start = text.index("[[clause]]", text.index('id = "first"'))
    line = (
        text.count("\n", 0, text.index(mark, start if mark == "[[clause]]" else text.index('id = "wrong"')))
        + 1
    )
    assert problem.where.startswith(f"harrow.toml line {line}, clause 'wrong'")


REQUIRED = ("id", "group", "title", "requirement", "reference", "severity", "known")


@pytest.mark.parametrize("field", REQUIRED)
@pytest.mark.parametrize("blank", [None, '""', '"  "'])
def test_a_clause_without_a_field_it_needs_is_refused(field, blank):
    lines = clause(LIMIT).split("\n")
    lines = [
        line if not line.startswith(f"{field} =") else (f"{field} = {blank}" if blank else "")
        for line in lines
    ]
    assert any(f", {field}" in problem.where for problem in problems(book("\n".join(lines))))


@pytest.mark.parametrize("known", ["read", "quoted"])
def test_a_figure_read_elsewhere_says_where(known):
    (problem,) = problems(book(clause(LIMIT, known=known)))
    assert "where the figure was read" in problem.expected
    assert read(book(clause(LIMIT + '\nsource = "Year book 2026"', known=known)))


HEADS = {
    "another name": ('id = "harrow"', 'id = "harow"', "Rename the file to harow.toml"),
    "no id": ('id = "harrow"', "", "book.id"),
    "a capital": ('id = "harrow"', 'id = "Harrow"', "small letters"),
    "a way out": ('id = "harrow"', 'id = "../harrow"', "small letters"),
    "dates in the wrong order": ("2026-12-31", "2025-12-31", "Swap the two days"),
    "a day in quotes": ("valid_to = 2026-12-31", 'valid_to = "2026-12-31"', "without quotes"),
    "a time of day": ("2026-12-31", "2026-12-31T12:00:00", "a day such as"),
    "a day that is none": ("2026-12-31", "2026-02-30", "not TOML"),
    "a year of another age": ("2026-12-31", "3026-12-31", "from 1900 to 2200"),
    "no first day": ("valid_from = 2026-01-01", "", "first day it is in force"),
    "no cautions": ('cautions = ["A working aid, never the regulations."]', "", "what is said wherever"),
    "a misspelt field": ("jurisdiction", "juristiction", "Did you mean jurisdiction?"),
    "a text for a list": ("valid_to", 'builds_on = "national"\nvalid_to', 'Write builds_on = ["national"].'),
    "a book twice": ("valid_to", 'builds_on = ["a", "a"]\nvalid_to', "each book once"),
    "a strange id": ("valid_to", 'builds_on = ["../a"]\nvalid_to', "ids of rule books"),
    "another table": ("[book]", "[clauses]\n[book]", "Did you mean clause?"),
    "the wrong brackets": ("[[fact]]", "[fact]", "[[...]]"),
}


@pytest.mark.parametrize("case", HEADS)
def test_what_is_wrong_in_the_head_is_refused(case):
    old, new, words = HEADS[case]
    text = book(
        clause(LIMIT),
        facts='\n[[fact]]\nname="test.height"\nask="H"\nkind="number"\nquantity="length"\nstation="outside"\n',
    )
    found = problems(text.replace(old, new, 1))
    assert words in "\n".join(str(problem) for problem in found)


def test_two_clauses_of_one_id_are_refused_with_both_lines():
    text = book(clause(LIMIT), clause(LIMIT, id="other"), clause(LIMIT))
    (problem,) = problems(text)
    first = line_of(text, "[[clause]]")
    assert f"used in line {first} already" in str(problem)
    second = text.count("\n", 0, text.rindex('id = "height"')) + 1
    assert f"line {second}," in problem.where


def test_all_problems_are_told_at_once():
    text = book(clause('value = "test.hieght"\nat_least = "1 mm"'), clause('holds = "3 +"', id="b"))
    found = problems(text.replace("2026-12-31", "2025-12-31").replace('unit = "mm"', 'unit = "kg"'))
    assert {problem.where.partition(", ")[2] for problem in found} == {
        "book.valid_to",
        "fact 'test.height', unit",
        "clause 'height', value, character 1",
        "clause 'b', holds, character 4",
    }


def test_a_flood_of_problems_is_cut_short():
    text = book(*(clause('value = "x.y"\nat_least = "1 mm"\nfoo = 1', id=f"c{n}") for n in range(500)))
    assert len(problems(text)) <= 60


HOSTILE = {
    "a long name in parts": FIRST_LINES + "a." * 500_000 + "b = 1\n",
    "a long table in parts": FIRST_LINES + "[" + "a . " * 500_000 + "b]\n",
    "a long list of facts": book(clause(f"shown = [{', '.join(repr(f'a.b{n}') for n in range(20_000))}]")),
    "a long list of words": book(
        clause(f'value = "test.standard"\none_of = [{", ".join(repr(f"A{n}") for n in range(20_000))}]')
    ),
    "many tables": "".join(f"[k{n}]\n" for n in range(20_000)),
    "too many clauses": book("[[clause]]\n" * (MOST_CLAUSES + 1)),
    "keys in the deep": FIRST_LINES + "a." * 900 + "b = 1\n",
    "a deep head": "[book" + ".a" * 900 + "]\nb = 1\n",
    "arrays in the deep": FIRST_LINES + "x = " + "[" * 200 + "]" * 200,
    "a line of blanks": FIRST_LINES + "x = [\n[" + " " * 200_000 + "1]]\n",
    "many names": FIRST_LINES + "".join(f"k{n} = 1\n" for n in range(20_000)),
    "a clause of many names": book(clause(LIMIT + "".join(f"\nk{n} = 1" for n in range(20_000)))),
    "clauses that are numbers": FIRST_LINES + "clause = [1, 2]\n",
    "a clause that is a text": FIRST_LINES.replace("[book]", 'clause = "x"\n[book]'),
    "a book that is a list": "book = []\n",
    "nothing but a clause": clause(LIMIT),
    "a long fact": book(clause(f'shown = ["{"a" * 1900}"]')),
    "a long unit": book(clause(f'value = "test.height"\nat_least = "1 {"m" * 900}"')),
    "a long tube": book(clause(f'tube = "test.hoop"\ntubes = ["{"4" * 1900} x 2 mm"]')),
    "a tube of signs": book(clause(f'tube = "test.hoop"\ntubes = ["{"x " * 900}"]')),
    "standards in the deep": book(
        clause(
            EXPIRES + 'kind = "standard withdrawn"\nstandard = "test.standard"\nuntil' + ".a" * 500 + " = 1"
        )
    ),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_book_is_refused_and_hangs_nothing(case):
    assert problems(HOSTILE[case])


def test_many_points_in_a_text_are_no_deep_name():
    text = "It ends. It goes on. " * 40
    (found,) = read(book(clause(LIMIT + f'\ncure = "{text}"\n# {text}'))).clauses
    assert found.cure == text


_LINES = st.sampled_from(
    [line for line in book(clause(LIMIT), clause(LABEL_EXPIRES, id="b")).split("\n") if line]
    + ["[[clause]]", "[clause.expires]", "[[fact]]", "[book]", "clause = 1", "x = {", "value = 3", "]", '"""']
    + ['rows = [{ up_to = "1 kg" }]', "until = { a = 1 }", "by = 1", "tube = 'test.hoop'", "shown = ['a', 1]"]
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.one_of(st.lists(_LINES, max_size=40).map("\n".join), st.text(max_size=200)))
def test_any_lines_are_read_or_refused(lines):
    try:
        read(FIRST_LINES + lines)
    except BadInput as refused:
        assert refused.problems


_WHOLE = book(
    clause(LIMIT),
    clause('tube = "test.hoop"\ntubes = ["45 x 2.5 mm"]', id="t"),
    clause(LABEL_EXPIRES, id="b"),
)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(_WHOLE)), st.integers(0, 12), st.text(max_size=6))
def test_a_book_damaged_anywhere_is_read_or_refused(start, length, instead):
    try:
        read(_WHOLE[:start] + instead + _WHOLE[start + length :])
    except BadInput as refused:
        assert refused.problems
