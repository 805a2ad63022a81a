"""The same pages and queries in two other searches: MkDocs' built-in one and Pagefind, each as its own page runs it.

Both need a web server (they fetch), so the folder is served on the loopback address for as long as it is measured.
"""

from __future__ import annotations

import contextlib
import functools
import http.server
import logging
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from bench.search_pages import Manual, markdown

_PLAIN = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{{ page.title }}</title></head>
<body><main data-pagefind-body>{{ page.content }}</main></body></html>
"""
# MkDocs' worker is asked as its own page script asks it; a hit on a section counts for its page
MKDOCS = """async (queries) => {
  const started = performance.now();
  const worker = new Worker("/search/worker.js");
  const ask = (message, wanted) => new Promise((resolve, reject) => {
    worker.onmessage = ({ data }) => { if (data[wanted]) resolve(data[wanted]); };
    worker.onerror = (event) => { event.preventDefault(); reject(event); };
    worker.postMessage(message);
  });
  await ask({ init: true }, "allowSearch");
  const ready = performance.now() - started;
  const found = [];
  for (const query of queries) {
    const from = performance.now();
    try {
      const urls = (await ask({ query }, "results")).map((hit) => hit.location.split("#")[0]);
      found.push([Array.from(new Set(urls)).slice(0, 10), performance.now() - from, false]);
    } catch (problem) {
      found.push([[], performance.now() - from, true]);
    }
  }
  worker.terminate();
  return { ready, found };
}"""
PAGEFIND = """async (queries) => {
  const started = performance.now();
  const pagefind = await import("/pagefind/pagefind.js");
  await pagefind.init();
  await pagefind.search("ready");
  const ready = performance.now() - started;
  const found = [];
  for (const query of queries) {
    const from = performance.now();
    try {
      const { results } = await pagefind.search(query);
      const data = await Promise.all(results.slice(0, 10).map((hit) => hit.data()));
      found.push([data.map((one) => one.url.replace(/^\\//, "")), performance.now() - from, false]);
    } catch (problem) {
      found.push([[], performance.now() - from, true]);
    }
  }
  return { ready, found };
}"""


def build_site(folder: Path, made: Manual) -> Path:
    """The manual as MkDocs makes it (bare theme, built-in search with its defaults), then indexed by Pagefind."""
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    for page in made.documents:
        source = folder / "docs" / page.url.replace(".html", ".md")
        source.parent.mkdir(parents=True, exist_ok=True)
        source.write_text(markdown(page), encoding="utf-8")
    (folder / "docs" / "index.md").write_text("# Manual\n", encoding="utf-8")
    (folder / "theme").mkdir()
    (folder / "theme" / "main.html").write_text(_PLAIN, encoding="utf-8")
    (folder / "mkdocs.yml").write_text(
        "site_name: Manual\nuse_directory_urls: false\nplugins: [search]\nnav: [index.md]\n"
        "theme: {name: null, custom_dir: theme}\n",
        encoding="utf-8",
    )
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    build(load_config(str(folder / "mkdocs.yml")))
    site = folder / "site"
    subprocess.run([sys.executable, "-m", "pagefind", "--site", str(site)], check=True, capture_output=True)
    return site


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder at a loopback address for the length of the block."""
    handler = functools.partial(_Quiet, directory=str(folder))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Says nothing."""


def ask(browser: Any, address: str, script: str, queries: Sequence[str]) -> dict[str, Any]:
    """``ready`` in ms and for each query the pages, the ms and whether it threw."""
    page = browser.new_page()
    page.set_default_timeout(0)
    page.goto(address + "index.html")
    answer: dict[str, Any] = page.evaluate(script, list(queries))
    page.close()
    return answer


def size_of(folder: Path) -> int:
    """Bytes of all files below a folder."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
