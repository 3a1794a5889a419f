"""Random trees that are written once for all tests which only read them."""

from functools import cache

import pytest

from . import trees


@pytest.fixture(scope="session")
def grown(tmp_path_factory):
    """`grown(seed)`: the folder of that seed's tree. Read it, never write to it."""
    forest = tmp_path_factory.mktemp("forest")
    return cache(lambda seed: trees.write_tree(forest / str(seed), seed))
