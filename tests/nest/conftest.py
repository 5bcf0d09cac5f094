"""Fewer tries for the tests of this room."""

import pytest


@pytest.fixture
def quick(monkeypatch):
    """Fewer tries, where the nest need only be sound."""
    monkeypatch.setattr("planner.nest.tries.WORK", 50_000)
