"""How the machine is used while a booklet is made."""

import gc

import pytest

from planbook.machine import SELDOM, seldom_interrupted


def test_python_is_set_back_afterwards_whatever_happened():
    before = gc.get_threshold()
    inside = []

    def work() -> None:
        with seldom_interrupted():
            inside.append(gc.get_threshold())
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        work()
    assert inside == [SELDOM]
    assert gc.get_threshold() == before
    assert gc.isenabled()
