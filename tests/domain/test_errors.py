from tubeshelf.domain.errors import LONGEST, UserError


def test_a_sentence_that_quotes_a_pasted_page_keeps_beginning_and_advice() -> None:
    sentence = UserError(f"“{'x' * 10_000}” is not in the type table: check the name.").sentence
    assert len(sentence) <= LONGEST
    assert sentence.startswith("“xxx")
    assert sentence.endswith("is not in the type table: check the name.")
    whole = f"{'x' * (LONGEST - 1)}."
    assert UserError(whole).sentence == whole
