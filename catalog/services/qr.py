"""An address as a QR code (ISO/IEC 18004) for a page or a sheet: drawn inline, without a style, from nowhere else."""

import segno

QUIET_ZONE = 4  # modules of white round it, as the standard asks


def qr_svg(address: str, title: str) -> str:
    """The code as an <svg> element. address: ASCII. title: what it says to who does not see it."""
    made = segno.make_qr(address, error="m")
    return made.svg_inline(svgclass="qr", lineclass=None, omitsize=True, border=QUIET_ZONE, light=None, title=title)
