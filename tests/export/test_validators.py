"""A validator that is missing is never taken for one that found nothing."""

from __future__ import annotations

import shutil

import pytest
from validators import REQUIRED, VALIDATORS, require


@pytest.fixture(params=sorted(VALIDATORS))
def missing(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(shutil, "which", lambda _: None)
    return str(request.param)


def test_on_a_laptop_its_tests_are_skipped(missing: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(REQUIRED, raising=False)
    with pytest.raises(pytest.skip.Exception, match=f"{missing} is missing"):
        require(missing)


def test_where_all_are_required_its_tests_fail(
    missing: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(REQUIRED, "1")
    with pytest.raises(pytest.fail.Exception, match=f"{missing} is missing"):
        require(missing)
