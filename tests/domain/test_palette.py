from dataclasses import replace

import pytest

from tubeshelf.domain.palette import DARK, LIGHT, TEXT_PAIRS, Palette, contrast


def test_contrast_of_black_and_white_is_the_largest_there_is() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.01)
    assert contrast("#A8480C", "#A8480C") == 1


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
@pytest.mark.parametrize(("text", "ground"), TEXT_PAIRS)
def test_every_text_reads_on_every_ground_it_is_drawn_on(palette: Palette, text: str, ground: str) -> None:
    assert contrast(palette.tone(text), palette.tone(ground)) >= 5


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda p: p.name)
def test_the_edge_of_a_control_and_the_focus_ring_can_be_seen(palette: Palette) -> None:
    for ground in (palette.bg, palette.panel):
        assert contrast(palette.control, ground) >= 3
        assert contrast(palette.accent, ground) >= 3


def test_a_tone_without_a_name_is_ink() -> None:
    assert LIGHT.tone("") == LIGHT.ink
    assert replace(DARK, weak="#010203").tone("weak") == "#010203"
