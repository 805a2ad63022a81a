"""A click in the finder: from the press to the next frame, on a page whose processor is slowed to a quarter.

The demo's pages with the most causes, every test answered in the order offered, then taken back; and tests answered in
any order until the table has no state for it and the page decides by its rule.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from importlib.util import find_spec
from pathlib import Path
from statistics import median
from typing import Any

GOAL = 50
"""Milliseconds, the goal."""
THROTTLE = 4
PAGES = (("fp420", "beeps-wont-feed"), ("bc300", "ink-not-cured"), ("fp420", "08"))
OPEN = """async () => {
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const begin = Array.from(document.querySelectorAll('[data-finder-place] > button'));
  if (begin.length) {
    begin[begin.length - 1].click();
  }
  while (!document.querySelector('[data-finder-next]')) {
    await frame();
  }
}"""
CLICK = """async (round) => {
  const all = (found) => Array.from(document.querySelectorAll(found));
  const offered = all('[data-finder-next] [data-outcome]').filter((one) => one.dataset.outcome !== 'cured');
  const other = all('.finder-other [data-outcome]');
  const back = all('button').filter((one) => one.textContent === 'Take back');
  for (const one of all('.finder-others')) {
    one.open = round % 5 === 1;
  }
  const from = round % 3 === 2 && other.length ? other : offered.length ? offered : back;
  const start = performance.now();
  from[round % from.length].click();
  await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  return performance.now() - start;
}"""
CLICKS = 30


def run() -> list[str]:
    """The lines to print."""
    if find_spec("playwright") is None:
        return ["finder: playwright is not installed, nothing was measured"]
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if found is None:
        return ["finder: Chromium is not installed, nothing was measured"]
    from playwright.sync_api import sync_playwright
    from tests.browser.finder_site import lay_finder

    lines = []
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        paths = lay_finder(folder)
        browser: Any = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        for one in PAGES:
            page = browser.new_page(viewport={"width": 390, "height": 800})
            page.goto((folder / paths[one]).as_uri())
            session = page.context.new_cdp_session(page)
            session.send("Performance.enable", {"timeDomain": "threadTicks"})
            page.evaluate(OPEN)
            worked = []
            for round in range(CLICKS):
                before = _worked(session)
                page.evaluate(CLICK, round)
                worked.append(THROTTLE * (_worked(session) - before))
            session.send("Emulation.setCPUThrottlingRate", {"rate": THROTTLE})
            spent = [page.evaluate(CLICK, round) for round in range(CLICKS)]
            lines.append(
                f"finder: a click on {one[0]} {one[1]}, processor at 1/{THROTTLE}, to the next frame: median "
                f"{median(spent):.0f} ms, most {max(spent):.0f} ms; processor time x {THROTTLE}: median "
                f"{median(worked):.0f} ms, most {max(worked):.0f} ms; goal {GOAL} ms; {os.cpu_count()} cores"
            )
            page.close()
        browser.close()
    return lines


def _worked(session: Any) -> float:
    """Milliseconds of processor time the page's own thread has used, whatever else the machine does."""
    found = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    return 1000 * float(found["TaskDuration"])
