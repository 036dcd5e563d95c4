"""The command `billet` as a process: broken pipes, full disks, narrow terminals, plain letters, Ctrl-C."""

import csv
import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from billet import __version__, example_recipes
from billet.quantities import read_temperature_c

ROOT = Path(__file__).resolve().parent.parent
REED_BED = str(example_recipes()["reed_bed_kitchen"])
COMMAND = [sys.executable, "-m", "billet"]
Done = subprocess.CompletedProcess[str]


def ran(*arguments: str, shell: str = "", **environment: str) -> Done:
    """A process of its own; `shell` is appended to the command as a shell would read it."""
    clean = {key: value for key, value in os.environ.items() if key != "COLUMNS"}
    env = {**clean, "PYTHONIOENCODING": "utf-8", **environment}
    asked: str | list[str] = [*COMMAND, *arguments]
    if shell:
        asked = " ".join(f"'{word}'" for word in asked) + " " + shell
    return subprocess.run(
        asked, cwd=ROOT, env=env, shell=bool(shell), capture_output=True, encoding="utf-8", check=False,
        stdin=subprocess.DEVNULL,
    )  # fmt: skip


def test_the_version() -> None:
    for arguments in (["--version"], ["--version", "plan"]):
        told = ran(*arguments)
        assert (told.returncode, told.stdout, told.stderr) == (0, f"billet {__version__}\n", "")


@pytest.mark.parametrize("arguments", [[], ["--help"], ["plan", "--help"]])
def test_help_is_an_answer(arguments: list[str]) -> None:
    told = ran(*arguments)
    assert told.returncode == 0 and told.stdout.startswith("usage: billet") and told.stderr == ""


def test_a_reader_that_goes_away_is_no_fault() -> None:
    told = ran("plan", REED_BED, "--json", shell="| head -c 10")
    assert told.stdout == '{\n "format' and told.stderr == ""


def test_closed_output_is_quiet() -> None:
    told = ran("plan", REED_BED, shell=">&-")
    assert told.stderr == "" and told.returncode == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_is_told() -> None:
    told = ran("plan", REED_BED, shell=">/dev/full")
    assert told.returncode == 1
    assert told.stderr == "billet: the answer cannot be written: No space left on device\n"


def test_broken_input_is_told() -> None:
    told = ran("plan", "-", shell="<&-")
    assert told.returncode == 2 and told.stdout == ""
    assert told.stderr == "billet: cannot read standard input: it is closed\n"


def test_nothing_but_the_code_where_both_outputs_are_closed() -> None:
    assert ran("plan", "no/such.toml", shell=">&- 2>&-").returncode == 2


@pytest.mark.parametrize(
    "arguments",
    [
        ["plan", REED_BED], ["plan", REED_BED, "--json"], ["sheet", REED_BED, "--kind", "forge"],
        ["steels", "52100"], ["state", "52100", "--at", "845"], ["study", REED_BED],
        ["plan", REED_BED, "--csv"],
    ],
)  # fmt: skip
def test_plain_letters_where_the_output_takes_no_others(arguments: list[str]) -> None:
    told = ran(*arguments, PYTHONIOENCODING="ascii")
    assert told.returncode == 0 and told.stderr == "" and told.stdout.isascii()
    if "--json" in arguments:
        assert json.loads(told.stdout) == json.loads(ran(*arguments).stdout)
    else:
        assert told.stdout.count("?") == ran(*arguments).stdout.count("?")


def _until_it_reads(pid: int) -> None:
    """Wait until a process waits for its standard input; where the system does not tell, some seconds."""
    told = Path(f"/proc/{pid}/syscall")
    for _ in range(600):
        if told.exists() and told.read_text(encoding="ascii").startswith("0 0x0 "):
            return
        time.sleep(0.05 if told.exists() else 0.01)


def test_ctrl_c_is_quiet() -> None:
    running = subprocess.Popen(
        [*COMMAND, "plan", "-"],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    _until_it_reads(running.pid)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=20)
    assert (running.returncode, out, err) == (130, b"", b"")


@pytest.mark.parametrize("columns", [60, 80])
@pytest.mark.parametrize(
    "arguments",
    [
        ["plan", REED_BED], ["sheet", REED_BED, "--kind", "forge"], ["steels", "52100"], ["study", REED_BED],
        ["--help"],
    ],
)  # fmt: skip
def test_a_narrow_terminal_is_kept_to(arguments: list[str], columns: int) -> None:
    """Tables alone may run over, where their longest words leave no room."""
    lines = ran(*arguments, COLUMNS=str(columns)).stdout.splitlines()
    over = [line for line in lines if len(line) > columns and not re.search(r"\S {2,}\S|^ {8}", line)]
    assert [line for line in over if set(line) != {"-"}] == []
    assert max(map(len, lines)) <= 100


