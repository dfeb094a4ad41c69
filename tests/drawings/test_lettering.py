"""Widths of texts, held against two independent readers of the font: fontTools and PIL."""

import pytest
from fontTools.ttLib import TTFont
from PIL import ImageFont

from parametric_wall.drawings import lettering

TEXTS = ("1940", "290 + 10", "c03/07", "Herb planter by the kitchen door", "Übermaß, 6 ÷ 2 = 3", "")


@pytest.fixture(scope="module")
def font():
    return TTFont(lettering.font_file())


def test_the_capital_is_as_high_as_the_letter_h_of_the_font(font):
    # ISO 3098 sizes a lettering by the height of its capitals.
    em, capital = font["head"].unitsPerEm, font["glyf"]["H"].yMax
    assert capital / em == lettering.CAPITAL
    assert -font["hhea"].descent / capital == pytest.approx(lettering.DEPTH, rel=1e-12)
    assert font["hhea"].ascent / capital == pytest.approx(lettering.ACCENTED, rel=1e-12)


def test_plain_letters_and_signs_stay_between_rise_and_depth(font):
    names, glyphs = font.getBestCmap(), font["glyf"]
    drawn = [glyphs[names[code]] for code in range(0x21, 0x7F)]
    assert max(g.yMax for g in drawn) / glyphs["H"].yMax <= lettering.RISE
    assert -min(g.yMin for g in drawn) / glyphs["H"].yMax <= lettering.DEPTH


@pytest.mark.parametrize("text", TEXTS)
def test_widths_are_the_font_s_own_advance_widths(font, text):
    metrics, names = font["hmtx"].metrics, font.getBestCmap()
    units = sum(metrics[names[ord(c)]][0] for c in text)
    expected = units / font["glyf"]["H"].yMax * 3.5
    assert lettering.width(text, 3.5) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("text", TEXTS)
def test_widths_are_what_a_second_reader_measures(text):
    size = 2048
    pil = ImageFont.truetype(str(lettering.font_file()), size, layout_engine=ImageFont.Layout.BASIC)
    plain = sum(pil.getlength(c) for c in text)
    assert lettering.width(text, lettering.CAPITAL * size) == pytest.approx(plain, abs=len(text))


def test_every_character_of_the_font_is_in_the_table(font):
    metrics = font["hmtx"].metrics
    for code, name in font.getBestCmap().items():
        units = lettering.width(chr(code), lettering.CAPITAL * lettering.EM)
        assert units == pytest.approx(metrics[name][0])


def test_a_character_that_the_font_lacks_is_taken_for_wide(font):
    lacking = "砌"
    assert ord(lacking) not in font.getBestCmap()
    # An ideograph is one em wide.
    em = 2.5 / lettering.CAPITAL
    assert em <= lettering.width(lacking, 2.5) <= 2 * em


def test_a_text_is_shortened_to_its_room_and_no_more():
    text = "A wall with a title that runs on and on past the end of its strip"
    for room in (4.0, 20.0, 55.5, 80.0):
        short = lettering.shortened(text, 2.5, room)
        assert short.endswith("…")
        assert lettering.width(short, 2.5) <= room
        assert lettering.width(text[: len(short) + 1] + "…", 2.5) > room
    assert lettering.shortened(text, 2.5, 500.0) == text
    assert lettering.shortened(text, 2.5, 1.0) == ""


def test_the_font_is_packed_with_its_licence():
    folder = lettering.font_file().parent
    licence = (folder / "LICENSE").read_text(encoding="utf-8")
    assert lettering.font_file(bold=True).is_file()
    for holder in ("Bitstream", "Tavmjong Bah"):
        assert holder in licence
