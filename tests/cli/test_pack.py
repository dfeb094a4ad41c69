"""Packing from the command line: all of it, or nothing and what was there before."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import resource
import subprocess
from pathlib import Path

import pytest
import validators
from helpers_cli import FAULTY, FAULTY_PATHS, JOB, RUN, Command, child, contents
from helpers_views import overlapping, words_in
from jsonschema import Draft202012Validator

from parametric_wall.digest import digest_of
from parametric_wall.pack.schemas import schema

RECORD = "pack.json"
PDF = "wall-pack.pdf"
SECTIONS = [
    "cautions",
    "findings",
    "calculations",
    "drawings",
    "cut-list",
    "order",
    "days",
    "setting-out",
    "check-sheet",
    "verification",
    "manifest",
]


@pytest.fixture(scope="session")
def packed_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the pack of the job."""
    from parametric_wall import job_pack, set_out
    from parametric_wall.job.read import loads

    folder = tmp_path_factory.mktemp("packed")
    spec = loads(JOB, name="wall")
    job_pack(spec, set_out(spec), folder)
    return folder


@pytest.fixture
def packed(packed_once: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to be changed."""
    folder = tmp_path / "packed"
    folder.mkdir()
    for name, data in contents(packed_once).items():
        (folder / name).write_bytes(data)
    return folder


def text_of(folder: Path) -> str:
    """The words of a pack, by poppler; lines may break anywhere."""
    validators.require("poppler")
    done = subprocess.run(
        ["pdftotext", folder / PDF, "-"], capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    return " ".join(done.stdout.split())


def test_it_writes_one_document_and_the_same_as_a_folder(
    wall: Command, job: Path, tmp_path: Path, packed_once: Path
) -> None:
    out = tmp_path / "out"
    ran = wall("pack", job, "--out", out)
    assert (ran.code, ran.err) == (0, "")
    found = contents(out)
    assert all(name in ran.out for name in found)
    assert "Not in it: Price" in ran.out
    assert found == contents(packed_once)
    record = json.loads(found[RECORD])
    assert (record["job"], record["title"], record["proof"]) == ("wall", "Low wall", "not run")
    assert [one["key"] for one in record["sections"]] == SECTIONS
    assert {one["file"] for one in record["sections"]} < set(found)
    assert {"wall-pack-still.svg", "wall-pack-days.svg", "wall-pack-bearing-front.svg"} < set(found)
    assert sum(name.startswith("wall-pack-sheet-") for name in found) >= 3


def test_its_record_has_the_digest_of_every_file(packed_once: Path) -> None:
    found = contents(packed_once)
    listed = {f["name"]: f["sha256"] for f in json.loads(found.pop(RECORD))["files"]}
    assert listed == {name: hashlib.sha256(data).hexdigest() for name, data in found.items()}


def test_it_says_the_same_in_json(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("pack", job, "--out", tmp_path / "out", "--json")
    assert (ran.code, ran.err) == (0, "")
    assert ran.json == json.loads((tmp_path / "out" / RECORD).read_bytes())
    Draft202012Validator.check_schema(schema("pack"))
    assert list(Draft202012Validator(schema("pack")).iter_errors(ran.json)) == []
    for key in ("sections", "files"):
        broken = {**ran.json, key: [{}]}
        assert list(Draft202012Validator(schema("pack")).iter_errors(broken))


def test_quiet_says_nothing(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("pack", job, "--out", tmp_path / "out", "--quiet")
    assert (ran.code, ran.out, ran.err) == (0, "", "")


def test_every_process_packs_the_same_bytes(
    job: Path, tmp_path: Path, packed_once: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for seed in ("1", "2", "3"):
        monkeypatch.setenv("PYTHONHASHSEED", seed)
        ran = child(RUN, "pack", job, "--out", tmp_path / seed, "--quiet")
        assert ran.returncode == 0, ran.stderr
        assert contents(tmp_path / seed) == contents(packed_once)


def test_a_job_that_stops_is_not_packed(wall: Command, too_tall: Path, packed: Path) -> None:
    before = contents(packed)
    ran = wall("pack", too_tall, "--out", packed)
    assert ran.code == 1
    assert "Not to be built" in ran.out
    assert wall("pack", too_tall, "--out", packed, "--json").json["stops"]
    assert contents(packed) == before


def test_every_fault_is_told(wall: Command, tmp_path: Path) -> None:
    ran = wall("pack", "-", "--out", tmp_path / "out", "--json", stdin=FAULTY.encode())
    assert ran.code == 2
    assert [f["path"] for f in ran.json["faults"]] == FAULTY_PATHS
    assert not (tmp_path / "out").exists()


def test_a_folder_must_be_named(wall: Command, job: Path) -> None:
    ran = wall("pack", job, "--out", " ", "--json")
    assert (ran.code, ran.json["faults"][0]["path"]) == (2, "--out")


def test_an_older_pack_is_replaced_and_told(wall: Command, packed: Path) -> None:
    (packed / "notes.svg").write_bytes(b"mine")
    ran = wall("pack", "-", "--out", packed, stdin=JOB.encode())
    assert ran.code == 0
    names = set(contents(packed))
    assert "removed files of an older pack: wall-pack" in ran.err
    assert "notes.svg" in names
    assert not any(name.startswith("wall-") for name in names)
    assert {"job-pack.pdf", RECORD} < names


@pytest.mark.parametrize("name", ["w" * 40, "long-name-of-a-wall-that-goes-on-and-on"])
def test_long_names_of_walls_find_room(wall: Command, tmp_path: Path, name: str) -> None:
    """Nothing off the paper, and in the tables nothing over anything."""
    validators.require("poppler")
    text = JOB.replace('"front"', f'"{name}"').replace("1790", "2020")
    assert wall("pack", "-", "--out", tmp_path, stdin=text.encode()).code == 0
    for words in words_in(tmp_path / "job-pack.pdf"):
        sheet = any(word.text == "Sheet" for word in words)
        assert all(word.x0 > 5 and word.x1 < (415 if sheet else 195.2) for word in words)
        if not sheet:
            assert overlapping(words) == []


# What of the proof: absent, of this job, or past.


@pytest.mark.cad
def test_the_proof_is_that_of_the_last_build(wall: Command, job: Path, built: Path) -> None:
    models = contents(built)
    ran = wall("pack", job, "--out", built, "--json")
    assert ran.json["proof"] == "agrees"
    assert not any("measured" in text for text in ran.json["missing"])
    text = text_of(built)
    rows = json.loads(models["verification.json"])["rows"]
    for row in rows:
        for way in ("closed_form_m3", "counted_m3", "solid_m3", "step_m3", "stl_m3"):
            if row[way] is not None:
                assert f"{row[way]:.6f}" in text
        assert row["component"] in text
    assert "The ways of measuring agree" in text
    assert {name: data for name, data in contents(built).items() if name in models} == models


def test_without_a_build_it_says_so(packed_once: Path) -> None:
    text = text_of(packed_once)
    assert text.count("The solid model of this job was not measured for this pack") == 2
    assert "closed form counted" not in text
    assert "DO NOT AGREE" not in text


def _another_title(record: dict[str, object]) -> None:
    record["title"] = "Another wall"


def _disagrees(record: dict[str, object]) -> None:
    record["agrees"] = False


@pytest.mark.cad
@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("walls.0.height.courses=3", "the job was changed after the build"),
        ("walls.0.plan.length_mm=2240", "the job was changed after the build"),
        ("block.size=440x100x140", "the job was changed after the build"),
        ("title=Another wall", "is of another job"),
    ],
)
def test_a_build_of_another_job_is_no_proof(
    wall: Command, job: Path, built: Path, change: str, said: str
) -> None:
    ran = wall("pack", job, "--out", built, "--json", "--with", change)
    assert ran.json["proof"] == "stale"
    assert any(said in text for text in ran.json["missing"])
    assert "closed form" not in text_of(built).split("Why the numbers can be trusted")[-1]


@pytest.mark.cad
@pytest.mark.parametrize("name", ["wall.step", "wall.glb", "setting-out.json", "order.csv"])
def test_a_file_changed_since_is_no_proof(wall: Command, job: Path, built: Path, name: str) -> None:
    for spoil in (lambda path: path.write_bytes(path.read_bytes() + b" "), Path.unlink):
        spoil(built / name)
        ran = wall("pack", job, "--out", built, "--json")
        assert ran.json["proof"] == "stale"
        assert any(f"changed after the build: {name};" in text for text in ran.json["missing"])


@pytest.mark.cad
def test_a_record_that_was_changed_is_no_proof(wall: Command, job: Path, built: Path) -> None:
    path = built / "verification.json"
    record = json.loads(path.read_bytes())
    _disagrees(record)
    path.write_text(json.dumps(record), encoding="utf-8")
    ran = wall("pack", job, "--out", built, "--json")
    assert ran.json["proof"] == "stale"
    assert any("verification.json was changed" in text for text in ran.json["missing"])


@pytest.mark.cad
def test_measurements_that_disagree_are_shown_as_they_are(
    wall: Command, job: Path, built: Path
) -> None:
    path = built / "verification.json"
    record = json.loads(path.read_bytes())
    _disagrees(record)
    record["rows"][0]["agrees"] = False
    record["clashes"] = ["front-r1-c1-b1 and front-r1-c1-b2"]
    record["digest"] = digest_of(record)
    path.write_text(json.dumps(record), encoding="utf-8")
    ran = wall("pack", job, "--out", built, "--json")
    assert ran.json["proof"] == "disagrees"
    text = text_of(built)
    assert "DO NOT AGREE" in text
    assert "front-r1-c1-b1 and front-r1-c1-b2" in text


@pytest.mark.parametrize(
    "broken",
    [
        b"",
        b"{}",
        b"[" * 100_000,
        b"\xff\xfe",
        b'{"rows": [], "files": []}',
        b'{"rows": [], "files": [], "digest": 1, "job": 1, "title": 1, "agrees": 1}',
        b'{"rows": [{"component": "x"}], "files": [{"name": "../wall.toml"}], "digest": ""}',
    ],
)
def test_a_broken_record_is_no_proof(
    wall: Command, job: Path, tmp_path: Path, broken: bytes
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "verification.json").write_bytes(broken)
    ran = wall("pack", job, "--out", out, "--json")
    assert (ran.code, ran.json["proof"]) == (0, "stale")
    assert (out / "verification.json").read_bytes() == broken


@pytest.mark.cad
def test_all_kinds_of_results_share_a_folder(
    wall: Command, job: Path, built: Path, packed_once: Path
) -> None:
    assert wall("draw", job, "--out", built).code == 0
    before = contents(built)
    assert wall("pack", job, "--out", built).code == 0
    names = set(contents(built))
    assert names == set(before) | set(contents(packed_once))
    assert {name: contents(built)[name] for name in before} == before
    assert wall("verify", built).code == 0
    assert wall("build", job, "--out", built).code == 0
    assert wall("draw", job, "--out", built).code == 0
    assert set(contents(built)) == names


# Prices stand in it only where a list is given.


def test_prices_are_there_only_with_a_list(wall: Command, job: Path, tmp_path: Path) -> None:
    rates, out = tmp_path / "rates.csv", tmp_path / "out"
    assert wall("rates", job, rates).code == 0
    lines = rates.read_text(encoding="utf-8").splitlines()
    head = lines[0].split(",")
    filled = [
        line if not line.startswith("block 440x140x140") else _filled(line, head) for line in lines
    ]
    rates.write_text("\n".join(filled) + "\n", encoding="utf-8")
    ran = wall("pack", job, "--out", out, "--json", "--rates", rates)
    assert ran.code == 0, ran.out
    assert [s["key"] for s in ran.json["sections"]] == [*SECTIONS[:6], "price", *SECTIONS[6:]]
    assert not any("Price" in text for text in ran.json["missing"])
    priced = wall("price", job, "--rates", rates, "--json").json
    text = text_of(out)
    assert f"{float(priced['total']):,.2f}" in text
    assert "Without a rate, and in no sum" in text


def _filled(line: str, head: list[str]) -> str:
    cells = line.split(",")
    cells[head.index("rate")] = "12.34"
    return ",".join(cells)


def test_a_bad_price_list_is_told(wall: Command, job: Path, tmp_path: Path) -> None:
    rates = tmp_path / "rates.toml"
    rates.write_text("nonsense = 1\n", encoding="utf-8")
    ran = wall("pack", job, "--out", tmp_path / "out", "--rates", rates)
    assert ran.code == 2
    assert not (tmp_path / "out").exists()


# Mishaps.


@pytest.mark.parametrize("name", [PDF, RECORD, "wall-pack-00-cover.html"])
def test_a_file_that_nothing_packed_is_kept(
    wall: Command, job: Path, tmp_path: Path, name: str
) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / name).write_bytes(b"mine")
    ran = wall("pack", job, "--out", tmp_path / "out")
    assert ran.code == 2
    assert f"nothing here says that a build wrote {name}" in ran.err
    assert contents(tmp_path / "out") == {name: b"mine"}


MISHAPS = [
    (KeyboardInterrupt(), 130, "stopped"),
    (RuntimeError("no more ink"), 2, "RuntimeError: no more ink"),
    (OSError(errno.ENOSPC, "No space left on device"), 2, "No space left on device"),
    (MemoryError(), 2, "MemoryError"),
]


@pytest.mark.parametrize(
    "writer",
    [
        "export.pack_pdf.pack_pdf",
        "export.pack_html.pack_html",
        "pack.sections.contents.svg",
    ],
)
@pytest.mark.parametrize("mishap", MISHAPS, ids=lambda mishap: type(mishap[0]).__name__)
def test_a_mishap_leaves_the_older_pack(
    wall: Command,
    monkeypatch: pytest.MonkeyPatch,
    job: Path,
    packed: Path,
    writer: str,
    mishap: tuple[BaseException, int, str],
) -> None:
    error, code, told = mishap
    before = contents(packed)

    def failing(*_: object) -> bytes:
        raise error

    with monkeypatch.context() as patched:
        patched.setattr(f"parametric_wall.{writer}", failing)
        ran = wall("pack", job, "--out", packed, "--with", "title=Newer", "--json")
        first = wall("pack", job, "--out", packed / "new")
    assert (ran.code, first.code) == (code, code)
    assert told in ran.json["faults"][0]["problem"]
    assert contents(packed) == before
    assert not (packed / "new").exists()


@pytest.mark.skipif(os.name != "posix", reason="limits are those of POSIX")
def test_a_file_that_grows_too_large(wall: Command, job: Path, packed: Path) -> None:
    before = contents(packed)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(before[PDF]) // 2, hard))
        ran = wall("pack", job, "--out", packed, "--with", "title=Newer")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert ran.code == 2
    assert "Traceback" not in ran.err
    assert contents(packed) == before


def test_a_folder_that_cannot_be_one(wall: Command, job: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    for out in (tmp_path / "file", tmp_path / "file" / "out"):
        ran = wall("pack", job, "--out", out, "--json")
        assert ran.code == 2
        assert str(out) in "".join(map(str, ran.json["faults"][0].values()))
    assert contents(tmp_path) == {"file": b"mine", "wall.toml": JOB.encode()}


def test_a_pack_never_takes_the_place_of_its_job(wall: Command, tmp_path: Path) -> None:
    for name in (RECORD, PDF):
        path = tmp_path / name
        path.write_text(JOB, encoding="utf-8")
        wall("pack", path, "--out", tmp_path)
        assert path.read_text(encoding="utf-8") == JOB


TITLES = [
    "</svg><script>alert(1)</script>",
    '#import "x": *; $x^2$ \\ `raw` @ref <label> "quoted" *b* _i_ [c]',
    "\x00\x01\x1b[2J\x7f\x85",
    "\u202eגדר נמוכה\u202c",
    "🧱 𝔚𝔞𝔩𝔩 ½ 墙",
    "x\u0301 שלוֹם \u200b\u200d\ufffe\u2028",
    "one\ntwo\r\nthree",
    "é" * 200,
    "W" * 200,
    "word " * 40,
    " ",
]


@pytest.mark.parametrize("title", TITLES, ids=ascii)
def test_no_title_breaks_a_pack(wall: Command, job: Path, title: str) -> None:
    out = job.parent / "out"
    coded = "".join(f"\\U{ord(character):08x}" for character in title)
    changes = [w for key in ("title", "client", "notes") for w in ("--with", f'{key}="{coded}"')]
    ran = wall("pack", job, "--out", out, "--json", *changes)
    assert ran.code == 0
    assert ran.json["title"] == title
    text = text_of(out)
    if title.isascii() and title.strip().isprintable():
        plain = "".join(title.split())
        assert "".join(text.replace("\u200b", "").split()).count(plain) >= 3
    info = subprocess.run(["pdfinfo", out / PDF], capture_output=True, check=True, text=True)
    assert info.stderr == ""
    assert "Tagged:          yes" in info.stdout
    count = info.stdout.split("Pages:")[1].split()[0]
    assert all(f"page {number} of {count}" in text for number in range(1, int(count) + 1))
    for page in out.glob("*.html"):
        assert "<script" not in page.read_text(encoding="utf-8").lower()