def test_the_schedule_as_csv() -> None:
    rows = list(csv.DictReader(io.StringIO(ran("plan", REED_BED, "--csv").stdout)))
    schedule = json.loads(ran("plan", REED_BED, "--json").stdout)["schedule"]
    assert [int(row["step"]) for row in rows] == [row["step"] for row in schedule]
    for row, told in zip(rows, schedule, strict=True):
        assert float(row["height_mm"]) == told["height_mm"]
        assert float(row["lost_kg.scale"]) == told["lost_kg"]["scale"]
        assert float(row["mass_share.dark"]) == told["mass_share"]["dark"]
        assert float(row["layer_um.mean"]) == told["layer_um"]["mean"]
        assert row["cut_marks_mm"] == ";".join(map(str, told["cut_marks_mm"]))
        assert row["temperature_c"] == ("" if told["temperature_c"] is None else str(told["temperature_c"]))


def test_the_study_as_csv_and_json() -> None:
    rows = list(csv.DictReader(io.StringIO(ran("study", REED_BED, "--csv").stdout)))
    curves = json.loads(ran("study", REED_BED, "--json").stdout)["hardness"]
    points = [(c["steel"], p["temperature_c"], p["hrc"]["value"]) for c in curves for p in c["points"]]
    assert [(r["steel"], float(r["temperature_c"]), float(r["hrc.value"])) for r in rows] == points
    assert len(points) > 20


def test_the_library_as_csv() -> None:
    rows = list(csv.DictReader(io.StringIO(ran("steels", "--csv").stdout)))
    listed = json.loads(ran("steels", "--json").stdout)
    assert [row["designation"] for row in rows] == [steel["designation"] for steel in listed]
    assert [float(row["wt.C"] or 0) for row in rows] == [steel["nominal"].get("C", 0) for steel in listed]


def test_examples_are_listed_and_printed() -> None:
    listed = [line.split("  ")[0] for line in ran("examples").stdout.splitlines()]
    assert listed == list(example_recipes())
    told = ran("examples", "reed_bed_kitchen")
    assert told.stdout == Path(REED_BED).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("815", 815.0), ("815C", 815.0), ("815 c", 815.0), ("1500F", 1468 / 1.8), ("1500 °F", 1468 / 1.8),
     ("815,5", 815.5), ("-40F", -40.0), (" 815 °C ", 815.0)],
)  # fmt: skip
def test_temperatures_as_a_shop_writes_them(text: str, celsius: float) -> None:
    assert read_temperature_c(text) == pytest.approx(celsius, rel=1e-12)


def test_fahrenheit_is_taken_and_said_both_ways() -> None:
    told = ran("state", "1084", "--at", "1500F")
    assert told.stdout.startswith("At 816 °C / 1500 °F")


def test_a_huge_temperature_is_refused_with_a_short_number() -> None:
    for huge in ("1e308", "9" * 400):
        told = ran("state", "1084", "--at", huge)
        assert told.returncode == 2 and len(told.stderr) < 120


@pytest.mark.parametrize("shell", ["bash", "zsh"])
def test_completion_is_a_script_its_shell_reads(shell: str) -> None:
    script = ran("completion", shell).stdout
    assert all(word in script for word in ("plan", "study", "--kind", "forge harden kiln buyer label"))
    if shutil.which(shell):
        subprocess.run([shell, "-n"], input=script, text=True, check=True)


@pytest.mark.skipif(shutil.which("bash") is None, reason="the script is tried in bash, which is not here")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("billet pl", {"plan"}), ("billet sheet x.toml --kind b", {"buyer"}),
        ("billet plan --u", {"--units"}), ("billet state 1084 --start s", {"spheroidised"}),
        ("billet plan READ", {"README.md"}), ("billet completion z", {"zsh"}), ("billet --v", {"--version"}),
    ],
)  # fmt: skip
def test_bash_completes(typed: str, offered: set[str]) -> None:
    words = typed.split(" ")
    script = ran("completion", "bash").stdout + "\n".join(
        [
            f"COMP_WORDS=({' '.join(repr(word) for word in words)})",
            f"COMP_CWORD={len(words) - 1}",
            "_billet",
            'printf "%s\\n" "${COMPREPLY[@]}"',
        ]
    )
    told = subprocess.run(["bash"], input=script, cwd=ROOT, capture_output=True, text=True, check=True)
    assert set(told.stdout.split()) == offered
