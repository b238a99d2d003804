import pytest

from tests.planner.world import damson_batch, sugar_line, yeast_line


@pytest.fixture
def batch(maker, sugar, yeast):
    return damson_batch(maker, [sugar_line(sugar), yeast_line(yeast)])


@pytest.fixture
def as_maker(client, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    return client
