"""The characters that the shipped font is cut down to."""

ASCII = "".join(map(chr, range(0x20, 0x7F)))
CHARACTERS = ASCII + "".join(map(chr, range(0xA0, 0x180))) + "–—‘’‚“”„†•…′″‹›⁄€−×≤≥½¼¾⅛⅜⅝⅞"
