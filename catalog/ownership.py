"""How codes of own parts begin, and how they are formed, so that nobody meets another's part by its code."""

from __future__ import annotations

from catalog.validators import CODE, CODE_ACCEPTED

PREFIX = "own-"
_LONGEST = 64


def is_own_code(code: str) -> bool:
    """Return whether a code is one that only own parts may have, in whatever case it is written.

    >>> is_own_code("own-k3v7q2xa-shelf"), is_own_code("OWN-fan"), is_own_code("owner")
    (True, True, False)
    """
    return code.lower().startswith(PREFIX)


def own_code(tag: str, word: str) -> str:
    """Return the code of an own part from its owner's tag and the word that the owner calls it by.

    >>> own_code("k3v7q2xa", "shelf")
    'own-k3v7q2xa-shelf'
    """
    code = f"{PREFIX}{tag}-{word}"
    if not CODE.fullmatch(word) or len(code) > _LONGEST:
        longest = _LONGEST - len(code) + len(word)
        raise ValueError(f"'{word:.80}' is not a word for a part; accepted: {CODE_ACCEPTED}, at most {longest} in all")
    return code
