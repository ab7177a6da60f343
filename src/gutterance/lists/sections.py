"""The shop's gutters and pipes as the sections that the drainage check works with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.drainage.sections import GutterSection, PipeSection

if TYPE_CHECKING:
    from gutterance.drainage.sections import GutterKind
    from gutterance.shop import PipeShape, Profile, Shop


def gutter_section(profile: Profile) -> GutterSection:
    """A gutter's inside, from its three sizes."""
    kind: GutterKind = "half round" if profile.is_half_round else "trapezoid"
    name = f"{profile.size.inch_text()} {profile.name}"
    return GutterSection(name, kind, profile.top_width.inches, profile.sole.inches, profile.depth.inches)


def pipe_section(pipe: PipeShape) -> PipeSection:
    """A pipe's inside; one with "round" in its size is round."""
    return PipeSection(pipe.size, "round" in pipe.size.casefold(), pipe.along.inches, pipe.out.inches)


def offered_gutters(profile: Profile, shop: Shop) -> tuple[GutterSection, ...]:
    """The shop's gutters of the same name and the same units."""
    same = profile.name.casefold()
    return tuple(
        gutter_section(one)
        for one in shop.profiles
        if one.name.casefold() == same and one.size.system == profile.size.system
    )


def offered_pipes(pipe: PipeShape, shop: Shop) -> tuple[PipeSection, ...]:
    """The shop's pipes of the same kind, round or rectangular, in the same units."""
    kind, metric = pipe_section(pipe).round, "mm" in pipe.size
    found = [pipe_section(one) for one in shop.pipes if ("mm" in one.size) == metric]
    return tuple(one for one in found if one.round == kind)
