"""Photographs and papers: judged by content, kept whole or not at all, given to those who may see them."""

import io
import struct
import zipfile
import zlib
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from test_car import MARKUP, words

from tintop.errors import BadInput
from tintop.logbook.entries import PaperAdded
from tintop.web.uploads import LARGEST, judged, plain_name, small_picture

PDF = b"%PDF-1.4\n1 0 obj<</Type/Catalog>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"


def picture(kind: str = "JPEG", size: tuple[int, int] = (40, 30)) -> bytes:
    found = io.BytesIO()
    Image.new("RGB", size, "#0b5f9e").save(found, kind)
    return found.getvalue()


def send(page, content: bytes, name: str = "pads.jpg", claimed: str = "image/jpeg", **more: str):
    typed = {"key": "k", "about": "front-pads-1", "back": "/car/parts/front-pads-1", **more}
    return page.post("/papers/originals", data=typed, files={"file": (name, content, claimed)})


def papers(garage) -> list[PaperAdded]:
    return [paper for _, paper in garage.book.of(PaperAdded)]


@pytest.mark.parametrize(
    ("content", "kind"), [(picture(), "image/jpeg"), (picture("PNG"), "image/png"), (PDF, "application/pdf")]
)
def test_a_photograph_or_paper_is_kept_and_given_back_as_it_came(garage, page, content, kind):
    saved = send(page, content, claimed="text/html", name="../../évidence <b>.jpg")
    assert saved.status_code == 303
    assert saved.headers["location"].startswith("/car/parts/front-pads-1?saved=")
    (paper,) = papers(garage)
    assert paper.digest == sha256(content).hexdigest()
    assert (paper.media_type, paper.size, paper.about) == (kind, len(content), "front-pads-1")
    assert paper.name == "évidence <b>.jpg"
    found = page.get(f"/papers/originals/{paper.digest}")
    assert found.content == content
    assert found.headers["content-type"] == kind
    assert found.headers["x-content-type-options"] == "nosniff"
    way = "attachment" if kind == "application/pdf" else "inline"
    assert found.headers["content-disposition"] == f"{way}; filename*=UTF-8''%C3%A9vidence%20%3Cb%3E.jpg"
    assert f"/papers/originals/{paper.digest}" in page.get("/car/parts/front-pads-1").text


def test_a_small_picture_is_upright_and_says_nothing_of_where_it_was_taken(garage, page):
    big = Image.new("RGB", (2000, 1000), "#0b5f9e")
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned by a quarter
    exif[0x010F] = "a camera"
    found = io.BytesIO()
    big.save(found, "JPEG", exif=exif)
    send(page, found.getvalue())
    (paper,) = papers(garage)
    small = page.get(f"/papers/originals/{paper.digest}/small").content
    with Image.open(io.BytesIO(small)) as shown:
        assert (shown.width, shown.height) == (240, 480)
        assert not shown.getexif()


def test_anything_else_is_refused_and_nothing_is_kept(garage, page):
    for content, sentence in (
        (b"", "nothing in it"),
        (b"<html><script>alert(1)</script></html>", "something else, whatever its name says"),
        (b"GIF89a" + bytes(50), "something else"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "something else"),
        (picture()[:300], "a picture that cannot be read"),
        (b"\xff\xd8\xff" + bytes(200), "a picture that cannot be read"),
        (b"\x89PNG\r\n\x1a\n" + bytes(200), "a picture that cannot be read"),
        (PDF[:30], "a PDF that is cut short"),
        (b"PK\x03\x04" + bytes(99), "something else"),
    ):
        before = garage.book.last_number
        answer = send(page, content)
        assert answer.status_code == 422
        assert sentence in words(answer.text)
        assert garage.book.last_number == before
        folder = garage.folder / "originals"
        assert not folder.exists() or not list(folder.iterdir())


