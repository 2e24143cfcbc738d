"""The look: calm, few colours, one typeface, readable in black and white. Each kind of cell also has a mark in words."""

from __future__ import annotations

from typing import Any, Final

FONT: Final = "Arial"
INK, QUIET, RULE = "#1B1F23", "#5A6168", "#B8BEC4"
BAND, ENTRY_FILL, ANSWER_FILL, NOTE_FILL, WARN_FILL = "#33475B", "#FFF8E1", "#EEF3F0", "#F4F5F6", "#FBE4DC"

_BASE: Final[dict[str, Any]] = {"font_name": FONT, "font_size": 10, "font_color": INK, "valign": "vcenter"}
_BOX: Final[dict[str, Any]] = {"border": 1, "border_color": RULE}
_ENTRY: Final[dict[str, Any]] = {
    **_BOX,
    "border": 2,
    "border_color": QUIET,
    "bg_color": ENTRY_FILL,
    "locked": False,
    "align": "left",
}
_ANSWER: Final[dict[str, Any]] = {**_BOX, "bg_color": ANSWER_FILL, "align": "right"}
_WORKING: Final[dict[str, Any]] = {**_BOX, "align": "right"}
_CARD: Final[dict[str, Any]] = {"font_size": 11, "border": 1, "border_color": QUIET}

#: 7/16 typed into such a cell is a number, not a date; thirty-seconds and sixty-fourths still show as they are.
FRACTION: Final = "# ??/??"

