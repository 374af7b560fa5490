"""Makes the font of the drawings from the font it is a subset of.

Run once, by hand; its output is committed. Needs fonttools 4.68.0 and brotli 1.2.1 from PyPI, and the file
`atkinson-hyperlegible-next-latin-500-normal.woff2` of the npm package @fontsource/atkinson-hyperlegible-next 5.3.0.

    python subset.py atkinson-hyperlegible-next-latin-500-normal.woff2

- Only the characters that drawings use are kept.
- Figures are those of one width (`tnum`), put in the place of the others: columns of numbers stand one below the other.
- Kerning and all other features are left out. What is measured in Rust, the sum of advances, is then what
  every browser, printer and typesetter sets, to the last hundredth of a millimetre.
- The name is changed, since it is no longer the font it was made from.
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

CHARACTERS = (
    "".join(map(chr, range(0x20, 0x7F)))
    + "°±×·½¼¾²³Øø§–—‘’“”…−"
    + "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöùúûüýÿ"
)
HERE = Path(__file__).parent
NAME = "Dewpath Drawing"


def figures_of_one_width(font):
    """Points the characters 0 to 9 to the glyphs of the feature `tnum`."""
    gsub = font["GSUB"].table
    swap = {}
    for record in gsub.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for table in gsub.LookupList.Lookup[index].SubTable:
                    swap |= getattr(table, "mapping", {})
    assert all(font.getBestCmap()[ord(c)] in swap for c in "0123456789"), "no figures of one width"
    for table in font["cmap"].tables:
        table.cmap = {code: swap.get(glyph, glyph) for code, glyph in table.cmap.items()}


def rename(font):
    keep = {0, 5, 13, 14}
    names = font["name"]
    names.names = [record for record in names.names if record.nameID in keep]
    for name_id, text in [(1, NAME), (2, "Regular"), (3, NAME + " 1"), (4, NAME), (6, NAME.replace(" ", ""))]:
        names.setName(text, name_id, 3, 1, 0x409)
    names.setName("Subset with changes; SIL Open Font License, Version 1.1", 13, 3, 1, 0x409)
    font["OS/2"].usWeightClass = 400


def main(source):
    font = TTFont(source)
    figures_of_one_width(font)
    options = subset.Options()
    options.layout_features = []
    options.hinting = False
    options.name_IDs = ["*"]
    options.drop_tables += ["STAT", "GDEF", "GSUB", "GPOS", "gasp", "prep"]
    subsetter = subset.Subsetter(options)
    subsetter.populate(text=CHARACTERS)
    subsetter.subset(font)
    rename(font)
    font["head"].modified = font["head"].created
    font.recalcTimestamp = False
    font.flavor = None
    font.save(HERE / "drawing.ttf")
    font.flavor = "woff2"
    font.save(HERE / "drawing.woff2")
    missing = [c for c in CHARACTERS if ord(c) not in font.getBestCmap()]
    print("without a glyph:", missing or "none")


main(sys.argv[1])