def _sized_png(width: int, height: int) -> bytes:
    """A PNG whose head promises more points than its few bytes hold."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return (
            struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _zip() -> bytes:
    found = io.BytesIO()
    with zipfile.ZipFile(found, "w") as packed:
        packed.writestr("pads.jpg", picture())
    return found.getvalue()


_HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(400)
_WRONG_PNG = picture("PNG", (300, 200))[:60] + b"wrong" + picture("PNG", (300, 200))[65:]


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (picture(size=(640, 480))[:-900], "a picture that cannot be read"),
        (_WRONG_PNG, "a picture that cannot be read"),
        (_zip(), "something else, whatever its name says"),
        (_HEIC, "the phone's own format (HEIC or AVIF)"),
        (_sized_png(20_000, 20_000), "far too many points"),
        (_sized_png(9_000, 8_000), "million points at most"),
    ],
    ids=["cut short", "wrong bytes", "zip named .jpg", "HEIC", "a bomb", "a small bomb"],
)
def test_what_is_damaged_or_pretends_is_refused_plainly_and_nothing_is_kept(garage, page, content, sentence):
    before = garage.book.last_number
    answer = send(page, content)
    assert answer.status_code == 422
    assert sentence in words(answer.text)
    assert "Traceback" not in answer.text
    assert garage.book.last_number == before
    folder = garage.folder / "originals"
    assert not folder.exists() or not list(folder.iterdir())


_WHOLE = {kind: picture(kind, (64, 48)) for kind in ("JPEG", "PNG")}


@given(
    kind=st.sampled_from(sorted(_WHOLE)),
    wrong=st.lists(st.tuples(st.integers(3, 10_000), st.integers(0, 255)), min_size=1, max_size=6),
    cut=st.integers(0, 10_000),
)
def test_whatever_is_damaged_a_sentence_comes_or_the_picture_opens(kind, wrong, cut):
    content = bytearray(_WHOLE[kind])
    for place, byte in wrong:
        content[place % len(content)] = byte
    content = content[: max(cut % (2 * len(content)), 1)]
    try:
        assert judged(bytes(content)) in ("image/jpeg", "image/png")
    except BadInput as error:
        assert "found" in str(error) and "expected" in str(error)


def test_a_hundred_megabytes_are_turned_away_at_the_door(garage, page):
    answer = page.post(
        "/papers/originals",
        content=b"",
        headers={"Content-Length": "100000000", "Content-Type": "multipart/form-data; boundary=b"},
    )
    assert answer.status_code == 413
    assert "more than 12 MB" in answer.text
    assert not papers(garage)


def test_a_picture_too_large_to_open_is_refused_before_it_is():
    with pytest.raises(BadInput, match="million points at most"):
        judged(picture("PNG", (9000, 8000)))


def test_a_file_too_large_is_refused(garage, page):
    with pytest.raises(BadInput, match="12 MB at most"):
        judged(bytes(LARGEST + 1))
    assert send(page, picture() + bytes(LARGEST)).status_code == 413
    assert not papers(garage)


def test_the_same_form_sent_twice_keeps_one_paper(garage, page):
    content = picture()
    assert send(page, content).status_code == send(page, content).status_code == 303
    assert len(papers(garage)) == 1


def test_what_it_is_about_must_be_known(garage, page):
    answer = send(page, picture(), about="../elsewhere")
    assert answer.status_code == 422
    assert not papers(garage)
    assert send(page, picture(), about="spring-race", key="s").status_code == 303
    assert (
        send(page, picture(), about="bleed", key="j", back="//elsewhere.example/")
        .headers["location"]
        .startswith("/?")
    )


def test_only_what_the_book_knows_is_given(garage, page):
    for digest in ("abc", "0" * 64, "..%2fgarage.sqlite", "%2e%2e", "A" * 64):
        send(page, picture())
        assert page.get(f"/papers/originals/{digest}").status_code == 404
        assert page.get(f"/papers/originals/{digest}/small").status_code == 404


def test_a_paper_taken_back_is_no_longer_given(garage, page):
    send(page, picture())
    (paper,) = papers(garage)
    garage.withdraw(garage.book.last_number, who="Robin")
    assert page.get(f"/papers/originals/{paper.digest}").status_code == 404


def test_a_reader_sees_photographs_but_no_papers_and_sends_nothing(garage, page, reader):
    send(page, picture(), key="photo")
    send(page, PDF, key="invoice", name="invoice.pdf")
    photo, invoice = papers(garage)
    assert reader.get(f"/papers/originals/{photo.digest}").status_code == 200
    assert reader.get(f"/papers/originals/{invoice.digest}").status_code == 403
    assert "invoice" not in reader.get("/car/parts/front-pads-1").text
    assert send(reader, picture("PNG"), key="r").status_code == 403
    assert len(papers(garage)) == 2


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("C:\\photos\\pads.jpg", "pads.jpg"),
        ("../../etc/passwd", "passwd"),
        ("a\x00b\r\nc.png", "abc.png"),
        ("", "photograph.jpg"),
        ("...", "photograph.jpg"),
        (MARKUP, "script>"),
    ],
)
def test_a_name_is_made_plain(name, plain):
    assert plain_name(name, "image/jpeg") == plain


def test_a_small_picture_of_one_with_no_colours_is_drawn():
    found = io.BytesIO()
    Image.new("LA", (900, 20)).save(found, "PNG")
    with Image.open(io.BytesIO(small_picture(found.getvalue()))) as shown:
        assert shown.format == "JPEG"
        assert shown.width == 480
