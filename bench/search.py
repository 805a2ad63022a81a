"""Search: how often the right page comes first, beside two other searches on the same pages, and what it costs a page.

Quality is measured on queries of the kept half only (see ``search_queries``); the hand-written queries of the small
manual are reported beside them, kept half too. Times are taken in Chromium with the processor throttled four times,
from a file; where other work disturbs the machine the least of several runs says more than one, so both are printed.
``BENCH_SEARCH_PROCEDURES`` says how many procedures (default 10000). What a missing package keeps from being measured
is said to be not measured.
"""

from __future__ import annotations

import gzip
import os
import platform
import shutil
import tempfile
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from time import perf_counter
from typing import Any

from bench.search_pages import Manual, manual
from bench.search_queries import Query, queries
from benchleaf.search import Document, build_index, page_script
from benchleaf.search.bundle import SCRIPTS

SEED = 2  # tuning looked at manuals of seed 1 only
EACH = 60
THROTTLE = 4
THEME = Path(__file__).parents[1] / "themes" / "benchleaf_theme"
_PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Search</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'self'">
<link rel="stylesheet" href="search.css">{scripts}</head><body><div data-search></div></body></html>
"""
_ASK_ALL = """async (queries) => {
  const index = await benchleafSearch.open(new URL("search/", location.href).href);
  const found = [];
  for (const query of queries) {
    try {
      const { best } = await benchleafSearch.rank(index, query, {});
      const urls = await Promise.all(best.slice(0, 10).map(async (one) => (await index.page(one.page)).url));
      found.push([urls, 0, false]);
    } catch (problem) {
      found.push([[], 0, true]);
    }
  }
  return { ready: 0, found };
}"""
# from the key until the hits stand in the page, as the page itself does it
_TYPE = """async (queries) => {
  const input = document.querySelector("[data-search-words]");
  const root = document.querySelector("[data-search]");
  const times = [];
  for (const query of queries) {
    const from = performance.now();
    const shown = new Promise((resolve) => root.addEventListener("search-shown", resolve, { once: true }));
    input.value = query;
    input.dispatchEvent(new Event("input"));
    await shown;
    times.push(performance.now() - from);
    await new Promise((resolve) => setTimeout(resolve, 30));
  }
  return times;
}"""
_READY = """new MutationObserver(() => {
  const root = document.querySelector("[data-search][data-ready]");
  if (root && !window.readyAt) window.readyAt = performance.now();
}).observe(document, { subtree: true, attributes: true, childList: true });"""

Found = list[tuple[list[str], float, bool]]
NEEDED = {"pyspellchecker": "spellchecker", "codespell": "codespell_lib", "playwright": "playwright"}
REMEDY = "Install it: .venv/bin/pip install -e '.[dev,bench]'"
RUNS = 3


def run() -> list[str]:
    """The printed lines: quality by class, then sizes and times."""
    missing = [package for package, name in NEEDED.items() if not find_spec(name)]
    if missing:
        return [f"search: not measured, missing here: {', '.join(missing)}. {REMEDY}"]
    from playwright.sync_api import sync_playwright

    procedures = int(os.environ.get("BENCH_SEARCH_PROCEDURES", "10000"))
    made = manual(procedures, SEED)
    asked = queries(made, "kept", EACH)
    lines = [
        f"search: {procedures} procedures, {len(made.documents)} pages, seed {SEED}, {EACH} queries a class, kept half"
    ]
    started = perf_counter()
    files = build_index(made.documents)
    seconds = perf_counter() - started
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        site = lay(folder / "ours", files)
        bare = lay(folder / "bare", build_index(made.documents, ()))
        results = {
            "benchleaf": ours(browser, site, asked),
            "no synonyms": ours(browser, bare, asked),
        }
        others, told = rivals(browser, folder / "others", made, asked)
        lines += quality(asked, results | others) + told
        lines += by_hand(browser, folder)
        lines += [f"  index built in {seconds:.1f} s on {platform.machine()}, {os.cpu_count()} cores"]
        lines += sizes(files)
        lines += times(browser, site, asked)
        lines += work(browser, site, [query.text for query in asked])
        browser.close()
    return lines


def lay(folder: Path, files: Mapping[str, bytes]) -> Path:
    """A search page with its scripts and an index; returns the page."""
    (folder / "search").mkdir(parents=True)
    for name, content in files.items():
        (folder / "search" / name).write_bytes(content)
    for name in ("page.js", "search-recent.js"):
        (folder / "search" / name).write_bytes(first_scripts(files)[name])
    shutil.copy(THEME / "css" / "search.css", folder)
    page = folder / "search.html"
    tags = "".join(f'<script defer src="search/{name}"></script>' for name in ("search-recent.js", "page.js"))
    page.write_text(_PAGE.format(scripts=tags), encoding="utf-8")
    return page


def first_scripts(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """What the search page names in its head: everything in one script, and the one that is on every page."""
    texts = {name: (THEME / "js" / name).read_text(encoding="utf-8") for name in SCRIPTS}
    return {
        "page.js": page_script(texts, files),
        "search-recent.js": (THEME / "js" / "search-recent.js").read_bytes(),
    }


def ours(browser: Any, site: Path, asked: Sequence[Query]) -> Found:
    """The answers of the page's own script, opened from the file."""
    page = browser.new_page()
    page.set_default_timeout(0)
    page.goto(site.as_uri())
    answer = page.evaluate(_ASK_ALL, [query.text for query in asked])
    page.close()
    return [(urls, ms, threw) for urls, ms, threw in answer["found"]]


