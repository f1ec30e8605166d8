"""The page as people see it: in Chromium, at the widths of a phone, a tablet and a desk, light and dark."""

import pytest

from assistant.record.build import build
from assistant.record.forms import as_html
from tests.record.browser import told_of
from tests.record.material import Told, job_visit

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def pages(library):
    whole, locked = job_visit(library), Told(library).arrive().lock().close(outcome="not mended")
    long = Told(library).arrive(site="Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamten" * 3).close()
    return [as_html(build(told.row(), told.stamped(), library)) for told in (whole, locked, long)]


@pytest.mark.parametrize(("width", "dark"), [(390, False), (820, True), (1280, False)])
def test_the_accessibility_checker_finds_nothing_and_nothing_is_cut_off(pages, tmp_path, width, dark):
    for number, page in enumerate(pages):
        folder = tmp_path / str(number)
        folder.mkdir()
        told = told_of(page, folder, width, dark)
        assert told["violations"] == []
        assert told["passes"] > 20
        assert told["inner"] == width
        assert told["wide"] <= width


def test_the_checker_does_find_what_is_wrong(pages, tmp_path):
    spoilt = pages[0].replace('<html lang="en">', "<html>").replace("--soft: #55646f", "--soft: #cccccc")
    found = {violation["id"] for violation in told_of(spoilt, tmp_path, 1280)["violations"]}
    assert {"html-has-lang", "color-contrast"} <= found
