"""Taking in a large log over the page against copying the same file."""

import http.client
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

MEGABYTES = 190
"""Size of the log: a little below the most that is taken."""
BLOCK = 1 << 20
PLANE = Path(__file__).parent.parent / "examples" / "reedling"
LINK = re.compile(r"http://127\.0\.0\.1:(\d+)/")


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a large file; its content does not matter while it is taken in."""
    file = tmp_path_factory.mktemp("large") / "log.csv"
    random = np.random.default_rng(1)
    with file.open("wb") as out:
        for _ in range(MEGABYTES):
            out.write(random.bytes(BLOCK))
    return file


@pytest.fixture
def server(tmp_path: Path) -> Iterator[tuple[int, int]]:
    """Serve a plane; return the port and the process."""
    folder = shutil.copytree(PLANE, tmp_path / "plane")
    command = [sys.executable, "-m", "foamwright", "open", str(folder), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - our own command
        assert process.stdout is not None
        match = LINK.search(process.stdout.readline())
        assert match
        ask(int(match[1]), "GET", "/state")  # the plane is read
        yield int(match[1]), process.pid
        process.send_signal(signal.SIGINT)


def ask(port: int, method: str, path: str, *, body: object = None, length: int = 0) -> bytes:
    """Send one request; return the answer."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    headers = {"origin": f"http://127.0.0.1:{port}"}
    if length:
        headers["content-length"] = str(length)
    connection.request(method, path, body=body, headers=headers)  # type: ignore[arg-type]
    answer = connection.getresponse()
    told = answer.read()
    connection.close()
    assert answer.status == 200, told
    return told


def sent(port: int, file: Path) -> float:
    """Send a log; return how long that took [s]."""
    start = time.perf_counter()
    with file.open("rb") as body:
        ask(port, "POST", "/flights/log?name=log.csv", body=body, length=file.stat().st_size)
    return time.perf_counter() - start


def peak(process: int) -> float:
    """Return the most memory a process held so far [MB]."""
    told = Path(f"/proc/{process}/status").read_text(encoding="utf-8")
    match = re.search(r"VmHWM:\s+(\d+) kB", told)
    assert match
    return int(match[1]) / 1024.0


def test_taking_a_log_in_against_copying_it(
    benchmark: BenchmarkFixture, log: Path, tmp_path: Path, server: tuple[int, int]
) -> None:
    """The target is 100 MB/s on loopback, the server below 250 MB."""
    port, process = server
    before = peak(process)
    start = time.perf_counter()
    shutil.copyfile(log, tmp_path / "copy.csv")
    copied = time.perf_counter() - start
    took = benchmark.pedantic(sent, args=(port, log), rounds=5, warmup_rounds=1)
    median = benchmark.stats.stats.median
    benchmark.extra_info["size [MB]"] = log.stat().st_size / 1e6
    benchmark.extra_info["taken in [MB/s]"] = log.stat().st_size / 1e6 / median
    benchmark.extra_info["taking in over copying"] = median / copied
    benchmark.extra_info["peak of the server before [MB]"] = before
    benchmark.extra_info["peak of the server [MB]"] = peak(process)
    assert took > 0.0
