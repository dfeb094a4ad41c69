"""Colours in a STEP file, one style a kind, in a fixed order."""

from __future__ import annotations

from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPConstruct import STEPConstruct
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_HArray1OfRepresentationItem, StepRepr_RepresentationContext
from OCP.StepShape import StepShape_AdvancedBrepShapeRepresentation
from OCP.StepVisual import (
    StepVisual_ColourRgb,
    StepVisual_FillAreaStyle,
    StepVisual_FillAreaStyleColour,
    StepVisual_FillStyleSelect,
    StepVisual_HArray1OfFillStyleSelect,
    StepVisual_HArray1OfPresentationStyleAssignment,
    StepVisual_HArray1OfPresentationStyleSelect,
    StepVisual_HArray1OfSurfaceStyleElementSelect,
    StepVisual_MechanicalDesignGeometricPresentationRepresentation,
    StepVisual_PresentationStyleAssignment,
    StepVisual_PresentationStyleSelect,
    StepVisual_StyledItem,
    StepVisual_SurfaceSide,
    StepVisual_SurfaceSideStyle,
    StepVisual_SurfaceStyleElementSelect,
    StepVisual_SurfaceStyleFillArea,
    StepVisual_SurfaceStyleUsage,
)
from OCP.TCollection import TCollection_HAsciiString

from parametric_wall.errors import OutputError
from parametric_wall.setting_out.model import Kind
from parametric_wall.solid.colours import TINTS, Rgb
from parametric_wall.solid.model import Model

NAMELESS = TCollection_HAsciiString("")


def colour_solids(writer: STEPCAFControl_Writer, model: Model) -> None:
    """Give every solid of a translated model its kind's colour.

    Args:
        writer: has translated the model, and not yet written it.
        model: what it has translated.

    Raises:
        OutputError: a solid of the model is not among those translated.
    """
    finder = writer.ChangeWriter().WS().TransferWriter().FinderProcess()
    file = writer.ChangeWriter().Model()
    styles: dict[Kind, StepVisual_HArray1OfPresentationStyleAssignment] = {}
    items = StepRepr_HArray1OfRepresentationItem(1, len(model.prototypes))
    for i, prototype in enumerate(model.prototypes, start=1):
        solid = STEPConstruct.FindEntity_s(finder, prototype.solid)
        if solid is None:
            raise OutputError(f"{prototype.name} is not in the STEP file")
        if prototype.kind not in styles:
            styles[prototype.kind] = _styles(TINTS[prototype.kind][0])
        item = StepVisual_StyledItem()
        item.SetName(TCollection_HAsciiString(prototype.kind))
        item.SetStyles(styles[prototype.kind])
        item.SetItem(solid)
        items.SetValue(i, item)
    presentation = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
    presentation.Init(NAMELESS, items, _context(file))
    file.AddWithRefs(presentation)


def _context(file: StepData_StepModel) -> StepRepr_RepresentationContext:
    """The units and the accuracy that the solids were written in."""
    for i in range(1, file.NbEntities() + 1):
        entity = file.Value(i)
        if isinstance(entity, StepShape_AdvancedBrepShapeRepresentation):
            return entity.ContextOfItems()
    raise OutputError("the STEP file holds no solid")


def _styles(rgb: Rgb) -> StepVisual_HArray1OfPresentationStyleAssignment:
    """One colour on both sides of a surface, in the seven layers that STEP asks for."""
    colour = StepVisual_ColourRgb()
    colour.Init(NAMELESS, *rgb)
    fill_colour = StepVisual_FillAreaStyleColour()
    fill_colour.Init(NAMELESS, colour)
    fill_select = StepVisual_FillStyleSelect()
    fill_select.SetValue(fill_colour)
    fills = StepVisual_HArray1OfFillStyleSelect(1, 1)
    fills.SetValue(1, fill_select)
    fill = StepVisual_FillAreaStyle()
    fill.Init(NAMELESS, fills)
    area = StepVisual_SurfaceStyleFillArea()
    area.Init(fill)
    element = StepVisual_SurfaceStyleElementSelect()
    element.SetValue(area)
    elements = StepVisual_HArray1OfSurfaceStyleElementSelect(1, 1)
    elements.SetValue(1, element)
    return _assigned(elements)


def _assigned(
    elements: StepVisual_HArray1OfSurfaceStyleElementSelect,
) -> StepVisual_HArray1OfPresentationStyleAssignment:
    side = StepVisual_SurfaceSideStyle()
    side.Init(NAMELESS, elements)
    usage = StepVisual_SurfaceStyleUsage()
    usage.Init(StepVisual_SurfaceSide.StepVisual_ssBoth, side)
    select = StepVisual_PresentationStyleSelect()
    select.SetValue(usage)
    selects = StepVisual_HArray1OfPresentationStyleSelect(1, 1)
    selects.SetValue(1, select)
    assignment = StepVisual_PresentationStyleAssignment()
    assignment.Init(selects)
    assignments = StepVisual_HArray1OfPresentationStyleAssignment(1, 1)
    assignments.SetValue(1, assignment)
    return assignments
