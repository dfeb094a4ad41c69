"""What each command says and gives: 0 good, 1 not to be built, 2 bad input; JSON always."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers_cli import FAULTY, FAULTY_PATHS, JOB, TOO_TALL, Command

from parametric_wall import __version__
from parametric_wall.checks.finding import meanings
from parametric_wall.reference.tables import blocks, copings

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
STOPPED = {"too-tall"}


def test_the_version(wall: Command) -> None:
    ran = wall("--version")
    assert (ran.code, ran.out.strip(), ran.err) == (0, __version__, "")


@pytest.mark.parametrize(
    "command",
    [
        "build",
        "check",
        "takeoff",
        "order",
        "days",
        "price",
        "rates",
        "options",
        "verify",
        "new",
        "sizes",
        "schema",
        "meaning",
    ],
)
def test_every_command_has_a_help_and_json(wall: Command, command: str) -> None:
    ran = wall(command, "--help")
    assert ran.code == 0
    assert "--json" in ran.out


def test_without_a_word_it_shows_its_help(wall: Command) -> None:
    ran = wall()
    assert ran.code == 2
    assert "Commands:" in ran.err


USAGE = [
    ("raise",),
    ("check",),
    ("check", "job.toml", "again.toml"),
    ("check", "job.toml", "--deep"),
    ("build", "job.toml"),
    ("build", "job.toml", "--out"),
    ("--colour",),
]


@pytest.mark.parametrize("words", USAGE, ids=" ".join)
def test_words_it_does_not_know_are_bad_input(wall: Command, words: tuple[str, ...]) -> None:
    ran = wall(*words)
    assert (ran.code, ran.out) == (2, "")
    assert "Error: " in ran.err


@pytest.mark.parametrize("words", USAGE, ids=" ".join)
def test_they_are_faults_in_json_too(wall: Command, words: tuple[str, ...]) -> None:
    ran = wall(*words, "--json")
    assert ran.code == 2
    (fault,) = ran.json["faults"]
    assert fault["problem"]


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
@pytest.mark.parametrize("command", ["check", "takeoff", "order"])
def test_an_example_is_good_or_not_to_be_built(wall: Command, command: str, path: Path) -> None:
    plain, record = wall(command, path), wall(command, path, "--json")
    assert plain.code == record.code == (1 if path.stem in STOPPED else 0)
    assert plain.out.strip()
    assert record.json["job"] == path.stem


def test_a_good_job_says_so_and_no_more_than_it_knows(wall: Command, job: Path) -> None:
    ran = wall("check", job)
    assert (ran.code, ran.err) == (0, "")
    assert "they do not say that the wall is safe" in " ".join(ran.out.split())


def test_a_job_that_a_design_answers_for_names_it_and_objects_no_less(
    wall: Command, too_tall: Path
) -> None:
    ran = wall("check", too_tall, "--with", 'designed_by="Sheet 31 of\\nthe calculations"')
    assert ran.code == 0
    said = " ".join(ran.out.split())
    assert "rests on the design that its file names: Sheet 31 of the calculations." in said
    assert "No objection found" not in said
    assert "Lower the wall" not in said


def test_a_design_named_without_need_changes_no_verdict(wall: Command, job: Path) -> None:
    ran = wall("check", job, "--with", 'designed_by="Sheet 31 of the calculations"')
    assert "No objection found" in ran.out


def test_a_limit_says_which_side_of_it_is_meant(wall: Command, too_tall: Path) -> None:
    footing = ("--with", "footing.depth_mm=100")
    said = " ".join(wall("check", too_tall, *footing).out.split())
    assert "above ground (at most 900 mm)" in said
    assert "100 thick for a spread of 100 (at least 150 mm)" in said


def test_a_job_that_stops_says_why_and_what_to_do(wall: Command, too_tall: Path) -> None:
    for command in ("check", "takeoff", "order"):
        ran = wall(command, too_tall)
        assert ran.code == 1
        assert "wall-height: front:" in ran.out
        assert "Not to be built as it stands." in ran.out


def test_a_take_off_of_a_job_that_stops_gives_its_findings(wall: Command, too_tall: Path) -> None:
    record = wall("takeoff", too_tall, "--json").json
    assert record["stops"]
    assert "wall-height" in [f["code"] for f in record["findings"]]
    assert "quantities" not in record


@pytest.mark.parametrize("command", ["check", "takeoff", "order"])
def test_quiet_says_nothing_of_a_good_job(wall: Command, job: Path, command: str) -> None:
    ran = wall(command, job, "--quiet")
    assert (ran.code, ran.out, ran.err) == (0, "", "")


@pytest.mark.parametrize("command", ["check", "takeoff", "order"])
def test_quiet_says_what_stops_a_job(wall: Command, too_tall: Path, command: str) -> None:
    assert wall(command, too_tall, "--quiet") == wall(command, too_tall)


@pytest.mark.parametrize("command", ["check", "takeoff", "order"])
def test_the_job_comes_from_standard_input(wall: Command, job: Path, command: str) -> None:
    piped = wall(command, "-", "--json", stdin=JOB.encode())
    assert piped.code == 0
    assert piped.json == wall(command, job, "--json").json | {"job": "job"}


FAULTS = {
    "a missing file": ("nowhere.toml", b""),
    "a folder": (".", b""),
    "nothing": ("-", b""),
    "not TOML": ("-", b"title = Low wall"),
    "not UTF-8": ("-", "title = 'côté'".encode("latin-1")),
    "faulty": ("-", FAULTY.encode()),
    "endless": ("/dev/zero", b""),
}


@pytest.mark.parametrize("kind", FAULTS)
@pytest.mark.parametrize("command", [("check",), ("takeoff",), ("build", "--out", "out")])
def test_a_job_that_cannot_be_read(
    wall: Command,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: tuple[str, ...],
    kind: str,
) -> None:
    source, stdin = FAULTS[kind]
    if source.startswith("/") and not Path(source).exists():
        pytest.skip(f"no {source} on this system")
    monkeypatch.chdir(tmp_path)
    plain = wall(*command, source, stdin=stdin)
    assert (plain.code, plain.out) == (2, "")
    assert plain.err.strip()
    record = wall(*command, source, "--json", stdin=stdin)
    assert record.code == 2
    assert all(fault["problem"] for fault in record.json["faults"])
    assert list(tmp_path.iterdir()) == []


def test_all_faults_are_told_in_words_and_in_json(wall: Command) -> None:
    ran = wall("check", "-", "--json", stdin=FAULTY.encode())
    assert [f["path"] for f in ran.json["faults"]] == FAULTY_PATHS
    assert set(ran.json["faults"][0]) == {"path", "value", "problem", "hint"}
    lines = ran.err.splitlines()
    assert lines[0] == "2 faults:"
    assert lines[1] == "  walls.0.plan.length_mm = nan: must be a number from 100 to 1000000"


def test_other_values_by_number_and_by_name(wall: Command, job: Path) -> None:
    for key in ("walls.0", "walls.front"):
        ran = wall("check", job, "--with", f"{key}.height.courses=12", "--json")
        assert ran.code == 1
        assert ran.json == wall("check", "-", "--json", stdin=TOO_TALL.encode()).json | {
            "job": "wall"
        }


def test_several_other_values(wall: Command, job: Path) -> None:
    changes = ("--with", "title=Other", "--with", " walls.front.height.courses = 1 ")
    ran = wall("check", job, *changes)
    assert ran.out.startswith("Other\n")
    assert "; 1 courses of" in ran.out


WRONG_CHANGES = {
    "walls.0.height.courses": "--with",
    "=4": "--with",
    "": "--with",
    "walls.back.height.courses=4": "walls.back.height.courses",
    "walls.0.height.course=4": "walls.0.height.course",
    "walls.0.height.courses=four": "walls.0.height.courses",
    "title.text=4": "title.text",
}


@pytest.mark.parametrize("change", WRONG_CHANGES)
def test_other_values_that_are_wrong(wall: Command, job: Path, change: str) -> None:
    ran = wall("check", job, "--with", change, "--json")
    assert ran.code == 2
    assert [f["path"] for f in ran.json["faults"]] == [WRONG_CHANGES[change]]


def test_every_wrong_change_is_told_at_once(wall: Command, job: Path) -> None:
    ran = wall("check", job, "--with", "a", "--with", "walls.7.name=b", "--with", "c", "--json")
    assert [f["value"] for f in ran.json["faults"]] == ["a", "c"]


def test_a_new_job_is_written_once(wall: Command, tmp_path: Path) -> None:
    path = tmp_path / "herbs.toml"
    ran = wall("new", path)
    assert (ran.code, ran.out) == (0, f"wrote {path}\n")
    written = path.read_bytes()
    again = wall("new", path, "--json")
    assert (again.code, path.read_bytes()) == (2, written)
    assert "exists already" in again.json["faults"][0]["problem"]
    assert wall("new", tmp_path / "other.toml", "--json").json == {
        "wrote": str(tmp_path / "other.toml")
    }


def test_a_new_job_where_no_file_can_be(wall: Command, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    for path in (tmp_path / "nowhere" / "job.toml", tmp_path / "file" / "job.toml", tmp_path):
        ran = wall("new", path)
        assert ran.code == 2
        assert str(path) in ran.err
    assert [p.name for p in tmp_path.iterdir()] == ["file"]


def test_a_new_job_is_not_called_like_standard_input(
    wall: Command, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = wall("new", "-", "--json")
    assert ran.code == 2
    assert "is no name for a file" in ran.json["faults"][0]["problem"]
    assert list(tmp_path.iterdir()) == []


def test_a_new_job_is_good_as_it_is(wall: Command, tmp_path: Path) -> None:
    wall("new", tmp_path / "herbs.toml")
    ran = wall("check", tmp_path / "herbs.toml", "--json")
    assert ran.code == 0
    assert "not to be built as it stands" not in [f["grade"] for f in ran.json["findings"]]


def test_sizes(wall: Command) -> None:
    plain, record = wall("sizes"), wall("sizes", "--json").json
    assert [b["name"] for b in record["blocks"]] == list(blocks())
    assert [c["name"] for c in record["copings"]] == list(copings())
    assert all(size in plain.out for size in [*blocks(), *copings()])


def test_a_size_has_the_keys_of_the_job_file(wall: Command) -> None:
    record = wall("sizes", "--json").json
    plain = ["name", "length_mm", "width_mm", "density_kg_m3", "source", "standing"]
    for kind, depth, known in (
        ("blocks", "height_mm", blocks()),
        ("copings", "thickness_mm", copings()),
    ):
        for row in record[kind]:
            assert set(row) == {*plain, depth}
            assert row[depth] == known[row["name"]].depth_mm


def test_meaning_lists_every_code(wall: Command) -> None:
    plain, record = wall("meaning"), wall("meaning", "--json").json
    assert [m["code"] for m in record] == list(meanings())
    assert all(code in plain.out for code in meanings())


@pytest.mark.parametrize("code", sorted(meanings()))
def test_meaning_says_why_and_what_next(wall: Command, code: str) -> None:
    record = wall("meaning", code, "--json").json
    assert record["code"] == code
    assert all(record[key] for key in ("title", "why", "next", "ask", "source"))
    plain = wall("meaning", code)
    assert plain.code == 0
    assert plain.out.startswith(f"{code}: {record['title']}\nWhy: ")


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (("meaning", "bad-luck"), "meaning lists all codes"),
        (
            ("schema", "wall"),
            "options, findings, bonds, drawings, pack, verification",
        ),
        (("build", "-", "--out", "out", "--formats", "step,dwg"), "choose from step, stl, glb"),
        (("build", "-", "--out", "out", "--formats", ","), "choose from step, stl, glb"),
        (("build", "-", "--out", "out", "--formats", ""), "choose from step, stl, glb"),
    ],
)
def test_a_word_that_is_none_of_the_known_ones(
    wall: Command, words: tuple[str, ...], hint: str
) -> None:
    ran = wall(*words, "--json", stdin=JOB.encode())
    assert ran.code == 2
    assert hint in ran.json["faults"][0]["hint"]
    assert hint in ran.err


def test_a_schema_is_json_with_and_without_asking(wall: Command) -> None:
    plain, asked = wall("schema"), wall("schema", "job", "--json")
    assert plain.out == asked.out
    assert json.loads(plain.out)["title"] == "Job"


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (RuntimeError("no way"), "the program failed: RuntimeError: no way"),
        (RecursionError(), "the program failed: RecursionError"),
        (MemoryError(), "the program failed: MemoryError"),
        (OSError(28, "No space left on device", "out"), "No space left on device"),
        (OSError("odd"), "odd"),
        (ImportError("libGL.so.1: cannot open"), "a library is missing: libGL.so.1"),
    ],
)
def test_whatever_is_raised_is_told_in_a_line(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path, error: Exception, told: str
) -> None:
    from parametric_wall.setting_out import set_out

    def fail(_: object) -> None:
        raise error

    monkeypatch.setattr(set_out, "set_out", fail)
    ran = wall("check", job, "--json")
    assert ran.code == 2
    assert ran.json["faults"][0]["problem"].startswith(told)
    assert told in ran.err
    assert "Traceback" not in ran.err


def test_an_interrupt_is_told_and_has_its_own_code(
    wall: Command, monkeypatch: pytest.MonkeyPatch, job: Path
) -> None:
    from parametric_wall.setting_out import set_out

    def stop(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(set_out, "set_out", stop)
    ran = wall("check", job, "--json")
    assert ran.code == 130
    assert ran.json["faults"][0]["problem"] == "stopped; no result is half-written"
    assert ran.err == "stopped; no result is half-written\n"


def test_a_title_on_the_screen_steers_no_terminal(wall: Command, job: Path) -> None:
    title = 'title="a\\u001b[2J\\u0007b\\u202ec\\u0085\\nNo objection found\\r"'
    ran = wall("check", job, "--with", title)
    assert ran.out.splitlines()[0] == r"a\u001b[2J\u0007b\u202ec No objection found"


def test_a_title_in_json_is_as_it_was_given(wall: Command, job: Path) -> None:
    title = "a\x1b[2J\x7f\x85 \u202eגדר\u202c 🧱\n"
    coded = "".join(f"\\U{ord(character):08x}" for character in title)
    ran = wall("check", job, "--json", "--with", f'title="{coded}"')
    assert ran.json["title"] == title
    assert "\x1b" not in ran.out
    assert "\x85" not in ran.out


def test_a_faulty_key_and_value_steer_no_terminal(wall: Command) -> None:
    ran = wall("check", "-", stdin=JOB.encode() + b'"\\u001b[2J" = "\\u009b2J\\u202e"\n')
    assert ran.code == 2
    assert ran.err.isprintable() is False  # The line ends.
    assert all(line.isprintable() for line in ran.err.splitlines())
