"""Still pictures of a jar from above and from the side, with a plain cup beside it for scale.

Drawn by the processor alone, at twice the size and scaled down: for printed cards, and for a page
on a device that cannot draw in three dimensions.
"""

import io
from dataclasses import dataclass
from typing import Final

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from nearmark.charts.jar_scene import COLOURS
from nearmark.charts.jar_shell import Trace, around, in_sight, looking, trace
from nearmark.charts.tokens import INK, INK_SOFT, PAPER, RULE, WHITE
from nearmark.packing import Jar, JarVessel

CUP_RIM_CM: Final = 8.0
CUP_FLOOR_CM: Final = 5.6
CUP_HEIGHT_CM: Final = 9.0
"""An ordinary drinking cup; our own choice.  The page's cup has the same measures."""

WALL_CM: Final = 0.12
GAP_CM: Final = 2.2
EDGE_CM: Final = 0.9
PICTURE_PX: Final = 1400
FINER: Final = 2
LIGHT: Final = np.array([-0.42, 0.62, 0.66])

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Canvas:
    """A picture in cm: x to the right, y upwards."""

    image: Image.Image
    left_cm: float
    top_cm: float
    pixels_a_cm: float

    def at(self, x_cm: float, y_cm: float) -> Spot:
        scale = self.pixels_a_cm
        return (x_cm - self.left_cm) * scale, (self.top_cm - y_cm) * scale

    def box(self, x_cm: float, y_cm: float, half_cm: float) -> tuple[float, float, float, float]:
        left, top = self.at(x_cm - half_cm, y_cm + half_cm)
        right, bottom = self.at(x_cm + half_cm, y_cm - half_cm)
        return left, top, right, bottom

    @property
    def pen(self) -> ImageDraw.ImageDraw:
        return ImageDraw.Draw(self.image, "RGBA")

    @property
    def line_px(self) -> int:
        return max(2, round(0.07 * self.pixels_a_cm))


def top_png(jar: Jar) -> bytes:
    """The jar from straight above.

    Returns: a PNG, as wide in cm as the picture from the side.
    """
    return _as_png(_from_above(jar))


def side_png(jar: Jar) -> bytes:
    """The jar from the side, the eye at the height of the table.

    Returns: a PNG.
    """
    return _as_png(_from_the_side(jar))


def both_png(jar: Jar) -> bytes:
    """The jar from straight above and, right of it, from the side.

    Returns: a PNG; both pictures to one scale.
    """
    top, side = _from_above(jar), _from_the_side(jar)
    sheet = Image.new("RGB", (top.width + side.width, max(top.height, side.height)), WHITE)
    sheet.paste(top, (0, (sheet.height - top.height) // 2))
    sheet.paste(side, (top.width, sheet.height - side.height))
    return _as_png(sheet)


def _from_above(jar: Jar) -> Image.Image:
    vessel = jar.request.vessel
    half_deep = max(vessel.depth_cm, vessel.top_cm if vessel.form != "box" else 0.0) / 2
    reach = max(half_deep, CUP_RIM_CM / 2) + EDGE_CM
    canvas = _canvas(vessel, -reach, reach)
    _soft_shadow(canvas, [(0.0, -0.2, _half_wide(vessel)), (_cup_x(vessel), -0.2, CUP_RIM_CM / 2)])
    _fill_ground(canvas, vessel, jar)
    _pieces(canvas, jar, head_degrees=90.0)
    _rim_from_above(canvas, vessel)
    for radius, fill in ((CUP_RIM_CM / 2, WHITE), (CUP_RIM_CM / 2 - 0.25, RULE)):
        canvas.pen.ellipse(
            canvas.box(_cup_x(vessel), 0.0, radius), fill, outline=INK_SOFT, width=canvas.line_px
        )
    canvas.pen.ellipse(canvas.box(_cup_x(vessel), 0.0, CUP_FLOOR_CM / 2), "#c9cecb")
    return _in_size(canvas)


def _from_the_side(jar: Jar) -> Image.Image:
    vessel = jar.request.vessel
    canvas = _canvas(vessel, -EDGE_CM, max(vessel.height_cm, CUP_HEIGHT_CM) + EDGE_CM)
    _table(canvas)
    _pieces(canvas, jar, head_degrees=0.0)
    _glass(canvas, vessel)
    _cup_from_side(canvas, _cup_x(vessel))
    return _in_size(canvas)


def _half_wide(vessel: JarVessel) -> float:
    return vessel.width_cm / 2 if vessel.form == "box" else max(vessel.width_cm, vessel.top_cm) / 2


def _cup_x(vessel: JarVessel) -> float:
    return _half_wide(vessel) + GAP_CM + CUP_RIM_CM / 2


def _canvas(vessel: JarVessel, bottom_cm: float, top_cm: float) -> _Canvas:
    left = -_half_wide(vessel) - EDGE_CM
    right = _cup_x(vessel) + CUP_RIM_CM / 2 + EDGE_CM
    scale = FINER * PICTURE_PX / (right - left)
    size = (FINER * PICTURE_PX, FINER * round((top_cm - bottom_cm) * scale / FINER))
    return _Canvas(Image.new("RGB", size, WHITE), left, top_cm, scale)


def _pieces(canvas: _Canvas, jar: Jar, *, head_degrees: float) -> None:
    look = looking(-90.0, head_degrees)
    left, right, bottom, top = around(jar, look)
    x_px, y_px = canvas.at(left, top)
    # Whole pixels, so that what is drawn and where it is put agree.
    left += (round(x_px) - x_px) / canvas.pixels_a_cm
    top -= (round(y_px) - y_px) / canvas.pixels_a_cm
    picture = trace(
        jar,
        look,
        pixels_a_cm=canvas.pixels_a_cm,
        window_cm=(left, right, bottom, top),
        only=in_sight(jar, look),
    )
    width_px = canvas.pixels_a_cm * jar.request.width_mm / 10
    colours = shaded(picture, COLOURS[jar.request.shape.code], width_px)
    mask = Image.fromarray(_upright(255 * (picture.pieces >= 0).astype(np.uint8)))
    spot = (round(x_px), round(y_px))
    canvas.image.paste(Image.fromarray(_upright(colours)), spot, mask)


def shaded(picture: Trace, colour: str, width_px: float) -> np.ndarray:
    """Colours of a traced picture: light from above left, darker in gaps and at outlines.

    ``colour``: ``#rrggbb``. ``width_px`` (pixels): width of a piece. Returns ndarray: uint8, shape
    (nu, nv, 3).
    """
    base = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)], np.float32) / 255
    there = picture.pieces >= 0
    lit = np.clip(picture.normals @ ((LIGHT / np.linalg.norm(LIGHT)).astype(np.float32)), 0, 1)
    shine = lit**24 * 0.16
    own = (((picture.pieces * 2654435761) % 997) / 997 - 0.5).astype(
        np.float32
    )  # the same tint for a piece every time
    light = (0.44 + 0.62 * lit) * (1 + 0.16 * own) * _openness(picture, there, width_px)
    edge = np.zeros(there.shape, bool)
    edge[:-1] |= picture.pieces[:-1] != picture.pieces[1:]
    edge[:, :-1] |= picture.pieces[:, :-1] != picture.pieces[:, 1:]
    light = np.where(edge, 0.55 * light, light)
    colours = 255 * np.clip(base * light[..., None] + shine[..., None], 0, 1)
    return np.where(there[..., None], colours, 0).astype(np.uint8)


