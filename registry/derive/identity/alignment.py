"""How many letters must be changed for a fragment to stand somewhere within a text.

References
----------
G. Myers, A fast bit-vector algorithm for approximate string matching based on dynamic programming, Journal of
the ACM 46 (1999) 395-415.
"""

from registry.derive.identity.letters import UNREAD


class Fragment:
    """A fragment, made ready to be looked for in many texts.

    Parameters
    ----------
    letters : str
        Plain letters, at least one; `UNREAD` agrees with any letter.
    """

    def __init__(self, letters: str) -> None:
        if not letters:
            raise ValueError("a fragment has at least one letter")
        self.letters = letters
        self._any = 0
        self._at: dict[str, int] = {}
        for place, letter in enumerate(letters):
            if letter == UNREAD:
                self._any |= 1 << place
            else:
                self._at[letter] = self._at.get(letter, 0) | 1 << place
        self._at = {letter: places | self._any for letter, places in self._at.items()}

    def least_changes(self, text: str) -> int:
        """Give the least letters to change, add or leave out for the fragment to stand in a text."""
        length = len(self.letters)
        mask, last = (1 << length) - 1, 1 << (length - 1)
        up, down, changes = mask, 0, length
        least = length
        for letter in text:
            here = self._any | mask if letter == UNREAD else self._at.get(letter, self._any)
            diagonal = (((here & up) + up) ^ up) | here | down
            rises = down | (~(diagonal | up) & mask)
            falls = up & diagonal
            if rises & last:
                changes += 1
            elif falls & last:
                changes -= 1
            # A fragment may begin anywhere in the text: no bit is shifted in.
            rises, falls = (rises << 1) & mask, (falls << 1) & mask
            up = falls | (~(diagonal | rises) & mask)
            down = rises & diagonal
            if changes < least:  # noqa: PLR1730 - min() takes twice the time here
                least = changes
        return least
