"""Building from the command line: all of it, or nothing and what was there before."""

from __future__ import annotations

import errno
import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from helpers_cli import ALL, JOB, RECORD, TOO_TALL, Command, child, contents, named

from parametric_wall.export import formats
from parametric_wall.pack.folder import names_of, staged, write
from parametric_wall.solid import kernel

pytestmark = pytest.mark.cad

RUN = "from parametric_wall.cli import run\nrun()\n"


def test_it_writes_every_result(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("build", job, "--out", tmp_path / "out")
    assert ran.code == 0
    assert set(contents(tmp_path / "out")) == ALL
    assert "they agree" in ran.out
    assert "... writing" in ran.err
    assert all(name in ran.out for name in ALL)


def test_it_says_the_same_in_json(wall: Command, job: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    ran = wall("build", job, "--out", out, "--json")
    assert (ran.code, ran.err) == (0, "")
    record = ran.json
    assert set(record["files"]) == ALL
    assert record["findings"] == json.loads((out / "findings.json").read_bytes())
    assert record["take_off"] == json.loads((out / "take-off.json").read_bytes())
    written = json.loads((out / RECORD).read_bytes())
    assert record["proof"]["rows"] == written["rows"]
    assert record["proof"]["agrees"]


def test_quiet_says_nothing_where_all_is_well(wall: Command, job: Path, tmp_path: Path) -> None:
    ran = wall("build", job, "--out", tmp_path / "out", "--quiet")
    assert (ran.code, ran.out, ran.err) == (0, "", "")
    assert set(contents(tmp_path / "out")) == ALL


def test_a_job_from_standard_input_has_a_plain_name(wall: Command, tmp_path: Path) -> None:
    assert wall("build", "-", "--out", tmp_path / "out", stdin=JOB.encode()).code == 0
    assert set(contents(tmp_path / "out")) == named("job")


def test_only_the_formats_asked_for(wall: Command, job: Path, built: Path) -> None:
    ran = wall("build", job, "--out", built, "--formats", " GLB,.stl ")
    assert ran.code == 0
    assert set(contents(built)) == ALL - {"wall.step", "wall.html"}
    assert wall("verify", built).code == 0


def test_the_same_job_gives_the_same_bytes(wall: Command, job: Path, built: Path) -> None:
    assert wall("build", job, "--out", job.parent / "out").code == 0
    assert contents(job.parent / "out") == contents(built)


def test_the_file_to_start_from_builds_as_it_is(wall: Command, tmp_path: Path) -> None:
    wall("new", tmp_path / "herbs.toml")
    ran = wall("build", tmp_path / "herbs.toml", "--out", tmp_path / "out", "--json")
    assert ran.code == 0
    assert ran.json["proof"]["agrees"]


STOPPED = {"findings.json"}


def test_a_job_that_stops_leaves_its_findings_and_no_older_model(
    wall: Command, too_tall: Path, built: Path
) -> None:
    ran = wall("build", too_tall, "--out", built)
    assert ran.code == 1
    assert set(contents(built)) == STOPPED
    assert json.loads((built / "findings.json").read_bytes())["stops"]
    assert "no model" in ran.out


def test_a_job_that_stops_under_another_name_does_too(wall: Command, built: Path) -> None:
    ran = wall("build", "-", "--out", built, "--json", stdin=TOO_TALL.encode())
    assert ran.code == 1
    assert set(contents(built)) == STOPPED
    assert (ran.json["proof"], ran.json["take_off"]) == (None, None)
    assert ran.json["findings"]["stops"]


def test_quiet_says_why_a_job_stops(wall: Command, too_tall: Path, tmp_path: Path) -> None:
    ran = wall("build", too_tall, "--out", tmp_path / "out", "--quiet")
    assert ran.code == 1
    assert "wall-height" in ran.out


def test_another_job_in_the_same_folder_leaves_nothing_of_the_first(
    wall: Command, built: Path, tmp_path: Path
) -> None:
    (built / "notes.txt").write_bytes(b"mine")
    (built / "sketch.step").write_bytes(b"mine")
    other = tmp_path / "other.toml"
    other.write_text(JOB.replace("Low wall", "Other wall"), encoding="utf-8")
    assert wall("build", other, "--out", built).code == 0
    assert set(contents(built)) == named("other") | {"notes.txt", "sketch.step"}
    assert (built / "notes.txt").read_bytes() == (built / "sketch.step").read_bytes() == b"mine"
    assert wall("verify", built).code == 0


def test_what_a_build_removes_is_told_in_a_line(wall: Command, too_tall: Path, built: Path) -> None:
    gone = ", ".join(sorted(ALL - {"findings.json"}))
    assert f"removed older results: {gone}\n" in wall("build", too_tall, "--out", built).err
    assert "removed" not in wall("build", too_tall, "--out", built).err


def test_what_a_build_removes_stands_in_json_and_not_on_a_quiet_screen(
    wall: Command, job: Path, built: Path
) -> None:
    formats = ("--formats", "step,stl")
    ran = wall("build", job, "--out", built, "--json", *formats)
    assert (ran.err, ran.json["removed"]) == ("", ["wall.glb", "wall.html"])
    ran = wall("build", job, "--out", built, "--quiet", "--formats", "step")
    assert (ran.code, ran.out, ran.err) == (0, "", "")
    assert "wall.stl" not in contents(built)


@pytest.mark.parametrize("name", ["wall.glb", "findings.json", "take-off.json", RECORD])
def test_a_file_that_no_build_wrote_is_kept(
    wall: Command, job: Path, tmp_path: Path, name: str
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / name).write_bytes(b'{"mine": true}')
    ran = wall("build", job, "--out", out, "--json")
    assert ran.code == 2
    assert name in ran.json["faults"][0]["problem"]
    assert contents(out) == {name: b'{"mine": true}'}


@pytest.mark.skipif(os.name != "posix", reason="locks are those of POSIX")
def test_a_second_build_into_the_folder_is_refused_and_mixes_nothing(
    wall: Command, job: Path, tmp_path: Path
) -> None:
    with staged(tmp_path / "out", names_of("wall")) as stage:
        write(stage / "wall.step", b"first")
        ran = wall("build", job, "--out", tmp_path / "out", "--json")
    assert ran.code == 2
    assert "another build is writing here" in ran.json["faults"][0]["problem"]
    assert contents(tmp_path / "out") == {"wall.step": b"first"}


@pytest.mark.parametrize("out", ["", "  "])
def test_a_folder_wants_a_name(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, out: str
) -> None:
    monkeypatch.chdir(job.parent)
    ran = wall("build", job, "--out", out, "--json")
    assert ran.code == 2
    assert ran.json["faults"][0]["path"] == "--out"
    assert set(contents(job.parent)) == {"wall.toml"}


def test_faults_leave_the_older_results(wall: Command, job: Path, built: Path) -> None:
    before = contents(built)
    changed = ("--with", "walls.0.height.courses=0")
    assert wall("build", job, "--out", built, *changed).code == 2
    assert contents(built) == before


def fail(error: BaseException) -> object:
    def write(_: object) -> bytes:
        raise error

    return write


def failing_format(monkeypatch: pytest.MonkeyPatch, suffix: str, error: BaseException) -> None:
    rows = [
        replace(form, write=fail(error)) if form.suffix == suffix else form
        for form in formats.FORMATS
    ]
    monkeypatch.setattr(formats, "FORMATS", tuple(rows))


MISHAPS = [
    (KeyboardInterrupt(), 130, "stopped"),
    (RuntimeError("the kernel gave up"), 2, "RuntimeError: the kernel gave up"),
    (OSError(errno.ENOSPC, "No space left on device"), 2, "No space left on device"),
    (ImportError("libX11.so.6: cannot open"), 2, "libX11.so.6"),
    (MemoryError(), 2, "MemoryError"),
]


@pytest.mark.parametrize("suffix", [".step", ".stl", ".glb"])
@pytest.mark.parametrize("mishap", MISHAPS, ids=lambda mishap: type(mishap[0]).__name__)
def test_a_mishap_in_a_writer_leaves_the_older_results(
    wall: Command,
    monkeypatch: pytest.MonkeyPatch,
    job: Path,
    built: Path,
    suffix: str,
    mishap: tuple[BaseException, int, str],
) -> None:
    error, code, told = mishap
    before = contents(built)
    with monkeypatch.context() as patched:
        failing_format(patched, suffix, error)
        ran = wall("build", job, "--out", built, "--with", "title=Newer", "--json")
    assert ran.code == code
    assert told in ran.json["faults"][0]["problem"]
    assert told in ran.err
    assert contents(built) == before


def test_after_a_mishap_the_older_results_still_verify(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, built: Path
) -> None:
    with monkeypatch.context() as patched:
        failing_format(patched, ".glb", RuntimeError("the kernel gave up"))
        assert wall("build", job, "--out", built).code == 2
    assert wall("verify", built).code == 0


def test_a_mishap_in_a_first_build_leaves_no_folder(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, tmp_path: Path
) -> None:
    failing_format(monkeypatch, ".stl", RuntimeError("the kernel gave up"))
    assert wall("build", job, "--out", tmp_path / "out" / "deeper").code == 2
    assert set(contents(tmp_path)) == {"wall.toml"}
    assert not (tmp_path / "out").exists()


def test_measurements_that_disagree_are_told(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, tmp_path: Path
) -> None:
    """The STL file written is that of another wall."""
    from parametric_wall.job.read import loads
    from parametric_wall.setting_out.set_out import set_out
    from parametric_wall.solid.model import model_of

    other = model_of(set_out(loads(JOB.replace("1790", "2240"))))
    step, stl, glb = formats.FORMATS
    rows = (step, replace(stl, write=lambda _: stl.write(other)), glb)
    monkeypatch.setattr(formats, "FORMATS", rows)
    out = tmp_path / "out"
    ran = wall("build", job, "--out", out, "--quiet")
    assert ran.code == 1
    assert "DO NOT AGREE" in ran.out
    assert json.loads((out / RECORD).read_bytes())["agrees"] is False
    again = wall("verify", out, "--json")
    assert again.code == 1
    assert "the measurements disagreed when the folder was built" in again.json["faults"]


def test_the_kernel_without_its_libraries(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, built: Path
) -> None:
    def missing(*_: object) -> None:
        raise ImportError("libGL.so.1: cannot open shared object file")

    before = contents(built)
    monkeypatch.setattr(kernel, "load", missing)
    ran = wall("build", job, "--out", built, "--with", "title=Newer")
    assert ran.code == 2
    assert "a library is missing: libGL.so.1" in ran.err
    assert "libgl1" in ran.err
    assert contents(built) == before


def test_no_kernel_at_all(job: Path, built: Path, tmp_path: Path) -> None:
    """What needs none of it works; what does, says so, and leaves all as it was."""
    before = contents(built)
    without = "sys.modules['OCP'] = None\n" + RUN
    assert child(without, "check", job).returncode == 0
    for words in (("build", job, "--out", built), ("build", job, "--out", tmp_path / "new")):
        ran = child(without, *words)
        assert ran.returncode == 2
        assert "a library is missing" in ran.stderr
        assert "Traceback" not in ran.stderr
    ran = child(without, "verify", built)
    assert ran.returncode == 2
    assert "a library is missing" in ran.stderr
    assert contents(built) == before
    assert not (tmp_path / "new").exists()


SIGNALLED = """
import os, signal
from dataclasses import replace
from parametric_wall.export import formats
from parametric_wall.pack.folder import names_of, staged, write

signal.signal(signal.SIGINT, signal.default_int_handler)
number = getattr(signal, sys.argv.pop())

def stop(model):
    os.kill(os.getpid(), number)
    while True:  # The signal ends it.
        signal.pause()

rows = formats.FORMATS
formats.FORMATS = (rows[0], replace(rows[1], write=stop), *rows[2:])
"""


@pytest.mark.skipif(os.name != "posix", reason="signals are those of POSIX")
@pytest.mark.parametrize(("signal", "code"), [("SIGINT", 130), ("SIGTERM", 143)])
def test_a_signal_between_two_models(job: Path, built: Path, signal: str, code: int) -> None:
    before = contents(built)
    ran = child(SIGNALLED + RUN, "build", job, "--out", built, "--with", "title=Newer", signal)
    assert ran.returncode == code
    assert "Traceback" not in ran.stderr
    assert contents(built) == before


LOADING = """
import os, signal
from parametric_wall.solid import kernel

signal.signal(signal.SIGINT, signal.default_int_handler)
keeps_cause, _, text = sys.argv.pop().partition(": ")

def load():
    try:
        os.kill(os.getpid(), signal.SIGINT)
        signal.pause()
    except KeyboardInterrupt as pressed:
        cause = pressed
    raise ImportError(text) from (cause if keeps_cause == "wrapped" else None)

kernel.load = load
"""


@pytest.mark.skipif(os.name != "posix", reason="signals are those of POSIX")
@pytest.mark.parametrize(
    "kind",
    ["wrapped: initialization failed", "lost: initialization failed", "lost: failed to import"],
)
def test_a_signal_while_the_kernel_loads(job: Path, built: Path, kind: str) -> None:
    """The kernel's library makes an error of its own of it."""
    before = contents(built)
    ran = child(LOADING + RUN, "build", job, "--out", built, "--with", "title=Newer", kind)
    assert ran.returncode == 130
    assert ran.stderr.endswith("stopped; no result is half-written\n")
    assert "library" not in ran.stderr
    assert contents(built) == before


@pytest.mark.parametrize("error", [ImportError("initialization failed"), ImportError("libGL")])
def test_a_library_that_fails_by_itself_is_no_interrupt(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, tmp_path: Path, error: ImportError
) -> None:
    def load() -> None:
        raise error

    monkeypatch.setattr(kernel, "load", load)
    ran = wall("build", job, "--out", tmp_path / "out")
    assert ran.code == 2
    assert f"a library is missing: {error}" in ran.err


@pytest.mark.skipif(sys.platform == "win32", reason="limits are those of POSIX")
def test_a_disk_that_takes_only_part_of_a_model(
    wall: Command, job: Path, built: Path, tmp_path: Path
) -> None:
    """The system itself stops the write half way."""
    import resource

    before = contents(built)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    largest = len(before["wall.step"]) // 2
    assert largest > len(before["setting-out.json"])
    try:
        resource.setrlimit(resource.RLIMIT_FSIZE, (largest, hard))
        ran = wall("build", job, "--out", built, "--with", "title=Newer")
        first = wall("build", job, "--out", tmp_path / "new")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert (ran.code, first.code) == (2, 2)
    assert "Traceback" not in ran.err
    assert contents(built) == before
    assert not (tmp_path / "new").exists()


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
        (disk / "notes.txt").write_bytes(b"mine")
        ran = wall("build", job, "--out", disk / "out")
        assert ran.code == 2
        assert "No space left on device" in ran.err
        assert contents(disk) == {"notes.txt": b"mine"}
        assert not (disk / "out").exists()
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_a_folder_that_cannot_be_one(wall: Command, job: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    for out in (tmp_path / "file", tmp_path / "file" / "out"):
        ran = wall("build", job, "--out", out, "--json")
        assert ran.code == 2
        assert str(out) in "".join(map(str, ran.json["faults"][0].values()))
    assert contents(tmp_path) == {"file": b"mine", "wall.toml": JOB.encode()}


@pytest.mark.parametrize("name", ["wall.step", "wall.glb", "findings.json", "cut-list.csv"])
def test_a_result_never_takes_the_place_of_its_job(
    wall: Command, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str
) -> None:
    """Whatever people call their job files, and however they point to them."""
    path = tmp_path / name
    path.write_text(JOB, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for words in ((path, "--out", tmp_path), (name, "--out", "."), (f"./{name}", "--out", "./")):
        ran = wall("build", *words)
        assert ran.code == 2
        assert "would take its place" in ran.err
    assert contents(tmp_path) == {name: JOB.encode()}


def test_results_beside_their_job(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path
) -> None:
    monkeypatch.chdir(job.parent)
    assert wall("build", job.name, "--out", ".").code == 0
    assert set(contents(job.parent)) == ALL | {"wall.toml"}
    assert job.read_text(encoding="utf-8") == JOB


TITLES = [
    "\x00\x01\x1b[2J\x7f\x85",
    "\u202eגדר נמוכה\u202c",
    "🧱 𝔚𝔞𝔩𝔩 ½",
    "\"it's\" C:\\X2\\ wall; #1=('a');",
    "one\ntwo\r\nthree",
    "é" * 200,
]


@pytest.mark.parametrize("title", TITLES, ids=ascii)
def test_a_title_survives_to_every_file(wall: Command, job: Path, title: str) -> None:
    out = job.parent / "out"
    coded = "".join(f"\\U{ord(character):08x}" for character in title)
    ran = wall("build", job, "--out", out, "--json", "--with", f'title="{coded}"')
    assert ran.code == 0
    assert ran.json["proof"]["title"] == title
    for name in ("setting-out.json", "take-off.json", "findings.json", RECORD):
        assert json.loads((out / name).read_bytes())["title"] == title
    texts = step_texts((out / "wall.step").read_text(encoding="ascii"))
    assert title in texts
    assert wall("verify", out).code == 0


def step_texts(file: str) -> set[str]:
    """Every text of a STEP file, decoded by the rules of ISO 10303-21, 6.4.3."""
    joined = file.replace("\r", "").replace("\n", "")
    return {decoded(found) for found in re.findall(r"'((?:[^']|'')*)'", joined)}


def decoded(text: str) -> str:
    def points(found: re.Match[str]) -> str:
        coding = {"2": "utf-16-be", "4": "utf-32-be"}[found[1]]
        return bytes.fromhex(found[2]).decode(coding, "surrogatepass")

    pattern = r"\\\\|''|\\X([24])\\((?:[0-9A-F]{4})+)\\X0\\"
    plain = {"\\\\": "\\", "''": "'"}
    return re.sub(pattern, lambda found: plain.get(found[0]) or points(found), text)