def _openness(picture: Trace, there: np.ndarray, width_px: float) -> np.ndarray:
    """How little a point is shut in by what is before it around it, 0.4 to 1."""
    front = np.where(there, picture.depth, picture.depth[there].min(initial=0.0)).astype(np.float32)
    span = max(float(np.ptp(front)), 1e-6)
    grey = Image.fromarray((255 * (front - front.min()) / span).astype(np.uint8))
    near = np.asarray(grey.filter(ImageFilter.BoxBlur(0.6 * width_px)), np.float32) / 255 * span
    shut_in = np.clip((near + front.min() - front) / (1.4 * width_px), 0, 1)
    open_sky: np.ndarray = 1 - 0.6 * shut_in
    return open_sky


def _upright(picture: np.ndarray) -> np.ndarray:
    """From u to the right and v upwards to the rows of an image, the highest first."""
    return np.ascontiguousarray(picture.swapaxes(0, 1)[::-1])


def _table(canvas: _Canvas) -> None:
    wide, _ = canvas.image.size
    _, table = canvas.at(0.0, -WALL_CM)
    canvas.pen.rectangle((0, table, wide, canvas.image.size[1]), fill=PAPER)
    canvas.pen.line((0, table, wide, table), fill=INK_SOFT, width=canvas.line_px)


def _soft_shadow(canvas: _Canvas, discs: list[tuple[float, float, float]]) -> None:
    grey = Image.new("L", canvas.image.size, 0)
    pen = ImageDraw.Draw(grey)
    for x, y, radius in discs:
        pen.ellipse(canvas.box(x + 0.15, y - 0.15, radius + 0.1), fill=90)
    soft = grey.filter(ImageFilter.GaussianBlur(0.35 * canvas.pixels_a_cm))
    canvas.image.paste(Image.new("RGB", canvas.image.size, RULE), (0, 0), soft)


def _fill_ground(canvas: _Canvas, vessel: JarVessel, jar: Jar) -> None:
    """What shows between the pieces is the dark of the bed, not the paper."""
    colour = COLOURS[jar.request.shape.code]
    dark = tuple(int(0.28 * int(colour[k : k + 2], 16)) for k in (1, 3, 5))
    if vessel.form == "box":
        left, top = canvas.at(-vessel.width_cm / 2, vessel.depth_cm / 2)
        right, bottom = canvas.at(vessel.width_cm / 2, -vessel.depth_cm / 2)
        canvas.pen.rectangle((left, top, right, bottom), fill=dark)
        return
    highest = float(np.quantile(jar.centres_cm[:, 2], 0.98))
    radius = vessel.width_cm / 2 + vessel.slope * highest
    canvas.pen.ellipse(canvas.box(0.0, 0.0, radius), fill=dark)


