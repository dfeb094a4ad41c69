"""Walls set out by hand, piece by piece, for tests that need pieces and no job."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from parametric_wall.geometry import Bar, End, Placement, Point, Shape, Slab, rectangle
from parametric_wall.setting_out.model import Kind, Piece, SettingOut, WallSetOut

BLOCK, WIDTH, HEIGHT, JOINT = 440.0, 100.0, 215.0, 10.0
OVERHANG, FRONT, BACK = 40.0, 65.0, 55.0
"""A coping over `WIDTH`: 180 wide, 65 thick in front and 55 behind."""
COPING = 600.0
FOOTING = 150.0

COPING_SECTION: tuple[Point, ...] = (
    (-OVERHANG, 0.0),
    (-25.0, 0.0),
    (-25.0, 8.0),
    (-12.0, 8.0),
    (-12.0, 0.0),
    (WIDTH + OVERHANG, 0.0),
    (WIDTH + OVERHANG, BACK),
    (-OVERHANG, FRONT),
)
"""Falls towards the back, with a drip groove 13 wide and 8 deep under the front."""
COPING_AREA = (WIDTH + 2 * OVERHANG) * (FRONT + BACK) / 2 - 13.0 * 8.0


@dataclass
class Layer:
    """Collects the pieces of one run of one course."""

    wall: str
    run: int
    course: int
    at: Placement
    pieces: list[Piece]

    def add(self, kind: Kind, mark: str, shape: Shape, s: float, z: float = 0.0) -> None:
        """Lay one piece with its own axes at (s, 0, z) of this layer, mm."""
        place = Placement(s, 0.0, z).then(self.at)
        name = f"{self.wall}/r{self.run}/c{self.course:02d}/{mark}"
        self.pieces.append(Piece(name, kind, self.wall, self.run, self.course, shape, place))


def straight_length(blocks: int) -> float:
    """The length of so many whole blocks between two stop ends, mm."""
    return blocks * (BLOCK + JOINT) - JOINT


def straight_wall(
    name: str = "herbs",
    blocks: int = 6,
    courses: int = 3,
    place: Placement | None = None,
    weep: bool = False,
) -> WallSetOut:
    """A straight wall in half bond between two stop ends, on a strip footing.

    Args:
        name: the wall's name.
        blocks: whole blocks in the first course.
        courses: how many courses.
        place: where the wall stands on the site.
        weep: leave the first perp of the first course open.
    """
    length = straight_length(blocks)
    pieces: list[Piece] = []
    strip = rectangle(length + 200.0, WIDTH + 200.0)
    base = Placement(-100.0, -100.0, -FOOTING)
    pieces.append(Piece(f"{name}/footing", "footing", name, 0, 0, Slab(strip, (), FOOTING), base))
    for course in range(1, courses + 1):
        level = (course - 1) * (HEIGHT + JOINT)
        layer = Layer(name, 1, course, Placement(z=level), pieces)
        lay_course(layer, length, first=BLOCK if course % 2 else (BLOCK - JOINT) / 2)
    if weep:
        index = next(i for i, piece in enumerate(pieces) if piece.kind == "perp")
        pieces[index] = replace(pieces[index], kind="weep")
    top = Layer(name, 1, courses + 1, Placement(z=courses * (HEIGHT + JOINT)), pieces)
    lay_copings(top, length)
    return WallSetOut(name, place or Placement(), tuple(pieces))


def lay_course(layer: Layer, length: float, first: float) -> None:
    """A bed, and blocks with perps between them, the first of the given length, mm."""
    layer.add("bed", "bed", Bar(rectangle(WIDTH, JOINT), End(0.0), End(length)), 0.0)
    section = rectangle(WIDTH, HEIGHT)
    along, size, mark = 0.0, first, 1
    while along < length - 1e-6:
        size = min(size, length - along)
        layer.add("block", f"{mark:03d}", Bar(section, End(0.0), End(size)), along, JOINT)
        along += size
        if along < length - 1e-6:
            perp = Bar(section, End(0.0), End(JOINT))
            layer.add("perp", f"{mark:03d}p", perp, along, JOINT)
            along += JOINT
        size, mark = BLOCK, mark + 1


def lay_copings(
    layer: Layer, length: float, start: float = 0.0, end: float = 0.0, joint: float = 0.0
) -> None:
    """A level bed and falling copings on it, with joints between them.

    Args:
        layer: where to lay them.
        length: of the run, mm.
        start: per_u of the first coping's start plane.
        end: per_u of the last coping's end plane.
        joint: what is kept free before the end plane, mm along the run.
    """
    bed = Bar(rectangle(WIDTH, JOINT), End(0.0, start), End(length, end))
    layer.add("coping bed", "bed", bed, 0.0)
    along, mark = 0.0, 1
    while along < length - joint - 1e-6:
        size = min(COPING, length - joint - along)
        last = along + size >= length - joint - 1e-6
        first_plane = End(0.0, start if mark == 1 else 0.0)
        shape = Bar(COPING_SECTION, first_plane, End(size, end if last else 0.0))
        layer.add("coping", f"{mark:03d}", shape, along, JOINT)
        along += size
        if not last:
            shape = Bar(COPING_SECTION, End(0.0), End(JOINT))
            layer.add("coping joint", f"{mark:03d}j", shape, along, JOINT)
            along += JOINT
        mark += 1
    if joint:
        shape = Bar(COPING_SECTION, End(0.0, end), End(joint, end))
        layer.add("coping joint", f"{mark:03d}j", shape, along, JOINT)


def corner_wall(name: str = "corner", place: Placement | None = None) -> WallSetOut:
    """Two runs about a right-angled corner, on an L footing with a duct through it.

    The first run is 2 m long and the second 1.5 m, both measured on the outside. The
    copings are mitred, with a joint along the mitre.
    """
    one, two = 2000.0, 1500.0
    pieces: list[Piece] = []
    outline = (
        (-100.0, -100.0),
        (one + 100.0, -100.0),
        (one + 100.0, two + 100.0),
        (one - 200.0, two + 100.0),
        (one - 200.0, 200.0),
        (-100.0, 200.0),
    )
    duct = ((300.0, 20.0), (410.0, 20.0), (410.0, 80.0), (300.0, 80.0))
    footing = Slab(outline, (duct,), FOOTING)
    pieces.append(Piece(f"{name}/footing", "footing", name, 0, 0, footing, Placement(z=-FOOTING)))
    for course in (1, 2):
        z = (course - 1) * (HEIGHT + JOINT)
        run_through, short = (one, two - WIDTH) if course == 1 else (one - WIDTH, two)
        turn = Placement(one, WIDTH if course == 1 else 0.0, z, 90.0)
        lay_course(Layer(name, 1, course, Placement(z=z), pieces), run_through, BLOCK)
        lay_course(Layer(name, 2, course, turn, pieces), short, (BLOCK - JOINT) / 2)
    z = 2 * (HEIGHT + JOINT)
    lay_copings(Layer(name, 1, 3, Placement(z=z), pieces), one, end=-1.0, joint=JOINT)
    lay_copings(Layer(name, 2, 3, Placement(one, 0.0, z, 90.0), pieces), two, start=1.0)
    return WallSetOut(name, place or Placement(), tuple(pieces))


def sample() -> SettingOut:
    """Two walls, one turned and away from the origin, with names beyond ASCII."""
    return SettingOut(
        "sample",
        "Kräuterbeet “Süd” – 2 m × 1,5 m · 庭",
        (
            straight_wall("kräuter", weep=True),
            corner_wall("Ecke ½", Placement(6000.0, 2500.0, 120.0, 37.0)),
        ),
    )


def long_wall(blocks: int, courses: int = 6) -> SettingOut:
    """One long straight wall, for many pieces."""
    return SettingOut("long", "Long wall", (straight_wall("long", blocks, courses),))


def moved(job: SettingOut, piece_id: str, ds: float) -> SettingOut:
    """The same job with one piece moved along x of its wall, mm."""

    def shift(piece: Piece) -> Piece:
        if piece.id != piece_id:
            return piece
        return replace(piece, at=replace(piece.at, x=piece.at.x + ds))

    return _mapped(job, shift)


def without(job: SettingOut, piece_id: str) -> SettingOut:
    """The same job with one piece forgotten."""
    return _mapped(job, lambda piece: None if piece.id == piece_id else piece)


def _mapped(job: SettingOut, change: Callable[[Piece], Piece | None]) -> SettingOut:
    walls = []
    for wall in job.walls:
        pieces = [new for piece in wall.pieces if (new := change(piece)) is not None]
        walls.append(replace(wall, pieces=tuple(pieces)))
    return replace(job, walls=tuple(walls))
