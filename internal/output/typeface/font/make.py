#!/usr/bin/env python3
"""Cut the four faces of the sheet from the upstream families and give them names of their own.

Needed only to change the character set: the cut faces beside this file are what the program embeds. Usage, with
fontTools 4.38 and the packages source-sans 3.52.0 and source-code-pro 2.42.0 (both OFL 1.1) unpacked:

    make.py SOURCE_SANS_TTF_FOLDER SOURCE_CODE_TTF_FOLDER

The licence reserves the upstream name for the unmodified fonts, so the cut ones are called Drivewright. The same input
gives the same bytes: no time stamp is taken.
"""
import pathlib
import sys

from fontTools import subset
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

# Latin with accents, Greek (for quantities), punctuation, super- and subscripts, fractions, arrows, mathematics,
# frames, ballot boxes.
RANGES = ["20-7E", "A0-17F", "2C6-2DD", "384-3CE", "2010-2027", "2030-203A", "2044", "2070-208E", "20AC", "2126",
          "2150-215E", "2190-2199", "2202-222B", "2248", "2260-2265", "22C5", "2300-23CF", "2500-257F", "25A0-25CF", "2610-2612",
          "2713-2717"]

FACES = [
    ("SourceSans3-Regular.ttf", 1, "Sans", "Regular", "sans-regular.ttf"),
    ("SourceSans3-Semibold.ttf", 1, "Sans", "Semibold", "sans-semibold.ttf"),
    ("SourceSans3-It.ttf", 1, "Sans", "Italic", "sans-italic.ttf"),
    ("SourceCodePro-Regular.ttf", 2, "Mono", "Regular", "mono-regular.ttf"),
]


def codepoints():
    for part in RANGES:
        low, _, high = part.partition("-")
        yield from range(int(low, 16), int(high or low, 16) + 1)


def rename(font, family, style):
    table = font["name"]
    licence = table.getDebugName(13)
    copyright_ = table.getDebugName(0)
    table.names = []
    full = f"Drivewright {family} {style}"
    for number, text in {0: copyright_, 1: f"Drivewright {family}" + ("" if style in ("Regular", "Italic") else " " + style),
                         2: style if style in ("Regular", "Italic") else "Regular", 3: full, 4: full, 5: "Version 1.000",
                         6: full.replace(" ", ""), 13: licence, 14: "http://scripts.sil.org/OFL",
                         16: f"Drivewright {family}", 17: style}.items():
        table.setName(text, number, 3, 1, 0x409)


# The characters whose pairs are written into the plain kern table, which the program reads; browsers read GPOS.
KERNED = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz.,:;-()/\u2013\u2014\u2019\"'"


def pair_adjustments(font):
    """Return what the first matching pair adjustment of the kern feature moves, by pair of glyph names."""
    cmap = font.getBestCmap()
    glyphs = {cmap[ord(c)] for c in KERNED if ord(c) in cmap}
    gpos = font["GPOS"].table
    lookups = sorted({n for record in gpos.FeatureList.FeatureRecord if record.FeatureTag == "kern" for n in record.Feature.LookupListIndex})
    pairs = {}
    for number in lookups:
        done = set()
        for subtable in gpos.LookupList.Lookup[number].SubTable:
            if subtable.LookupType == 9:
                subtable = subtable.ExtSubTable
            if subtable.LookupType != 2:
                continue
            covered = [g for g in subtable.Coverage.glyphs if g in glyphs]
            for left in covered:
                if subtable.Format == 1:
                    record = subtable.PairSet[subtable.Coverage.glyphs.index(left)]
                    found = {r.SecondGlyph: r.Value1 for r in record.PairValueRecord if r.SecondGlyph in glyphs}
                else:
                    row = subtable.Class1Record[subtable.ClassDef1.classDefs.get(left, 0)].Class2Record
                    found = {right: row[subtable.ClassDef2.classDefs.get(right, 0)].Value1 for right in glyphs}
                for right, value in found.items():
                    if (left, right) in done:
                        continue
                    done.add((left, right))
                    move = getattr(value, "XAdvance", 0) if value else 0
                    if move:
                        pairs[left, right] = pairs.get((left, right), 0) + move
    return {pair: move for pair, move in pairs.items() if abs(move) >= 4}


def add_kern_table(font):
    table = KernTable_format_0()
    table.coverage, table.apple, table.version, table.tupleIndex = 1, False, 0, None
    table.kernTable = pair_adjustments(font)
    font["kern"] = newTable("kern")
    font["kern"].version, font["kern"].kernTables = 0, [table]
    return len(table.kernTable)


def main():
    here = pathlib.Path(__file__).parent
    for source, folder, family, style, target in FACES:
        font = TTFont(pathlib.Path(sys.argv[folder]) / source, recalcTimestamp=False)
        options = subset.Options(layout_features=["kern", "mark", "ccmp"], hinting=False, name_IDs=["*"], notdef_outline=True,
                                 recalc_timestamp=False, glyph_names=False, drop_tables=["DSIG", "STAT", "meta", "BASE", "GSUB"])
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=list(codepoints()))
        cutter.subset(font)
        rename(font, family, style)
        pairs = add_kern_table(font) if family == "Sans" else 0
        font.save(here / target, reorderTables=True)
        print(target, (here / target).stat().st_size, "bytes,", len(font.getGlyphOrder()), "glyphs,", pairs, "kerned pairs")


main()
