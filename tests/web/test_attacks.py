"""What somebody who is let in may still try: sending rubbish, reaching files, taking long."""

import io
import itertools
import struct
import zlib
from html import unescape

import pytest
from fastapi.testclient import TestClient
from PIL import Image, PngImagePlugin
from test_guard import routes

from tintop.logbook.entries import JobOpened, PaperAdded
from tintop.web import guard, uploads

FORM = {"Content-Type": "application/x-www-form-urlencoded"}


# -- uploads are bounded and are what they are -----------------------------------------------------------


def send(client: TestClient, content: bytes, name: str = "a.jpg", claimed: str = "image/jpeg", **typed: str):
    fields = {"key": "k", "about": "front-pads-1", "back": "/car", **typed}
    return client.post("/papers/originals", data=fields, files={"file": (name, content, claimed)})


def saved(kind: str, size: tuple[int, int] = (40, 30), mode: str = "RGB", **more) -> bytes:
    found = io.BytesIO()
    Image.new(mode, size).save(found, kind, **more)
    return found.getvalue()


def chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def bomb(width: int, height: int) -> bytes:
    """A PNG of few bytes that says it has many points."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")


def large(width: int, height: int) -> bytes:
    """A whole black PNG of so many points, a bit each, in a few kilobytes."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0))
    lines = zlib.compress(bytes(1 + -(-width // 8)) * height)
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", lines) + chunk(b"IEND", b"")


REFUSED = {
    "nothing": b"",
    "web page": b"<!doctype html><script>alert(1)</script>",
    "drawing with a script": b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "animation": saved("GIF"),
    "bitmap": saved("BMP"),
    "tiff": saved("TIFF"),
    "archive": b"PK\x03\x04" + b"\0" * 100,
    "program": b"\x7fELF" + b"\0" * 100,
    "pickle": b"\x80\x04\x95\x0b\x00\x00\x00\x00\x00\x00\x00\x8c\x05posix\x94.",
    "script before a PDF": b"<script>alert(1)</script>%PDF-1.4\n%%EOF",
    "PDF cut short": b"%PDF-1.4\n" + b"a" * 3000,
    "JPEG cut short": saved("JPEG", (400, 300))[:900],
    "PNG cut short": saved("PNG", (400, 300))[:-30],
    "head of a JPEG": b"\xff\xd8\xff",
    "head of a PNG": b"\x89PNG\r\n\x1a\n",
    "GIF that calls itself PNG": b"\x89PNG\r\n\x1a\n" + saved("GIF"),
    "bomb of 10^10 points": bomb(100_000, 100_000),
    "bomb of no height": bomb(60_000, 0),
    "whole, and just above the bound": large(60_001, 1000),
    "text that unpacks to much": saved("PNG")[:-12]
    + chunk(b"zTXt", b"a\0\0" + zlib.compress(b"a" * 5_000_000))
    + saved("PNG")[-12:],
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_no_whole_photograph_or_paper_is_refused_and_nothing_is_kept(garage, page, what):
    before = garage.book.last_number
    for name, claimed in (("a.jpg", "image/jpeg"), ("a.pdf", "application/pdf")):
        found = send(page, REFUSED[what], name, claimed, key=f"k {name}")
        assert found.status_code == 422, what
        assert "Traceback" not in found.text
    assert garage.book.last_number == before
    assert not garage.store.originals()
    assert not any((garage.folder / "originals").glob("*"))


def with_markup(kind: str) -> bytes:
    markup = b"<!doctype html><script>document.title='taken'</script>"
    if kind == "PNG":
        notes = PngImagePlugin.PngInfo()
        notes.add_text("Comment", markup.decode())
        return saved("PNG", pnginfo=notes) + markup
    if kind == "JPEG":
        return saved("JPEG", comment=markup) + markup
    return b"%PDF-1.4\n" + markup + b"\n%%EOF\n"


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "PDF"])
def test_a_picture_that_is_a_web_page_too_is_given_as_a_picture_alone(garage, page, kind):
    assert send(page, with_markup(kind), "page.html", "text/html").status_code == 303
    ((_, paper),) = garage.book.of(PaperAdded)
    found = page.get(f"/papers/originals/{paper.digest}", headers={"Accept": "text/html"})
    assert found.headers["content-type"] in ("image/png", "image/jpeg", "application/pdf")
    assert found.headers["x-content-type-options"] == "nosniff"
    assert "default-src 'none'" in found.headers["content-security-policy"]
    if kind == "PDF":
        assert found.headers["content-disposition"].startswith("attachment")
    else:
        small = page.get(f"/papers/originals/{paper.digest}/small")
        assert small.headers["content-type"] == "image/jpeg" and b"script" not in small.content


def several_pictures() -> bytes:
    """A JPEG of two pictures, as many phones make."""
    found = io.BytesIO()
    more = [Image.new("RGB", (40, 30))]
    Image.new("RGB", (40, 30)).save(found, "MPO", save_all=True, append_images=more)
    return found.getvalue()


def noted(*notes: bytes) -> bytes:
    """A JPEG with notes of a camera, each as twelve bytes."""
    tiff = b"Exif\0\0MM\0*\0\0\0\x08" + struct.pack(">H", len(notes)) + b"".join(notes)
    plain = saved("JPEG")
    return plain[:2] + b"\xff\xe1" + struct.pack(">H", len(tiff) + 2) + tiff + plain[2:]


TURNED = struct.pack(">HHIHH", 0x0112, 3, 1, 6, 0)
PHOTOGRAPHS = {
    "two pictures in one": several_pictures(),
    "turned, and words where a number belongs": noted(TURNED, struct.pack(">HHI", 0x011A, 2, 4) + b"abc\0"),
    "notes that point outside": noted(TURNED, struct.pack(">HHII", 0x011A, 5, 1, 9**9)),
    "notes without an end": noted(TURNED)[:80] + saved("JPEG")[2:],
    "notes of 60 kB": saved("JPEG", exif=b"Exif\0\0MM\0*" + b"\xff" * 60_000),
    "grey of sixteen bits": saved("PNG", mode="I;16"),
    "four inks": saved("JPEG", mode="CMYK"),
    "palette": saved("PNG", mode="P", transparency=0),
    "one point": saved("PNG", (1, 1)),
    "long and thin": saved("PNG", (30_000, 1)),
}


@pytest.mark.parametrize("what", PHOTOGRAPHS)
def test_an_odd_photograph_is_kept_and_shown_small(garage, page, what):
    assert send(page, PHOTOGRAPHS[what]).status_code == 303
    ((_, paper),) = garage.book.of(PaperAdded)
    small = page.get(f"/papers/originals/{paper.digest}/small")
    assert small.status_code == 200
    with Image.open(io.BytesIO(small.content)) as picture:
        assert picture.format == "JPEG" and max(picture.size) <= 480


def test_photographs_are_read_one_at_a_time(monkeypatch):
    held = []
    opened = Image.open

    def opening(*given, **named):
        held.append(uploads.ONE_PICTURE.locked())
        return opened(*given, **named)

    monkeypatch.setattr(Image, "open", opening)
    uploads.judged(saved("JPEG"))
    uploads.small_picture(saved("JPEG"))
    assert held == [True, True]


@pytest.mark.parametrize(
    "name",
    ["../../car.toml", "..\\car.toml", "/etc/passwd", "C:\\car.toml", "\x00", "a\r\nX: y", "..", "con"],
)
def test_the_name_of_an_upload_reaches_no_file(garage, page, name):
    before = {path: path.stat().st_mtime_ns for path in garage.folder.parent.rglob("*.toml")}
    assert send(page, saved("JPEG"), name).status_code == 303
    ((_, paper),) = garage.book.of(PaperAdded)
    assert not {"/", "\\", "\r", "\n", "\0"} & set(paper.name)
    assert [path.name for path in (garage.folder / "originals").iterdir()] == [paper.digest]
    assert {path: path.stat().st_mtime_ns for path in garage.folder.parent.rglob("*.toml")} == before
    found = page.get(f"/papers/originals/{paper.digest}")
    assert "x" not in found.headers and found.headers["content-disposition"].isascii()


def test_many_files_and_fields_in_one_upload_are_refused(garage, page):
    files = [("file", (f"{each}.jpg", b"a", "image/jpeg")) for each in range(1100)]
    assert page.post("/papers/originals", files=files).status_code == 400
    fields = {f"f{each}": "x" for each in range(1100)}
    assert page.post("/papers/originals", data=fields, files=files[:1]).status_code == 400
    assert not garage.store.originals()


# -- forms -------------------------------------------------------------------------------------------------


def test_ten_thousand_fields_are_refused_in_words(garage, page):
    before = garage.book.last_number
    for path in ("/costs", "/ready/jobs", "/events", "/car/parts/new"):
        body = "&".join(f"f{each}=x" for each in range(10_000))
        found = page.post(path, content=body, headers=FORM)
        assert found.status_code == 400
        assert "Found a form that cannot be read" in unescape(found.text)
    assert garage.book.last_number == before


@pytest.mark.parametrize(
    "body",
    [
        b"%",
        b"%zz=%zz",
        b"&&&&",
        b"=",
        b"a=b=c",
        b"what=%00&amount=%00",
        b"what=%ff%fe&amount=%c0%80",
        b"\x00\xff",
    ],
)
def test_a_malformed_form_is_refused_in_words(garage, page, body):
    before = garage.book.last_number
    for path in routes(garage, "post"):
        found = page.post(path, content=body, headers=FORM)
        assert found.status_code < 500, path
    new = garage.book.entries[before:]
    assert all(getattr(each.matter, "corrects", None) is None for each in new)


@pytest.mark.parametrize(
    "body",
    [
        b"--x\r\n\r\n--x--",
        b"--x\r\nContent-Disposition: form-data\r\n\r\na\r\n--x--\r\n",
        b'--x\r\nContent-Disposition: form-data; name="what"\r\n\r\nhalf',
        b"--y\r\n\r\n",
        b'--x\r\nContent-Disposition: form-data; name="file"; filename=""\r\n\r\n\r\n--x--\r\n',
        b"--x\r\n" + b"A: b\r\n" * 5000 + b"\r\n\r\n--x--\r\n",
        b'--x\r\nContent-Disposition: form-data; name="' + b"a" * 100_000 + b'"\r\n\r\na\r\n--x--\r\n',
    ],
)
def test_a_malformed_body_of_parts_is_refused_in_words(garage, page, body):
    before, kept = garage.book.last_number, garage.store.originals()
    for path in ("/costs", "/papers/originals", "/devices/codes", "/pair"):
        found = page.post(path, content=body, headers={"Content-Type": "multipart/form-data; boundary=x"})
        assert 400 <= found.status_code < 500, path
        assert "Traceback" not in found.text and "Exception" not in found.text
    assert (garage.book.last_number, garage.store.originals()) == (before, kept)


NUMBERS = ("-1", "0", "9" * 30, "9" * 5000, "1e9", "0x1", "٣", "NaN", "1.5", "%00", "' OR 1=1 --")


def test_a_number_that_is_none_leads_nowhere(garage, page):
    for number in NUMBERS:
        for path in (f"/history/{number}/correct", f"/car/entries/{number}"):
            assert page.get(path).status_code in (404, 422), path
        for path in (
            f"/history/{number}/withdraw",
            f"/history/{number}/correct",
            f"/car/entries/{number}",
            f"/costs/planned/{number}/paid",
        ):
            assert page.post(path, data={"key": "k", f"came_to_{number}": "5"}).status_code in (404, 422), (
                path
            )
        for path in (f"/history?number={number}", f"/history?page={number}", f"/costs?page={number}"):
            assert page.get(path).status_code in (200, 422), path
        assert page.get(f"/?saved={number}").status_code == 200
        planned = {"key": f"k{number}", "stands": number, "name": "Spring", "first_day": "2026-04-18"}
        assert page.post("/events/spring/plan", data=planned).status_code < 500
        sheet = {"key": f"s{number}", "seen": number, "laps": "3"}
        assert page.post("/events/midsummer/run-sheet/midsummer-race", data=sheet).status_code < 500
        assert page.post("/answers/quick/repeat", data={"number": number}).status_code == 422


# -- files --------------------------------------------------------------------------------------------------

CLIMBS = (
    "../car.toml",
    "..%2fcar.toml",
    "%2e%2e/%2e%2e/etc/passwd",
    "..%5ccar.toml",
    "/etc/passwd",
    "%2fetc%2fpasswd",
    "circuits%2f..%2f..%2fx.toml",
    "car.toml%00.csv",
    "originals/car.toml",
    "backup/car.toml",
    ".lock",
    "garage.db",
    "CAR.TOML",
    "con.toml",
    "a" * 3000,
    "car.toml/",
    "%F0%9F%98%80.toml",
)


def test_no_path_reaches_a_file(garage, page):
    (garage.folder.parent / "x.toml").write_text("secret = 1\n")
    for climb in CLIMBS:
        for stem in (
            "/documents/",
            "/circuits/",
            "/papers/originals/",
            "/static/",
            "/car/parts/",
            "/events/",
        ):
            found = page.get(stem + climb)
            assert found.status_code in (303, 307, 404, 422), stem + climb
            assert "secret" not in found.text
            if found.status_code in (303, 307):
                assert found.headers["location"].startswith(("/", "http://127.0.0.1:8080/"))


def test_no_new_document_lands_outside(garage, page):
    before = sorted(path for path in garage.folder.parent.rglob("*") if path.suffix == ".toml")
    for climb in (*CLIMBS, "events/../../x.toml", "../x.toml", "/tmp/x.toml"):
        found = page.post("/documents/new", data={"name": climb, "text": "a = 1\n"})
        assert found.status_code == 422, climb
    assert sorted(path for path in garage.folder.parent.rglob("*") if path.suffix == ".toml") == before


# -- words that take long ------------------------------------------------------------------------


def test_what_is_read_while_it_is_typed_takes_no_work_that_grows_out_of_hand(page):
    """Counted in steps of the interpreter, not in seconds."""
    import sys

    kinds = (
        "hot pressure",
        "pad thickness",
        "lap time",
        "lap times",
        "fuel",
        "money",
        "day",
        "clock",
        "minutes",
    )

    def steps(kind: str, text: str) -> int:
        from tintop.errors import BadInput
        from tintop.web.typed_form import hand_of
        from tintop.web.understanding import understand

        count = itertools.count()

        def trace(frame, event, arg):
            next(count)

        hand = hand_of(page.app.state.garage)
        sys.setprofile(trace)
        try:
            understand(kind, text, hand, "field")
        except BadInput:
            pass
        finally:
            sys.setprofile(None)
        return next(count)

    for kind in kinds:
        for letter in ("1", " 1", "1:", "-", ".", "a", "é"):
            short, long = (steps(kind, letter * many) for many in (500, 5000))
            assert long <= 20 * max(short, 500), (kind, letter)


def test_a_key_of_another_entry_writes_nothing_and_tells_nothing_new(garage, crew):
    ((entry, _),) = list(garage.book.of(JobOpened))[:1]
    before = garage.book.last_number
    found = crew.post("/costs", data={"what": "Fuel", "amount": "10", "key": entry.key})
    assert found.status_code in (303, 409, 422)
    assert garage.book.last_number == before


def test_the_bounds_agree():
    assert guard.LARGEST_UPLOAD >= uploads.LARGEST > guard.LARGEST_FORM > guard.LARGEST_PAIRING
