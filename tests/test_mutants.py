"""The copy that the mutation test works on is the same program, with nothing left above the clauses to hide them."""

from __future__ import annotations

from mutants import with_decorators_below

SOURCE = '''
calls = []

def noted(word):
    def decorate(function):
        calls.append((word, function.__name__))
        return lambda value: f"{word}({function(value)})"
    return decorate

@noted("outer")
@noted("inner")
def double(value):
    """Twice the value."""
    return 2 * value

class Kept:
    @property
    def one(self):
        return 1
'''


def run(source: str) -> dict[str, object]:
    """Run a module's source and give its names."""
    names: dict[str, object] = {}
    exec(source, names)
    return names


def test_decorators_move_below_and_the_program_stays_the_same() -> None:
    moved = with_decorators_below(SOURCE)
    assert "@noted" not in moved
    assert "@property" in moved
    before, after = run(SOURCE), run(moved)
    assert before["calls"] == after["calls"] == [("inner", "double"), ("outer", "<lambda>")]
    assert before["double"](4) == after["double"](4) == "outer(inner(8))"  # type: ignore[operator]
    assert after["Kept"]().one == 1  # type: ignore[operator]
