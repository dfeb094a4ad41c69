"""STEP (AP214, mm): one product a shape, one occurrence a piece, the same bytes every time.

Three things would make two runs of one job differ: the time in the header, the ids of
occurrences, which the kernel counts up through the whole process, and colours, which it
orders by where they happen to lie in memory. The header and the ids are set here, and
the colours are written here instead of by the kernel.
"""

from __future__ import annotations

import re
from pathlib import Path
from tempfile import TemporaryDirectory

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.BinXCAFDrivers import BinXCAFDrivers
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_StepModelType
from OCP.StepData import StepData_StepModel
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from parametric_wall.errors import OutputError
from parametric_wall.export.step_colours import colour_solids
from parametric_wall.solid import kernel
from parametric_wall.solid.model import NOTHING, Model, WallModel
from parametric_wall.solid.shapes import location_of

TEXTS = {"write.step.schema": "AP214IS", "write.step.unit": "MM", "xstep.cascade.unit": "MM"}
NUMBERS = {"write.surfacecurve.mode": 0}
"""No curves in the parameters of plane faces: every reader makes them itself."""

FIXED_TIME = "1970-01-01T00:00:00"
"""A file made twice from one job is one file; when it was made, the file system knows."""

LAST_OF_FIRST_PLANE = 0xFFFF
_NOT_PLAIN = re.compile(r"[^\x20-\x7e]+")


def step_bytes(model: Model) -> bytes:
    """The model as a STEP file.

    Args:
        model: the solid model, mm.

    Raises:
        OutputError: the model has no piece, or the kernel could not translate or write it.
    """
    if not model.prototypes:
        raise OutputError(NOTHING)
    with kernel.quiet(), TemporaryDirectory() as folder:
        path = Path(folder) / "model.step"
        writer = STEPCAFControl_Writer()
        with kernel.settings(TEXTS, NUMBERS):
            _fill(writer, model)
            status = writer.Write(str(path))
        if status != IFSelect_RetDone:
            raise OutputError(f"the kernel could not write the STEP file ({status.name})")
        return path.read_bytes()


def part21(text: str) -> str:
    """Text as STEP files have to carry it: what is not plain ASCII, by its code points."""
    return _NOT_PLAIN.sub(_coded, text)


def _coded(found: re.Match[str]) -> str:
    text = found[0]
    if all(ord(character) <= LAST_OF_FIRST_PLANE for character in text):
        return f"\\X2\\{text.encode('utf-16-be').hex().upper()}\\X0\\"
    return f"\\X4\\{text.encode('utf-32-be').hex().upper()}\\X0\\"


def _fill(writer: STEPCAFControl_Writer, model: Model) -> None:
    writer.SetNameMode(True)
    writer.SetColorMode(False)
    writer.SetLayerMode(False)
    document = _document(model)
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        raise OutputError("the kernel could not translate the model to STEP")
    colour_solids(writer, model)
    file = writer.ChangeWriter().Model()
    _number_occurrences(file)
    _write_header(file, model)


def _document(model: Model) -> TDocStd_Document:
    """The model as the kernel's document: products, and occurrences of products."""
    application = XCAFApp_Application.GetApplication_s()
    BinXCAFDrivers.DefineFormat_s(application)
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    application.InitDocument(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    tool.SetAutoNaming_s(False)
    products = {p.name: _named(tool.AddShape(p.solid, False), p.name) for p in model.prototypes}
    root = _named(tool.NewShape(), model.title or model.name)
    for wall in model.walls:
        if any(group.pieces for group in wall.groups):
            _add_wall(tool, root, wall, products)
    tool.UpdateAssemblies()
    return document


def _add_wall(
    tool: XCAFDoc_ShapeTool, root: TDF_Label, wall: WallModel, products: dict[str, TDF_Label]
) -> None:
    standing = _named(tool.NewShape(), wall.name)
    _named(tool.AddComponent(root, standing, location_of(wall.place)), wall.name)
    for group in wall.groups:
        if not group.pieces:
            continue
        laid = _named(tool.NewShape(), group.name)
        _named(tool.AddComponent(standing, laid, TopLoc_Location()), group.name)
        for piece in group.pieces:
            product = products[piece.prototype.name]
            _named(tool.AddComponent(laid, product, location_of(piece.at)), piece.id)


def _named(label: TDF_Label, name: str) -> TDF_Label:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(part21(name), True))
    return label


def _number_occurrences(file: StepData_StepModel) -> None:
    number = 0
    for i in range(1, file.NbEntities() + 1):
        entity = file.Value(i)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            number += 1
            entity.SetId(TCollection_HAsciiString(str(number)))


def _write_header(file: StepData_StepModel, model: Model) -> None:
    header = APIHeaderSection_MakeHeader(file)
    header.SetName(TCollection_HAsciiString(part21(f"{model.name}.step")))
    header.SetTimeStamp(TCollection_HAsciiString(FIXED_TIME))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.SetOrganizationValue(1, TCollection_HAsciiString(""))
    header.SetOriginatingSystem(TCollection_HAsciiString("parametric_wall"))
    header.SetAuthorisation(TCollection_HAsciiString(""))
    header.SetDescriptionValue(1, TCollection_HAsciiString(part21(model.title)))