STYLES: Final[dict[str, dict[str, Any]]] = {
    "text": {},
    "title": {"font_size": 16, "bold": True},
    "subtitle": {"font_size": 11, "font_color": QUIET},
    "origin": {"font_size": 8, "font_color": QUIET},
    "heading": {"bold": True, "font_size": 12, "bottom": 2, "bottom_color": BAND},
    "head": {**_BOX, "bold": True, "bg_color": BAND, "font_color": "#FFFFFF", "text_wrap": True, "align": "center"},
    "band": {"bold": True, "bg_color": NOTE_FILL, "font_color": INK, "bottom": 2, "bottom_color": BAND},
    "wrap": {"text_wrap": True, "valign": "top"},
    "quiet": {"font_color": QUIET, "text_wrap": True, "font_size": 9},
    "label": {**_BOX},
    "unit": {**_BOX, "indent": 1},
    "label_wrap": {**_BOX, "text_wrap": True},
    "small": {**_BOX, "font_size": 8, "text_wrap": True, "valign": "top", "font_color": QUIET},
    "hint": {**_BOX, "font_size": 8, "text_wrap": True, "font_color": QUIET},
    "formula": {**_BOX, "font_size": 8, "text_wrap": True, "valign": "top"},
    "mark": {"font_color": QUIET, "align": "center", "font_size": 9},
    "entry": {**_ENTRY},
    "entry_text": {**_ENTRY, "num_format": "@"},
    "entry_long": {**_ENTRY, "num_format": "@", "text_wrap": True},
    "entry_number": {**_ENTRY, "num_format": "General"},
    "entry_fraction": {**_ENTRY, "num_format": FRACTION},
    "entry_date": {**_ENTRY, "num_format": "yyyy-mm-dd"},
    "answer": {**_ANSWER, "num_format": "0.0##"},
    "answer_share": {**_ANSWER, "num_format": "0.00##"},
    "answer_2": {**_ANSWER, "num_format": "0.0"},
    "answer_in": {**_ANSWER, "num_format": "0.000"},
    "answer_fine": {**_ANSWER, "num_format": "0.00"},
    "answer_count": {**_ANSWER, "num_format": "0"},
    "answer_fraction": {**_ANSWER, "num_format": FRACTION},
    "answer_figures": {**_ANSWER, "num_format": "General"},
    "answer_text": {**_ANSWER, "align": "left"},
    "answer_wrap": {**_ANSWER, "align": "left", "text_wrap": True, "valign": "top"},
    "answer_state": {**_ANSWER, "align": "center", "bold": True},
    "answer_some": {**_ANSWER, "num_format": "0;-0;"},
    "answer_hours": {**_ANSWER, "num_format": "0.0;-0.0;"},
    "answer_percent": {**_ANSWER, "num_format": "0%;-0%;"},
    "answer_date": {**_ANSWER, "num_format": "yyyy-mm-dd"},
    "answer_amount": {**_ANSWER, "num_format": "0.0#"},
    "answer_money": {**_ANSWER, "num_format": "#,##0.00"},
    "answer_bold": {**_ANSWER, "num_format": "0", "bold": True},
    "quiet_line": {"font_color": QUIET, "font_size": 9},
    "working_date": {**_WORKING, "num_format": "yyyy-mm-dd"},
    "working": {**_WORKING, "num_format": "0.0#####"},
    "working_text": {**_WORKING, "align": "left"},
    "working_wrap": {**_WORKING, "align": "left", "text_wrap": True},
    "answer_tiny": {**_WORKING, "num_format": "0.00E+00"},
    "number": {**_BOX, "num_format": "General", "align": "right"},
    "plain_number": {"num_format": "General", "align": "left"},
    "carried": {**_BOX, "font_color": INK},
    # The job card: 11 points or more in every cell, black on white; what is to be written in has a heavier border.
    "card_title": {"font_size": 14, "bold": True},
    "card_state": {**_CARD, "bold": True, "align": "center", "border": 2},
    "card_words": {"font_size": 11, "indent": 1},
    "card_words_wrap": {"font_size": 11, "indent": 1, "text_wrap": True},
    "card_head": {**_CARD, "bold": True, "align": "center", "bg_color": NOTE_FILL},
    "card_head_left": {**_CARD, "bold": True, "bg_color": NOTE_FILL},
    "card_label": {**_CARD},
    "card_text": {**_CARD, "align": "left"},
    "card_bold": {**_CARD, "align": "left", "bold": True},
    "card_wrap": {**_CARD, "align": "left", "text_wrap": True},
    "card_block": {**_CARD, "align": "left", "text_wrap": True, "valign": "top"},
    "card_box": {**_CARD, "border": 2},
    "card_sign": {**_CARD, "border": 2, "align": "right", "indent": 6},
    "card_tick": {**_CARD, "border": 2, "align": "center"},
    "card_length": {**_CARD, "align": "right", "num_format": "0.0"},
    "card_fine": {**_CARD, "align": "right", "num_format": "0.00"},
    "card_inch": {**_CARD, "align": "right", "num_format": "0.000"},
    "card_fraction": {**_CARD, "align": "right", "num_format": FRACTION},
    "card_figures": {**_CARD, "align": "right", "num_format": "General"},
    "card_count": {**_CARD, "align": "right", "num_format": "0"},
    "card_mass": {**_CARD, "align": "right", "num_format": "0.000"},
    "card_rule": {**_CARD, "align": "right"},
    "card_bar": {**_CARD, "align": "right", "num_format": '0.0" bar"'},
    "card_psi": {**_CARD, "align": "right", "num_format": '0" psi"'},
    "card_celsius": {**_CARD, "align": "right", "num_format": '0" °C"'},
    "card_fahrenheit": {**_CARD, "align": "right", "num_format": '0" °F"'},
    "card_strokes": {**_CARD, "align": "left", "num_format": '"After "0" strokes"'},
    "card_days": {**_CARD, "align": "left", "num_format": '"After "0" days"'},
    "card_flats": {**_CARD, "align": "right", "num_format": '"then "0.0" flats"'},
    "card_minutes": {**_CARD, "align": "right", "num_format": '"for "0" min"'},
    "warn": {"bg_color": WARN_FILL, "bold": True},
    "stop": {"bg_color": INK, "font_color": "#FFFFFF", "bold": True},
    "link": {"font_color": "#1F4E79", "underline": 1},
}


def style(name: str) -> dict[str, Any]:
    """The properties of a named style."""
    return {**_BASE, **STYLES[name]}


def mark_style(name: str) -> dict[str, Any]:
    """The properties that a conditional look lays over a cell: a typeface cannot change there."""
    return STYLES[name]