def rivals(browser: Any, folder: Path, made: Manual, asked: Sequence[Query]) -> tuple[dict[str, Found], list[str]]:
    """The answers of the two others, and their sizes and times."""
    if not (find_spec("pagefind") and find_spec("pagefind_bin")):
        return {}, [f"  MkDocs' built-in search and Pagefind: not measured, pagefind is missing here. {REMEDY}"]
    from bench import search_rivals

    folder.mkdir()
    site = search_rivals.build_site(folder, made)
    texts = [query.text for query in asked]
    found: dict[str, Found] = {}
    told: list[str] = []
    with search_rivals.served(site) as address:
        for name, script, size in (
            ("MkDocs", search_rivals.MKDOCS, (site / "search" / "search_index.json").stat().st_size),
            ("Pagefind", search_rivals.PAGEFIND, search_rivals.size_of(site / "pagefind")),
        ):
            answer = search_rivals.ask(browser, address, script, texts)
            found[name] = [(urls, ms, threw) for urls, ms, threw in answer["found"]]
            ms = sorted(ms for _, ms, _ in found[name])
            told.append(
                f"  {name}: index {size / 1e6:.1f} MB, ready in {answer['ready']:.0f} ms, "
                f"answers p95 {part(ms, 0.95):.0f} ms (not throttled, over http)"
            )
    return found, told


def quality(asked: Sequence[Query], results: Mapping[str, Found]) -> list[str]:
    """A table: for each class and search MRR@10 and success@1; below it the means, empty answers and throws."""
    names = list(results)
    lines = ["  " + f"{'MRR@10 / success@1':24}" + "".join(f"{name:>16}" for name in names)]
    means: dict[str, list[float]] = defaultdict(list)
    for sort in dict.fromkeys(query.sort for query in asked):
        row = f"  {sort:24}"
        for name in names:
            places = [
                place(urls, query.relevant)
                for query, (urls, _, _) in zip(asked, results[name], strict=True)
                if query.sort == sort
            ]
            mrr = sum(1 / at if at else 0.0 for at in places) / len(places)
            means[name].append(mrr)
            row += f"{mrr:9.3f} /{sum(at == 1 for at in places) / len(places):5.2f}"
        lines.append(row)

    def each(title: str, value: Callable[[str], str]) -> str:
        return f"  {title:24}" + "".join(f"{value(name):>16}" for name in names)

    lines.append(each("mean over classes", lambda name: f"{sum(means[name]) / len(means[name]):.3f}"))
    lines.append(each("nothing found", lambda name: str(sum(not urls for urls, _, _ in results[name]))))
    lines.append(each("thrown", lambda name: str(sum(threw for _, _, threw in results[name]))))
    return lines


def place(urls: Sequence[str], relevant: frozenset[str]) -> int:
    """The place from 1 of the first right page among the ten, or 0."""
    return next((at for at, url in enumerate(urls[:10], 1) if url in relevant), 0)


def by_hand(browser: Any, folder: Path) -> list[str]:
    """The hand-written queries of the tests' small manual: kept half, without and with synonyms."""
    rows = (Path(__file__).parents[1] / "tests" / "search" / "queries.tsv").read_text(encoding="utf-8").splitlines()
    fields = [row.split("\t") for row in rows if not row.startswith("#")]
    asked = [Query(sort, text, frozenset(urls.split())) for sort, half, text, urls in fields if half == "kept"]
    from tests.search.pages import PAGES

    documents = [Document(**page) for page in PAGES]
    said = []
    for name, synonyms in (("with", None), ("without", ())):
        found = ours(browser, lay(folder / f"hand {name}", build_index(documents, synonyms)), asked)
        by_sort: dict[str, list[float]] = defaultdict(list)
        for query, (urls, _, _) in zip(asked, found, strict=True):
            at = place(urls, query.relevant)
            by_sort[query.sort].append(1 / at if at else 0.0)
        mean = sum(sum(values) / len(values) for values in by_sort.values()) / len(by_sort)
        said.append(f"{mean:.3f} {name} synonyms")
    title = f"  {len(asked)} queries written by hand before tuning (kept half, {len(documents)} pages)"
    return [f"{title}: MRR@10 {', '.join(said)}"]


