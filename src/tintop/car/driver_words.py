"""What the driver said of the car, read from his own words: where in the corner, how fast, what it did."""

import re
from collections.abc import Iterable, Sequence

from tintop.car.treads import Feel, Pace, Phase, Said
from tintop.errors import did_you_mean, refuse

WHERE = {Phase.ENTRY: "on the way in", Phase.MID: "in mid-corner", Phase.EXIT: "on the way out"}
_EXPECTED = (
    "where (entry, mid, exit), slow, fast or neither, and understeer (push), oversteer (loose) or fine"
)
_SUCH_AS = 'Such as "understeers mid, fine out" or "loose on exit in slow corners".'
_PHRASES = (
    (r"\b(?:turn(?:ing)?|way|going|coming)[ -]in\b|\b(?:under|on the) brak(?:es|ing)\b", " entry "),
    (r"\b(?:way|coming|going)[ -]out\b|\b(?:on|under|with)(?: the)? (?:power|throttle|gas)\b", " exit "),
    (r"\bmid(?:dle)?[ -]?(?:of (?:the )?)?corners?\b", " mid "),
    (r"\b(?:steps|tail|back|rear)(?: (?:steps|goes|comes|is|hangs))? out\b|\btail[ -]happy\b", " oversteer "),
    (r"\b(?:runs|goes|washes) (?:wide|out)\b|\b(?:won't|wont|does not|doesn't) turn\b", " understeer "),
    (r"\bno (?:problem|complaint|trouble)s?\b|\ball right\b", " fine "),
    (r"\b(?:low|slow)[ -]speed\b", " slow "),
    (r"\b(?:high|fast)[ -]speed\b", " fast "),
    (
        r"\bin (?=(?:the |all )?(?:slow|fast|quick|mid|entry|exit|corner|hairpin|sweeper|bend))",
        " ",
    ),
)
_WORDS: dict[str, tuple[str, ...]] = {
    "entry": ("in", "turn-in", "into", "braking", "entering"),
    "mid": ("middle", "apex", "mid-corner", "midcorner", "centre"),
    "exit": ("out", "exits", "exiting", "power", "throttle"),
    "understeer": (
        "push",
        "pushes",
        "pushing",
        "pushy",
        "understeers",
        "understeering",
        "understeery",
        "ploughs",
    ),
    "oversteer": ("loose", "oversteers", "oversteering", "snaps", "snappy", "spins"),
    "fine": ("good", "ok", "okay", "neutral", "balanced", "happy", "nice"),
    "slow": ("slower", "hairpin", "hairpins"),
    "fast": ("quick", "quicker", "faster", "sweeper", "sweepers"),
}
_SAME = {other: word for word, others in _WORDS.items() for other in others}
_FILLERS = frozenset(
    ("a", "all", "at", "bit", "car", "corner", "corners", "bends", "bend", "every", "everywhere", "from",
     "gets", "goes", "i", "is", "it", "it's", "little", "more", "of", "on", "the", "through", "to", "under",
     "very", "when", "with")
)  # fmt: skip
_KNOWN: dict[str, Phase | Pace | Feel] = {
    each.value: each for kind in (Phase, Pace, Feel) for each in kind if each.value
}


def said_from(texts: Sequence[str]) -> tuple[Said, ...]:
    """Read the driver's words, each such as "understeers mid, fine out"; BadInput for what is none of them.

    "Fine" alone stands for all three places; a part that names only a place goes on with what was said last.
    """
    return tuple(said for text in texts for said in _said(text))


def said_words(said: Iterable[Said]) -> str:
    """What was understood, such as "understeer in mid-corner; fine on the way out"."""
    return "; ".join(
        f"{one.feel.value} {WHERE[one.phase]}" + (f" of {one.pace.value} corners" if one.pace.value else "")
        for one in said
    )


def _said(text: str) -> tuple[Said, ...]:
    plain = text.casefold().replace("\u2019", "'")
    for pattern, word in _PHRASES:
        plain = re.sub(pattern, word, plain)
    found: list[Said] = []
    for part in re.split(r"[,;.+/&]|\b(?:and|but|then)\b", plain):
        if part.strip():
            found += _part(part, text, found[-1].feel if found else None)
    if not found:
        raise refuse("driver's words", repr(text[:60]), _EXPECTED, _SUCH_AS)
    return tuple(found)


def _part(part: str, text: str, last: Feel | None) -> list[Said]:
    phases: list[Phase] = []
    paces: list[Pace] = []
    feels: list[Feel] = []
    for word in part.split():
        name = _SAME.get(word, word)
        if name in _FILLERS:
            continue
        match _KNOWN.get(name):
            case Phase() as phase:
                phases.append(phase)
            case Pace() as pace:
                paces.append(pace)
            case Feel() as feel:
                feels.append(feel)
            case _:
                near = did_you_mean(word, (*_KNOWN, *_SAME))
                raise refuse("driver's words", repr(word[:40]), _EXPECTED, near or _SUCH_AS)
    if not feels and last is not None:
        feels = [last]
    if feels == [Feel.FINE] and not phases:
        phases = list(Phase)
    if len(set(feels)) != 1 or not phases or len(set(paces)) > 1:
        raise refuse("driver's words", repr(text[:60]), _EXPECTED, _SUCH_AS)
    pace = paces[0] if paces else Pace.ANY
    return [Said(phase=phase, feel=feels[0], pace=pace) for phase in dict.fromkeys(phases)]
