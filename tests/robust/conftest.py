"""The shipped library with its reasoners, once."""

import pytest


@pytest.fixture(scope="session")
def context(tmp_path_factory):
    from assistant.library.loader import load
    from assistant.visit.session import Knowledgeable

    return Knowledgeable(load(user=tmp_path_factory.mktemp("nobody")))
