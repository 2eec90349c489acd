"""The stylesheet keeps contrast in light, dark and print, and brings nothing from elsewhere."""

import re
from pathlib import Path

import pytest

CSS = (Path(__file__).parents[2] / "frontend" / "static" / "frontend" / "baywind.css").read_text()
SCHEMES = ("light", "dark", "print")


def variables(scheme):
    """Colours of one scheme; what it does not set is as in light."""
    blocks = re.findall(r":root \{(.*?)\}", CSS, re.S)
    assert len(blocks) == 3
    found = {}
    for block in (blocks[0], blocks[SCHEMES.index(scheme)]):
        found |= dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{3,6})", block))
    return found


def luminance(colour):
    """Relative luminance of WCAG 2.2."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * one for one in colour[1:])
    parts = [int(digits[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("ground", ["paper", "sheet", "shade"])
def test_words_can_be_read(scheme, ground):
    """WCAG 2.2, 1.4.3: 4.5 for text."""
    colours = variables(scheme)
    for name in ("ink", "soft", "accent", "accent-deep", "good", "warn", "bad"):
        assert contrast(colours[name], colours[ground]) >= 4.5, name


@pytest.mark.parametrize("scheme", SCHEMES)
def test_words_on_buttons_can_be_read(scheme):
    colours = variables(scheme)
    assert contrast(colours["on-accent"], colours["accent"]) >= 4.5
    assert contrast(colours["on-accent"], colours["accent-deep"]) >= 4.5


@pytest.mark.parametrize("scheme", SCHEMES)
def test_edges_of_fields_and_shapes_can_be_seen(scheme):
    """WCAG 2.2, 1.4.11: 3 for what one must see to use a field or to read a picture."""
    colours = variables(scheme)
    for name in ("edge", "air-cool", "air-warm", "drive"):
        assert contrast(colours[name], colours["paper"]) >= 3.0, name


def test_nothing_comes_from_elsewhere():
    assert "url(" not in CSS and "@import" not in CSS and "http" not in CSS


def test_every_class_of_a_picture_has_looks():
    folder = Path(__file__).parents[2] / "frontend" / "templates" / "frontend" / "pictures"
    used = set()
    for template in folder.rglob("*.html"):
        for names in re.findall(r'class="([^"{}]+)"', template.read_text()):
            used |= set(names.split())
    missing = {name for name in used if f".{name}" not in CSS}
    assert missing <= {"air"}
