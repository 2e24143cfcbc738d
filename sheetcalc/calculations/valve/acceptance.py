"""What stem, box, follower and bottom bushing may be found like and still be packed again, by the sizes and motion of the valve."""

from __future__ import annotations

import numpy as np

from sheetcalc.calculations.valve.fitting import PART
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num
from sheetcalc.reference.sources import cite


@derived(
    title="Least stem diameter",
    unit="mm",
    part=PART,
    source=cite("acceptance"),
    excel="{stem_diameter}-{stem_loss_most}",
)
def stem_least(stem_diameter: Num, stem_loss_most: float) -> Num:
    """What is left at least of a worn or polished stem, anywhere in the packing."""
    return stem_diameter - stem_loss_most


@derived(
    title="Greatest box bore",
    unit="mm",
    part=PART,
    source=cite("acceptance"),
    excel="{box_bore}+{bore_over_most}",
)
def bore_most(box_bore: Num, bore_over_most: float) -> Num:
    """How wide a worn or corroded box may be, anywhere in the packing."""
    return box_bore + bore_over_most


@derived(
    title="Greatest run-out of the stem",
    unit="mm",
    part=PART,
    source=cite("acceptance"),
    excel="IF({stem_turns}=1,{runout_turning_most},{runout_sliding_most})",
)
def stem_runout_most(stem_turns: Num, runout_turning_most: float, runout_sliding_most: float) -> Num:
    """The whole swing of a dial gauge along the packing, for a stem that turns in it or one that only slides."""
    return np.where(stem_turns > 0, runout_turning_most, runout_sliding_most)


@derived(
    title="Greatest bend of the stem in the box",
    unit="mm",
    part=PART,
    source=cite("acceptance"),
    excel="MIN({stem_bend_most},{stem_bend_share}*{box_depth})",
)
def stem_bend_allowed(stem_bend_most: float, stem_bend_share: float, box_depth: Num) -> Num:
    """How far the stem may be off straight over a length as the box is deep."""
    return np.minimum(stem_bend_most, box_depth * stem_bend_share)


@derived(
    title="Greatest clearance of the follower on the stem",
    unit="mm",
    part=PART,
    source=cite("stem-clearance"),
    excel="MIN({follower_stem_most},{clearance_share}*{packing_section})",
)
def follower_clearance(follower_stem_most: float, clearance_share: float, packing_section: Num) -> Num:
    """Bore of the follower over the stem, on the diameter: packing is squeezed out through more."""
    return np.minimum(follower_stem_most, packing_section * clearance_share)


@derived(
    title="Greatest clearance of the bottom bushing on the stem",
    unit="mm",
    part=PART,
    source=cite("stem-clearance"),
    excel="MIN({bushing_stem_most},{clearance_share}*{packing_section})",
)
def bottom_clearance(bushing_stem_most: float, clearance_share: float, packing_section: Num) -> Num:
    """Bore of what the bottom ring lies on over the stem, on the diameter."""
    return np.minimum(bushing_stem_most, packing_section * clearance_share)
