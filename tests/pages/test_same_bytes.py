"""The same records give the same bytes, in any folder, any time zone, with any hash seed."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from tests.pages.library import CONTENT

CODE = """
import hashlib, sys
from pathlib import Path
from benchleaf.pipeline import compile_site
from benchleaf.render import make_environment, render_page
manual = compile_site(Path(sys.argv[1]))
env = make_environment(manual.frame)
for page in manual.pages:
    print(page.path, hashlib.sha256(render_page(page, env)).hexdigest())
for asset in manual.assets:
    data = asset.data if asset.data is not None else Path(asset.source).read_bytes()
    print(asset.path, hashlib.sha256(data).hexdigest())
"""


def listing(content: Path, zone: str, seed: str) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", CODE, str(content)],
        capture_output=True,
        text=True,
        check=True,
        env={"TZ": zone, "PYTHONHASHSEED": seed, "PATH": "", "LC_ALL": "C.UTF-8"},
    )
    return done.stdout.splitlines()


def test_two_builds_in_two_folders_are_the_same_bytes(tmp_path: Path) -> None:
    other = tmp_path / "another place" / "records"
    shutil.copytree(CONTENT, other)
    here = listing(CONTENT, "Pacific/Auckland", "1")
    there = listing(other, "America/Caracas", "77")
    assert len(here) > 400
    assert [line for line in here if line not in set(there)] == []
    assert here == there
