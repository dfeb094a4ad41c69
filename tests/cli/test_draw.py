"""Drawing from the command line: all of it, or nothing and what was there before."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import resource
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path

import ezdxf
import pytest
import validators
from helpers_cli import FAULTY, FAULTY_PATHS, JOB, RUN, Command, child, contents
from jsonschema import Draft202012Validator

from parametric_wall.pack.schemas import schema

RECORD = "drawings.json"


@pytest.fixture(scope="session")
def drawn_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the drawings of the job."""
    from parametric_wall.job.read import loads
    from parametric_wall.pack.draw import draw
    from parametric_wall.setting_out.set_out import set_out

    folder = tmp_path_factory.mktemp("drawn")
    spec = loads(JOB, name="wall")
    draw(spec, set_out(spec), folder)
    return folder


@pytest.fixture
def drawn(drawn_once: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to be changed."""
    folder = tmp_path / "drawn"
    folder.mkdir()
    for name, data in contents(drawn_once).items():
        (folder / name).write_bytes(data)
    return folder


@pytest.mark.parametrize("home", ["empty", "none"])
def test_it_leaves_nothing_in_the_home_of_the_user(job: Path, tmp_path: Path, home: str) -> None:
    folder = tmp_path / "home"
    if home == "empty":
        folder.mkdir()
    else:
        folder.write_text("")  # A file: no folder can be made in it.
    kept = {k: v for k, v in os.environ.items() if not k.startswith("XDG_")}
    env = kept | {"HOME": str(folder), "USERPROFILE": str(folder)}
    ran = child(RUN, "draw", job, "--out", tmp_path / "out", env=env)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert list(tmp_path.glob("home/**/*")) == []
    assert (tmp_path / "out" / "wall-drawings.dxf").exists()


def test_it_writes_the_sheets_one_document_and_one_drawing(
    wall: Command, job: Path, tmp_path: Path, drawn_once: Path
) -> None:
    out = tmp_path / "out"
    ran = wall("draw", job, "--out", out)
    assert (ran.code, ran.err) == (0, "")
    found = contents(out)
    assert {"wall-drawings.pdf", "wall-drawings.dxf", RECORD} < set(found)
    assert all(name in ran.out for name in found)
    assert found == contents(drawn_once)
    record = json.loads(found[RECORD])
    assert (record["job"], record["title"]) == ("wall", "Low wall")
    sheets = [sheet["file"] for sheet in record["sheets"]]
    assert len(sheets) >= 3
    assert set(found) == {*sheets, "wall-drawings.pdf", "wall-drawings.dxf", RECORD}


def test_its_record_has_the_digest_of_every_file(drawn_once: Path) -> None:
    found = contents(drawn_once)
    listed = {f["name"]: f["sha256"] for f in json.loads(found.pop(RECORD))["files"]}
    assert listed == {name: hashlib.sha256(data).hexdigest() for name, data in found.items()}


def test_it_says_the_same_in_json(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("draw", job, "--out", tmp_path / "out", "--json")
    assert (ran.code, ran.err) == (0, "")
    assert ran.json == json.loads((tmp_path / "out" / RECORD).read_bytes())
    Draft202012Validator.check_schema(schema("drawings"))
    assert list(Draft202012Validator(schema("drawings")).iter_errors(ran.json)) == []
    for key in ("sheets", "files"):
        broken = {**ran.json, key: [{}]}
        assert list(Draft202012Validator(schema("drawings")).iter_errors(broken))


def test_quiet_says_nothing(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("draw", job, "--out", tmp_path / "out", "--quiet")
    assert (ran.code, ran.out, ran.err) == (0, "", "")


def test_every_process_draws_the_same_bytes(
    job: Path, tmp_path: Path, drawn_once: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for seed in ("1", "2"):
        monkeypatch.setenv("PYTHONHASHSEED", seed)
        ran = child(RUN, "draw", job, "--out", tmp_path / seed, "--quiet")
        assert ran.returncode == 0, ran.stderr
        assert contents(tmp_path / seed) == contents(drawn_once)


def test_a_job_that_stops_is_not_drawn(wall: Command, too_tall: Path, drawn: Path) -> None:
    before = contents(drawn)
    ran = wall("draw", too_tall, "--out", drawn)
    assert ran.code == 1
    assert "Not to be built" in ran.out
    assert wall("draw", too_tall, "--out", drawn, "--json").json["stops"]
    assert contents(drawn) == before


def test_every_fault_is_told(wall: Command, tmp_path: Path) -> None:
    ran = wall("draw", "-", "--out", tmp_path / "out", "--json", stdin=FAULTY.encode())
    assert ran.code == 2
    assert [f["path"] for f in ran.json["faults"]] == FAULTY_PATHS
    assert not (tmp_path / "out").exists()


def test_a_folder_must_be_named(wall: Command, job: Path) -> None:
    ran = wall("draw", job, "--out", " ", "--json")
    assert (ran.code, ran.json["faults"][0]["path"]) == (2, "--out")


def test_older_drawings_are_replaced_and_told(wall: Command, drawn: Path) -> None:
    (drawn / "notes.svg").write_bytes(b"mine")
    ran = wall("draw", "-", "--out", drawn, stdin=JOB.replace("1790", "2240").encode())
    assert ran.code == 0
    names = set(contents(drawn))
    assert "removed older drawings: wall-" in ran.err
    assert "notes.svg" in names
    assert not any(name.startswith("wall-") for name in names)
    assert {"job-drawings.pdf", "job-drawings.dxf", RECORD} < names


@pytest.mark.cad
def test_models_and_drawings_share_a_folder_and_let_each_other_be(
    wall: Command, job: Path, built: Path, drawn_once: Path
) -> None:
    models = contents(built)
    assert wall("draw", job, "--out", built).code == 0
    assert contents(built) == models | contents(drawn_once)
    assert wall("verify", built).code == 0
    assert wall("build", job, "--out", built).code == 0
    assert contents(built) == models | contents(drawn_once)


@pytest.mark.parametrize("name", ["wall-drawings.pdf", "wall-drawings.dxf", RECORD])
def test_a_file_that_nothing_drew_is_kept(
    wall: Command, job: Path, tmp_path: Path, name: str
) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / name).write_bytes(b"mine")
    ran = wall("draw", job, "--out", tmp_path / "out")
    assert ran.code == 2
    assert f"nothing here says that a build wrote {name}" in ran.err
    assert contents(tmp_path / "out") == {name: b"mine"}


MISHAPS = [
    (KeyboardInterrupt(), 130, "stopped"),
    (RuntimeError("no more ink"), 2, "RuntimeError: no more ink"),
    (OSError(errno.ENOSPC, "No space left on device"), 2, "No space left on device"),
    (MemoryError(), 2, "MemoryError"),
]


@pytest.mark.parametrize("writer", ["pdf.pdf", "dxf.dxf", "svg.svg"])
@pytest.mark.parametrize("mishap", MISHAPS, ids=lambda mishap: type(mishap[0]).__name__)
def test_a_mishap_leaves_the_older_drawings(
    wall: Command,
    monkeypatch: pytest.MonkeyPatch,
    job: Path,
    drawn: Path,
    writer: str,
    mishap: tuple[BaseException, int, str],
) -> None:
    error, code, told = mishap
    before = contents(drawn)

    def failing(*_: object) -> bytes:
        raise error

    with monkeypatch.context() as patched:
        patched.setattr(f"parametric_wall.export.{writer}", failing)
        ran = wall("draw", job, "--out", drawn, "--with", "title=Newer", "--json")
        first = wall("draw", job, "--out", drawn / "new")
    assert (ran.code, first.code) == (code, code)
    assert told in ran.json["faults"][0]["problem"]
    assert contents(drawn) == before
    assert not (drawn / "new").exists()


@pytest.mark.skipif(os.name != "posix", reason="limits are those of POSIX")
def test_a_file_that_grows_too_large(wall: Command, job: Path, drawn: Path) -> None:
    before = contents(drawn)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(before["wall-drawings.dxf"]) // 2, hard))
        ran = wall("draw", job, "--out", drawn, "--with", "title=Newer")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert ran.code == 2
    assert "Traceback" not in ran.err
    assert contents(drawn) == before


def test_a_disk_that_is_full(wall: Command, job: Path, tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)]
    try:
        mounted = subprocess.run(mount, check=False, capture_output=True).returncode == 0
    except OSError:
        mounted = False
    if not mounted:
        pytest.skip("no small disk can be made here")
    try:
        ran = wall("draw", job, "--out", disk / "out")
        assert ran.code == 2
        assert "No space left on device" in ran.err
        assert contents(disk) == {}
        assert not (disk / "out").exists()
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_folder_that_cannot_be_one(wall: Command, job: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    for out in (tmp_path / "file", tmp_path / "file" / "out"):
        ran = wall("draw", job, "--out", out, "--json")
        assert ran.code == 2
        assert str(out) in "".join(map(str, ran.json["faults"][0].values()))
    assert contents(tmp_path) == {"file": b"mine", "wall.toml": JOB.encode()}


def test_drawings_never_take_the_place_of_their_job(wall: Command, tmp_path: Path) -> None:
    for name in (RECORD, "wall-drawings.pdf"):
        path = tmp_path / name
        path.write_text(JOB, encoding="utf-8")
        wall("draw", path, "--out", tmp_path)
        assert path.read_text(encoding="utf-8") == JOB


TITLES = [
    "</svg><script>alert(1)</script>",
    '#import "x": *; $x^2$ \\ `raw` @ref <label> "quoted"',
    "50%%c {\\Pnew;} \\U+0041 ^J %%d %%%",
    "\x00\x01\x1b[2J\x7f\x85",
    "\u202eגדר נמוכה\u202c",
    "🧱 𝔚𝔞𝔩𝔩 ½ 墙",
    "x\u0301 שלוֹם \u200b\u200d\ufffe\u2028",
    "one\ntwo\r\nthree",
    "  0\nSECTION\n  2\nEOF",
    "é" * 200,
]


@pytest.mark.parametrize("title", TITLES, ids=ascii)
def test_no_title_breaks_a_drawing(wall: Command, job: Path, title: str) -> None:
    validators.require("poppler")
    out = job.parent / "out"
    coded = "".join(f"\\U{ord(character):08x}" for character in title)
    ran = wall("draw", job, "--out", out, "--json", "--with", f'title="{coded}"')
    assert ran.code == 0
    assert ran.json["title"] == title
    for sheet in ran.json["sheets"]:
        root = ET.parse(out / sheet["file"]).getroot()
        assert {child.tag.split("}")[1] for child in root} <= {"title", "desc", "path", "text"}
    doc = ezdxf.readfile(out / "wall-drawings.dxf")
    auditor = doc.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    info = subprocess.run(
        ["pdfinfo", out / "wall-drawings.pdf"], capture_output=True, check=True, text=True
    )
    assert info.stderr == ""
    assert f"Pages:           {len(ran.json['sheets'])}" in info.stdout
    assert "Tagged:          yes" in info.stdout
