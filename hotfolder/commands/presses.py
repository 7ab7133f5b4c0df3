"""`hotfolder presses`: the printing conditions that hotfolder knows."""

from hotfolder.presses.loading import conditions_without_profile, shipped_presses

LAST_WORD = (
    "These profiles are made from published measurements of prints. Where a printer gives a profile file, "
    "name that file instead: it has the last word."
)


def list_presses() -> str:
    """The shipped presses, then the conditions that are known by name only."""
    lines = []
    for press in shipped_presses():
        most = press.total_ink_percent
        ink = [f"  its own separations: {most:g} % of ink at most"] if most is not None else []
        lines += [press.name, f"  {press.title}", *ink, f"  {press.origin}", ""]
    lines.append(
        "Known by name only; rules that need their colours are not judged without the printer's own profile:"
    )
    lines += [f"  {press.name:<18}{press.title}" for press in conditions_without_profile()]
    return "\n".join([*lines, "", LAST_WORD])
