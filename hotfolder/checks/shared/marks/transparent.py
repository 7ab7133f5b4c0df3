"""Whether a mark is transparent."""

from hotfolder.model.marks import PLAIN_BLENDS, Mark, Masking


def is_transparent(mark: Mark) -> bool:
    """Whether something shines through a mark, or it blends with what lies beneath."""
    state = mark.state
    return (
        (mark.fill is not None and state.fill_opacity < 1)
        or (mark.stroke is not None and state.stroke_opacity < 1)
        or state.blend_mode not in PLAIN_BLENDS
        or state.soft_mask
        or (mark.image is not None and mark.image.masking is Masking.SOFT)
    )
