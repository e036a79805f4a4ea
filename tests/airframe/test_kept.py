"""What is kept of the results last used."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from airframe.kept import Kept


@pytest.mark.parametrize("use", ["get", "put", "get_or_make"])
def test_the_longest_unused_is_dropped(use: str) -> None:
    """Of three keys in a room for two, the one that nothing was done with goes; each call is a use."""
    kept: Kept[str, int] = Kept(2)
    kept.put("a", 1)
    kept.put("b", 2)
    {"get": lambda: kept.get("a"), "put": lambda: kept.put("a", 1), "get_or_make": lambda: kept.get_or_make("a", int)}[
        use
    ]()
    assert kept.get_or_make("c", lambda: 3) == 3
    assert (len(kept), kept.get("a"), kept.get("b"), kept.get("c")) == (2, 1, None, 3)


def test_what_is_kept_is_not_made_again() -> None:
    """The second asking gives the very thing that the first made; what nothing may be false of is kept too."""
    kept: Kept[str, list[int]] = Kept(2)
    first = kept.get_or_make("empty", list)
    assert kept.get_or_make("empty", list) is first
    assert kept.get("empty") is first


def test_nothing_is_kept_of_what_could_not_be_made() -> None:
    """An error goes to the one who asked; the next one tries anew."""
    kept: Kept[str, float] = Kept(2)
    with pytest.raises(ZeroDivisionError):
        kept.get_or_make("a", lambda: 1 / 0)
    assert kept.get_or_make("a", lambda: 2.0) == 2.0


def test_threads_that_make_at_once_are_given_the_same() -> None:
    """Two are held back until both are making: each makes its own, and one of the two is given to both."""
    kept: Kept[str, object] = Kept(2)
    both = Barrier(2, timeout=60.0)

    def make() -> object:
        both.wait()
        return object()

    with ThreadPoolExecutor(2) as pool:
        one, other = (done.result() for done in [pool.submit(kept.get_or_make, "a", make) for _ in range(2)])
    assert one is other is kept.get("a")
