"""Search keys of free text: folded here and stored, so that both databases find the same."""

import unicodedata

LONGEST_KEY = 600
"""Characters of a key: of four bytes each they still go into an index of PostgreSQL (2,704 bytes)."""

LONGEST_WORD, MOST_WORDS = 60, 12
"""What a search looks for at most: the beginning of a name is in its key whatever stands before it."""


def text_key(text: str) -> str:
    """Free text for searching: case and accents folded, white space single, the beginning of a long one."""
    decomposed = unicodedata.normalize("NFKD", text[: 4 * LONGEST_KEY].casefold())
    folded = " ".join("".join(c for c in decomposed if not unicodedata.combining(c)).split())
    return folded[:LONGEST_KEY].rstrip()


def search_words(text: str) -> list[str]:
    """The words of a search, folded as the keys are."""
    return typed_words(text_key(text))


def typed_words(text: str) -> list[str]:
    """The words of a search as they were typed; of a pasted page the beginning."""
    return [word[:LONGEST_WORD] for word in text[: 4 * LONGEST_KEY].split()[:MOST_WORDS]]
