"""The page in a browser: as wide as a phone and no wider, formulas laid out, nothing to complain of.

Run where Chromium is installed. The page has no script; a page of the test's own holds it in a frame and measures.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from . import failing, report_of

BROWSER = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))),
    None,
)
WIDTHS = (390, 1280)

pytestmark = pytest.mark.skipif(BROWSER is None, reason="there is no Chromium here")

_FRAME = """<!DOCTYPE html><html><body style="margin:0"><iframe id="page" src="report.html"
style="border:0;width:{width}px;height:900px"></iframe><pre id="told"></pre><script>
document.getElementById("page").onload = function () {{
  var page = this.contentDocument, root = page.documentElement;
  var maths = Array.from(page.querySelectorAll("math"));
  var wide = Array.from(page.querySelectorAll(".wide, .formula, .drawing"));
  var outside = Array.from(page.querySelectorAll("body *")).filter(function (e) {{
    return !e.closest(".wide, .formula, .drawing") && e.getBoundingClientRect().right > {width} + 0.5;
  }});
  document.getElementById("told").textContent = JSON.stringify({{
    scroll: root.scrollWidth, client: root.clientWidth,
    maths: maths.length, flat: maths.filter(m => m.getBoundingClientRect().height <= 5).length,
    fractions: Array.from(page.querySelectorAll("mfrac")).filter(f => {{
      var a = f.children[0].getBoundingClientRect(), b = f.children[1].getBoundingClientRect();
      return a.bottom > b.top + 2; }}).length,
    scrolling: wide.filter(w => w.scrollWidth > w.clientWidth + 1).length,
    outside: outside.map(e => e.tagName + " " + e.textContent.slice(0, 60)),
  }});
}};
</script></body></html>"""


def browse(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run the browser without a window."""
    assert BROWSER is not None
    return subprocess.run(
        [
            BROWSER,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--allow-file-access-from-files",
            f"--user-data-dir={folder / 'profile'}",
            "--virtual-time-budget=20000",
            "--enable-logging=stderr",
            "--v=0",
            *words,
        ],
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )


def measured(tmp_path: Path, html: str, width: int) -> tuple[dict[str, Any], str]:
    """Return what the frame told of a page, and what the browser said of it."""
    (tmp_path / "report.html").write_text(html, encoding="utf-8")
    frame = tmp_path / "frame.html"
    frame.write_text(_FRAME.format(width=width), encoding="utf-8")
    ran = browse(tmp_path, "--window-size=1400,1000", "--dump-dom", frame.as_uri())
    match = re.search(r'<pre id="told">([^<]+)</pre>', ran.stdout)
    assert match is not None, ran.stderr[-2000:]
    found = json.loads(unescape(match[1]))
    assert isinstance(found, dict)
    return found, ran.stderr


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", ["trailer_sailer_4m6", "stave_mast_6m", "glass_tube_5m"])
def test_the_page_fits_and_formulas_stand(tmp_path: Path, name: str, width: int) -> None:
    html = report_of(name).html
    found, said = measured(tmp_path, html, width)
    assert found["scroll"] <= width
    assert found["outside"] == []
    assert found["maths"] == html.count("<math ") > 0
    assert found["flat"] == 0
    # above and below the line, not side by side
    assert found["fractions"] == 0
    if width == WIDTHS[0]:
        assert found["scrolling"] > 0
    assert "CONSOLE" not in said


def test_a_page_too_wide_would_be_seen(tmp_path: Path) -> None:
    html = failing().html.replace("<main>", '<main><p style="width:900px">wide</p>', 1)
    found, _ = measured(tmp_path, html, WIDTHS[0])
    assert found["scroll"] > WIDTHS[0] and found["outside"]


def test_complaints_of_the_console_would_be_seen(tmp_path: Path) -> None:
    html = failing().html.replace("<main>", '<main><script>console.error("oh")</script>', 1)
    _, said = measured(tmp_path, html, WIDTHS[0])
    assert "CONSOLE" in said


def test_it_prints_on_pages(tmp_path: Path) -> None:
    report = failing()
    page, out = tmp_path / "report.html", tmp_path / "out.pdf"
    page.write_text(report.html, encoding="utf-8")
    browse(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={out}", page.as_uri())
    raw = out.read_bytes()
    pages = len(re.findall(rb"/Type ?/Page\b(?!s)", raw))
    # each of the large sections begins a page of its own
    assert pages >= sum(html_section.count('class="new-page"') for html_section in (report.html,))
