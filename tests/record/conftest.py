"""The shipped library, and the record of a visit that has something of everything."""

import pytest

from assistant.library.loader import load
from assistant.record.build import build
from tests.record.material import sensor_visit


@pytest.fixture(scope="session")
def library():
    return load()


@pytest.fixture(scope="session")
def told(library):
    return sensor_visit(library)


@pytest.fixture(scope="session")
def record(library, told):
    return build(told.row(), told.stamped(), library)