def _rim_from_above(canvas: _Canvas, vessel: JarVessel) -> None:
    wall = 0.22
    for grow in (0.0, wall):
        if vessel.form == "box":
            left, top = canvas.at(-vessel.width_cm / 2 - grow, vessel.depth_cm / 2 + grow)
            right, bottom = canvas.at(vessel.width_cm / 2 + grow, -vessel.depth_cm / 2 - grow)
            canvas.pen.rectangle((left, top, right, bottom), outline=INK_SOFT, width=canvas.line_px)
        else:
            canvas.pen.ellipse(
                canvas.box(0.0, 0.0, max(vessel.width_cm, vessel.top_cm) / 2 + grow),
                outline=INK_SOFT,
                width=canvas.line_px,
            )


def _glass(canvas: _Canvas, vessel: JarVessel) -> None:
    outline = [canvas.at(x, z) for x, z in _profile(vessel)]
    mirrored = [canvas.at(-x, z) for x, z in _profile(vessel)]
    ring = [*outline, *reversed(mirrored)]
    canvas.pen.line(
        [*mirrored[::-1], *outline], fill=INK_SOFT, width=canvas.line_px + 1, joint="curve"
    )
    shine = Image.new("L", canvas.image.size, 0)
    foot, rim = outline[1], outline[-1]
    middle = canvas.at(0.0, 0.0)[0]
    left, right = (middle - share * (foot[0] - middle) for share in (0.86, 0.72))
    ImageDraw.Draw(shine).polygon(
        [(left, rim[1]), (right, rim[1]), (right, foot[1]), (left, foot[1])], fill=34
    )
    soft = shine.filter(ImageFilter.GaussianBlur(0.18 * canvas.pixels_a_cm))
    canvas.image.paste(Image.new("RGB", canvas.image.size, WHITE), (0, 0), soft)
    canvas.pen.line([ring[len(outline) - 1], ring[len(outline)]], fill=RULE, width=canvas.line_px)


def _profile(vessel: JarVessel) -> list[Spot]:
    """The right half of the vessel's outline from the middle of its floor to its rim."""
    half, edge = vessel.width_cm / 2 + WALL_CM, vessel.edge_cm
    corner = [
        (half - edge * (1 - np.sin(t)), edge * (1 - np.cos(t)) - WALL_CM * np.cos(t))
        for t in np.linspace(0, np.pi / 2, 9)
    ]
    rim = half if vessel.form == "box" else vessel.top_cm / 2 + WALL_CM
    return [(0.0, -WALL_CM), *((float(x), float(z)) for x, z in corner), (rim, vessel.height_cm)]


def _cup_from_side(canvas: _Canvas, x_cm: float) -> None:
    floor, rim = CUP_FLOOR_CM / 2, CUP_RIM_CM / 2
    corners = [(-rim, CUP_HEIGHT_CM), (rim, CUP_HEIGHT_CM), (floor, -WALL_CM), (-floor, -WALL_CM)]
    body = Image.new("L", canvas.image.size, 0)
    spots = [canvas.at(x_cm + x, z) for x, z in corners]
    ImageDraw.Draw(body).polygon(spots, fill=255)
    # Round: darker towards both sides.
    columns = np.linspace(-1, 1, canvas.image.size[0])
    middle, half = canvas.at(x_cm, 0.0)[0], rim * canvas.pixels_a_cm
    off = (np.arange(len(columns)) - middle) / half
    grey = np.clip(250 - 70 * np.abs(off + 0.2) ** 2.2, 150, 250).astype(np.uint8)
    shade = np.broadcast_to(grey[None, :, None], (canvas.image.size[1], len(grey), 3))
    canvas.image.paste(Image.fromarray(np.ascontiguousarray(shade)), (0, 0), body)
    canvas.pen.line([*spots, spots[0]], fill=INK_SOFT, width=canvas.line_px, joint="curve")
    lip = [canvas.at(x_cm - rim - 0.08, CUP_HEIGHT_CM), canvas.at(x_cm + rim + 0.08, CUP_HEIGHT_CM)]
    canvas.pen.line(lip, fill=INK, width=canvas.line_px + 1)


def _in_size(canvas: _Canvas) -> Image.Image:
    wide, high = canvas.image.size
    return canvas.image.resize((wide // FINER, high // FINER), Image.Resampling.BOX)


def _as_png(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    # 200 colours are more than one material, glass and paper need, and a third of the bytes.
    picture.quantize(200, dither=Image.Dither.NONE).save(out, "PNG")
    return out.getvalue()
