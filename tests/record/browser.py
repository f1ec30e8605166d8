"""A page in headless Chromium: what an accessibility checker says of it, how wide it is, how it looks."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from importlib.util import find_spec
from pathlib import Path

import pytest

#: The checker (axe-core, MPL-2.0) as it lies in its Python package, which is not imported.
AXE = Path(find_spec("axe_core_python").origin or "").parent / "axe.min.js"
_RUN = """
<script>%s</script>
<script>
window.addEventListener('load', async () => {
  const found = await axe.run(document, {resultTypes: ['violations', 'incomplete']});
  const wide = document.scrollingElement.scrollWidth;
  const brief = (x) => ({id: x.id, impact: x.impact, nodes: x.nodes.map((n) => n.html.slice(0, 160)).slice(0, 4)});
  const told = {violations: found.violations.map(brief), passes: found.passes.length, wide,
                inner: window.innerWidth};
  parent.postMessage(encodeURIComponent(JSON.stringify(told)), '*');
});
</script>
"""
#: The page stands in a frame of its width: a window of this browser is never narrower than 500 pixels.
_FRAME = """<!doctype html><title>frame</title>
<script>
window.addEventListener('message', (event) => {
  const out = document.createElement('template');
  out.id = 'told'; out.setAttribute('data-told', event.data);
  document.body.append(out);
});
</script>
<body><iframe src="page.html" style="width:%dpx;height:4000px;border:0"></iframe></body>
"""


def chromium() -> str:
    """The browser's program."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        pytest.fail("Chromium is not installed; `bash .ci/setup dev` installs it")
    return found


def _start(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    flags = ["--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run"]
    profile = f"--user-data-dir={folder / 'profile'}"
    return subprocess.run(
        [chromium(), *flags, profile, *arguments], capture_output=True, text=True, timeout=120, check=False
    )


def told_of(page: str, folder: Path, width: int, dark: bool = False) -> dict:
    """What axe finds in ``page``, and its width in pixels in a window of ``width``."""
    from urllib.parse import unquote

    frame = folder / "frame.html"
    frame.write_text(_FRAME % width, encoding="utf-8")
    script = _RUN % AXE.read_text(encoding="utf-8").replace("</script", "<\\/script")
    (folder / "page.html").write_text(page.replace("</body>", script + "</body>"), encoding="utf-8")
    theme = ["--blink-settings=preferredColorScheme=0"] if dark else []
    done = _start(
        folder, *theme, "--virtual-time-budget=20000", "--dump-dom", f"--window-size={width + 100},4000",
        frame.as_uri(),
    )  # fmt: skip
    found = re.search(r'data-told="([^"]+)"', done.stdout)
    assert found, done.stderr[-2000:]
    return dict(json.loads(unquote(found[1])))
