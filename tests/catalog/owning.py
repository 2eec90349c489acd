"""How tests make own parts."""

from catalog.ownership import own_code


def make_own(part, owner, word="mine"):
    """Turn a public part, in memory, into a new own one of somebody."""
    part.pk, part.owner, part.code = None, owner, own_code(f"{owner.username:a>8.8}", word)
    part.save()
    return part
