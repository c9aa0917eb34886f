"""Search keys of free text: folded here and stored, so that both databases find the same."""

import unicodedata


def text_key(text: str) -> str:
    """Free text for searching: case and accents folded, white space single."""
    decomposed = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in decomposed if not unicodedata.combining(c)).split())


def search_words(text: str) -> list[str]:
    """The words of a search, folded as the keys are."""
    return text_key(text).split()
