"""The rows in which quantities are proved, and which kinds of piece each one holds."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.setting_out.model import Kind


@dataclass(frozen=True, slots=True)
class Component:
    """One row of the proof.

    Attributes:
        name: as it is shown.
        kinds: the kinds of piece it holds; none for what is dug and not built.
        rule: how the closed form gets it.
    """

    name: str
    kinds: tuple[Kind, ...]
    rule: str


COMPONENTS = (
    Component("footing", ("footing",), "plan area of the strips, counted once, x depth"),
    Component("trench", (), "plan area of the footing x depth to ground level"),
    Component(
        "blocks and perps",
        ("block", "perp"),
        "centre-line girth x thickness x block heights of all courses, less the open perps",
    ),
    Component("beds", ("bed",), "centre-line girth x thickness x bed x courses"),
    Component("coping bed", ("coping bed",), "section x girth at its centroid"),
    Component("copings and joints", ("coping", "coping joint"), "section x girth at its centroid"),
    Component("filler", ("filler",), "section x width of the movement joint"),
    Component("drainage", ("drainage",), "clear plan area x depth, less the footing's spread"),
    Component("soil", ("soil",), "clear plan area x depth, less the footing's spread"),
)

SPLIT: tuple[Kind, ...] = ("block", "perp", "coping", "coping joint")
"""Kinds shown by themselves too: no closed form can know them without the bond."""
