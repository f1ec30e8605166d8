"""What the simulator's own tests share."""

import pytest

from assistant.visit.session import Knowledgeable
from tests.field.run import program


@pytest.fixture(scope="session")
def context() -> Knowledgeable:
    """The program with the simulator's units among its profiles."""
    return program()
