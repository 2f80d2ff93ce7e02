"""Metal does not come from itself."""

from registry.model.descent import circles


def test_circles_of_metal_are_found_once() -> None:
    """A circle is named once, whatever leads into it; lines that join again are none."""
    assert circles({"c": ["a"], "a": ["b"], "b": ["c"], "d": ["a"]}) == [("a", "b", "c")]
    assert circles({"a": ["b", "c"], "b": ["d"], "c": ["d"]}) == []
    assert circles({"a": ["a"]}) == [("a",)]
    assert circles({}) == []


def test_long_lines_do_not_overflow() -> None:
    """Ten thousand castings one after the other are gone through."""
    assert circles({str(number): [str(number + 1)] for number in range(10_000)}) == []
