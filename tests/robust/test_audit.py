"""The audit fails on a version known to be vulnerable, by a list served here in the format of the public one."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from packaging.version import Version

ROOT = Path(__file__).parent.parent.parent
#: One entry of the public list, from memory: CVE-2020-28493 of Jinja2, mended in 2.11.3.
ENTRY = {
    "id": "PYSEC-2021-66",
    "aliases": ["CVE-2020-28493"],
    "summary": "A regular expression takes long on a crafted address.",
    "affected": [
        {
            "package": {"name": "jinja2", "ecosystem": "PyPI"},
            "ranges": [{"type": "ECOSYSTEM", "events": [{"introduced": "0"}, {"fixed": "2.11.3"}]}],
        }
    ],
}


class _List(BaseHTTPRequestHandler):
    """Answers as the OSV service does: what is known of one version of one package."""

    def do_POST(self) -> None:
        asked = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        hit = asked["package"]["name"] == "jinja2" and Version(asked["version"]) < Version("2.11.3")
        body = json.dumps({"vulns": [ENTRY]} if hit else {}).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Says nothing."""


@pytest.fixture
def known() -> Iterator[str]:
    """The address of the list."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), _List)
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/v1/query"
    server.shutdown()
    server.server_close()


def audit(lock: Path, known: str, cache: Path) -> subprocess.CompletedProcess[str]:
    words = ["--lock", str(lock), "-s", "osv", "--osv-url", known, "--cache-dir", str(cache)]
    free = {name: value for name, value in os.environ.items() if "proxy" not in name.lower()}
    return subprocess.run(
        ["bash", ".ci/audit", *words], cwd=ROOT, env=free, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize(("version", "status"), [("2.11.2", 1), ("2.11.3", 0)])
def test_a_version_known_to_be_vulnerable_fails(tmp_path: Path, known: str, version: str, status: int) -> None:
    lock = tmp_path / "requirements.lock"
    lock.write_text(f"jinja2=={version} --hash=sha256:{'0' * 64}\n")
    done = audit(lock, known, tmp_path / "cache")
    assert done.returncode == status, done.stdout + done.stderr
    assert ("PYSEC-2021-66" in done.stdout) == (status == 1)


def test_the_whole_lock_can_be_asked_about(tmp_path: Path, known: str) -> None:
    done = audit(ROOT / "requirements.lock", known, tmp_path / "cache")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No known vulnerabilities found" in done.stdout + done.stderr