def sizes(files: Mapping[str, bytes]) -> list[str]:
    """What lies on the disk, and what is loaded before the first key."""
    by_kind: dict[str, int] = defaultdict(int)
    for name, content in files.items():
        by_kind[name.removesuffix(".js").split("-")[0]] += len(content)
    loaded = [*first_scripts(files).values(), (THEME / "css" / "search.css").read_bytes()]
    raw = sum(map(len, loaded)) / 1e3
    packed = sum(len(gzip.compress(content, mtime=0)) for content in loaded)
    kinds = ", ".join(f"{kind} {size / 1e6:.2f}" for kind, size in sorted(by_kind.items()))
    return [
        f"  index {sum(by_kind.values()) / 1e6:.2f} MB in {len(files)} files ({kinds})",
        f"  first load {packed / 1e3:.1f} KB compressed, {raw:.1f} KB raw (scripts, style, root.js)",
    ]


def times(browser: Any, site: Path, asked: Sequence[Query]) -> list[str]:
    """Ready, answers and heap on a throttled page: cold (nothing read before the query) and after reading ahead."""
    texts = [query.text for query in asked]
    ready, worked, cold = [], [], []
    for text in texts[:: max(1, len(texts) // 40)]:
        page, session = opened(browser, site)
        ready.append(page.evaluate("window.readyAt"))
        worked.append(busy(session))
        cold += page.evaluate(_TYPE, [text])
        page.context.close()
    empty = site.parent / "empty.html"
    empty.write_text(_PAGE.format(scripts="").replace("data-search", "data-search data-ready"), encoding="utf-8")
    bare, idle = [], []
    for _ in ready:
        page, session = opened(browser, empty)
        bare.append(page.evaluate("window.readyAt"))
        idle.append(busy(session))
        page.context.close()
    page, session = opened(browser, site)
    page.wait_for_timeout(15_000)  # reading ahead
    warm = least(page, texts)
    keys = least(page, [text[:length] for text in texts[::20] for length in range(1, len(text) + 1)])
    session.send("HeapProfiler.collectGarbage")
    heap = session.send("Runtime.getHeapUsage")
    page.context.close()
    return [
        f"  throttled {THROTTLE} times, from a file, in ms (load of the machine {os.getloadavg()[0]:.1f}):",
        f"    ready                    {spread(ready)}",
        f"    work until ready         {spread(worked)} (the page's thread alone)",
        f"    an empty page, for comparison: {spread(bare)}; work {spread(idle)}",
        f"    answer, nothing read yet {spread(cold)}",
        f"    answer, read ahead       {spread(warm)} queries, each the least of {RUNS} runs",
        f"    answer key by key        {spread(keys)} beginnings of queries, each the least of {RUNS} runs",
        f"  heap after {RUNS * (len(warm) + len(keys))} answers: {heap['usedSize'] / 1e6:.1f} MB used, "
        f"{heap.get('backingStorageSize', 0) / 1e6:.1f} MB in buffers",
    ]


def work(browser: Any, site: Path, texts: Sequence[str]) -> list[str]:
    """Processor time of the page's thread at full speed, times the throttle: other work changes it least.

    What asking itself costs (a query list without a query) is taken off.
    """
    ready = []
    for _ in range(20):
        page, session = opened(browser, site, 1)
        ready.append(busy(session) * THROTTLE)
        page.context.close()
    page, session = opened(browser, site, 1)
    page.wait_for_timeout(10_000)  # reading ahead

    def cost(asked: list[str]) -> float:
        before = busy(session)
        page.evaluate(_TYPE, asked)
        return (busy(session) - before) * THROTTLE

    asking = min(cost([]) for _ in range(20))
    some = texts[:: max(1, len(texts) // 300)]
    runs = [[cost([text]) - asking for text in some] for _ in range(RUNS)]  # one after the other: nothing is remembered
    answers = [min(costs) for costs in zip(*runs, strict=True)]
    page.context.close()
    return [
        f"  processor time of the page's thread, not throttled, times {THROTTLE}, in ms:",
        f"    until ready              {spread(ready)}",
        f"    answer, read ahead       {spread(answers)} queries, each the least of {RUNS} runs",
    ]


def least(page: Any, queries: Sequence[str]) -> list[float]:
    """For each query the least time of several runs from the key to the hits, in ms."""
    return [min(times) for times in zip(*(page.evaluate(_TYPE, queries) for _ in range(RUNS)), strict=True)]


def busy(session: Any) -> float:
    """Milliseconds of processor time the page's main thread has used."""
    metrics = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    return float(metrics["TaskDuration"]) * 1000


def spread(values: Sequence[float]) -> str:
    """Least, median, 95th percentile, worst and count."""
    ordered = sorted(values)
    return (
        f"least {ordered[0]:4.0f}, median {part(ordered, 0.5):4.0f}, p95 {part(ordered, 0.95):4.0f}, "
        f"worst {ordered[-1]:4.0f} of {len(ordered)}"
    )


def opened(browser: Any, site: Path, rate: int = THROTTLE) -> tuple[Any, Any]:
    """A page throttled so many times that says when it was ready, and the session that throttles it."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.set_default_timeout(0)
    page.add_init_script(_READY)
    session = context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    session.send("Emulation.setCPUThrottlingRate", {"rate": rate})
    page.goto(site.as_uri())
    page.wait_for_function("window.readyAt")
    return page, session


def part(ordered: Sequence[float], share: float) -> float:
    """The value below which ``share`` of the sorted values lie."""
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]
