"""``serve`` loads the page again when a record changed, and keeps the last good site while one is wrong."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.test_mkdocs_plugin import lay_project

SERVE = (
    "import signal, sys; signal.signal(signal.SIGINT, signal.default_int_handler);"  # a background shell ignores it
    "from tests import test_mkdocs_plugin as t; from benchleaf.mkdocs_plugin import serve_manual;"
    "t.BenchleafPlugin.compile = staticmethod(t.compile_words); serve_manual(sys.argv[1], address=sys.argv[2])"
)


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
        return port


def get(url: str) -> str:
    with urllib.request.urlopen(url, timeout=10) as answer:
        text: str = answer.read().decode()
        return text


def wait_for(url: str, words: str, process: subprocess.Popen[bytes]) -> str:
    """The page once it holds the words; gives up with the last page after a minute."""
    text = ""
    for _ in range(600):
        assert process.poll() is None, "the server ended"
        try:
            text = get(url)
        except (urllib.error.URLError, ConnectionError):
            text = "no answer"
        if words in text:
            return text
        time.sleep(0.1)
    raise AssertionError(f"'{words}' never came: {text[:300]}")


def wait_for_log(log: Path, words: str) -> None:
    for _ in range(600):
        if words in log.read_text():
            return
        time.sleep(0.1)
    raise AssertionError(f"the server never said '{words}'")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[Path, str, subprocess.Popen[bytes]]]:
    project = lay_project(tmp_path / "project")
    (tmp_path / "tmp").mkdir()
    address = f"127.0.0.1:{free_port()}"
    process = subprocess.Popen(
        [sys.executable, "-c", SERVE, str(project / "mkdocs.yml"), address],
        env={**os.environ, "TMPDIR": str(tmp_path / "tmp")},
        cwd=Path(__file__).parents[1],
        stderr=(tmp_path / "log").open("wb"),
    )
    yield project, f"http://{address}/", process
    process.send_signal(signal.SIGINT)
    process.wait(timeout=60)
    assert list((tmp_path / "tmp").iterdir()) == []
    assert not (project / "site").exists()


def test_a_changed_record_is_served_and_a_wrong_one_leaves_the_last_good_site(
    served: tuple[Path, str, subprocess.Popen[bytes]],
) -> None:
    project, url, process = served
    log = project.parent / "log"
    words = project / "content/words.txt"
    first = wait_for(url + "index.html", "<h1>good</h1>", process)
    assert "connect-src 'self'" in first and "js/reload.js" in first
    epoch = get(url + "livereload/0/1")
    assert float(epoch) >= 0
    words.write_text("better")
    wait_for(url + "index.html", "<h1>better</h1>", process)
    words.write_text("wrong")
    wait_for_log(log, "is not a word")
    assert "<h1>better</h1>" in get(url + "index.html")
    words.write_text("best")
    wait_for(url + "item/lc30/A1.html", "<h1>best</h1>", process)
    assert float(get(url + f"livereload/{epoch}/1")) > float(epoch)
