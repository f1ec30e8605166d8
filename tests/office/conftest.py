"""A small fleet's journal, and a PostgreSQL server in a folder of its own."""

import contextlib
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

import pytest

from assistant.library.loader import load
from tests.office.fleet import fill


@pytest.fixture(scope="session")
def library():
    return load()


@pytest.fixture(scope="session")
def fleet(tmp_path_factory, library):
    path = tmp_path_factory.mktemp("fleet") / "journal.sqlite"
    fill(path, library, 60)
    return path


def _program(name):
    found = [*sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"), reverse=True), shutil.which(name)]
    found = [str(each) for each in found if each]
    if not found:
        pytest.fail(f"PostgreSQL's {name} is not installed; `bash .ci/setup dev` installs it")
    return found[0]


@pytest.fixture(scope="session")
def postgres():
    """The address of a server that listens on a socket of its own; as another user where the tests run as root."""
    folder = Path(tempfile.mkdtemp(prefix="lad-pg-", dir="/tmp"))
    user = "postgres" if os.getuid() == 0 else None
    if user:
        shutil.chown(folder, user)
    kept: dict[str, Any] = {"user": user, "cwd": "/tmp", "stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}
    data = folder / "data"
    subprocess.run(
        [_program("initdb"), "-D", data, "-U", "office", "-A", "trust", "-N", "--locale", "C", "-E", "UTF8"],
        check=True,
        **kept,
    )
    server = subprocess.Popen([_program("postgres"), "-D", data, "-k", folder, "-c", "listen_addresses=", "-F"], **kept)
    try:
        for _ in range(150):
            with contextlib.suppress(subprocess.TimeoutExpired):
                server.wait(0.2)
                pytest.fail(f"PostgreSQL did not start: {server.stderr.read().decode()[-500:]}")
            if (folder / ".s.PGSQL.5432").exists() and _answers(folder):
                break
        yield f"postgresql://office@/postgres?host={folder}"
    finally:
        server.terminate()
        server.wait(30)
        shutil.rmtree(folder, ignore_errors=True)


def _answers(folder):
    import psycopg

    try:
        psycopg.connect(f"host={folder} user=office dbname=postgres").close()
    except psycopg.OperationalError:
        return False
    return True
