"""Job files as bytes: of every encoding, of every size, and as people type them."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.read import MOST_BYTES, load, loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.job.starter import STARTER

TEXT = """\
title = "Mur bas, côté jardin"
block = { size = "440x140x140" }

[[walls]]
name = "wall"
plan = { shape = "straight", length_mm = 1790 }
height = { courses = 2 }
"""
TITLE = "Mur bas, côté jardin"


def only(data: bytes | str) -> Fault:
    with pytest.raises(JobError) as raised:
        loads(data)
    (fault,) = raised.value.faults
    return fault


READABLE = {
    "plain": TEXT.encode(),
    "text": TEXT,
    "with a byte-order mark": TEXT.encode("utf-8-sig"),
    "text with a byte-order mark": f"\ufeff{TEXT}",
    "with carriage returns": TEXT.replace("\n", "\r\n").encode(),
    "with both": TEXT.replace("\n", "\r\n").encode("utf-8-sig"),
    "without a last line end": TEXT.rstrip("\n").encode(),
}


@pytest.mark.parametrize("kind", READABLE)
def test_one_job_however_it_was_saved(kind: str) -> None:
    assert loads(READABLE[kind]) == loads(TEXT)
    assert loads(READABLE[kind]).job.title == TITLE


UNREADABLE = {
    "utf-16": TEXT.encode("utf-16"),
    "utf-16-le": TEXT.encode("utf-16-le"),
    "utf-16-be": TEXT.encode("utf-16-be"),
    "utf-32": TEXT.encode("utf-32"),
    "latin-1": TEXT.encode("latin-1"),
    "cp1252": TEXT.encode("cp1252"),
    "a picture": b"\x89PNG\r\n\x1a\n",
    "zeros": bytes(100),
}


@pytest.mark.parametrize("kind", UNREADABLE)
def test_what_is_not_utf_8_says_so(kind: str) -> None:
    fault = only(UNREADABLE[kind])
    assert (fault.path, fault.problem) == ("file", "is not UTF-8 text")
    assert fault.hint == "save the file as UTF-8"


def test_it_says_which_byte_is_not_utf_8() -> None:
    assert only(TEXT.encode("latin-1")).value == f"byte {TEXT.index('ô')}"


NOT_TOML = {
    "a comma for a point": TEXT.replace("1790", "1790,5"),
    "a comma in a line of its own": TEXT.replace("[[walls]]", "[joints]\nbed_mm = 9,5\n[[walls]]"),
    "no quotes": TEXT.replace('"wall"', "wall"),
    "a unit": TEXT.replace("1790", "1790 mm"),
    "a key twice": TEXT.replace("[[walls]]", 'title = "again"\n[[walls]]'),
    "a table twice": TEXT + "[block]\n",
    "old line ends": TEXT.replace("\n", "\r"),
    "a date that is none": TEXT.replace("[[walls]]", "date = 2026-02-30\n[[walls]]"),
    "half a character": TEXT.replace("Mur", "\\ud83d"),
    "an open end": TEXT[:-3],
    "another language": "<job><wall/></job>",
    "json": '{"title": "wall"}',
}


@pytest.mark.parametrize("kind", NOT_TOML)
def test_what_is_not_toml_says_where_and_what_is_often_the_reason(kind: str) -> None:
    fault = only(NOT_TOML[kind])
    assert fault.path == "file"
    assert fault.problem.startswith("is not TOML: ")
    assert "line" in fault.problem or "end of document" in fault.problem
    assert "a point, not a comma" in fault.hint


def test_an_empty_file_lacks_what_every_job_has() -> None:
    with pytest.raises(JobError) as raised:
        loads(b"")
    assert [(f.path, f.problem) for f in raised.value.faults] == [
        ("title", "is missing"),
        ("walls", "is missing"),
    ]


@pytest.mark.parametrize("brackets", ["[]", "{}"])
def test_deep_nesting_is_a_fault(brackets: str) -> None:
    opened, closed = brackets
    inner = f"{opened}a=" if brackets == "{}" else opened
    assert only(f"a={inner * 20_000}1{closed * 20_000}").problem == "is nested too deeply"


def test_deep_tables_are_shown_cut_short() -> None:
    with pytest.raises(JobError) as raised:
        loads(f"{'a.' * 2_000}b = 1\n{TEXT}")
    (fault,) = raised.value.faults
    assert (fault.path, fault.value) == ("a", "{a = {a = {a = ...}}}")


def test_a_number_that_cannot_be_read_at_all_is_a_fault() -> None:
    assert only(TEXT.replace("1790", "9" * 5000)).problem == "has a number too long to read"


def test_a_file_longer_than_any_job_is_not_read_to_its_end(tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_bytes(TEXT.encode() + b"# \n" * (MOST_BYTES // 3))
    with pytest.raises(JobError, match=f"longer than {MOST_BYTES} bytes"):
        load(path)


def test_a_long_file_of_comments_is_still_read() -> None:
    assert loads(TEXT.encode() + b"# \n" * 100_000) == loads(TEXT)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        load(tmp_path / "nowhere.toml")


def test_a_folder_is_no_job(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="directory"):
        load(tmp_path)


def test_the_job_bears_the_name_of_its_file(tmp_path: Path) -> None:
    path = tmp_path / "Mauer – südlich.v2.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert load(path).name == "Mauer – südlich.v2"


@pytest.mark.parametrize(
    "name", ["", ".", "..", "../wall", "/wall", "a/b", "a\nb", "a\0b", "\udcff"]
)
def test_results_cannot_bear_any_name(name: str) -> None:
    with pytest.raises(JobError) as raised:
        loads(TEXT, name=name)
    assert raised.value.faults[0].problem == "cannot be the name of results"


TITLES = {
    "control characters": "a\x00b\x01\x1b[2Jc\x7f\x85",
    "emoji": "🧱 wall 👨‍👩‍👧",
    "from right to left": "\u202eגדר נמוכה\u202c",
    "beyond the first plane": "𝔚𝔞𝔩𝔩",
    "quotes and backslashes": '"it\'s" C:\\wall',
    "lines": "one\ntwo\r\nthree",
    "two hundred": "x" * 200,
    "blank": " ",
}


@pytest.mark.parametrize("kind", TITLES)
def test_a_title_is_kept_as_it_is(kind: str) -> None:
    title = TITLES[kind]
    coded = "".join(f"\\U{ord(character):08x}" for character in title)
    assert loads(TEXT.replace(TITLE, coded)).job.title == title


def test_the_file_to_start_from_has_no_fault() -> None:
    assert [wall.name for wall in loads(STARTER).walls] == ["planter"]


@settings(deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes_are_a_job_or_have_faults(data: bytes) -> None:
    with pytest.raises(JobError):  # None of so few bytes is a job.
        loads(data)


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """The text of a good job, with a piece of it replaced."""
    start = draw(st.integers(0, len(TEXT)))
    end = min(len(TEXT), start + draw(st.integers(0, 12)))
    symbols = st.sampled_from("[]{}=.,\"'\\#-+_01eEnaif \n\t\0é𝔘")
    return TEXT[:start] + draw(st.text(symbols, max_size=8)) + TEXT[end:]


def outcome(text: str) -> JobSpec | tuple[Fault, ...]:
    try:
        return loads(text)
    except JobError as error:
        return error.faults


@settings(deadline=None)
@given(damaged())
def test_a_damaged_job_is_a_job_or_has_faults(text: str) -> None:
    found = outcome(text)
    if isinstance(found, JobSpec):
        assert found.job.title == tomllib.loads(text)["title"]
    else:
        assert all(f.path and f.problem for f in found)


def test_what_the_file_to_start_from_says_of_the_place_can_be_given() -> None:
    text = STARTER
    for key in ("[site]", "exposure_zone", "sheltered", "highway", "neighbour_", "street_"):
        text = text.replace(f"# {key}", key)
    for key in ("[ground]", 'kind = "firm', "shrinkable"):
        text = text.replace(f"# {key}", key)
    job = loads(text).job
    assert (job.site.exposure_zone, job.site.highway) == (2, "vehicles")
    assert (job.site.neighbour_distance_mm, job.site.street_distance_mm) == (4500, 8000)
    assert (job.ground.kind, job.ground.shrinkable) == ("firm clay", "no")
