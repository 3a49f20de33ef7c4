"""What the operations say about their pictures."""

from planbook.workshop.registry import operations


def test_every_operation_says_itself_how_it_is_drawn() -> None:
    assert [name for name, kind in operations().items() if "DRAWN" not in vars(kind)] == []


def test_no_two_operations_weigh_the_same() -> None:
    weights = [kind.DRAWN.weight for kind in operations().values()]
    assert len(set(weights)) == len(weights)
    assert min(weights) > 0
