"""Pictures of a planned bar: its face, its long edge, its end, the flank of a blade ground from it."""

from dataclasses import dataclass

from billet.contract.face import FaceFacts, View
from billet.contract.values import Reason
from billet.diffusion.simulation import simulate_diffusion
from billet.errors import BilletError
from billet.parse import forged_recipe
from billet.pattern.bar import SolidBar, solid_of
from billet.pattern.chain import NotFollowed
from billet.pattern.first_views import first_views as views_of
from billet.pattern.picture import Asked as FaceAsked
from billet.pattern.picture import Framed, drawn, fitting, framed
from billet.pattern.png import png_bytes
from billet.pattern.points import Floats
from billet.pattern.scale_bar import ROWS, with_scale_bar
from billet.planned import Planned, Source
from billet.recipe.model import Blade
from billet.report.words.face import alt_text, not_drawn
from billet.wording import Units

__all__ = [
    "FaceAsked", "FaceBar", "FaceFacts", "FacePicture", "FaceView", "View", "face", "face_bar", "face_view",
    "first_views",
]  # fmt: skip


@dataclass(frozen=True)
class FaceView:
    """A view of a bar before it is drawn: its facts, and what it shows in words."""

    facts: FaceFacts
    alt: str

    @property
    def png_size(self) -> tuple[int, int]:
        """Columns and rows of the file, scale bar included."""
        return self.facts.columns, self.facts.rows + ROWS


@dataclass(frozen=True)
class FacePicture(FaceView):
    """A view of a bar, drawn: grey is (rows, columns), from 0 (black) to 1 (white)."""

    grey: Floats

    def png(self) -> bytes:
        """The picture as a PNG file, true to scale, with a scale bar beneath it."""
        mm_per_px = self.facts.mm_per_px
        return png_bytes(with_scale_bar(self.grey, mm_per_px), 1.0 / mm_per_px)


@dataclass(frozen=True)
class FaceBar:
    """A bar that is ready to be cut and drawn: its solid, and the blade that the recipe tells."""

    solid: SolidBar
    blade: Blade | None


def face_bar(source: Source) -> FaceBar:
    """The bar of a recipe as a solid; of a plan what it knows already, else no more than a picture needs.

    Raises BilletError for a bar whose pattern cannot be followed back or drawn, RecipeError for a recipe that
    is refused.
    """
    try:
        if isinstance(source, Planned):
            return FaceBar(source.solid, source.recipe.blade)
        recipe, forged = forged_recipe(source)
        return FaceBar(solid_of(recipe, forged, simulate_diffusion(recipe, forged, 1)), recipe.blade)
    except NotFollowed as lost:
        raise BilletError(not_drawn(Reason("face-disturbed", {"step": lost.step}))) from None


def face_view(source: Source | FaceBar, asked: FaceAsked | View = "face", units: Units = "mm") -> FaceView:
    """What a view will show, without drawing it. Raises what `face` raises."""
    _, frame = _framed(source, asked)
    return FaceView(frame.facts, alt_text(frame.facts, units))


def face(source: Source | FaceBar, asked: FaceAsked | View = "face", units: Units = "mm") -> FacePicture:
    """A picture of a bar, etched: grey by what is left of the difference of the alloys.

    `asked` is a view by its name, or with what is wanted of it; `units` are those of its words.

    Raises OutOfDomain for what cannot be cut or drawn, and what `face_bar` raises.
    """
    bar, frame = _framed(source, asked)
    return FacePicture(frame.facts, alt_text(frame.facts, units), drawn(bar.solid, frame))


def first_views(source: Source | FaceBar, ground_mm: float | None = None) -> tuple[FaceAsked, ...]:
    """The views that tell most of a bar, in the order in which to look at them; of the face at `ground_mm`.

    Each as wide as usual, or as may be drawn of it. Raises what `face` raises.
    """
    bar = _bar(source)
    return tuple(fitting(bar.solid, bar.blade, asked) for asked in views_of(bar.solid, ground_mm))


def _bar(source: Source | FaceBar) -> FaceBar:
    return source if isinstance(source, FaceBar) else face_bar(source)


def _framed(source: Source | FaceBar, asked: FaceAsked | View) -> tuple[FaceBar, Framed]:
    wanted = asked if isinstance(asked, FaceAsked) else FaceAsked(asked)
    bar = _bar(source)
    return bar, framed(bar.solid, bar.blade, wanted)
